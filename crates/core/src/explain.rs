//! The one formatter: reasons become phrases here and nowhere else, and sentences in the units of a reader.

use std::collections::HashSet;

use crate::assessment::{Assessment, ToMeasure, Unmet};
use crate::grammar::{low, lower, plural, short, verb};
use crate::library::NeedRule;
use crate::phrase;
use crate::phrase::{Adds, Number, Phrase, Piece};
use crate::quantity::Quantity;
use crate::reason::{Fact, InTheWay, Nearest, ReasonId, Same, Taken};
use crate::showing::Measure;
use crate::value::{Value, Verdict3};

/// What is missing at a port that hangs alone: "any more" only where something hung on it that was there.
fn nothing_on(part: &str, kind: &str, lost: Option<&str>, before: bool) -> Phrase {
    let more = if lost.is_some() && before { " any more" } else { "" };
    let its = if plural(part) { "their" } else { "its" };
    let has = format!(" {} nothing on {its} {kind}{more}", verb(part, "has"));
    let nothing = phrase!["the ", name(&low(part)), has];
    let off = |lost: &str| phrase![": the ", name(&low(lost)), format!(" {} off", verb(lost, "is"))];
    nothing.then(lost.map(off).unwrap_or_default())
}

/// What follows a colon; nothing where nothing is said.
fn tail(why: &str) -> Phrase {
    if why.is_empty() { Phrase::default() } else { phrase![": "].then(Phrase::read(why)) }
}

/// How much of a need is wanted, behind a comma.
fn amount(value: Option<&Value>) -> Phrase {
    value.map_or_else(Phrase::default, |value| phrase![", ", value])
}

fn name(part: &str) -> Piece {
    Piece::name(part)
}

fn is_known(value: Option<&Value>) -> bool {
    value.is_some_and(|value| !matches!(value, Value::Unknown(_)))
}

fn after(all: &[Quantity]) -> Phrase {
    Phrase::joined(all.iter().map(|q| phrase![&Value::Quantity(q.clone())]), " and ")
}

/// Behind what is to be renewed and cannot be had as it is.
fn not_for_sale(same: &Same) -> Phrase {
    match same {
        Same::ToBeHad => Phrase::default(),
        Same::NotForSale { instead: None } => {
            "; the same is not for sale: choose another part or route here".into()
        }
        Same::NotForSale { instead: Some(part) } => {
            phrase!["; the same is not for sale: ", name(part), format!(" {} here", verb(part, "goes"))]
        }
    }
}

/// One step as a sentence without a full stop.
#[must_use]
pub fn sentence(fact: &Fact, measure: Measure) -> String {
    told(fact).say(measure)
}

