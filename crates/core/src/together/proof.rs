//! What makes the best set that was found better by one step, and what proves that none is better: every set that could be
//! is tried.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

use smallvec::SmallVec;

use super::search::{Search, State};
use crate::assess::{Changes, Said};
use crate::catalogue::PositionId;

/// Places the owner chooses for, each with all that he may choose there instead.
pub(super) type Choices = Vec<(PositionId, Vec<Said>)>;

impl Search<'_, '_> {
    /// The best that single steps lead to: a change dropped, another choice in its place, one change more, or one for
    /// another. It ends, for each step is to a better set.
    pub fn climbed(&mut self, mut best: Rc<State>, all: &Choices) -> Rc<State> {
        while let Some(better) = self.step(&best, all) {
            best = better;
        }
        best
    }

    fn step(&mut self, best: &State, all: &Choices) -> Option<Rc<State>> {
        let without = |pos: &PositionId| {
            let mut fewer = best.changes.clone();
            fewer.remove(pos);
            fewer
        };
        let fewer: Vec<Changes> = best.changes.keys().map(without).collect();
        for changes in &fewer {
            if let Some(better) = self.better(best, changes.clone()) {
                return Some(better);
            }
        }
        let with = |set: &Changes, pos: PositionId, said: Said| {
            let mut more = set.clone();
            more.insert(pos, said);
            more
        };
        let to_change = |set: &Changes, is_in: bool| -> Vec<(PositionId, Said)> {
            let places = all.iter().filter(|(pos, _)| set.contains_key(pos) == is_in);
            places.flat_map(|(pos, here)| here.iter().map(|said| (*pos, *said))).collect()
        };
        // in its place
        for (pos, said) in to_change(&best.changes, true) {
            if let Some(better) = self.better(best, with(&best.changes, pos, said)) {
                return Some(better);
            }
        }
        // one more clears something more, or is no better
        if best.broken.is_empty() {
            return None;
        }
        for (pos, said) in to_change(&best.changes, false) {
            if let Some(better) = self.better(best, with(&best.changes, pos, said)) {
                return Some(better);
            }
        }
        None
    }

    /// What some changes come to, where that is better. What cannot be is not assessed.
    fn better(&mut self, best: &State, changes: Changes) -> Option<Rc<State>> {
        if best.broken.is_empty() && (self.worth(&changes), changes.len()) > (best.worth, best.changes.len())
        {
            return None;
        }
        self.tried(&changes).filter(|state| state.rank() < best.rank())
    }

    /// The best of all sets, and whether it is: sets are tried in the order of what they give up and how many changes they
    /// have, until none that is left could be better. Not begun where the assessments that are left cannot suffice, unless
    /// the sets are few.
    pub fn proved(&mut self, mut best: Rc<State>, all: &Choices) -> (Rc<State>, bool) {
        self.is_cut = false;
        let worths: Vec<Vec<i64>> = all
            .iter()
            .map(|(pos, here)| {
                here.iter().map(|said| self.trial.given_up(*pos, *said).unwrap_or(0)).collect()
            })
            .collect();
        let left = self.most.saturating_sub(self.assessed);
        let product = all.iter().fold(1, |all: usize, (_, here)| all.saturating_mul(here.len() + 1));
        if product > FEW_SETS && cheap_sets(&worths, &best) > left {
            return (best, false);
        }
        let mut due: BinaryHeap<Reverse<(i64, usize, Picks)>> = BinaryHeap::new();
        due.push(Reverse((0, 0, Picks::new())));
        while let Some(Reverse((worth, many, picks))) = due.pop() {
            if !could_be_better(&best, worth, many) {
                break;
            }
            let changes = picks.iter().map(|(at, n)| (all[*at].0, all[*at].1[*n])).collect();
            let Some(state) = self.tried(&changes) else { return (best, false) };
            if state.rank() < best.rank() {
                best = state;
            }
            let next = picks.last().map_or(0, |(at, _)| at + 1);
            for (at, worths) in worths.iter().enumerate().skip(next) {
                for (n, more) in worths.iter().enumerate() {
                    if could_be_better(&best, worth + more, many + 1) {
                        let mut picks = picks.clone();
                        picks.push((at, n));
                        due.push(Reverse((worth + more, many + 1, picks)));
                    }
                }
            }
        }
        (best, true)
    }
}

/// So many sets may be gone through though they are not all assessed.
const FEW_SETS: usize = 16_384;

/// What is chosen of all choices: which place of them, and which choice there.
type Picks = SmallVec<[(usize, usize); 6]>;

/// A set that gives up so much with so many changes could be better.
fn could_be_better(best: &State, worth: i64, changes: usize) -> bool {
    !best.broken.is_empty() || (worth, changes) <= (best.worth, best.changes.len())
}

/// How many sets give nothing up and could be better.
fn cheap_sets(worths: &[Vec<i64>], best: &State) -> usize {
    let most = if best.broken.is_empty() && best.worth == 0 { best.changes.len() } else { worths.len() };
    // so many sets with no change, with one, and so on
    let mut sets = vec![1_usize];
    for here in worths {
        let free = here.iter().filter(|worth| **worth == 0).count();
        let before = sets.clone();
        sets.push(0);
        for (many, count) in before.iter().enumerate() {
            sets[many + 1] = sets[many + 1].saturating_add(count.saturating_mul(free));
        }
        sets.truncate(most + 1);
    }
    sets.into_iter().fold(0, usize::saturating_add)
}
