//! The one formatter: reasons become sentences here and nowhere else.

use std::collections::HashSet;

use crate::assessment::Assessment;
use crate::reason::{Fact, ReasonId};
use crate::units::Dimension;
use crate::value::Kind;

/// A number of a kind with a workshop unit.
#[must_use]
pub fn show(si: f64, kind: Option<Kind>) -> String {
    let round = |x: f64| {
        let text = if x.abs() >= 100.0 {
            format!("{x:.0}")
        } else if x.abs() >= 0.1 || x == 0.0 {
            format!("{x:.1}")
        } else {
            // two digits of what is less than a tenth
            let places = (1.0 - x.abs().log10().floor()).clamp(1.0, 6.0) as usize;
            format!("{x:.places$}")
        };
        let text = text.strip_suffix(".0").unwrap_or(&text).to_owned();
        if text == "-0" { "0".to_owned() } else { text }
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
        Some(Kind::Dimension(Dimension::Ratio) | Kind::Word | Kind::Thread | Kind::Curve) | None => round(si),
    }
}

/// The name of a part up to its first comma: "Fuel pump, electric, 4 to 7 psi" is a fuel pump.
pub(crate) fn short(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

fn tail(why: &str) -> String {
    if why.is_empty() { String::new() } else { format!(": {why}") }
}

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
            let (word, end) =
                if *stop { ("stop", "may not be kept") } else { ("renew", "is outside its limit") };
            format!("the survey says {word} at {}{note}: {part} {end}", place.to_lowercase())
        }
        Fact::InBox { part, kit } => format!("{part} comes in the box of {kit}"),
        Fact::LeftEmpty { place, kit } => format!("{kit} leaves {} empty", place.to_lowercase()),
        Fact::Disagree { joint, field, a, a_does, a_value, b, b_does, b_value, why } => {
            format!(
                "{joint}: {} {a_does} {a_value} and {} {b_does} {b_value} ({field}){}",
                short(a),
                short(b),
                tail(why)
            )
        }
        Fact::Unknown { joint, field, a, a_value, b, b_value } => {
            format!("{joint}: {field} is open, {a} has {a_value} and {b} has {b_value}")
        }
        Fact::LeftAlone { joint, part, kind, .. } => {
            format!("{joint}: {} is left with nothing on its {kind} connection", short(part))
        }
        Fact::Bridges { part, joint } => format!("{part} closes {joint}"),
        Fact::Fills { part, place } => format!("{part} goes in as {}", place.to_lowercase()),
        Fact::Wants { part, need, value, why } if value.is_empty() => {
            format!("{part} needs {need}{}", tail(why))
        }
        Fact::Wants { part, need, value, why } => format!("{part} needs {need}, {value}{}", tail(why)),
        Fact::Supplies { part, need } => format!("{part} supplies {need}"),
        Fact::Opened { what, wants, why } => format!("{what} is opened and wants {wants}{}", tail(why)),
        Fact::Apart { what, wants, why } => format!("{what}: {wants} is due{}", tail(why)),
        Fact::CircuitOpened { circuit, amount } => format!("{circuit} is opened: {amount} to fill"),
        Fact::Pool { pool, given, taken, parts, left, margin, why } => {
            format!(
                "{pool}: {parts} take {taken} of {given}, which leaves {left} where {margin} is wanted{}",
                tail(why)
            )
        }
        Fact::Limit { limit, text, why } => format!("{limit}: {text}{}", tail(why)),
        Fact::LostJob { part } => format!("{part} has lost its job"),
        Fact::NothingServes { wanted } => format!("nothing in the library supplies {wanted} here"),
        Fact::Circle { part, need } => {
            format!("the search for {need} wanted by {part} runs round in a circle")
        }
    }
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
        Fact::Bridges { .. } | Fact::Fills { .. } | Fact::Supplies { .. } => reason.premises.first(),
        _ => None,
    };
    let telling = telling.and_then(|id| assessment.reasons.get(id.0 as usize)).unwrap_or(reason);
    match &telling.fact {
        Fact::Disagree { field, a, a_does, a_value, b, b_does, b_value, .. } => {
            format!(
                "because the {} {a_does} {a_value} and the {} {b_does} {b_value} ({field})",
                low(a),
                low(b)
            )
        }
        Fact::Wants { part, need, value, .. } if value.is_empty() => {
            format!("because the {} needs {need}", low(part))
        }
        Fact::Wants { part, need, value, .. } => format!("because the {} needs {need}, {value}", low(part)),
        Fact::LeftAlone { part, kind, .. } => {
            format!("because the {} has nothing on its {kind} connection any more", low(part))
        }
        Fact::Apart { what, why, .. } if !why.is_empty() => format!("{}: {why}", low(what)),
        Fact::Opened { what, why, .. } if why.is_empty() => format!("because {what} is opened"),
        Fact::Opened { what, why, .. } => format!("because {what} is opened: {why}"),
        fact => sentence(fact),
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
    use super::show;
    use crate::units::Dimension;
    use crate::value::Kind;

    #[test]
    fn an_angle_is_told_in_degrees() {
        let shown = |degrees: f64| show(degrees.to_radians(), Some(Kind::Dimension(Dimension::Angle)));
        assert_eq!((shown(100.0), shown(2.5)), ("100°".to_owned(), "2.5°".to_owned()));
    }
}
