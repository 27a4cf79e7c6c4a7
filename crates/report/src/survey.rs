//! The survey of a vehicle as text, as a sheet to print and take underneath, and as JSON.

use std::fmt::Write;

use knockon_core::identity::parted;
use knockon_core::library::Posture;
use knockon_core::sheet::Verdict;
use knockon_core::showing::Measure;
use knockon_core::survey::{Line, Outcome, Survey};
use serde_json::{Value, json};

const LAW: &str =
    "This replaces no inspection that the law asks for; the maker's manual and local codes stand above it.\n";

/// The survey for a terminal: what it comes to, the walk, what is open and what is proposed.
#[must_use]
pub fn text(found: &Survey, measure: Measure) -> String {
    let mut out = direction(found) + &identity(found);
    if found.lines.is_empty() {
        out += "Nothing of this vehicle is inspected: the library has no inspections for its places.\n";
    }
    let count = |verdict| found.lines.iter().filter(|line| line.verdict() == Some(verdict)).count();
    let _ = writeln!(
        out,
        "{} inspections: {} stop, {} renew, {} watch, {} good, {} to measure",
        found.lines.len(),
        count(Verdict::Stop),
        count(Verdict::Renew),
        count(Verdict::Watch),
        count(Verdict::Good),
        found.open().count()
    );
    let before = found.open_before_the_road().count();
    if before > 0 {
        let _ = writeln!(out, "{before} are to be known before the first road, and be good or watched");
    }
    if let Some(off) = &found.not_driven {
        let since = off.since.as_ref().map_or_else(String::new, |since| format!(" since {since}"));
        let _ = writeln!(out, "Not driven on the road{since}");
    }
    for zone in &found.zones {
        let _ = writeln!(out, "\n{}{}", zone.name, posture(zone.posture));
        let _ = writeln!(out, "  {}", zone.before);
        for caution in found.cautions_in(zone) {
            let _ = writeln!(out, "  caution: {caution}");
        }
        for line in found.of_zone(&zone.id) {
            one(&mut out, line, measure);
        }
    }
    let proposals: Vec<&Line> = found.proposals().collect();
    let of_place = |line: &Line| {
        let same = proposals
            .iter()
            .filter(|other| other.position == line.position && other.proposes == line.proposes);
        same.map(|other| format!("{}: {}", other.name, other.value)).collect::<Vec<_>>().join("; ")
    };
    let is_first = |line: &Line| {
        let same = |other: &&&Line| other.position == line.position && other.proposes == line.proposes;
        proposals.iter().find(same).is_some_and(|first| first.inspection == line.inspection)
    };
    let first: Vec<&Line> = proposals.iter().copied().filter(|line| is_first(line)).collect();
    if !first.is_empty() {
        let _ = writeln!(out, "\nProposed ({})", first.len());
    }
    for line in first {
        let route = line.proposes.map_or("", knockon_core::sheet::Route::word);
        let stage = line.stage.word();
        let _ = writeln!(out, "  {}: {route}, stage {stage} ({})", line.place, of_place(line));
    }
    let disagree: Vec<_> = found.places.iter().filter(|place| place.disagrees).collect();
    if !disagree.is_empty() {
        let _ = writeln!(out, "\nWhat was read is worse than what was said ({})", disagree.len());
    }
    for place in disagree {
        let said = place.said.map_or("nothing", Verdict::word);
        let _ = writeln!(out, "  {}: said {said}, counts as {}", place.name, place.verdict.word());
    }
    for problem in &found.problems {
        let _ = writeln!(out, "\nleft out: {problem}");
    }
    out.push('\n');
    out + LAW
}

/// Where it goes, in a few lines; nothing where nobody has said.
fn direction(found: &Survey) -> String {
    let Some(direction) = &found.direction else { return String::new() };
    let mut out = format!("Direction: {}", direction.way.words());
    for (lead, text) in [
        ("use", direction.what_for.clone()),
        ("by", direction.deadline.clone().unwrap_or_default()),
        ("driven by", direction.drivers.clone()),
        ("budget", direction.budget.as_ref().map_or_else(String::new, ToString::to_string)),
        ("held to", found.aims.join(", ")),
    ] {
        if !text.is_empty() {
            let _ = write!(out, "\n  {lead}: {text}");
        }
    }
    let on = direction.on.as_ref().map_or_else(String::new, |on| format!(" ({on})"));
    let _ = writeln!(out, "\n  why: {}{on}", direction.reason);
    if found.changed > 0 {
        let _ = writeln!(
            out,
            "  changed {} before",
            knockon_core::showing::count(found.changed, "time", "times")
        );
    }
    out.push('\n');
    out
}

