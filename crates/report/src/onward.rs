//! What each way on from here still costs, and what it leaves, as text and as JSON.

use std::fmt::Write;

use knockon_core::Amounts;
use knockon_core::money::Money;
use knockon_core::onward::{On, Way, leave_most};
use serde_json::{Value, json};

use crate::json::hours;

/// "By your own figures Sound first leaves the most from here: 3,100.00 USD."; `None` where fewer than two can be compared.
#[must_use]
pub fn most(ways: &[Way], told: impl Fn(&Money) -> String) -> Option<String> {
    let best = leave_most(ways);
    let left = best.first()?.leaves()?;
    let names: Vec<&str> = best.iter().map(|way| way.name.as_str()).collect();
    let verb = if names.len() == 1 { "leaves" } else { "leave" };
    Some(format!(
        "By your own figures \"{}\" {verb} the most from here: {}",
        names.join("\" and \""),
        told(&left)
    ))
}

/// The ways for a terminal. `spent`: what is spent already, whichever is taken.
#[must_use]
pub fn text(ways: &[Way], spent: &Amounts, currency: &str) -> String {
    let mut out = String::new();
    let counts = if spent.is_zero() {
        String::new()
    } else {
        format!("; the {} that are spent count in no way", spent.text(currency))
    };
    let _ = writeln!(out, "From here on{counts}");
    for way in ways {
        let _ = writeln!(out, "\n{}", way.name);
        if matches!(way.on, On::Plan(_)) {
            let _ = writeln!(out, "  To finish: {}, {:.0} h", way.to_finish.text(currency), way.hours);
            if !way.idle.is_zero() {
                let _ = writeln!(out, "  Bought, and not wanted then: {}", way.idle.text(currency));
            }
        }
        match (&way.worth, way.leaves()) {
            (Some(worth), Some(left)) => {
                let _ = writeln!(out, "  Worth then: {worth}; leaves {left}");
            }
            (Some(worth), None) => {
                let _ = writeln!(out, "  Worth then: {worth}, in another currency than what it costs");
            }
            (None, _) => {
                let _ = writeln!(out, "  Nobody says what it is worth then");
            }
        }
    }
    if let Some(most) = most(ways, ToString::to_string) {
        let _ = writeln!(out, "\n{most}.");
    }
    out
}

/// The ways for another program.
#[must_use]
pub fn json(ways: &[Way], spent: &Amounts) -> Value {
    let sums = |amounts: &Amounts| amounts.each().collect::<Vec<Money>>();
    let one = |way: &Way| {
        let (plan, sold) = match &way.on {
            On::Plan(id) => (Some(id), None),
            On::AsItStands => (None, Some("as-it-stands")),
            On::InParts => (None, Some("in-parts")),
        };
        json!({
            "plan": plan, "sold": sold, "name": way.name, "to_finish": sums(&way.to_finish),
            "hours": hours(way.hours), "idle": sums(&way.idle), "worth": way.worth, "leaves": way.leaves(),
        })
    };
    json!({"spent": sums(spent), "ways": ways.iter().map(one).collect::<Vec<_>>()})
}
