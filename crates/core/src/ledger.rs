//! What each line of a plan and of the buying record counts for: all entries together are the sums of the plan, to the cent.
//!
//! It tells the same money as the sums, line by line: what is wanted, what is bought and not wanted, and what was sent back
//! and not refunded whole. Whoever puts lines together by something adds up these.

mod suppliers;

use std::collections::BTreeMap;

pub use suppliers::{Account, by_supplier};

use crate::amounts::Amounts;
use crate::assessment::{Assessment, BuyLine};
use crate::box_key::BoxKey;
use crate::catalogue::Catalogue;
use crate::library::Work;
use crate::line_id::{self, Of};
use crate::money::Money;
use crate::sheet::{Line, LineState, Sheet};

/// Why money counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum For {
    /// The plan wants it.
    Wanted,
    /// It is bought, and the plan does not want it.
    Idle,
    /// It was sent back, the plan does not want it, and not all that was paid came back.
    SentBack,
}

/// A line with its money.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Part id, as in the buying record.
    pub part: String,
    /// As shown.
    pub name: String,
    /// Why it counts.
    pub why: For,
    /// System id; `None` for what is not wanted.
    pub system: Option<String>,
    /// From whom; empty where nobody says.
    pub supplier: String,
    /// Where it stands.
    pub state: LineState,
    /// Paid for what is here, less what came back.
    pub spent: Amounts,
    /// For what is on order.
    pub committed: Amounts,
    /// Still to be paid.
    pub to_come: Amounts,
}

impl Entry {
    /// Spent, on order and to come.
    #[must_use]
    pub fn all(&self) -> Amounts {
        &(&self.spent + &self.committed) + &self.to_come
    }
}

/// Every line that money counts for: those that are wanted in the order of the buy list, then the others. A line that is left
/// out has none.
#[must_use]
pub fn ledger(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Vec<Entry> {
    let wanted = a.buy.iter().filter(|line| line.waived.is_none());
    let mut out: Vec<Entry> = wanted.clone().map(|line| of_line(sheet, a, line)).collect();
    let by_part: BTreeMap<&str, &BuyLine> = wanted.map(|line| (line.part.as_str(), line)).collect();
    for idle in &a.idle {
        let record = sheet.lines.get(&idle.part);
        let money = match (record, idle.price.as_ref()) {
            // what is wanted of it has what came back
            (_, Some(price)) if by_part.contains_key(idle.part.as_str()) => {
                times(price, idle.qty.unwrap_or(1))
            }
            (Some(record), Some(price)) => rest(price, record, 1),
            (_, Some(_)) => idle.money().iter().collect(),
            (_, None) => Amounts::default(),
        };
        out.push(entry(&idle.part, &idle.name, For::Idle, record, idle.state, money));
    }
    for (part, record) in &sheet.lines {
        let is_kept_back = record.state == LineState::SentBack && !record.came_back.is_empty();
        if is_kept_back && !by_part.contains_key(part.as_str()) && part.parse::<BoxKey>().is_err() {
            let (name, listed) = listed(part, catalogue);
            let price = record.paid.as_ref().or(listed.as_ref());
            let money = price.map_or_else(Amounts::default, |price| rest(price, record, 1));
            out.push(entry(part, &name, For::SentBack, Some(record), record.state, money));
        }
    }
    out
}

/// A line that is wanted.
fn of_line(sheet: &Sheet, a: &Assessment, line: &BuyLine) -> Entry {
    let record = sheet.lines.get(&line.part);
    let idle = a.idle.iter().find(|idle| idle.part == line.part);
    let mut out = Entry {
        part: line.part.clone(),
        name: line.name.clone(),
        why: For::Wanted,
        system: Some(line.system.clone()),
        supplier: line.supplier.clone(),
        state: line.state,
        spent: Amounts::default(),
        committed: Amounts::default(),
        to_come: Amounts::default(),
    };
    let Some(record) = record.filter(|record| record.state != LineState::ToBuy) else {
        out.to_come = line.price.iter().fold(Amounts::default(), |sum, price| &sum + &times(price, line.qty));
        return out;
    };
    let paid = line.price.as_ref().map(|price| rest(price, record, line.qty.max(1))).unwrap_or_default();
    if record.state == LineState::SentBack {
        // it has to be bought again
        out.to_come = line.price.iter().fold(Amounts::default(), |sum, price| &sum + &times(price, line.qty));
        if !record.came_back.is_empty() {
            out.spent = paid;
        }
        return out;
    }
    let of_idle =
        idle.and_then(|idle| Some(times(idle.price.as_ref()?, idle.qty.unwrap_or(1)))).unwrap_or_default();
    *(if record.state == LineState::OnOrder { &mut out.committed } else { &mut out.spent }) =
        &paid - &of_idle;
    out.to_come = match (&line.price, &line.total) {
        (Some(price), _) => times(price, line.short),
        // nobody says what was paid for those that are here; those that are not have the price of the library
        (None, Some(total)) if line.short > 0 => [total].into_iter().collect(),
        _ => Amounts::default(),
    };
    out
}

/// What was paid for all that was bought, less what came back. Where nobody says how many, as many as are wanted; then no more
/// came back than was paid.
fn rest(price: &Money, record: &Line, wanted: u32) -> Amounts {
    let back: Amounts = record.came_back.values().collect();
    let mut rest = &times(price, record.qty.unwrap_or(wanted)) - &back;
    let left = rest.of(&price.currency);
    if record.qty.is_none() && left.is_sign_negative() {
        rest.add_times(&Money::new(-left, &price.currency), 1);
    }
    rest
}

fn times(price: &Money, n: u32) -> Amounts {
    let mut sum = Amounts::default();
    sum.add_times(price, n);
    sum
}

fn entry(part: &str, name: &str, why: For, record: Option<&Line>, state: LineState, money: Amounts) -> Entry {
    let (spent, committed) = match state {
        LineState::OnOrder => (Amounts::default(), money),
        _ => (money, Amounts::default()),
    };
    Entry {
        part: part.to_owned(),
        name: name.to_owned(),
        why,
        system: None,
        supplier: record.map(|record| record.supplier.clone()).unwrap_or_default(),
        state,
        spent,
        committed,
        to_come: Amounts::default(),
    }
}

/// The name of what a line is of, and its price in the library.
fn listed(id: &str, catalogue: &Catalogue) -> (String, Option<Money>) {
    let (part, of) = line_id::read(id);
    let Some(entry) = catalogue.part(part) else { return (id.to_owned(), None) };
    let part = &entry.part;
    let work = |work: &Option<Work>| work.as_ref().and_then(|work| work.price.clone());
    let price = match of {
        Of::Part => part.price.clone(),
        Of::Rebuild => work(&part.rebuild),
        Of::Clean => work(&part.clean),
    };
    (of.name(&part.name), price)
}
