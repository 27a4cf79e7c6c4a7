//! Needs: a capability one part wants and another must supply.

use std::collections::VecDeque;

use smallvec::{SmallVec, smallvec};

use super::bench::{Bench, Comp, Key};
use crate::assessment::Origin;
use crate::catalogue::{ClassId, NeedId, PartId, PositionId};
use crate::library::{FieldDef, Level, NeedRule, Rule};
use crate::reason::{Fact, ReasonId};
use crate::value::{Value, Verdict3, compare};

/// Somebody wants something.
#[derive(Clone, Debug)]
pub(crate) struct Ask<'a> {
    pub need: NeedId,
    pub value: Option<&'a Value>,
    pub level: Level,
    pub cause: Option<PositionId>,
    pub at: Option<PositionId>,
    /// The place it is asked for: the asker's, or where the companion that asks belongs.
    pub by: Option<PositionId>,
    pub asker: PartId,
    pub reason: ReasonId,
    pub parent: Option<Key>,
    /// Parts above in the chain, against running round in a circle.
    pub line: SmallVec<[PartId; 4]>,
}

/// Who supplies what: need, position (none for a companion without one), part.
type Supplies = Vec<(NeedId, Option<PositionId>, PartId)>;

impl<'a> Bench<'a> {
    pub fn needs(&mut self) {
        let lost = self.lost_supplies();
        let mut queue: VecDeque<Ask<'a>> = VecDeque::new();
        for pos in self.v.positions.ids() {
            let slot = *self.slot(pos);
            let asks = slot.changed || !lost.is_empty() && !self.is_idle(pos);
            let Some(part) = slot.part.filter(|_| asks) else { continue };
            for (need, value, level) in &self.part(part).needs {
                if !slot.changed && !lost.contains(need) {
                    continue;
                }
                queue.push_back(Ask {
                    need: *need,
                    value: value.as_ref(),
                    level: *level,
                    cause: self.root(pos),
                    at: Some(pos),
                    by: Some(pos),
                    asker: part,
                    reason: slot.reason,
                    parent: None,
                    line: smallvec![part],
                });
            }
        }
        for comp in &self.found.comps {
            self.ask_of(comp, &[], &mut queue);
        }
        self.answer(queue);
    }

    /// Needs that an as-found part supplied which is not there any more.
    fn lost_supplies(&self) -> Vec<NeedId> {
        let mut lost = Vec::new();
        for (pos, slot) in self.slots.iter().filter(|(_, slot)| slot.changed) {
            let Some(part) = self.as_found(pos) else { continue };
            if slot.part != Some(part) {
                lost.extend(self.part(part).offers.iter().map(|(need, _)| *need));
            }
        }
        lost
    }

    fn supplies(&self) -> Supplies {
        let mut out = Supplies::new();
        for (pos, part) in self.fitted() {
            out.extend(self.part(part).offers.iter().map(|(need, _)| (*need, Some(pos), part)));
        }
        for comp in &self.found.comps {
            out.extend(self.part(comp.part).offers.iter().map(|(need, _)| (*need, None, comp.part)));
        }
        out
    }

    fn ask_of(&self, comp: &Comp, line: &[PartId], queue: &mut VecDeque<Ask<'a>>) {
        if matches!(comp.origin, Origin::Survey) {
            return;
        }
        for (need, value, level) in &self.part(comp.part).needs {
            let mut line = SmallVec::from_slice(line);
            line.push(comp.part);
            queue.push_back(Ask {
                need: *need,
                value: value.as_ref(),
                level: (*level).max(comp.level),
                cause: comp.cause,
                at: comp.position,
                by: comp.by,
                asker: comp.part,
                reason: comp.reason,
                parent: Some(comp.key),
                line,
            });
        }
    }

    pub fn answer(&mut self, mut queue: VecDeque<Ask<'a>>) {
        if queue.is_empty() {
            return;
        }
        let mut supplies = self.supplies();
        while let Some(ask) = queue.pop_front() {
            let Some(comp) = self.supply(&ask, &supplies) else { continue };
            self.found.comps.push(comp);
            self.ask_of(&comp, &ask.line, &mut queue);
            supplies.extend(self.part(comp.part).offers.iter().map(|(need, _)| (*need, None, comp.part)));
        }
    }

    pub(super) fn good(&self, need: NeedId, wanted: Option<&Value>, offered: Option<&Value>) -> bool {
        let (Some(wanted), Some(offered)) = (wanted, offered) else { return true };
        self.offered(need, wanted, offered) == Verdict3::Holds
    }

    /// What is offered of a need against what is wanted.
    pub(super) fn offered(&self, need: NeedId, wanted: &Value, offered: &Value) -> Verdict3 {
        let rule = match self.cat.needs[need].rule {
            NeedRule::AtLeast => Rule::AtLeast,
            NeedRule::Inside => Rule::Inside,
        };
        let field = FieldDef { rule, ..FieldDef::default() };
        compare(&field, 0.0, offered, wanted)
    }

