//! What a change of mind costs once parts are bought: the money still to be spent, and the money that lies idle.
//!
//! The sums of a plan count what the plan wants. A part that is bought and then not wanted any more drops out of them,
//! though its money is gone: it is told here.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use crate::assess::assess;
use crate::assessment::{Assessment, BuyLine, Offer};
use crate::box_key::BoxKey;
use crate::catalogue::Catalogue;
use crate::edit::{Edit, apply};
use crate::money::Money;
use crate::refund::CameBack;
use crate::sheet::{Choice, LineState, Sheet};

/// Something on order, in hand or fitted that nothing in the plan wants.
#[derive(Clone, Debug, PartialEq)]
pub struct Idle {
    /// Part id, as in the buying record.
    pub part: String,
    /// As shown.
    pub name: String,
    /// How many; `None`: the record does not say, at least one.
    pub qty: Option<u32>,
    /// Where it stands.
    pub state: LineState,
    /// Price each: what was paid, else the library's.
    pub price: Option<Money>,
    /// What came back of it, in the currency of the price; where some of the line is still wanted, that stays with those.
    pub came_back: Decimal,
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

/// Sums over idle lines, in one currency.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sums {
    /// In hand or fitted: spent, unless it can be sent back or sold.
    pub spent: Decimal,
    /// On order: to be called off.
    pub on_order: Decimal,
    /// Lines with no price, or of another currency, that are not in the sums.
    pub not_summed: usize,
}

/// Adds idle lines up.
#[must_use]
pub fn sums(idle: &[Idle], currency: &str) -> Sums {
    let mut out = Sums::default();
    for line in idle {
        match (line.money().filter(|m| m.currency == currency), line.state) {
            (None, _) => out.not_summed += 1,
            (Some(m), LineState::OnOrder) => out.on_order += m.amount,
            (Some(m), _) => out.spent += m.amount,
        }
    }
    out
}

/// What one change of a plan does to the money, against the plan as it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// The currency of the sums.
    pub currency: String,
    /// Change in the money still to be spent: what is to buy afterwards, less what was to buy before.
    pub to_come: Decimal,
    /// Bought or ordered, wanted before, and not afterwards.
    pub idle: Vec<Idle>,
    /// Sums over them.
    pub sums: Sums,
    /// Hours of work that was done on what is fitted, and is lost.
    pub hours: f64,
}

fn bought(state: LineState) -> bool {
    matches!(state, LineState::OnOrder | LineState::InHand | LineState::Fitted)
}

fn wanted<'a>(a: &'a Assessment, part: &'a str) -> impl Iterator<Item = &'a BuyLine> {
    a.buy.iter().filter(move |l| l.part == part && l.waived.is_none())
}

/// What came back in the currency of a price.
fn in_currency(came_back: &BTreeMap<CameBack, Money>, price: Option<&Money>) -> Decimal {
    let same = |money: &&Money| price.is_some_and(|price| price.currency == money.currency);
    came_back.values().filter(same).map(|money| money.amount).sum()
}

/// Compares two states of a plan. Nothing is idle where nothing was bought.
#[must_use]
pub fn change(before: &Assessment, after: &Assessment) -> Change {
    let mut idle = Vec::new();
    for line in before.buy.iter().filter(|l| l.waived.is_none() && bought(l.state)) {
        let still: u32 = wanted(after, &line.part).map(|l| l.qty).fold(0, u32::saturating_add);
        let qty = line.qty.saturating_sub(still);
        if qty > 0 {
            idle.push(Idle {
                part: line.part.clone(),
                name: line.name.clone(),
                qty: Some(qty),
                state: line.state,
                price: line.price.clone(),
                came_back: if still == 0 {
                    in_currency(&line.came_back, line.price.as_ref())
                } else {
                    Decimal::ZERO
                },
            });
        }
    }
    let currency = before.totals.currency.clone();
    Change {
        to_come: after.totals.to_come - before.totals.to_come,
        sums: sums(&idle, &currency),
        idle,
        currency,
        hours: lost_hours(before, after),
    }
}

