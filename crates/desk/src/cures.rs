//! What would clear a clash, looked at as a whole: what the plan would come to with each remedy, the best first.

use std::cmp::Reverse;

use knockon_core::assessment::{Assessment, Clash, Offer, Remedy};
use knockon_core::change::{Change, of_choices};
use knockon_core::sheet::{Choice, Route};
use knockon_core::{Catalogue, Sheet, outcomes};
use rust_decimal::Decimal;

use crate::words;

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

/// The remedies of every clash of a revision.
#[derive(Clone, Debug, Default)]
pub struct Cures {
    /// The revision they are of, or are being worked out for.
    pub of: Option<u64>,
    /// Once they are there.
    pub list: Option<Vec<Cure>>,
    /// Those of the revision before: they stay in sight until the new ones are there, so that nothing jumps.
    pub before: Option<Vec<Cure>>,
}

impl Cures {
    /// What a remedy would bring, once that is known.
    pub fn offer(&self, remedy: &Remedy) -> Option<(&Offer, Option<&Change>)> {
        let of = remedy.choice.as_ref()?;
        let cure = self.list.as_ref().or(self.before.as_ref())?.iter().find(|cure| cure.of == *of)?;
        Some((cure.offer.as_ref()?, cure.change.as_ref()))
    }
}

/// What a remedy writes into the plan: what was found there is kept, not bought.
pub fn choice(a: &Assessment, position: &str, part: &str) -> Choice {
    let here = a.positions.iter().find(|p| p.id == position);
    let found = here.and_then(|p| p.as_found.as_ref()).is_some_and(|(id, _)| id == part);
    match found {
        true => Choice { route: Route::Keep, part: None },
        false => Choice { route: Route::Convert, part: Some(part.to_owned()) },
    }
}

/// Works them all out; a piece of work, so not for a frame.
pub fn work_out(sheet: &Sheet, catalogue: &Catalogue, a: &Assessment) -> Vec<Cure> {
    let mut named: Vec<&(String, String)> =
        a.clashes.iter().flat_map(|c| &c.remedies).filter_map(|r| r.choice.as_ref()).collect();
    named.sort();
    named.dedup();
    let choices: Vec<(String, Choice)> =
        named.iter().map(|(place, part)| (place.clone(), choice(a, place, part))).collect();
    let told = outcomes(sheet, &sheet.plan, catalogue, &choices);
    let written: Vec<_> =
        choices.iter().map(|(place, choice)| (place.clone(), Some(choice.clone()))).collect();
    let mut changes = of_choices(sheet, &sheet.plan, catalogue, &written).into_iter();
    named
        .into_iter()
        .zip(choices)
        .zip(told)
        .map(|((of, (_, choice)), offer)| Cure { of: of.clone(), choice, offer, change: changes.next() })
        .collect()
}

/// How many clashes the plan would have.
pub fn left(a: &Assessment, offer: &Offer) -> usize {
    (a.clashes.len() + offer.clashes_added.len()).saturating_sub(offer.clashes_removed.len())
}

/// The remedies of a clash, those that clear it best first: cleared at all, then the fewest clashes left, the least to
/// measure, the least money. What is no choice, or is not worked out yet, keeps its order behind them.
pub fn ranked<'a>(a: &Assessment, clash: &'a Clash, cures: &Cures) -> Vec<&'a Remedy> {
    let mut all: Vec<&Remedy> = clash.remedies.iter().collect();
    all.sort_by_key(|remedy| match cures.offer(remedy) {
        Some((offer, _)) => {
            (0, Reverse(clears(clash, offer)), left(a, offer), offer.to_measure, offer.unpriced, offer.money)
        }
        None => (if remedy.choice.is_some() { 1 } else { 2 }, Reverse(false), 0, 0, false, Decimal::ZERO),
    });
    all
}

fn clears(clash: &Clash, offer: &Offer) -> bool {
    offer.clashes_removed.contains(&clash.name)
}

/// How the plan would stand after a remedy, and whether that must be looked at: it does not clear the clash, or
/// something else does not fit instead.
pub fn verdict(a: &Assessment, clash: &Clash, offer: &Offer) -> (String, bool) {
    let (now, then) = (a.clashes.len(), left(a, offer));
    let mut text = if clears(clash, offer) { String::new() } else { "does not clear this · ".to_owned() };
    text += &match then {
        0 => "then all fits".to_owned(),
        n if n < now => format!("leaves {n} of {now} that do not fit"),
        n if n == now => format!("leaves {n} that {}, as many as now", words::do_not_fit(n)),
        n => format!("leaves {n} that {}, {} more than now", words::do_not_fit(n), n - now),
    };
    if !offer.clashes_added.is_empty() {
        text += &format!(" · new: {}", offer.clashes_added.join(", "));
    }
    let warm = then >= now || !offer.clashes_added.is_empty() || !clears(clash, offer);
    (words::sentence(&text), warm)
}

/// How many parts would clear a clash, and how far the best of them gets.
pub fn told(a: &Assessment, clash: &Clash, cures: &Cures) -> String {
    let n = clash.remedies.iter().filter(|r| r.choice.is_some()).count();
    if n == 0 {
        return "no part clears it".to_owned();
    }
    let parts = words::count(n, "part to choose", "parts to choose from");
    let best = ranked(a, clash, cures).first().and_then(|r| cures.offer(r));
    match best {
        None => parts,
        Some((offer, _)) if !clears(clash, offer) || left(a, offer) >= a.clashes.len() => {
            format!("{parts}, none leaves fewer clashes")
        }
        Some((offer, _)) => format!("{parts}, the best leaves {} of {}", left(a, offer), a.clashes.len()),
    }
}
