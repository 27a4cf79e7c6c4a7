//! What lies in the boxes of kits: where it goes, and that it is not bought again.

use std::collections::BTreeSet;

use knockon_core::key::CompanionKey;
use knockon_core::sheet::Route;

use super::once::order;
use super::{By, Oracle, Slot};

/// A content of a kit.
#[derive(Clone, Copy, Debug)]
pub struct Content<'a> {
    pub part: &'a str,
    /// How many there are.
    pub had: u32,
    /// The place they go to, and how many of them sit there.
    pub placed: Option<(&'a str, u32)>,
    /// How many nobody has.
    pub left: u32,
}

impl<'a> Oracle<'a> {
    pub(super) fn loose(&self, part: &str) -> bool {
        self.stock.iter().any(|c| c.part == part && c.left > 0)
    }

    fn take(&mut self, part: &str, qty: u32) -> u32 {
        let mut taken = 0;
        for content in self.stock.iter_mut().filter(|c| c.part == part) {
            let now = content.left.min(qty - taken);
            content.left -= now;
            taken += now;
        }
        taken
    }

    /// What is left out takes nothing.
    pub(super) fn take_for(&mut self, key: &CompanionKey, part: &str, qty: u32) -> u32 {
        if self.waived(key) { 0 } else { self.take(part, qty) }
    }

    /// Left out by its own key, with the first container of its fluid, or with another who asks for the same service.
    pub(super) fn waived(&self, key: &CompanionKey) -> bool {
        let first = match key {
            CompanionKey::Fluid { class, .. } => Some(CompanionKey::Fluid { class: class.clone(), n: 0 }),
            _ => None,
        };
        let with = self.once.get(key).into_iter().flatten();
        first.iter().chain([key]).chain(with).any(|key| self.plan.waived.contains_key(key))
    }

    /// A kit for each piece that its position takes, less those that lie in the box of another: kits that hold kits first.
    pub(super) fn unpack_all(&mut self, mut kits: Vec<(&'a str, &'a str)>) {
        kits.sort_by_key(|(_, kit)| std::cmp::Reverse(self.nesting(kit)));
        for (pos, kit) in kits {
            if self.part(kit).contents.is_empty() && self.part(kit).leaves_empty.is_empty() {
                continue;
            }
            let qty = self.v.positions[pos].qty;
            let boxed = self.take(kit, qty);
            self.from_box.insert(pos, boxed);
            self.leave_empty(pos, kit);
            if boxed < qty {
                self.unpack(pos, kit, qty - boxed);
            }
        }
    }

    fn nesting(&self, kit: &str) -> usize {
        self.part(kit).contents.iter().map(|c| self.nesting(&c.part) + 1).max().unwrap_or(0)
    }

    fn free(&self, kit: &str, other: &str) -> bool {
        other != kit && !self.chosen(other) && !self.fills.contains_key(other)
    }

    fn leave_empty(&mut self, pos: &'a str, kit: &str) {
        for said in &self.part(kit).leaves_empty {
            for other in self.meant(&said.class, &said.whereabouts, self.spot(pos)) {
                if self.free(pos, other) {
                    let had = self.found(other).is_some();
                    self.lies_loose(other);
                    let slot = Slot { part: None, by: By::Kit(pos), changed: had, opened: had };
                    self.slots.insert(other, slot);
                }
            }
        }
    }

    /// What does not get into the place it is for leaves nothing empty.
    fn unpack(&mut self, pos: &'a str, kit: &'a str, kits: u32) {
        for content in &self.part(kit).contents {
            let (part, had) = (content.part.as_str(), content.qty * kits);
            let mut places = self.places_of_content(pos, content, had);
            let anywhere = places.is_empty();
            places.retain(|other| self.free(pos, other));
            let mut rest = had;
            for place in places {
                let qty = self.put(place, part, rest, pos);
                self.stock.push(Content { part, had: qty, placed: Some((place, qty)), left: 0 });
                rest -= qty;
            }
            self.stock.push(Content { part, had: rest, placed: None, left: rest });
            if anywhere || rest < had {
                self.leave_empty(pos, part);
            }
            self.unpack(pos, part, had);
        }
    }

    /// Puts some of a part into a place, as many as it takes beside those of other kits; any other part makes way.
    fn put(&mut self, place: &'a str, part: &'a str, had: u32, kit: &'a str) -> u32 {
        let same = self.stock.iter().filter(|c| c.part == part).filter_map(|c| c.placed);
        let there: u32 = same.filter(|(p, _)| *p == place).map(|(_, qty)| qty).sum();
        if there == 0 {
            self.lies_loose(place);
            let changed = self.found(place) != Some(part);
            self.slots.insert(place, Slot { part: Some(part), by: By::Kit(kit), changed, opened: true });
        }
        had.min(self.v.positions[place].qty - there)
    }

    /// What kits put into a place lies loose.
    fn lies_loose(&mut self, place: &str) {
        for content in &mut self.stock {
            if let Some((_, qty)) = content.placed.filter(|(p, _)| *p == place) {
                content.left += qty;
                content.placed = None;
            }
        }
    }

    /// Once all is found: first what the owner put into places, then companions in the order of their keys.
    pub(super) fn share_boxes(&mut self) {
        for content in &mut self.stock {
            content.left = content.had - content.placed.map_or(0, |(_, qty)| qty);
        }
        for (pos, qty) in std::mem::take(&mut self.from_box) {
            self.put_into(pos, qty);
        }
        for (pos, choice) in &self.plan.routes {
            if let Route::Convert | Route::Renew = choice.route {
                self.put_into(pos, self.v.positions[pos].qty);
            }
        }
        let comps = self.comps.iter().map(|c| (c.key.clone(), c.part, c.qty));
        let fills = self.fills.iter().map(|(p, f)| (CompanionKey::fill(*p), *f, self.v.positions[*p].qty));
        let mut all: Vec<(CompanionKey, &'a str, u32)> = comps.chain(fills).collect();
        all.sort_by_key(|a| order(&a.0));
        let mut seen = BTreeSet::new();
        for (key, part, qty) in all {
            // the same thing wanted twice for the same reason is one
            if !seen.insert(key.clone()) {
                continue;
            }
            if let CompanionKey::Fill { position: id } = &key {
                if let Some((pos, _)) = self.v.positions.get_key_value(id).filter(|_| !self.waived(&key)) {
                    self.put_into(pos, qty);
                }
                continue;
            }
            let boxed = self.take_for(&key, part, qty);
            if let Some(comp) = self.comps.iter_mut().find(|c| c.key == key) {
                comp.boxed = boxed;
            }
        }
    }

    /// Puts what lies loose into a position, up to so many in all.
    fn put_into(&mut self, pos: &'a str, qty: u32) {
        let Some(part) = self.slots[pos].part else { return };
        let before = self.from_box.get(pos).copied().unwrap_or(0);
        let more = self.take(part, qty - before);
        self.from_box.insert(pos, before + more);
    }
}
