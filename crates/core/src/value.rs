//! A port field or figure as the engine compares it, and the three-valued comparison.

use serde_json::Value as Json;

use crate::library::{FieldDef, Rule};
use crate::quantity::{Quantity, QuantityError, echo, is_metric_size, thread_name, without_comma};
use crate::units::Dimension;

/// A value as the engine compares it.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number with a unit.
    Quantity(Quantity),
    /// From, to; `settable` when the part can be set anywhere between.
    Window {
        /// Least, SI.
        low: f64,
        /// Most, SI.
        high: f64,
        /// Can be set anywhere between.
        settable: bool,
        /// What it is of.
        dimension: Dimension,
        /// As written.
        text: String,
    },
    /// A word or thread.
    Word(String),
    /// Suits anything: cut or made to measure.
    Any,
    /// Not known; how to measure it.
    Unknown(String),
    /// One of several must do.
    OneOf(Vec<Value>),
    /// Points of a curve: "1300 rpm: 17 A"; or of an outline, in their order: "-90 mm: 176 mm". SI.
    Curve(Vec<(f64, f64)>),
}

/// Three answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict3 {
    /// It holds whatever the tolerance.
    Holds,
    /// Open: a value is unknown or the tolerance leaves it open.
    Open,
    /// It is broken whatever the tolerance.
    Broken,
}

/// The kind of a field or figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A quantity of this dimension.
    Dimension(Dimension),
    /// A word.
    Word,
    /// A screw thread.
    Thread,
    /// A curve.
    Curve,
    /// The outline of a body that turns about the axle: points along it, and from its centre.
    Outline,
}

impl Kind {
    /// The kind of a word in a library file.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "word" => Some(Self::Word),
            "thread" => Some(Self::Thread),
            "curve" => Some(Self::Curve),
            "outline" => Some(Self::Outline),
            other => Dimension::from_word(other).map(Self::Dimension),
        }
    }

    /// Every word of a kind, dimensions first.
    pub fn words() -> impl Iterator<Item = &'static str> {
        let others = [Self::Word, Self::Thread, Self::Curve, Self::Outline];
        Dimension::WORDS.iter().map(|(word, _)| *word).chain(others.map(Self::word))
    }

    /// Its word in a library file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Word => "word",
            Self::Thread => "thread",
            Self::Curve => "curve",
            Self::Outline => "outline",
            Self::Dimension(dimension) => dimension.word(),
        }
    }
}

impl Value {
    /// Reads a value of a kind.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn read(json: &Json, kind: Kind) -> Result<Self, String> {
        match json {
            Json::String(text) => Self::read_text(text, kind),
            Json::Number(n) => Self::read_text(&n.to_string(), kind),
            Json::Array(items) if kind == Kind::Curve => {
                let mut points = items.iter().map(read_point).collect::<Result<Vec<_>, _>>()?;
                points.sort_by(|a, b| a.0.total_cmp(&b.0));
                Ok(Self::Curve(points))
            }
            Json::Array(items) if kind == Kind::Outline => {
                Ok(Self::Curve(items.iter().map(read_place).collect::<Result<_, _>>()?))
            }
            Json::Array(items) if !items.is_empty() => {
                Ok(Self::OneOf(items.iter().map(|i| Self::read(i, kind)).collect::<Result<_, _>>()?))
            }
            other => Err(format!("expected text with a unit or a list of such texts, found {other}")),
        }
    }

    /// Reads a value of a kind from text.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn read_text(text: &str, kind: Kind) -> Result<Self, String> {
        let text = text.trim();
        if text == "any" {
            return Ok(Self::Any);
        }
        if let Some(how) = text.strip_prefix("unknown") {
            return Ok(Self::Unknown(how.trim_start_matches([':', ' ']).to_owned()));
        }
        match kind {
            Kind::Word if text.is_empty() => Err("expected a word, found nothing".to_owned()),
            Kind::Word => Ok(Self::Word(text.to_owned())),
            Kind::Thread if is_metric_size(text) => Err(format!(
                "\"{text}\" does not say its pitch; write it behind the size, such as \"{text}x1.5\""
            )),
            Kind::Thread => thread_name(text).map(Self::Word).ok_or_else(|| {
                format!("expected a thread such as \"3/8-24\" or \"M10x1.25\", found \"{}\"", echo(text))
            }),
            Kind::Curve => Err("expected a list of points such as \"1300 rpm: 17 A\"".to_owned()),
            Kind::Outline => Err("expected a list of points such as \"-90 mm: 176 mm\"".to_owned()),
            Kind::Dimension(dimension) => read_number(text, dimension).map_err(|e| e.to_string()),
        }
    }

    /// What a person typed into a field for a kind, as a file may hold it: a decimal comma as a point, a bare number with
    /// the unit it is taken in.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn taken(text: &str, kind: Kind) -> Result<String, String> {
        let text = text.trim();
        let Kind::Dimension(dimension) = kind else {
            return Self::read_text(text, kind).map(|_| text.to_owned());
        };
        if text == "any" || text.starts_with("unknown") {
            return Ok(text.to_owned());
        }
        let (set, body) = text.strip_prefix("set ").map_or(("", text), |body| ("set ", body));
        if body.contains(" to ") {
            let plain = format!("{set}{}", without_comma(body).map_err(|e| e.to_string())?);
            return Self::read_text(&plain, kind).map(|_| plain);
        }
        Quantity::typed(body, dimension).map(|q| format!("{set}{}", q.text)).map_err(|e| e.to_string())
    }

    /// As written, for people.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Quantity(q) => q.text.clone(),
            Self::Window { text, .. } | Self::Word(text) => text.clone(),
            Self::Any => "any".to_owned(),
            Self::Unknown(how) if how.is_empty() => "not known".to_owned(),
            Self::Unknown(how) => format!("not known ({how})"),
            Self::OneOf(items) => items.iter().map(Self::text).collect::<Vec<_>>().join(" or "),
            Self::Curve(points) => format!("{} points", points.len()),
        }
    }

    /// What a number or window is of; `None` for all else.
    #[must_use]
    pub fn dimension(&self) -> Option<Dimension> {
        match self {
            Self::Quantity(q) => Some(q.dimension),
            Self::Window { dimension, .. } => Some(*dimension),
            _ => None,
        }
    }

    /// Least and most, SI, of a number or window.
    #[must_use]
    pub fn bounds(&self) -> Option<(f64, f64)> {
        match self {
            Self::Quantity(q) => Some(q.bounds()),
            Self::Window { low, high, .. } => Some((*low, *high)),
            _ => None,
        }
    }
}