/// What the vehicle says it is, and whether it agrees; nothing where nobody has looked.
fn identity(found: &Survey) -> String {
    let Some((identity, told)) = &found.identity else { return String::new() };
    let mut out = "Identity".to_owned();
    if let Some(built) = &identity.built {
        let _ = write!(out, ": built {built}");
    }
    for (n, mark) in identity.marks.iter().enumerate() {
        let shown = [Some(&mark.text), mark.dated.as_ref()];
        let shown: Vec<&str> =
            shown.into_iter().flatten().map(String::as_str).filter(|t| !t.is_empty()).collect();
        let says = told
            .in_time
            .iter()
            .find(|(at, _)| *at == n)
            .map_or_else(String::new, |(_, says)| format!("; {}", says.words()));
        let evidence = if mark.evidence.is_empty() { String::new() } else { format!(" ({})", mark.evidence) };
        let _ = write!(out, "\n  {}: {}, {}{says}{evidence}", mark.what, shown.join(", "), mark.trust.word());
    }
    if let Some(chassis) = &told.chassis {
        let _ = write!(out, "\n  chassis number: {chassis}");
    }
    for (of, texts) in &told.differ {
        let _ = write!(
            out,
            "\n  {of}: the numbers differ, {}; look into the papers before money is spent",
            texts.join(" and ")
        );
    }
    if let Some(shown) = &identity.counter {
        let _ = write!(out, "\n  the counter shows {}", parted(shown));
        for wear in &identity.wear {
            let ends = match (&wear.least, &wear.most) {
                (Some(least), Some(most)) => format!("{} to {}", parted(least), parted(most)),
                (Some(least), None) => format!("at least {}", parted(least)),
                (None, Some(most)) => format!("at most {}", parted(most)),
                (None, None) => "says nothing of the whole".to_owned(),
            };
            let _ = write!(out, "\n    {}: {ends}", wear.what);
        }
        let all = told.distances.iter().flatten().map(|far| parted(&format!("{far:.0} {}", told.unit)));
        let all = all.collect::<Vec<_>>().join(", ");
        let _ = match (&told.believed, &told.distances) {
            (None, _) => write!(out, "\n    the wear contradicts itself: look again"),
            (_, None) => Ok(()),
            (Some((None, None)), _) => {
                write!(out, "\n    no wear is written down: how often it went round nobody knows")
            }
            (_, Some(_)) if all.is_empty() => {
                write!(out, "\n    believed: none of what the counter can mean")
            }
            (_, Some(_)) => write!(out, "\n    believed: {all}"),
        };
    }
    for problem in &told.problems {
        let _ = write!(out, "\n  cannot be read: {problem}");
    }
    out + "\n\n"
}

/// How one is placed in a zone, behind its name.
pub(crate) fn posture(posture: Posture) -> &'static str {
    match posture {
        Posture::Standing => "",
        Posture::Sitting => " (sitting)",
        Posture::Lying => " (lying)",
        Posture::AtTheBench => " (waits until it is off)",
    }
}

/// The verdict as a mark that no colour is needed for.
fn mark(line: &Line) -> &'static str {
    match &line.outcome {
        Outcome::Verdict(Verdict::Good) => "[good ]",
        Outcome::Verdict(Verdict::Watch) => "[watch]",
        Outcome::Verdict(Verdict::Renew) => "[RENEW]",
        Outcome::Verdict(Verdict::Stop) => "[STOP!]",
        Outcome::Undecided { .. } => "[  ?  ]",
        _ if line.answered => "[ --  ]",
        _ => "[     ]",
    }
}

fn one(out: &mut String, line: &Line, measure: Measure) {
    let value = if line.value.is_empty() { String::new() } else { format!(": {}", line.value) };
    let _ = writeln!(out, "  {} {}, {}{value}", mark(line), line.place, line.name);
    let limits = line.limits.say(measure);
    if !limits.is_empty() && line.verdict() != Some(Verdict::Good) {
        let whose = if line.whose.is_empty() { String::new() } else { format!(" ({})", line.whose) };
        let _ = writeln!(out, "          {limits}{whose}");
    }
    match &line.outcome {
        Outcome::Verdict(Verdict::Watch) if !line.again.is_empty() => {
            let _ = writeln!(out, "          again after {}", line.again.join(", "));
        }
        Outcome::Verdict(Verdict::Renew | Verdict::Stop) if !line.tells.is_empty() => {
            let _ = writeln!(out, "          {}", line.tells);
        }
        Outcome::Undecided { .. } | Outcome::Unread(_) | Outcome::NoBounds(_) => {
            let _ = writeln!(out, "          {}", line.outcome.words());
        }
        _ => {}
    }
    if let Some(rest) = &line.rest {
        let _ = writeln!(out, "          besides: {}", rest.words());
    }
    if let Some(off) = &line.put_off {
        let _ = writeln!(out, "          put off: {}", off.reason);
    }
}

