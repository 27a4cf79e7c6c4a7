//! How far a lining that wears goes yet.

use uom::si::f64::Length;
use uom::si::length::{kilometer, meter, millimeter};

use crate::error::{Expected, FigureError};
use crate::range::Range;

const THICKNESS: Range = Range::new(0.1, 100.0, "mm");
const DRIVEN: Range = Range::new(1.0, 1_000_000.0, "km");

/// Way left until a lining is as thin as it may be: `driven (now - least) / (new - now)`.
///
/// * `new`, `now`, `least`: thickness, 0.1 to 100 mm, new the thickest.
/// * `driven`: since it was new, 1 to 1,000,000 km.
///
/// Below zero where it is too thin already. Wear is taken as even; towing and hills eat more.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range, or nothing is worn.
///
/// Source: proportion.
pub fn lining_left(new: Length, now: Length, least: Length, driven: Length) -> Result<Length, FigureError> {
    let new = THICKNESS.check("thickness when new", new.get::<millimeter>())?;
    let now = THICKNESS.check("thickness now", now.get::<millimeter>())?;
    let least = THICKNESS.check("least thickness", least.get::<millimeter>())?;
    DRIVEN.check("way driven", driven.get::<kilometer>())?;
    for (quantity, found) in [("thickness now", now), ("least thickness", least)] {
        if found >= new {
            return Err(FigureError {
                quantity,
                found,
                expected: Expected::Below { limit: new, unit: "mm" },
            });
        }
    }
    Ok(Length::new::<meter>(driven.get::<meter>() * (now - least) / (new - now)))
}
