//! What would give a wheel room over its brake: a spacer, or a wheel with more room inside.

use uom::si::f64::Length;
use uom::si::length::{inch, millimeter};

use super::over_brake::{ProfilePoint, wheel_over_brake};
use crate::error::FigureError;
use crate::gap::GapRule;

/// Looked for up to this, mm.
const MOST: u32 = 40;

/// What would make the gap hold; each alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomCure {
    /// So much more spacer, in whole millimetres; `None`: up to 40 mm do not help.
    pub spacer: Option<Length>,
    /// So much more diameter inside the wheel, in whole millimetres; `None`: up to 80 mm do not help.
    pub inside: Option<Length>,
}

/// What would give a wheel the gap wanted, certain with the accuracy of the rule.
///
/// * the arguments are those of [`wheel_over_brake`].
///
/// A spacer takes thread from the studs, and moves the track: see [`super::stud_engagement`] and [`super::moved`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`wheel_over_brake`], tried millimetre by millimetre.
pub fn room_cure(
    wheel: &[ProfilePoint],
    brake: &[ProfilePoint],
    spacer: Length,
    rule: GapRule,
) -> Result<RoomCure, FigureError> {
    wheel_over_brake(wheel, brake, spacer, rule)?;
    let mm = |i: u32| Length::new::<millimeter>(f64::from(i));
    // what leaves the range of a wheel is no cure
    let holds = |wheel: &[ProfilePoint], spacer| {
        wheel_over_brake(wheel, brake, spacer, rule).is_ok_and(|found| found.gap.holds())
    };
    let wider = |by: u32| -> Vec<ProfilePoint> {
        wheel.iter().map(|p| ProfilePoint { z: p.z, r: p.r + mm(by) }).collect()
    };
    Ok(RoomCure {
        spacer: (1..=MOST).find(|i| holds(wheel, spacer + mm(*i))).map(mm),
        inside: (1..=MOST).find(|i| holds(&wider(*i), spacer)).map(|i| mm(2 * i)),
    })
}

/// The next rim diameter in whole inches that has so much more room inside, the rest of the wheel alike.
///
/// * `rim`: the rim there is.
/// * `inside`: so much more diameter wanted inside.
///
/// Source: rims grow in inches; that the inside grows with them is common practice, measure the wheel.
#[must_use]
pub fn rim_for(rim: Length, inside: Length) -> Length {
    let wanted = (rim + inside).get::<inch>();
    // a hair of rounding is no inch
    Length::new::<inch>((wanted - 1e-6).ceil())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::refuses;

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn points(list: &[(f64, f64)]) -> Vec<ProfilePoint> {
        list.iter().map(|(z, r)| ProfilePoint { z: mm(*z), r: mm(*r) }).collect()
    }

    fn cure(face: f64, barrel: f64, accuracy: f64) -> Result<[Option<f64>; 2], FigureError> {
        let wheel =
            points(&[(-90.0, barrel + 10.0), (-80.0, barrel), (face, barrel), (face, 80.0), (0.0, 80.0)]);
        let brake = points(&[(-90.0, 110.0), (-90.0, 170.0), (12.0, 170.0), (12.0, 110.0)]);
        let rule = GapRule { wanted: mm(3.0), accuracy: mm(accuracy) };
        room_cure(&wheel, &brake, mm(0.0), rule)
            .map(|c| [c.spacer, c.inside].map(|l| l.map(|l| l.get::<millimeter>().round())))
    }

    #[test]
    fn a_spacer_cures_the_disc_and_a_bigger_wheel_the_barrel() {
        // the disc 1 mm off the caliper, 3 mm wanted: 2 mm of spacer, 3 with 1 mm of doubt; no bigger barrel helps
        assert_eq!(cure(13.0, 180.0, 0.0), Ok([Some(2.0), None]));
        assert_eq!(cure(13.0, 180.0, 1.0), Ok([Some(3.0), None]));
        // the barrel 2 mm under the caliper: 5 mm more radius; no spacer helps
        assert_eq!(cure(30.0, 168.0, 0.0), Ok([None, Some(10.0)]));
    }

    #[test]
    fn rims_come_in_whole_inches() {
        let rim = |inside: f64| rim_for(Length::new::<inch>(15.0), mm(inside)).get::<inch>().round();
        assert_eq!([rim(2.0), rim(25.4), rim(26.0), rim(0.0)], [16.0, 16.0, 17.0, 15.0]);
    }

    #[test]
    fn refuses_what_the_gap_refuses() {
        let brake = points(&[(0.0, 100.0), (1.0, 100.0)]);
        refuses(room_cure(&[], &brake, mm(0.0), GapRule::exact(mm(3.0))), "points of the wheel profile");
    }
}
