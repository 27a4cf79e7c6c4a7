//! Parts that would clear a clash: looked for once, when all is settled.

use std::collections::BTreeSet;

use super::bench::{Bench, CheckKey, Cure, Trouble};
use super::fills::{Must, Overlay};
use crate::catalogue::{JointId, NeedId, PartId, PositionId};
use crate::library::Alone;
use crate::sheet::Verdict;
use crate::value::Verdict3;

/// Parts named for one position of a pool or limit, and for a need.
const FEW: usize = 2;

/// Of so many parts of a place the best are told.
const LOOKED_AT: usize = 12;

/// A part that would clear a clash, and where.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    pub pos: PositionId,
    pub part: PartId,
    /// Whether it does is not known until something is measured.
    pub to_measure: bool,
}

impl Bench<'_> {
    /// Positions and parts that would clear a clash, in the order of its positions: what fits as it is; where nothing does,
    /// what clears it and wants something else changed as well. Nothing only where no part of the library does by itself.
    /// Behind them those that may clear it, once a figure of theirs is measured.
    pub fn remedies(&self, trouble: &Trouble) -> Vec<Way> {
        let mut sure = self.fitting_remedies(trouble);
        if sure.is_empty() {
            let (places, others) = self.where_to_look(trouble);
            sure = self.that_clear(trouble, &places);
            if sure.is_empty() {
                sure = self.that_clear(trouble, &others);
            }
        }
        let sure = sure.into_iter().map(|(pos, part)| Way { pos, part, to_measure: false });
        sure.chain(self.unmeasured(trouble)).collect()
    }

    /// Parts that may clear a limit: what decides it is not known of them.
    fn unmeasured(&self, trouble: &Trouble) -> Vec<Way> {
        let Cure::Limit(limit) = trouble.cure else { return Vec::new() };
        let mut out = Vec::new();
        for pos in self.levers(limit, &trouble.positions) {
            // what fails there by itself is no way out, whatever is measured
            let may = |p: &PartId| self.may_clear(limit, pos, *p) && !self.overdraws(pos, *p);
            let few = self.best_of(pos, self.fitting(pos).filter(may));
            out.extend(few.into_iter().map(|(pos, part)| Way { pos, part, to_measure: true }));
        }
        out
    }

    /// Whether a part leaves a pool short, in its place, that is not short without it.
    fn overdraws(&self, pos: PositionId, part: PartId) -> bool {
        let overlay = self.overlay(pos, part);
        let pools = self.part(part).shares.iter().map(|share| share.pool);
        pools.filter(|pool| !self.cat.pools[*pool].def.tally).any(|pool| {
            let broken = |overlay: &Overlay| self.pool_sum(pool, overlay).verdict() == Verdict3::Broken;
            broken(&overlay) && !broken(&Overlay::new())
        })
    }

    fn fitting_remedies(&self, trouble: &Trouble) -> Vec<(PositionId, PartId)> {
        let mut out = Vec::new();
        match &trouble.cure {
            Cure::None => {}
            Cure::Ends(joint) => {
                let ends = trouble.positions.iter().map(|pos| (*pos, Must::Close(*joint)));
                out.extend(ends.flat_map(|(pos, must)| self.few(pos, must, 3)));
                out.extend(self.of_alternatives(*joint, &trouble.positions));
            }
            Cure::Alone(joint) => {
                let Some((first, others)) = trouble.positions.split_first() else { return out };
                let others = others.iter().map(|pos| (*pos, Must::Close(*joint)));
                let all = others.chain([(*first, Must::DoWithout(*joint))]);
                out.extend(all.flat_map(|(pos, must)| self.few(pos, must, FEW)));
                // a port that wants a cap there is none for is no way out
                out.retain(|(pos, part)| self.does_clear(trouble, *pos, *part));
                out.extend(self.of_alternatives(*joint, &trouble.positions));
            }
            Cure::Pool(_) => {
                // what was always there is no fault of the plan's
                for pos in trouble.positions.iter().filter(|p| self.slot(**p).changed) {
                    let holds = |p: &PartId| self.does_clear(trouble, *pos, *p);
                    out.extend(self.best_of(*pos, self.fitting(*pos).filter(holds)));
                }
            }
            Cure::Limit(limit) => {
                for pos in &self.levers(*limit, &trouble.positions) {
                    let clears = |p: &PartId| self.does_clear(trouble, *pos, *p);
                    out.extend(self.best_of(*pos, self.fitting(*pos).filter(clears)));
                }
            }
            Cure::Need(need) => {
                let CheckKey::Need(_, asker, _) = trouble.key else { return out };
                let wanted = self.wanted_of(asker, *need);
                for pos in self.places_to_supply(*need, trouble) {
                    let offers = |p: &PartId| self.offers_it(*p, *need, wanted);
                    out.extend(self.best_of(pos, self.fitting(pos).filter(offers)));
                }
            }
        }
        out
    }

    /// Places where a part could clear a clash by itself: those to look at first, and those where nothing less helps.
    fn where_to_look(&self, trouble: &Trouble) -> (Vec<PositionId>, Vec<PositionId>) {
        let told = trouble.positions.to_vec();
        match trouble.cure {
            Cure::None => (Vec::new(), Vec::new()),
            Cure::Ends(_) | Cure::Alone(_) => (told, Vec::new()),
            Cure::Limit(limit) => (self.levers(limit, &told), Vec::new()),
            Cure::Pool(pool) => {
                let state = self.pool_state(pool);
                let (changed, as_found) = told.into_iter().partition(|p| self.slot(*p).changed);
                (state.givers.into_iter().chain(changed).collect(), as_found)
            }
            Cure::Need(need) => {
                // the asker could be one that does not ask
                (self.places_to_supply(need, trouble), told)
            }
        }
    }

    /// Places for what offers a need, that go with the place where it is asked.
    fn places_to_supply(&self, need: NeedId, trouble: &Trouble) -> Vec<PositionId> {
        let classes = self.cat.need_classes[need].iter();
        let asked = trouble.positions.first().map(|pos| self.v.whereabouts(*pos));
        let goes_with = |pos: &PositionId| asked.is_none_or(|at| at.goes_with(self.v.whereabouts(*pos)));
        classes.flat_map(|class| self.v.by_class.of(*class)).copied().filter(goes_with).collect()
    }

    /// Parts for further places that close an alternative of a joint.
    fn of_alternatives(&self, joint: JointId, told: &[PositionId]) -> Vec<(PositionId, PartId)> {
        let alternatives = self.v.joints[joint].alternatives.iter();
        let ends = alternatives.flat_map(|j| self.v.joints[*j].ends.iter().map(|(pos, _)| (*pos, *j)));
        let others = ends.filter(|(pos, _)| !told.contains(pos));
        others.flat_map(|(pos, j)| self.few(pos, Must::Close(j), FEW)).collect()
    }

    /// Whether a part in a place clears a clash by itself, whatever else it breaks there.
    pub(super) fn does_clear(&self, trouble: &Trouble, pos: PositionId, part: PartId) -> bool {
        let overlay = self.overlay(pos, part);
        match trouble.cure {
            Cure::None => false,
            Cure::Ends(joint) | Cure::Alone(joint)
                if self.is_as_found(joint, &overlay) || self.is_made_good(joint, &overlay) =>
            {
                true
            }
            Cure::Ends(joint) | Cure::Alone(joint) => match self.meeting(joint, &overlay).as_slice() {
                [] => true,
                [(_, port)] => match port.alone {
                    Alone::Fine | Alone::Surplus => true,
                    Alone::Cap => self.cap_for(port).is_some(),
                    Alone::Required => false,
                },
                met if self.joint_verdict(met) != Verdict3::Broken => true,
                [a, b] => self.closable(a.1, b.1),
                _ => false,
            },
            Cure::Pool(pool) => self.pool_sum(pool, &overlay).verdict() != Verdict3::Broken,
            Cure::Limit(limit) => self.clears(limit, pos, part),
            Cure::Need(need) => {
                let CheckKey::Need(_, asker, _) = trouble.key else { return false };
                let asks = |part: PartId| self.part(part).needs.iter().any(|(n, ..)| *n == need);
                let is_asker = self.slot(pos).part == Some(asker) && asks(asker);
                self.offers_it(part, need, self.wanted_of(asker, need)) || is_asker && !asks(part)
            }
        }
    }

    /// Whether all ends of a joint would be as they were found: it is not looked at then.
    pub(super) fn is_as_found(&self, joint: JointId, overlay: &Overlay) -> bool {
        self.ends_of_either(joint).all(|pos| self.tried(overlay, pos) == self.as_found(pos))
    }

    fn that_clear(&self, trouble: &Trouble, places: &[PositionId]) -> Vec<(PositionId, PartId)> {
        let mut out: Vec<(PositionId, PartId)> = Vec::new();
        for pos in places {
            let class = self.v.positions[*pos].class;
            let all = self.cat.by_class[class].iter().copied().filter(|p| self.can_be_had(*pos, *p));
            let others = all.filter(|p| self.slot(*pos).part != Some(*p));
            out.extend(self.best_of(*pos, others.filter(|p| self.does_clear(trouble, *pos, *p))));
        }
        out
    }

    /// What was there can be kept, whether it is for sale or not.
    pub(super) fn can_be_had(&self, pos: PositionId, part: PartId) -> bool {
        self.for_sale(part) || self.as_found(pos) == Some(part)
    }

    /// What the survey condemned, or is over its age, is no way out.
    pub(super) fn is_bad_way(&self, pos: PositionId, part: PartId) -> bool {
        let finding = self.ground.survey.get(&self.v.positions[pos].id);
        let is_bad = finding.is_some_and(|f| matches!(f.verdict, Verdict::Renew | Verdict::Stop));
        self.as_found(pos) == Some(part) && (is_bad || self.over_age(pos).is_some())
    }

    /// All places where a part could clear a clash by itself.
    pub(super) fn places_to_look(&self, trouble: &Trouble) -> BTreeSet<PositionId> {
        let (first, others) = self.where_to_look(trouble);
        let mut out: BTreeSet<PositionId> = first.into_iter().chain(others).collect();
        if let Cure::Ends(joint) | Cure::Alone(joint) = trouble.cure {
            out.extend(self.ends_of_either(joint));
        }
        out
    }

    /// The best few: what breaks the fewest joints of its place, then what is sold for any vehicle before what another came
    /// with, what joins as it is before what joins with something between, then the cheaper. Of a long list the cheapest are looked at.
    fn best_of(&self, pos: PositionId, fits: impl Iterator<Item = PartId>) -> Vec<(PositionId, PartId)> {
        let rank = |part: PartId| {
            let (broken, bridged) = self.apart_with(pos, part);
            (broken, self.is_met_elsewhere(pos, part), bridged)
        };
        let mut all: Vec<_> = fits.take(LOOKED_AT).map(|part| (rank(part), part)).collect();
        all.sort_by_key(|(apart, _)| *apart);
        all.into_iter().take(FEW).map(|(_, part)| (pos, part)).collect()
    }

    /// Some other vehicle came with it, and this one did not.
    fn is_met_elsewhere(&self, pos: PositionId, part: PartId) -> bool {
        self.part(part).is_found && self.as_found(pos) != Some(part)
    }

    /// How many joints of a place a part breaks, and at how many it joins with something between only.
    fn apart_with(&self, pos: PositionId, part: PartId) -> (usize, usize) {
        let overlay = self.overlay(pos, part);
        let (mut broken, mut bridged) = (0, 0);
        for joint in &self.v.joints_at[pos] {
            let met = self.meeting(*joint, &overlay);
            if met.len() < 2 || self.joint_verdict(&met) != Verdict3::Broken {
                continue;
            }
            match met.as_slice() {
                [a, b] if self.closable(a.1, b.1) => bridged += 1,
                _ => broken += 1,
            }
        }
        (broken, bridged)
    }

    fn few(
        &self,
        pos: PositionId,
        must: Must,
        few: usize,
    ) -> impl Iterator<Item = (PositionId, PartId)> + use<> {
        // a part that some vehicle came with goes behind one that is sold for any
        let mut all = self.candidates(pos, must, LOOKED_AT);
        all.sort_by_key(|(marks, part)| (self.is_met_elsewhere(pos, *part), *marks));
        all.into_iter().take(few).map(move |(_, part)| (pos, part))
    }

    /// Parts that break no joint of a position, those that break no figure first, then cheapest.
    fn fitting(&self, pos: PositionId) -> impl Iterator<Item = PartId> {
        self.candidates(pos, Must::Fit, usize::MAX).into_iter().map(|(_, part)| part)
    }
}

#[cfg(test)]
mod tests;
