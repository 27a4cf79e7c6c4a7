//! The fuse of a circuit: above its load, below its wire (common practice; standard ratings of blade fuses and links).

use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use crate::error::FigureError;
use crate::range::Range;

/// A fuse should be rated this much over the lasting load, so that heat and inrush do not open it: 1.25.
///
/// Source: common practice; the same as a load of 80 % of the rating.
pub const HEADROOM: f64 = 1.25;

/// Ratings to be had, A: blade fuses up to 40 (ISO 8820-3), bolted links above.
pub const RATINGS: [f64; 16] =
    [1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0, 125.0];

const LOAD: Range = Range::new(0.001, 1_000.0, "A");
const GUARDS: Range = Range::new(0.1, 1_000.0, "A");

/// The fuse for a load on a wire.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fuse {
    /// This rating, the smallest that holds the load.
    Rated(ElectricCurrent),
    /// No fuse holds the load and guards the wire: a thicker wire is wanted, one whose largest fuse is at least this.
    WireTooThin {
        /// The smallest rating that holds the load.
        wanted: ElectricCurrent,
    },
    /// The load is above every rating to be had.
    LoadTooLarge {
        /// The largest load that can be fused.
        most: ElectricCurrent,
    },
}

/// Fuse for a lasting load on a wire.
///
/// * `load`: 0.001 to 1,000 A. For a motor, its running current; a start of two to three times that for a second is
///   borne by a blade fuse.
/// * `largest_fuse`: largest rating that guards the wire, see [`super::size::WireSize::largest_fuse`], 0.1 to 1,000 A.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice, see [`HEADROOM`] and [`RATINGS`].
pub fn fuse_for(load: ElectricCurrent, largest_fuse: ElectricCurrent) -> Result<Fuse, FigureError> {
    let load = LOAD.check("load", load.get::<ampere>())?;
    let guards = GUARDS.check("largest fuse of the wire", largest_fuse.get::<ampere>())?;
    // a load of exactly 80 % must not be lost to the last bit
    let least = load * HEADROOM * (1.0 - 1e-12);
    let Some(rating) = RATINGS.into_iter().find(|r| *r >= least) else {
        let most = RATINGS.into_iter().fold(0.0, f64::max) / HEADROOM;
        return Ok(Fuse::LoadTooLarge { most: ElectricCurrent::new::<ampere>(most) });
    };
    let rated = ElectricCurrent::new::<ampere>(rating);
    Ok(if rating <= guards { Fuse::Rated(rated) } else { Fuse::WireTooThin { wanted: rated } })
}

/// Gauge of the fusible link that guards a wire: four numbers thinner, 40 % of its area.
///
/// * `wire`: gauge of the wire, -3 to 36; the link is 150 to 230 mm long and lies by itself.
///
/// # Errors
/// [`FigureError`] if the number is out of its range.
///
/// Source: common practice.
pub fn link_gauge(wire: i32) -> Result<i32, FigureError> {
    Range::new(-3.0, 36.0, "AWG").check("wire gauge", f64::from(wire))?;
    Ok(wire + 4)
}

/// Times over its rating, and how long a blade fuse holds at least and at most, s. Source: ISO 8820-3, type C.
pub const BLADE_TIMES: [(f64, f64, f64); 3] =
    [(1.1, 360_000.0, f64::INFINITY), (1.35, 0.75, 600.0), (2.0, 0.15, 5.0)];

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use uom::si::area::square_millimeter;

    use crate::testing::{REFUSED, refuses};
    use crate::wiring::gauge::gauge_area;
    use crate::wiring::size::SIZES;

    fn amps(value: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(value)
    }

    fn fuse(load: f64, guards: f64) -> Result<Fuse, FigureError> {
        fuse_for(amps(load), amps(guards))
    }

    #[test]
    fn trade_fuses() {
        // common practice: pump of 5 A on 2 mm2: 10 A is enough, 7.5 A the least; headlamps 9.1 A:
        // 15 A; fan 13 A on 5 mm2: 20 A least, 30 A fitted; an example vehicle: fuse at least 1.25 times the load
        assert_eq!(fuse(5.0, 15.0), Ok(Fuse::Rated(amps(7.5))));
        assert_eq!(fuse(9.1, 25.0), Ok(Fuse::Rated(amps(15.0))));
        assert_eq!(fuse(13.0, 30.0), Ok(Fuse::Rated(amps(20.0))));
        // a load of just 80 %
        assert_eq!(fuse(8.0, 10.0), Ok(Fuse::Rated(amps(10.0))));
        // 13 A on 1 mm2, which a 10 A fuse guards
        assert_eq!(fuse(13.0, 10.0), Ok(Fuse::WireTooThin { wanted: amps(20.0) }));
        assert_eq!(fuse(101.0, 500.0), Ok(Fuse::LoadTooLarge { most: amps(100.0) }));
        // the alternator of 100 A on 20 mm2 gets its link of 125 A
        assert_eq!(fuse(100.0, 125.0), Ok(Fuse::Rated(amps(125.0))));
    }

    #[test]
    fn links_are_four_gauges_thinner() {
        // common practice: about 40 % of the area; ASTM B258 makes it 92^(-8/39) = 39.6 %
        for wire in [4, 6, 8, 10, 12] {
            let area = |n| gauge_area(n).map(|a| a.get::<square_millimeter>());
            let share = link_gauge(wire).and_then(area).unwrap() / area(wire).unwrap();
            assert!((share - 0.395_5).abs() < 1e-3, "{share}");
        }
        for bad in [i32::MIN, -4, 37, i32::MAX] {
            refuses(link_gauge(bad), "wire gauge");
        }
    }

    #[test]
    fn every_size_of_wire_has_a_fuse_to_be_had() {
        for size in SIZES {
            assert!(size.largest_fuse.is_none_or(|f| RATINGS.contains(&f)), "{size:?}");
        }
        assert!(RATINGS.windows(2).all(|w| w[0] < w[1]));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(fuse(bad, 10.0), "load");
            refuses(fuse(5.0, bad), "largest fuse of the wire");
        }
    }

    proptest! {
        #[test]
        fn a_fuse_holds_its_load_and_guards_its_wire(load in 0.01..150.0, guards in 0.5..200.0) {
            match fuse(load, guards) {
                Ok(Fuse::Rated(r)) => {
                    let r = r.get::<ampere>();
                    prop_assert!(r >= load * HEADROOM * (1.0 - 1e-9) && r <= guards);
                    // no smaller one would do
                    prop_assert!(RATINGS.iter().all(|o| *o >= r || *o < load * HEADROOM));
                }
                Ok(Fuse::WireTooThin { wanted }) => prop_assert!(wanted.get::<ampere>() > guards),
                Ok(Fuse::LoadTooLarge { most }) => prop_assert!(load > most.get::<ampere>()),
                Err(error) => prop_assert!(false, "{error}"),
            }
        }

        #[test]
        fn any_numbers_are_refused_or_answered(a in any::<f64>(), b in any::<f64>()) {
            let good = (0.001..=1_000.0).contains(&a) && (0.1..=1_000.0).contains(&b);
            prop_assert_eq!(fuse(a, b).is_ok(), good);
        }
    }
}
