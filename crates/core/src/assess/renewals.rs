//! Which places are apart: those the plan works on, and those whose part is renewed because the survey says so, because it
//! is over its age or because what is beside it is apart. A renewal opens its place as a chosen one does, so this runs until nothing is added.
//!
//! It ends: a place is renewed once, and what is asked of it can only grow from wise to required.

use smallvec::SmallVec;

use super::bench::{Bench, By, Key, Slot};
use super::fills::Must;
use super::spent::Item;
use crate::assessment::Origin;
use crate::catalogue::{Numbered, OpeningPlaces, PartId, PositionEntry, PositionId, SpotId, UNPRICED};
use crate::library::Level;
use crate::reason::{Fact, ReasonId, Same};
use crate::sheet::{Route, Verdict};

/// How a place comes to be apart.
#[derive(Clone, Copy, Debug)]
pub(super) struct Apart {
    /// Required, unless only advice takes it apart.
    pub level: Level,
    /// The position whose choice or finding it goes back to.
    pub cause: Option<PositionId>,
    pub reason: ReasonId,
}

/// A part in a place nobody chose for that is replaced by a new one of the same.
#[derive(Clone, Copy, Debug)]
pub(super) struct Renewal {
    pub key: Key,
    /// The opening that asked first; none where the survey, its age or a joint did.
    pub opening: Option<SpotId>,
    pub part: PartId,
    pub qty: u32,
    pub origin: Origin,
    pub level: Level,
    pub cause: Option<PositionId>,
    pub reason: ReasonId,
    /// The owner leaves it out: it opens nothing.
    pub waived: bool,
}

/// Openings to look at again.
pub(super) type DueOpenings = Numbered<OpeningPlaces, bool>;

/// What is apart and what is renewed, by position.
#[derive(Debug)]
pub(super) struct Opened {
    apart: Numbered<PositionEntry, Option<Apart>>,
    pub renewed: Numbered<PositionEntry, Option<Renewal>>,
}

impl Opened {
    pub fn apart(&self, pos: PositionId) -> Option<&Apart> {
        self.apart[pos].as_ref()
    }

    pub fn renewed(&self, pos: PositionId) -> Option<&Renewal> {
        self.renewed[pos].as_ref()
    }

    /// Whether what sits in a place is replaced by a new one of the same, and the owner does not leave that out.
    pub fn is_renewed(&self, pos: PositionId) -> bool {
        self.renewed(pos).is_some_and(|r| !r.waived)
    }

    /// Those of some places that are apart.
    pub fn among(&self, places: impl IntoIterator<Item = PositionId>) -> SmallVec<[PositionId; 8]> {
        places.into_iter().filter(|p| self.apart(*p).is_some()).collect()
    }

    /// The strongest call to take one of these places apart.
    pub fn level(&self, open: &[PositionId]) -> Level {
        open.iter().filter_map(|p| self.apart(*p)).map(|a| a.level).min().unwrap_or_default()
    }

    pub fn cause(&self, open: &[PositionId]) -> Option<PositionId> {
        open.iter().find_map(|p| self.apart(*p)?.cause)
    }

    pub fn reasons(&self, open: &[PositionId]) -> SmallVec<[ReasonId; 8]> {
        open.iter().filter_map(|p| self.apart(*p)).map(|a| a.reason).collect()
    }

    /// Asks for a renewal, or more strongly for one that is asked for already. Whether a place is opened by it that was
    /// shut, or is opened more surely.
    pub fn renew(&mut self, pos: PositionId, level: Level) -> bool {
        let Some(renewal) = &mut self.renewed[pos] else { return false };
        renewal.level = renewal.level.min(level);
        let (level, cause, reason) = (renewal.level, renewal.cause, renewal.reason);
        if renewal.waived || self.apart(pos).is_some_and(|a| a.level <= level) {
            return false;
        }
        self.apart[pos] = Some(Apart { level, cause, reason });
        true
    }
}