/// One step as a phrase.
#[must_use]
pub fn told(fact: &Fact) -> Phrase {
    match fact {
        Fact::Chosen { place, route, part: Some(part), .. } => {
            phrase![format!("{place}: you chose "), name(part), format!(" ({route})")]
        }
        Fact::Chosen { place, route, part: None, .. } => format!("{place}: you chose to {route}").into(),
        Fact::AsFound { place, part, .. } => {
            phrase![format!("{place}: "), name(part), format!(" {} there as found", verb(part, "is"))]
        }
        Fact::Condemned { place, part, note, stop, same, .. } => {
            let note = if note.is_empty() { String::new() } else { format!(" ({note})") };
            let (word, end) = match (*stop, plural(part)) {
                (true, _) => ("stop", "may not be kept"),
                (false, true) => ("renew", "are outside their limits"),
                (false, false) => ("renew", "is outside its limit"),
            };
            phrase![
                format!("the survey says {word} at {}", lower(place)),
                name(&note),
                ": ",
                name(part),
                format!(" {end}")
            ]
            .then(not_for_sale(same))
        }
        Fact::Aged { place, part, made, age, lasts, why, same } => {
            let (is, last) = (verb(part, "is"), verb(part, "lasts"));
            phrase![
                format!("{place}: "),
                name(part),
                format!(" of {made} {is} at least {age} old and {last} {lasts}")
            ]
            .then(tail(why))
            .then(not_for_sale(same))
        }
        Fact::AgeOpen { place, part, made, lasts, why } if made.is_empty() => {
            let was = if plural(part) { "were" } else { "was" };
            let last = verb(part, "lasts");
            phrase![
                format!("{place}: when "),
                name(part),
                format!(
                    " {was} made is not known, and {} {last} {lasts}",
                    if plural(part) { "they" } else { "it" }
                )
            ]
            .then(tail(why))
        }
        Fact::AgeOpen { place, part, made, lasts, why } => {
            let last = verb(part, "lasts");
            phrase![format!("{place}: "), name(part), format!(" of {made} {last} {lasts}, which may be over")]
                .then(tail(why))
        }
        Fact::Due { place, part, made, lasts, why } => {
            let last = verb(part, "lasts");
            phrase![format!("{place}: "), name(part), format!(" of {made} {last} {lasts}")].then(tail(why))
        }
        Fact::Again { what, after: all, opened, why } => {
            phrase![format!("{opened} {} open: {what} after ", verb(opened, "is"))]
                .then(after(all))
                .then(tail(why))
        }
        Fact::InBox { part, kit } => {
            phrase![name(part), format!(" {} in the box of ", verb(part, "comes")), name(kit)]
        }
        Fact::LeftEmpty { place, kit } => {
            phrase![name(kit), format!(" {} {} empty", verb(kit, "leaves"), lower(place))]
        }
        Fact::Disagree { says, .. } => says.clone(),
        Fact::Unknown { joint, field, a, a_value, b, b_value } => {
            let ends = [(a, a_value.as_ref()), (b, b_value.as_ref())];
            phrase![format!("{joint}: ")].then(unknown(field, ends))
        }
        Fact::LeftAlone { part, kind, lost, before, .. } => nothing_on(part, kind, lost.as_deref(), *before),
        Fact::NotJoined { part, kind } => {
            phrase![format!("nothing on this vehicle is known to join the {kind} of the "), name(&low(part))]
        }
        Fact::Bridges { part, joint } => {
            phrase![name(part), format!(" {} {joint}", verb(part, "closes"))]
        }
        Fact::Fills { part, place } => {
            phrase![name(part), format!(" {} in as {}", verb(part, "goes"), lower(place))]
        }
        Fact::Wants { part, need, value, why } => {
            phrase![name(part), format!(" {} {need}", verb(part, "needs"))]
                .then(amount(value.as_ref()))
                .then(tail(why))
        }
        Fact::Supplies { part, need } => {
            phrase![name(part), format!(" {} {need}", verb(part, "supplies"))]
        }
        Fact::Opened { what, wants, why } => {
            phrase![format!("{what} {} opened and {} ", verb(what, "is"), verb(what, "wants")), name(wants)]
                .then(tail(why))
        }
        Fact::Apart { what, wants, why } => {
            phrase![format!("{what}: "), name(wants), format!(" {} due", verb(wants, "is"))].then(tail(why))
        }
        Fact::Once { service } => phrase![name(service), " is done once for all that ask for it"],
        Fact::CircuitOpened { circuit, amount } => {
            phrase![format!("filling {} again takes ", lower(circuit)), amount.clone()]
        }
        Fact::Pool { pool, .. } => phrase![format!("{pool}: ")].then(sums(fact)),
        Fact::Limit { limit, text, why, verdict } => {
            phrase![format!("{limit}: ")].then(judged(text, why, *verdict))
        }
        Fact::LostJob { part } => {
            let its = if plural(part) { "their" } else { "its" };
            phrase![name(part), format!(" {} lost {its} job", verb(part, "has"))]
        }
        Fact::NothingServes { wanted, value, places, nearest } => {
            let comma = if value.is_some() { "," } else { "" };
            let wanted = phrase![wanted.as_str()].then(amount(value.as_ref()));
            why_not(wanted, comma, places, nearest.as_ref())
        }
        Fact::Circle { part, need } => {
            phrase![
                format!("the search for {need} that "),
                name(part),
                format!(" {} runs round in a circle", verb(part, "wants"))
            ]
        }
    }
}

/// What a limit comes to: what happens where it is broken, and what may where that is open.
fn judged(text: &Phrase, why: &str, verdict: Verdict3) -> Phrase {
    match verdict {
        _ if why.is_empty() => text.clone(),
        Verdict3::Holds => text.clone(),
        Verdict3::Open => text.clone().then(phrase!["; if it does not hold, "]).then(Phrase::read(why)),
        Verdict3::Broken => Phrase::read(why).then(phrase![": "]).then(text.clone()),
    }
}

