//! Joints with one cross: speed swing, two joints that cancel, angles seen from two sides (SAE AE-7; kinematics).

use uom::si::angle::{degree, radian};
use uom::si::f64::Angle;

use crate::error::FigureError;
use crate::range::Range;

const JOINT: Range = Range::new(-45.0, 45.0, "°");
const TURNED: Range = Range::new(-360_000.0, 360_000.0, "°");

/// What one joint does to an even speed over half a turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedSwing {
    /// Highest speed of the driven side over that of the driving one: `1 / cos`.
    pub fastest: f64,
    /// Lowest: `cos`.
    pub slowest: f64,
    /// Highest less lowest: `sin tan`.
    pub swing: f64,
    /// Most by which the driven side runs ahead or behind: `asin((1 - cos) / (1 + cos))`.
    pub lead: Angle,
}

/// How the two yokes on one shaft stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// In one plane, as they should: two equal angles cancel.
    InLine,
    /// A quarter turn apart: the swings add.
    Crossed,
}

/// Speed of the driven side over that of the driving one: `cos b / (1 - sin^2 b cos^2 turned)`.
///
/// * `angle`: of the joint, -45 to 45 deg; the sign plays no part.
/// * `turned`: of the driving side, from where the driven side is fastest, within 1,000 turns.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: kinematics of the Hooke joint.
pub fn hooke_ratio(angle: Angle, turned: Angle) -> Result<f64, FigureError> {
    let b = JOINT.check("joint angle", angle.get::<degree>())?.to_radians();
    TURNED.check("turn of the shaft", turned.get::<degree>())?;
    Ok(b.cos() / (1.0 - (b.sin() * turned.get::<radian>().cos()).powi(2)))
}

/// What one joint does to an even speed.
///
/// * `angle`: of the joint, -45 to 45 deg; at 0 there is no swing.
///
/// # Errors
/// [`FigureError`] if the angle is out of its range.
///
/// Source: kinematics of the Hooke joint.
pub fn speed_swing(angle: Angle) -> Result<SpeedSwing, FigureError> {
    let b = JOINT.check("joint angle", angle.get::<degree>())?.to_radians();
    let lead = (1.0 - b.cos()) / (1.0 + b.cos());
    Ok(SpeedSwing {
        fastest: 1.0 / b.cos(),
        slowest: b.cos(),
        swing: b.sin() * b.tan(),
        lead: Angle::new::<radian>(lead.asin()),
    })
}

/// Peak acceleration of the driven side over the square of the speed: the steepest slope of [`hooke_ratio`] over the turn,
/// `cos b sin^2 b sin 2t / (1 - sin^2 b cos^2 t)^2`; it shakes the vehicle twice a turn.
///
/// * `angle`: of the joint, -45 to 45 deg. For small angles it is `b^2` in radians, which is 22 % too low at 45 deg.
///
/// # Errors
/// [`FigureError`] if the angle is out of its range.
///
/// Source: kinematics of the Hooke joint; the slope is steepest where `s x^2 / 2 + (1 - s / 2) x = s`, `s` being
/// `sin^2 b` and `x` `cos 2t`.
pub fn peak_acceleration(angle: Angle) -> Result<f64, FigureError> {
    let b = JOINT.check("joint angle", angle.get::<degree>())?.to_radians();
    let s = b.sin().powi(2);
    // of the two ways to write the root, the one that stands at 0 too
    let half = 1.0 - s / 2.0;
    let x = 2.0 * s / (half + (half * half + 2.0 * s * s).sqrt());
    let under = 1.0 - s * (1.0 + x) / 2.0;
    Ok(b.cos() * s * (1.0 - x * x).sqrt() / (under * under))
}

/// Angle of one joint that would swing as much as two on one shaft: yokes in line `acos(cos b1 / cos b2)`, the smaller
/// over the larger; crossed `acos(cos b1 cos b2)`.
///
/// For small angles that is the known rule `sqrt(|b1^2 - b2^2|)` or `sqrt(b1^2 + b2^2)`. Both joints must lie in one
/// plane; keep the result within 3 deg, common practice.
///
/// * `first`, `second`: angles of the joints, -45 to 45 deg; the signs play no part, so Z and W are alike.
///
/// # Errors
/// [`FigureError`] if an angle is out of its range.
///
/// Source: the joints in series, `tan out = (cos b1 / cos b2) tan in`; the rule and 3 deg as in SAE AE-7, from memory.
pub fn residual_angle(first: Angle, second: Angle, phase: Phase) -> Result<Angle, FigureError> {
    let cosine = |angle: Angle| Ok(JOINT.check("joint angle", angle.get::<degree>())?.to_radians().cos());
    let (first, second) = (cosine(first)?, cosine(second)?);
    let slowest = match phase {
        Phase::InLine => first.min(second) / first.max(second),
        Phase::Crossed => first * second,
    };
    // a product of rounded cosines may not leave the range of the arc
    Ok(Angle::new::<radian>(slowest.min(1.0).acos()))
}

