//! Two plans side by side: the difference as a stair of named causes, as text and as JSON.

use std::fmt::Write;

use knockon_core::compare::{Cause, Comparison};
use serde_json::{Value, json};

use crate::json::{hours, money, with_others};

/// Parts of a cause that are named; the others are counted.
const NAMED: usize = 4;

/// The comparison for a terminal: from the first plan, by their names, to the second.
#[must_use]
pub fn text(c: &Comparison, from: &str, to: &str, currency: &str) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "From \"{from}\" to \"{to}\": {} and {}", c.money.signed(currency), time(c.hours));
    for (name, (before, after)) in [
        ("Does not fit", c.clashes),
        ("To measure", c.to_measure),
        ("Companions", c.companions),
        ("Undone only with repair", (c.traces.0 - c.for_good.0, c.traces.1 - c.for_good.1)),
        ("Cannot be undone", c.for_good),
    ] {
        let _ = writeln!(out, "  {name}: {before}, then {after}");
    }
    let _ = writeln!(out, "\nWhy ({})", c.causes.len());
    if c.causes.is_empty() {
        let _ = writeln!(out, "  Nothing differs in money or work.");
    }
    for cause in &c.causes {
        let _ = writeln!(
            out,
            "  {:>18}  {:>8}  {}",
            cause.money.signed(currency),
            time(cause.hours),
            what(cause)
        );
        for (lead, names) in [("brings", &cause.added), ("spares", &cause.saved)] {
            if !names.is_empty() {
                let _ = writeln!(out, "  {:>28}  {lead} {}", "", listed(names));
            }
        }
    }
    if !c.causes.is_empty() {
        let _ = writeln!(out, "  {:>18}  {:>8}  in all", c.money.signed(currency), time(c.hours));
    }
    if !c.even.is_empty() {
        let _ = writeln!(out, "\nChosen differently, for the same money and hours ({})", c.even.len());
    }
    for cause in &c.even {
        let _ = writeln!(out, "  {}", what(cause));
    }
    out
}

fn time(value: f64) -> String {
    format!("{:+.1} h", (value * 10.0).round() / 10.0 + 0.0)
}

/// "Fan: convert Electric fan, 12 in slim instead of convert Electric fan, 16 in".
#[must_use]
pub fn what(cause: &Cause) -> String {
    if cause.position.is_none() {
        return "the plan as a whole".to_owned();
    }
    let word = |side: &Option<String>| side.clone().unwrap_or_else(|| "nothing".to_owned());
    if cause.from == cause.to {
        return format!("{}: {} in both, and what it brings", cause.place, word(&cause.to));
    }
    format!("{}: {} instead of {}", cause.place, word(&cause.to), word(&cause.from))
}

fn listed(names: &[String]) -> String {
    let shown = names.iter().take(NAMED).cloned().collect::<Vec<_>>().join("; ");
    match names.len().saturating_sub(NAMED) {
        0 => shown,
        more => format!("{shown}; and {more} more"),
    }
}

/// The comparison for another program.
#[must_use]
pub fn json(c: &Comparison, currency: &str) -> Value {
    let cause = |cause: &Cause| {
        let told = json!({
            "what": what(cause), "position": cause.position, "from": cause.from, "to": cause.to,
            "money": money(cause.money.of(currency)), "hours": hours(cause.hours),
            "added": cause.added, "saved": cause.saved,
        });
        with_others(told, "other_money", &cause.money, currency)
    };
    let both = |(before, after): (usize, usize)| json!({ "before": before, "after": after });
    let told = json!({
        "causes": c.causes.iter().map(cause).collect::<Vec<_>>(), "money": money(c.money.of(currency)),
        "currency": currency, "hours": hours(c.hours), "clashes": both(c.clashes),
        "to_measure": both(c.to_measure), "companions": both(c.companions),
        "traces": both(c.traces), "for_good": both(c.for_good),
        "even": c.even.iter().map(cause).collect::<Vec<_>>(),
    });
    with_others(told, "other_money", &c.money, currency)
}
