//! `knockon budget` and `knockon orders`: what may be spent beside what is, and what is still to be bought from whom.

use knockon_report::money::{budget_json, budget_text, orders_json, orders_text};

use crate::commands::{Done, Wanted, open};
use crate::terminal::{say, say_json};

/// Prints a plan against its budget.
pub fn budget(wanted: &Wanted, as_json: bool) -> Done {
    let opened = open(wanted)?;
    let a = opened.assess();
    opened.complain();
    let catalogue = opened.catalogue.for_sheet(&opened.sheet);
    let found = knockon_core::budget::budget(&opened.sheet, &a, &catalogue);
    if as_json { say_json(&budget_json(&found)) } else { say(&budget_text(&found)) }
}

/// Prints what is still to be bought, by supplier, and where it costs least.
pub fn orders(wanted: &Wanted, as_json: bool) -> Done {
    let opened = open(wanted)?;
    let a = opened.assess();
    opened.complain();
    let catalogue = opened.catalogue.for_sheet(&opened.sheet);
    let found = knockon_core::orders::orders(&opened.sheet, &a, &catalogue);
    let currency = &a.totals.currency;
    if as_json { say_json(&orders_json(&found, currency)) } else { say(&orders_text(&found, currency)) }
}