fn read_number(text: &str, dimension: Dimension) -> Result<Value, QuantityError> {
    let (settable, body) = text.strip_prefix("set ").map_or((false, text), |b| (true, b));
    let Some((low, high)) = body.split_once(" to ") else {
        return Ok(Value::Quantity(Quantity::parse_as(body, dimension)?));
    };
    let high = Quantity::parse_as(high, dimension)?;
    let low = match Quantity::parse_as(low, dimension) {
        Ok(low) => low,
        // "4 to 7 psi": the unit stands once
        Err(_) => {
            let unit = high.text.trim_start_matches(|c: char| c.is_ascii_digit() || ".-/ ".contains(c));
            Quantity::parse_as(&format!("{} {unit}", low.trim()), dimension)?
        }
    };
    if low.si > high.si {
        return Err(QuantityError::Reversed { found: text.to_owned() });
    }
    Ok(Value::Window { low: low.si, high: high.si, settable, dimension, text: text.to_owned() })
}

fn read_point(json: &Json) -> Result<(f64, f64), String> {
    let wrong = || format!("expected a point such as \"1300 rpm: 17 A\", found {json}");
    let (x, y) = json.as_str().and_then(|t| t.split_once(':')).ok_or_else(wrong)?;
    let x = Quantity::parse(x).map_err(|e| e.to_string())?;
    let y = Quantity::parse(y).map_err(|e| e.to_string())?;
    Ok((x.si, y.si))
}

/// A point of an outline: along the axle from the hub face, and from its centre.
fn read_place(json: &Json) -> Result<(f64, f64), String> {
    let wrong = || format!("expected a point such as \"-90 mm: 176 mm\", found {json}");
    let (z, r) = json.as_str().and_then(|t| t.split_once(':')).ok_or_else(wrong)?;
    let length = |text: &str| Quantity::parse_as(text, Dimension::Length).map_err(|e| e.to_string());
    Ok((length(z)?.si, length(r)?.si))
}

fn three(sure: bool, impossible: bool) -> Verdict3 {
    if sure {
        Verdict3::Holds
    } else if impossible {
        Verdict3::Broken
    } else {
        Verdict3::Open
    }
}

/// Rounding of unit factors, so that 16.8 mm equals 16.8 mm whatever unit it was written in.
fn close(a: f64, b: f64) -> f64 {
    1e-9 * a.abs().max(b.abs()) + 1e-15
}

