//! Which parts come into question at a place that follows: those that mend something there. What is broken to begin with
//! is mended first; what a part breaks that came into question is mended next, and so on. Of a class of few parts all are
//! looked at, of a larger one those the indexes lead to, so that the work does not grow with the library.

use std::sync::Arc;

use smallvec::SmallVec;

use super::bench::Bench;
use super::branch::Choice;
use super::fills::Overlay;
use super::terms::{Before, Term};
use crate::catalogue::meeting::agree;
use crate::catalogue::searched::Meets;
use crate::catalogue::{JointId, PartId, PortEntry, PositionId};
use crate::value::Verdict3;

/// A class of no more parts than this is looked at as a whole; of a larger one, so many of the cheapest and so many that
/// offer what is missing.
const FEW: usize = 16;

/// A part that may go into a place.
type PartAt = (PositionId, PartId);

impl Bench<'_> {
    /// Parts at places that follow which make a term better than some parts in their places leave it. Where none does so by
    /// itself, those that do a part of it. A kit goes in for what it mends at its own place, and not for what lies in its
    /// box.
    pub(super) fn mending(
        &self,
        term: Term,
        beside: &Overlay,
        more: &[PositionId],
        before: &Before,
    ) -> Vec<PartAt> {
        let mut all = Vec::new();
        let is_beside = |pos: &PositionId| beside.iter().any(|(p, _)| p == pos);
        let places = self.all_places_about(term).into_iter().chain(more.iter().copied());
        for pos in places.filter(|pos| !is_beside(pos)) {
            if self.may_fill(pos) {
                all.extend(self.of_use(pos, term, beside).into_iter().map(|part| (pos, part)));
            }
        }
        all.sort_unstable();
        all.dedup();
        all.retain(|(pos, part)| {
            let is_there = self.slot(*pos).part == Some(*part) || self.as_found(*pos) == Some(*part);
            !is_there && self.for_sale(*part)
        });
        let as_it_is = self.weigh(term, beside, before).before_money();
        let is_better =
            |at: &PartAt| self.weigh(term, &self.with_part(*at, beside), before).before_money() < as_it_is;
        let mut out: Vec<PartAt> = all.iter().copied().filter(is_better).collect();
        if out.is_empty() {
            all.retain(|at| {
                let with = self.with_part(*at, beside);
                self.mends_a_part(term, *at, beside, &with)
                    && self.weigh(term, &with, before).before_money() == as_it_is
            });
            out = all;
        }
        out
    }

    /// Some parts in their places and one more, with what its box brings.
    fn with_part(&self, (pos, part): PartAt, beside: &Overlay) -> Overlay {
        let mut with = self.overlay_of(&[pos], &Choice::from_elem(Some(part), 1));
        for (other, part) in beside {
            if !with.iter().any(|(p, _)| p == other) {
                with.push((*other, *part));
            }
        }
        with
    }

    /// Whether a part brings a term nearer to being in order that takes several parts: it agrees with an end of a joint that
    /// what is there does not agree with, a pool has more room with it. Of a limit that is not known.
    fn mends_a_part(&self, term: Term, (pos, part): PartAt, beside: &Overlay, with: &Overlay) -> bool {
        match term {
            Term::Joint(joint) => {
                let there = self.tried(beside, pos);
                let all = self.either(joint);
                let mut ends = all.iter().flat_map(|j| self.agreeing_ends(*j, pos, part, beside));
                ends.any(|(j, other)| {
                    there.is_none_or(|there| !self.agreeing_ends(j, pos, there, beside).contains(&(j, other)))
                })
            }
            // what several do to a pool or a limit is looked at where it is broken to begin with
            _ if !beside.is_empty() => false,
            Term::Pool(pool) => self.pool_sum(pool, with).missing() < self.pool_sum(pool, beside).missing(),
            // never through a pool
            Term::Limit(run) => self.v.limits_at[pos].contains(&run),
            Term::Need(_) | Term::Spot(_) | Term::Fluid(_) => false,
        }
    }

    /// The other ends of a joint that a part in a place agrees with.
    fn agreeing_ends(
        &self,
        joint: JointId,
        pos: PositionId,
        part: PartId,
        beside: &Overlay,
    ) -> SmallVec<[(JointId, PositionId); 4]> {
        let ends = &self.v.joints[joint].ends;
        let name = ends.iter().find(|(p, _)| *p == pos).map(|(_, name)| *name);
        let Some(port) = name.and_then(|name| self.part(part).port_ix(name)) else { return SmallVec::new() };
        let met = self.meeting(joint, beside);
        let agrees = |other: &PortEntry| agree(self.cat, port, other).verdict != Verdict3::Broken;
        met.iter().filter(|(p, other)| *p != pos && agrees(other)).map(|(p, _)| (joint, *p)).collect()
    }

    /// Parts of the class of a place that are looked at for a term. Of a class of many: those that agree with what sits next
    /// to it, or would with some parts in their places, directly or over bridges; kits that bring the other end; those that
    /// offer what is asked for or give what is short; the cheapest. What does nothing of it, and is dearer than so many, is
    /// not looked at.
    fn of_use(&self, pos: PositionId, term: Term, beside: &Overlay) -> Vec<PartId> {
        let class = self.v.positions[pos].class;
        let all = self.cat.by_class.get(class).map_or(&[][..], Vec::as_slice);
        if all.len() <= FEW {
            return all.to_vec();
        }
        let mut parts: Vec<PartId> = all[..FEW].to_vec();
        self.meeting_at(pos, beside).iter().for_each(|list| parts.extend(list.iter()));
        if let Term::Joint(joint) = term {
            parts.extend(self.kits_for(pos, joint).into_iter().take(FEW));
        }
        let able = match term {
            Term::Need(need) => self.cat.offered_in.get(&(need, class)),
            Term::Pool(pool) => self.cat.given_in.get(&(pool, class)),
            _ => None,
        };
        parts.extend(able.into_iter().flatten().take(FEW));
        parts.sort_unstable();
        parts.dedup();
        parts
    }

    /// For each joint of a place: parts whose port agrees with one at another end.
    fn meeting_at(&self, pos: PositionId, beside: &Overlay) -> SmallVec<[Arc<[PartId]>; 4]> {
        let class = self.v.positions[pos].class;
        let mut out = SmallVec::new();
        for joint in &self.v.joints_at[pos] {
            let ends = &self.v.joints[*joint].ends;
            let Some(name) = ends.iter().find(|(p, _)| *p == pos).map(|(_, name)| *name) else { continue };
            for (other, other_name) in ends.iter().filter(|(p, _)| *p != pos) {
                let part = self.tried(beside, *other);
                let Some(port) = part.and_then(|part| self.part(part).port_ix(*other_name)) else { continue };
                let key = Meets { class, name, spec: port.spec, bridged: ends.len() == 2, without: false };
                out.push(self.meeting_parts(port, key));
            }
        }
        out
    }
}

#[cfg(test)]
mod tests;
