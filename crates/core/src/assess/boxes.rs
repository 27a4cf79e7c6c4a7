//! What lies in the boxes of kits goes to whoever wants it: nothing that lies in a box is sold again.

use smallvec::SmallVec;

use super::bench::{Bench, By, Key};
use crate::assessment::{BoxLine, BoxUse};
use crate::box_key::BoxKey;
use crate::catalogue::{PartId, PositionId};
use crate::sheet::{LineState, Route};

impl Bench<'_> {
    /// Once all is found, shares what lies loose: first to places where the owner puts such a part, then to companions
    /// in the order of their keys. What is left out takes nothing.
    pub(super) fn share_boxes(&mut self) {
        if self.stock.is_empty() {
            return;
        }
        for content in &mut self.stock {
            content.left = content.had - content.placed;
        }
        let kits = std::mem::take(&mut self.from_box);
        for (pos, qty) in kits {
            self.take_to(pos, qty);
        }
        for pos in self.owner.ids() {
            if let Some((Route::Convert | Route::Renew, _)) = self.owner[pos] {
                self.take_to(pos, self.v.positions[pos].qty);
            }
        }
        let fills = self.fills.keys().map(|pos| (Key::Fill(*pos).order(), Err(*pos)));
        let comps = self.found.comps.iter().enumerate().map(|(at, c)| (c.key.order(), Ok(at)));
        let mut all: Vec<(u128, Result<usize, PositionId>)> = comps.chain(fills).collect();
        all.sort_by_key(|(order, _)| *order);
        all.dedup_by_key(|(order, _)| *order);
        for (_, wants) in all {
            match wants {
                Err(pos) if !self.is_waived(Key::Fill(pos)) => {
                    self.take_to(pos, self.v.positions[pos].qty);
                }
                Err(_) => {}
                Ok(at) => {
                    let comp = self.found.comps[at];
                    self.found.comps[at].boxed = self.take_for(comp.key, comp.part, comp.qty);
                }
            }
        }
    }

    /// What a position has out of a box, up to so many in all.
    fn take_to(&mut self, pos: PositionId, qty: u32) {
        let Some(part) = self.slot(pos).part else { return };
        let more = self.take_loose(part, qty.saturating_sub(self.boxed_at(pos)));
        if more > 0 {
            self.from_box.push((pos, more));
        }
    }

    /// How many of a position's part come out of the box of a kit elsewhere.
    pub fn boxed_at(&self, pos: PositionId) -> u32 {
        self.from_box.iter().filter(|(p, _)| *p == pos).map(|(_, qty)| qty).sum()
    }

    /// Where the part stands that a kit brought to a position; `None` where it is bought by itself.
    pub fn line_in_box(&self, pos: PositionId) -> Option<LineState> {
        let part = self.slot(pos).part?;
        let boxed =
            matches!(self.slot(pos).by, By::Kit(_)) || self.boxed_at(pos) >= self.v.positions[pos].qty;
        let there = self.stock.iter().position(|l| l.part == part && l.place == Some(pos) && l.placed > 0);
        let at = there.or_else(|| self.stock.iter().position(|l| l.part == part)).filter(|_| boxed)?;
        Some(self.content_state(at))
    }

    /// Where a part stands that comes out of a box.
    pub fn state_in_box(&self, part: PartId) -> LineState {
        let at = self.stock.iter().position(|l| l.part == part);
        at.map_or(LineState::ToBuy, |at| self.content_state(at))
    }

    /// Where a content stands: by its own line, else as its kit does.
    fn content_state(&self, at: usize) -> LineState {
        let mut at = at;
        // a kit in a kit in a kit: it is not unpacked deeper
        for _ in 0..8 {
            let content = &self.stock[at];
            if let Some(line) = self.sheet.lines.get(&self.box_key(at).to_string()) {
                return line.state;
            }
            let is_kit =
                |l: &super::bench::Loose| l.part == content.kit_part && l.kit_part != content.kit_part;
            let nested = self.stock.iter().position(|l| is_kit(l) && l.kit == content.kit);
            let elsewhere = || {
                let boxed =
                    self.boxed_at(content.kit) > 0 && self.slot(content.kit).part == Some(content.kit_part);
                self.stock.iter().position(is_kit).filter(|_| boxed)
            };
            match nested.or_else(elsewhere) {
                Some(kit) => at = kit,
                None => {
                    let line = self.sheet.lines.get(self.cat.part_names.id(content.kit_part));
                    return line.map_or(LineState::ToBuy, |l| l.state);
                }
            }
        }
        LineState::ToBuy
    }

    fn box_key(&self, at: usize) -> BoxKey {
        let id = |part: PartId| self.cat.part_names.id(part).to_owned();
        BoxKey { kit: id(self.stock[at].kit_part), part: id(self.stock[at].part) }
    }

    /// Every content of every kit, in the order of the kits' places and by id, with where it goes.
    pub(super) fn box_lines(&self, comps: &[super::bench::Comp]) -> Vec<BoxLine> {
        let place = |pos: PositionId| &self.v.positions[pos];
        // who takes what lies loose, in the order in which it was shared
        let placed = self.from_box.iter().filter_map(|(pos, qty)| {
            let to = BoxUse {
                qty: *qty,
                position: Some(place(*pos).id.clone()),
                companion: None,
                name: place(*pos).name.clone(),
            };
            Some((self.slot(*pos).part?, to))
        });
        let comps = comps.iter().filter(|c| c.boxed > 0 && !matches!(c.key, Key::Fill(_)));
        let comps = comps.map(|c| {
            let name = match c.key {
                Key::Bridge(joint, _) | Key::Cap(joint) | Key::Open(joint, ..) => {
                    self.v.joints[joint].name.clone()
                }
                _ => c
                    .position
                    .or(c.cause)
                    .map_or_else(|| c.origin.word().to_owned(), |p| place(p).name.clone()),
            };
            let position = c.position.map(|p| place(p).id.clone());
            (c.part, BoxUse { qty: c.boxed, position, companion: Some(self.companion_key(c.key)), name })
        });
        let mut takers: Vec<(PartId, BoxUse)> = placed.chain(comps).collect();
        let mut order: SmallVec<[usize; 16]> = (0..self.stock.len()).collect();
        // a kit before those that lie in its box
        order.sort_by_key(|at| {
            let content = &self.stock[*at];
            let nested = self.slot(content.kit).part != Some(content.kit_part);
            (content.kit, nested, content.kit_part, content.part)
        });
        let mut out: Vec<BoxLine> = Vec::new();
        for at in order {
            let content = self.stock[at];
            let mut goes = Vec::new();
            if let Some(pos) = content.place.filter(|_| content.placed > 0) {
                goes.push(BoxUse {
                    qty: content.placed,
                    position: Some(place(pos).id.clone()),
                    companion: None,
                    name: place(pos).name.clone(),
                });
            }
            let mut taken = content.had - content.placed - content.left;
            for (_, taker) in takers.iter_mut().filter(|(part, t)| *part == content.part && t.qty > 0) {
                let qty = taker.qty.min(taken);
                if qty > 0 {
                    goes.push(BoxUse { qty, ..taker.clone() });
                    taker.qty -= qty;
                    taken -= qty;
                }
            }
            let key = self.box_key(at);
            let kit_at = place(content.kit).id.clone();
            // what a kit lists twice is one line
            if let Some(same) = out.iter_mut().find(|l| l.key == key && l.kit_at == kit_at) {
                same.qty = same.qty.saturating_add(content.had);
                same.spare = same.spare.saturating_add(content.left);
                same.goes.extend(goes);
                continue;
            }
            out.push(BoxLine {
                kit_name: self.name(content.kit_part),
                kit_at,
                name: self.name(content.part),
                qty: content.had,
                state: self.content_state(at),
                goes,
                spare: content.left,
                key,
            });
        }
        out
    }
}

#[cfg(test)]
mod tests;
