//! Play of a bearing or king-pin, told at the rim.

use uom::si::f64::Length;
use uom::si::length::{meter, millimeter};

use crate::error::FigureError;
use crate::range::Range;

const PLAY: Range = Range::new(0.001, 50.0, "mm");
const REACH: Range = Range::new(1.0, 5_000.0, "mm");

/// Rock at the rim of a wheel: `play x across the rim / between the bushes`.
///
/// * `play`: of the pin in its bushes, 0.001 to 50 mm.
/// * `bushes`: between the middles of the two bushes or bearings, 1 to 5,000 mm.
/// * `rim`: diameter at which it is felt, 1 to 5,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: lever; the wheel rocks about the middle between the bushes, with the play of one on either side.
pub fn rock_at_rim(play: Length, bushes: Length, rim: Length) -> Result<Length, FigureError> {
    PLAY.check("play", play.get::<millimeter>())?;
    REACH.check("between the bushes", bushes.get::<millimeter>())?;
    REACH.check("rim", rim.get::<millimeter>())?;
    Ok(Length::new::<meter>(play.get::<meter>() * rim.get::<meter>() / bushes.get::<meter>()))
}
