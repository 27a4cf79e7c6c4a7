//! What would clear a clash, looked at as a whole: what the plan would come to with each remedy, the best first.

use std::cmp::Reverse;

use crate::amounts::Amounts;
use crate::assess::outcomes;
use crate::assessment::{Assessment, Clash, Offer, Remedy};
use crate::catalogue::Catalogue;
use crate::change::{Change, of_choices};
use crate::progress::Progress;
use crate::sheet::{Choice, Route, Sheet};

/// A remedy that is a choice, with what it would bring against the plan as it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// Position and part, as the remedy names them.
    pub of: (String, String),
    /// What is written into the plan.
    pub choice: Choice,
    /// What it brings; `None` where that cannot be worked out.
    pub offer: Option<Offer>,
    /// What it does to money that is spent already; `None` where none is.
    pub change: Option<Change>,
}

/// What a remedy writes into the plan: what was found there is kept, not bought.
#[must_use]
pub fn choice(a: &Assessment, position: &str, part: &str) -> Choice {
    let here = a.positions.iter().find(|p| p.id == position);
    let found = here.and_then(|p| p.as_found.as_ref()).is_some_and(|(id, _)| id == part);
    match found {
        true => Choice { route: Route::Keep, part: None },
        false => Choice { route: Route::Convert, part: Some(part.to_owned()) },
    }
}

/// Every remedy of a plan that is a choice, worked out; it takes as long as an assessment for each.
#[must_use]
pub fn cures(sheet: &Sheet, plan: &str, catalogue: &Catalogue, a: &Assessment) -> Vec<Cure> {
    cures_while(sheet, plan, catalogue, a, &Progress::default()).unwrap_or_default()
}

/// The same, two steps a remedy; `None` where it was given up.
#[must_use]
pub fn cures_while(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    a: &Assessment,
    progress: &Progress,
) -> Option<Vec<Cure>> {
    let mut named: Vec<&(String, String)> =
        a.clashes.iter().flat_map(|c| &c.remedies).filter_map(|r| r.choice.as_ref()).collect();
    named.sort();
    named.dedup();
    let choices: Vec<(String, Choice)> =
        named.iter().map(|(place, part)| (place.clone(), choice(a, place, part))).collect();
    let told = outcomes(sheet, plan, catalogue, &choices, progress);
    let written: Vec<_> =
        choices.iter().map(|(place, choice)| (place.clone(), Some(choice.clone()))).collect();
    let mut changes = of_choices(sheet, plan, catalogue, &written, progress).into_iter();
    let all = named.into_iter().zip(choices).zip(told);
    let all =
        all.map(|((of, (_, choice)), offer)| Cure { of: of.clone(), choice, offer, change: changes.next() });
    (!progress.is_given_up()).then(|| all.collect())
}

/// What a remedy brings, where it is among those that were worked out.
#[must_use]
pub fn cure<'a>(cures: &'a [Cure], remedy: &Remedy) -> Option<(&'a Offer, Option<&'a Change>)> {
    let of = remedy.choice.as_ref()?;
    let cure = cures.iter().find(|cure| cure.of == *of)?;
    Some((cure.offer.as_ref()?, cure.change.as_ref()))
}

/// How many clashes the plan would have.
#[must_use]
pub fn left(a: &Assessment, offer: &Offer) -> usize {
    (a.clashes.len() + offer.clashes_added.len()).saturating_sub(offer.clashes_removed.len())
}

/// Whether it clears the clash at all.
#[must_use]
pub fn clears(clash: &Clash, offer: &Offer) -> bool {
    offer.clashes_removed.contains(&clash.name)
}

/// The remedies of a clash, those that clear it best first: cleared at all, then the fewest clashes left, the least to
/// measure, the least money. What is no choice, or is not worked out yet, keeps its order behind them.
#[must_use]
pub fn ranked<'a>(a: &Assessment, clash: &'a Clash, cures: &[Cure]) -> Vec<&'a Remedy> {
    let mut all: Vec<&Remedy> = clash.remedies.iter().collect();
    all.sort_by_key(|remedy| match cure(cures, remedy) {
        Some((offer, _)) => (
            0,
            Reverse(clears(clash, offer)),
            left(a, offer),
            offer.to_measure,
            offer.unpriced,
            offer.money.clone(),
        ),
        None => {
            (if remedy.choice.is_some() { 1 } else { 2 }, Reverse(false), 0, 0, false, Amounts::default())
        }
    });
    all
}
