//! What would clear all that does not fit, together: as text and as JSON.

use std::fmt::Write;

use knockon_core::Assessment;
use knockon_core::catalogue::Catalogue;
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::count;
use knockon_core::together::{CureSet, Together};
use serde_json::{Value, json};

use crate::json::with_others;

/// The sets for a terminal, the best first; empty where everything fits.
#[must_use]
pub fn text(a: &Assessment, catalogue: &Catalogue, together: &Together) -> String {
    let mut out = String::new();
    if a.clashes.is_empty() {
        return out;
    }
    let _ = writeln!(out, "\nWhat would clear it together ({})", together.sets.len());
    if together.sets.is_empty() {
        let _ = writeln!(out, "  No choice that the library offers clears any of it.");
    }
    for (n, set) in together.sets.iter().enumerate() {
        let _ = writeln!(out, "  {}. {}", n + 1, headline(a, set));
        for (position, choice) in &set.changes {
            let place = a.positions.iter().find(|p| p.id == *position).map_or(position.as_str(), |p| &p.name);
            let gone = if set.gives_up.contains(position) { "  (gives up what you chose)" } else { "" };
            let _ = writeln!(out, "     {place}: {}{gone}", word(catalogue, choice));
        }
        for key in &set.left {
            let name = a.clashes.iter().find(|c| c.key == *key).map(|c| c.name.clone());
            let _ = writeln!(out, "     still does not fit: {}", name.unwrap_or_else(|| key.to_string()));
        }
    }
    if !together.proved {
        let _ = writeln!(out, "  Not every way was tried: these are the best that were found.");
    }
    out
}

/// "6 changes, +798.00 USD and +4 h; nothing left".
fn headline(a: &Assessment, set: &CureSet) -> String {
    let changes = count(set.changes.len(), "change", "changes");
    let left = match set.left.len() {
        0 => "clears all".to_owned(),
        left => format!("leaves {left} of {}", a.clashes.len()),
    };
    let measure = match set.to_measure {
        0 => String::new(),
        more => format!(", {more:+} to measure"),
    };
    let money = set.money.signed(&a.totals.currency);
    format!("{changes}, {money} and {:+.1} h{measure}: {left}", set.hours)
}

fn word(catalogue: &Catalogue, choice: &Choice) -> String {
    match (choice.route, &choice.part) {
        (Route::Keep, _) => "keep what was found".to_owned(),
        (Route::Convert, Some(part)) => {
            catalogue.part(part).map_or_else(|| part.clone(), |entry| entry.part.name.clone())
        }
        (route, _) => route.word().to_owned(),
    }
}

/// The sets as a list, the best first, of a plan whose sums are in a currency; the first, applied, gives exactly that.
#[must_use]
pub fn json(together: &Together, currency: &str) -> Value {
    let set = |set: &CureSet| {
        let change = |(position, choice): (&String, &Choice)| json!({"position": position, "route": choice.route.word(), "part": choice.part});
        let told = json!({
            "changes": set.changes.iter().map(change).collect::<Vec<_>>(),
            "money": format!("{:.2}", set.money.of(currency)),
            "hours": (set.hours * 100.0).round() / 100.0,
            "to_measure": set.to_measure,
            "gives_up": set.gives_up,
            "left": set.left,
        });
        with_others(told, "other_money", &set.money, currency)
    };
    together.sets.iter().map(set).collect()
}