impl Bench<'_> {
    /// Every place that is apart, and every part renewed on the way.
    pub(super) fn taken_apart(&mut self) -> Opened {
        let at = |(pos, slot): (PositionId, &Slot)| {
            let apart = || Apart { level: Level::Required, cause: self.root(pos), reason: slot.reason };
            slot.opened.then(apart)
        };
        let apart: Numbered<_, _> = self.slots.iter().map(at).collect();
        let renewed = Numbered::filled(None, apart.len());
        let mut opened = Opened { apart, renewed };
        // openings to look at again
        let mut due = DueOpenings::filled(true, self.v.openings.len());
        // what was seen on this vehicle says more than what is wise on any
        self.condemned(&mut opened, &mut due);
        self.outlived(&mut opened, &mut due);
        while self.round(&mut opened, &mut due) || self.renew_seals(&mut opened, &mut due) {}
        opened
    }

    /// One look at every opening that is due; whether there was any.
    fn round(&mut self, opened: &mut Opened, due: &mut DueOpenings) -> bool {
        let mut any = false;
        for opening in due.ids() {
            if std::mem::take(&mut due[opening]) {
                any = true;
                self.renew_while_apart(opening, opened, due);
            }
        }
        any
    }

    /// Asks the openings of a place once more.
    pub(super) fn again(&self, pos: PositionId, due: &mut DueOpenings) {
        for opening in &self.v.openings_at[pos] {
            due[*opening] = true;
        }
    }

    /// What an opening wants in a place of the vehicle is a renewal of what sits there.
    fn renew_while_apart(&mut self, opening: SpotId, opened: &mut Opened, due: &mut DueOpenings) {
        let v = self.v;
        let open = opened.among(v.openings[opening].places.iter().copied());
        if open.is_empty() {
            return;
        }
        let here = &v.openings[opening];
        let wants = &self.cat.openings[here.opening].wants;
        let wanted = here.wanted.iter().zip(wants);
        for (pos, want) in wanted.flat_map(|(places, (_, w))| places.iter().flatten().map(move |p| (*p, w))) {
            let level = want.level.max(opened.level(&open));
            if opened.renewed(pos).is_none() {
                let slot = *self.slot(pos);
                let part = slot.part.filter(|p| self.part(*p).cost != UNPRICED);
                let Some(part) = part.filter(|_| !self.is_chosen(pos) && slot.by == By::Found) else {
                    continue;
                };
                let mut premises = opened.reasons(&open);
                premises.push(slot.reason);
                let reason = self.reason(&premises, |s| Fact::Apart {
                    what: s.opening_name(opening),
                    wants: s.name(part),
                    why: want.why.clone(),
                });
                let qty = v.positions[pos].qty.max(want.qty);
                let key = Key::Beside(pos);
                opened.renewed[pos] = Some(Renewal {
                    key,
                    opening: Some(opening),
                    part,
                    qty,
                    origin: Origin::Opening,
                    level,
                    cause: opened.cause(&open),
                    reason,
                    waived: self.is_waived(key),
                });
            }
            if opened.renew(pos, level) {
                self.again(pos, due);
            }
        }
    }

    /// What the survey condemned is not kept in silence.
    fn condemned(&mut self, opened: &mut Opened, due: &mut DueOpenings) {
        let ground = self.ground;
        for (position, finding) in ground.survey.iter() {
            let Some(pos) = self.v.position_ix.get(position).copied() else { continue };
            let Some(part) = self.kept(pos) else { continue };
            // "stop" may not be driven; "renew" is outside its limit: not to be kept either where people can be hurt,
            // else wise to cure
            let mut level = match finding.verdict {
                Verdict::Stop => Level::Required,
                Verdict::Renew if self.part(part).part.safety => Level::Required,
                Verdict::Renew => Level::Advised,
                Verdict::Good | Verdict::Watch => continue,
            };
            let mut premises: SmallVec<[ReasonId; 2]> = SmallVec::from_slice(&[self.slot(pos).reason]);
            // over its age as well: one renewal, with both reasons
            if let Some(here) = self.over_age(pos) {
                let (asked, reason) = self.aged(here, part);
                level = level.min(asked);
                premises.push(reason);
            }
            let reason = self.reason(&premises, |s| Fact::Condemned {
                position: position.clone(),
                place: s.place(pos),
                part: s.name(part),
                note: finding.note.clone(),
                stop: finding.verdict == Verdict::Stop,
                same: s.same_as(pos, part),
            });
            let qty = self.v.positions[pos].qty;
            let key = Key::Survey(pos);
            let renewal = Renewal {
                key,
                opening: None,
                part,
                qty,
                origin: Origin::Survey,
                level,
                cause: Some(pos),
                reason,
                waived: self.is_waived(key),
            };
            self.put_renewal(pos, renewal, opened, due);
        }
    }

    /// Whether a new one of the same can be had for a place, or what else would go there.
    pub(super) fn same_as(&self, pos: PositionId, part: PartId) -> Same {
        if self.is_to_be_had(part) {
            return Same::ToBeHad;
        }
        let first = self.candidates(pos, Must::Fit, 1).into_iter().next();
        Same::NotForSale { instead: first.map(|(_, other)| self.name(other)) }
    }

    /// A part is for sale, or the buying record has it.
    pub(super) fn is_to_be_had(&self, part: PartId) -> bool {
        self.for_sale(part) || self.ground.records.get(Item::part(part)).is_some()
    }

    /// Notes the renewal of a place that had none.
    pub(super) fn put_renewal(
        &self,
        pos: PositionId,
        renewal: Renewal,
        opened: &mut Opened,
        due: &mut DueOpenings,
    ) {
        let level = renewal.level;
        opened.renewed[pos] = Some(renewal);
        if opened.renew(pos, level) {
            self.again(pos, due);
        }
    }

    /// The part of a place that stays as it was found, cleaned at most; none where it is changed, or has no job left.
    pub(super) fn kept(&self, pos: PositionId) -> Option<PartId> {
        let slot = self.slot(pos);
        let kept = self.owner[pos].is_none_or(|(route, _)| route == Route::Keep || route == Route::Clean);
        let kept = kept && matches!(slot.by, By::Found | By::Owner) && !self.is_idle(pos);
        slot.part.filter(|_| kept)
    }
}

#[cfg(test)]
mod tests;
