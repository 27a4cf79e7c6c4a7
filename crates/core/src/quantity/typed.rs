//! What a person types into a field: decimal commas, numbers without a unit, two units of one length.

use super::{Quantity, QuantityError, echo};
use crate::units::Dimension;

/// Units a bare number may be in, where more than one is plain.
fn usual(dimension: Dimension) -> [&'static str; 2] {
    match dimension {
        Dimension::Length => ["mm", "in"],
        Dimension::Area => ["mm2", "in2"],
        Dimension::Volume => ["L", "in3"],
        Dimension::Mass => ["kg", "lb"],
        Dimension::Force => ["N", "lbf"],
        Dimension::Pressure => ["psi", "kPa"],
        Dimension::Temperature | Dimension::TemperatureDifference => ["°C", "°F"],
        Dimension::Time => ["min", "s"],
        Dimension::Speed => ["mph", "km/h"],
        Dimension::Torque => ["N·m", "lbf·ft"],
        Dimension::Power => ["W", "hp"],
        Dimension::Flow => ["L/h", "US gph"],
        Dimension::PerLength => ["rev/mile", "rev/km"],
        Dimension::Stiffness => ["N/mm", "lbf/in"],
        _ => ["", ""],
    }
}

/// The one unit of a dimension that a bare number can only be in.
fn only(dimension: Dimension) -> Option<&'static str> {
    match dimension {
        Dimension::Voltage => Some("V"),
        Dimension::Current => Some("A"),
        Dimension::Resistance => Some("ohm"),
        Dimension::Charge => Some("Ah"),
        Dimension::RotationalSpeed => Some("rpm"),
        Dimension::Angle => Some("°"),
        Dimension::TorquePerPressure => Some("N·m/MPa"),
        _ => None,
    }
}

impl Quantity {
    /// Reads what a person typed into a field for one dimension. Besides what [`Quantity::parse_as`] reads: a decimal comma,
    /// a number without a unit where the dimension has one plain unit, feet with inches. [`Quantity::text`] is then what a
    /// file may hold: "20 A" for "20", "12.25 in" for "12,25 in".
    ///
    /// # Errors
    /// [`QuantityError`] with what was expected; a comma that may be either, and a unit that may be several, ask.
    pub fn typed(text: &str, dimension: Dimension) -> Result<Self, QuantityError> {
        let text = without_comma(text)?;
        if dimension == Dimension::Length
            && let Some(both) = feet_and_inches(&text)
        {
            return both;
        }
        let read = Self::parse_as(&text, dimension);
        let bare = matches!(&read, Err(QuantityError::WrongDimension { .. }))
            && Self::parse(&text).is_ok_and(|q| q.dimension == Dimension::Ratio)
            && !text.contains('%');
        match (bare, only(dimension)) {
            (true, Some("°")) => Self::parse_as(&format!("{}°", text.trim()), dimension),
            (true, Some(unit)) => Self::parse_as(&format!("{} {unit}", text.trim()), dimension),
            (true, None) => {
                let number = echo(text.trim());
                let choices = usual(dimension).map(|unit| format!("{number} {unit}"));
                Err(QuantityError::NoUnit { found: number, choices })
            }
            (false, _) => read,
        }
    }
}

/// "12,25 in" as "12.25 in", "1,234.5 mm" as "1234.5 mm".
///
/// # Errors
/// A comma with three digits behind it, which may be either.
pub(crate) fn without_comma(text: &str) -> Result<String, QuantityError> {
    if !text.contains(',') || text.len() > super::LONGEST {
        return Ok(text.to_owned());
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == ',' || c == '.')).unwrap_or(rest.len());
        out.push_str(&one_number(&rest[..end], text)?);
        rest = &rest[end..];
    }
    out.push_str(rest);
    Ok(out)
}

fn one_number(number: &str, text: &str) -> Result<String, QuantityError> {
    let (commas, points) = (number.matches(',').count(), number.matches('.').count());
    let groups = |of: &str, mark: char| {
        let mut groups = of.split(mark);
        groups.next().is_some_and(|g| (1..=3).contains(&g.len())) && groups.all(|g| g.len() == 3)
    };
    match (commas, points) {
        (0, _) => Ok(number.to_owned()),
        // "1,234.5" and "1.234,5": the last mark is the decimal one
        (_, 1) if number.rfind(',') < number.find('.') => {
            let (whole, part) = number.split_once('.').unwrap_or((number, ""));
            if !groups(whole, ',') {
                return Err(QuantityError::NoNumber { found: echo(text) });
            }
            Ok(format!("{}.{part}", whole.replace(',', "")))
        }
        (1, 1..) => {
            let (whole, part) = number.split_once(',').unwrap_or((number, ""));
            if !groups(whole, '.') || part.contains('.') {
                return Err(QuantityError::NoNumber { found: echo(text) });
            }
            Ok(format!("{}.{part}", whole.replace('.', "")))
        }
        (1, 0) => {
            let (whole, part) = number.split_once(',').unwrap_or((number, ""));
            // nobody writes 0,375 for 375, and no thousand has four digits before its comma
            if part.len() == 3 && (1..=3).contains(&whole.len()) && !whole.starts_with('0') {
                return Err(QuantityError::Comma {
                    found: echo(text),
                    thousands: format!("{whole}{part}"),
                    decimal: format!("{whole}.{part}"),
                });
            }
            Ok(format!("{whole}.{part}"))
        }
        _ if groups(number, ',') => Ok(number.replace(',', "")),
        _ => Err(QuantityError::NoNumber { found: echo(text) }),
    }
}

/// `5' 10"`, "5 ft 10-1/2 in"; `None` where it is not written so.
fn feet_and_inches(text: &str) -> Option<Result<Quantity, QuantityError>> {
    let (feet, inches) = ["'", "′", "ft", "feet", "foot"]
        .iter()
        .find_map(|mark| text.split_once(mark))
        .filter(|(_, rest)| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()))?;
    let one = |text: String| Quantity::parse_as(&text, Dimension::Length);
    let (feet, inches) = match (one(format!("{} ft", feet.trim())), one(inches.trim().to_owned())) {
        (Ok(feet), Ok(inches)) => (feet, inches),
        (Err(error), _) | (_, Err(error)) => return Some(Err(error)),
    };
    let si = feet.si + inches.si;
    // as much as an inch may have behind its point
    let text = format!("{} in", crate::number::rounded(si / 0.0254, 9));
    Some(Ok(Quantity { si, text, ..inches }))
}
