//! Caster of a beam axle on leaf springs: what turns the axle, and the wedge that turns it back (geometry).

use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const LONGER: Range = Range::new(-200.0, 300.0, "mm");
const SPAN: Range = Range::new(300.0, 3_000.0, "mm");
const LIFT: Range = Range::new(-500.0, 1_000.0, "mm");
const WHEELBASE: Range = Range::new(500.0, 20_000.0, "mm");
const CASTER: Range = Range::new(-15.0, 25.0, "°");
const WEDGE: Range = Range::new(0.0, 15.0, "°");
const PAD: Range = Range::new(20.0, 500.0, "mm");

/// The end of a front spring that hangs in the shackle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShackleEnd {
    /// The shackle is ahead of the axle.
    Front,
    /// The shackle is behind the axle.
    Rear,
}

/// Where the spring lies at the axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpringPlace {
    /// The spring lies on the axle.
    OnTop,
    /// The spring hangs under the axle.
    Under,
}

/// Which way the thick end of a wedge points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThickEnd {
    /// Thick end to the front.
    Front,
    /// Thick end to the rear.
    Rear,
}

/// A wedge between spring and axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedge {
    /// Its angle, zero or more; 2, 4 and 6 deg are sold.
    pub angle: Angle,
    /// Which way it lies; `None` where none is wanted.
    pub thick_end: Option<ThickEnd>,
}

/// Caster gained by longer shackles on a front axle: `asin(longer / span)`, with the shackle behind the axle; the same lost
/// with the shackle ahead of it.
///
/// * `longer`: by which the shackle is longer, -200 to 300 mm.
/// * `span`: from eye to eye along the spring, 300 to 3,000 mm.
/// * `end`: where the shackle hangs.
///
/// The shackle is taken as upright; a leaning one moves the eye less.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry: the spring turns about its fixed eye and the axle with it.
pub fn shackle_caster_change(longer: Length, span: Length, end: ShackleEnd) -> Result<Angle, FigureError> {
    let longer = LONGER.check("longer shackle", longer.get::<millimeter>())?;
    let span = SPAN.check("spring span", span.get::<millimeter>())?;
    let turn = (longer / span).asin();
    Ok(Angle::new::<radian>(match end {
        ShackleEnd::Rear => turn,
        ShackleEnd::Front => -turn,
    }))
}

/// Caster gained by a vehicle that was lifted unevenly: `atan((front lift - rear lift) / wheelbase)`; a vehicle higher at
/// the back loses it.
///
/// * `front_lift`, `rear_lift`: -500 to 1,000 mm.
/// * `wheelbase`: 500 to 20,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn rake_caster_change(
    front_lift: Length,
    rear_lift: Length,
    wheelbase: Length,
) -> Result<Angle, FigureError> {
    let front = LIFT.check("front lift", front_lift.get::<millimeter>())?;
    let rear = LIFT.check("rear lift", rear_lift.get::<millimeter>())?;
    let wheelbase = WHEELBASE.check("wheelbase", wheelbase.get::<millimeter>())?;
    Ok(Angle::new::<radian>(((front - rear) / wheelbase).atan()))
}

/// The wedge that brings caster to what is wanted: the difference, turned the right way.
///
/// More caster leans the top of the steering axis back, so the axle must turn its front side up: the thick end lies at the
/// rear where the spring lies on the axle, at the front where it hangs under it. The pinion of a driven axle turns with
/// it, by the same angle down.
///
/// * `caster`: as it is, -15 to 25 deg; positive with the top leaning back.
/// * `wanted`: -15 to 25 deg.
/// * `place`: where the spring lies.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or a wedge of more than 15 deg would be wanted.
///
/// Source: geometry; 2 to 6 deg of caster and wedges of 2, 4 and 6 deg are common practice.
pub fn wedge_wanted(caster: Angle, wanted: Angle, place: SpringPlace) -> Result<Wedge, FigureError> {
    let is = CASTER.check("caster", caster.get::<degree>())?;
    let gain = CASTER.check("caster wanted", wanted.get::<degree>())? - is;
    let angle = WEDGE.check("wedge angle", gain.abs())?;
    let thick_end = match (place, gain) {
        (_, 0.0) => None,
        (SpringPlace::OnTop, gain) => Some(if gain > 0.0 { ThickEnd::Rear } else { ThickEnd::Front }),
        (SpringPlace::Under, gain) => Some(if gain > 0.0 { ThickEnd::Front } else { ThickEnd::Rear }),
    };
    Ok(Wedge { angle: Angle::new::<degree>(angle), thick_end })
}

