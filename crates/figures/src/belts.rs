//! An open belt over two pulleys: its length, and how far it wraps (geometry).

use uom::si::angle::radian;
use uom::si::f64::{Angle, Length};
use uom::si::length::{meter, millimeter};

use crate::error::{Expected, FigureError};
use crate::range::Range;

const PULLEY: Range = Range::new(5.0, 2_000.0, "mm");
const CENTRES: Range = Range::new(5.0, 10_000.0, "mm");

/// A belt as it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OpenBelt {
    /// Along its effective line.
    pub length: Length,
    /// Wrap of the smaller pulley.
    pub wrap: Angle,
}

/// Length of an open belt `2 sqrt(C^2 - (R - r)^2) + pi (R + r) + 2 (R - r) asin((R - r) / C)`, and the wrap of the
/// smaller pulley `pi - 2 asin((R - r) / C)`.
///
/// * `one`, `other`: effective diameters, 5 to 2,000 mm.
/// * `centres`: shaft to shaft, 5 mm to 10 m, more than half of both diameters together.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or the pulleys meet.
///
/// Source: geometry; Machinery's Handbook.
pub fn open_belt(one: Length, other: Length, centres: Length) -> Result<OpenBelt, FigureError> {
    let one = PULLEY.check("pulley", one.get::<millimeter>())? / 2e3;
    let other = PULLEY.check("other pulley", other.get::<millimeter>())? / 2e3;
    let apart = CENTRES.check("shaft to shaft", centres.get::<millimeter>())?;
    if apart / 1e3 <= one + other {
        let expected = Expected::Above { limit: (one + other) * 1e3, unit: "mm" };
        return Err(FigureError { quantity: "shaft to shaft", found: apart, expected });
    }
    let (apart, differ) = (apart / 1e3, (one - other).abs());
    let lean = (differ / apart).asin();
    let straight = 2.0 * (apart * apart - differ * differ).sqrt();
    let pi = std::f64::consts::PI;
    Ok(OpenBelt {
        length: Length::new::<meter>(straight + pi * (one + other) + 2.0 * differ * lean),
        wrap: Angle::new::<radian>(pi - 2.0 * lean),
    })
}
