//! What a figure refuses to work with: the quantity, what was found and what was expected.

use std::fmt;

/// A quantity from which no figure can be computed. The caller adds where the quantity came from.
#[derive(Clone, Copy, Debug, PartialEq)]
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

impl std::error::Error for FigureError {}

impl FigureError {
    /// The message with what was found as it was typed: "found 500 bar, expected 10 to 1000 kPa".
    #[must_use]
    pub fn told_as(&self, found: &str) -> String {
        format!("{}: found {found}, expected {}", self.quantity, self.expected)
    }
}

impl fmt::Display for FigureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // as few digits as still show what is wrong
        let rounded = (4..=12).find(|digits| {
            let read = |value: f64| told(value, Some(*digits)).parse::<f64>().unwrap_or(value);
            !self.expected.holds(read(self.found), read)
        });
        write!(f, "{}: found {}, expected ", self.quantity, told(self.found, rounded))?;
        self.expected.write(f, rounded)
    }
}

/// A number with so many digits that count, and none left off before the point; `None`: twelve. What is very small or
/// very large has its power of ten behind it.
fn told(value: f64, digits: Option<u8>) -> String {
    let Some(digits) = digits.or(Some(12)).filter(|_| value.is_finite() && value != 0.0) else {
        return value.to_string();
    };
    let power = value.abs().log10().floor();
    // seventeen zeros cannot be read
    if !(-6.0..12.0).contains(&power) {
        let text = format!("{value:.*e}", usize::from(digits.saturating_sub(1)));
        let (number, power) = text.split_once('e').unwrap_or((&text, "0"));
        let number =
            if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { number };
        return format!("{number}e{power}");
    }
    let before = power as i32 + 1;
    let decimals = usize::try_from(i32::from(digits) - before).unwrap_or(0);
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

impl fmt::Display for Expected {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(f, None)
    }
}

impl Expected {
    /// The unit of what was found; empty for a bare number.
    #[must_use]
    pub fn unit(&self) -> &'static str {
        match self {
            Self::Between { unit, .. } | Self::Below { unit, .. } | Self::Above { unit, .. } => unit,
        }
    }

    /// Whether a number is accepted, with the limits read as they are told.
    fn holds(&self, found: f64, read: impl Fn(f64) -> f64) -> bool {
        match self {
            Self::Between { low, high, .. } => (read(*low)..=read(*high)).contains(&found),
            Self::Below { limit, .. } => found < read(*limit),
            Self::Above { limit, .. } => found > read(*limit),
        }
    }

    fn write(&self, f: &mut fmt::Formatter<'_>, digits: Option<u8>) -> fmt::Result {
        let number = |value: &f64| told(*value, digits);
        let unit = match self {
            Self::Between { low, high, unit } => {
                write!(f, "{} to {}", number(low), number(high))?;
                unit
            }
            Self::Below { limit, unit } => {
                write!(f, "less than {}", number(limit))?;
                unit
            }
            Self::Above { limit, unit } => {
                write!(f, "more than {}", number(limit))?;
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

    #[test]
    fn what_was_converted_is_rounded_as_far_as_it_still_shows_what_is_wrong() {
        let error = |found, expected| FigureError { quantity: "speed", found, expected }.to_string();
        let between = Expected::Between { low: 0.0, high: 100.0, unit: "km/h" };
        assert_eq!(error(-96.560_639_999_999_98, between), "speed: found -96.56, expected 0 to 100 km/h");
        assert_eq!(error(100.001, between), "speed: found 100.001, expected 0 to 100 km/h");
        assert_eq!(error(1_234_567.8, between), "speed: found 1234568, expected 0 to 100 km/h");
        assert_eq!(error(-1e-30, between), "speed: found -1e-30, expected 0 to 100 km/h");
        assert_eq!(error(-1.234_567e-17, between), "speed: found -1.235e-17, expected 0 to 100 km/h");
        assert_eq!(error(1e300, between), "speed: found 1e300, expected 0 to 100 km/h");
        let below = Expected::Below { limit: 76.200_000_000_000_01, unit: "mm" };
        assert_eq!(error(80.000_000_000_000_01, below), "speed: found 80, expected less than 76.2 mm");
        assert_eq!(error(f64::INFINITY, below), "speed: found inf, expected less than 76.2 mm");
    }
}
