//! The wire for a load: thick enough for the heat and for the drop (Ohm's law; SAE J1128; common practice).

use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{Area, ElectricCurrent, ElectricPotential, Length};
use uom::si::length::meter;

use crate::charging::{COPPER_RESISTIVITY, CURRENT, HOT_FACTOR, RUN_LENGTH, Run};
use crate::error::FigureError;
use crate::range::Range;

const DROP: Range = Range::new(0.001, 50.0, "V");

/// A size of wire as sold for vehicles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WireSize {
    /// Copper area, mm2.
    pub area_mm2: f64,
    /// Nearest gauge, by SAE practice 5 to 12 % thinner than true American wire gauge; -1 is 2/0, 0 is 1/0.
    pub gauge: i32,
    /// Most lasting current in a loom, A.
    pub bundled_amperes: f64,
    /// Most current of a short wire in free air, A.
    pub free_amperes: f64,
    /// Largest fuse or link that guards it, A; `None` for battery cable, which has none.
    pub largest_fuse: Option<f64>,
}

/// Sizes of the trade, thinnest first.
///
/// Source: common practice for PVC insulation; areas as SAE J1128. The bundled current of battery cable is that of free
/// air, for it is not bundled.
pub const SIZES: [WireSize; 11] = [
    size(0.5, 20, 5.0, 9.0, Some(5.0)),
    size(0.8, 18, 8.0, 13.0, Some(7.5)),
    size(1.0, 16, 11.0, 17.0, Some(10.0)),
    size(2.0, 14, 17.0, 25.0, Some(15.0)),
    size(3.0, 12, 25.0, 35.0, Some(25.0)),
    size(5.0, 10, 35.0, 50.0, Some(30.0)),
    size(8.0, 8, 50.0, 70.0, Some(50.0)),
    size(13.0, 6, 70.0, 95.0, Some(80.0)),
    size(20.0, 4, 95.0, 130.0, Some(125.0)),
    size(32.0, 2, 180.0, 180.0, None),
    size(50.0, 0, 250.0, 250.0, None),
];

/// Most current of one copper wire in free air by true gauge, A ("chassis wiring").
///
/// Source: Handbook of Electronic Tables and Formulas, as quoted by Georgia State University.
pub const CHASSIS_AMPERES: [(i32, f64); 6] =
    [(16, 22.0), (14, 32.0), (12, 41.0), (8, 73.0), (4, 135.0), (2, 181.0)];

const fn size(area_mm2: f64, gauge: i32, bundled: f64, free: f64, largest_fuse: Option<f64>) -> WireSize {
    WireSize { area_mm2, gauge, bundled_amperes: bundled, free_amperes: free, largest_fuse }
}

/// How a wire lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// In a loom with others.
    Bundled,
    /// By itself, short, in free air.
    Free,
}

/// Area at which a run loses just what is allowed: `I * length * 0.0172 / drop`.
///
/// * `current`: 1e-6 to 10,000 A.
/// * `one_way_length`: 1 mm to 1,000 m.
/// * `allowed`: 1 mV to 50 V; 3 % of the system voltage for lamps and ignition, 4 % for the rest, 0.1 V for an earth
///   (common practice).
/// * `run`, `hot`: as for [`crate::charging::wire_drop`], whose inverse this is.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Ohm's law with [`COPPER_RESISTIVITY`].
pub fn area_for(
    current: ElectricCurrent,
    one_way_length: Length,
    allowed: ElectricPotential,
    run: Run,
    hot: bool,
) -> Result<Area, FigureError> {
    let current = CURRENT.check("current", current.get::<ampere>())?;
    let length = RUN_LENGTH.check("wire length", one_way_length.get::<meter>())?;
    let allowed = DROP.check("drop allowed", allowed.get::<volt>())?;
    let resistivity = COPPER_RESISTIVITY * if hot { HOT_FACTOR } else { 1.0 };
    Ok(Area::new::<square_millimeter>(current * length * run.times() * resistivity / allowed))
}

