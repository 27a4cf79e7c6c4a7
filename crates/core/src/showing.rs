//! Quantities for the eye: text as written becomes text in the system the user reads, inch or metric.
//!
//! Only what is shown changes. Threads, words, unknowns, electrical values and revolutions stay as they are written; an
//! angle reads "3°" however it was typed. Lengths are rounded as a workshop reads them: millimetres to a tenth, inches
//! to a sixteenth where that is within 0.1 mm, else to three decimals. What [`show`] gives can be read again by
//! [`crate::quantity`]; [`reading`] is for the eye alone.

mod prose;
mod whole;
mod wire;

pub use prose::prose;
pub use whole::whole;

use crate::number::rounded;
use crate::quantity::{Quantity, is_thread};
use crate::units::{Dimension, table};

/// The system quantities are shown in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Inches, pounds, US gallons, degrees Fahrenheit.
    #[default]
    Inch,
    /// Millimetres, kilograms, litres, degrees Celsius.
    Metric,
}

impl Measure {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Inch => Self::Metric,
            Self::Metric => Self::Inch,
        }
    }

    /// The word on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Inch => "inch",
            Self::Metric => "metric",
        }
    }
}

/// Units of each system: as [`Quantity::parse`] reads them.
const INCH: [&str; 17] = [
    "in", "ft", "mile", "miles", "in2", "in3", "US gal", "US qt", "lb", "lbf", "psi", "inHg", "mph",
    "lbf·ft", "hp", "cfm", "US gph",
];
const METRIC: [&str; 23] = [
    "mm", "m", "km", "µm", "mm2", "cm2", "L", "mL", "cm3", "kg", "g", "N", "kN", "Pa", "kPa", "MPa", "bar",
    "km/h", "N·m", "kW", "L/min", "L/h", "m3/s",
];

/// A value as written, in the wanted system. What has no other system, or is no quantity, comes back unchanged.
#[must_use]
pub fn show(text: &str, wanted: Measure) -> String {
    // "small or large", "1/4 in or 6 mm"
    if text.contains(" or ") {
        let pieces: Vec<String> = text.split(" or ").map(|piece| one(piece, wanted)).collect();
        return pieces.join(" or ");
    }
    one(text, wanted)
}

/// The value in the system it is not shown in, for the hover; `None` where both read the same.
#[must_use]
pub fn other(text: &str, shown: Measure) -> Option<String> {
    let here = show(text, shown);
    let there = show(text, shown.other());
    (here != there).then_some(there)
}

/// The same for the eye alone: a wire's cross-section is read in gauges by who works in inches, "6 AWG (13 mm2)".
#[must_use]
pub fn reading(text: &str, wanted: Measure) -> String {
    match wire::gauge(text).filter(|_| wanted == Measure::Inch) {
        Some(gauge) => format!("{gauge} ({})", text.trim()),
        None => show(text, wanted),
    }
}

/// What stands beside a [`reading`], in the system it is not shown in; `None` where both read the same or both stand
/// there already.
#[must_use]
pub fn reading_other(text: &str, shown: Measure) -> Option<String> {
    match wire::gauge(text) {
        Some(gauge) => (shown == Measure::Metric).then_some(gauge),
        None => other(text, shown),
    }
}

/// So many of something: "1 companion", "7 companions".
#[must_use]
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

fn one(text: &str, wanted: Measure) -> String {
    let plain = text.trim();
    if is_thread(plain) {
        return text.to_owned();
    }
    let (lead, body) = plain.strip_prefix("set ").map_or(("", plain), |rest| ("set ", rest));
    let changed = match body.split_once(" to ") {
        Some((low, high)) => window(low, high, wanted),
        None => single(body, wanted),
    };
    changed.map_or_else(|| text.to_owned(), |shown| format!("{lead}{shown}"))
}

/// "4 to 7 psi": the unit stands once, or at both.
fn window(low: &str, high: &str, wanted: Measure) -> Option<String> {
    let (_, unit) = split(high)?;
    let low = if Quantity::parse(low).is_ok_and(|q| q.dimension != Dimension::Ratio) {
        low.to_owned()
    } else {
        format!("{low} {unit}")
    };
    // "calliper across the neck, to 0.5 mm" is no window
    Quantity::parse(&low).ok()?;
    let (shown_low, shown_high) = (single(&low, wanted), single(high, wanted));
    if shown_low.is_none() && shown_high.is_none() {
        return None;
    }
    let (low, high) = (shown_low.unwrap_or(low), shown_high.unwrap_or_else(|| high.to_owned()));
    match (split(&low), split(&high)) {
        (Some((number, a)), Some((_, b))) if a == b => Some(format!("{number} to {high}")),
        _ => Some(format!("{low} to {high}")),
    }
}

fn single(text: &str, wanted: Measure) -> Option<String> {
    let quantity = Quantity::parse(text).ok()?;
    let (main, tolerance) = match text.split_once('±') {
        Some((main, _)) => (main.trim(), Some(quantity.tolerance)),
        None => (text, None),
    };
    let (_, unit) = split(main)?;
    if quantity.dimension == Dimension::Angle {
        return (unit == "deg").then(|| text.replace(" deg", "°").replace("deg", "°"));
    }
    let target = target(&quantity, unit, wanted)?;
    let shown = in_unit(quantity.si, target)?;
    match tolerance {
        None => Some(shown),
        Some(off) => {
            // a temperature's tolerance is a difference: no zero of the scale in it
            let off = match target {
                "°F" => format!("{} °F", rounded(off * 1.8, 1)),
                "°C" => format!("{} °C", rounded(off, 1)),
                _ => in_unit(off, target)?,
            };
            Some(format!("{shown} ±{off}"))
        }
    }
}

