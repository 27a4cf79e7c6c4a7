//! What is cheap while the plan has something apart, and dear later, as text and as JSON.

use std::fmt::Write;

use knockon_core::jobs::Jobs;
use knockon_core::jobs::while_apart::{Cheap, Taken};
use knockon_core::showing::count;
use serde_json::{Value, json};

/// So many jobs are named; the others are counted.
const NAMED: usize = 3;

/// "renew", "advised".
#[must_use]
pub fn does(one: &Cheap) -> &'static str {
    match &one.take {
        Taken::Route(route) => route.word(),
        Taken::Companion(_) => "advised",
    }
}

/// "0.5 h now, 7 h later".
#[must_use]
pub fn hours(one: &Cheap) -> String {
    let told = |hours: f64| {
        let text = format!("{hours:.1}");
        text.strip_suffix(".0").unwrap_or(&text).to_owned()
    };
    format!("{} h now, {} h later", told(one.now), told(one.later))
}

/// Names of the jobs it goes with, those that save most.
#[must_use]
pub fn with(one: &Cheap, jobs: &Jobs) -> String {
    let of = |id: &String| jobs.jobs.iter().find(|job| job.id == *id);
    let with: Vec<_> = one.with.iter().filter_map(of).collect();
    let shown = with.iter().take(NAMED).map(|job| job.name.clone()).collect::<Vec<_>>().join("; ");
    match with.len().saturating_sub(NAMED) {
        0 => shown,
        more => format!("{shown}; and {more} more"),
    }
}

/// So many are told on a terminal.
const TOLD: usize = 12;

/// The list for a terminal; nothing where there is nothing.
#[must_use]
pub fn text(all: &[Cheap], jobs: &Jobs) -> String {
    let mut out = String::new();
    if all.is_empty() {
        return out;
    }
    let things = count(all.len(), "thing is", "things are");
    let _ = writeln!(out, "\nWhile it is apart: {things} cheap now and dear later");
    for one in all.iter().take(TOLD) {
        let money = one.money.as_ref().map_or_else(|| "no price".to_owned(), ToString::to_string);
        let seen = one.verdict.map_or_else(String::new, |verdict| format!(", found {}", verdict.word()));
        let open = if one.is_open { format!("{seen}, open now") } else { seen };
        let _ = writeln!(out, "  {}: {}, {}, {money}{open}", one.name, does(one), hours(one));
        let _ = writeln!(out, "      with: {}", with(one, jobs));
    }
    if all.len() > TOLD {
        let _ = writeln!(out, "  and {} more; --json has all of them", all.len() - TOLD);
    }
    out
}

/// The list for another program.
#[must_use]
pub fn json(all: &[Cheap]) -> Value {
    let rounded = |hours: f64| (hours * 100.0).round() / 100.0;
    let one = |one: &Cheap| {
        let (route, companion) = match &one.take {
            Taken::Route(route) => (Some(route.word()), None),
            Taken::Companion(key) => (None, Some(key.to_string())),
        };
        json!({
            "position": one.position, "name": one.name, "route": route, "companion": companion,
            "verdict": one.verdict.map(|verdict| verdict.word()), "with": one.with,
            "hours_now": rounded(one.now), "hours_later": rounded(one.later), "saves": rounded(one.saves()),
            "money": one.money, "open_now": one.is_open,
        })
    };
    all.iter().map(one).collect()
}
