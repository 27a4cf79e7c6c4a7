//! Which parts of a class are looked at for a place at all: of a few all, of many those the indexes lead to, so that the
//! work does not grow with the library.

use std::rc::Rc;
use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};
use smallvec::SmallVec;

use super::bench::{Bench, CheckKey};
use super::open_places::Var;
use crate::catalogue::searched::Meets;
use crate::catalogue::{JointId, PartId, PositionId};

/// A class of no more parts than this is looked at as a whole; of a larger one, so many of the cheapest and so many that
/// offer what is missing.
pub(super) const FEW: usize = 16;

/// Parts that are looked at for a place.
#[derive(Debug, Default)]
pub(super) struct OfUse {
    /// The cheapest first, each once.
    pub parts: Vec<PartId>,
    /// Of a class of many: those that agree with each port next to the place, as it is or as it may be, cheapest first.
    pub meeting: Vec<Arc<[PartId]>>,
}

impl Bench<'_> {
    /// Parts that may be of use in a place. Of a class of many: those that agree with what sits next to it, or may sit
    /// there, directly or over bridges; kits; those that offer what is missing; the cheapest. What agrees with nothing
    /// next to it, and is dearer than so many, is not looked at.
    pub(super) fn of_use(&self, pos: PositionId, weighed: &FxHashMap<PositionId, Rc<Var>>) -> OfUse {
        let class = self.v.positions[pos].class;
        let all = self.cat.by_class.get(class).map_or(&[][..], Vec::as_slice);
        if all.len() <= FEW {
            return OfUse { parts: all.to_vec(), meeting: Vec::new() };
        }
        let mut parts: Vec<PartId> = all[..FEW].to_vec();
        let mut meeting = Vec::new();
        for joint in self.v.joints_at[pos].iter().copied() {
            self.meeting_at(pos, joint, weighed, &mut meeting);
            parts.extend(self.kits_for(pos, joint));
        }
        meeting.iter().for_each(|list: &Arc<[PartId]>| parts.extend(list.iter()));
        for trouble in self.found.clashes.iter().chain(&self.found.unmet) {
            if let CheckKey::Need(_, _, need) = trouble.key {
                let offering = self.cat.offered_in.get(&(need, class)).into_iter().flatten();
                parts.extend(offering.take(FEW));
            }
        }
        let rank = |part: &PartId| self.part(*part).rank;
        parts.sort_unstable_by_key(rank);
        parts.dedup();
        OfUse { parts, meeting }
    }

    /// Parts whose port at a joint agrees with one at another end, as it is or as it may be.
    fn meeting_at(
        &self,
        pos: PositionId,
        joint: JointId,
        weighed: &FxHashMap<PositionId, Rc<Var>>,
        meeting: &mut Vec<Arc<[PartId]>>,
    ) {
        let class = self.v.positions[pos].class;
        let ends = &self.v.joints[joint].ends;
        let Some(name) = ends.iter().find(|(p, _)| *p == pos).map(|(_, name)| *name) else { return };
        let mut seen: FxHashSet<Meets> = FxHashSet::default();
        for (other, other_name) in ends.iter().filter(|(p, _)| *p != pos) {
            let values = weighed.get(other).into_iter().flat_map(|var| &var.values);
            let there = self.slot(*other).part;
            let may_be: SmallVec<[PartId; 16]> = values.filter_map(|(part, _)| *part).chain(there).collect();
            for port in may_be.iter().filter_map(|part| self.part(*part).port_ix(*other_name)) {
                let key = Meets { class, name, spec: port.spec, bridged: ends.len() == 2, without: false };
                if seen.insert(key) {
                    meeting.push(self.meeting_parts(port, key));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
