//! The one formatter: reasons become sentences here and nowhere else.

use std::collections::HashSet;

use crate::assessment::{Assessment, ToMeasure, Unmet};
use crate::grammar::{plural, verb};
use crate::library::NeedRule;
use crate::number::rounded;
use crate::reason::{Fact, InTheWay, Nearest, ReasonId, Taken};
use crate::units::Dimension;
use crate::value::Kind;

/// A number of a kind with a workshop unit.
#[must_use]
pub fn show(si: f64, kind: Option<Kind>) -> String {
    let round = |x: f64| {
        if x.abs() >= 100.0 {
            rounded(x, 0)
        } else if x.abs() >= 0.1 || x == 0.0 {
            rounded(x, 1)
        } else {
            // two digits of what is less than a tenth
            rounded(x, (1.0 - x.abs().log10().floor()).clamp(1.0, 6.0) as usize)
        }
    };
    match kind {
        Some(Kind::Dimension(Dimension::Length)) => format!("{} mm", round(si * 1e3)),
        Some(Kind::Dimension(Dimension::Current)) => format!("{} A", round(si)),
        // what a master cylinder moves is millilitres
        Some(Kind::Dimension(Dimension::Volume)) if si != 0.0 && si.abs() < 1e-4 => {
            format!("{} mL", round(si * 1e6))
        }
        Some(Kind::Dimension(Dimension::Volume)) => format!("{} L", round(si * 1e3)),
        Some(Kind::Dimension(Dimension::Area)) => format!("{} mm2", round(si * 1e6)),
        Some(Kind::Dimension(Dimension::Mass)) => format!("{} kg", round(si)),
        Some(Kind::Dimension(Dimension::Force)) => format!("{} N", round(si)),
        Some(Kind::Dimension(Dimension::Pressure)) => format!("{} psi", round(si / 6_894.757)),
        Some(Kind::Dimension(Dimension::Voltage)) => format!("{si:.2} V"),
        // air is told in cubic feet a minute, fuel in litres an hour
        Some(Kind::Dimension(Dimension::Flow)) if si < 1e-3 => format!("{} L/h", round(si * 3.6e6)),
        Some(Kind::Dimension(Dimension::Flow)) => format!("{} cfm", round(si / 4.719_474e-4)),
        Some(Kind::Dimension(Dimension::RotationalSpeed)) => {
            format!("{} rpm", round(si * 60.0 / std::f64::consts::TAU))
        }
        Some(Kind::Dimension(Dimension::PerLength)) => format!("{} rev/mile", round(si * 1_609.344)),
        Some(Kind::Dimension(Dimension::Angle)) => format!("{}°", round(si.to_degrees())),
        Some(Kind::Dimension(Dimension::Temperature)) => format!("{} °C", round(si)),
        Some(Kind::Dimension(Dimension::Time)) => format!("{} min", round(si / 60.0)),
        Some(Kind::Dimension(Dimension::Speed)) => format!("{} km/h", round(si * 3.6)),
        Some(Kind::Dimension(Dimension::Torque)) => format!("{} N·m", round(si)),
        Some(Kind::Dimension(Dimension::Power)) => format!("{} kW", round(si / 1e3)),
        Some(Kind::Dimension(Dimension::Resistance)) => format!("{} ohm", round(si)),
        Some(Kind::Dimension(Dimension::Charge)) => format!("{} Ah", round(si / 3_600.0)),
        Some(Kind::Dimension(Dimension::TorquePerPressure)) => format!("{} N·m/MPa", round(si * 1e6)),
        Some(Kind::Dimension(Dimension::Stiffness)) => format!("{} N/mm", round(si / 1e3)),
        Some(Kind::Dimension(Dimension::Ratio) | Kind::Word | Kind::Thread | Kind::Curve | Kind::Outline)
        | None => round(si),
    }
}

