//! What is spent, ordered and still to be paid, and what of it lies idle.

use rust_decimal::Decimal;

use crate::amounts::Amounts;
use crate::money::Money;
use crate::sheet::LineState;

/// Sums over a plan and the buying record. What is bought counts whether the plan wants it or not.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// Paid for what is fitted or in hand.
    pub spent: Amounts,
    /// For what is on order.
    pub committed: Amounts,
    /// For what is still to be bought.
    pub to_come: Amounts,
    /// Of `spent`: paid for what the plan does not want.
    pub idle: Amounts,
    /// Of `committed`: what could be called off.
    pub idle_on_order: Amounts,
    /// What came back, and is counted off what is spent or on order.
    pub came_back: Amounts,
    /// Lines fitted or in hand of which nobody says what was paid: they count as nothing spent.
    pub no_price_paid: usize,
}

impl Sums {
    /// Spent, on order and to come.
    #[must_use]
    pub fn all(&self) -> Amounts {
        &(&self.spent + &self.committed) + &self.to_come
    }
}

/// Something on order, in hand or fitted that the plan does not want.
#[derive(Clone, Debug, PartialEq)]
pub struct Idle {
    /// Part id, as in the buying record.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many; `None`: the record does not say how many were bought, at least one.
    pub qty: Option<u32>,
    /// Where it stands.
    pub state: LineState,
    /// What each counts for in the sums: what was paid, for what is on order else the library's price. `None`: nothing.
    pub price: Option<Money>,
    /// What came back of it, in the currency of the price; where some of the line is still wanted, that stays with those.
    pub came_back: Decimal,
}

/// Said where a price stands elsewhere, of what counts for nothing: nobody says what was paid for what is here, or what
/// is to be bought has no price.
#[must_use]
pub fn no_price(state: LineState) -> &'static str {
    if state.is_here() { "no price paid" } else { "no price" }
}

impl Idle {
    /// The money in it; of one where the number is not known.
    #[must_use]
    pub fn money(&self) -> Option<Money> {
        let mut money = self.price.as_ref().map(|m| m.times(self.qty.unwrap_or(1)))?;
        // of several whose number is not known more may have come back than one has cost
        money.amount = (money.amount - self.came_back).max(Decimal::ZERO.min(money.amount));
        Some(money)
    }
}
