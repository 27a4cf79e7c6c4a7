//! Links that swing: angle of a drag link, how its end shifts, and the wheels it turns with it (geometry).

use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::{Expected, FigureError};
use crate::range::Range;

const LENGTH: Range = Range::new(50.0, 3_000.0, "mm");
const DROP: Range = Range::new(-2_000.0, 2_000.0, "mm");
const TRAVEL: Range = Range::new(-500.0, 500.0, "mm");
const ARM: Range = Range::new(20.0, 600.0, "mm");
const ANGLE: Range = Range::new(0.0, 45.0, "°");

/// A rigid link that swings about the end held by the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// From end to end, 50 to 3,000 mm.
    pub length: Length,
    /// How much lower the end at the axle lies at ride height, -2,000 to 2,000 mm, less than the length either way.
    pub drop: Length,
}

/// Angle of a link off the level: `asin(drop / length)`; it has the sign of the drop.
///
/// * `link`: within the ranges of [`Arc`]; after a lift the drop is the old one plus the lift.
///
/// Over 5 to 6 deg a drag link steers the wheels as the axle moves, common practice.
///
/// # Errors
/// [`FigureError`] if a measure is out of its range or the drop is not less than the length.
///
/// Source: geometry; the limit is common practice.
pub fn link_angle(link: Arc) -> Result<Angle, FigureError> {
    let (length, drop) = link.check()?;
    Ok(Angle::new::<radian>((drop / length).asin()))
}

/// How much nearer to the frame the end at the axle comes when the axle falls by a travel, seen level:
/// `sqrt(L^2 - drop^2) - sqrt(L^2 - (drop + travel)^2)`; negative is further away.
///
/// * `link`: within the ranges of [`Arc`].
/// * `travel`: of the axle away from the frame, -500 to 500 mm; bump is negative, a lift positive.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or the link would have to be longer than it is.
///
/// Source: geometry.
pub fn link_shortening(link: Arc, travel: Length) -> Result<Length, FigureError> {
    let (length, drop) = link.check()?;
    let travel = TRAVEL.check("axle travel", travel.get::<millimeter>())?;
    let moved = Arc { length: link.length, drop: Length::new::<millimeter>(drop + travel) };
    let (_, after) = moved.check()?;
    let level = |drop: f64| (length.powi(2) - drop.powi(2)).sqrt();
    Ok(Length::new::<millimeter>(level(drop) - level(after)))
}

/// Estimate of how far the wheels turn by themselves over a travel of the axle: the difference of what the link and what
/// guides the axle shift, over the steering arm: `asin((link - guide) / arm)`.
///
/// * `link`: drag link, from the drop arm to the steering arm.
/// * `guide`: what holds the axle in the link's direction: a track bar beside a cross link; beside a fore-and-aft link
///   the spring from its fixed eye on, taken as a link of three quarters of that half (from memory). `None` where the
///   axle moves straight.
/// * `travel`: of the axle away from the frame, -500 to 500 mm.
/// * `steering_arm`: on the knuckle, 20 to 600 mm.
///
/// Positive is the way a drag link that pulls turns the wheels. Two arcs of one length and one angle give zero.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or the shift is longer than the arm.
///
/// Source: geometry of both arcs; flex of springs and bushes is left out, so it is an estimate.
pub fn bump_steer(
    link: Arc,
    guide: Option<Arc>,
    travel: Length,
    steering_arm: Length,
) -> Result<Angle, FigureError> {
    let link = link_shortening(link, travel)?.get::<millimeter>();
    let guide = match guide {
        Some(guide) => link_shortening(guide, travel)?.get::<millimeter>(),
        None => 0.0,
    };
    let arm = ARM.check("steering arm", steering_arm.get::<millimeter>())?;
    let shift = link - guide;
    if shift.abs() >= arm {
        let expected = Expected::Below { limit: arm, unit: "mm" };
        return Err(FigureError { quantity: "shift of the drag link", found: shift.abs(), expected });
    }
    Ok(Angle::new::<radian>((shift / arm).asin()))
}

/// How much lower the frame end of a drag link must come, by a dropped arm, to bring its angle down to one that will do:
/// `|drop| - L sin(allowed)`; zero where it will do already.
///
/// * `link`: after the lift, within the ranges of [`Arc`].
/// * `allowed`: 0 to 45 deg; 5 deg is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; a longer arm loads the box and its shaft more.
pub fn drop_arm_wanted(link: Arc, allowed: Angle) -> Result<Length, FigureError> {
    let (length, drop) = link.check()?;
    let allowed = ANGLE.check("drag link angle allowed", allowed.get::<degree>())?.to_radians();
    Ok(Length::new::<millimeter>((drop.abs() - length * allowed.sin()).max(0.0)))
}

