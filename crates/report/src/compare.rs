//! Two plans side by side: the difference as a stair of named causes, as text and as JSON.

use std::fmt::Write;

use knockon_core::Amounts;
use knockon_core::compare::{Cause, Comparison};
use serde_json::{Value, json};

use crate::json::{hours, money, with_others};
use crate::lines;

/// Parts of a cause that are named; the others are counted.
const NAMED: usize = 4;
/// What a cause is of that belongs to no place.
const WHOLE: &str = "the plan as a whole";
/// Below money and hours, further in than the place.
const BELOW: usize = 30;

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
        let _ = writeln!(out, "{}  {}", sums(&cause.money, cause.hours, currency), place(cause));
        let choice = [("", &cause.to), ("instead of ", &cause.from)];
        let choice: Vec<(&str, String)> = match (&cause.position, cause.from == cause.to) {
            (None, _) => Vec::new(),
            (_, true) => vec![("", format!("{} in both, and what it brings", nothing(&cause.to)))],
            _ => choice.map(|(lead, side)| (lead, nothing(side))).to_vec(),
        };
        for (lead, side) in choice {
            let _ = writeln!(out, "{:BELOW$}{lead}{side}", "");
        }
        for (lead, names) in [("brings: ", &cause.added), ("spares: ", &cause.saved)] {
            if !names.is_empty() {
                let _ =
                    writeln!(out, "{}", lines::listed(&format!("{:BELOW$}{lead}", ""), &few(names), "; "));
            }
        }
    }
    // of one cause the sum is its own
    if c.causes.len() > 1 {
        let _ = writeln!(out, "{}  in all", sums(&c.money, c.hours, currency));
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
        return WHOLE.to_owned();
    }
    if cause.from == cause.to {
        return format!("{}: {} in both, and what it brings", cause.place, nothing(&cause.to));
    }
    format!("{}: {} instead of {}", cause.place, nothing(&cause.to), nothing(&cause.from))
}

/// The first names, and how many more there are.
fn few(names: &[String]) -> Vec<String> {
    let more = names.len().saturating_sub(NAMED);
    let more = (more > 0).then(|| format!("and {more} more"));
    names.iter().take(NAMED).cloned().chain(more).collect()
}

/// Money and hours in their columns.
fn sums(money: &Amounts, hours: f64, currency: &str) -> String {
    format!("  {:>14}  {:>8}", money.signed(currency), time(hours))
}

fn place(cause: &Cause) -> &str {
    if cause.position.is_none() { WHOLE } else { &cause.place }
}

fn nothing(side: &Option<String>) -> String {
    side.clone().unwrap_or_else(|| "nothing".to_owned())
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
