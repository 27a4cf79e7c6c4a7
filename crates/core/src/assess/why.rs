//! Why a part was put where it is: the trouble that is there without it. Decisions are told one after the other, each by
//! what is broken while those before it are in their places, so that no reason runs round in a circle.

use super::bench::{Bench, CheckKey, Fill, NO_REASON, Trouble};
use super::decide::Decisions;
use crate::catalogue::{PartId, PositionId};
use crate::library::Level;
use crate::reason::{Fact, ReasonId};

impl Bench<'_> {
    /// Puts decisions into their places, each with its reason, and derives what follows.
    pub fn tell(&mut self, decisions: &Decisions) {
        let mut left = decisions.clone();
        self.fills.clear();
        self.begin();
        self.telling = true;
        while !left.is_empty() {
            self.judge();
            let seen: Vec<_> = left
                .iter()
                .filter_map(|(pos, part)| Some((*pos, *part, self.trouble_without(*pos, *part)?)))
                .collect();
            let mut told: Vec<(PositionId, Fill)> = seen
                .into_iter()
                .map(|(pos, part, trouble)| (pos, self.because(pos, part, trouble)))
                .collect();
            if told.is_empty() {
                told = left.iter().map(|(pos, part)| (*pos, self.by_itself(*pos, *part))).collect();
            }
            for (pos, fill) in told {
                left.remove(&pos);
                self.fills.insert(pos, fill);
            }
        }
        self.telling = false;
        self.judge();
        self.conclude();
    }

    /// What is broken while a part is not yet in its place: what it clears by itself goes before what it is only one end of.
    fn trouble_without(&self, pos: PositionId, part: PartId) -> Option<(Trouble, Level)> {
        let clashes = self.found.clashes.iter().map(|t| (t, Level::Required));
        let unmet = self.found.unmet.iter().map(|t| (t, Level::Advised));
        let unknowns = self.found.unknowns.iter().map(|t| (t, Level::Required));
        let all: Vec<(&Trouble, Level)> =
            clashes.chain(unmet).chain(unknowns).filter(|(t, _)| self.is_about(t, pos, part)).collect();
        let clears = all.iter().find(|(t, _)| self.does_clear(t, pos, part));
        clears.or(all.first()).map(|(t, level)| ((*t).clone(), *level))
    }

    fn is_about(&self, trouble: &Trouble, pos: PositionId, part: PartId) -> bool {
        match trouble.key {
            CheckKey::Joint(joint) => self.ends_of_either(joint).any(|end| end == pos),
            CheckKey::Limit(run) => {
                let here = &self.v.limits[run];
                here.places.contains(&pos) || here.setters.contains(&pos)
            }
            CheckKey::Pool(pool) => {
                self.in_pool(part, pool) || self.slot(pos).part.is_some_and(|p| self.in_pool(p, pool))
            }
            CheckKey::Need(_, asker, need) => {
                self.offers_it(part, need, self.wanted_of(asker, need))
                    || trouble.positions.contains(&pos) && self.slot(pos).part == Some(asker)
            }
            CheckKey::Age(_) | CheckKey::FluidAge(_) | CheckKey::Port(..) => false,
        }
    }

    fn because(&mut self, pos: PositionId, part: PartId, (trouble, level): (Trouble, Level)) -> Fill {
        let others = trouble.positions.iter().copied().filter(|p| *p != pos);
        let ends: Vec<PositionId> = match trouble.key {
            CheckKey::Joint(joint) => self.ends_of_either(joint).filter(|p| *p != pos).collect(),
            _ => Vec::new(),
        };
        let cause = others.chain(ends).chain([pos]).find_map(|p| self.root(p));
        // that it is this part and no cheaper one rests on what else is about its place
        let mut premises = vec![trouble.reason];
        let limits = self.v.limits_at[pos].iter().flat_map(|run| &self.v.limits[*run].places);
        let about =
            self.v.neighbours[pos].iter().chain(limits).filter(|p| **p != pos && self.slot(**p).changed);
        premises.extend(about.map(|p| self.slot(*p).reason));
        self.filled_for(pos, part, premises, cause, level)
    }

    /// No trouble tells of it: several go in together for what none of them clears alone.
    fn by_itself(&mut self, pos: PositionId, part: PartId) -> Fill {
        let about = self.v.neighbours[pos].iter().copied().filter(|p| self.slot(*p).changed);
        let about: Vec<PositionId> = about.collect();
        let cause = about.iter().find_map(|p| self.root(*p));
        let premises = about.iter().map(|p| self.slot(*p).reason).collect();
        self.filled_for(pos, part, premises, cause, Level::Required)
    }

    fn filled_for(
        &mut self,
        pos: PositionId,
        part: PartId,
        premises: Vec<ReasonId>,
        cause: Option<PositionId>,
        level: Level,
    ) -> Fill {
        let premises: Vec<ReasonId> = premises.into_iter().filter(|r| *r != NO_REASON).collect();
        let reason = self.reason(&premises, |s| Fact::Fills { part: s.name(part), place: s.place(pos) });
        // it fits by what was measured on it
        let reason = self.resting_on(reason, |s| s.measured_on(part));
        Fill { part, reason, cause, level }
    }
}

#[cfg(test)]
mod tests;