impl Arc {
    /// Length and drop, mm.
    fn check(&self) -> Result<(f64, f64), FigureError> {
        let length = LENGTH.check("link length", self.length.get::<millimeter>())?;
        let drop = DROP.check("drop of the link", self.drop.get::<millimeter>())?;
        if drop.abs() >= length {
            let expected = Expected::Below { limit: length, unit: "mm" };
            return Err(FigureError { quantity: "drop of the link", found: drop.abs(), expected });
        }
        Ok((length, drop))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn arc(length: f64, drop: f64) -> Arc {
        Arc { length: mm(length), drop: mm(drop) }
    }

    fn angle(length: f64, drop: f64) -> Result<f64, FigureError> {
        link_angle(arc(length, drop)).map(|a| a.get::<degree>())
    }

    fn shift(length: f64, drop: f64, travel: f64) -> Result<f64, FigureError> {
        link_shortening(arc(length, drop), mm(travel)).map(|l| l.get::<millimeter>())
    }

    fn steer(link: Arc, guide: Option<Arc>, travel: f64, arm: f64) -> Result<f64, FigureError> {
        bump_steer(link, guide, mm(travel), mm(arm)).map(|a| a.get::<degree>())
    }

    fn arm(length: f64, drop: f64, allowed: f64) -> Result<f64, FigureError> {
        drop_arm_wanted(arc(length, drop), Angle::new::<degree>(allowed)).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn the_lifted_drag_link_of_the_reference() {
        // arithmetic of the definition: drag link 900 mm, 40 mm drop, +76.2 mm
        close(angle(900.0, 40.0), 2.547_318_182_57, 1e-9);
        close(angle(900.0, 40.0 + 76.2), 7.418_229_858_5, 1e-9);
        close(shift(900.0, 40.0, 76.2), 6.643_551_877_04, 1e-9);
    }

    #[test]
    fn links_by_hand() {
        // 3-4-5: a link of 500 that drops 300 is 400 long seen level; level again it is 500
        close(shift(500.0, 0.0, 300.0), 100.0, 1e-9);
        close(shift(500.0, 300.0, -300.0), -100.0, 1e-9);
        assert!(shift(500.0, 300.0, -600.0).is_err());
        close(angle(500.0, 300.0), 36.869_897_645_8, 1e-9);
        close(angle(500.0, -300.0), -36.869_897_645_8, 1e-9);
    }

    #[test]
    fn trade_links() {
        // common practice: the link wants correcting from 2 in of lift, when it passes 5 to 6 degrees;
        // an example vehicle: 610 mm rods, 25 mm drop: 1 in 4.7, 2 in 7.1 degrees
        assert!(angle(610.0, 25.0 + 25.4).is_ok_and(|a| a < 5.0));
        close(angle(610.0, 25.0 + 50.8), 7.138_156_259_7, 1e-9);
        assert!(angle(610.0, 25.0 + 50.8).is_ok_and(|a| a > 6.0));
        // 2.5 in: back to 5 degrees takes an arm dropped by 35.33 mm (by hand)
        close(arm(610.0, 88.5, 5.0), 35.334_996_923_9, 1e-9);
        assert_eq!(arm(610.0, 25.0, 5.0), Ok(0.0));
    }

    #[test]
    fn bump_steer_against_circles() {
        // numerical: ends of both arcs found by bisection outside this program, deg
        close(steer(arc(900.0, 116.2), None, 60.0, 150.0), 3.778_017_969_9, 1e-9);
        close(steer(arc(900.0, 116.2), Some(arc(800.0, 60.0)), 60.0, 150.0), 1.178_707_881_7, 1e-9);
        close(steer(arc(900.0, 40.0), Some(arc(800.0, 60.0)), -50.0, 150.0), 0.518_304_515_2, 1e-9);
        // a lift makes the same travel steer more
        let [low, high] =
            [40.0, 116.2].map(|drop| steer(arc(900.0, drop), None, 60.0, 150.0).unwrap_or(f64::NAN));
        assert!(high > 1.5 * low);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let link = arc(900.0, 40.0);
        for bad in REFUSED {
            refuses(angle(bad, 40.0), "link length");
            refuses(steer(link, None, 60.0, bad), "steering arm");
            refuses(steer(link, Some(arc(bad, 40.0)), 60.0, 150.0), "link length");
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
            refuses(angle(900.0, bad), "drop of the link");
            refuses(shift(900.0, 40.0, bad), "axle travel");
            refuses(arm(900.0, 40.0, bad), "drag link angle allowed");
        }
        refuses(angle(900.0, 900.0), "drop of the link");
        refuses(angle(900.0, -901.0), "drop of the link");
        refuses(shift(500.0, 400.0, 200.0), "drop of the link");
        refuses(steer(arc(500.0, 0.0), None, 400.0, 20.0), "shift of the drag link");
    }

    proptest! {
        #[test]
        fn parallel_links_do_not_steer(length in 400.0..1200.0, drop in -100.0..100.0, travel in -100.0..100.0) {
            let link = arc(length, drop);
            prop_assert!(steer(link, Some(link), travel, 150.0).is_ok_and(|a| a.abs() < 1e-9));
            prop_assert!(steer(link, None, 0.0, 150.0).is_ok_and(|a| a.abs() < 1e-9));
        }

        #[test]
        fn a_level_link_steers_alike_both_ways(length in 400.0..1200.0, travel in 1.0..150.0) {
            let turned = |t: f64| steer(arc(length, 0.0), None, t, 150.0).unwrap_or(f64::NAN);
            let (down, up) = (turned(travel), turned(0.0 - travel));
            prop_assert!((up - down).abs() < 1e-9 && up > 0.0);
        }

        #[test]
        fn a_steeper_link_shifts_more(length in 500.0..1200.0, drop in 0.0..150.0, more in 1.0..50.0) {
            let s = |d| shift(length, d, 60.0).unwrap_or(f64::NAN);
            prop_assert!(s(drop + more) > s(drop));
        }

        #[test]
        fn the_arm_wanted_brings_the_angle_down(length in 500.0..1200.0, drop in -300.0..300.0, allowed in 1.0..10.0) {
            let lower = arm(length, drop, allowed).unwrap_or(f64::NAN);
            let after = angle(length, drop.abs() - lower);
            prop_assert!(after.is_ok_and(|a| a <= allowed + 1e-9));
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<[f64; 4]>()) {
            prop_assert!(angle(a[0], a[1]).map_or(true, f64::is_finite));
            prop_assert!(steer(arc(a[0], a[1]), None, a[2], a[3]).map_or(true, f64::is_finite));
        }
    }
}
