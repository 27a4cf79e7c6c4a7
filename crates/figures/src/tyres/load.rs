//! Load a tyre may carry: load index, and the allowance for a passenger tyre on a truck (ISO 4000-1; 49 CFR 571.120).

use uom::si::f64::Mass;
use uom::si::mass::{kilogram, pound};

use crate::error::FigureError;
use crate::range::Range;

/// Lowest load index of [`LOAD_INDEX_KG`].
pub const LOAD_INDEX_FIRST: u8 = 50;

/// Highest load index of [`LOAD_INDEX_KG`].
pub const LOAD_INDEX_LAST: u8 = 150;

/// Load capacity of one tyre in kg for load indices 50 to 150, lowest first.
///
/// Source: ISO 4000-1, UN R30 annex 4 and UN R54 annex 4, written down from memory. 80, 90, 91, 92, 95, 100, 104, 105
/// and 110 agree with a printed table of pounds; all are held to the law the index was laid out by,
/// `45 kg * 10^(index/80)`, within 1.8 %, and to its repeating tenfold every 80 steps.
pub const LOAD_INDEX_KG: [u16; 101] = [
    190, 195, 200, 206, 212, 218, 224, 230, 236, 243, // 50 to 59
    250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60 to 69
    335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70 to 79
    450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80 to 89
    600, 615, 630, 650, 670, 690, 710, 730, 750, 775, // 90 to 99
    800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030, // 100 to 109
    1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, // 110 to 119
    1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850, // 120 to 129
    1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430, // 130 to 139
    2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250, // 140 to 149
    3350, // 150
];

const CAPACITY: Range = Range::new(20.0, 20_000.0, "kg");
const DERATE: Range = Range::new(1.0, 5.0, "");
const LOAD_INDEX: Range = Range::new(LOAD_INDEX_FIRST as f64, LOAD_INDEX_LAST as f64, "");
const AXLE: Range = Range::new(20.0, 50_000.0, "kg");
const TYRES: Range = Range::new(1.0, 16.0, "");

/// Load one tyre may carry after an allowance: `capacity / derate`.
///
/// * `capacity`: by the load index, see [`load_capacity`], 20 to 20,000 kg.
/// * `derate`: what the capacity is divided by, 1 to 5; 1.10 for a passenger-car tyre on a light truck.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: 49 CFR 571.120 S5.1.2 divides by 1.10 for a passenger-car tyre on another kind of vehicle (clause number
/// from memory, the factor as in the trade notes).
pub fn usable_load(capacity: Mass, derate: f64) -> Result<Mass, FigureError> {
    let kg = CAPACITY.check("tyre load capacity", capacity.get::<kilogram>())?;
    let derate = DERATE.check("derating", derate)?;
    Ok(Mass::new::<kilogram>(kg / derate))
}

/// Load capacity of one tyre by its load index, 50 to 150.
///
/// # Errors
/// [`FigureError`] if the index is not in [`LOAD_INDEX_KG`].
///
/// Source: ISO 4000-1.
pub fn load_capacity(load_index: impl Into<u32>) -> Result<Mass, FigureError> {
    let load_index = load_index.into();
    let refused = || FigureError {
        quantity: "load index",
        found: f64::from(load_index),
        expected: LOAD_INDEX.expected(),
    };
    let at = load_index.checked_sub(LOAD_INDEX_FIRST.into()).ok_or_else(refused)?;
    let kg = LOAD_INDEX_KG.get(at as usize).ok_or_else(refused)?;
    Ok(Mass::new::<kilogram>(f64::from(*kg)))
}

/// Load capacity of one tyre in whole pounds, as printed beside the index.
///
/// # Errors
/// [`FigureError`] if the index is not in [`LOAD_INDEX_KG`].
///
/// Source: ISO 4000-1 in kg, turned into pounds and rounded.
pub fn load_capacity_lb(load_index: u8) -> Result<f64, FigureError> {
    Ok(load_capacity(load_index)?.get::<pound>().round())
}

/// Lowest load index with which the tyres of an axle carry its rating: the least with `capacity / derate * tyres >= rating`.
///
/// * `axle_rating`: what the axle may weigh, 20 to 50,000 kg.
/// * `tyres`: on the axle, 1 to 16; 2 for single wheels.
/// * `derate`: 1 to 5, see [`usable_load`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or no index of the table is high enough.
///
/// Source: 49 CFR 571.110 and 571.120, the tyres of an axle carry at least its rating.
pub fn load_index_wanted(axle_rating: Mass, tyres: u32, derate: f64) -> Result<u8, FigureError> {
    let rating = AXLE.check("axle rating", axle_rating.get::<kilogram>())?;
    let count = TYRES.check("tyres on the axle", f64::from(tyres))?;
    let each = rating / count * DERATE.check("derating", derate)?;
    let found = LOAD_INDEX_KG.iter().position(|kg| f64::from(*kg) >= each);
    let index = found.and_then(|at| u8::try_from(at).ok()).and_then(|at| at.checked_add(LOAD_INDEX_FIRST));
    index.ok_or(FigureError {
        quantity: "load on one tyre",
        found: each,
        expected: CAPACITY_IN_TABLE.expected(),
    })
}

