//! The best values for a few places that act on each other: every choice is tried, but for what cannot be better than the
//! best found so far. What two or more places come to together counts as soon as all but one of them are chosen: with each
//! value of that one (forward checking). A step is a value that is tried or asked whether it earns its place, or a tie that
//! is weighed.

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::order::Marks;
use crate::catalogue::{PartId, PositionId};

/// A value of a place and what it comes to by itself. `None`: what is there stays.
pub(crate) type Valued = (Option<PartId>, Marks);

/// A place of a group.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    pub pos: PositionId,
    /// What may sit there.
    pub values: Vec<Valued>,
}

/// Parts for the places of a group, in their order.
pub(crate) type Choice = SmallVec<[Option<PartId>; 8]>;

/// Places of a group that come to something together: two or more, by their numbers, in order.
pub(crate) type Tie = SmallVec<[usize; 4]>;

/// Values of places, by their numbers.
type Numbers = SmallVec<[usize; 8]>;

/// A search under way.
pub(crate) struct Branch<'p, W, A> {
    places: &'p [Place],
    ties: &'p [Tie],
    /// What the values of a tie's places, in its order, come to together.
    weigh: W,
    /// Whether a choice may be taken at all.
    may: A,
    /// What the ties come to, as far as it was asked, by the numbers of their values read as one number.
    known: Vec<FxHashMap<u64, Marks>>,
    /// Ties of each place.
    ties_of: Vec<SmallVec<[usize; 8]>>,
    /// Ties that the choice at a place settles but for one place, which is the last of each.
    all_but_one: Vec<SmallVec<[usize; 4]>>,
    /// What each value of each place comes to, with what is chosen so far.
    cost: Vec<Vec<Marks>>,
    best: Option<(Marks, Choice)>,
    steps: usize,
    most_steps: usize,
}

/// The best choice for a group, what it comes to, and how many steps that took; no choice where all are forbidden or the
/// steps did not suffice for any.
pub(crate) struct Found {
    pub best: Option<(Marks, Choice)>,
    pub steps: usize,
    /// No other choice is better: the steps sufficed.
    pub proved: bool,
}

impl<'p, W: FnMut(usize, &Choice) -> Marks, A: FnMut(&Choice) -> bool> Branch<'p, W, A> {
    /// The best choice of values in which each part that is put in earns its place. `weigh` says what the values of the places of a tie, given by its number, come to
    /// together, which is never less than nothing; `may`, whether a whole choice may be taken.
    pub fn search(places: &'p [Place], ties: &'p [Tie], most_steps: usize, weigh: W, may: A) -> Found {
        let mut all_but_one = vec![SmallVec::new(); places.len()];
        let mut ties_of = vec![SmallVec::new(); places.len()];
        for (at, tie) in ties.iter().enumerate() {
            tie.iter().for_each(|place| ties_of[*place].push(at));
            if let [.., before, _] = tie.as_slice() {
                all_but_one[*before].push(at);
            }
        }
        let known = vec![FxHashMap::default(); ties.len()];
        let cost = places.iter().map(|place| place.values.iter().map(|(_, own)| *own).collect()).collect();
        let mut branch = Branch {
            places,
            ties,
            weigh,
            may,
            known,
            ties_of,
            all_but_one,
            cost,
            best: None,
            steps: 0,
            most_steps,
        };
        branch.go(Marks::default(), &mut Numbers::new());
        Found { best: branch.best, steps: branch.steps.min(most_steps), proved: branch.steps < most_steps }
    }

    fn go(&mut self, so_far: Marks, chosen: &mut Numbers) {
        let at = chosen.len();
        let Some(place) = self.places.get(at) else {
            self.leaf(so_far, chosen);
            return;
        };
        let mut order: SmallVec<[usize; 16]> = (0..place.values.len()).collect();
        order.sort_by_key(|n| (self.cost[at][*n], place.values[*n].0));
        let rest = self.least_from(at + 1);
        for n in order {
            let marks = so_far + self.cost[at][n];
            if self.steps >= self.most_steps || self.is_beaten(marks + rest) {
                // those that come after cost more
                return;
            }
            self.steps += 1;
            chosen.push(n);
            let before = self.look_ahead(at, chosen);
            if before.is_empty() || !self.is_beaten(marks + self.least_from(at + 1)) {
                self.go(marks, chosen);
            }
            for (later, costs) in before.into_iter().rev() {
                self.cost[later] = costs;
            }
            chosen.pop();
        }
    }

