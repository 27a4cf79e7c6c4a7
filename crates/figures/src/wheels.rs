//! Wheels: room over the brake, offset and backspacing, bolt circle, stud engagement.

mod bolt_circle;
mod cure;
mod nut_torque;
mod outline;
mod over_brake;
mod place;
mod play;
mod polyline;
mod studs;

pub use bolt_circle::{adjacent_spacing, bolt_circle, bolt_circle_from_skip_one, skip_one_spacing};
pub use cure::{RoomCure, rim_for, room_cure};
pub use nut_torque::{NUT_TORQUES, NutTorque, nut_torque};
pub use outline::{
    BrakeSizes, SimpleBrake, SimpleWheel, USUAL_FLANGE_MM, WheelSizes, from_lip_to_bore, simple_brake,
    simple_wheel,
};
pub use over_brake::{OverBrake, ProfilePoint, wheel_over_brake};
pub use place::{
    Move, USUAL_LIP_MM, WheelPlace, backspacing, moved, offset_from_backspacing, overall_width,
    scrub_radius_change,
};
pub use play::rock_at_rim;
pub use studs::{StudFit, engaged_length, stud_engagement, stud_length_wanted, turns_of};

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const DIAMETER: Range = Range::new(100.0, 1_500.0, "mm");
const GAP: Range = Range::new(0.1, 100.0, "mm");

/// A gap as it is and as it should be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// The gap on one side; negative where the parts foul.
    pub radial: Length,
    /// The gap asked for; more than zero.
    pub wanted: Length,
    /// How far the gap falls short of what is asked for; zero where it does not.
    pub short_by: Length,
}

/// Gap between the inside of a wheel and the envelope of the caliper that turns within it.
///
/// `radial = (wheel_inside - caliper_envelope) / 2`; a negative result is an answer, not an error.
///
/// * `wheel_inside`: smallest inside diameter of the wheel in the plane of the caliper (the well, not the bead seat),
///   100 to 1,500 mm.
/// * `caliper_envelope`: diameter of the circle about the axle that the caliper just fits into, 100 to 1,500 mm.
/// * `radial_gap`: gap wanted on one side, 0.1 to 100 mm; 3 mm is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; the 3 mm is common practice.
pub fn wheel_over_caliper(
    wheel_inside: Length,
    caliper_envelope: Length,
    radial_gap: Length,
) -> Result<Clearance, FigureError> {
    let wheel = DIAMETER.check("wheel inside diameter", wheel_inside.get::<millimeter>())?;
    let caliper = DIAMETER.check("caliper envelope diameter", caliper_envelope.get::<millimeter>())?;
    let wanted = GAP.check("radial gap wanted", radial_gap.get::<millimeter>())?;

    let radial = (wheel - caliper) / 2.0;
    Ok(Clearance {
        radial: Length::new::<millimeter>(radial),
        wanted: radial_gap,
        short_by: Length::new::<millimeter>((wanted - radial).max(0.0)),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn over(a: [f64; 3]) -> Result<[f64; 3], FigureError> {
        let [wheel, caliper, gap] = a.map(Length::new::<millimeter>);
        let found = wheel_over_caliper(wheel, caliper, gap)?;
        Ok([found.radial, found.wanted, found.short_by].map(|l| l.get::<millimeter>()))
    }

    #[test]
    fn trade_wheels_over_a_339_mm_caliper() {
        // physics: 332 fails, 345 just clears by 3 mm, 352 is bought
        let old = over([332.0, 339.0, 3.0]);
        close(old.map(|c| c[0]), -3.5, 1e-9);
        close(old.map(|c| c[1]), 3.0, 1e-9);
        close(old.map(|c| c[2]), 6.5, 1e-9);
        close(over([345.0, 339.0, 3.0]).map(|c| c[0]), 3.0, 1e-9);
        let bought = over([352.0, 339.0, 3.0]);
        close(bought.map(|c| c[0]), 6.5, 1e-9);
        assert_eq!(bought.map(|c| c[2]), Ok(0.0));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = ["wheel inside diameter", "caliper envelope diameter", "radial gap wanted"];
        for (at, name) in names.into_iter().enumerate() {
            for bad in REFUSED {
                let mut a = [352.0, 339.0, 3.0];
                a[at] = bad;
                refuses(over(a), name);
            }
        }
    }

    proptest! {
        #[test]
        fn short_by_closes_the_gap_exactly(wheel in 101.0..1499.0, caliper in 101.0..1499.0, gap in 0.2..99.0) {
            let found = over([wheel, caliper, gap]);
            prop_assert!(found.is_ok());
            let [radial, wanted, short_by] = found.unwrap_or_default();
            prop_assert!(short_by >= 0.0);
            prop_assert!(radial + short_by >= wanted - 1e-9);
            prop_assert!(short_by == 0.0 || (radial + short_by - wanted).abs() < 1e-9);
        }

        #[test]
        fn a_bigger_wheel_never_clears_less(wheel in 101.0..700.0, more in 0.0..700.0, caliper in 101.0..1499.0) {
            let [small, big] = [wheel, wheel + more].map(|w| over([w, caliper, 3.0]).unwrap_or_default());
            prop_assert!(big[0] >= small[0] && big[2] <= small[2]);
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<[f64; 3]>()) {
            prop_assert!(over(a).map_or(true, |c| c.iter().all(|v| v.is_finite())));
        }
    }
}
