//! Pressure kept in a brake circuit at rest: drums want some, discs none or little (common practice).

use uom::si::f64::Pressure;
use uom::si::pressure::{pascal, psi};

use crate::error::FigureError;
use crate::range::Range;

/// What a circuit works at its wheels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WheelBrake {
    /// A drum with cup seals in its wheel cylinders.
    Drum,
    /// A disc whose caliper lies lower than the reservoir.
    DiscBelowMaster,
    /// A disc whose caliper lies as high as the reservoir, or higher: the fluid would run back.
    DiscLevelOrAbove,
}

/// Pressure a valve should keep in a circuit at rest, lowest and highest.
///
/// A drum 8 to 12 psi, so that the cups stay spread; a disc below its master none; a disc level with it or above, 2 psi.
/// A drum valve on a disc makes the pads drag.
///
/// Source: common practice; a US Army manual of heavy trucks allows 6 to 18 psi for drums.
#[must_use]
pub fn residual_pressure(brake: WheelBrake) -> (Pressure, Pressure) {
    let (low, high) = match brake {
        WheelBrake::Drum => (8.0, 12.0),
        WheelBrake::DiscBelowMaster => (0.0, 0.0),
        WheelBrake::DiscLevelOrAbove => (2.0, 2.0),
    };
    // the psi of `uom` is rounded to seven digits
    let pascals = |v: f64| Pressure::new::<pascal>(v * 6_894.757_293_168);
    (pascals(low), pascals(high))
}

/// Whether a valve of this pressure suits the circuit.
///
/// * `held`: 0 to 200 psi.
///
/// # Errors
/// [`FigureError`] if the pressure is out of its range.
///
/// Source: [`residual_pressure`], to half a psi.
pub fn residual_suits(brake: WheelBrake, held: Pressure) -> Result<bool, FigureError> {
    let held = Range::new(0.0, 200.0, "psi").check("residual pressure", held.get::<psi>())?;
    let (low, high) = residual_pressure(brake);
    Ok((low.get::<psi>() - 0.5..=high.get::<psi>() + 0.5).contains(&held))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::refuses;

    /// One psi in pascals; that of `uom` is rounded.
    const PSI: f64 = 6_894.757_293_168;

    #[test]
    fn residual_pressures_of_the_trade() {
        // common practice 62 and its worked joints: 10 psi on drums; 0 or 2 on discs, never 10
        let suits = |brake, held: f64| residual_suits(brake, Pressure::new::<pascal>(held * PSI));
        assert_eq!(suits(WheelBrake::Drum, 10.0), Ok(true));
        assert_eq!(suits(WheelBrake::Drum, 2.0), Ok(false));
        for disc in [WheelBrake::DiscBelowMaster, WheelBrake::DiscLevelOrAbove] {
            assert_eq!(suits(disc, 10.0), Ok(false));
        }
        assert_eq!(suits(WheelBrake::DiscLevelOrAbove, 2.0), Ok(true));
        assert_eq!(suits(WheelBrake::DiscBelowMaster, 0.0), Ok(true));
        assert_eq!(suits(WheelBrake::DiscBelowMaster, 2.0), Ok(false));
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e9] {
            refuses(suits(WheelBrake::Drum, bad), "residual pressure");
        }
    }
}