/// The thinnest of [`SIZES`] that carries a current and stays within the drop, hot; `None` if none does.
///
/// * the arguments are those of [`area_for`]; `lay` says which current of the table holds.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`SIZES`] and [`area_for`].
pub fn wire_for(
    current: ElectricCurrent,
    one_way_length: Length,
    allowed: ElectricPotential,
    run: Run,
    lay: Lay,
) -> Result<Option<&'static WireSize>, FigureError> {
    let area = area_for(current, one_way_length, allowed, run, true)?.get::<square_millimeter>();
    let carries = |s: &WireSize| match lay {
        Lay::Bundled => s.bundled_amperes,
        Lay::Free => s.free_amperes,
    };
    Ok(SIZES.iter().find(|s| s.area_mm2 >= area && carries(s) >= current.get::<ampere>()))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::charging::wire_drop;
    use crate::testing::{REFUSED, close, refuses, sound};
    use crate::wiring::gauge::gauge_area;

    fn area(amps: f64, metres: f64, volts: f64, run: Run, hot: bool) -> Result<f64, FigureError> {
        let (current, length) = (ElectricCurrent::new::<ampere>(amps), Length::new::<meter>(metres));
        area_for(current, length, ElectricPotential::new::<volt>(volts), run, hot)
            .map(|a| a.get::<square_millimeter>())
    }

    fn chosen(amps: f64, metres: f64, volts: f64, lay: Lay) -> Option<f64> {
        let (current, length) = (ElectricCurrent::new::<ampere>(amps), Length::new::<meter>(metres));
        wire_for(current, length, ElectricPotential::new::<volt>(volts), Run::OneWay, lay)
            .unwrap()
            .map(|s| s.area_mm2)
    }

    #[test]
    fn trade_wires() {
        // physics: 100 A over 3 m in 20 mm2 loses 0.258 V
        close(area(100.0, 3.0, 0.258, Run::OneWay, false), 20.0, 1e-12);
        close(area(100.0, 3.0, 0.258, Run::ThereAndBack, false), 40.0, 1e-12);
        // common practice: typical use of each size over 2 m at half a volt
        assert_eq!(chosen(4.0, 2.0, 0.5, Lay::Bundled), Some(0.5));
        assert_eq!(chosen(9.1, 2.0, 0.5, Lay::Bundled), Some(1.0));
        assert_eq!(chosen(13.0, 2.0, 0.5, Lay::Bundled), Some(2.0));
        assert_eq!(chosen(45.0, 2.0, 0.5, Lay::Bundled), Some(8.0));
        assert_eq!(chosen(65.0, 2.0, 0.5, Lay::Bundled), Some(13.0));
        assert_eq!(chosen(95.0, 2.0, 0.5, Lay::Bundled), Some(20.0));
        // the same in free air, and far away
        assert_eq!(chosen(45.0, 1.0, 0.5, Lay::Free), Some(5.0));
        assert_eq!(chosen(9.1, 6.0, 0.3, Lay::Bundled), Some(5.0));
        assert_eq!(chosen(300.0, 1.0, 0.5, Lay::Free), None);
    }

    #[test]
    fn trade_drops_at_the_rated_current() {
        // physics: mV for each metre one way at the rated bundled current
        let table = [172.0, 172.0, 189.0, 146.0, 143.0, 120.0, 108.0, 93.0, 82.0];
        for (size, millivolts) in SIZES.iter().zip(table) {
            let (amps, mm2) = (size.bundled_amperes, size.area_mm2);
            close(area(amps, 1.0, millivolts / 1000.0, Run::OneWay, false), mm2, 7e-3);
        }
    }

    #[test]
    fn sizes_against_the_gauges_and_their_free_air_currents() {
        for size in &SIZES {
            // 5 to 12 % under true gauge is the rule of SAE J1128; the table rounds to whole numbers besides
            let ratio = size.area_mm2 / gauge_area(size.gauge).unwrap().get::<square_millimeter>();
            assert!((0.75..=1.0).contains(&ratio), "gauge {}: {ratio}", size.gauge);
            assert!(size.bundled_amperes <= size.free_amperes);
            assert!(size.largest_fuse.is_none_or(|fuse| fuse <= size.free_amperes));
        }
        // a handbook table for chassis wiring: 16, 14, 12, 8, 4, 2 AWG; the trade stays under each
        for (gauge, amps) in CHASSIS_AMPERES {
            let size = SIZES.iter().find(|s| s.gauge == gauge).unwrap();
            assert!(size.free_amperes < amps, "gauge {gauge}");
            assert!(size.free_amperes > 0.75 * amps, "gauge {gauge}");
        }
        assert!(
            SIZES.windows(2).all(|w| w[0].area_mm2 < w[1].area_mm2 && w[0].free_amperes < w[1].free_amperes)
        );
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(area(bad, 3.0, 0.3, Run::OneWay, false), "current");
            refuses(area(20.0, bad, 0.3, Run::OneWay, false), "wire length");
            refuses(area(20.0, 3.0, bad, Run::OneWay, false), "drop allowed");
        }
    }

    proptest! {
        #[test]
        fn area_and_drop_undo_each_other(amps in 0.1..300.0, metres in 0.1..20.0, volts in 0.05..2.0) {
            let mm2 = area(amps, metres, volts, Run::ThereAndBack, true).unwrap_or(f64::NAN);
            prop_assume!(mm2 > 0.002 && mm2 < 900.0);
            let back = wire_drop(
                ElectricCurrent::new::<ampere>(amps),
                Length::new::<meter>(metres),
                Area::new::<square_millimeter>(mm2),
                Run::ThereAndBack,
                true,
            );
            prop_assert!((back.map_or(f64::NAN, |v| v.get::<volt>()) / volts - 1.0).abs() < 1e-9);
        }

        #[test]
        fn a_longer_wire_is_never_thinner(amps in 0.1..90.0, metres in 0.1..5.0, factor in 1.01_f64..3.0) {
            let (short, long) = (chosen(amps, metres, 0.5, Lay::Bundled), chosen(amps, metres * factor, 0.5, Lay::Bundled));
            prop_assert!(long.unwrap_or(f64::INFINITY) >= short.unwrap_or(f64::INFINITY));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sound(area(a, b, c, Run::OneWay, true)));
        }
    }
}
