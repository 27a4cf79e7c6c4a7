//! Quantities for the eye: text as written becomes text in the system the user reads, inch or metric.
//!
//! Only what is shown changes. Threads, words, unknowns, electrical values and revolutions stay as they are written; an
//! angle reads "3°" however it was typed. Lengths are rounded as a workshop reads them: millimetres to a tenth, inches
//! to a sixteenth where that is within 0.1 mm, else to three decimals. What [`show`] gives can be read again by
//! [`crate::quantity`]; [`reading`] is for the eye alone. What is said of a finding is made of [`crate::phrase`], and its
//! quantities come here once a reader's units are known.

mod number;
mod wire;

pub(crate) use number::{in_unit, number, to_si, unit};

use crate::number::rounded;
use crate::phrase::number::{Grain, Number};
use crate::quantity::{Quantity, is_thread, symbol};
use crate::units::Dimension;
use crate::value::Value;

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
    written(text, wanted, None)
}

fn written(text: &str, wanted: Measure, grain: Option<(Grain, usize)>) -> String {
    // "small or large", "1/4 in or 6 mm"
    if text.contains(" or ") {
        let pieces: Vec<String> = text.split(" or ").map(|piece| one(piece, wanted, grain)).collect();
        return pieces.join(" or ");
    }
    one(text, wanted, grain)
}

/// A value in a sentence: as it is written, in the wanted system; how to measure what is not known is told elsewhere.
/// Beside another that it differs from it does not read alike. So many steps finer than is usual.
#[must_use]
pub(crate) fn value(
    value: &Value,
    grain: Grain,
    beside: Option<&Value>,
    (wanted, least): (Measure, usize),
) -> String {
    let finer = beside.filter(|other| other.bounds() != value.bounds()).map_or(least, |other| {
        let differs = |f: &usize| sized(value, grain, *f, wanted) != sized(other, grain, *f, wanted);
        (least..5).find(differs).unwrap_or(least)
    });
    sized(value, grain, finer, wanted)
}

fn sized(value: &Value, grain: Grain, finer: usize, wanted: Measure) -> String {
    match value {
        Value::Unknown(_) => "not known".to_owned(),
        Value::Quantity(q) if q.text.is_empty() => {
            number(&Number { grain, ..Number::new(q.si, q.dimension) }, (wanted, finer))
        }
        Value::Window { settable: true, text, .. } => {
            let window = text.trim_start_matches("set ");
            format!("a setting of {}", written(window, wanted, Some((grain, finer))))
        }
        _ => {
            let text = value.text();
            match wire::gauge(&text).filter(|_| wanted == Measure::Inch) {
                Some(gauge) => format!("{gauge} ({})", text.trim()),
                None => written(&text, wanted, Some((grain, finer))),
            }
        }
    }
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

fn one(text: &str, wanted: Measure, grain: Option<(Grain, usize)>) -> String {
    let plain = text.trim();
    if is_thread(plain) {
        return text.to_owned();
    }
    let (lead, body) = plain.strip_prefix("set ").map_or(("", plain), |rest| ("set ", rest));
    let changed = match body.split_once(" to ") {
        Some((low, high)) => window(low, high, wanted, grain),
        None => single(body, wanted, grain),
    };
    changed.map_or_else(|| text.to_owned(), |shown| format!("{lead}{shown}"))
}

/// "4 to 7 psi": the unit stands once, or at both.
fn window(low: &str, high: &str, wanted: Measure, grain: Option<(Grain, usize)>) -> Option<String> {
    let (_, unit) = split(high)?;
    let low = if Quantity::parse(low).is_ok_and(|q| q.dimension != Dimension::Ratio) {
        low.to_owned()
    } else {
        format!("{low} {unit}")
    };
    // "calliper across the neck, to 0.5 mm" is no window
    Quantity::parse(&low).ok()?;
    let (shown_low, shown_high) = (single(&low, wanted, grain), single(high, wanted, grain));
    if shown_low.is_none() && shown_high.is_none() {
        return None;
    }
    let (low, high) = (shown_low.unwrap_or(low), shown_high.unwrap_or_else(|| high.to_owned()));
    match (split(&low), split(&high)) {
        (Some((number, a)), Some((_, b))) if a == b => Some(format!("{number} to {high}")),
        _ => Some(format!("{low} to {high}")),
    }
}

fn single(text: &str, wanted: Measure, grain: Option<(Grain, usize)>) -> Option<String> {
    let quantity = Quantity::parse(text).ok()?;
    let (main, tolerance) = match text.split_once('±') {
        Some((main, _)) => (main.trim(), Some(quantity.tolerance)),
        None => (text, None),
    };
    let (_, unit) = split(main)?;
    let unit = symbol(unit).unwrap_or(unit);
    if quantity.dimension == Dimension::Angle {
        return (unit == "deg").then(|| text.replace(" deg", "°").replace("deg", "°"));
    }
    let target = target(&quantity, unit, wanted)?;
    let told = |si: f64| match (grain, target) {
        // an inch of somebody who measures with a tape
        (Some((grain, finer)), "in") => {
            let inches = si / 0.0254;
            Some(format!("{} in", inch_steps(inches, inches.abs(), grain, finer)))
        }
        (Some((Grain::Tape, finer)), "mm") => {
            let decimals = usize::from(si.abs() < 0.1) + finer;
            Some(format!("{} mm", rounded(si * 1e3, decimals)))
        }
        (Some((Grain::Fit, finer)), "mm") => Some(format!("{} mm", rounded(si * 1e3, 2 + finer))),
        _ => exact(si, target),
    };
    let shown = told(quantity.si)?;
    match tolerance {
        None => Some(shown),
        Some(off) => {
            // a temperature's tolerance is a difference: no zero of the scale in it
            let off = match target {
                "°F" => format!("{} °F", rounded(off * 1.8, 1)),
                "°C" => format!("{} °C", rounded(off, 1)),
                _ => exact(off, target)?,
            };
            Some(format!("{shown} ±{off}"))
        }
    }
}

/// The unit a quantity is shown in; `None` where it stays as written.
fn target(q: &Quantity, unit: &str, wanted: Measure) -> Option<&'static str> {
    let inch = INCH.contains(&unit)
        || matches!(unit, "°F" | "F" | "AWG" | "\"" | "inch" | "inches" | "rev/mile" | "lbf/in");
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
                | "N/mm"
        );
    let foreign = match wanted {
        Measure::Inch => metric,
        Measure::Metric => inch,
    };
    if !foreign {
        return None;
    }
    // a wire's cross-section has no reading in square inches that anybody uses
    if wanted == Measure::Inch && wire::is_size(unit, q.si) {
        return None;
    }
    let told = self::unit(q.dimension, q.si, wanted);
    // of what is read in minutes and in hours the one that was written
    let told = match (q.dimension, told, unit) {
        (Dimension::Flow, _, "L/h" | "l/h") => "US gph",
        (Dimension::Flow, _, "US gph") => "L/h",
        (Dimension::Flow, _, _) if wanted == Measure::Inch => "cfm",
        (Dimension::Flow, _, _) => "L/min",
        (_, told, _) => told,
    };
    (told != unit).then_some(told)
}

