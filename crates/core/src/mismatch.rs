//! What two values that do not agree do, in the sentence of their port type: "the engine floods: {giver gives} {given},
//! {taker takes} {wanted}".
//!
//! What stands in braces is filled in:
//! - a name: `{one}` and `{other}`, or by who gives `{giver}` and `{taker}`, with a verb as the name wants it:
//!   `{giver gives}` is "the pump gives" or "the nuts give";
//! - a value: `{one-value}` and `{other-value}`, `{given}` and `{wanted}`; with a noun it is counted: `{given stud}`;
//! - a quantity, for the reader's units: `{25 mm}`.

use crate::agree::Field;
use crate::grammar::{low, verb};
use crate::library::{Role, Rule, Says};
use crate::meant::nearest;
use crate::phrase::{Grain, Phrase, Piece, next_hole, quantity};
use crate::units::Dimension;
use crate::value::{Kind, Value};
use crate::{grammar, phrase};

/// Fits closer than this are told as on a calliper, m: a thirty-second of an inch.
const FIT: f64 = 0.8e-3;

const NAMES: [&str; 4] = ["one", "other", "giver", "taker"];
const VALUES: [&str; 4] = ["one-value", "other-value", "given", "wanted"];
const OVER: &str = "over";
const UNDER: &str = "under";

/// One end of a joint: the name of its part, who gives, and its value.
#[derive(Clone, Copy, Debug)]
pub(crate) struct End<'a> {
    pub name: &'a str,
    pub role: Role,
    pub value: Option<&'a Value>,
}

/// Two ends that do not agree in a field.
pub(crate) fn told(field: &Field, one: End<'_>, other: End<'_>) -> Phrase {
    let (_, def, kind, within) = field;
    let one_gives = one.role == Role::Give || other.role == Role::Take || other.role != Role::Give;
    let (giver, taker) = if one_gives { (one, other) } else { (other, one) };
    let close = matches!(kind, Kind::Dimension(Dimension::Length)) && *within > 0.0 && *within < FIT;
    let grain = if close { Grain::Fit } else { Grain::Tape };
    let said = def.says.as_ref().and_then(|says| pick(says, def.rule, giver.value, taker.value));
    match said {
        Some(template) => fill(template, one, other, giver, taker, grain),
        None => {
            let plain = plain(def.rule);
            let end = fill(&plain.replace("FIELD", &def.name), one, other, giver, taker, grain);
            if def.why.is_empty() { end } else { Phrase::read(&def.why).then(phrase![": "]).then(end) }
        }
    }
}

/// Two ends of different kinds of connection, or two that both give.
pub(crate) fn other_kind(one: (&str, &str), other: (&str, &str)) -> Phrase {
    let ends = |(name, kind): (&str, &str), has: &str| {
        let has = if has.is_empty() { String::new() } else { format!(" {}", verb(name, has)) };
        phrase!["the ", Piece::name(low(name)), format!("{has} a {kind}")]
    };
    if one.1 == other.1 {
        let both = phrase!["the ", Piece::name(low(one.0)), " and the ", Piece::name(low(other.0))];
        return both.then(phrase![format!(" are the same end of a {}", one.1)]);
    }
    phrase!["the two do not go together: "].then(ends(one, "has")).then(phrase![", "]).then(ends(other, ""))
}

/// A sentence for a field of a library that has none of its own.
fn plain(rule: Rule) -> &'static str {
    match rule {
        Rule::Inside => "{giver gives} {given}, {taker takes} {wanted} (FIELD)",
        Rule::AtLeast => "{giver gives} {given}, {taker wants} at least {wanted} (FIELD)",
        Rule::AtMost => "{giver gives} {given}, {taker takes} at most {wanted} (FIELD)",
        _ => "FIELD is {one-value} on {one}, {other-value} on {other}",
    }
}

/// The sentence for the way in which two values differ.
fn pick<'a>(says: &'a Says, rule: Rule, given: Option<&Value>, wanted: Option<&Value>) -> Option<&'a str> {
    let by = match says {
        Says::Always(text) => return Some(text),
        Says::By(by) => by,
    };
    let word = match (rule, given) {
        (Rule::Inside, given) => {
            let ends = given.and_then(Value::bounds).zip(wanted.and_then(Value::bounds));
            // too much is told before too little
            let over = ends.is_none_or(|((_, high), (_, most))| high > most * (1.0 + 1e-9));
            if over { OVER } else { UNDER }
        }
        (_, Some(Value::Word(word))) => word,
        _ => return by.values().next().map(String::as_str),
    };
    by.get(word).or_else(|| by.values().next()).map(String::as_str)
}

