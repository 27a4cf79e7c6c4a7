//! Which parts could go into a position at all, found through the indexes: the work must not grow with the library.

use std::sync::Arc;

use super::bench::Bench;
use super::fills::Must;
use crate::catalogue::meeting::agree;
use crate::catalogue::searched::{Meets, Told};
use crate::catalogue::{ClassPorts, JointId, PartId, PortEntry, PortNameId, PositionId};
use crate::value::Verdict3;

/// Parts, cheapest first, ties by id, each once.
type Parts = Arc<[PartId]>;

impl Bench<'_> {
    /// Parts of the position's class that could do what they must. Every part that does is among them; each must still
    /// be looked at.
    pub fn shortlist(&self, pos: PositionId, must: Must) -> Parts {
        match must {
            Must::Close(joint) => self.closing(pos, joint, false),
            Must::DoWithout(_) | Must::Fit => match self.narrowest(pos, must.joint()) {
                Some(joint) => self.closing(pos, joint, true),
                None => Arc::from(self.of_class(pos)),
            },
        }
    }

    /// Those of the shortlist that also break nothing where fewest parts fit: whoever has no mark is among them. Empty
    /// where there is no such place.
    pub fn shortlist_clean(&self, pos: PositionId, must: Must) -> Vec<PartId> {
        let Some(joint) = must.joint() else { return Vec::new() };
        let Some(other) = self.narrowest(pos, Some(joint)) else { return Vec::new() };
        let rank = |part: &PartId| self.part(*part).rank;
        let fitting = self.closing(pos, other, true);
        let closing = self.closing(pos, joint, false);
        let (few, many) =
            if fitting.len() < closing.len() { (&fitting, &closing) } else { (&closing, &fitting) };
        few.iter().copied().filter(|p| many.binary_search_by_key(&rank(p), rank).is_ok()).collect()
    }

    fn of_class(&self, pos: PositionId) -> &[PartId] {
        let class = self.v.positions[pos].class;
        self.cat.by_class.get(class).map_or(&[], Vec::as_slice)
    }

    /// Number of this position's port name at a joint.
    fn port_name(&self, pos: PositionId, joint: JointId) -> Option<PortNameId> {
        let ends = &self.v.joints[joint].ends;
        ends.iter().find(|(p, _)| *p == pos).map(|(_, name)| *name)
    }

    /// Ports that meet this position's at a joint.
    fn others(&self, pos: PositionId, joint: JointId) -> impl Iterator<Item = &PortEntry> {
        let ends = self.v.joints[joint].ends.iter().filter(move |(p, _)| *p != pos);
        ends.filter_map(|(p, name)| self.part(self.slot(*p).part?).port_ix(*name))
    }

    /// Parts whose port agrees with another end of a joint, directly or, where two ports meet, at the end of a chain of
    /// bridges; kits that bring their own other end; and, if wanted, parts without a port there.
    fn closing(&self, pos: PositionId, joint: JointId, without: bool) -> Parts {
        let class = self.v.positions[pos].class;
        let kits = self.kits_for(pos, joint);
        let Some(name) = self.port_name(pos, joint) else { return Arc::from(kits) };
        let mut others = self.others(pos, joint);
        let first = others.next();
        let second = others.next();
        if let (Some(other), None) = (first, second)
            && kits.is_empty()
        {
            return self
                .meeting_parts(other, Meets { class, name, spec: other.spec, bridged: true, without });
        }
        let bridged = second.is_none();
        let mut parts = kits;
        for other in first.into_iter().chain(second).chain(others) {
            parts.extend(
                self.meeting_parts(other, Meets { class, name, spec: other.spec, bridged, without }).iter(),
            );
        }
        Arc::from(self.in_order(parts))
    }

    fn in_order(&self, mut parts: Vec<PartId>) -> Vec<PartId> {
        parts.sort_unstable_by_key(|p| self.part(*p).rank);
        parts.dedup();
        parts
    }

    pub(super) fn meeting_parts(&self, other: &PortEntry, key: Meets) -> Parts {
        self.told(self.searched().meeting.get(key, || self.who_meets(other, key)))
    }

    fn who_meets(&self, other: &PortEntry, key: Meets) -> Told<Parts> {
        let Some(ports) = self.cat.class_ports.get(&(key.class, key.name)) else {
            return Told { answer: Arc::from([]), cut: false };
        };
        let mut parts: Vec<PartId> = self.agreeing_with(ports, other).collect();
        let mut cut = false;
        if key.bridged {
            let reach = self.reach(other);
            cut = reach.cut;
            for node in &reach.nodes {
                let last = node.last();
                parts.extend(self.agreeing_with(ports, &self.part(last.part).ports[usize::from(last.leave)]));
            }
        }
        if key.without {
            parts.extend(&ports.without);
        }
        Told { answer: Arc::from(self.in_order(parts)), cut }
    }

    fn agreeing_with<'b>(
        &'b self,
        ports: &'b ClassPorts,
        other: &'b PortEntry,
    ) -> impl Iterator<Item = PartId> + 'b {
        ports
            .index
            .candidates(&self.cat.port_types, other)
            .into_iter()
            .filter(|(part, at)| {
                agree(self.cat, &self.part(*part).ports[usize::from(*at)], other).verdict != Verdict3::Broken
            })
            .map(|(part, _)| part)
    }

    /// Kits of this position whose contents go to another end of the joint.
    pub(super) fn kits_for(&self, pos: PositionId, joint: JointId) -> Vec<PartId> {
        let class = self.v.positions[pos].class;
        let mut parts = Vec::new();
        if !self.cat.kit_classes.contains_key(&class) {
            return parts;
        }
        for (end, _) in &self.v.joints[joint].ends {
            let other = self.v.positions[*end].class;
            parts.extend(self.cat.kits_with.get(&(class, other)).into_iter().flatten());
        }
        parts
    }

    /// The joint with one other port at a position that leaves fewest parts to look at.
    fn narrowest(&self, pos: PositionId, except: Option<JointId>) -> Option<JointId> {
        let class = self.v.positions[pos].class;
        let mut best: Option<(usize, JointId)> = None;
        // at an alternative a part may do without
        let stands_alone = |joint: &JointId| self.v.joints[*joint].alternatives.is_empty();
        let joints = self.v.joints_at[pos].iter().copied().filter(stands_alone);
        for joint in joints.filter(|j| Some(*j) != except) {
            let Some(name) = self.port_name(pos, joint) else { continue };
            let Some(ports) = self.cat.class_ports.get(&(class, name)) else { continue };
            let mut others = self.others(pos, joint);
            let (Some(other), None) = (others.next(), others.next()) else { continue };
            let count = ports.index.count(&self.cat.port_types, other) + ports.without.len();
            if best.is_none_or(|(least, _)| count < least) {
                best = Some((count, joint));
            }
        }
        best.map(|(_, joint)| joint)
    }
}
