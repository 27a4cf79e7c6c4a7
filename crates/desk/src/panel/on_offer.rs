//! What can be done at a position: the routes on offer, and leaving it to the plan where the plan puts something there.

use knockon_core::assessment::{Assessment, Offer, PositionView};
use knockon_core::change::{Change, of_choices};
use knockon_core::progress::Progress;
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Amounts, Catalogue, Sheet, left_to_the_plan, offers_while};

use crate::app::view::Action;
use crate::wording;

/// One of them, with its consequences against the plan as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The consequences.
    pub offer: Offer,
    /// What is written into the plan; `None`: nobody chooses.
    pub choice: Option<Choice>,
    /// Nobody chooses, and the plan puts a part here or takes one off.
    pub left: bool,
}

impl Way {
    /// The action that takes it.
    pub fn take(&self) -> Action {
        Action::Choose(self.offer.position.clone(), self.choice.clone())
    }

    /// As shown.
    pub fn name(&self) -> String {
        match (self.left, self.offer.current) {
            (false, _) => wording::sentence(&wording::offer_name(&self.offer)),
            (true, true) => format!("Comes with the plan: {}", self.offer.name),
            (true, false) => format!("Leave it to the plan: {}", self.offer.name),
        }
    }
}

/// The ways at a position, and what each does to money that is spent already; a piece of work, so not for a
/// frame; `None` where it was given up.
pub fn at(
    sheet: &Sheet,
    catalogue: &Catalogue,
    position: &str,
    progress: &Progress,
) -> Option<(Vec<Way>, Vec<Change>)> {
    let plan = &sheet.plan;
    let left = left_to_the_plan(sheet, plan, catalogue, position);
    let said = sheet.plans.get(plan).and_then(|p| p.routes.get(position));
    let filled = left.is_some();
    let mut ways: Vec<Way> = left.into_iter().map(|offer| Way { offer, choice: None, left: true }).collect();
    ways.extend(offers_while(sheet, plan, catalogue, position, progress)?.into_iter().map(|mut offer| {
        let keep = offer.route == Route::Keep;
        // where the plan fills a place, what was found stays only if that is said
        if keep && filled {
            offer.current = said.is_some_and(|choice| choice.route == Route::Keep);
        }
        let choice = Choice { route: offer.route, part: offer.part.clone() };
        Way { offer, choice: (!keep || filled).then_some(choice), left: false }
    }));
    // the best first: what leaves the fewest clashes, then to measure, then money
    ways.sort_by_cached_key(|way| rank(&way.offer));
    let choices: Vec<_> = ways
        .iter()
        .map(|way| {
            let choice = if way.offer.current { said } else { way.choice.as_ref() };
            (position.to_owned(), choice.cloned())
        })
        .collect();
    let changes = of_choices(sheet, plan, catalogue, &choices, progress);
    (!progress.is_given_up()).then_some((ways, changes))
}

/// The better is the smaller: clashes left, to measure, money.
fn rank(offer: &Offer) -> (i64, i64, Amounts) {
    let count = |names: &[String]| i64::try_from(names.len()).unwrap_or(i64::MAX);
    let left = count(&offer.clashes_added).saturating_sub(count(&offer.clashes_removed));
    (left, offer.to_measure, offer.money.clone())
}

/// The kit whose box fills a position that nobody chose for, or that leaves it empty: where it is chosen, and its name.
pub fn kit_of(a: &Assessment, p: &PositionView) -> Option<(String, String)> {
    let kit = a.positions.iter().find(|other| Some(&other.id) == p.kit.as_ref())?;
    kit.fitted.as_ref().map(|(_, name)| (kit.id.clone(), name.clone()))
}
