//! What sits otherwise than its base slot says, kept apart so that a pass puts back and compares only that.

use super::bench::{Bench, Slot};
use crate::catalogue::{Bits, Ix, VehicleEntry};
use crate::sheet::Route;

/// Joints and positions that changed slots reach.
#[derive(Debug, Default)]
pub(crate) struct Change {
    /// Joints with an end that is not as found any more.
    pub joints: Bits,
    /// Positions at such joints.
    pub near: Bits,
}

impl Change {
    pub fn new(v: &VehicleEntry) -> Self {
        Self { joints: Bits::below(v.joints.len()), near: Bits::below(v.positions.len()) }
    }

    /// A position is not as found any more: its joints are looked at.
    pub fn add(&mut self, v: &VehicleEntry, pos: Ix) {
        self.joints.join(&v.joints_near[pos as usize]);
        self.near.join(&v.near[pos as usize]);
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
    now: Vec<Ix>,
    /// What sat in positions that were touched since the pass before.
    before: Vec<(Ix, Slot)>,
    /// Positions in that list.
    noted: Bits,
    /// Positions whose chosen part brings a box, with the part.
    pub kits: Vec<(Ix, Ix)>,
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
            self.base = (0..self.v.positions.len() as Ix).map(|pos| self.base_slot(pos)).collect();
            self.slots.clone_from(&self.base);
            self.laid.now.clear();
            self.pooled.iter_mut().for_each(Vec::clear);
            for pos in 0..self.slots.len() as Ix {
                self.note_new(pos, None);
            }
        }
        self.laid.kits.clear();
        self.base_change.clear();
        for pos in 0..self.base.len() as Ix {
            if self.base[pos as usize].changed {
                self.base_change.add(self.v, pos);
            }
            if let Some((Route::Convert, Some(part))) = self.owner[pos as usize] {
                let entry = self.part(part);
                if !entry.contents.is_empty() || !entry.leaves_empty.is_empty() {
                    self.laid.kits.push((pos, part));
                }
            }
        }
    }

    /// The owner has said something else of a position.
    pub fn rebase(&mut self, pos: Ix) {
        if !self.base.is_empty() {
            self.base[pos as usize] = self.base_slot(pos);
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
            self.slots[pos as usize] = self.base[pos as usize];
        }
        self.laid.now = now;
    }

    /// Lays something over the base slot of a position.
    pub fn lay(&mut self, pos: Ix, slot: Slot) {
        self.note_before(pos);
        self.laid.now.push(pos);
        self.slots[pos as usize] = slot;
    }

    fn note_before(&mut self, pos: Ix) {
        if !self.laid.noted.has(pos) {
            self.laid.noted.add(pos);
            self.laid.before.push((pos, self.slots[pos as usize]));
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

    fn note_new(&mut self, pos: Ix, before: Option<Ix>) {
        self.stamp(pos);
        let now = self.slot(pos).part;
        if before != now {
            self.note_pools(pos, before, now);
        }
    }
}
