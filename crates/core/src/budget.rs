//! What may be spent beside what is: by system, with what is kept back for what nobody foresaw, and what it comes to in the end.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use crate::amounts::Amounts;
use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::ledger::{Entry, For, ledger};
use crate::money::Money;
use crate::sheet::{Sheet, Verdict};

/// The most of a hundred that is kept back.
const MOST: u32 = 200;

/// The money of a system, or of what no system wants.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Share {
    /// System id; `None`: what the plan does not want.
    pub system: Option<String>,
    /// As shown.
    pub name: String,
    /// What the owner gives it.
    pub budget: Option<Money>,
    /// Paid for what is here, less what came back.
    pub spent: Amounts,
    /// On order.
    pub committed: Amounts,
    /// Still to be paid.
    pub to_come: Amounts,
    /// By how much it passes what it is given; `None` where it does not, or is given nothing.
    pub over: Option<Money>,
}

impl Share {
    /// Spent, on order and to come.
    #[must_use]
    pub fn all(&self) -> Amounts {
        &(&self.spent + &self.committed) + &self.to_come
    }
}

/// A plan against what may be spent on it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spending {
    /// The currency it is told in: that of the budget, else that of most lines.
    pub currency: String,
    /// What may be spent in all.
    pub budget: Option<Money>,
    /// By system in board order, then what is not wanted. Together they are the sums of the plan.
    pub shares: Vec<Share>,
    /// Per cent of what is still to come that is kept back, as the owner says, 0 to 200.
    pub contingency_percent: u32,
    /// The same in money.
    pub contingency: Amounts,
    /// What it comes to in the end where prices hold: spent, on order and to come.
    pub forecast: Amounts,
    /// The same with what is kept back.
    pub forecast_most: Amounts,
    /// Of what is spent: for what the plan does not want.
    pub idle: Amounts,
    /// On order and not wanted: could be called off.
    pub could_be_called_off: Amounts,
    /// What has come back already.
    pub came_back: Amounts,
    /// Lines that are to be paid and have no price: the forecast is at least what it says.
    pub unpriced: usize,
    /// By how much the forecast passes the budget; `None` where it does not, or there is none.
    pub over: Option<Money>,
    /// By how much the forecast with what is kept back passes it.
    pub over_with_contingency: Option<Money>,
    /// Money of other currencies, which is held against nothing.
    pub other_currencies: Amounts,
    /// How rough the vehicle was found: places the survey would renew or stop, of those it looked at.
    pub roughness: (usize, usize),
}

impl Spending {
    /// All shares as one: the sums of the plan, beside the whole budget.
    #[must_use]
    pub fn in_all(&self) -> Share {
        let mut all = Share { name: "in all".to_owned(), budget: self.budget.clone(), ..Share::default() };
        for share in &self.shares {
            all.spent += &share.spent;
            all.committed += &share.committed;
            all.to_come += &share.to_come;
        }
        all
    }
}

/// A plan against the budget of its sheet.
#[must_use]
pub fn budget(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Spending {
    let said = &sheet.budget;
    let currency =
        said.total.as_ref().map_or_else(|| a.totals.currency.clone(), |money| money.currency.clone());
    let entries = ledger(sheet, a, catalogue);
    let mut shares = Vec::new();
    for (id, name) in &a.systems {
        let of = entries.iter().filter(|e| e.system.as_deref() == Some(id.as_str()));
        let share = share(Some(id.clone()), name.clone(), said.systems.get(id).cloned(), of);
        if share.budget.is_some() || !share.all().is_zero() {
            shares.push(share);
        }
    }
    // a companion that hangs under no place is of no system
    let known = |e: &&Entry| e.system.as_ref().is_some_and(|id| a.systems.iter().any(|(of, _)| of == id));
    let no_system = entries.iter().filter(|e| e.why == For::Wanted && !known(e));
    let not_wanted = entries.iter().filter(|e| e.why != For::Wanted);
    for share in [
        share(None, "of no system".to_owned(), None, no_system),
        share(None, "not wanted by this plan".to_owned(), None, not_wanted),
    ] {
        if !share.all().is_zero() {
            shares.push(share);
        }
    }
    let m = &a.totals.money;
    let percent = said.contingency.unwrap_or(0).min(MOST);
    let contingency = of_hundred(&m.to_come, percent);
    let forecast = m.all();
    let forecast_most = &forecast + &contingency;
    let over = |sum: &Amounts| said.total.as_ref().and_then(|total| over(sum, total));
    let looked = a.positions.iter().filter_map(|p| p.verdict);
    let rough = looked.clone().filter(|v| matches!(v, Verdict::Renew | Verdict::Stop)).count();
    Spending {
        budget: said.total.clone(),
        contingency_percent: percent,
        over: over(&forecast),
        over_with_contingency: over(&forecast_most),
        other_currencies: &forecast - &[&Money::new(forecast.of(&currency), &currency)].into_iter().collect(),
        idle: m.idle.clone(),
        could_be_called_off: m.idle_on_order.clone(),
        came_back: m.came_back.clone(),
        unpriced: a.totals.unpriced,
        roughness: (rough, looked.count()),
        currency,
        shares,
        contingency,
        forecast,
        forecast_most,
    }
}

fn share<'a>(
    system: Option<String>,
    name: String,
    budget: Option<Money>,
    entries: impl Iterator<Item = &'a Entry>,
) -> Share {
    let mut out = Share { system, name, budget, ..Share::default() };
    for entry in entries {
        out.spent += &entry.spent;
        out.committed += &entry.committed;
        out.to_come += &entry.to_come;
    }
    out.over = out.budget.as_ref().and_then(|budget| over(&out.all(), budget));
    out
}

