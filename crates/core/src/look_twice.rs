//! What a restorer should look at twice among the parts that nobody chose: a mark, never a decision.
//!
//! Two kinds of mark are read from the sheet and the library alone: it cannot be undone, or only with repair; it takes off a part the
//! survey found good. Two need a figure, which the reader sets: dear from so much money, long from so many hours. Without
//! the figure nothing is dear or long.

use rust_decimal::Decimal;

use crate::assessment::Companion;
use crate::library::Reversible;
use crate::money::Money;

/// From where on a line is dear, and from where on it takes long.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bounds {
    /// Money for all of the line, as the reader set it; a line in another currency is not compared.
    pub dear: Option<Money>,
    /// Hours for all of the line.
    pub long: Option<f64>,
}

/// Why to look at a companion twice.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// It cannot be undone; what is lost, as the library says it.
    CannotBeUndone(String),
    /// It can be undone with some repair; what is lost, as the library says it.
    PartlyUndone(String),
    /// This part goes off, which the survey found good.
    TakesOffGood(String),
    /// All of the line costs so much, the reader's figure or more.
    Dear(Money),
    /// All of the line takes so many hours, the reader's figure or more.
    Long(f64),
}

impl Mark {
    /// One clause, without a full stop.
    #[must_use]
    pub fn words(&self) -> String {
        let with = |lead: &str, lost: &str| {
            let lost = lost.trim().trim_end_matches('.');
            if lost.is_empty() { lead.to_owned() } else { format!("{lead}: {lost}") }
        };
        match self {
            Self::CannotBeUndone(lost) => with(Reversible::No.words(), lost),
            Self::PartlyUndone(lost) => with(Reversible::Partly.words(), lost),
            Self::TakesOffGood(name) => format!("takes off {name}, which was found good"),
            Self::Dear(money) => format!("dear: {money}"),
            Self::Long(hours) => format!("long: {hours:.1} h"),
        }
    }
}

/// Why to look at a companion twice, the gravest first; empty where nothing speaks for it. What is left out, or lies in
/// the box of a chosen kit, is neither dear nor long.
#[must_use]
pub fn marks(companion: &Companion, bounds: &Bounds) -> Vec<Mark> {
    let mut out = Vec::new();
    match companion.reversible {
        Reversible::Yes => {}
        Reversible::Partly => out.push(Mark::PartlyUndone(companion.undone.clone())),
        Reversible::No => out.push(Mark::CannotBeUndone(companion.undone.clone())),
    }
    out.extend(companion.takes_off.clone().map(Mark::TakesOffGood));
    if companion.waived.is_some() {
        return out;
    }
    let cost = companion.cost().filter(|cost| cost.amount > Decimal::ZERO);
    let is_dear = |cost: &Money| {
        bounds.dear.as_ref().is_some_and(|from| from.currency == cost.currency && cost.amount >= from.amount)
    };
    out.extend(cost.filter(is_dear).map(Mark::Dear));
    let is_long = bounds.long.is_some_and(|from| companion.hours > 0.0 && companion.hours >= from);
    out.extend(is_long.then_some(Mark::Long(companion.hours)));
    out
}

#[cfg(test)]
mod tests;
