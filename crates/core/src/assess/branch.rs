//! The best values for a few places that act on each other: every choice is tried, but for what cannot be better than the
//! best found so far.

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

/// A search under way.
pub(crate) struct Branch<'p, W, A> {
    places: &'p [Place],
    /// What the choices for the first places come to beside their own values, when the last of them is made.
    weigh: W,
    /// Whether a choice may be taken at all.
    may: A,
    /// The least that the places from each on can come to.
    least: Vec<Marks>,
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
    /// The best choice of values. `weigh` says what the choice so far comes to at all that is settled by the place of the
    /// given number; `may`, whether a whole choice may be taken.
    pub fn search(places: &'p mut [Place], most_steps: usize, weigh: W, may: A) -> Found {
        for place in &mut *places {
            place.values.sort_by_key(|(part, marks)| (*marks, *part));
        }
        let mut least = vec![Marks::default(); places.len() + 1];
        for at in (0..places.len()).rev() {
            least[at] = least[at + 1] + places[at].values.first().map_or(Marks::default(), |(_, m)| *m);
        }
        let mut branch = Branch { places, weigh, may, least, best: None, steps: 0, most_steps };
        branch.go(0, Marks::default(), &mut Choice::new());
        Found { best: branch.best, steps: branch.steps, proved: branch.steps < most_steps }
    }

    fn go(&mut self, at: usize, so_far: Marks, choice: &mut Choice) {
        let Some(place) = self.places.get(at) else {
            self.leaf(so_far, choice);
            return;
        };
        for (part, own) in &place.values {
            if self.steps >= self.most_steps || self.is_beaten(so_far + *own + self.least[at + 1]) {
                // those that come after cost more by themselves
                return;
            }
            self.steps += 1;
            choice.push(*part);
            let marks = so_far + *own + (self.weigh)(at, choice);
            if !self.is_beaten(marks + self.least[at + 1]) {
                self.go(at + 1, marks, choice);
            }
            choice.pop();
        }
    }

    fn is_beaten(&self, marks: Marks) -> bool {
        self.best.as_ref().is_some_and(|(best, _)| *best < marks)
    }

    fn leaf(&mut self, marks: Marks, choice: &Choice) {
        let is_better = self
            .best
            .as_ref()
            .is_none_or(|(best, other)| (marks, self.ids(choice)) < (*best, self.ids(other)));
        if is_better && (self.may)(choice) {
            self.best = Some((marks, choice.clone()));
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