const CAPACITY_IN_TABLE: Range = Range::new(0.0, 3350.0, "kg");

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn usable(kg: f64, derate: f64) -> Result<f64, FigureError> {
        usable_load(Mass::new::<kilogram>(kg), derate).map(|m| m.get::<kilogram>())
    }

    fn wanted(kg: f64, tyres: u32, derate: f64) -> Result<u8, FigureError> {
        load_index_wanted(Mass::new::<kilogram>(kg), tyres, derate)
    }

    #[test]
    fn loads_by_index() {
        // ISO 4000-1, UN R30 Annex 4, UN R54 Annex 4, kg and rounded pounds
        for (index, kg, lb) in [
            (80, 450.0, 992.0),
            (90, 600.0, 1323.0),
            (91, 615.0, 1356.0),
            (92, 630.0, 1389.0),
            (95, 690.0, 1521.0),
            (100, 800.0, 1764.0),
            (104, 900.0, 1984.0),
            (105, 925.0, 2039.0),
            (110, 1060.0, 2337.0),
        ] {
            assert_eq!(load_capacity(index).map(|m| m.get::<kilogram>()), Ok(kg));
            assert_eq!(load_capacity_lb(index), Ok(lb));
        }
        // common practice
        for (index, kg) in [(86_u8, 530.0), (97, 730.0), (98, 750.0), (109, 1030.0)] {
            assert_eq!(load_capacity(index).map(|m| m.get::<kilogram>()), Ok(kg));
        }
        refuses(load_capacity(300_u32), "load index");
        for outside in [0_u8, 49, 151, u8::MAX] {
            refuses(load_capacity(outside), "load index");
            refuses(load_capacity_lb(outside), "load index");
        }
    }

    #[test]
    fn the_load_table_follows_the_law_of_the_index() {
        for index in LOAD_INDEX_FIRST..=LOAD_INDEX_LAST {
            let law = 45.0 * 10_f64.powf(f64::from(index) / 80.0);
            close(load_capacity(index).map(|m| m.get::<kilogram>()), law, 0.018);
        }
        assert!(LOAD_INDEX_KG.windows(2).all(|w| w[0] < w[1]));
        // every 80 steps the series repeats tenfold, to the rounding of the step
        for index in LOAD_INDEX_FIRST..=LOAD_INDEX_LAST - 80 {
            let tenfold = load_capacity(index).map(|m| 10.0 * m.get::<kilogram>()).unwrap_or(f64::NAN);
            close(load_capacity(index + 80).map(|m| m.get::<kilogram>()), tenfold, 0.003);
        }
    }

    #[test]
    fn trade_usable_load() {
        // physics: 730/1.10 = 664 kg (short of 680), 800/1.10 = 727 kg
        assert_eq!(usable(730.0, 1.10).map(f64::round), Ok(664.0));
        assert_eq!(usable(800.0, 1.10).map(f64::round), Ok(727.0));
        // rear axle 1,361 kg, passenger tyres on a truck: 97 is short, 100 is bought, 98 (749 of 750 kg) just does
        assert_eq!(wanted(1361.0, 2, 1.10), Ok(98));
        assert_eq!(wanted(1361.0, 2, 1.0), Ok(95));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(usable(bad, 1.1), "tyre load capacity");
            refuses(usable(730.0, bad), "derating");
            refuses(wanted(bad, 2, 1.1), "axle rating");
            refuses(wanted(1361.0, 2, bad), "derating");
        }
        refuses(wanted(1361.0, 0, 1.1), "tyres on the axle");
        refuses(wanted(9000.0, 2, 1.1), "load on one tyre");
    }

    proptest! {
        #[test]
        fn a_derated_tyre_never_carries_more(kg in 21.0..19_999.0, derate in 1.0..5.0) {
            prop_assert!(usable(kg, derate).is_ok_and(|m| m <= kg * (1.0 + 1e-12)));
        }

        #[test]
        fn the_index_wanted_carries_the_axle_and_the_one_below_does_not(kg in 500.0..5000.0, derate in 1.0..1.2) {
            let index = wanted(kg, 2, derate);
            prop_assert!(index.is_ok());
            let index = index.unwrap_or_default();
            let carried = |index| load_capacity(index).map(|m| 2.0 * m.get::<kilogram>() / derate);
            prop_assert!(carried(index).is_ok_and(|c| c >= kg * (1.0 - 1e-12)));
            prop_assert!(carried(index - 1).map_or(true, |c| c < kg * (1.0 + 1e-12)));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), n in any::<u32>()) {
            prop_assert!(sound(usable(a, b)));
            prop_assert!(wanted(a, n, b).map_or(true, |i| (LOAD_INDEX_FIRST..=LOAD_INDEX_LAST).contains(&i)));
        }
    }
}
