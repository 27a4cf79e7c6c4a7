//! Sets of changes that clear clashes together, with the names and figures that are told of them.

use knockon_core::change::{Change, change, with_numbers};
use knockon_core::key::CheckKey;
use knockon_core::sheet::{Choice, Route};
use knockon_core::together::{CureSet, KnotSets, together_while};
use knockon_core::{Amounts, Assessment, Catalogue, Sheet, assess};

use crate::wording;

/// What is chosen at each of several positions.
pub type Choices = Vec<(String, Choice)>;

/// One change of a set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The place, as shown.
    pub place: String,
    /// The part that goes; `None`: the place is empty.
    pub from: Option<String>,
    /// What the owner has there then.
    pub to: To,
}

/// What is chosen at a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum To {
    /// This part.
    Part(String),
    /// What was found there.
    Found(String),
    /// Nothing.
    Nothing,
}

/// A set of changes.
#[derive(Clone, Debug, PartialEq)]
pub struct Set {
    /// What is written into the plan.
    pub choices: Choices,
    /// The same for the eye.
    pub changes: Vec<Changed>,
    /// What was wished and is not put in any more: place and part.
    pub gives_up: Vec<(String, String)>,
    /// How many of the clashes it is for are cleared.
    pub cleared: usize,
    /// How many it is for.
    pub of: usize,
    /// How many are left in the whole plan.
    pub left: usize,
    /// Those among them that the plan does not have now, by name.
    pub new: Vec<String>,
    /// Change in money for all.
    pub money: Amounts,
    /// Some of it has no price.
    pub unpriced: bool,
    /// What it does to money that is spent already.
    pub change: Change,
    /// Change in hours.
    pub hours: f64,
    /// Change in how much is to be measured.
    pub to_measure: i64,
}

/// Clashes that one change can touch, with what clears them.
#[derive(Clone, Debug, PartialEq)]
pub struct Knot {
    /// The clashes.
    pub clashes: Vec<CheckKey>,
    /// The best first.
    pub sets: Vec<Set>,
}

/// What would clear the clashes of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// For all clashes, the best first.
    pub sets: Vec<Set>,
    /// For each knot by itself; every clash is in one.
    pub knots: Vec<Knot>,
    /// Every way was tried.
    pub proved: bool,
}

impl Found {
    /// The knot of a clash.
    pub fn knot(&self, key: &CheckKey) -> Option<&Knot> {
        self.knots.iter().find(|knot| knot.clashes.contains(key))
    }
}

/// Works it out; `None` once it is not wanted any more. A long piece of work.
pub fn found(
    sheet: &Sheet,
    catalogue: &Catalogue,
    a: &Assessment,
    wanted: &dyn Fn() -> bool,
) -> Option<Found> {
    let catalogue = catalogue.for_sheet(sheet);
    let catalogue: &Catalogue = &catalogue;
    // what is bought stays bought, and how many of it is written down
    let sheet = &with_numbers(sheet, a);
    let together = together_while(sheet, &sheet.plan, catalogue, a, wanted)?;
    let told = |sets: &[CureSet], of: &[CheckKey]| -> Option<Vec<Set>> {
        sets.iter().map(|set| wanted().then(|| set_of(sheet, catalogue, a, set, of))).collect()
    };
    let all: Vec<CheckKey> = a.clashes.iter().map(|clash| clash.key.clone()).collect();
    let sets = told(&together.sets, &all)?;
    let knot = |knot: &KnotSets| {
        Some(Knot { sets: told(&knot.sets, &knot.clashes)?, clashes: knot.clashes.clone() })
    };
    let knots = together.knots.iter().map(knot).collect::<Option<Vec<_>>>()?;
    Some(Found { sets, knots, proved: together.proved })
}

fn set_of(sheet: &Sheet, catalogue: &Catalogue, a: &Assessment, set: &CureSet, of: &[CheckKey]) -> Set {
    let mut changed = sheet.clone();
    if let Some(plan) = changed.plans.get_mut(&sheet.plan) {
        plan.routes.extend(set.changes.clone());
    }
    let after = assess(&changed, &sheet.plan, catalogue);
    let is_left = |key: &CheckKey| after.clashes.iter().any(|clash| clash.key == *key);
    let is_new = |key: &CheckKey| !a.clashes.iter().any(|clash| clash.key == *key);
    let new = after.clashes.iter().filter(|clash| is_new(&clash.key));
    let wished = |position: &String| {
        let choice = sheet.plans.get(&sheet.plan)?.routes.get(position)?;
        let part = choice.part.as_deref().map(|id| name(catalogue, id))?;
        Some((wording::place(a, position).to_owned(), part))
    };
    Set {
        choices: set.changes.clone().into_iter().collect(),
        changes: set.changes.iter().map(|(position, choice)| told(catalogue, a, position, choice)).collect(),
        gives_up: set.gives_up.iter().filter_map(wished).collect(),
        cleared: of.iter().filter(|key| !is_left(key)).count(),
        of: of.len(),
        left: after.clashes.len(),
        new: new.map(|clash| clash.name.clone()).collect(),
        money: &after.totals.money.all() - &a.totals.money.all(),
        unpriced: after.totals.unpriced > a.totals.unpriced,
        change: change(a, &after),
        hours: after.totals.hours - a.totals.hours,
        to_measure: after.to_measure.len() as i64 - a.to_measure.len() as i64,
    }
}

fn told(catalogue: &Catalogue, a: &Assessment, position: &str, choice: &Choice) -> Changed {
    let here = a.positions.iter().find(|p| p.id == position);
    let found = || here.and_then(|p| p.as_found.as_ref()).map(|(_, name)| name.clone());
    let to = match (choice.route, &choice.part) {
        (Route::Convert, Some(part)) => To::Part(name(catalogue, part)),
        (Route::LeaveOff, _) => To::Nothing,
        _ => found().map_or(To::Nothing, To::Found),
    };
    let from = here.and_then(|p| p.fitted.as_ref()).map(|(_, name)| name.clone());
    Changed { place: wording::place(a, position).to_owned(), from, to }
}

fn name(catalogue: &Catalogue, part: &str) -> String {
    catalogue.part(part).map_or_else(|| part.to_owned(), |entry| entry.part.name.clone())
}