/// Hours put into what is fitted and comes off again.
fn lost_hours(before: &Assessment, after: &Assessment) -> f64 {
    let places = before.positions.iter().filter(|p| p.active && p.line == LineState::Fitted).filter(|p| {
        let now = after.positions.iter().find(|n| n.id == p.id);
        now.is_none_or(|n| n.fitted != p.fitted || n.route != p.route)
    });
    let others = before.companions.iter().filter(|c| c.line == LineState::Fitted && c.waived.is_none());
    let gone = others.filter(|c| !after.companions.iter().any(|n| n.key == c.key && n.part == c.part));
    places.map(|p| p.hours).sum::<f64>() + gone.map(|c| c.hours).sum::<f64>()
}

/// What each of these offers would do to the money of the plan, in their order; empty where nothing is bought yet, so
/// that the offers say it all.
#[must_use]
pub fn of_offers(sheet: &Sheet, plan: &str, catalogue: &Catalogue, offers: &[Offer]) -> Vec<Change> {
    let routes = sheet.plans.get(plan).map(|p| &p.routes);
    let one = |offer: &Offer| {
        let choice = Choice { route: offer.route, part: offer.part.clone() };
        let choice = match offer.current {
            true => routes.and_then(|r| r.get(&offer.position)).cloned(),
            false => Some(choice),
        };
        (offer.position.clone(), choice)
    };
    of_choices(sheet, plan, catalogue, &offers.iter().map(one).collect::<Vec<_>>())
}

/// What each of these choices would do to the money of the plan, each on its own, in their order; empty where nothing
/// is bought yet. A position and what is chosen there, `None` for nothing.
#[must_use]
pub fn of_choices(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    choices: &[(String, Option<Choice>)],
) -> Vec<Change> {
    if !sheet.lines.values().any(|line| bought(line.state)) {
        return Vec::new();
    }
    let catalogue = catalogue.for_sheet(sheet);
    let before = assess(sheet, plan, &catalogue);
    let one = |(position, choice): &(String, Option<Choice>)| {
        let (position, choice) = (position.clone(), choice.clone());
        let choose = Edit::Choose { plan: plan.to_owned(), position, choice };
        let mut changed = sheet.clone();
        match apply(&mut changed, &choose) {
            Ok(()) if changed != *sheet => change(&before, &assess(&changed, plan, &catalogue)),
            _ => Change { currency: before.totals.currency.clone(), ..Change::default() },
        }
    };
    choices.iter().map(one).collect()
}

/// The assessment of a plan as it stands with an offer chosen.
#[must_use]
pub fn chosen(sheet: &Sheet, plan: &str, catalogue: &Catalogue, offer: &Offer) -> Assessment {
    let choice = Choice { route: offer.route, part: offer.part.clone() };
    let choose =
        Edit::Choose { plan: plan.to_owned(), position: offer.position.clone(), choice: Some(choice) };
    let mut changed = sheet.clone();
    // an edit that does not apply leaves the plan as it stands
    let _ = apply(&mut changed, &choose);
    assess(&changed, plan, catalogue)
}

