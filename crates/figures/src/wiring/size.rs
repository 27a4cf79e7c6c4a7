//! The wire for a load: thick enough for the heat and for the drop (Ohm's law; SAE J1128; common practice).

use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Length, ThermodynamicTemperature};

use super::fuse::{Fuse, RATINGS, fuse_for};
use super::strands::area_for;
use crate::charging::Run;
use crate::error::FigureError;

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
    /// Largest fuse or link that guards it in a loom, A; `None` for battery cable, which has none.
    pub largest_fuse: Option<f64>,
}

impl WireSize {
    /// Most lasting current as it lies, A.
    #[must_use]
    pub fn amperes(&self, lay: Lay) -> f64 {
        match lay {
            Lay::Bundled => self.bundled_amperes,
            Lay::Free => self.free_amperes,
        }
    }

    /// Largest fuse or link that guards it as it lies, A: in free air the largest rating within its current there.
    /// `None` for battery cable, which has none.
    #[must_use]
    pub fn guarded_by(&self, lay: Lay) -> Option<f64> {
        let loom = self.largest_fuse?;
        let within = |most: f64| RATINGS.into_iter().filter(|r| *r <= most).fold(loom, f64::max);
        Some(match lay {
            Lay::Bundled => loom,
            Lay::Free => within(self.free_amperes),
        })
    }
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

/// The thinnest of [`SIZES`] that carries a current, stays within the drop, and is guarded by a fuse that holds the
/// current (battery cable has none); `None` if none does.
///
/// * `current`, `one_way_length`, `allowed`, `run`, `temperature`: as for [`area_for`].
/// * `lay`: says which current and which fuse hold.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`SIZES`], [`area_for`] and [`fuse_for`].
pub fn wire_for(
    current: ElectricCurrent,
    one_way_length: Length,
    allowed: ElectricPotential,
    run: Run,
    lay: Lay,
    temperature: ThermodynamicTemperature,
) -> Result<Option<&'static WireSize>, FigureError> {
    let area = area_for(current, one_way_length, allowed, run, temperature)?.get::<square_millimeter>();
    let carries = |s: &&WireSize| s.area_mm2 >= area && s.amperes(lay) >= current.get::<ampere>();
    for size in SIZES.iter().filter(carries) {
        let Some(most) = size.guarded_by(lay) else { return Ok(Some(size)) };
        // so small a current that no fuse is made for it is held by the least
        let load = current.max(ElectricCurrent::new::<ampere>(LEAST_LOAD));
        if matches!(fuse_for(load, ElectricCurrent::new::<ampere>(most))?, Fuse::Rated(_)) {
            return Ok(Some(size));
        }
    }
    Ok(None)
}

/// Least load a fuse is chosen for, A.
const LEAST_LOAD: f64 = 0.001;

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::electric_potential::volt;
    use uom::si::length::meter;
    use uom::si::thermodynamic_temperature::degree_celsius;

    use super::*;
    use crate::testing::{REFUSED, refuses};
    use crate::wiring::gauge::gauge_area;

    fn sized(amps: f64, metres: f64, volts: f64, lay: Lay) -> Result<Option<&'static WireSize>, FigureError> {
        wire_for(
            ElectricCurrent::new::<ampere>(amps),
            Length::new::<meter>(metres),
            ElectricPotential::new::<volt>(volts),
            Run::OneWay,
            lay,
            ThermodynamicTemperature::new::<degree_celsius>(70.0),
        )
    }

    fn chosen(amps: f64, metres: f64, volts: f64, lay: Lay) -> Option<f64> {
        sized(amps, metres, volts, lay).unwrap().map(|s| s.area_mm2)
    }

    #[test]
    fn trade_wires() {
        // common practice: each load lasting over 2 m at half a volt, with the fuse of 1.25 times the load that its wire
        // must bear: 5 A of 4 A, 15 A of 9.1 A, 20 A of 13 A, 60 A of 45 A, 100 A of 65 A, 125 A of 95 A
        assert_eq!(chosen(4.0, 2.0, 0.5, Lay::Bundled), Some(0.5));
        assert_eq!(chosen(9.1, 2.0, 0.5, Lay::Bundled), Some(2.0));
        assert_eq!(chosen(13.0, 2.0, 0.5, Lay::Bundled), Some(3.0));
        assert_eq!(chosen(45.0, 2.0, 0.5, Lay::Bundled), Some(13.0));
        assert_eq!(chosen(65.0, 2.0, 0.5, Lay::Bundled), Some(20.0));
        assert_eq!(chosen(95.0, 2.0, 0.5, Lay::Bundled), Some(20.0));
        // the same in free air, and far away
        assert_eq!(chosen(40.0, 1.0, 0.5, Lay::Free), Some(5.0));
        assert_eq!(chosen(9.1, 6.0, 0.3, Lay::Bundled), Some(5.0));
        assert_eq!(chosen(300.0, 1.0, 0.5, Lay::Free), None);
    }

    #[test]
    fn a_wire_and_the_fuse_of_its_load_agree() {
        for lay in [Lay::Bundled, Lay::Free] {
            for amps in (1..=1000).map(|tenths| f64::from(tenths) / 10.0) {
                let wire = sized(amps, 0.3, 0.5, lay).unwrap().unwrap();
                let Some(most) = wire.guarded_by(lay) else { continue };
                let fuse =
                    fuse_for(ElectricCurrent::new::<ampere>(amps), ElectricCurrent::new::<ampere>(most));
                assert!(matches!(fuse, Ok(Fuse::Rated(_))), "{amps} A {lay:?}: {wire:?}, {fuse:?}");
                assert!(amps <= wire.amperes(lay), "{amps} A {lay:?}");
            }
        }
    }

    #[test]
    fn sizes_against_the_gauges_and_their_free_air_currents() {
        for size in &SIZES {
            // 5 to 12 % under true gauge is the rule of SAE J1128; the table rounds to whole numbers besides
            let ratio = size.area_mm2 / gauge_area(size.gauge).unwrap().get::<square_millimeter>();
            assert!((0.75..=1.0).contains(&ratio), "gauge {}: {ratio}", size.gauge);
            assert!(size.bundled_amperes <= size.free_amperes);
            for lay in [Lay::Bundled, Lay::Free] {
                assert!(size.guarded_by(lay).is_none_or(|fuse| fuse <= size.free_amperes));
            }
            assert!(size.guarded_by(Lay::Free) >= size.guarded_by(Lay::Bundled));
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
            refuses(sized(bad, 3.0, 0.3, Lay::Free), "current");
            refuses(sized(20.0, bad, 0.3, Lay::Free), "wire length");
            refuses(sized(20.0, 3.0, bad, Lay::Free), "drop allowed");
        }
    }

    proptest! {
        #[test]
        fn a_longer_wire_is_never_thinner(amps in 0.1..90.0, metres in 0.1..5.0, factor in 1.01_f64..3.0) {
            let (short, long) = (chosen(amps, metres, 0.5, Lay::Bundled), chosen(amps, metres * factor, 0.5, Lay::Bundled));
            prop_assert!(long.unwrap_or(f64::INFINITY) >= short.unwrap_or(f64::INFINITY));
        }

        #[test]
        fn any_numbers_are_refused_or_answered(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sized(a, b, c, Lay::Bundled).map_or(true, |s| s.is_none_or(|s| s.bundled_amperes >= a)));
        }
    }
}