/// What a pool comes to; nothing for another fact.
fn sums(fact: &Fact) -> Phrase {
    let Fact::Pool { given, taken, parts, left, margin, why, .. } = fact else { return Phrase::default() };
    let more = Number { si: -left.si, beside: None, ..left.clone() };
    let each = parts.iter().map(|(part, value)| phrase![name(short(part)), " (", value, ")"]);
    let takers = match &parts[..] {
        [] => phrase!["what is fitted takes "],
        [(part, _)] => phrase!["the ", name(&low(part)), format!(" {} ", verb(part, "takes"))],
        _ => Phrase::joined(each, ", ").then(phrase![" take "]),
    };
    let is_value = |(_, piece): &(usize, &Piece)| matches!(piece, Piece::Value { .. });
    let terms: Vec<usize> = takers.0.iter().enumerate().filter(is_value).map(|(at, _)| at).collect();
    let (all, room, rest) = (takers.0.len(), takers.0.len() + 2, takers.0.len() + 4);
    let is_short = left.si < 0.0;
    let mut adds = vec![match is_short {
        true => Adds { terms: vec![room, rest], total: all },
        false => Adds { terms: vec![all, rest], total: room },
    }];
    // one that there are several of stands there once
    let middle = |value: &Value| value.bounds().map(|(low, high)| f64::midpoint(low, high));
    let each: Option<f64> = parts.iter().map(|(_, value)| middle(value)).sum();
    if parts.len() > 1 && each.is_some_and(|each| (each - taken.si).abs() <= 1e-9 * taken.si.abs()) {
        adds.push(Adds { terms, total: all });
    }
    let sum = takers.then(phrase![taken.clone(), " of ", given.clone()]);
    let sum = if is_short {
        sum.then(phrase![", ", more, " more than there is"])
    } else {
        sum.then(phrase![", which leaves ", left.clone()])
    };
    let sum = Phrase(vec![Piece::Adding { said: Box::new(sum), sums: adds }]);
    let free = phrase![", where ", margin.clone(), " must stay free"];
    let sum = if margin.si > 0.0 { sum.then(free) } else { sum };
    // what happens is told of what is overdrawn
    if left.si < margin.si - 1e-9 && !why.is_empty() {
        return Phrase::read(why).then(phrase![": "]).then(sum);
    }
    sum
}

/// What is not known of two ends.
fn unknown(field: &str, [(a, a_value), (b, b_value)]: [(&String, Option<&Value>); 2]) -> Phrase {
    let of = |part: &str| phrase!["the ", name(&low(part))];
    let has = |part: &str, value: Option<&Value>| {
        let known = value.map_or_else(Phrase::default, |value| phrase![value]);
        of(part).then(phrase![format!(" {} ", verb(part, "has"))]).then(known)
    };
    let lead = phrase![format!("{field} of ")];
    match (is_known(a_value), is_known(b_value)) {
        (false, false) => {
            phrase![format!("{field} is known neither of ")].then(of(a)).then(phrase![" nor of "]).then(of(b))
        }
        (false, true) => lead.then(of(a)).then(phrase![" is not known, "]).then(has(b, b_value)),
        (true, false) => lead.then(of(b)).then(phrase![" is not known, "]).then(has(a, a_value)),
        _ => phrase![format!("{field} is open, ")]
            .then(has(a, a_value))
            .then(phrase![" and "])
            .then(has(b, b_value)),
    }
}

/// Why nothing serves.
fn why_not(wanted: Phrase, comma: &str, places: &[Taken], nearest: Option<&Nearest>) -> Phrase {
    if places.is_empty() {
        return phrase!["nothing in the library supplies "]
            .then(wanted)
            .then(phrase![format!("{comma} here")])
            .then(nearest.map(misses).unwrap_or_default());
    }
    let taken = |taken: &Taken| {
        let place = phrase![format!("{}, ", lower(&taken.place))];
        place.then(match &taken.by {
            InTheWay::Part(part) => phrase![format!("where there {} ", verb(part, "is")), name(part)],
            InTheWay::LeftEmpty => phrase!["which is left empty"],
            InTheWay::Empty => phrase!["which stays empty"],
        })
    };
    let places = Phrase::joined(places.iter().map(taken), ", or as ");
    phrase!["nothing fitted supplies "]
        .then(wanted)
        .then(phrase![", and a part for it would go in as "])
        .then(places)
}

