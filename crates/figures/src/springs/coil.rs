//! Rate of a coil spring of round wire (Shigley ch. 10).

use uom::si::f64::{Length, Pressure};
use uom::si::length::{meter, millimeter};
use uom::si::pressure::{gigapascal, pascal};
use uom::si::surface_tension::newton_per_meter;

use super::SpringRate;
use crate::error::{Expected, FigureError};
use crate::range::Range;

const WIRE: Range = Range::new(0.1, 100.0, "mm");
const MEAN: Range = Range::new(0.5, 1_000.0, "mm");
const COILS: Range = Range::new(0.5, 200.0, "");
const MODULUS: Range = Range::new(1.0, 200.0, "GPa");

/// Rate of a coil spring: `G d^4 / (8 D^3 n)`.
///
/// * `wire`: thickness d, 0.1 to 100 mm; `mean`: diameter D through the middle of the wire, 0.5 to 1,000 mm, more than
///   the wire; `coils`: n that work, 0.5 to 200; `modulus`: of shear, 1 to 200 GPa; 79.3 for spring steel.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Shigley, Mechanical Engineering Design, ch. 10.
pub fn coil_rate(
    wire: Length,
    mean: Length,
    coils: f64,
    modulus: Pressure,
) -> Result<SpringRate, FigureError> {
    let thick = WIRE.check("wire", wire.get::<millimeter>())?;
    let wide = MEAN.check("mean diameter", mean.get::<millimeter>())?;
    if wide <= thick {
        let expected = Expected::Above { limit: thick, unit: "mm" };
        return Err(FigureError { quantity: "mean diameter", found: wide, expected });
    }
    let coils = COILS.check("working coils", coils)?;
    MODULUS.check("shear modulus", modulus.get::<gigapascal>())?;
    let rate =
        modulus.get::<pascal>() * wire.get::<meter>().powi(4) / (8.0 * mean.get::<meter>().powi(3) * coils);
    Ok(SpringRate::new::<newton_per_meter>(rate))
}
