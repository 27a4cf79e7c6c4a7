//! What would clear the clashes of a plan together: sets of changes to what the owner chose, the best first.
//!
//! Clashes that one change can touch form a knot. Each knot is searched by itself, the best of each are assessed together,
//! and those that meet again are searched as one. Tried are the remedies of each clash, and giving up what was wished at
//! its places. The best set clears most, gives up least of what was wished (the price of what is not put in any more, nor
//! a part that does the same), has the fewest changes, leaves the least to measure and costs least. A clash that only two
//! parts together would clear is left as it is.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap};

use rust_decimal::Decimal;

use crate::assess::assess;
use crate::assessment::Assessment;
use crate::catalogue::{Catalogue, PartId, hundredths};
use crate::key::CheckKey;
use crate::remedy;
use crate::sheet::{Choice, Plan, Route, Sheet, Verdict};

/// Assessments of all searches together: `wishes` of the example takes about a hundred.
const MOST_ASSESSED: usize = 500;

/// Sets that are told.
const MOST_SETS: usize = 3;

/// Changes that clear clashes together.
#[derive(Clone, Debug, PartialEq)]
pub struct CureSet {
    /// Positions with what is chosen there, by position.
    pub changes: BTreeMap<String, Choice>,
    /// Positions where what the owner had chosen is not put in any more, nor a part that does the same.
    pub gives_up: Vec<String>,
    /// Clashes that are left.
    pub left: Vec<CheckKey>,
    /// Change in money for all, in the currency of the sums.
    pub money: Decimal,
    /// Change in hours.
    pub hours: f64,
    /// Change in how much is to be measured.
    pub to_measure: i64,
}

/// Sets of changes, the best first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Together {
    /// At most three.
    pub sets: Vec<CureSet>,
    /// The search came to its end; `false`: these are the best that were found before it was cut off.
    pub complete: bool,
    /// How many assessments it took.
    pub assessed: usize,
}

/// What would clear the clashes of a plan together; no set where nothing clears any. Takes up to five hundred assessments.
#[must_use]
pub fn together(sheet: &Sheet, plan: &str, catalogue: &Catalogue, a: &Assessment) -> Together {
    let Some(entry) = sheet.plans.get(plan).filter(|_| !a.clashes.is_empty()) else {
        return Together { complete: true, ..Together::default() };
    };
    let mut search = Search { sheet, entry, plan, catalogue, before: a, assessed: 0, complete: true };
    let root = search.state(BTreeMap::new(), a);
    let mut knots = knots(&root);
    let mut known: BTreeMap<BTreeSet<CheckKey>, Vec<State>> = BTreeMap::new();
    let (solved, mut whole) = loop {
        let mut solved: Vec<Vec<State>> = Vec::new();
        for knot in &knots {
            if !known.contains_key(knot) {
                let states = search.solve(&root, |key| !is_of_others(&knots, knot, key));
                known.insert(knot.clone(), states);
            }
            solved.extend(known.get(knot).filter(|states| !states.is_empty()).cloned());
        }
        let best: Vec<&State> = solved.iter().filter_map(|states| states.first()).collect();
        let Some(joined) = search.joined(&best) else { break (solved, Vec::new()) };
        let cleared: usize = best.iter().map(|state| root.open.len() - state.open.len()).sum();
        if joined.open.len() + cleared <= root.open.len() || knots.len() == 1 || !search.complete {
            break (solved, vec![joined]);
        }
        // they meet again: those that do are one
        knots = opened_as_one(&root, knots, &known, &joined);
    };
    let best: Vec<&State> = solved.iter().filter_map(|states| states.first()).collect();
    // the others of each knot, with the best of the rest
    for (at, states) in solved.iter().enumerate() {
        for other in states.iter().skip(1) {
            let mut chosen = best.clone();
            chosen[at] = other;
            whole.extend(search.joined(&chosen));
        }
    }
    whole.retain(|state| !state.changes.is_empty() && state.open.len() < root.open.len());
    whole.sort_by_key(State::rank);
    whole.dedup_by(|a, b| a.changes == b.changes);
    whole.truncate(MOST_SETS);
    let sets = whole.into_iter().map(|state| search.told(state)).collect();
    Together { sets, complete: search.complete, assessed: search.assessed }
}

/// A plan under trial.
#[derive(Clone, Debug)]
struct State {
    changes: BTreeMap<String, Choice>,
    gives_up: Vec<String>,
    /// In hundredths, what is given up.
    worth: i64,
    /// Clashes with the choices that would clear each.
    open: BTreeMap<CheckKey, BTreeSet<(String, Choice)>>,
    money: Decimal,
    hours: f64,
    to_measure: i64,
}