impl Spending {
    /// What the forecast leaves of the budget; `None` where it passes it, or there is none.
    #[must_use]
    pub fn left(&self) -> Option<Money> {
        let total = self.budget.as_ref()?;
        let left = total.amount - self.forecast.of(&total.currency);
        (left >= Decimal::ZERO).then(|| Money::new(left, &total.currency))
    }

    /// How much of the budget the forecast takes, 1 is all of it; `None` where there is no budget.
    #[must_use]
    pub fn used(&self) -> Option<f64> {
        let total = self.budget.as_ref().filter(|total| total.amount > Decimal::ZERO)?;
        (self.forecast.of(&total.currency) / total.amount).to_f64()
    }
}

/// What a sum has in the currency of a budget above it.
fn over(sum: &Amounts, budget: &Money) -> Option<Money> {
    let above = sum.of(&budget.currency) - budget.amount;
    (above > Decimal::ZERO).then(|| Money::new(above, &budget.currency))
}

/// So much of a hundred of a sum, to the cent.
fn of_hundred(sum: &Amounts, percent: u32) -> Amounts {
    let part = |m: Money| Money {
        amount: (m.amount * Decimal::from(percent) / Decimal::ONE_HUNDRED).round_dp(2),
        currency: m.currency,
    };
    let all: Vec<Money> = sum.each().map(part).collect();
    all.iter().collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn sum(texts: &[&str]) -> Amounts {
        let all: Vec<Money> = texts.iter().map(|text| text.parse().unwrap()).collect();
        all.iter().collect()
    }

    #[test]
    fn a_budget_is_passed_in_its_own_currency_alone() {
        let budget = "100.00 USD".parse().unwrap();
        assert_eq!(over(&sum(&["99.99 USD", "500 EUR"]), &budget), None);
        assert_eq!(over(&sum(&["100.00 USD"]), &budget), None);
        assert_eq!(over(&sum(&["100.01 USD"]), &budget).unwrap().to_string(), "0.01 USD");
    }

    #[test]
    fn what_is_left_is_of_the_currency_of_the_budget_and_nothing_where_it_is_passed() {
        let of = |forecast: &[&str]| {
            let budget = Some("100.00 USD".parse().unwrap());
            Spending { budget, forecast: sum(forecast), ..Spending::default() }.left()
        };
        assert_eq!(of(&["99.99 USD", "500 EUR"]).unwrap().to_string(), "0.01 USD");
        assert_eq!(of(&["100.00 USD"]).unwrap().to_string(), "0.00 USD");
        assert_eq!(of(&["100.01 USD"]), None);
        assert_eq!(Spending::default().left(), None);
    }

    #[test]
    fn what_is_kept_back_is_a_share_of_each_currency_to_the_cent() {
        assert_eq!(of_hundred(&sum(&["10.05 USD", "3.00 EUR"]), 15), sum(&["1.51 USD", "0.45 EUR"]));
        assert_eq!(of_hundred(&sum(&["10.05 USD"]), 0), Amounts::default());
    }
}
