//! How far a vehicle may be lifted before its shaft shakes.

use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use super::joints::{Phase, residual_angle};
use super::shaft::{FlangeTilts, ShaftRun, joint_angles};
use crate::error::FigureError;
use crate::range::Range;

/// Largest angle of a single cross joint, and largest that two on one shaft may leave, for comfort at speed, deg.
///
/// Source: common practice; SAE AE-7, from memory.
pub const COMFORT_DEG: f64 = 3.0;

/// Largest angle a plain cross joint may work at, deg: beyond it the yokes meet. A maker's figure for the joint goes before.
///
/// Source: common practice.
pub const MOST_DEG: f64 = 30.0;

const MOST: Range = Range::new(0.1, 45.0, "°");
/// Looked for up to this, mm.
const LIFTS: u32 = 500;

/// Whether an angle of a joint is within [`COMFORT_DEG`], a hair of rounding allowed.
#[must_use]
pub fn comfortable(angle: Angle) -> bool {
    angle.get::<degree>() <= COMFORT_DEG + 1e-9
}

/// The largest lift at which both joints and what they leave stay within an angle, in whole millimetres; `None` where
/// they do not even without a lift.
///
/// * `shaft`, `tilts`: see [`joint_angles`].
/// * `most`: 0.1 to 45 deg, see [`COMFORT_DEG`].
///
/// Looked for up to 500 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`joint_angles`] and [`residual_angle`], tried millimetre by millimetre.
pub fn most_lift(shaft: ShaftRun, tilts: FlangeTilts, most: Angle) -> Result<Option<Length>, FigureError> {
    let most_deg = MOST.check("largest joint angle", most.get::<degree>())?;
    joint_angles(shaft, tilts)?;
    let within = |mm: u32| {
        let lifted = shaft.lifted(Length::new::<millimeter>(f64::from(mm)))?;
        let found = joint_angles(lifted, tilts)?;
        let left = residual_angle(found.output, found.pinion, Phase::InLine)?;
        Ok::<bool, FigureError>(
            [found.output, found.pinion, left].iter().all(|a| a.get::<degree>() <= most_deg + 1e-9),
        )
    };
    let last = (0..=LIFTS).take_while(|mm| within(*mm).unwrap_or(false)).last();
    Ok(last.map(|mm| Length::new::<millimeter>(f64::from(mm))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::refuses;

    fn lift(drop: f64, tilt: f64, most: f64) -> Result<Option<f64>, FigureError> {
        let mm = Length::new::<millimeter>;
        let tilt = Angle::new::<degree>(tilt);
        let shaft = ShaftRun { run: mm(1000.0), drop: mm(drop), side: mm(0.0) };
        let tilts = FlangeTilts { output_down: tilt, pinion_up: tilt };
        most_lift(shaft, tilts, Angle::new::<degree>(most)).map(|l| l.map(|l| l.get::<millimeter>().round()))
    }

    #[test]
    fn level_flanges_allow_what_the_slope_of_the_shaft_allows() {
        // tan 3 deg of 1000 mm is 52.4 mm
        assert_eq!(lift(0.0, 0.0, 3.0), Ok(Some(52.0)));
        assert_eq!(lift(30.0, 0.0, 3.0), Ok(Some(22.0)));
        // flanges that point along the shaft allow more: tan 6 deg is 105.1 mm
        assert_eq!(lift(0.0, 3.0, 3.0), Ok(Some(105.0)));
        assert_eq!(lift(60.0, 0.0, 3.0), Ok(None));
        refuses(lift(0.0, 0.0, 0.0), "largest joint angle");
        assert!(comfortable(Angle::new::<degree>(3.0)) && !comfortable(Angle::new::<degree>(3.01)));
    }
}
