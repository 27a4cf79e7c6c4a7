//! What would clear the clashes of a plan together: sets of changes to what the owner chose, the best first.
//!
//! Clashes that one change can touch form a knot. Each knot is searched by itself (`search.rs`), the best of each are
//! assessed together, and those that meet again are searched as one. The best set leaves the fewest clashes, gives up least
//! of what was wished (the price of what is not put in any more, nor a part that does the same), has the fewest changes,
//! leaves the least to measure and costs least.
//!
//! A clash is cleared by a change at one place, or by two together where no single one does without giving a wish up: a drop
//! arm and the one-piece link for it. Whether they clear it is read from its joint, limit, pool or need alone
//! (`assess/trial.rs`); at a place that follows the plan itself puts in what then fits.

mod proof;
mod search;

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::amounts::Amounts;
use crate::assess::{Changes, Check, Ways, assess, on_trial};
use crate::assessment::Assessment;
use crate::catalogue::{Catalogue, PositionId};
use crate::change::with_numbers;
use crate::key::CheckKey;
use crate::sheet::{Choice, Plan, Sheet};
pub use search::MOST_ASSESSED;
use search::{Knot, Search, State};

/// Sets that are told, of all and of each knot.
const MOST_SETS: usize = 3;

/// Of the assessments, those that are spent on the second and third sets.
const FOR_OTHERS: usize = 100;

/// Changes that clear clashes together.
#[derive(Clone, Debug, PartialEq)]
pub struct CureSet {
    /// Positions with what is chosen there, by position.
    pub changes: BTreeMap<String, Choice>,
    /// Positions where what the owner had chosen is not put in any more, nor a part that does the same.
    pub gives_up: Vec<String>,
    /// Clashes that are left.
    pub left: Vec<CheckKey>,
    /// Change in money for all. What is spent stays spent.
    pub money: Amounts,
    /// Change in hours.
    pub hours: f64,
    /// Change in how much is to be measured.
    pub to_measure: i64,
}

/// Clashes that one change can touch, with what clears them and nothing else.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KnotSets {
    /// The clashes, in order.
    pub clashes: Vec<CheckKey>,
    /// At most three sets, the best first; those of the clashes of other knots are among what each leaves.
    pub sets: Vec<CureSet>,
}

/// Sets of changes, the best first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Together {
    /// At most three, for all clashes together.
    pub sets: Vec<CureSet>,
    /// Each knot by itself, in the order of the clashes.
    pub knots: Vec<KnotSets>,
    /// No set is better than the first: all that could be were tried. `false`: these are the best that were found.
    pub proved: bool,
    /// How many assessments it took.
    pub assessed: usize,
}

/// What would clear the clashes of a plan together; no set where nothing clears any. Takes up to five hundred assessments.
#[must_use]
pub fn together(sheet: &Sheet, plan: &str, catalogue: &Catalogue, a: &Assessment) -> Together {
    together_while(sheet, plan, catalogue, a, &|| true).unwrap_or_default()
}

/// The same, given up as soon as it is not wanted any more, which is asked before every assessment; `None` where it was.
#[must_use]
pub fn together_while(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    a: &Assessment,
    wanted: &dyn Fn() -> bool,
) -> Option<Together> {
    let nothing = Together { proved: true, ..Together::default() };
    let Some(entry) = sheet.plans.get(plan).filter(|_| !a.clashes.is_empty()) else { return Some(nothing) };
    let sheet = &with_numbers(sheet, a);
    let given_up = Cell::new(false);
    let wanted = || {
        given_up.set(given_up.get() || !wanted());
        !given_up.get()
    };
    let found = on_trial(sheet, plan, catalogue, |trial| searched(Search::new(trial, &wanted)));
    if given_up.get() {
        return None;
    }
    let Some(mut found) = found.flatten() else { return Some(nothing) };
    // what is told of a set is what the plan then comes to, word for word
    for set in &mut found.sets {
        told_by(set, sheet, (plan, entry), catalogue, a);
    }
    Some(found)
}

/// What a plan with a set of changes comes to.
fn told_by(
    set: &mut CureSet,
    sheet: &Sheet,
    (plan, entry): (&str, &Plan),
    catalogue: &Catalogue,
    a: &Assessment,
) {
    let mut changed = entry.clone();
    changed.routes.extend(set.changes.clone());
    let plans = BTreeMap::from([(plan.to_owned(), changed)]);
    let after = assess(&Sheet { plans, ..sheet.clone() }, plan, catalogue);
    set.left = after.clashes.iter().map(|clash| clash.key.clone()).collect();
    set.money = &after.totals.money.all() - &a.totals.money.all();
    set.hours = after.totals.hours - a.totals.hours;
    set.to_measure = after.to_measure.len() as i64 - a.to_measure.len() as i64;
}