/// How much thicker a wedge is at its thick end: `pad tan(angle)`; the U-bolts grow by about half of it.
///
/// * `pad`: length of the wedge along the spring, 20 to 500 mm.
/// * `angle`: 0 to 15 deg.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry.
pub fn wedge_thickness(pad: Length, angle: Angle) -> Result<Length, FigureError> {
    let pad = PAD.check("wedge length", pad.get::<millimeter>())?;
    let angle = WEDGE.check("wedge angle", angle.get::<degree>())?;
    Ok(Length::new::<millimeter>(pad * angle.to_radians().tan()))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn deg(value: f64) -> Angle {
        Angle::new::<degree>(value)
    }

    fn shackle(longer: f64, span: f64, end: ShackleEnd) -> Result<f64, FigureError> {
        shackle_caster_change(mm(longer), mm(span), end).map(|a| a.get::<degree>())
    }

    fn rake(front: f64, rear: f64, wheelbase: f64) -> Result<f64, FigureError> {
        rake_caster_change(mm(front), mm(rear), mm(wheelbase)).map(|a| a.get::<degree>())
    }

    fn wedge(is: f64, wanted: f64, place: SpringPlace) -> Result<(f64, Option<ThickEnd>), FigureError> {
        wedge_wanted(deg(is), deg(wanted), place)
            .map(|w| ((w.angle.get::<degree>() * 1e9).round() / 1e9, w.thick_end))
    }

    fn thickness(pad: f64, angle: f64) -> Result<f64, FigureError> {
        wedge_thickness(mm(pad), deg(angle)).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn shackles_and_rake_by_hand() {
        // arithmetic: asin(50/1000) and atan(50/2083)
        close(shackle(50.0, 1000.0, ShackleEnd::Rear), 2.865_983_983, 1e-9);
        close(shackle(50.0, 1000.0, ShackleEnd::Front), -2.865_983_983, 1e-9);
        // an example vehicle: wheelbase 2,083 mm, 50 mm higher at the back only
        close(rake(0.0, 50.0, 2083.0), -1.375_054_704_9, 1e-9);
        assert_eq!(rake(63.5, 63.5, 2083.0), Ok(0.0));
    }

    #[test]
    fn trade_wedge() {
        // common practice: wedges of 2 to 4 degrees where caster is under 2; an example vehicle: 1.5 as found, springs
        // under the axle: to 4 degrees 2.5
        assert_eq!(wedge(1.5, 4.0, SpringPlace::Under), Ok((2.5, Some(ThickEnd::Front))));
        assert_eq!(wedge(1.5, 4.0, SpringPlace::OnTop), Ok((2.5, Some(ThickEnd::Rear))));
        assert_eq!(wedge(6.0, 4.0, SpringPlace::OnTop), Ok((2.0, Some(ThickEnd::Front))));
        assert_eq!(wedge(6.0, 4.0, SpringPlace::Under), Ok((2.0, Some(ThickEnd::Rear))));
        assert_eq!(wedge(3.0, 3.0, SpringPlace::Under), Ok((0.0, None)));
        // arithmetic: 63.5 tan 4
        close(thickness(63.5, 4.0), 4.440_352_558_4, 1e-9);
        assert_eq!(thickness(63.5, 0.0), Ok(0.0));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
            refuses(shackle(bad, 1000.0, ShackleEnd::Rear), "longer shackle");
            refuses(shackle(50.0, bad, ShackleEnd::Rear), "spring span");
            refuses(rake(bad, 0.0, 2083.0), "front lift");
            refuses(rake(0.0, bad, 2083.0), "rear lift");
            refuses(rake(0.0, 0.0, bad), "wheelbase");
            refuses(wedge(bad, 4.0, SpringPlace::OnTop), "caster");
            refuses(wedge(1.5, bad, SpringPlace::OnTop), "caster wanted");
            refuses(thickness(bad, 4.0), "wedge length");
            refuses(thickness(63.5, bad), "wedge angle");
        }
        refuses(shackle(50.0, 0.0, ShackleEnd::Rear), "spring span");
        refuses(wedge(-10.0, 10.0, SpringPlace::Under), "wedge angle");
    }

    proptest! {
        #[test]
        fn a_shackle_at_the_other_end_does_the_opposite(longer in -100.0..150.0, span in 600.0..1500.0) {
            let [rear, front] = [ShackleEnd::Rear, ShackleEnd::Front].map(|e| shackle(longer, span, e).unwrap_or(f64::NAN));
            prop_assert_eq!(rear, -front);
            prop_assert_eq!(rear > 0.0, longer > 0.0);
        }

        #[test]
        fn the_wedge_makes_up_the_difference(is in -5.0..10.0, wanted in -4.0..9.0) {
            let on_top = wedge(is, wanted, SpringPlace::OnTop);
            let under = wedge(is, wanted, SpringPlace::Under);
            prop_assert!(on_top.is_ok_and(|w| (w.0 - f64::abs(wanted - is)).abs() < 1e-8));
            prop_assert!(is == wanted || on_top.map(|w| w.1) != under.map(|w| w.1));
            // and the way back is the same wedge turned round
            let back = wedge(wanted, is, SpringPlace::OnTop);
            prop_assert!(is == wanted || back.map(|w| w.1) == under.map(|w| w.1));
        }

        #[test]
        fn rake_is_the_same_the_other_way_round(a in -100.0..200.0, b in -100.0..200.0, wheelbase in 1500.0..4000.0) {
            prop_assert_eq!(rake(a, b, wheelbase).map(|r| -r), rake(b, a, wheelbase));
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(shackle(a, b, ShackleEnd::Rear).map_or(true, f64::is_finite));
            prop_assert!(rake(a, b, c).map_or(true, f64::is_finite));
            prop_assert!(wedge(a, b, SpringPlace::Under).map_or(true, |w| w.0.is_finite() && w.0 >= 0.0));
            prop_assert!(thickness(a, b).map_or(true, f64::is_finite));
        }
    }
}
