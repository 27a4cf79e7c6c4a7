//! What sits where: as found, routes, kits and what is in their boxes, fills, what lost its job.

use smallvec::SmallVec;

use super::bench::{Bench, By, Fill, Loose, NO_REASON, Slot};
use crate::catalogue::{Ix, UNPRICED};
use crate::reason::{Fact, ReasonId};
use crate::sheet::Route;

impl Bench<'_> {
    /// Puts parts into positions: as found, routes, kits, fills, what lost its job.
    pub fn settle(&mut self) {
        self.stock.clear();
        self.lift();
        for at in 0..self.laid.kits.len() {
            let (pos, part) = self.laid.kits[at];
            self.unpack(pos, part, 0);
        }
        let fills: SmallVec<[(Ix, Fill); 16]> = self.fills.iter().map(|(p, f)| (*p, *f)).collect();
        for (pos, fill) in &fills {
            self.lay(*pos, Slot::filled(fill));
        }
        for (pos, fill) in &fills {
            self.unpack(*pos, fill.part, 0);
        }
        let gone: SmallVec<[(Ix, ReasonId); 8]> = self.gone.iter().map(|(p, r)| (*p, *r)).collect();
        for (pos, reason) in gone {
            if self.slots[pos as usize].by == By::Found && !self.is_chosen(pos) {
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
        let mut set: Vec<Ix> = self.stock.iter().filter(matters).map(|l| l.part).collect();
        set.dedup();
        self.loose_bridges.clear();
        let is_bridge = |part: &Ix| self.cat.parts[*part as usize].bridge.is_some();
        self.loose_bridges.extend(set.iter().copied().filter(is_bridge));
        self.loose = (!set.is_empty()).then(|| self.cat.searched.with_loose(set));
    }

    pub fn base_slot(&mut self, pos: Ix) -> Slot {
        let found = self.as_found(pos);
        let Some((route, part)) = self.owner[pos as usize] else {
            let reason = match found {
                Some(part) => self.as_found_reason(pos, part),
                None => NO_REASON,
            };
            return Slot { part: found, by: By::Found, changed: false, opened: false, reason };
        };
        let reason = self.reason(&[], |b| Fact::Chosen {
            position: b.v.positions[pos as usize].id.clone(),
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

    pub fn as_found_reason(&mut self, pos: Ix, part: Ix) -> ReasonId {
        self.reason(&[], |b| Fact::AsFound {
            position: b.v.positions[pos as usize].id.clone(),
            place: b.place(pos),
            part: b.name(part),
        })
    }

    /// Places the contents of a kit: into their positions where the owner has not chosen, else loose.
    fn unpack(&mut self, kit_pos: Ix, kit: Ix, depth: u8) {
        let entry = self.part(kit);
        for class in &entry.leaves_empty {
            if let Some(pos) = self.v.by_class.get(class).copied()
                && pos != kit_pos
                && self.free_for_kit(pos)
            {
                let had = self.as_found(pos).is_some();
                let found = self.as_found(pos).map(|part| self.as_found_reason(pos, part));
                let premises = [self.slots[kit_pos as usize].reason, found.unwrap_or(NO_REASON)];
                let reason =
                    self.reason(&premises, |b| Fact::LeftEmpty { place: b.place(pos), kit: b.name(kit) });
                self.lay(pos, Slot { part: None, by: By::Kit(kit_pos), changed: had, opened: had, reason });
            }
        }
        for (part, qty) in &entry.contents {
            let class = self.part(*part).class;
            let is_free = self.cat.classes.get(class as usize).is_some_and(|c| c.1);
            match self.v.by_class.get(&class).copied() {
                Some(pos) if !is_free && pos != kit_pos && self.free_for_kit(pos) => {
                    let reason = self.in_box(*part, kit, kit_pos);
                    let changed = self.as_found(pos) != Some(*part);
                    let by = By::Kit(kit_pos);
                    self.lay(pos, Slot { part: Some(*part), by, changed, opened: true, reason });
                }
                _ => self.stock.push(Loose { part: *part, had: *qty, left: *qty, kit: kit_pos }),
            }
            if depth < 4 && !self.part(*part).contents.is_empty() {
                self.unpack(kit_pos, *part, depth + 1);
            }
        }
    }

    fn free_for_kit(&self, pos: Ix) -> bool {
        !self.is_chosen(pos) && !self.fills.contains_key(&pos)
    }

    /// Why a part lies loose in stock: the kit whose box it is in, and what sits in the place it would go to.
    pub fn loose_reason(&mut self, part: Ix) -> Option<ReasonId> {
        let loose = *self.stock.iter().find(|l| l.part == part && l.left > 0)?;
        let kit = self.slots[loose.kit as usize].part?;
        let place = self.v.by_class.get(&self.part(part).class).copied().filter(|p| *p != loose.kit);
        let mut premises = vec![self.slots[loose.kit as usize].reason];
        premises.extend(place.map(|pos| self.slots[pos as usize].reason));
        Some(self.reason(&premises, |b| Fact::InBox { part: b.name(part), kit: b.name(kit) }))
    }

    fn in_box(&mut self, part: Ix, kit: Ix, kit_pos: Ix) -> ReasonId {
        let premise = self.slots[kit_pos as usize].reason;
        self.reason(&[premise], |b| Fact::InBox { part: b.name(part), kit: b.name(kit) })
    }

    /// Takes up to so many loose parts out of the boxes; how many there were.
    pub fn take_loose(&mut self, part: Ix, qty: u32) -> u32 {
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

    /// Puts back what was taken too many.
    pub fn put_back(&mut self, part: Ix, mut qty: u32) {
        for loose in self.stock.iter_mut().filter(|l| l.part == part) {
            let back = qty.min(loose.had - loose.left);
            loose.left += back;
            qty -= back;
        }
    }

    fn matters_loose(&self, part: Ix) -> bool {
        let entry = self.part(part);
        entry.bridge.is_some() || entry.cost == UNPRICED
    }

    pub fn is_loose(&self, part: Ix) -> bool {
        self.stock.iter().any(|l| l.part == part && l.left > 0)
    }
}
