//! Dwell of contact breaker points.

use uom::si::angle::degree;
use uom::si::f64::Angle;

use super::geometry::firing_interval;
use crate::error::{Expected, FigureError};

/// Share of the time that the points are closed: `dwell / (360 deg / lobes)`.
///
/// * `cylinders`: fired by one set of points, a lobe each, 1 to 48.
/// * `dwell`: turn of the cam with the points closed, more than 0, less than a lobe.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition.
pub fn dwell_share(cylinders: u32, dwell: Angle) -> Result<f64, FigureError> {
    // the cam turns half as far as the crank
    let lobe = firing_interval(cylinders)?.get::<degree>() / 2.0;
    let dwell = dwell.get::<degree>();
    if dwell > 0.0 && dwell < lobe {
        return Ok(dwell / lobe);
    }
    let expected = Expected::Between { low: 0.0, high: lobe, unit: "°" };
    Err(FigureError { quantity: "dwell", found: dwell, expected })
}