/// Compares what `give` has with what `take` wants under a field's rule. For `equal`, `mates` and `class` the
/// sides do not matter.
#[must_use]
pub fn compare(field: &FieldDef, within: f64, give: &Value, take: &Value) -> Verdict3 {
    use Value::{Any, OneOf, Unknown};
    match (give, take) {
        _ if field.rule == Rule::Told => return Verdict3::Holds,
        (Any, _) | (_, Any) => return Verdict3::Holds,
        (OneOf(items), other) => {
            return items.iter().map(|i| compare(field, within, i, other)).min().unwrap_or(Verdict3::Broken);
        }
        (other, OneOf(items)) => {
            return items.iter().map(|i| compare(field, within, other, i)).min().unwrap_or(Verdict3::Broken);
        }
        (Unknown(_), _) | (_, Unknown(_)) => return Verdict3::Open,
        _ => {}
    }
    if let (Value::Word(a), Value::Word(b)) = (give, take) {
        let together = |list: &Vec<String>| list.contains(a) && list.contains(b);
        let holds = match field.rule {
            Rule::Mates => field.words.iter().any(|w| a != b && together(w)),
            Rule::Class => a == b || field.words.iter().any(together),
            _ => a == b,
        };
        return three(holds, !holds);
    }
    let (Some((a0, a1)), Some((b0, b1))) = (give.bounds(), take.bounds()) else { return Verdict3::Broken };
    let e = close(a1, b1);
    let settable = |v: &Value| matches!(v, Value::Window { settable: true, .. });
    if settable(give) || settable(take) {
        return three(a1 + e >= b0 && b1 + e >= a0, true);
    }
    match field.rule {
        Rule::Inside => three(a0 + e >= b0 && a1 <= b1 + e, a1 < b0 - e || a0 > b1 + e || is_window(give)),
        Rule::AtLeast => three(a0 + e >= b1, a1 < b0 - e),
        Rule::AtMost => three(a1 <= b0 + e, a0 > b1 + e),
        _ if is_window(give) || is_window(take) => {
            let inside = (a0 + e >= b0 && a1 <= b1 + e) || (b0 + e >= a0 && b1 <= a1 + e);
            three(inside, a1 < b0 - e || b1 < a0 - e)
        }
        _ => {
            let far = (a1 - b0).abs().max((b1 - a0).abs());
            let near = if a1 < b0 {
                b0 - a1
            } else if b1 < a0 {
                a0 - b1
            } else {
                0.0
            };
            three(far <= within + e, near > within + e)
        }
    }
}

fn is_window(value: &Value) -> bool {
    matches!(value, Value::Window { .. })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn check(rule: Rule, within: f64, a: &str, b: &str, dimension: Dimension) -> Verdict3 {
        let field = FieldDef { rule, ..FieldDef::default() };
        let read = |t: &str| Value::read_text(t, Kind::Dimension(dimension)).unwrap();
        compare(&field, within, &read(a), &read(b))
    }

    #[test]
    fn what_is_typed_is_taken_as_a_file_may_hold_it() {
        use Dimension::{Current, Length, Pressure, Volume};
        for (typed, dimension, taken) in [
            (" 12,25 in ", Length, "12.25 in"),
            ("4,5 to 7 psi", Pressure, "4.5 to 7 psi"),
            ("set 1,5 to 4 psi", Pressure, "set 1.5 to 4 psi"),
            ("20", Current, "20 A"),
            ("unknown: calliper, to 0,5 mm", Length, "unknown: calliper, to 0,5 mm"),
            ("any", Length, "any"),
        ] {
            let text = Value::taken(typed, Kind::Dimension(dimension)).unwrap();
            assert_eq!(text, taken);
            assert!(Value::read_text(&text, Kind::Dimension(dimension)).is_ok(), "{text}");
        }
        for (typed, dimension) in
            [("1,500 mm", Length), ("12", Length), ("2 gal", Volume), ("7 to 4 psi", Pressure)]
        {
            assert!(Value::taken(typed, Kind::Dimension(dimension)).is_err(), "{typed}");
        }
        // two names of one thread are one value
        let thread = |text: &str| Value::read_text(text, Kind::Thread).unwrap();
        assert_eq!(thread("3/8-24 UNF"), thread("3/8-24"));
    }

    #[test]
    fn worked_joints_of_the_trade() {
        // common practice: a 4 to 7 psi pump floods a carburettor that accepts 2.5 to 3.5 psi; set to 3 it does not
        use Dimension::{Length, Pressure};
        assert_eq!(check(Rule::Inside, 0.0, "4 to 7 psi", "2.5 to 3.5 psi", Pressure), Verdict3::Broken);
        assert_eq!(check(Rule::Inside, 0.0, "set 1 to 4 psi", "2.5 to 3.5 psi", Pressure), Verdict3::Holds);
        assert_eq!(check(Rule::Equal, 0.0005, "16.8 mm", "9.7 mm", Length), Verdict3::Broken);
        assert_eq!(check(Rule::Equal, 0.0005, "16.8 mm", "17.1 mm", Length), Verdict3::Holds);
        // the tolerance leaves it open
        assert_eq!(check(Rule::AtLeast, 0.0, "345 mm ±2 mm", "346 mm", Length), Verdict3::Open);
        assert_eq!(check(Rule::AtLeast, 0.0, "unknown: measure", "346 mm", Length), Verdict3::Open);
    }
}