/// How far what is offered goes.
fn misses(nearest: &Nearest) -> Phrase {
    let from = match &nearest.part {
        Some(part) => name(part),
        None => Piece::from("the vehicle itself"),
    };
    let one = nearest.part.as_deref().unwrap_or("the vehicle itself");
    match (&nearest.value, nearest.rule) {
        (None, _) => phrase![": what ", from, format!(" {} is not known", verb(one, "supplies"))],
        (Some(value), NeedRule::AtLeast) => phrase![": the most is ", value, ", from ", from],
        (Some(value), NeedRule::Inside) => phrase![": the nearest is ", value, ", from ", from],
    }
}

/// What it would be better with, and why it is not to be had.
#[must_use]
pub fn unmet_line(a: &Assessment, unmet: &Unmet, measure: Measure) -> String {
    let Some(reason) = a.reasons.get(unmet.reason.0 as usize) else { return String::new() };
    let wants = reason.premises.first().and_then(|id| a.reasons.get(id.0 as usize)).map(|r| &r.fact);
    let (Some(Fact::Wants { part, need, value, .. }), Fact::NothingServes { places, nearest, .. }) =
        (wants, &reason.fact)
    else {
        return sentence(&reason.fact, measure);
    };
    let not = why_not("it".into(), "", places, nearest.as_ref());
    phrase!["the ", name(&low(part)), format!(" {} better with {need}", verb(part, "is"))]
        .then(amount(value.as_ref()))
        .then(phrase![", but "])
        .then(not)
        .say(measure)
}

/// A reason and its premises with their depth, for an unfoldable chain; a shared node is told once.
#[must_use]
pub fn chain(assessment: &Assessment, root: ReasonId, measure: Measure) -> Vec<(usize, String)> {
    phrases(assessment, root).into_iter().map(|(depth, told)| (depth, told.say(measure))).collect()
}

/// The same before it is put into units.
#[must_use]
pub fn phrases(assessment: &Assessment, root: ReasonId) -> Vec<(usize, Phrase)> {
    let mut out = Vec::new();
    let mut seen = HashSet::new();
    walk(assessment, root, 0, &mut seen, &mut out);
    out
}

fn walk(
    a: &Assessment,
    id: ReasonId,
    depth: usize,
    seen: &mut HashSet<ReasonId>,
    out: &mut Vec<(usize, Phrase)>,
) {
    let Some(reason) = a.reasons.get(id.0 as usize) else { return };
    if !seen.insert(id) || depth > 24 {
        return;
    }
    out.push((depth, told(&reason.fact)));
    for premise in &reason.premises {
        walk(a, *premise, depth + 1, seen, out);
    }
}

/// The list of sentences for `because`, from the finding down to the choices it rests on.
#[must_use]
pub fn because(assessment: &Assessment, root: ReasonId, measure: Measure) -> Vec<String> {
    chain(assessment, root, measure).into_iter().map(|(_, s)| s).collect()
}

/// Half a line: what happens, or what made this necessary, without the name of the joint.
#[must_use]
pub fn half_line(assessment: &Assessment, root: ReasonId, measure: Measure) -> String {
    half(assessment, root).say(measure)
}

