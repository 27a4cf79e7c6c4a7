//! Needs: a capability one part wants and another must supply.

use std::collections::VecDeque;

use smallvec::{SmallVec, smallvec};

use super::bench::{Bench, Comp, Key};
use crate::assessment::Origin;
use crate::catalogue::{NeedId, PartId, PositionId, UNPRICED};
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

/// What a supplier asks for in turn is counted so deep.
const DEEPEST: usize = 4;

/// How many needs nothing meets, the price, and which of all parts it is by price and id.
type WithAll = (usize, i64, u32);

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
    fn supplied(
        &self,
        (asked, wanted): (NeedId, Option<&Value>),
        at: Option<PositionId>,
        supplies: &Supplies,
    ) -> bool {
        self.v.offers.iter().any(|(n, v)| *n == asked && self.good(asked, wanted, v.as_ref()))
            || supplies.iter().any(|(need, pos, part)| {
                *need == asked
                    && (pos.is_none() || *pos != at)
                    && self.is_within_reach(at, *pos)
                    && self.offers_it(*part, asked, wanted)
            })
    }

    /// Who could supply it without a place on the vehicle: what lies in a box, the owner's pick, the cheapest with what it asks for. What has a
    /// place here serves in it, not out of a box.
    fn supplier(&self, ask: &Ask<'_>, key: Key, supplies: &Supplies) -> Option<PartId> {
        let wanted = ask.value;
        let serves = |part: PartId| {
            self.is_used_loose(self.part(part).class) && self.offers_it(part, ask.need, wanted)
        };
        let boxed = self.stock.iter().find(|l| l.left > 0 && serves(l.part)).map(|l| l.part);
        let offers = |part: &PartId| serves(*part) && !ask.line.contains(part) && self.for_sale(*part);
        let pick = || self.ground.need_picks.get(&key).copied().filter(offers);
        let met = |need: NeedId, value: Option<&Value>| self.supplied((need, value), None, supplies);
        boxed.or_else(pick).or_else(|| self.cheapest_supplier(ask.need, offers, &met, &ask.line))
    }

    /// The part of a free class that offers a need, does something more, and costs least with what it asks for in turn. What is
    /// `met` without it costs nothing; one whose own needs nothing meets goes behind.
    pub(super) fn cheapest_supplier(
        &self,
        need: NeedId,
        more: impl Fn(&PartId) -> bool,
        met: &dyn Fn(NeedId, Option<&Value>) -> bool,
        line: &[PartId],
    ) -> Option<PartId> {
        self.least_of(need, &more, met, line).map(|(_, part)| part)
    }

    fn least_of(
        &self,
        need: NeedId,
        more: &dyn Fn(&PartId) -> bool,
        met: &dyn Fn(NeedId, Option<&Value>) -> bool,
        line: &[PartId],
    ) -> Option<(WithAll, PartId)> {
        let classes = self.cat.need_classes[need].iter().filter(|class| self.is_used_loose(**class));
        let mut best: Option<(WithAll, PartId)> = None;
        for class in classes {
            let parts = self.cat.offered_in.get(&(need, *class)).into_iter().flatten();
            for part in parts.copied() {
                let (rank, own) = (self.part(part).rank, self.own_price_of(part));
                // they come by price, and what they ask for makes none of them cheaper
                if best.as_ref().is_some_and(|(least, _)| (0, own, rank) >= *least) {
                    break;
                }
                if !more(&part) {
                    continue;
                }
                let (unmet, asked) = self.asked_for_by(part, met, line);
                let all = (unmet, own.saturating_add(asked), rank);
                if best.as_ref().is_none_or(|(least, _)| all < *least) {
                    best = Some((all, part));
                }
            }
        }
        best
    }

    /// What a part asks for in turn: how many of its needs nothing meets, and the least price of the rest.
    fn asked_for_by(
        &self,
        part: PartId,
        met: &dyn Fn(NeedId, Option<&Value>) -> bool,
        line: &[PartId],
    ) -> (usize, i64) {
        let (mut unmet, mut price) = (0, 0_i64);
        if line.len() > DEEPEST {
            return (unmet, price);
        }
        let mut line: SmallVec<[PartId; 4]> = SmallVec::from_slice(line);
        line.push(part);
        for (need, value, level) in &self.part(part).needs {
            let value = value.as_ref();
            if !self.cat.is_own(*need) && met(*need, value) {
                continue;
            }
            let offers = |other: &PartId| {
                self.offers_it(*other, *need, value) && !line.contains(other) && self.for_sale(*other)
            };
            match self.least_of(*need, &offers, met, &line) {
                Some(((more, all, _), _)) => {
                    unmet += more;
                    price = price.saturating_add(all);
                }
                None => unmet += usize::from(*level == Level::Required),
            }
        }
        (unmet, price)
    }

    /// What nobody has priced lies in a box.
    fn own_price_of(&self, part: PartId) -> i64 {
        let cost = self.part(part).cost;
        if cost == UNPRICED { 0 } else { cost }
    }

    /// What sits at a place serves those whose places go with it: a choke at the rear carburettor is none for the front.
    pub(super) fn is_within_reach(&self, at: Option<PositionId>, place: Option<PositionId>) -> bool {
        let (Some(at), Some(place)) = (at, place) else { return true };
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
        if !self.cat.is_own(ask.need) && self.supplied((ask.need, ask.value), ask.at, supplies) {
            return None;
        }
        let (by, asker, need) = Self::need_key(ask);
        let key = Key::Need(by, asker, need);
        let choice = self.supplier(ask, key, supplies);
        let wants = self.reason(&[ask.reason], |s| Fact::Wants {
            part: s.name(ask.asker),
            need: s.cat.needs[need].name.clone(),
            value: ask.value.cloned(),
            why: s.cat.needs[need].why.clone(),
        });
        let wants = self.noting(wants, |s| s.want_spec(asker, need).into_iter().collect());
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
        let reason = self.noting(reason, |s| s.offer_spec(part, need).into_iter().collect());
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