    pub fn offers_it(&self, part: PartId, need: NeedId, wanted: Option<&Value>) -> bool {
        self.part(part).offers.iter().any(|(n, v)| *n == need && self.good(need, wanted, v.as_ref()))
    }

    /// The vehicle, somebody fitted, or a companion already found supplies it.
    fn supplied(&self, ask: &Ask<'_>, supplies: &Supplies) -> bool {
        let wanted = ask.value;
        self.v.offers.iter().any(|(n, v)| *n == ask.need && self.good(ask.need, wanted, v.as_ref()))
            || supplies.iter().any(|(need, pos, part)| {
                *need == ask.need
                    && (pos.is_none() || *pos != ask.at)
                    && self.is_within_reach(ask, *pos)
                    && self.offers_it(*part, ask.need, wanted)
            })
    }

    /// Who could supply it without a place on the vehicle: what lies in a box, the owner's pick, the cheapest. What has a
    /// place here serves in it, not out of a box.
    fn supplier(&self, ask: &Ask<'_>, key: Key) -> Option<PartId> {
        let wanted = ask.value;
        let serves = |part: PartId| {
            self.is_used_loose(self.part(part).class) && self.offers_it(part, ask.need, wanted)
        };
        let boxed = self.stock.iter().find(|l| l.left > 0 && serves(l.part)).map(|l| l.part);
        let offers = |part: &PartId| serves(*part) && !ask.line.contains(part) && self.for_sale(*part);
        let pick = || self.ground.need_picks.get(&key).copied().filter(offers);
        boxed.or_else(pick).or_else(|| self.cheapest_supplier(ask.need, offers))
    }

    /// The cheapest part of a free class that offers a need and does something more.
    pub(super) fn cheapest_supplier(&self, need: NeedId, more: impl Fn(&PartId) -> bool) -> Option<PartId> {
        let classes = self.cat.need_classes[need].iter().filter(|class| self.is_used_loose(**class));
        let first = |class: &ClassId| {
            let parts = self.cat.offered_in.get(&(need, *class)).into_iter().flatten();
            parts.copied().find(|part| more(part))
        };
        classes.filter_map(first).min_by_key(|part| self.part(*part).rank)
    }

    /// What sits at a place serves those whose places go with it: a choke at the rear carburettor is none for the front.
    pub(super) fn is_within_reach(&self, ask: &Ask<'_>, place: Option<PositionId>) -> bool {
        let (Some(at), Some(place)) = (ask.at, place) else { return true };
        self.v.whereabouts(at).goes_with(self.v.whereabouts(place))
    }

    /// The key of an ask: by the place it is asked for.
    pub(super) fn need_key(ask: &Ask<'_>) -> (Option<PositionId>, PartId, NeedId) {
        (ask.by, ask.asker, ask.need)
    }

    /// Nothing sits here and the owner has not said so.
    pub(super) fn is_open(&self, pos: PositionId) -> bool {
        self.slot(pos).part.is_none() && !self.is_chosen(pos)
    }

    fn supply(&mut self, ask: &Ask<'_>, supplies: &Supplies) -> Option<Comp> {
        if !self.cat.is_own(ask.need) && self.supplied(ask, supplies) {
            return None;
        }
        let (by, asker, need) = Self::need_key(ask);
        let key = Key::Need(by, asker, need);
        let choice = self.supplier(ask, key);
        let wants = self.reason(&[ask.reason], |s| Fact::Wants {
            part: s.name(ask.asker),
            need: s.cat.needs[need].name.clone(),
            value: ask.value.cloned(),
            why: s.cat.needs[need].why.clone(),
        });
        let Some(part) = choice else {
            self.unmet(ask, wants);
            return None;
        };
        let mut premises = vec![wants];
        if self.full {
            premises.extend(self.loose_reason(part));
        }
        if self.full {
            // one in a box would have served in its place, which is taken
            let boxed = self.stock.iter().filter(|l| l.left > 0 && self.offers_it(l.part, need, ask.value));
            let taken = boxed.flat_map(|l| self.v.by_class.of(self.part(l.part).class));
            premises.extend(taken.map(|pos| self.slot(*pos).reason));
        }
        let reason = self.reason(&premises, |s| Fact::Supplies {
            part: s.name(part),
            need: s.cat.needs[need].name.clone(),
        });
        let boxed = self.take_for(key, part, 1);
        Some(Comp {
            key,
            part,
            qty: 1,
            level: ask.level,
            origin: Origin::Need,
            reason,
            position: None,
            cause: ask.cause,
            by: ask.by,
            parent: ask.parent,
            boxed,
        })
    }
}

#[cfg(test)]
mod tests;
