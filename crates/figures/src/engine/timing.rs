//! Timing marks: degrees of the crank to millimetres on the rim of its pulley, and to the distributor (geometry).

use uom::si::angle::radian;
use uom::si::f64::{Angle, Length};
use uom::si::length::{meter, millimeter};

use crate::error::FigureError;
use crate::range::Range;

const DIAMETER: Range = Range::new(20.0, 1_000.0, "mm");
const ADVANCE: Range = Range::new(-180.0, 180.0, "°");
const ARC: Range = Range::new(-2_000.0, 2_000.0, "mm");

/// Length along the rim of a pulley or damper for a turn of the crank: `pi D angle / 360`.
///
/// * `rim_diameter`: where the mark is cut, 20 to 1,000 mm.
/// * `turn`: of the crank, -180 to 180 deg; above zero is before top dead centre, against the turn of the engine.
///
/// Lay the length along the rim with a strip of paper; a rule across the chord is short by 1 % at 28 deg.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn rim_length(rim_diameter: Length, turn: Angle) -> Result<Length, FigureError> {
    DIAMETER.check("rim diameter", rim_diameter.get::<millimeter>())?;
    let degrees = ADVANCE.check("crank turn", turn.get::<radian>().to_degrees())?;
    Ok(rim_diameter / 2.0 * degrees.to_radians())
}

/// Turn of the crank for a length along the rim, the inverse of [`rim_length`].
///
/// * `rim_diameter`: 20 to 1,000 mm.
/// * `length`: -2,000 to 2,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the turn is more than 180 deg.
///
/// Source: geometry.
pub fn crank_turn(rim_diameter: Length, length: Length) -> Result<Angle, FigureError> {
    DIAMETER.check("rim diameter", rim_diameter.get::<millimeter>())?;
    ARC.check("length along the rim", length.get::<millimeter>())?;
    let turn = 2.0 * length.get::<meter>() / rim_diameter.get::<meter>();
    ADVANCE.check("crank turn", turn.to_degrees())?;
    Ok(Angle::new::<radian>(turn))
}

/// Turn of the distributor of a four-stroke for a turn of the crank: half of it.
///
/// * `crank`: -180 to 180 deg.
///
/// # Errors
/// [`FigureError`] if the turn is out of its range.
///
/// Source: a four-stroke fires once in two turns.
pub fn distributor_turn(crank: Angle) -> Result<Angle, FigureError> {
    let degrees = ADVANCE.check("crank turn", crank.get::<radian>().to_degrees())?;
    Ok(Angle::new::<radian>(degrees.to_radians() / 2.0))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::angle::degree;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn rim(diameter: f64, degrees: f64) -> Result<f64, FigureError> {
        rim_length(mm(diameter), Angle::new::<degree>(degrees)).map(|l| l.get::<millimeter>())
    }

    fn turn(diameter: f64, length: f64) -> Result<f64, FigureError> {
        crank_turn(mm(diameter), mm(length)).map(|a| a.get::<degree>())
    }

    #[test]
    fn marks() {
        // geometry by hand: 165 mm round is 518.36 mm, 10 deg of it 14.40 mm
        close(rim(165.0, 10.0), 14.40, 1e-3);
        // a rim of 114.59 mm has 1 mm to the degree, one of 8 in 0.0698 in to the degree (1.773 mm)
        close(rim(114.591_559, 7.0), 7.0, 1e-7);
        let eight = Length::new::<inch>(8.0).get::<millimeter>();
        close(rim(eight, 1.0), 0.069_8 * 25.4, 1e-3);
        // after top dead centre the length runs the other way
        close(rim(165.0, -4.0), -5.76, 1e-3);
        // half a turn is half the rim
        close(rim(165.0, 180.0), 165.0 * std::f64::consts::FRAC_PI_2, 1e-12);
    }

    #[test]
    fn the_distributor_turns_at_half_speed() {
        close(distributor_turn(Angle::new::<degree>(10.0)).map(|a| a.get::<degree>()), 5.0, 1e-12);
        refuses(distributor_turn(Angle::new::<degree>(f64::NAN)), "crank turn");
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(rim(bad, 10.0), "rim diameter");
            refuses(turn(bad, 10.0), "rim diameter");
        }
        for bad in [f64::NAN, f64::INFINITY, -181.0, 181.0] {
            refuses(rim(165.0, bad), "crank turn");
        }
        for bad in [f64::NAN, f64::INFINITY, 2_001.0] {
            refuses(turn(165.0, bad), "length along the rim");
        }
        refuses(turn(165.0, 300.0), "crank turn");
    }

    proptest! {
        #[test]
        fn length_and_turn_undo_each_other(diameter in 50.0..400.0, degrees in -179.0..179.0) {
            let back = rim(diameter, degrees).and_then(|l| turn(diameter, l)).unwrap_or(f64::NAN);
            prop_assert!((back - degrees).abs() < 1e-9);
        }

        #[test]
        fn before_and_after_are_alike(diameter in 50.0..400.0, degrees in 0.1..179.0) {
            let sum = rim(diameter, degrees).unwrap_or(f64::NAN) + rim(diameter, -degrees).unwrap_or(f64::NAN);
            prop_assert!(sum.abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>()) {
            prop_assert!(rim(a, b).map_or(true, f64::is_finite) && turn(a, b).map_or(true, f64::is_finite));
        }
    }
}
