//! Free classes: loose parts on a vehicle that gives them no place; on one that does, parts of that place and no other.

use super::bench::{Bench, By, Key};
use super::renewals::{DueOpenings, Opened, Renewal};
use crate::assessment::Origin;
use crate::catalogue::{Bits, ClassId, JointId, PartId, PositionId, UNPRICED};
use crate::library::Want;
use crate::reason::Fact;

/// What an opened joint wants in a place of the vehicle.
struct InPlace<'a> {
    joint: JointId,
    pos: PositionId,
    want: &'a Want,
}

impl<'a> Bench<'a> {
    /// Whether parts of a class are bought here without a place: between two others, over a port, at a joint, for a need.
    pub fn is_used_loose(&self, class: ClassId) -> bool {
        self.cat.classes.get(class).is_some_and(|c| c.is_loose()) && !self.v.by_class.has(class)
    }

    /// Whether a part goes between two others on this vehicle.
    pub fn is_bridge(&self, part: PartId) -> bool {
        let entry = self.part(part);
        entry.bridge.is_some() && !self.v.bridge_classes.contains(&entry.class)
    }

    /// What opened joints want that has a place on this vehicle is renewed there. Whether a place was opened by it that
    /// was shut, or was opened more surely.
    pub(super) fn renew_seals(&mut self, opened: &mut Opened, due: &mut DueOpenings) -> bool {
        // no vehicle pays for it that has no such place
        if !self.v.has_seal_places {
            return false;
        }
        let mut joints = Bits::below(self.v.joints.len());
        for pos in self.slots.ids().filter(|p| opened.apart(*p).is_some()) {
            joints.join(&self.v.joints_near[pos]);
        }
        let mut wanted: Vec<InPlace<'a>> = Vec::new();
        let mut last = None;
        while let Some(joint) = joints.after(last) {
            last = Some(joint);
            let met = self.met_now(joint);
            if met.ports.len() >= 2 && !self.is_superseded(joint) {
                let chain = self.chain_found(joint);
                let links = chain.as_ref().map_or(&[][..], |chain| &chain.links);
                self.each_want(&met.ports, links, |_, _, class, want| {
                    let places = self.places_at(joint, class, want);
                    wanted.extend(places.map(|pos| InPlace { joint, pos, want }));
                });
            }
        }
        let mut any = false;
        for want in wanted {
            if self.renew_seal(&want, opened) {
                self.again(want.pos, due);
                any = true;
            }
        }
        any
    }

    /// The places of a class that go with all ends of a joint.
    fn places_at(&self, joint: JointId, class: ClassId, want: &Want) -> impl Iterator<Item = PositionId> {
        let ends = &self.v.joints[joint].ends;
        let is_here = |pos: &PositionId| {
            let here = self.v.whereabouts(*pos);
            here.bears(&want.whereabouts)
                && ends.iter().all(|(end, _)| here.goes_with(self.v.whereabouts(*end)))
        };
        self.v.by_class.of(class).iter().copied().filter(is_here).collect::<Vec<_>>().into_iter()
    }

    fn renew_seal(&mut self, wanted: &InPlace<'a>, opened: &mut Opened) -> bool {
        let InPlace { joint, pos, want } = *wanted;
        let v = self.v;
        let open = opened.among(v.joints[joint].ends.iter().map(|(p, _)| *p));
        // an alternative of it may be what is apart
        if open.is_empty() {
            return false;
        }
        let level = want.level.max(opened.level(&open));
        if opened.renewed(pos).is_none() {
            let slot = *self.slot(pos);
            let part = slot.part.filter(|p| self.part(*p).cost != UNPRICED);
            let Some(part) = part.filter(|_| !self.is_chosen(pos) && slot.by == By::Found) else {
                return false;
            };
            let mut premises = opened.reasons(&open);
            let meets = self.met_now(joint).ports.iter().map(|(p, _)| *p).collect::<Vec<_>>();
            premises.extend(self.reasons_of(meets.into_iter().chain([pos])));
            let reason = self.reason(&premises, |s| Fact::Opened {
                what: s.v.joints[joint].name.clone(),
                wants: s.name(part),
                why: want.why.clone(),
            });
            let key = Key::Beside(pos);
            opened.renewed[pos] = Some(Renewal {
                key,
                opening: None,
                part,
                qty: v.positions[pos].qty.max(want.qty),
                origin: Origin::Joint,
                level,
                cause: opened.cause(&open),
                reason,
                waived: self.is_waived(key),
            });
        }
        opened.renew(pos, level)
    }
}

#[cfg(test)]
mod tests;