/// A knot under search.
struct Open {
    knot: Knot,
    /// What was found for it, the best first.
    found: Vec<Rc<State>>,
}

fn searched(mut search: Search<'_, '_>) -> Option<Together> {
    let root = search.tried(&Changes::new())?;
    let ways = search.ways(&root.changes, &root.broken);
    let mut knots = knots(&ways);
    let mut open: BTreeMap<BTreeSet<Check>, Open> = BTreeMap::new();
    let joined = loop {
        let mut due = knots.iter().filter(|knot| !open.contains_key(*knot)).count();
        for keys in &knots {
            if open.contains_key(keys) {
                continue;
            }
            // each its share, so that one knot does not leave the others without
            search.most =
                search.assessed + (MOST_ASSESSED - FOR_OTHERS).saturating_sub(search.assessed) / due;
            due -= 1;
            let others = root.broken.difference(keys).copied().collect();
            let mut knot = Knot::new(&root, others);
            let best = knot.next(&mut search).or_else(|| knot.nearest());
            open.insert(keys.clone(), Open { knot, found: best.into_iter().collect() });
        }
        search.most = MOST_ASSESSED;
        let best: Vec<&Rc<State>> = knots.iter().filter_map(|keys| open[keys].found.first()).collect();
        let Some(joined) = search.tried(&union(&best)) else { break None };
        if knots.len() == 1 || search.is_cut {
            break Some(joined);
        }
        match meeting(&knots, &open, &joined, &mut search) {
            Some(as_one) => knots = as_one,
            None => break Some(joined),
        }
    };
    open.retain(|keys, _| knots.contains(keys));
    let all = search.trial.choices();
    search.most = MOST_ASSESSED - FOR_OTHERS;
    search.is_cut = false;
    let joined = search.climbed(joined.unwrap_or_else(|| root.clone()), &all);
    let (joined, proved) = search.proved(joined, &all);
    search.most = MOST_ASSESSED;
    for Open { knot, found } in open.values_mut() {
        while found.len() < MOST_SETS {
            let Some(next) = knot.next(&mut search) else { break };
            if found.iter().all(|other| !search.trial.are_alike(&other.changes, &next.changes)) {
                found.push(next);
            }
        }
    }
    of_the_best(&joined, &mut open, &mut search);
    let mut whole: Vec<Rc<State>> = vec![joined];
    let found: Vec<&Vec<Rc<State>>> = open.values().map(|open| &open.found).collect();
    // the others of each knot, with the best of the rest
    for (at, states) in found.iter().enumerate() {
        for other in states.iter().skip(1) {
            let of = |(n, states): (usize, &&Vec<Rc<State>>)| {
                if n == at { Some(other.clone()) } else { states.first().cloned() }
            };
            let chosen: Vec<Rc<State>> = found.iter().enumerate().filter_map(of).collect();
            whole.extend(search.tried(&union(&chosen.iter().collect::<Vec<_>>())));
        }
    }
    whole.retain(|state| !state.changes.is_empty() && state.broken.len() < root.broken.len());
    whole.sort_by_cached_key(|state| (state.rank(), parts(&search, state)));
    let mut others: Vec<Rc<State>> = Vec::new();
    for state in whole {
        if others.len() < MOST_SETS
            && others.iter().all(|other| !search.trial.are_alike(&other.changes, &state.changes))
        {
            others.push(state);
        }
    }
    let whole = others;
    let sets = whole.iter().map(|state| told(&mut search, &root, state)).collect();
    let mut by_knot: Vec<KnotSets> = Vec::new();
    for (keys, Open { found, .. }) in &open {
        let all = search.trial.keys_of(&root.changes, keys);
        let sets = found.iter().filter(|state| !state.changes.is_empty());
        by_knot.push(KnotSets {
            clashes: all.into_iter().collect(),
            sets: sets.map(|state| told(&mut search, &root, state)).collect(),
        });
    }
    by_knot.sort_by(|a, b| a.clashes.cmp(&b.clashes));
    Some(Together { sets, knots: by_knot, proved, assessed: search.assessed })
}

