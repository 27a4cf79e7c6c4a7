//! What sits where: as found, routes, kits and what is in their boxes, fills, what lost its job.

use std::cmp::Reverse;

use smallvec::SmallVec;

use super::bench::{Bench, By, Fill, Key, Loose, NO_REASON, Slot};
use crate::catalogue::{PartId, PositionId, UNPRICED};
use crate::reason::{Fact, ReasonId};
use crate::sheet::Route;

impl Bench<'_> {
    /// Puts parts into positions: as found, routes, kits, fills, what lost its job.
    pub fn settle(&mut self) {
        self.stock.clear();
        self.from_box.clear();
        self.lift();
        let kits = SmallVec::from_slice(&self.laid.kits);
        self.unpack_all(kits);
        let fills: SmallVec<[(PositionId, Fill); 16]> = self.fills.iter().map(|(p, f)| (*p, *f)).collect();
        for (pos, fill) in &fills {
            self.lay(*pos, Slot::filled(fill));
        }
        self.unpack_all(fills.iter().map(|(pos, fill)| (*pos, fill.part)).collect());
        let gone: SmallVec<[(PositionId, ReasonId); 8]> = self.gone.iter().map(|(p, r)| (*p, *r)).collect();
        for (pos, reason) in gone {
            if self.slots[pos].by == By::Found && !self.is_chosen(pos) {
                self.lay(pos, Slot { part: None, by: By::Gone, changed: true, opened: false, reason });
            }
        }
        self.stock.sort_by_key(|l| l.part);
        self.count_loose();
        self.note_changes();
    }

    /// Notes what lies loose in stock and matters to a search: bridges, which cost nothing then, and what is not for sale
    /// otherwise.
    fn count_loose(&mut self) {
        let matters = |l: &&Loose| l.left > 0 && self.matters_loose(l.part);
        let mut set: Vec<PartId> = self.stock.iter().filter(matters).map(|l| l.part).collect();
        set.dedup();
        let (cat, v) = (self.cat, self.v);
        let bridges: SmallVec<[PartId; 8]> =
            set.iter().copied().filter(|part| self.is_bridge(*part)).collect();
        self.loose_bridges = bridges;
        let is_plain = set.is_empty() && v.bridge_classes.is_empty();
        self.loose = (!is_plain).then(|| cat.searched.with_loose(v.bridge_classes.clone(), set));
    }

    pub fn base_slot(&mut self, pos: PositionId) -> Slot {
        let found = self.as_found(pos);
        let Some((route, part)) = self.owner[pos] else {
            let reason = match found {
                Some(part) => self.as_found_reason(pos, part),
                None => NO_REASON,
            };
            return Slot { part: found, by: By::Found, changed: false, opened: false, reason };
        };
        let reason = self.reason(&[], |b| Fact::Chosen {
            position: b.v.positions[pos].id.clone(),
            place: b.place(pos),
            route: route.word().to_owned(),
            part: part.map(|p| b.name(p)),
        });
        match route {
            Route::Keep => Slot { part: found, by: By::Found, changed: false, opened: false, reason },
            Route::Clean | Route::Rebuild | Route::Renew => {
                Slot { part: found, by: By::Owner, changed: false, opened: found.is_some(), reason }
            }
            Route::Convert => Slot { part, by: By::Owner, changed: part != found, opened: true, reason },
            // what is not put back wants no seal
            Route::LeaveOff => {
                Slot { part: None, by: By::Owner, changed: found.is_some(), opened: false, reason }
            }
        }
    }

    pub fn as_found_reason(&mut self, pos: PositionId, part: PartId) -> ReasonId {
        self.reason(&[], |b| Fact::AsFound {
            position: b.v.positions[pos].id.clone(),
            place: b.place(pos),
            part: b.name(part),
        })
    }

    /// Unpacks kits, those that hold other kits first: one that lies in the box of another is unpacked with it.
    fn unpack_all(&mut self, mut kits: SmallVec<[(PositionId, PartId); 8]>) {
        kits.sort_by_key(|(_, kit)| Reverse(self.nesting(*kit, 0)));
        for (pos, kit) in kits {
            let entry = self.part(kit);
            if entry.contents.is_empty() && entry.leaves_empty.is_empty() {
                continue;
            }
            let qty = self.v.positions[pos].qty;
            let boxed = self.take_loose(kit, qty);
            if boxed > 0 {
                self.from_box.push((pos, boxed));
            }
            self.leave_empty(pos, kit);
            if boxed < qty {
                self.unpack(pos, kit, qty - boxed, 0);
            }
        }
    }

    /// How many kits lie in each other.
    fn nesting(&self, kit: PartId, depth: u8) -> u8 {
        let contents = &self.part(kit).contents;
        let deepest = contents.iter().map(|c| if depth < 4 { self.nesting(c.part, depth + 1) } else { 0 });
        deepest.max().map_or(0, |most| most + 1)
    }

    /// Empties the places that a part leaves empty, as seen from where its kit goes.
    fn leave_empty(&mut self, kit_pos: PositionId, kit: PartId) {
        for said in &self.part(kit).leaves_empty {
            for pos in self.v.meant(said, self.v.whereabouts(kit_pos)) {
                if pos == kit_pos || !self.free_for_kit(pos) {
                    continue;
                }
                let had = self.as_found(pos).is_some();
                let found = self.as_found(pos).map(|part| self.as_found_reason(pos, part));
                let premises = [self.slots[kit_pos].reason, found.unwrap_or(NO_REASON)];
                let reason =
                    self.reason(&premises, |b| Fact::LeftEmpty { place: b.place(pos), kit: b.name(kit) });
                self.displace(pos);
                self.lay(pos, Slot { part: None, by: By::Kit(kit_pos), changed: had, opened: had, reason });
            }
        }
    }

    /// Places the contents of some kits of one position: into their positions where the owner has not chosen, else loose. A
    /// content that does not get into the place it is for leaves nothing empty.
    fn unpack(&mut self, kit_pos: PositionId, kit: PartId, kits: u32, depth: u8) {
        let entry = self.part(kit);
        for content in &entry.contents {
            let part = content.part;
            let had = content.qty.saturating_mul(kits);
            let mut places = self.v.places_of_content(kit_pos, content, had, self.part(part));
            let is_for_a_place = !places.is_empty();
            places.retain(|pos| self.free_for_kit(*pos));
            let mut rest = had;
            // one that goes to several places is noted for each
            for (n, pos) in places.iter().enumerate() {
                let placed = self.put_in_place(*pos, (part, rest), (kit, kit_pos));
                let had = if n + 1 == places.len() { rest } else { placed };
                rest -= had;
                let (place, left) = (Some(*pos), had - placed);
                self.stock.push(Loose { part, had, placed, place, left, kit: kit_pos, kit_part: kit });
            }
            if places.is_empty() {
                let loose =
                    Loose { part, had, placed: 0, place: None, left: had, kit: kit_pos, kit_part: kit };
                self.stock.push(loose);
            }
            if depth < 4 {
                if rest < had || !is_for_a_place {
                    self.leave_empty(kit_pos, part);
                }
                self.unpack(kit_pos, part, had, depth + 1);
            }
        }
    }

    /// Puts a content into its place, as many as that takes; how many. What another kit put there makes way, unless it is
    /// the same part.
    fn put_in_place(
        &mut self,
        pos: PositionId,
        (part, had): (PartId, u32),
        (kit, kit_pos): (PartId, PositionId),
    ) -> u32 {
        let there = self.stock.iter().filter(|l| l.place == Some(pos) && l.part == part);
        let there: u32 = there.map(|l| l.placed).sum();
        if there == 0 {
            self.displace(pos);
            let reason = self.in_box(part, kit, kit_pos);
            let changed = self.as_found(pos) != Some(part);
            let by = By::Kit(kit_pos);
            self.lay(pos, Slot { part: Some(part), by, changed, opened: true, reason });
        }
        had.min(self.v.positions[pos].qty.saturating_sub(there))
    }

    /// What a kit put into a place does not go there after all: it lies loose.
    fn displace(&mut self, pos: PositionId) {
        for content in self.stock.iter_mut().filter(|l| l.place == Some(pos)) {
            content.left += content.placed;
            content.placed = 0;
        }
    }

    fn free_for_kit(&self, pos: PositionId) -> bool {
        !self.is_chosen(pos) && !self.fills.contains_key(&pos)
    }

    /// Why a part lies loose in stock: the kit whose box it is in, and what sits in the place it would go to.
    pub fn loose_reason(&mut self, part: PartId) -> Option<ReasonId> {
        let loose = *self.stock.iter().find(|l| l.part == part && l.left > 0)?;
        let kit = self.slots[loose.kit].part?;
        let places = self.v.by_class.of(self.part(part).class).iter().filter(|p| **p != loose.kit);
        let mut premises = vec![self.slots[loose.kit].reason];
        premises.extend(places.map(|pos| self.slots[*pos].reason));
        Some(self.reason(&premises, |b| Fact::InBox { part: b.name(part), kit: b.name(kit) }))
    }

    fn in_box(&mut self, part: PartId, kit: PartId, kit_pos: PositionId) -> ReasonId {
        let premise = self.slots[kit_pos].reason;
        self.reason(&[premise], |b| Fact::InBox { part: b.name(part), kit: b.name(kit) })
    }

    /// What a companion takes out of the boxes: nothing where it is left out.
    pub fn take_for(&mut self, key: Key, part: PartId, qty: u32) -> u32 {
        if !self.is_loose(part) || self.is_waived(key) { 0 } else { self.take_loose(part, qty) }
    }

    /// Takes up to so many loose parts out of the boxes; how many there were.
    pub fn take_loose(&mut self, part: PartId, qty: u32) -> u32 {
        let mut taken = 0;
        for loose in self.stock.iter_mut().filter(|l| l.part == part) {
            let take = loose.left.min(qty - taken);
            loose.left -= take;
            taken += take;
        }
        if taken > 0 && self.matters_loose(part) {
            self.count_loose();
        }
        taken
    }

    fn matters_loose(&self, part: PartId) -> bool {
        let entry = self.part(part);
        self.is_bridge(part) || entry.cost == UNPRICED
    }

    pub fn is_loose(&self, part: PartId) -> bool {
        self.stock.iter().any(|l| l.part == part && l.left > 0)
    }
}

#[cfg(test)]
mod tests;