impl State {
    /// The better first.
    fn rank(&self) -> (usize, i64, usize, i64, Decimal, Vec<String>) {
        let parts = self.changes.values().filter_map(|choice| choice.part.clone()).collect();
        (self.open.len(), self.worth, self.changes.len(), self.to_measure, self.money, parts)
    }
}

/// Clashes that one change can touch, each set of them.
fn knots(root: &State) -> Vec<BTreeSet<CheckKey>> {
    let mut knots: Vec<(BTreeSet<CheckKey>, BTreeSet<&String>)> = Vec::new();
    for (key, cures) in &root.open {
        let mut keys = BTreeSet::from([key.clone()]);
        let mut places: BTreeSet<&String> = cures.iter().map(|(position, _)| position).collect();
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

/// Knots of which the best change the same place, or touch what does not fit when all are taken, as one; where those are
/// not two, all.
fn opened_as_one(
    root: &State,
    knots: Vec<BTreeSet<CheckKey>>,
    known: &BTreeMap<BTreeSet<CheckKey>, Vec<State>>,
    joined: &State,
) -> Vec<BTreeSet<CheckKey>> {
    let changed = |knot: &BTreeSet<CheckKey>| -> Vec<String> {
        let best = known.get(knot).and_then(|states| states.first());
        best.into_iter().flat_map(|state| state.changes.keys().cloned()).collect()
    };
    let mut times: BTreeMap<String, usize> = BTreeMap::new();
    knots.iter().flat_map(changed).for_each(|position| *times.entry(position).or_default() += 1);
    let mut trouble: BTreeSet<String> =
        times.into_iter().filter(|(_, times)| *times > 1).map(|(position, _)| position).collect();
    let new = joined.open.iter().filter(|(key, _)| !root.open.contains_key(key));
    trouble.extend(new.flat_map(|(_, cures)| cures.iter().map(|(position, _)| position.clone())));
    let (meeting, mut apart): (Vec<_>, Vec<_>) =
        knots.into_iter().partition(|knot| changed(knot).iter().any(|position| trouble.contains(position)));
    let mut one: BTreeSet<CheckKey> = meeting.iter().flatten().cloned().collect();
    if meeting.len() < 2 {
        one.extend(apart.drain(..).flatten());
    }
    apart.push(one);
    apart
}

/// It is a clash of another knot to begin with.
fn is_of_others(knots: &[BTreeSet<CheckKey>], mine: &BTreeSet<CheckKey>, key: &CheckKey) -> bool {
    !mine.contains(key) && knots.iter().any(|knot| knot.contains(key))
}

struct Search<'s> {
    sheet: &'s Sheet,
    entry: &'s Plan,
    plan: &'s str,
    catalogue: &'s Catalogue,
    before: &'s Assessment,
    assessed: usize,
    complete: bool,
}

impl Search<'_> {
    /// The best states in which no clash counts that does so here, at most three; where there is none, the one in which
    /// fewest do.
    fn solve(&mut self, from: &State, counts: impl Fn(&CheckKey) -> bool) -> Vec<State> {
        let left = |state: &State| state.open.keys().filter(|key| counts(key)).count();
        let mut due = BinaryHeap::new();
        let mut states = vec![from.clone()];
        // each clash that is left takes a change more, as a rule
        let rank = |state: &State, left: usize| {
            let (_, worth, changes, to_measure, money, _) = state.rank();
            (worth, changes + left, to_measure, money)
        };
        due.push(Reverse((rank(from, left(from)), 0)));
        let mut seen = BTreeSet::from([from.changes.clone()]);
        let mut whole = Vec::new();
        let mut nearest: Option<usize> = None;
        while let Some(Reverse((_, at))) = due.pop() {
            let state = states[at].clone();
            let open = left(&state);
            if open == 0 {
                whole.push(state);
                if whole.len() == MOST_SETS {
                    break;
                }
                continue;
            }
            if nearest.is_none_or(|n| (open, states[at].rank()) < (left(&states[n]), states[n].rank())) {
                nearest = Some(at);
            }
            // the clash with the fewest ways out first: one of them it must be
            let ways = state.open.iter().filter(|(key, cures)| counts(key) && !cures.is_empty());
            let Some((key, cures)) = ways.min_by_key(|(key, cures)| (cures.len(), (*key).clone())) else {
                continue;
            };
            for (position, choice) in cures {
                let mut changes = state.changes.clone();
                changes.insert(position.clone(), choice.clone());
                if !seen.insert(changes.clone()) {
                    continue;
                }
                let Some(next) = self.tried(changes) else { break };
                // what clears nothing is no way out
                if next.open.contains_key(key) {
                    continue;
                }
                due.push(Reverse((rank(&next, left(&next)), states.len())));
                states.push(next);
            }
        }
        if whole.is_empty() {
            whole.extend(nearest.filter(|n| *n > 0).map(|n| states[n].clone()));
        }
        whole
    }

    /// Several sets of changes as one.
    fn joined(&mut self, states: &[&State]) -> Option<State> {
        let all = states.iter().flat_map(|state| &state.changes);
        self.tried(all.map(|(position, choice)| (position.clone(), choice.clone())).collect())
    }

    /// What the plan comes to with some changes; `None` where enough were assessed.
    fn tried(&mut self, changes: BTreeMap<String, Choice>) -> Option<State> {
        if self.assessed >= MOST_ASSESSED {
            self.complete = false;
            return None;
        }
        self.assessed += 1;
        let mut plan = self.entry.clone();
        plan.routes.extend(changes.clone());
        let plans = BTreeMap::from([(self.plan.to_owned(), plan)]);
        let sheet = Sheet { plans, ..self.sheet.clone() };
        let a = assess(&sheet, self.plan, self.catalogue);
        Some(self.state(changes, &a))
    }

    fn state(&self, changes: BTreeMap<String, Choice>, a: &Assessment) -> State {
        let money = |a: &Assessment| a.totals.spent + a.totals.committed + a.totals.to_come;
        let open = a.clashes.iter().map(|clash| {
            let known = clash.remedies.iter().filter(|remedy| !remedy.to_measure);
            let choices = known.filter_map(|remedy| remedy.choice.as_ref());
            let mut cures: BTreeSet<(String, Choice)> = choices
                .map(|(position, part)| (position.clone(), remedy::choice(a, position, part)))
                .collect();
            // a wish may be given up
            let is_wish = |position: &&String| {
                self.entry.routes.get(*position).is_some_and(|choice| choice.route == Route::Convert)
            };
            for position in clash.positions.iter().filter(is_wish) {
                let here = a.positions.iter().find(|p| p.id == *position);
                let was_there = here.is_some_and(|p| p.as_found.is_some());
                let finding = self.sheet.survey.get(position);
                let is_stopped = finding.is_some_and(|finding| finding.verdict == Verdict::Stop);
                let routes = [(Route::Keep, !is_stopped), (Route::LeaveOff, was_there)];
                let may = routes.into_iter().filter(|(_, may)| *may);
                cures.extend(may.map(|(route, _)| (position.clone(), Choice { route, part: None })));
            }
            (clash.key.clone(), cures)
        });
        let gives_up: Vec<String> = changes
            .iter()
            .filter(|(position, choice)| self.gives_up(position, choice))
            .map(|(position, _)| position.clone())
            .collect();
        let price = |position: &String| {
            let wished = self.entry.routes.get(position).and_then(|choice| choice.part.as_ref());
            let part = wished.and_then(|part| self.catalogue.part(part));
            part.and_then(|part| part.part.price.as_ref()).map_or(0, |price| hundredths(price.amount))
        };
        State {
            worth: gives_up.iter().map(price).sum(),
            gives_up,
            open: open.collect(),
            money: money(a) - money(self.before),
            hours: a.totals.hours - self.before.totals.hours,
            to_measure: a.to_measure.len() as i64 - self.before.to_measure.len() as i64,
            changes,
        }
    }

    /// The owner chose a part here, and what takes its place has not all of its port types and needs.
    fn gives_up(&self, position: &str, choice: &Choice) -> bool {
        let Some(Choice { route: Route::Convert, part: Some(wished) }) = self.entry.routes.get(position)
        else {
            return false;
        };
        let number = |id: &String| self.catalogue.part_names.get(id);
        let Some(wished) = number(wished) else { return false };
        let other = choice.part.as_ref().filter(|_| choice.route == Route::Convert).and_then(number);
        other.is_none_or(|other| !self.does_the_same(wished, other))
    }

    fn does_the_same(&self, wished: PartId, other: PartId) -> bool {
        let (wished, other) = (&self.catalogue.parts[wished], &self.catalogue.parts[other]);
        let has_port = |port_type| other.ports.iter().any(|port| port.port_type == port_type);
        let has_need = |need| other.needs.iter().any(|(n, ..)| *n == need);
        wished.ports.iter().all(|port| has_port(port.port_type))
            && wished.needs.iter().all(|(need, ..)| has_need(*need))
    }

    fn told(&self, state: State) -> CureSet {
        CureSet {
            left: state.open.into_keys().collect(),
            changes: state.changes,
            gives_up: state.gives_up,
            money: state.money,
            hours: state.hours,
            to_measure: state.to_measure,
        }
    }
}

#[cfg(test)]
mod tests;