/// What the best of all does about a knot stands among the sets of the knot: it was looked for with more care than these.
fn of_the_best(joined: &State, open: &mut BTreeMap<BTreeSet<Check>, Open>, search: &mut Search<'_, '_>) {
    let places = |open: &Open| -> BTreeSet<PositionId> {
        open.found.iter().flat_map(|state| state.changes.keys().copied()).collect()
    };
    let all: Vec<BTreeSet<PositionId>> = open.values().map(places).collect();
    for (at, (keys, Open { found, .. })) in open.iter_mut().enumerate() {
        // what no other knot changes is changed for this one
        let others = all.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, places)| places);
        let is_of_it =
            |pos: &PositionId| all[at].contains(pos) || !others.clone().any(|places| places.contains(pos));
        let changes: Changes =
            joined.changes.iter().filter(|(pos, _)| is_of_it(pos)).map(|(pos, said)| (*pos, *said)).collect();
        let Some(state) = search.tried(&changes) else { continue };
        let clears = keys.iter().all(|key| !state.broken.contains(key));
        if !clears || found.iter().any(|other| search.trial.are_alike(&other.changes, &state.changes)) {
            continue;
        }
        let at = found.iter().position(|other| state.rank() < other.rank()).unwrap_or(found.len());
        found.insert(at, state);
        found.truncate(MOST_SETS);
    }
}

fn union(states: &[&Rc<State>]) -> Changes {
    states.iter().flat_map(|state| &state.changes).map(|(pos, said)| (*pos, *said)).collect()
}

fn parts(search: &Search<'_, '_>, state: &State) -> Vec<String> {
    search.trial.named(&state.changes).into_values().filter_map(|choice| choice.part).collect()
}

fn told(search: &mut Search<'_, '_>, root: &State, state: &State) -> CureSet {
    let given = state.changes.iter().filter(|(pos, said)| search.trial.given_up(**pos, **said).is_some());
    let mut gives_up: Vec<String> = given.map(|(pos, _)| search.trial.place(*pos)).collect();
    gives_up.sort();
    CureSet {
        changes: search.trial.named(&state.changes),
        gives_up,
        left: search.trial.keys_of(&state.changes, &state.broken).into_iter().collect(),
        money: &state.money - &root.money,
        hours: state.hours - root.hours,
        to_measure: state.to_measure - root.to_measure,
    }
}

/// Clashes that one change can touch, each set of them.
fn knots(ways: &BTreeMap<Check, Rc<Ways>>) -> Vec<BTreeSet<Check>> {
    let mut knots: Vec<(BTreeSet<Check>, BTreeSet<PositionId>)> = Vec::new();
    for (key, ways) in ways {
        let mut keys = BTreeSet::from([*key]);
        let mut places = ways.places.clone();
        let (meeting, apart) = knots.into_iter().partition(|(_, others)| !places.is_disjoint(others));
        knots = apart;
        for (other_keys, other_places) in meeting {
            keys.extend(other_keys);
            places.extend(other_places);
        }
        knots.push((keys, places));
    }
    knots.into_iter().map(|(keys, _)| keys).collect()
}

/// Knots of which the best change one place, or touch what does not fit when all are taken and did with each, as one; where
/// those are not two, all. `None` where they do not meet.
fn meeting(
    knots: &[BTreeSet<Check>],
    open: &BTreeMap<BTreeSet<Check>, Open>,
    joined: &State,
    search: &mut Search<'_, '_>,
) -> Option<Vec<BTreeSet<Check>>> {
    let changed = |keys: &BTreeSet<Check>| -> Vec<PositionId> {
        open[keys].found.iter().take(1).flat_map(|state| state.changes.keys().copied()).collect()
    };
    let mut times: BTreeMap<PositionId, usize> = BTreeMap::new();
    knots.iter().flat_map(changed).for_each(|pos| *times.entry(pos).or_default() += 1);
    let mut trouble: BTreeSet<PositionId> =
        times.into_iter().filter(|(_, times)| *times > 1).map(|(pos, _)| pos).collect();
    let expected =
        |keys: &BTreeSet<Check>| open[keys].knot.left(open[keys].found.first().map(|state| &**state));
    let expected: BTreeSet<Check> = knots.iter().flat_map(expected).collect();
    let new: BTreeSet<Check> = joined.broken.difference(&expected).copied().collect();
    if trouble.is_empty() && new.is_empty() {
        return None;
    }
    trouble.extend(search.trial.about(&joined.changes, &new));
    let touches = |keys: &&BTreeSet<Check>| changed(keys).iter().any(|pos| trouble.contains(pos));
    let (meeting, mut apart): (Vec<_>, Vec<_>) = knots.iter().partition(touches);
    let mut one: BTreeSet<Check> = meeting.iter().copied().flatten().copied().collect();
    if meeting.len() < 2 {
        one.extend(apart.drain(..).flatten().copied());
    }
    Some(apart.into_iter().cloned().chain([one]).collect())
}

#[cfg(test)]
mod tests;