/// The name of a part up to its first comma: "Fuel pump, electric, 4 to 7 psi" is a fuel pump.
pub(crate) fn short(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

/// "fuel hose end connection", and no "connection connection".
fn connection(kind: &str) -> String {
    if kind.ends_with("connection") { kind.to_owned() } else { format!("{kind} connection") }
}

/// What a part has on a port that hangs alone: "any more" only where it was there and something hung on it.
fn nothing_on(part: &str, kind: &str, lost: Option<&str>, before: bool) -> String {
    let (has, its) = if plural(part) { ("have", "their") } else { ("has", "its") };
    let nothing = format!("{has} nothing on {its} {}", connection(kind));
    match lost {
        Some(lost) if before => format!("{nothing} any more: what hung there went with the {}", low(lost)),
        Some(lost) => {
            format!(
                "{nothing}: the {} that {} {} off",
                low(lost),
                if plural(part) { "they would meet" } else { "it would meet" },
                verb(lost, "is")
            )
        }
        None => nothing,
    }
}

fn tail(why: &str) -> String {
    if why.is_empty() { String::new() } else { format!(": {why}") }
}

/// How a value begins that nobody knows; how to measure it is told where it is asked for.
const NOT_KNOWN: &str = "not known";

/// One step as a sentence without a full stop.
#[must_use]
pub fn sentence(fact: &Fact) -> String {
    match fact {
        Fact::Chosen { place, route, part: Some(part), .. } => {
            format!("{place}: you chose {part} ({route})")
        }
        Fact::Chosen { place, route, part: None, .. } => format!("{place}: you chose to {route}"),
        Fact::AsFound { place, part, .. } => format!("{place}, as found: {part}"),
        Fact::Condemned { place, part, note, stop, .. } => {
            let note = if note.is_empty() { String::new() } else { format!(" ({note})") };
            let (word, end) = match (*stop, plural(part)) {
                (true, _) => ("stop", "may not be kept"),
                (false, true) => ("renew", "are outside their limits"),
                (false, false) => ("renew", "is outside its limit"),
            };
            format!("the survey says {word} at {}{note}: {part} {end}", place.to_lowercase())
        }
        Fact::Aged { place, part, made, age, lasts, why } => {
            format!(
                "{place}: {part} of {made} {} at least {age} old and {} {lasts}{}",
                verb(part, "is"),
                verb(part, "lasts"),
                tail(why)
            )
        }
        Fact::AgeOpen { place, part, made, lasts, why } if made.is_empty() => {
            let was = if plural(part) { "were" } else { "was" };
            format!(
                "{place}: when {part} {was} made is not known, and {} {lasts}{}",
                verb(part, "lasts"),
                tail(why)
            )
        }
        Fact::AgeOpen { place, part, made, lasts, why } => {
            format!(
                "{place}: {part} of {made} {} {lasts}, which may be over{}",
                verb(part, "lasts"),
                tail(why)
            )
        }
        Fact::Due { place, part, made, lasts, why } => {
            format!("{place}: {part} of {made} {} {lasts}{}", verb(part, "lasts"), tail(why))
        }
        Fact::Again { what, after, opened, why } => {
            format!("{opened}: {what} after {after}{}", tail(why))
        }
        Fact::InBox { part, kit } => {
            format!("{part} {} in the box of {kit}", verb(part, "comes"))
        }
        Fact::LeftEmpty { place, kit } => {
            format!("{kit} {} {} empty", verb(kit, "leaves"), place.to_lowercase())
        }
        Fact::Disagree { joint, field, a, a_does, a_value, b, b_does, b_value, why } => {
            format!(
                "{joint}: {} {} {a_value} and {} {} {b_value} ({field}){}",
                short(a),
                verb(a, a_does),
                short(b),
                verb(b, b_does),
                tail(why)
            )
        }
        Fact::Unknown { joint, field, a, a_value, b, b_value } => {
            let (a, b) = (short(a), short(b));
            let (a_has, b_has) = (verb(a, "has"), verb(b, "has"));
            match (a_value.starts_with(NOT_KNOWN), b_value.starts_with(NOT_KNOWN)) {
                (true, true) => format!("{joint}: {field} is known neither of {a} nor of {b}"),
                (true, false) => format!("{joint}: {field} of {a} is not known, {b} {b_has} {b_value}"),
                (false, true) => format!("{joint}: {field} of {b} is not known, {a} {a_has} {a_value}"),
                _ => format!("{joint}: {field} is open, {a} {a_has} {a_value} and {b} {b_has} {b_value}"),
            }
        }
        Fact::LeftAlone { joint, part, kind, lost, before } => {
            format!("{joint}: {} {}", short(part), nothing_on(part, kind, lost.as_deref(), *before))
        }
        Fact::Bridges { part, joint } => format!("{part} {} {joint}", verb(part, "closes")),
        Fact::Fills { part, place } => {
            format!("{part} {} in as {}", verb(part, "goes"), place.to_lowercase())
        }
        Fact::Wants { part, need, value, why } if value.is_empty() => {
            format!("{part} {} {need}{}", verb(part, "needs"), tail(why))
        }
        Fact::Wants { part, need, value, why } => {
            format!("{part} {} {need}, {value}{}", verb(part, "needs"), tail(why))
        }
        Fact::Supplies { part, need } => format!("{part} {} {need}", verb(part, "supplies")),
        Fact::Opened { what, wants, why } => {
            format!("{what} {} opened and {} {wants}{}", verb(what, "is"), verb(what, "wants"), tail(why))
        }
        Fact::Apart { what, wants, why } => {
            format!("{what}: {wants} {} due{}", verb(wants, "is"), tail(why))
        }
        Fact::Once { service } => format!("{service}: done once for all that ask for it"),
        Fact::CircuitOpened { circuit, amount } => {
            format!("{circuit} {} opened: {amount} to fill", verb(circuit, "is"))
        }
        Fact::Pool { pool, given, taken, parts, left, margin, why } => {
            format!(
                "{pool}: {parts} take {taken} of {given}, which leaves {left} where {margin} is wanted{}",
                tail(why)
            )
        }
        Fact::Limit { limit, text, why } => format!("{limit}: {text}{}", tail(why)),
        Fact::LostJob { part } => {
            let its = if plural(part) { "their" } else { "its" };
            format!("{part} {} lost {its} job", verb(part, "has"))
        }
        Fact::NothingServes { wanted, value, places, nearest } => {
            let wanted = if value.is_empty() { wanted.clone() } else { format!("{wanted}, {value},") };
            why_not(&wanted, places, nearest.as_ref())
        }
        Fact::Circle { part, need } => {
            format!("the search for {need} wanted by {part} runs round in a circle")
        }
    }
}

/// Why nothing serves.
fn why_not(wanted: &str, places: &[Taken], nearest: Option<&Nearest>) -> String {
    if places.is_empty() {
        let wanted = wanted.trim_end_matches(',');
        return format!(
            "nothing in the library supplies {wanted} here{}",
            nearest.map(misses).unwrap_or_default()
        );
    }
    let taken = |taken: &Taken| {
        let by = match &taken.by {
            InTheWay::Part(part) => format!("where there {} {part}", verb(part, "is")),
            InTheWay::LeftEmpty => "which is left empty".to_owned(),
            InTheWay::Empty => "which stays empty".to_owned(),
        };
        format!("{}, {by}", taken.place.to_lowercase())
    };
    let places: Vec<String> = places.iter().map(taken).collect();
    let comma = if wanted.ends_with(',') { "" } else { "," };
    format!("nothing fitted supplies {wanted}{comma} and what would goes in as {}", places.join(", or as "))
}

/// How far what is offered goes.
fn misses(nearest: &Nearest) -> String {
    let from = nearest.part.as_deref().unwrap_or("the vehicle itself");
    match (&nearest.value, nearest.rule) {
        (None, _) => format!(": what {from} {} is not known", verb(from, "supplies")),
        (Some(value), NeedRule::AtLeast) => format!(": the most is {value}, from {from}"),
        (Some(value), NeedRule::Inside) => format!(": the nearest is {value}, from {from}"),
    }
}

/// What it would be better with, and why it is not to be had.
#[must_use]
pub fn unmet_line(a: &Assessment, unmet: &Unmet) -> String {
    let Some(reason) = a.reasons.get(unmet.reason.0 as usize) else { return String::new() };
    let wants = reason.premises.first().and_then(|id| a.reasons.get(id.0 as usize)).map(|r| &r.fact);
    let (Some(Fact::Wants { part, need, value, .. }), Fact::NothingServes { places, nearest, .. }) =
        (wants, &reason.fact)
    else {
        return sentence(&reason.fact);
    };
    let value = if value.is_empty() { String::new() } else { format!(", {value}") };
    let not = why_not("it", places, nearest.as_ref());
    format!("the {} {} better with {need}{value}, but {not}", low(part), verb(part, "is"))
}

/// A reason and its premises with their depth, for an unfoldable chain; a shared node is told once.
#[must_use]
pub fn chain(assessment: &Assessment, root: ReasonId) -> Vec<(usize, String)> {
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
    out: &mut Vec<(usize, String)>,
) {
    let Some(reason) = a.reasons.get(id.0 as usize) else { return };
    if !seen.insert(id) || depth > 24 {
        return;
    }
    out.push((depth, sentence(&reason.fact)));
    for premise in &reason.premises {
        walk(a, *premise, depth + 1, seen, out);
    }
}

/// The list of sentences for `because`, from the finding down to the choices it rests on.
#[must_use]
pub fn because(assessment: &Assessment, root: ReasonId) -> Vec<String> {
    chain(assessment, root).into_iter().map(|(_, s)| s).collect()
}

/// Half a line that starts with "because": what made this necessary, without the name of the joint.
#[must_use]
pub fn half_line(assessment: &Assessment, root: ReasonId) -> String {
    let Some(reason) = assessment.reasons.get(root.0 as usize) else { return String::new() };
    let telling = match reason.fact {
        // one of those that ask is enough for half a line
        Fact::Once { .. } => {
            return reason.premises.first().map_or_else(String::new, |r| half_line(assessment, *r));
        }
        Fact::Bridges { .. } | Fact::Fills { .. } | Fact::Supplies { .. } => reason.premises.first(),
        _ => None,
    };
    let telling = telling.and_then(|id| assessment.reasons.get(id.0 as usize)).unwrap_or(reason);
    match &telling.fact {
        Fact::Disagree { field, a, a_does, a_value, b, b_does, b_value, .. } => {
            format!(
                "because the {} {} {a_value} and the {} {} {b_value} ({field})",
                low(a),
                verb(a, a_does),
                low(b),
                verb(b, b_does)
            )
        }
        Fact::Wants { part, need, value, .. } if value.is_empty() => {
            format!("because the {} {} {need}", low(part), verb(part, "needs"))
        }
        Fact::Wants { part, need, value, .. } => {
            format!("because the {} {} {need}, {value}", low(part), verb(part, "needs"))
        }
        Fact::LeftAlone { part, kind, lost, before, .. } => {
            format!("because the {} {}", low(part), nothing_on(part, kind, lost.as_deref(), *before))
        }
        Fact::Apart { what, why, .. } if !why.is_empty() => format!("{}: {why}", low(what)),
        Fact::Opened { what, why, .. } => {
            format!("because {what} {} opened{}", verb(what, "is"), tail(why))
        }
        Fact::Aged { made, age, lasts, why, .. } => {
            format!("of {made}, at least {age} old, where {lasts} is its time{}", tail(why))
        }
        // what falls due, or is to be measured, stands over it already
        Fact::Due { part, made, lasts, why, .. } => {
            format!("{} of {made} {} {lasts}{}", short(part), verb(part, "lasts"), tail(why))
        }
        Fact::Again { opened, why, .. } => format!("{opened}{}", tail(why)),
        // the name of the limit or pool stands over it already
        Fact::Limit { text, why, .. } => format!("{text}{}", tail(why)),
        Fact::Pool { given, taken, parts, left, margin, why, .. } => {
            format!(
                "{parts} take {taken} of {given}, which leaves {left} where {margin} is wanted{}",
                tail(why)
            )
        }
        fact => sentence(fact),
    }
}

/// What a thing to measure decides, without telling again what to measure.
#[must_use]
pub fn measure_line(assessment: &Assessment, open: &ToMeasure) -> String {
    match assessment.reasons.get(open.reason.0 as usize).map(|reason| &reason.fact) {
        Some(Fact::Limit { limit, text, why }) if *text == open.what => format!("{limit}{}", tail(why)),
        _ => half_line(assessment, open.reason),
    }
}

fn low(name: &str) -> String {
    let name = short(name);
    let mut letters = name.chars();
    match letters.next() {
        // "H4 lamp unit" keeps its capital
        Some(first) if letters.clone().next().is_some_and(char::is_lowercase) => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => name.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::{sentence, show};
    use crate::reason::Fact;
    use crate::units::Dimension;
    use crate::value::{Kind, Value};

    #[test]
    fn what_leaves_a_joint_open_is_told_without_how_to_measure_it() {
        let told = |a_value: &str, b_value: &str| {
            let [joint, field, a, b] =
                ["fuel flow", "flow", "Fuel pump, two-stage", "Carburettor, small"].map(str::to_owned);
            let (a_value, b_value) = (a_value.to_owned(), b_value.to_owned());
            sentence(&Fact::Unknown { joint, field, a, a_value, b, b_value })
        };
        let unknown = Value::Unknown("into a can".to_owned()).text();
        assert_eq!(
            told(&unknown, "35 L/h"),
            "fuel flow: flow of Fuel pump is not known, Carburettor has 35 L/h"
        );
        assert_eq!(
            told("35 L/h", &unknown),
            "fuel flow: flow of Carburettor is not known, Fuel pump has 35 L/h"
        );
        assert_eq!(
            told(&unknown, "not known"),
            "fuel flow: flow is known neither of Fuel pump nor of Carburettor"
        );
        let open = told("4.6 psi ±0.2 psi", "4.5 to 6.5 psi");
        assert!(
            open.ends_with("flow is open, Fuel pump has 4.6 psi ±0.2 psi and Carburettor has 4.5 to 6.5 psi")
        );
    }

    #[test]
    fn an_angle_is_told_in_degrees() {
        let shown = |degrees: f64| show(degrees.to_radians(), Some(Kind::Dimension(Dimension::Angle)));
        assert_eq!((shown(100.0), shown(2.5)), ("100°".to_owned(), "2.5°".to_owned()));
    }
}
