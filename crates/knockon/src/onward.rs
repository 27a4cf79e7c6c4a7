//! `knockon onward`: what each way on from here still costs, and what it leaves.

use knockon_core::{Assessment, assess};
use knockon_report::onward::{json, text};

use crate::commands::{Done, Wanted, open};
use crate::terminal::{say, say_json};

/// Prints it for every plan of the sheet, and for selling it.
pub fn onward(wanted: &Wanted, as_json: bool) -> Done {
    let opened = open(wanted)?;
    opened.complain();
    let sheet = &opened.sheet;
    let assessed: Vec<(&String, Assessment)> =
        sheet.plans.keys().map(|id| (id, assess(sheet, id, &opened.catalogue))).collect();
    let ways = knockon_core::onward::onward(sheet, assessed.iter().map(|(id, a)| (*id, a)));
    let here = opened.assess();
    let spent = &here.totals.money.spent;
    if as_json { say_json(&json(&ways, spent)) } else { say(&text(&ways, spent, &here.totals.currency)) }
}