/// What is on order, in hand or fitted by the buying record and stands nowhere in the plan, by name. A plan's own
/// buy list does not hold it, so its money would be out of sight.
#[must_use]
pub fn idle(sheet: &Sheet, catalogue: &Catalogue, a: &Assessment) -> Vec<Idle> {
    let catalogue = catalogue.for_sheet(sheet);
    let mut out = Vec::new();
    for (id, line) in sheet.lines.iter().filter(|(_, line)| bought(line.state)) {
        // what lies in a box has no money of its own: the line of its kit tells it
        if a.buy.iter().any(|l| l.part == *id) || id.parse::<BoxKey>().is_ok() {
            continue;
        }
        let rebuilt = id.strip_suffix(".rebuild");
        let part = catalogue.part(rebuilt.unwrap_or(id)).map(|entry| &entry.part);
        let known = match (part, rebuilt) {
            (Some(part), None) => Some((part.name.clone(), part.price.clone())),
            (Some(part), Some(_)) => {
                Some((format!("Rebuild: {}", part.name), part.rebuild.as_ref().and_then(|w| w.price.clone())))
            }
            (None, _) => None,
        };
        let (name, price) = known.unwrap_or_else(|| (id.clone(), None));
        out.push(Idle {
            part: id.clone(),
            name,
            qty: None,
            state: line.state,
            came_back: in_currency(&line.came_back, line.paid.as_ref().or(price.as_ref())),
            price: line.paid.clone().or(price),
        });
    }
    out.sort_by(|a, b| (&a.name, &a.part).cmp(&(&b.name, &b.part)));
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn line(part: &str, qty: u32, price: &str, state: LineState) -> BuyLine {
        let price: Option<Money> = price.parse().ok();
        BuyLine {
            part: part.into(),
            name: part.to_uppercase(),
            qty,
            total: price.as_ref().map(|m| m.times(qty)),
            came_back: BTreeMap::new(),
            price,
            supplier: String::new(),
            state,
            uses: Vec::new(),
            waived: None,
            danger: None,
            made: false,
            system: String::new(),
            old_price: None,
        }
    }

    /// Sums as `assess` makes them, for one currency.
    fn plan(buy: Vec<BuyLine>) -> Assessment {
        let mut a = Assessment { buy, ..Assessment::default() };
        a.totals.currency = "USD".into();
        for l in &a.buy {
            if let Some(total) = l.total.as_ref().filter(|_| l.state == LineState::ToBuy) {
                a.totals.to_come += total.amount;
            }
        }
        a
    }

    fn dollars(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn what_was_fitted_is_idle_and_the_new_one_is_paid_in_full() {
        use LineState::{Fitted, InHand, OnOrder, ToBuy};
        let before = plan(vec![
            line("old-carburettor", 1, "400.00 USD", Fitted),
            line("hose", 4, "5.00 USD", InHand),
            line("cap", 1, "12.00 USD", OnOrder),
            line("mystery", 1, "", InHand),
            line("filter", 1, "9.00 USD", ToBuy),
        ]);
        let after = plan(vec![
            line("new-carburettor", 1, "500.00 USD", ToBuy),
            line("hose", 1, "5.00 USD", InHand),
            line("filter", 1, "9.00 USD", ToBuy),
        ]);
        let change = change(&before, &after);
        // the plan's total would say + 73: in truth 500 are to be paid, and 415 lie idle
        assert_eq!(change.to_come, dollars("500"));
        assert_eq!(change.sums, Sums { spent: dollars("415"), on_order: dollars("12"), not_summed: 1 });
        let told: Vec<(&str, Option<u32>)> = change.idle.iter().map(|i| (i.part.as_str(), i.qty)).collect();
        assert_eq!(
            told,
            [("old-carburettor", Some(1)), ("hose", Some(3)), ("cap", Some(1)), ("mystery", Some(1))]
        );
        assert_eq!(super::change(&after, &before).idle, Vec::new(), "what is to buy is never idle");
    }

    #[test]
    fn what_came_back_lies_idle_no_more() {
        let mut rebuilt = line("starter", 2, "90.00 USD", LineState::InHand);
        rebuilt.came_back.insert(CameBack::Core, "60.00 USD".parse().unwrap());
        let before = plan(vec![rebuilt]);
        assert_eq!(change(&before, &plan(Vec::new())).sums.spent, dollars("120"));
        // one of two is still wanted, and what came back stays with it
        let one = plan(vec![line("starter", 1, "90.00 USD", LineState::InHand)]);
        assert_eq!(change(&before, &one).sums.spent, dollars("90"));
        let idle = Idle { qty: None, came_back: dollars("120"), ..change(&before, &one).idle.remove(0) };
        assert_eq!(idle.money().unwrap().amount, Decimal::ZERO, "nobody knows how many there are");
    }

    #[test]
    fn what_is_sent_back_or_left_out_on_purpose_is_not_idle() {
        let mut out = line("radio", 1, "80.00 USD", LineState::InHand);
        out.waived = Some("sold with the old dash".into());
        let before = plan(vec![out, line("wheel", 4, "90.00 USD", LineState::SentBack)]);
        assert_eq!(change(&before, &plan(Vec::new())).idle, Vec::new());
    }
}
