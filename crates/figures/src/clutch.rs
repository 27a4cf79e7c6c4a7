//! Stroke of a hydraulic clutch: the same volume through two bores (fluid taken as incompressible); and the torque of its
//! plate.

use uom::si::f64::{Force, Length, Torque};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::torque::newton_meter;

use crate::error::{Expected, FigureError};
use crate::range::{CYLINDER_BORE, Range};

const STROKE: Range = Range::new(0.1, 500.0, "mm");

/// Stroke of the slave cylinder: `master stroke * (master bore / slave bore)^2`.
///
/// * `master_stroke`: of the piston, after its free play, 0.1 to 500 mm.
/// * `master_bore`, `slave_bore`: 5 to 100 mm.
///
/// Swelling of the hose and a bulkhead that gives come off the result.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: conservation of volume.
pub fn slave_stroke(
    master_stroke: Length,
    master_bore: Length,
    slave_bore: Length,
) -> Result<Length, FigureError> {
    STROKE.check("master stroke", master_stroke.get::<millimeter>())?;
    let master = CYLINDER_BORE.check("master bore", master_bore.get::<millimeter>())?;
    let slave = CYLINDER_BORE.check("slave bore", slave_bore.get::<millimeter>())?;
    Ok(Length::new::<meter>(master_stroke.get::<meter>() * (master / slave).powi(2)))
}

const DISC: Range = Range::new(20.0, 1_000.0, "mm");
const CLAMP: Range = Range::new(1.0, 1e6, "N");
const FACES: Range = Range::new(1.0, 20.0, "faces");
const FRICTION: Range = Range::new(0.05, 0.8, "");

/// Torque a dry clutch carries before it slips: `n mu F (ro^3 - ri^3) x 2 / (3 (ro^2 - ri^2))`, new and evenly pressed.
///
/// * `outer`, `inner`: diameters of the lining, 20 to 1,000 mm, inner the smaller; `clamp`: 1 N to 1 MN.
/// * `faces`: two for one plate, 1 to 20; `friction`: 0.05 to 0.8; 0.3 for woven lining (common practice).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Shigley, Mechanical Engineering Design, ch. 16, uniform pressure.
pub fn clutch_torque(
    outer: Length,
    inner: Length,
    clamp: Force,
    faces: u32,
    friction: f64,
) -> Result<Torque, FigureError> {
    let big = DISC.check("outside of the lining", outer.get::<millimeter>())?;
    let small = DISC.check("inside of the lining", inner.get::<millimeter>())?;
    if small >= big {
        let expected = Expected::Below { limit: big, unit: "mm" };
        return Err(FigureError { quantity: "inside of the lining", found: small, expected });
    }
    let force = CLAMP.check("clamp", clamp.get::<newton>())?;
    let faces = FACES.check("faces", f64::from(faces))?;
    let friction = FRICTION.check("friction", friction)?;
    let radius = (big.powi(3) - small.powi(3)) / (3.0 * (big * big - small * small)) / 1e3;
    Ok(Torque::new::<newton_meter>(faces * friction * force * radius))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_4;

    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn stroke(master_stroke: f64, master: f64, slave: f64) -> Result<f64, FigureError> {
        let [stroke, master, slave] = [master_stroke, master, slave].map(Length::new::<millimeter>);
        slave_stroke(stroke, master, slave).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn trade_slave_stroke() {
        // physics: 27 mm x 0.735 = 19.8 mm, master 0.75 in, slave 0.875 in; the fork needs 17
        close(stroke(27.0, 0.75 * 25.4, 0.875 * 25.4), 27.0 * 0.735, 1e-3);
        assert_eq!(stroke(27.0, 19.05, 22.225).map(|s| (s * 10.0).round()), Ok(198.0));
    }

    #[test]
    fn volume_against_the_unit_library() {
        // by a general-purpose library: MC 1.0 in bore, 1.2 in stroke: 15.4444439629 cm3, given to
        // any slave: stroke times its area
        for slave in [19.05, 22.225, 25.4] {
            let volume = stroke(1.2 * 25.4, 25.4, slave).map(|s| s * FRAC_PI_4 * slave * slave / 1000.0);
            close(volume, 15.444_443_962_9, 1e-9);
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(stroke(bad, 19.05, 22.225), "master stroke");
            refuses(stroke(27.0, bad, 22.225), "master bore");
            refuses(stroke(27.0, 19.05, bad), "slave bore");
        }
    }

    proptest! {
        #[test]
        fn a_bigger_slave_moves_less(
            travel in 1.0..100.0, master in 5.1..60.0, slave in 5.1..60.0, factor in 1.01_f64..1.5,
        ) {
            let base = stroke(travel, master, slave).unwrap_or(f64::NAN);
            prop_assert!(stroke(travel, master, slave * factor).unwrap_or(f64::NAN) < base);
            prop_assert!(stroke(travel, master * factor, slave).unwrap_or(f64::NAN) > base);
            prop_assert!(stroke(travel * factor, master, slave).unwrap_or(f64::NAN) > base);
        }

        #[test]
        fn equal_bores_move_alike(travel in 1.0..100.0, bore in 5.1..99.0) {
            prop_assert!((stroke(travel, bore, bore).unwrap_or(f64::NAN) - travel).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sound(stroke(a, b, c)));
        }
    }
}