/// A sheet to print and take to the vehicle: every inspection with its limits and a place to write.
#[must_use]
pub fn sheet(found: &Survey, name: &str, measure: Measure) -> String {
    let mut out = format!("Survey of {name}\n\nDay ____________   Miles ____________   Who ____________\n");
    for zone in &found.zones {
        let title = format!("{}{}", zone.name, posture(zone.posture));
        let _ = writeln!(out, "\n\n{title}\n{}", "=".repeat(title.chars().count()));
        wrapped(&mut out, "", &zone.before);
        for caution in found.cautions_in(zone) {
            wrapped(&mut out, "! ", caution);
        }
        for line in found.of_zone(&zone.id) {
            let stop = if line.stop { " (can stop the vehicle)" } else { "" };
            let _ = writeln!(out);
            wrapped(&mut out, "", &format!("{}: {}{stop}", line.place, line.name));
            let tool = if line.tool.is_empty() { String::new() } else { format!(" With: {}.", line.tool) };
            wrapped(&mut out, "    ", &format!("{}{tool}", line.method.say(measure)));
            let limits = line.limits.say(measure);
            if !limits.is_empty() {
                wrapped(&mut out, "    ", &limits);
            }
            if !line.words.is_empty() {
                let words =
                    line.words.iter().map(|(word, verdict)| format!("[ ] {word} ({})", verdict.word()));
                wrapped(&mut out, "    ", &words.collect::<Vec<_>>().join("  "));
            }
            if line.dimension.is_some() || line.is_date {
                let unit = if line.is_date { "year made" } else { &line.unit };
                let _ = writeln!(out, "    read ______________ {unit}");
            }
        }
    }
    out.push('\n');
    out + LAW
}

/// Writes a text in lines of eighty characters.
fn wrapped(out: &mut String, lead: &str, text: &str) {
    const WIDE: usize = 80;
    let mut line = lead.to_owned();
    for word in text.split_whitespace() {
        if line.chars().count() + word.chars().count() + 1 > WIDE && line.trim() != lead.trim() {
            let _ = writeln!(out, "{}", line.trim_end());
            line = " ".repeat(lead.chars().count());
        }
        line.push_str(word);
        line.push(' ');
    }
    let _ = writeln!(out, "{}", line.trim_end());
}

/// The survey as JSON.
#[must_use]
pub fn json(found: &Survey, measure: Measure) -> Value {
    let line = |line: &Line| {
        json!({
            "inspection": line.inspection,
            "position": line.position,
            "zone": line.zone,
            "name": line.name,
            "place": line.place,
            "method": line.method.say(measure),
            "tool": line.tool,
            "limits": line.limits.say(measure),
            "whose": line.whose,
            "source": line.source,
            "words": line.words.iter().map(|(word, v)| json!({"word": word, "verdict": v.word()})).collect::<Vec<_>>(),
            "value": line.value,
            "verdict": line.verdict().map(Verdict::word),
            "says": line.says(),
            "open": line.is_open(),
            "stop": line.stop,
            "stage": line.stage.word(),
            "again": line.again,
            "cautions": line.cautions,
            "proposes": line.proposes.map(knockon_core::sheet::Route::word),
            "put_off": line.put_off.as_ref().map(|off| &off.reason),
            "history": line.history.iter().map(|p| json!({"on": p.on.to_string(), "si": p.si, "which": p.which})).collect::<Vec<_>>(),
        })
    };
    let place = |place: &knockon_core::survey::Place| {
        json!({
            "position": place.position,
            "name": place.name,
            "said": place.said.map(Verdict::word),
            "read": place.read.map(Verdict::word),
            "verdict": place.verdict.word(),
            "disagrees": place.disagrees,
            "seen": place.seen.iter().map(|s| json!({"what": s.what, "verdict": s.verdict.word()})).collect::<Vec<_>>(),
        })
    };
    json!({
        "zones": found.zones.iter().map(|z| json!({"id": z.id, "name": z.name, "before": z.before})).collect::<Vec<_>>(),
        "inspections": found.lines.iter().map(line).collect::<Vec<_>>(),
        "places": found.places.iter().map(place).collect::<Vec<_>>(),
        "open": found.open().count(),
        "open_before_the_road": found.open_before_the_road().count(),
        "not_driven": found.not_driven.is_some(),
        "direction": found.direction,
        "aims": found.aims,
        "identity": found.identity.as_ref().map(|(identity, told)| json!({
            "said": identity,
            "in_time": told.in_time.iter().map(|(n, says)| json!({"mark": n, "says": says.words()})).collect::<Vec<_>>(),
            "differ": told.differ.iter().map(|(of, texts)| json!({"of": of, "numbers": texts})).collect::<Vec<_>>(),
            "chassis": told.chassis,
            "unit": told.unit,
            "distances": told.distances,
            "believed": told.believed.map(|(least, most)| json!({"least": least, "most": most})),
            "problems": told.problems,
        })),
        "cautions": found.cautions,
        "left_out": found.problems,
    })
}
