//! What is bought only once something is measured.
//!
//! In words. A part whose joint or limit is open may not be the one that fits: it is measured first, then bought. Where what
//! lies between two ends is sought by a value that nobody knows, not even which part it is can be said: it is called by its
//! class, and the price is that of the cheapest that may suit.

use super::bench::{Bench, CheckKey, Comp, Cure, Key, Trouble};
use super::spent::Item;
use crate::catalogue::{JointId, PartId, PositionId};
use crate::reason::ReasonId;

impl Bench<'_> {
    /// Something that decides whether what goes into a place fits is not known.
    pub(super) fn is_measured_first(&self, pos: PositionId) -> bool {
        let decides = |key: CheckKey| matches!(key, CheckKey::Joint(_) | CheckKey::Limit(_));
        self.found.unknowns.iter().any(|open| decides(open.key) && open.positions.contains(&pos))
    }

    /// Something that decides whether a companion fits is not known.
    pub(super) fn is_companion_measured_first(&self, comp: &Comp) -> bool {
        !self.is_bought(comp.part)
            && (self.is_any_of_its_class(comp)
                || comp.position.is_some_and(|pos| self.is_measured_first(pos)))
    }

    /// The part as shown; by its class where nobody can say yet which one it is.
    pub(super) fn companion_name(&self, comp: &Comp) -> String {
        if self.is_any_of_its_class(comp) {
            self.class_measured_first(comp.part)
        } else {
            self.name(comp.part)
        }
    }

    /// It lies between ends of an open joint, and is sought by a value of theirs that nobody knows.
    pub(super) fn is_any_of_its_class(&self, comp: &Comp) -> bool {
        matches!(comp.key, Key::Open(joint, ..) if self.is_called_by_class(joint, comp.part))
    }

    /// Nobody can say yet which seal of its class goes between the ends of a joint; what is bought is known.
    pub(super) fn is_called_by_class(&self, joint: JointId, seal: PartId) -> bool {
        !self.is_bought(seal) && self.is_any_seal(joint, seal)
    }

    fn is_bought(&self, part: PartId) -> bool {
        self.ground.records.get(Item::part(part)).is_some_and(|record| record.state.is_bought())
    }

    /// Which seals of a joint are not known well enough to be bought.
    pub(super) fn seals_between(&self, joint: JointId) -> impl Iterator<Item = PartId> {
        let of_joint =
            self.found.comps.iter().filter(move |c| matches!(c.key, Key::Open(of, ..) if of == joint));
        of_joint.map(|c| c.part).filter(move |seal| self.is_any_seal(joint, *seal))
    }

    /// That a seal between two ends is sought by a value that nobody knows is to be measured, where their joint does not say
    /// so already: two that came together fit, and that says nothing of what lies between.
    pub(super) fn measure_for_seal(&mut self, joint: JointId, seal: PartId, reason: ReasonId) {
        let key = CheckKey::Joint(joint);
        if !self.is_any_seal(joint, seal) || self.found.unknowns.iter().any(|open| open.key == key) {
            return;
        }
        let (what, positions) = if self.full {
            let met = self.met_now(joint);
            (self.what_to_measure_for(joint, seal), met.ports.iter().map(|(pos, _)| *pos).collect())
        } else {
            Default::default()
        };
        self.found.unknowns.push(Trouble { key, positions, reason, what, cure: Cure::None });
    }

    /// "Cylinder head gasket, to be measured first".
    pub(super) fn class_measured_first(&self, part: PartId) -> String {
        format!("{}, to be measured first", self.cat.classes[self.part(part).class].name)
    }
}

#[cfg(test)]
mod tests;
