//! Onward: what each way on from here still costs, and what it leaves.
//!
//! In words. What is spent is spent, whichever way is taken, and counts in none of them. A way costs what of its plan is on order
//! or still to be bought, and the hours that are left; it leaves what the vehicle is worth once it is done, by the owner's own
//! figure, less what it still costs. To sell it as it stands, or in parts, costs nothing more. Ways are told apart by that alone:
//! money that was spent argues for none of them. Where the owner gives no figure, or a way costs money in another currency than
//! that figure, nothing is said of what it leaves.

use rust_decimal::Decimal;

use crate::amounts::Amounts;
use crate::assessment::Assessment;
use crate::money::Money;
use crate::sheet::Sheet;

/// A way on.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum On {
    /// A plan is carried out, by its id.
    Plan(String),
    /// It is sold whole.
    AsItStands,
    /// It is sold in parts.
    InParts,
}

/// A way on, with what it costs and leaves.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Which.
    pub on: On,
    /// As shown.
    pub name: String,
    /// What is on order or still to be bought.
    pub to_finish: Amounts,
    /// Own hours.
    pub hours: f64,
    /// What lies idle on this way: bought, and not wanted by it. It may be sold or sent back.
    pub idle: Amounts,
    /// What the vehicle is worth then, by the owner's figure.
    pub worth: Option<Money>,
}

impl Way {
    /// What it leaves: its worth less what it still costs, in the currency of its worth.
    #[must_use]
    pub fn leaves(&self) -> Option<Money> {
        let worth = self.worth.as_ref()?;
        let is_own = self.to_finish.each().all(|money| money.currency == worth.currency);
        let left = worth.amount - self.to_finish.of(&worth.currency);
        is_own.then(|| Money::new(left, &worth.currency))
    }
}

/// The ways on: a plan for each assessment of one, then selling where the owner says what that brings.
#[must_use]
pub fn onward<'a>(sheet: &Sheet, plans: impl IntoIterator<Item = (&'a String, &'a Assessment)>) -> Vec<Way> {
    let plans = plans.into_iter().map(|(id, a)| {
        let money = &a.totals.money;
        let mut idle = Amounts::default();
        a.idle.iter().filter_map(|idle| idle.money()).for_each(|money| idle.add_times(&money, 1));
        Way {
            on: On::Plan(id.clone()),
            name: sheet.plans.get(id).map_or_else(|| id.clone(), |plan| plan.name.clone()),
            to_finish: &money.committed + &money.to_come,
            hours: a.totals.hours,
            idle,
            worth: sheet.worth.done.get(id).cloned(),
        }
    });
    let sold = [
        (On::AsItStands, "sold as it stands", &sheet.worth.as_it_stands),
        (On::InParts, "sold in parts", &sheet.worth.in_parts),
    ];
    let sold = sold.into_iter().filter_map(|(on, name, worth)| {
        let worth = Some(worth.clone()?);
        let (to_finish, idle) = Default::default();
        Some(Way { on, name: name.to_owned(), to_finish, hours: 0.0, idle, worth })
    });
    plans.chain(sold).collect()
}

/// The ways that leave most, of those that leave something in one currency; empty where fewer than two can be compared.
#[must_use]
pub fn leave_most(ways: &[Way]) -> Vec<&Way> {
    let all: Vec<(&Way, Money)> = ways.iter().filter_map(|way| Some((way, way.leaves()?))).collect();
    let Some((_, first)) = all.first() else { return Vec::new() };
    if all.len() < 2 || all.iter().any(|(_, left)| left.currency != first.currency) {
        return Vec::new();
    }
    let most: Option<Decimal> = all.iter().map(|(_, left)| left.amount).max();
    all.into_iter().filter(|(_, left)| Some(left.amount) == most).map(|(way, _)| way).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::assess::least::{Least, PLAN};
    use crate::sheet::{Line, LineState, Route};

    /// A tank for 90 that was chosen, and a pump for 40 that was bought for another plan.
    fn cart() -> Least {
        let least = Least::new(json!({
            "parts": {
                "old-tank": {"class": "tank"}, "new-tank": {"class": "tank", "price": "90.00 USD", "hours": 2},
                "old-pump": {"class": "pump"}, "new-pump": {"class": "pump", "price": "40.00 USD", "hours": 1}
            },
            "classes": {"tank": {"decided": "owner"}, "pump": {"decided": "owner"}},
            "vehicle": {"positions": {"tank": "old-tank", "pump": "old-pump"}}
        }));
        least.convert("tank", "new-tank")
    }

    fn ways(least: &Least) -> Vec<Way> {
        let (plan, a) = (PLAN.to_owned(), least.assess());
        onward(&least.sheet, [(&plan, &a)])
    }

    fn usd(text: &str) -> Option<Money> {
        format!("{text} USD").parse().ok()
    }

    #[test]
    fn a_way_leaves_its_worth_less_what_it_still_costs() {
        let mut least = cart();
        assert_eq!(ways(&least)[0].leaves(), None, "nobody says what it is worth");
        least.sheet.worth.done.insert(PLAN.to_owned(), usd("500.00").unwrap());
        assert_eq!(ways(&least)[0].leaves(), usd("410.00"));
        assert_eq!(ways(&least)[0].hours, 2.0);
        // what is paid for is spent: it costs nothing more
        let least = least
            .record("new-tank", Line { state: LineState::InHand, paid: usd("85.00"), ..Line::default() });
        assert_eq!(ways(&least)[0].leaves(), usd("500.00"));
    }

    #[test]
    fn what_was_spent_argues_for_no_way() {
        let mut least = cart();
        least.sheet.worth.done.insert(PLAN.to_owned(), usd("500.00").unwrap());
        least.sheet.worth.as_it_stands = usd("420.00");
        let told = |least: &Least| {
            let ways = ways(least);
            let names: Vec<String> = leave_most(&ways).iter().map(|way| way.name.clone()).collect();
            (names, ways[0].leaves(), ways[0].idle.clone())
        };
        let (names, leaves, idle) = told(&least);
        assert_eq!((names, idle.is_zero()), (vec!["sold as it stands".to_owned()], true));
        // a pump that another plan wanted lies idle, and changes nothing in what is left
        let least = least
            .record("new-pump", Line { state: LineState::InHand, paid: usd("40.00"), ..Line::default() });
        let (names, then, idle) = told(&least);
        assert_eq!((names[0].as_str(), then), ("sold as it stands", leaves));
        assert_eq!(idle.each().next(), usd("40.00"));
    }

    #[test]
    fn another_currency_is_not_subtracted_and_one_way_alone_is_not_the_best() {
        let mut least = cart();
        least.sheet.worth.as_it_stands = usd("420.00");
        assert!(leave_most(&ways(&least)).is_empty());
        least.sheet.worth.done.insert(PLAN.to_owned(), "500.00 EUR".parse().unwrap());
        assert_eq!(ways(&least)[0].leaves(), None);
        // with nothing left to buy there is nothing of another currency
        let least = least.choose("tank", Route::Keep);
        assert_eq!(ways(&least)[0].leaves(), "500.00 EUR".parse().ok());
        assert!(leave_most(&ways(&least)).is_empty(), "two currencies are not held against each other");
    }
}
