//! What sits otherwise than its base slot says, kept apart so that a pass puts back and compares only that.

use super::bench::{Bench, Slot};
use crate::catalogue::{Bits, JointEntry, PartId, PositionEntry, PositionId, VehicleEntry};
use crate::sheet::Route;

/// Joints and positions that changed slots reach.
#[derive(Debug, Default)]
pub(crate) struct Change {
    /// Joints with an end that is not as found any more.
    pub joints: Bits<JointEntry>,
    /// Positions at such joints.
    pub near: Bits<PositionEntry>,
}

impl Change {
    pub fn new(v: &VehicleEntry) -> Self {
        Self { joints: Bits::below(v.joints.len()), near: Bits::below(v.positions.len()) }
    }

    /// A position is not as found any more: its joints are looked at.
    pub fn add(&mut self, v: &VehicleEntry, pos: PositionId) {
        self.joints.join(&v.joints_near[pos]);
        self.near.join(&v.near[pos]);
    }

    fn clear(&mut self) {
        self.joints.clear();
        self.near.clear();
    }
}

/// What was laid over the base slots.
#[derive(Debug, Default)]
pub(crate) struct Laid {
    /// Positions that may differ from their base slots, some of them twice.
    now: Vec<PositionId>,
    /// What sat in positions that were touched since the pass before.
    before: Vec<(PositionId, Slot)>,
    /// Positions in that list.
    noted: Bits<PositionEntry>,
    /// Positions whose chosen part brings a box, with the part.
    pub kits: Vec<(PositionId, PartId)>,
}

impl Laid {
    pub fn new(positions: usize) -> Self {
        Self { noted: Bits::below(positions), ..Self::default() }
    }
}

impl Bench<'_> {
    /// Makes the base slots ready for a run: what a bench without words knows of them already stays.
    pub fn lay_base(&mut self) {
        if self.full || self.base.is_empty() {
            self.base = self.v.positions.ids().map(|pos| self.base_slot(pos)).collect();
            self.slots.clone_from(&self.base);
            self.laid.now.clear();
            self.pooled.values_mut().for_each(Vec::clear);
            for pos in self.slots.ids() {
                self.note_new(pos, None);
            }
        }
        self.laid.kits.clear();
        self.base_change.clear();
        for pos in self.base.ids() {
            if self.base[pos].changed {
                self.base_change.add(self.v, pos);
            }
            if let Some((Route::Convert, Some(part))) = self.owner[pos] {
                let entry = self.part(part);
                if !entry.contents.is_empty() || !entry.leaves_empty.is_empty() {
                    self.laid.kits.push((pos, part));
                }
            }
        }
    }

    /// The owner has said something else of a position.
    pub fn rebase(&mut self, pos: PositionId) {
        if !self.base.is_empty() {
            self.base[pos] = self.base_slot(pos);
            self.laid.now.push(pos);
        }
    }

    /// Puts the base slots back where something was laid over them.
    pub fn lift(&mut self) {
        self.laid.before.clear();
        self.laid.noted.clear();
        let mut now = std::mem::take(&mut self.laid.now);
        for pos in now.drain(..) {
            self.note_before(pos);
            self.slots[pos] = self.base[pos];
        }
        self.laid.now = now;
    }

    /// Lays something over the base slot of a position.
    pub fn lay(&mut self, pos: PositionId, slot: Slot) {
        self.note_before(pos);
        self.laid.now.push(pos);
        self.slots[pos] = slot;
    }

    fn note_before(&mut self, pos: PositionId) {
        if !self.laid.noted.has(pos) {
            self.laid.noted.add(pos);
            self.laid.before.push((pos, self.slots[pos]));
        }
    }

    /// Stamps what changed since the pass before, and marks what is not as found.
    pub fn note_changes(&mut self) {
        for at in 0..self.laid.before.len() {
            let (pos, before) = self.laid.before[at];
            let slot = self.slot(pos);
            if before.part != slot.part || before.by != slot.by {
                self.note_new(pos, before.part);
            }
        }
        self.change.clear();
        self.change.joints.join(&self.base_change.joints);
        self.change.near.join(&self.base_change.near);
        for at in 0..self.laid.now.len() {
            let pos = self.laid.now[at];
            if self.slot(pos).changed {
                self.change.add(self.v, pos);
            }
        }
    }

    fn note_new(&mut self, pos: PositionId, before: Option<PartId>) {
        self.stamp(pos);
        let now = self.slot(pos).part;
        if before != now {
            self.note_pools(pos, before, now);
        }
    }
}