/// The unit a quantity is shown in; `None` where it stays as written.
fn target(q: &Quantity, unit: &str, wanted: Measure) -> Option<&'static str> {
    let inch =
        INCH.contains(&unit) || matches!(unit, "°F" | "F" | "AWG" | "\"" | "inch" | "inches" | "rev/mile");
    let metric = METRIC.contains(&unit)
        || matches!(
            unit,
            "°C" | "C"
                | "N m"
                | "Nm"
                | "l"
                | "litre"
                | "litres"
                | "l/h"
                | "sq mm"
                | "mm²"
                | "cm²"
                | "cm³"
                | "rev/km"
        );
    let foreign = match wanted {
        Measure::Inch => metric,
        Measure::Metric => inch,
    };
    if !foreign {
        return None;
    }
    let size = q.si.abs();
    let inch = wanted == Measure::Inch;
    Some(match q.dimension {
        // 1 km and more is a road, 10 m and more a stopping distance
        Dimension::Length if inch && size >= 1_000.0 => "miles",
        Dimension::Length if inch && size >= 10.0 => "ft",
        Dimension::Length if inch => "in",
        Dimension::Length if size >= 1_000.0 => "km",
        Dimension::Length if size >= 10.0 => "m",
        Dimension::Length => "mm",
        // a wire's cross-section has no reading in square inches that anybody uses
        Dimension::Area if inch && wire::is_size(unit, q.si) => return None,
        Dimension::Area if inch => "in2",
        Dimension::Area if size < 1e-4 => "mm2",
        Dimension::Area => "cm2",
        Dimension::Volume if inch && size >= 4e-3 => "US gal",
        Dimension::Volume if inch && size >= 2.5e-4 => "US qt",
        Dimension::Volume if inch => "in3",
        Dimension::Volume if size >= 0.25e-3 => "L",
        Dimension::Volume => "cm3",
        Dimension::Mass if inch => "lb",
        Dimension::Mass if size < 1.0 => "g",
        Dimension::Mass => "kg",
        Dimension::Force if inch => "lbf",
        Dimension::Force if size >= 1e4 => "kN",
        Dimension::Force => "N",
        Dimension::Pressure if inch => "psi",
        Dimension::Pressure if size >= 1e6 => "MPa",
        Dimension::Pressure => "kPa",
        Dimension::Temperature if inch => "°F",
        Dimension::Temperature => "°C",
        Dimension::Speed if inch => "mph",
        Dimension::Speed => "km/h",
        Dimension::Torque if inch => "lbf·ft",
        Dimension::Torque => "N·m",
        Dimension::Power if inch => "hp",
        Dimension::Power => "kW",
        Dimension::Flow if inch && matches!(unit, "L/h" | "l/h") => "US gph",
        Dimension::Flow if inch => "cfm",
        Dimension::Flow if unit == "US gph" => "L/h",
        Dimension::Flow => "L/min",
        Dimension::PerLength if inch => "rev/mile",
        Dimension::PerLength => "rev/km",
        _ => return None,
    })
}

fn in_unit(si: f64, unit: &'static str) -> Option<String> {
    let number = match unit {
        "°C" => return Some(format!("{} °C", rounded(si, 0))),
        "°F" => return Some(format!("{} °F", rounded(si * 1.8 + 32.0, 0))),
        "in" => return Some(format!("{} in", inches(si / 0.0254))),
        _ => si / table().iter().find(|u| u.symbol == unit)?.factor,
    };
    let number = workshop(number, unit);
    let unit = if unit == "miles" && number == "1" { "mile" } else { unit };
    Some(format!("{number} {unit}"))
}

/// A sixteenth where it is within 0.1 mm, else three decimals; below a hundredth of an inch, four; from ten on, two.
fn inches(value: f64) -> String {
    const NEAR: f64 = 0.1 / 25.4;
    let sixteenths = (value * 16.0).round();
    if sixteenths != 0.0 && (value - sixteenths / 16.0).abs() <= NEAR && value.abs() >= 1.0 / 16.0 - NEAR {
        let sign = if sixteenths < 0.0 { "-" } else { "" };
        let n = sixteenths.abs() as u64;
        let (whole, mut part, mut of) = (n / 16, n % 16, 16);
        while part > 0 && part.is_multiple_of(2) {
            (part, of) = (part / 2, of / 2);
        }
        return match (whole, part) {
            (_, 0) => format!("{sign}{whole}"),
            (0, _) => format!("{sign}{part}/{of}"),
            _ => format!("{sign}{whole}-{part}/{of}"),
        };
    }
    let decimals = match value.abs() {
        small if small < 0.01 => 4,
        large if large >= 10.0 => 2,
        _ => 3,
    };
    rounded(value, decimals)
}

/// As a workshop writes a number of this unit: a tenth of a millimetre, else three figures that count.
fn workshop(value: f64, unit: &str) -> String {
    let size = value.abs();
    let decimals = match unit {
        "mm" if size >= 1.0 => 1,
        "mm" if size >= 0.1 => 2,
        "mm" => 3,
        _ if size >= 100.0 => 0,
        _ if size >= 10.0 => 1,
        _ if size >= 1.0 => 2,
        _ if size >= 0.1 => 3,
        _ => 4,
    };
    rounded(value, decimals)
}

/// The number and the unit of "1-1/8 in".
fn split(text: &str) -> Option<(&str, &str)> {
    let main = text.split('±').next().unwrap_or(text).trim();
    // the unit is the longest end that makes no part of a number
    let at = main.char_indices().find(|(_, c)| !(c.is_ascii_digit() || "./- +".contains(*c)))?.0;
    Some((main[..at].trim(), main[at..].trim()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
