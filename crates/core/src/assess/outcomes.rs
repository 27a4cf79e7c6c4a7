//! What choices that are no offers of one position would bring: the remedies of a clash, and leaving a position to the plan.

use super::bench::{Bench, By};
use super::ground::Ground;
use super::offers::{Offered, offer, sum};
use crate::assessment::Offer;
use crate::catalogue::Catalogue;
use crate::progress::Progress;
use crate::sheet::{Choice, Route, Sheet};

/// What each of these choices would bring against the plan as it stands, each on its own, in their order: a position
/// and what is chosen there. `None` where position or part is not known, and for what was still to come when it was given
/// up; a step a choice.
#[must_use]
pub fn outcomes(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    choices: &[(String, Choice)],
    progress: &Progress,
) -> Vec<Option<Offer>> {
    progress.expect(choices.len());
    let nothing = || choices.iter().map(|_| None).collect();
    let catalogue = catalogue.for_sheet(sheet);
    let Some(entry) = sheet.plans.get(plan) else { return nothing() };
    let Ok(ground) = Ground::new(sheet, entry, &catalogue) else { return nothing() };
    let mut bench = Bench::new(&ground, false);
    bench.decide();
    let before = sum(&bench, None);
    let mut one = |id: &String, choice: &Choice| {
        if !progress.step() {
            return None;
        }
        let pos = ground.v.position_ix.get(id).copied()?;
        let fitted = match choice.route {
            Route::Convert => Some(ground.cat.part_names.get(choice.part.as_deref()?)?),
            _ => None,
        };
        let part = fitted.or(ground.as_found[pos]);
        let offered = Offered {
            choice: choice.clone(),
            chosen: Some((choice.route, fitted)),
            name: part.map_or_else(|| "leave empty".to_owned(), |p| bench.name(p)),
        };
        let kept = bench.choose(pos, offered.chosen);
        bench.decide();
        let after = sum(&bench, Some(&before));
        // only what was said is how the plan stands: a position nobody chose for may be filled
        let now = ground.plan.routes.get(id);
        let out = Offer { current: now == Some(choice), ..offer(&bench, pos, offered, now, &before, &after) };
        bench.choose(pos, kept);
        Some(out)
    };
    choices.iter().map(|(id, choice)| one(id, choice)).collect()
}

/// What the plan itself puts at a position where nobody chooses, with what leaving it so would bring; `None` where it
/// puts nothing there, so that keeping what was found is the same.
#[must_use]
pub fn left_to_the_plan(sheet: &Sheet, plan: &str, catalogue: &Catalogue, position: &str) -> Option<Offer> {
    let catalogue = catalogue.for_sheet(sheet);
    let ground = Ground::new(sheet, sheet.plans.get(plan)?, &catalogue).ok()?;
    let pos = ground.v.position_ix.get(position).copied()?;
    let mut bench = Bench::new(&ground, false);
    bench.decide();
    let before = sum(&bench, None);
    bench.choose(pos, None);
    bench.decide();
    if !matches!(bench.slot(pos).by, By::Fill | By::Kit(_)) {
        return None;
    }
    let after = sum(&bench, Some(&before));
    let name = bench.slot(pos).part.map_or_else(|| "nothing".to_owned(), |p| bench.name(p));
    let offered = Offered { choice: Choice::default(), chosen: None, name };
    let current = !ground.plan.routes.contains_key(position);
    let out = offer(&bench, pos, offered, None, &before, &after);
    Some(Offer { current, ..out })
}

#[cfg(test)]
mod tests;