/// In a unit, so that it can be read again.
fn exact(si: f64, unit: &'static str) -> Option<String> {
    let number = match unit {
        "°C" | "°F" => return Some(format!("{} {unit}", rounded(in_unit(si, unit, false), 0))),
        "in" => return Some(format!("{} in", inches(si / 0.0254))),
        _ => in_unit(si, unit, false),
    };
    let number = workshop(number, unit);
    let unit = if unit == "miles" && number == "1" { "mile" } else { unit };
    Some(format!("{number} {unit}"))
}

/// A sixteenth where it is within 0.1 mm, else three decimals; below a hundredth of an inch, four; from ten on, two.
fn inches(value: f64) -> String {
    const NEAR: f64 = 0.1 / 25.4;
    let sixteenth = (value * 16.0).round() / 16.0;
    if sixteenth != 0.0 && (value - sixteenth).abs() <= NEAR && value.abs() >= 1.0 / 16.0 - NEAR {
        return fraction(value, 16.0);
    }
    let decimals = match value.abs() {
        small if small < 0.01 => 4,
        large if large >= 10.0 => 2,
        _ => 3,
    };
    rounded(value, decimals)
}

/// Inches as they are told of a length of this size, so many steps finer than is usual: sixteenths from half an inch on,
/// thirty-seconds and sixty-fourths below, then decimals.
fn inch_steps(value: f64, size: f64, grain: Grain, finer: usize) -> String {
    let first = match size {
        _ if grain == Grain::Fit => 3,
        size if size == 0.0 || size >= 0.5 => 0,
        size if size >= 0.125 => 1,
        size if size >= 1.0 / 32.0 => 2,
        _ => 3,
    };
    match first + finer {
        step @ 0..3 => fraction(value, f64::from(16 << step)),
        // a fit that is a fraction is told as one
        3 if (value * 16.0 - (value * 16.0).round()).abs() < 1e-6 => fraction(value, 16.0),
        step => rounded(value, step),
    }
}

/// The nearest fraction of so many parts, cut down: "2-3/8".
pub(crate) fn fraction(value: f64, parts: f64) -> String {
    let count = (value * parts).round();
    if count == 0.0 || !count.is_finite() || count.abs() > 1e9 {
        return rounded(value, 3);
    }
    let sign = if count < 0.0 { "-" } else { "" };
    let (n, mut of) = (count.abs() as u64, (parts as u64).max(1));
    let (whole, mut part) = (n / of, n % of);
    while part > 0 && part.is_multiple_of(2) {
        (part, of) = (part / 2, of / 2);
    }
    match (whole, part) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{part}/{of}"),
        _ => format!("{sign}{whole}-{part}/{of}"),
    }
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