fn fill(
    template: &str,
    one: End<'_>,
    other: End<'_>,
    giver: End<'_>,
    taker: End<'_>,
    grain: Grain,
) -> Phrase {
    let mut pieces = Vec::new();
    let mut rest = template;
    while let Some((before, hole, after)) = next_hole(rest) {
        pieces.push(Piece::from(before));
        let (word, behind) = hole.split_once(' ').unwrap_or((hole, ""));
        let named = match word {
            "one" => Some(one),
            "other" => Some(other),
            "giver" => Some(giver),
            "taker" => Some(taker),
            _ => None,
        };
        let valued = match word {
            "one-value" => Some((one, other)),
            "other-value" => Some((other, one)),
            "given" => Some((giver, taker)),
            "wanted" => Some((taker, giver)),
            _ => None,
        };
        if let Some(end) = named {
            pieces.extend([Piece::from("the "), Piece::name(low(end.name))]);
            if !behind.is_empty() {
                pieces.push(Piece::from(format!(" {}", verb(end.name, behind))));
            }
        } else if let Some((end, beside)) = valued {
            pieces.push(match end.value {
                Some(value) => Piece::Value { value: value.clone(), grain, beside: beside.value.cloned() },
                None => Piece::from("nothing"),
            });
            if !behind.is_empty() {
                let is_one = end.value.and_then(Value::bounds).is_some_and(|(a, b)| (a, b) == (1.0, 1.0));
                pieces.push(Piece::from(format!(" {}", grammar::counted(behind, is_one))));
            }
        } else {
            pieces.extend(Phrase::read(&format!("{{{hole}}}")));
        }
        rest = after;
    }
    pieces.push(Piece::from(rest));
    Phrase(pieces)
}

/// What is wrong with the sentences of a field: whether it is an error, where it stands behind the field, and the message.
pub(crate) fn faults(field: &Field) -> Vec<(bool, String, String)> {
    let (_, def, ..) = field;
    let mut out = Vec::new();
    let Some(says) = &def.says else {
        if def.rule != Rule::Told {
            let message = "nothing says what happens where two ends differ in it; add \"says\", such as \"the hose leaks: {one is} {one-value}, {other} {other-value}\"";
            out.push((false, String::new(), message.to_owned()));
        }
        return out;
    };
    if def.rule == Rule::Told {
        let message = "a field that is told is never compared, so nothing is said of it; take it out, or give it a rule";
        out.push((true, ".says".to_owned(), message.to_owned()));
    }
    match says {
        Says::Always(text) => out.extend(holes(text, ".says")),
        Says::By(by) => {
            let wanted: Vec<&str> = match def.rule {
                Rule::Inside => vec![OVER, UNDER],
                Rule::Mates => {
                    let mut words: Vec<&str> = def.words.iter().flatten().map(String::as_str).collect();
                    words.sort_unstable();
                    words.dedup();
                    words
                }
                _ => Vec::new(),
            };
            if wanted.is_empty() {
                let message = "expected one sentence: only a field that is \"inside\" or \"mates\" has one for each way to differ";
                out.push((true, ".says".to_owned(), message.to_owned()));
            }
            for word in &wanted {
                if !by.contains_key(*word) {
                    let message = format!("there is no sentence for \"{word}\"; add it");
                    out.push((true, ".says".to_owned(), message));
                }
            }
            for (word, text) in by {
                if !wanted.is_empty() && !wanted.contains(&word.as_str()) {
                    let message = format!(
                        "\"{word}\" is no way in which two ends differ; expected {}",
                        wanted.join(", ")
                    );
                    out.push((true, format!(".says.{word}"), message));
                }
                out.extend(holes(text, &format!(".says.{word}")));
            }
        }
    }
    out
}

/// Holes of a sentence that nothing fills, and names or values that it leaves out.
fn holes(text: &str, at: &str) -> Vec<(bool, String, String)> {
    let mut out = Vec::new();
    let (mut named, mut valued) = (0, 0);
    let mut rest = text;
    while let Some((_, hole, after)) = next_hole(rest) {
        let word = hole.split(' ').next().unwrap_or(hole);
        if NAMES.contains(&word) {
            named += 1;
        } else if VALUES.contains(&word) {
            valued += 1;
        } else if quantity(hole).is_none() {
            let near = nearest(word, NAMES.into_iter().chain(VALUES));
            let near = near.map_or_else(String::new, |near| format!("did you mean \"{{{near}}}\"? "));
            let known = NAMES.iter().chain(&VALUES).copied().collect::<Vec<_>>().join(", ");
            out.push((
                true,
                at.to_owned(),
                format!("nothing fills the hole {{{hole}}}; {near}Expected one of {known}, or a quantity such as {{25 mm}}"),
            ));
        }
        rest = after;
    }
    if rest.contains(['{', '}']) {
        out.push((true, at.to_owned(), "a brace stands alone; a hole has one at each end".to_owned()));
    }
    if out.is_empty() && (named < 2 || valued < 2) && !text.contains("both") {
        let message = "expected the names of both ends and both values in it";
        out.push((false, at.to_owned(), message.to_owned()));
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
