//! Paint to buy, and a tube to bend.

use uom::si::angle::radian;
use uom::si::area::square_meter;
use uom::si::f64::{Angle, Area, Length, Volume};
use uom::si::length::{meter, micrometer, millimeter};
use uom::si::volume::cubic_meter;

use crate::error::FigureError;
use crate::range::Range;

const SURFACE: Range = Range::new(1e-4, 1e4, "m2");
const FILM: Range = Range::new(1.0, 5_000.0, "µm");
const COATS: Range = Range::new(1.0, 50.0, "coats");
const SHARE: Range = Range::new(0.02, 1.0, "");
const RADIUS: Range = Range::new(1.0, 10_000.0, "mm");

/// Paint as it goes into the gun: `area x film x coats / (solids x transfer)`.
///
/// * `area`: 0.0001 to 10,000 m2; `film`: of one coat when dry, 1 to 5,000 µm; `coats`: 1 to 50.
/// * `solids`: share of the volume that stays, 0.02 to 1; `transfer`: share that meets the metal, 0.02 to 1.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: balance of volumes.
pub fn paint(
    area: Area,
    film: Length,
    coats: u32,
    solids: f64,
    transfer: f64,
) -> Result<Volume, FigureError> {
    let area = SURFACE.check("area", area.get::<square_meter>())?;
    FILM.check("dry film", film.get::<micrometer>())?;
    let coats = COATS.check("coats", f64::from(coats))?;
    let share = SHARE.check("solids", solids)? * SHARE.check("transfer", transfer)?;
    Ok(Volume::new::<cubic_meter>(area * film.get::<meter>() * coats / share))
}

/// Tube that goes into a bend: `radius x angle`.
///
/// * `radius`: to the middle of the tube, 1 mm to 10 m; `angle`: of the bend, 0 to 360°.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: arc of a circle; the middle line of a tube bent by a mandrel keeps its length.
pub fn bend_length(radius: Length, angle: Angle) -> Result<Length, FigureError> {
    RADIUS.check("radius", radius.get::<millimeter>())?;
    Range::new(0.1, 360.0, "°").check("angle", angle.get::<radian>().to_degrees())?;
    Ok(radius * angle.get::<radian>())
}