/// The same before it is put into units.
#[must_use]
pub fn half(assessment: &Assessment, root: ReasonId) -> Phrase {
    let Some(reason) = assessment.reasons.get(root.0 as usize) else { return Phrase::default() };
    let cause = match reason.fact {
        // one of those that ask is enough for half a line
        Fact::Once { .. } => {
            return reason.premises.first().map_or_else(Phrase::default, |r| half(assessment, *r));
        }
        Fact::Bridges { .. } | Fact::Fills { .. } | Fact::Supplies { .. } => reason.premises.first(),
        _ => None,
    };
    let cause = cause.and_then(|id| assessment.reasons.get(id.0 as usize));
    let telling = cause.unwrap_or(reason);
    match &telling.fact {
        // what would happen without it
        Fact::Disagree { says, happens, .. } if cause.is_some() => {
            phrase![if *happens { "or " } else { "because " }].then(says.clone())
        }
        Fact::Wants { part, need, value, .. } => {
            phrase!["because the ", name(&low(part)), format!(" {} {need}", verb(part, "needs"))]
                .then(amount(value.as_ref()))
        }
        Fact::LeftAlone { part, kind, lost, before, .. } => {
            let because = if cause.is_some() { "because " } else { "" };
            phrase![because].then(nothing_on(part, kind, lost.as_deref(), *before))
        }
        Fact::Apart { what, why, .. } if !why.is_empty() => {
            phrase![format!("{}: ", low(what))].then(Phrase::read(why))
        }
        Fact::Opened { what, why, .. } => phrase![format!("{} apart", lower(what))].then(tail(why)),
        // place and part stand over it already
        Fact::Condemned { note, stop, same, .. } => {
            let says = if *stop { "the survey says stop" } else { "the survey says renew" };
            let note = if note.is_empty() { Phrase::default() } else { phrase![": ", name(note)] };
            phrase![says].then(note).then(not_for_sale(same))
        }
        Fact::AgeOpen { part, made, lasts, why, .. } if made.is_empty() => {
            let last = verb(part, "lasts");
            phrase!["the ", name(&low(part)), format!(" {last} {lasts}")].then(tail(why))
        }
        Fact::Aged { made, age, lasts, why, same, .. } => {
            phrase![format!("of {made}, at least {age} old, where {lasts} is its time")]
                .then(tail(why))
                .then(not_for_sale(same))
        }
        // what falls due, or is to be measured, stands over it already
        Fact::Due { part, made, lasts, why, .. } => {
            phrase![name(short(part)), format!(" of {made} {} {lasts}", verb(part, "lasts"))].then(tail(why))
        }
        Fact::Again { opened, why, .. } => phrase![opened.as_str()].then(tail(why)),
        // the name of the limit or pool stands over it already
        Fact::Limit { text, why, verdict, .. } => judged(text, why, *verdict),
        fact @ Fact::Pool { .. } => sums(fact),
        fact => told(fact),
    }
}

/// What a thing to measure decides, without telling again what to measure.
#[must_use]
pub fn measure_line(assessment: &Assessment, open: &ToMeasure, measure: Measure) -> String {
    let line = match assessment.reasons.get(open.reason.0 as usize).map(|reason| &reason.fact) {
        Some(Fact::Limit { limit, text, why, .. }) if *text == open.what => {
            phrase![limit.as_str()].then(tail(why))
        }
        _ => half(assessment, open.reason),
    };
    line.say(measure)
}

#[cfg(test)]
mod tests {
    use super::sentence;
    use crate::reason::Fact;
    use crate::showing::Measure;
    use crate::units::Dimension;
    use crate::value::{Kind, Value};

    #[test]
    fn what_leaves_a_joint_open_is_told_without_how_to_measure_it() {
        let told = |a_value: &str, b_value: &str| {
            let [joint, field, a, b] =
                ["fuel flow", "flow", "Fuel pump, two-stage", "Carburettor, small"].map(str::to_owned);
            let value = |text: &str| {
                if text == "-" { None } else { Value::read_text(text, Kind::Dimension(Dimension::Flow)).ok() }
            };
            let (a_value, b_value) = (value(a_value), value(b_value));
            sentence(&Fact::Unknown { joint, field, a, a_value, b, b_value }, Measure::Metric)
        };
        let unknown = "unknown: into a can";
        assert_eq!(
            told(unknown, "35 L/h"),
            "fuel flow: flow of the fuel pump is not known, the carburettor has 35 L/h"
        );
        assert_eq!(
            told("35 L/h", unknown),
            "fuel flow: flow of the carburettor is not known, the fuel pump has 35 L/h"
        );
        assert_eq!(
            told(unknown, "-"),
            "fuel flow: flow is known neither of the fuel pump nor of the carburettor"
        );
        let open = told("46 L/h ±2 L/h", "45 to 65 L/h");
        assert!(
            open.ends_with(
                "flow is open, the fuel pump has 46 L/h ±2 L/h and the carburettor has 45 to 65 L/h"
            )
        );
    }
}