/// True angle of a joint from its angles in side view and plan view: `tan^2 = tan^2 side + tan^2 plan`.
///
/// * `side`, `plan`: of the one shaft off the other seen from the side and from above, the other being taken to lie
///   along the vehicle, -45 to 45 deg.
///
/// # Errors
/// [`FigureError`] if an angle is out of its range.
///
/// Source: angle between two directions in space.
pub fn compound_angle(side: Angle, plan: Angle) -> Result<Angle, FigureError> {
    let tangent = |name, angle: Angle| Ok(JOINT.check(name, angle.get::<degree>())?.to_radians().tan());
    let both =
        f64::hypot(tangent("joint angle in side view", side)?, tangent("joint angle in plan view", plan)?);
    Ok(Angle::new::<radian>(both.atan()))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::SQRT_2;

    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    fn deg(value: f64) -> Angle {
        Angle::new::<degree>(value)
    }

    fn residual(first: f64, second: f64, phase: Phase) -> Result<f64, FigureError> {
        residual_angle(deg(first), deg(second), phase).map(|a| a.get::<degree>())
    }

    fn compound(side: f64, plan: f64) -> Result<f64, FigureError> {
        compound_angle(deg(side), deg(plan)).map(|a| a.get::<degree>())
    }

    #[test]
    fn swings_against_a_cross_of_vectors() {
        // vector model of the cross, numeric derivative
        for (angle, fastest, slowest, swing, lead, small) in [
            (
                3.0,
                1.001_372_346,
                0.998_629_534_755,
                0.002_742_811_243_35,
                0.039_287_861_602_6,
                0.002_741_556_778_08,
            ),
            (
                6.0,
                1.005_508_279_56,
                0.994_521_895_368,
                0.010_986_384_195_2,
                0.157_367_371_886,
                0.010_966_227_112_3,
            ),
            (
                10.0,
                1.015_426_611_89,
                0.984_807_753_012,
                0.030_618_858_873_5,
                0.438_561_433_204,
                0.030_461_741_978_7,
            ),
            (
                30.0,
                1.154_700_538_38,
                0.866_025_403_784,
                0.288_675_134_595,
                4.117_194_259_19,
                0.274_155_677_808,
            ),
        ] {
            let found = speed_swing(deg(angle));
            close(found.map(|s| s.fastest), fastest, 1e-9);
            close(found.map(|s| s.slowest), slowest, 1e-9);
            close(found.map(|s| s.swing), swing, 1e-9);
            close(found.map(|s| s.lead.get::<degree>()), lead, 1e-6);
            // the first term of the series
            close(Ok(angle.to_radians().powi(2)), small, 1e-9);
            close(peak_acceleration(deg(angle)), small, if angle > 10.0 { 0.08 } else { 6e-3 });
            close(hooke_ratio(deg(angle), deg(0.0)), fastest, 1e-9);
            close(hooke_ratio(deg(angle), deg(90.0)), slowest, 1e-9);
        }
    }

    #[test]
    fn the_acceleration_is_the_steepest_slope() {
        // numerical: the largest slope of the ratio over half a turn, outside this program
        for (angle, peak) in [(6.0, 0.010_986_715_7), (10.0, 0.030_626_033_6), (20.0, 0.124_965_577_3)] {
            close(peak_acceleration(deg(angle)), peak, 1e-8);
        }
        // the same here, at large angles: differences of the ratio a hundredth of a degree apart
        for angle in [30.0, 38.0, 45.0] {
            let at = |turned: f64| hooke_ratio(deg(angle), deg(turned)).unwrap_or(f64::NAN);
            let slope = |i: i32| {
                let turned = f64::from(i) / 100.0;
                (at(turned + 0.005) - at(turned - 0.005)).abs() / 0.01_f64.to_radians()
            };
            close(peak_acceleration(deg(angle)), (0..9_000).map(slope).fold(0.0, f64::max), 1e-6);
        }
        // 45 degrees: 22 % above the small-angle form
        close(peak_acceleration(deg(45.0)).map(|a| 45_f64.to_radians().powi(2) / a), 0.78, 0.01);
    }

    #[test]
    fn two_joints_against_the_rule_and_a_chain_of_vectors() {
        // the rule for small angles
        close(residual(5.0, 3.0, Phase::InLine), 4.0, 1e-3);
        close(residual(6.0, 2.0, Phase::InLine), 4.0 * SQRT_2, 1e-3);
        assert_eq!(residual(4.0, -4.0, Phase::InLine), Ok(0.0));
        // numerical: two crosses of vectors in series turned and differentiated outside this program, deg
        for (first, second, phase, angle) in [
            (5.0, 3.0, Phase::InLine, 4.001_829_9),
            (8.56, 6.56, Phase::InLine, 5.511_162_8),
            (20.0, 12.0, Phase::InLine, 16.119_253_3),
            (5.0, 3.0, Phase::Crossed, 5.828_991_2),
            (20.0, 12.0, Phase::Crossed, 23.196_692_0),
        ] {
            close(residual(first, second, phase), angle, 1e-6);
        }
    }

    #[test]
    fn angles_from_two_sides() {
        // scalar product: 6 deg side view, 2 deg plan view
        close(compound(6.0, 2.0), 6.319_957_006_04, 1e-9);
        // the root of the squares is within 1 % below 15 degrees
        close(compound(6.0, 2.0), 6.324_555_320_34, 1e-3);
        close(compound(12.0, 8.0), f64::hypot(12.0, 8.0), 0.01);
        close(compound(7.0, 0.0), 7.0, 1e-12);
    }

    #[test]
    fn a_straight_joint_does_nothing() {
        let straight = speed_swing(deg(0.0)).map(|s| [s.fastest, s.slowest, s.swing, s.lead.get::<degree>()]);
        assert_eq!(straight, Ok([1.0, 1.0, 0.0, 0.0]));
        assert_eq!(peak_acceleration(deg(0.0)), Ok(0.0));
        assert_eq!(compound(0.0, 0.0), Ok(0.0));
        for turned in [0.0, 33.0, 90.0, 275.0] {
            assert_eq!(hooke_ratio(deg(0.0), deg(turned)), Ok(1.0));
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 46.0, -90.0, 1e9] {
            refuses(speed_swing(deg(bad)), "joint angle");
            refuses(peak_acceleration(deg(bad)), "joint angle");
            refuses(hooke_ratio(deg(bad), deg(0.0)), "joint angle");
            refuses(residual(bad, 3.0, Phase::InLine), "joint angle");
            refuses(residual(3.0, bad, Phase::Crossed), "joint angle");
            refuses(compound(bad, 3.0), "joint angle in side view");
            refuses(compound(3.0, bad), "joint angle in plan view");
        }
        refuses(hooke_ratio(deg(3.0), deg(f64::NAN)), "turn of the shaft");
    }

    proptest! {
        #[test]
        fn the_ratio_stays_between_the_ends_and_averages_to_one(angle in 0.1..40.0) {
            let swing = speed_swing(deg(angle)).map(|s| (s.fastest, s.slowest)).unwrap_or_default();
            // one turn of the driving side is one turn of the driven side
            let turn: f64 = (0..360).map(|t| hooke_ratio(deg(angle), deg(f64::from(t))).unwrap_or(f64::NAN)).sum();
            prop_assert!((turn / 360.0 - 1.0).abs() < 1e-9);
            for turned in 0..36 {
                let ratio = hooke_ratio(deg(angle), deg(f64::from(turned) * 10.0)).unwrap_or(f64::NAN);
                prop_assert!(ratio <= swing.0 + 1e-12 && ratio >= swing.1 - 1e-12);
            }
        }

        #[test]
        fn a_larger_angle_swings_more_either_way(angle in 0.0..40.0, more in 0.1..4.0) {
            let swing = |a: f64| speed_swing(deg(a)).map_or(f64::NAN, |s| s.swing);
            prop_assert!(swing(angle + more) > swing(angle));
            prop_assert_eq!(swing(angle), swing(-angle));
        }

        #[test]
        fn equal_angles_cancel_and_crossed_yokes_add(first in -40.0..40.0, second in -40.0..40.0) {
            prop_assert!(residual(first, -first, Phase::InLine).is_ok_and(|r| r < 1e-5));
            let swap = |phase| (residual(first, second, phase), residual(second, first, phase));
            prop_assert_eq!(swap(Phase::InLine).0, swap(Phase::InLine).1);
            prop_assert_eq!(swap(Phase::Crossed).0, swap(Phase::Crossed).1);
            let largest = first.abs().max(second.abs());
            prop_assert!(residual(first, second, Phase::InLine).is_ok_and(|r| r <= largest + 1e-6));
            prop_assert!(residual(first, second, Phase::Crossed).is_ok_and(|r| r >= largest - 1e-6));
        }

        #[test]
        fn one_joint_beside_a_straight_one_is_itself(angle in 0.5..40.0) {
            for phase in [Phase::InLine, Phase::Crossed] {
                prop_assert!(residual(angle, 0.0, phase).is_ok_and(|r| (r - angle).abs() < 1e-9));
            }
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<f64>(), b in any::<f64>()) {
            prop_assert!(residual(a, b, Phase::InLine).map_or(true, |r| r.is_finite() && r >= 0.0));
            prop_assert!(compound(a, b).map_or(true, |r| r.is_finite() && r >= 0.0));
            prop_assert!(hooke_ratio(deg(a), deg(b)).map_or(true, |r| r.is_finite() && r > 0.0));
        }
    }
}
