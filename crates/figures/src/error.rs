//! What a figure refuses to work with: the quantity, what was found and what was expected.

use std::fmt;

/// A quantity from which no figure can be computed. The caller adds where the quantity came from.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("{quantity}: found {found}, expected {expected}")]
pub struct FigureError {
    /// What was refused, in words of the trade: "master bore".
    pub quantity: &'static str,
    /// The number refused, in the unit of [`FigureError::expected`]; may be NaN or infinite.
    pub found: f64,
    /// What would have been accepted.
    pub expected: Expected,
}

/// What would have been accepted instead of [`FigureError::found`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Expected {
    /// A finite number from `low` to `high`, both allowed.
    Between {
        /// Smallest accepted, in `unit`.
        low: f64,
        /// Largest accepted, in `unit`.
        high: f64,
        /// Unit of both limits and of what was found; empty for a bare number.
        unit: &'static str,
    },
    /// Strictly less than another quantity of the same call: the bore of a tube against its outside.
    Below {
        /// The other quantity, in `unit`.
        limit: f64,
        /// Unit of the limit and of what was found.
        unit: &'static str,
    },
    /// Strictly more than another quantity of the same call: the speeds along a curve must rise.
    Above {
        /// The other quantity, in `unit`.
        limit: f64,
        /// Unit of the limit and of what was found.
        unit: &'static str,
    },
}

impl fmt::Display for Expected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = match self {
            Self::Between { low, high, unit } => {
                write!(f, "{low} to {high}")?;
                unit
            }
            Self::Below { limit, unit } => {
                write!(f, "less than {limit}")?;
                unit
            }
            Self::Above { limit, unit } => {
                write!(f, "more than {limit}")?;
                unit
            }
        };
        match *unit {
            "" => Ok(()),
            "°" => f.write_str(unit),
            _ => write!(f, " {unit}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn message_names_quantity_found_and_expected_with_unit() {
        let error = |quantity, found, expected| FigureError { quantity, found, expected }.to_string();
        let between = Expected::Between { low: 5.0, high: 100.0, unit: "mm" };
        assert_eq!(error("master bore", 0.0, between), "master bore: found 0, expected 5 to 100 mm");
        let bare = Expected::Between { low: 1.0, high: 15.0, unit: "" };
        assert_eq!(error("pedal ratio", f64::NAN, bare), "pedal ratio: found NaN, expected 1 to 15");
        let angle = Expected::Between { low: -45.0, high: 45.0, unit: "°" };
        assert_eq!(error("joint angle", 60.0, angle), "joint angle: found 60, expected -45 to 45°");
        let below = Expected::Below { limit: 76.0, unit: "mm" };
        assert_eq!(error("tube inside", 80.0, below), "tube inside: found 80, expected less than 76 mm");
        let above = Expected::Above { limit: 2000.0, unit: "rpm" };
        assert_eq!(error("curve", 1500.0, above), "curve: found 1500, expected more than 2000 rpm");
    }
}