    /// The least that the places from one on can come to.
    fn least_from(&self, at: usize) -> Marks {
        let least = |costs: &Vec<Marks>| costs.iter().min().copied().unwrap_or_default();
        self.cost[at..].iter().map(least).fold(Marks::default(), |sum, marks| sum + marks)
    }

    /// Adds to each value of places further on what ties come to with it, where it alone is not settled yet; what stood
    /// there before.
    fn look_ahead(&mut self, at: usize, chosen: &Numbers) -> SmallVec<[(usize, Vec<Marks>); 4]> {
        let mut before = SmallVec::new();
        for t in 0..self.all_but_one[at].len() {
            let tie = self.all_but_one[at][t];
            let Some(last) = self.ties[tie].last().copied() else { continue };
            before.push((last, self.cost[last].clone()));
            for n in 0..self.places[last].values.len() {
                let marks = self.together(tie, chosen, n);
                self.cost[last][n] += marks;
            }
        }
        before
    }

    /// What a tie comes to with what is chosen, and a value of its last place.
    fn together(&mut self, tie: usize, chosen: &Numbers, last: usize) -> Marks {
        self.at_tie(tie, |at| chosen.get(at).copied().unwrap_or(last))
    }

    /// What a tie comes to with these values of its places.
    fn at_tie(&mut self, tie: usize, number: impl Fn(usize) -> usize) -> Marks {
        let places = self.places;
        let members = &self.ties[tie];
        let read = |sum: u64, at: &usize| {
            let many = places[*at].values.len() as u64;
            sum.checked_mul(many)?.checked_add(number(*at) as u64)
        };
        let entry = members.iter().try_fold(0, read);
        if let Some(marks) = entry.and_then(|entry| self.known[tie].get(&entry)) {
            return *marks;
        }
        self.steps += 1;
        let choice: Choice = members.iter().map(|at| places[*at].values[number(*at)].0).collect();
        let marks = (self.weigh)(tie, &choice);
        if let Some(entry) = entry {
            self.known[tie].insert(entry, marks);
        }
        marks
    }

    /// Whether each part that is put in earns its place: without it, one of the rows before money is worse. Nothing is put in
    /// for money alone.
    fn earns_its_place(&mut self, chosen: &Numbers) -> bool {
        let places = self.places;
        for (at, place) in places.iter().enumerate() {
            let n = chosen[at];
            let Some(stays) =
                place.values.iter().position(|(part, _)| part.is_none()).filter(|none| *none != n)
            else {
                continue;
            };
            let (mut with, mut without) = (place.values[n].1, place.values[stays].1);
            for t in 0..self.ties_of[at].len() {
                let tie = self.ties_of[at][t];
                with += self.at_tie(tie, |at| chosen[at]);
                without += self.at_tie(tie, |other| if other == at { stays } else { chosen[other] });
            }
            if with.before_money() >= without.before_money() {
                return false;
            }
        }
        true
    }

    fn is_beaten(&self, marks: Marks) -> bool {
        self.best.as_ref().is_some_and(|(best, _)| *best < marks)
    }

    fn leaf(&mut self, marks: Marks, chosen: &Numbers) {
        let choice: Choice = self.places.iter().zip(chosen).map(|(place, n)| place.values[*n].0).collect();
        let is_better = self
            .best
            .as_ref()
            .is_none_or(|(best, other)| (marks, self.ids(&choice)) < (*best, self.ids(other)));
        // to look whether each part earns its place takes as much as choosing it
        self.steps += if is_better { chosen.len() } else { 0 };
        if is_better && (self.may)(&choice) && self.earns_its_place(chosen) {
            self.best = Some((marks, choice));
        }
    }

    /// What breaks a tie: the parts in order of their ids, then where they go.
    fn ids(&self, choice: &Choice) -> (Vec<PartId>, Vec<PositionId>) {
        let put_in =
            || self.places.iter().zip(choice).filter_map(|(place, part)| Some((place.pos, (*part)?)));
        let mut parts: Vec<PartId> = put_in().map(|(_, part)| part).collect();
        let mut places: Vec<PositionId> = put_in().map(|(pos, _)| pos).collect();
        parts.sort_unstable();
        places.sort_unstable();
        (parts, places)
    }
}

#[cfg(test)]
mod tests;
