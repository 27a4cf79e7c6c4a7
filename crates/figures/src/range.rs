//! The checked range of a quantity: engineering judgement, wide enough for any road vehicle and its trailer.

use crate::error::{Expected, FigureError};

/// A closed interval in a named unit. NaN and the infinities lie outside every range.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Range {
    low: f64,
    high: f64,
    unit: &'static str,
}

impl Range {
    /// From `low` to `high`, both allowed, in `unit` (empty for a bare number).
    pub(crate) const fn new(low: f64, high: f64, unit: &'static str) -> Self {
        Self { low, high, unit }
    }

    /// Gives `found` back if it lies in the range.
    ///
    /// # Errors
    /// [`FigureError`] naming `quantity` if it does not.
    pub(crate) fn check(self, quantity: &'static str, found: f64) -> Result<f64, FigureError> {
        if (self.low..=self.high).contains(&found) {
            Ok(found)
        } else {
            Err(FigureError { quantity, found, expected: self.expected() })
        }
    }

    /// The range, as it stands in an error.
    pub(crate) fn expected(self) -> Expected {
        let Self { low, high, unit } = self;
        Expected::Between { low, high, unit }
    }
}

/// A speed of rotation, rev/min.
pub(crate) const RPM: Range = Range::new(1.0, 100_000.0, "rpm");
/// Bore of a hydraulic cylinder, mm.
pub(crate) const CYLINDER_BORE: Range = Range::new(5.0, 100.0, "mm");
/// Turns of the input for one turn of the output, either way.
pub(crate) const GEAR_RATIO: Range = Range::new(0.05, 100.0, "");
/// Turns of a road wheel or of what it drives over a length of road, rev/mile.
pub(crate) const REVS_PER_MILE: Range = Range::new(10.0, 100_000.0, "rev/mile");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_inside_and_everything_else_is_named() {
        let range = Range::new(5.0, 100.0, "mm");
        assert_eq!(range.check("bore", 5.0), Ok(5.0));
        assert_eq!(range.check("bore", 100.0), Ok(100.0));
        for found in [4.999, 100.001, 0.0, -0.0, -5.0, f64::INFINITY, f64::NEG_INFINITY, f64::NAN] {
            let refused = range.check("bore", found).map_err(|e| (e.quantity, e.expected));
            assert_eq!(refused, Err(("bore", Expected::Between { low: 5.0, high: 100.0, unit: "mm" })));
        }
    }
}
