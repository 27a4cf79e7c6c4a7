//! What the money page shows beside the budget: suppliers with their lines, and what is to be ordered today with why.

use knockon_core::assessment::Assessment;
use knockon_core::ledger::{Account, by_supplier, ledger};
use knockon_core::schedule::supply::Order;
use knockon_core::{Catalogue, Sheet};
use knockon_report::schedule::{day, name_of, to_order, weeks};

use crate::jobs::state::ToDo;

/// Something that is to be ordered today.
#[derive(Clone, Debug, PartialEq)]
pub struct Today {
    /// The part, with how many.
    pub order: Order,
    /// As shown.
    pub name: String,
    /// Why today, in half a sentence.
    pub why: String,
}

/// What the page shows of a revision.
#[derive(Clone, Debug, Default)]
pub struct Accounts {
    /// Suppliers, nobody first.
    pub suppliers: Vec<Account>,
    /// What is to be ordered today, what is longest overdue first.
    pub today: Vec<Today>,
    /// Parts that jobs wait for, of which nobody has said how long they take.
    pub to_ask: usize,
}

impl Accounts {
    /// Of a sheet, with its work.
    pub fn of(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue, work: &ToDo) -> Self {
        let entries = ledger(sheet, a, &catalogue.for_sheet(sheet));
        let today = work.schedule.order_today().map(|order| {
            let takes = order.weeks.map_or_else(String::new, |of| format!("takes {}; ", weeks(of)));
            let on = order.wanted.map_or_else(String::new, |at| format!(" on {}", day(at)));
            let job = name_of(&work.jobs, &order.job);
            let why = format!("{takes}holds up \"{job}\"{on}");
            Today { order: order.clone(), name: to_order(order), why }
        });
        Self {
            today: today.collect(),
            to_ask: work.schedule.to_ask().count(),
            suppliers: by_supplier(entries, &a.totals.currency),
        }
    }
}
