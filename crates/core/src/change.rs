//! What a change of mind costs once parts are bought: the money still to be spent, and the money that lies idle.

use crate::amounts::Amounts;
use crate::assess::assess;
use crate::assessment::{Assessment, BuyLine, Offer};
use crate::catalogue::Catalogue;
use crate::edit::{Edit, apply};
use crate::progress::Progress;
use crate::sheet::{Choice, LineState, Sheet};
use crate::spent::Idle;

/// What one change of a plan does to the money, against the plan as it stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// The currency of the sums of the plan as it stands.
    pub currency: String,
    /// Change in the money still to be spent: what is to buy afterwards, less what was to buy before.
    pub to_come: Amounts,
    /// Bought or ordered, wanted before, and not afterwards.
    pub idle: Vec<Idle>,
    /// Money in what of them is in hand or fitted: spent, unless it can be sent back or sold.
    pub idle_spent: Amounts,
    /// Money in what of them is on order: to be called off.
    pub idle_on_order: Amounts,
    /// How many of them count for nothing, since nobody says what was paid or they have no price.
    pub not_summed: usize,
    /// Hours of work that was done on what is fitted, and is lost.
    pub hours: f64,
}

/// The edits that write down how many are bought of each line that does not say: as many as the plan wants. Once it is
/// written, no change of the plan makes it less.
#[must_use]
pub fn counted(sheet: &Sheet, a: &Assessment) -> Vec<Edit> {
    let is_live = |l: &&BuyLine| l.waived.is_none() && l.state.is_bought();
    let not_said = a
        .buy
        .iter()
        .filter(is_live)
        .filter(|l| sheet.lines.get(&l.part).is_some_and(|line| line.qty.is_none()));
    not_said.map(|l| Edit::SetQty { part: l.part.clone(), qty: Some(l.qty) }).collect()
}

/// A sheet with how many are bought written down, by an assessment of its plan.
#[must_use]
pub fn with_numbers(sheet: &Sheet, a: &Assessment) -> Sheet {
    let mut sheet = sheet.clone();
    for edit in counted(&sheet, a) {
        // a number for a line that is there always applies
        let _ = apply(&mut sheet, &edit);
    }
    sheet
}

/// Compares two states of a plan, of a sheet that says how many are bought. Nothing is idle where nothing was bought.
#[must_use]
pub fn change(before: &Assessment, after: &Assessment) -> Change {
    let was_idle = |part: &str| before.idle.iter().find(|l| l.part == part).and_then(|l| l.qty);
    let newly = |l: &Idle| {
        let qty = l.qty.map(|qty| qty.saturating_sub(was_idle(&l.part).unwrap_or_default()));
        let was_wanted = before.buy.iter().any(|b| b.part == l.part && b.waived.is_none());
        (qty.map_or(was_wanted, |qty| qty > 0)).then(|| Idle { qty, ..l.clone() })
    };
    let idle: Vec<Idle> = after.idle.iter().filter_map(newly).collect();
    let (was, is) = (&before.totals.money, &after.totals.money);
    Change {
        currency: before.totals.currency.clone(),
        to_come: &is.to_come - &was.to_come,
        idle_spent: sum(&idle, LineState::is_here),
        idle_on_order: sum(&idle, |state| !state.is_here()),
        not_summed: idle.iter().filter(|l| l.price.is_none()).count(),
        idle,
        hours: lost_hours(before, after),
    }
}

fn sum(idle: &[Idle], counts: impl Fn(LineState) -> bool) -> Amounts {
    let prices: Vec<_> = idle.iter().filter(|l| counts(l.state)).filter_map(Idle::money).collect();
    prices.iter().collect()
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
    of_choices(sheet, plan, catalogue, &offers.iter().map(one).collect::<Vec<_>>(), &Progress::default())
}

/// What each of these choices would do to the money of the plan, each on its own, in their order; empty where nothing
/// is bought yet. A position and what is chosen there, `None` for nothing. A step a choice; where it is given up, what was
/// still to come changes nothing.
#[must_use]
pub fn of_choices(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    choices: &[(String, Option<Choice>)],
    progress: &Progress,
) -> Vec<Change> {
    if !sheet.lines.values().any(|line| line.state.is_bought()) {
        return Vec::new();
    }
    progress.expect(choices.len());
    let catalogue = catalogue.for_sheet(sheet);
    let before = assess(sheet, plan, &catalogue);
    let sheet = &with_numbers(sheet, &before);
    let one = |(position, choice): &(String, Option<Choice>)| {
        let (position, choice) = (position.clone(), choice.clone());
        let choose = Edit::Choose { plan: plan.to_owned(), position, choice };
        let mut changed = sheet.clone();
        match apply(&mut changed, &choose) {
            Ok(()) if progress.step() && changed != *sheet => {
                change(&before, &assess(&changed, plan, &catalogue))
            }
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

#[cfg(test)]
mod tests;
