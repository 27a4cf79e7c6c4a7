//! Needs: a capability one part wants and another must supply.

use std::collections::VecDeque;

use super::bench::{Bench, CheckKey, Comp, Cure, Key, Trouble};
use super::fills::Must;
use crate::assessment::Origin;
use crate::catalogue::Ix;
use crate::library::{FieldDef, Level, NeedRule, Rule};
use crate::reason::{Fact, ReasonId};
use crate::value::{Value, Verdict3, compare};

/// Somebody wants something.
#[derive(Clone, Debug)]
pub(crate) struct Ask {
    pub need: Ix,
    pub value: Option<Value>,
    pub level: Level,
    pub cause: Option<Ix>,
    pub at: Option<Ix>,
    pub asker: Ix,
    pub reason: ReasonId,
    pub parent: Option<Key>,
    /// Parts above in the chain, against running round in a circle.
    pub line: Vec<Ix>,
}

/// How an ask is answered.
enum Answer {
    /// A part goes into a position.
    Filled(Ix, Ix),
    /// A part without a place of its own.
    Companion(Comp),
}

/// Who supplies what: need, position (none for a companion without one), part.
type Supplies = Vec<(Ix, Option<Ix>, Ix)>;

impl Bench<'_> {
    pub fn needs(&mut self) {
        let lost = self.lost_supplies();
        let mut queue: VecDeque<Ask> = VecDeque::new();
        for pos in 0..self.v.positions.len() as Ix {
            let slot = *self.slot(pos);
            let Some(part) = slot.part else { continue };
            for (need, value, level) in &self.part(part).needs {
                if !slot.changed && !lost.contains(need) {
                    continue;
                }
                queue.push_back(Ask {
                    need: *need,
                    value: value.clone(),
                    level: *level,
                    cause: self.root(pos),
                    at: Some(pos),
                    asker: part,
                    reason: slot.reason,
                    parent: None,
                    line: vec![part],
                });
            }
        }
        for comp in self.found.comps.clone() {
            self.ask_of(&comp, &[], &mut queue);
        }
        self.answer(queue);
    }

    /// Needs that an as-found part supplied which is not there any more.
    fn lost_supplies(&self) -> Vec<Ix> {
        let mut lost = Vec::new();
        for (pos, slot) in self.slots.iter().enumerate().filter(|(_, slot)| slot.changed) {
            let Some(part) = self.as_found(pos as Ix) else { continue };
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

    fn ask_of(&self, comp: &Comp, line: &[Ix], queue: &mut VecDeque<Ask>) {
        if matches!(comp.origin, Origin::Survey) {
            return;
        }
        for (need, value, level) in &self.part(comp.part).needs {
            let mut line = line.to_vec();
            line.push(comp.part);
            queue.push_back(Ask {
                need: *need,
                value: value.clone(),
                level: (*level).max(comp.level),
                cause: comp.cause,
                at: comp.position,
                asker: comp.part,
                reason: comp.reason,
                parent: Some(comp.key),
                line,
            });
        }
    }

    pub fn answer(&mut self, mut queue: VecDeque<Ask>) {
        if queue.is_empty() {
            return;
        }
        let mut supplies = self.supplies();
        while let Some(ask) = queue.pop_front() {
            let Some(answer) = self.supply(&ask, &supplies) else { continue };
            let (part, pos) = match answer {
                Answer::Filled(pos, part) => (part, Some(pos)),
                Answer::Companion(comp) => {
                    self.found.comps.push(comp);
                    self.ask_of(&comp, &ask.line, &mut queue);
                    (comp.part, None)
                }
            };
            supplies.extend(self.part(part).offers.iter().map(|(need, _)| (*need, pos, part)));
        }
    }

    fn good(&self, need: Ix, wanted: Option<&Value>, offered: Option<&Value>) -> bool {
        let (Some(wanted), Some(offered)) = (wanted, offered) else { return true };
        let rule = match self.cat.needs[need as usize].rule {
            NeedRule::AtLeast => Rule::AtLeast,
            NeedRule::Inside => Rule::Inside,
        };
        let field = FieldDef { rule, ..FieldDef::default() };
        compare(&field, 0.0, offered, wanted) == Verdict3::Holds
    }

    pub fn offers_it(&self, part: Ix, need: Ix, wanted: Option<&Value>) -> bool {
        self.part(part).offers.iter().any(|(n, v)| *n == need && self.good(need, wanted, v.as_ref()))
    }

    /// The vehicle, somebody fitted, or a companion already found supplies it.
    fn supplied(&self, ask: &Ask, supplies: &Supplies) -> bool {
        let wanted = ask.value.as_ref();
        self.v.offers.iter().any(|(n, v)| *n == ask.need && self.good(ask.need, wanted, v.as_ref()))
            || supplies.iter().any(|(need, pos, part)| {
                *need == ask.need
                    && (pos.is_none() || *pos != ask.at)
                    && self.offers_it(*part, ask.need, wanted)
            })
    }

    /// Who could supply it: a part and, where it has a place on the vehicle, its position. The cheapest that fits where
    /// it goes; where none does, the cheapest that goes anywhere.
    fn supplier(&self, ask: &Ask, key: Key) -> Option<(Ix, Option<Ix>)> {
        let wanted = ask.value.as_ref();
        let loose = self.stock.iter().find(|l| l.left > 0 && self.offers_it(l.part, ask.need, wanted));
        if let Some(loose) = loose {
            return Some((loose.part, None));
        }
        let pick = if self.ground.picks_needs { self.plan.picks.get(&self.key_text(key)) } else { None };
        let pick = pick.and_then(|id| self.cat.part_names.get(id));
        let offers = |part: Ix| {
            self.offers_it(part, ask.need, wanted) && !ask.line.contains(&part) && self.for_sale(part)
        };
        let open =
            |part: Ix| self.v.by_class.get(&self.part(part).class).copied().filter(|p| self.is_open(*p));
        if let Some(pick) = pick.filter(|pick| offers(*pick)) {
            match open(pick) {
                Some(pos) => return Some((pick, Some(pos))),
                None if self.is_free(pick) => return Some((pick, None)),
                None => {}
            }
        }
        let list = &self.cat.offered_by[ask.need as usize];
        let mut best = list.iter().copied().find(|p| self.is_free(*p) && offers(*p)).map(|p| (p, None));
        for class in &self.cat.need_classes[ask.need as usize] {
            let Some(pos) = self.v.by_class.get(class).copied().filter(|p| self.is_open(*p)) else {
                continue;
            };
            let fits = |p: &Ix| {
                offers(*p)
                    && !self.has_given_way(pos, *p)
                    && self.breaks(pos, &self.overlay(pos, *p), None) == 0
            };
            let part = self.shortlist(pos, Must::Fit).iter().copied().find(fits);
            let cheaper = |p: &Ix| best.is_none_or(|(other, _)| self.part(*p).rank < self.part(other).rank);
            if let Some(part) = part.filter(cheaper) {
                best = Some((part, Some(pos)));
            }
        }
        let misfit = || {
            let fitting = |p: &Ix| offers(*p) && open(*p).is_some_and(|pos| !self.has_given_way(pos, *p));
            list.iter().copied().find(fitting).map(|p| (p, open(p)))
        };
        best.or_else(misfit)
    }

    /// A part without a place of its own on this vehicle.
    fn is_free(&self, part: Ix) -> bool {
        let class = self.part(part).class;
        self.cat.classes[class as usize].1 && !self.v.by_class.contains_key(&class)
    }

    /// Nothing sits here and the owner has not said so.
    fn is_open(&self, pos: Ix) -> bool {
        self.slot(pos).part.is_none() && !self.is_chosen(pos)
    }

    fn supply(&mut self, ask: &Ask, supplies: &Supplies) -> Option<Answer> {
        if !self.cat.is_own(ask.need) && self.supplied(ask, supplies) {
            return None;
        }
        let key = Key::Need(ask.cause, ask.asker, ask.need);
        let choice = self.supplier(ask, key);
        let need = ask.need;
        let wants = self.reason(&[ask.reason], |s| Fact::Wants {
            part: s.name(ask.asker),
            need: s.cat.needs[need as usize].name.clone(),
            value: ask.value.as_ref().map_or_else(String::new, Value::text),
            why: s.cat.needs[need as usize].why.clone(),
        });
        let Some((part, place)) = choice else {
            if ask.level == Level::Required {
                self.unmet(ask, wants);
            }
            return None;
        };
        let reason = self.reason(&[wants], |s| Fact::Supplies {
            part: s.name(part),
            need: s.cat.needs[need as usize].name.clone(),
        });
        if let Some(pos) = place {
            self.fill(pos, part, reason, ask.cause, ask.level);
            return Some(Answer::Filled(pos, part));
        }
        let boxed = self.take_loose(part, 1);
        Some(Answer::Companion(Comp {
            key,
            part,
            qty: 1,
            level: ask.level,
            origin: Origin::Need,
            reason,
            position: None,
            cause: ask.cause,
            parent: ask.parent,
            boxed,
        }))
    }

    fn unmet(&mut self, ask: &Ask, wants: ReasonId) {
        let need = ask.need;
        let circle = ask.line.iter().any(|p| self.offers_it(*p, need, ask.value.as_ref()));
        let name = self.cat.needs[need as usize].name.clone();
        // that the places where a supplier could sit are taken is part of why
        let places = self.cat.need_classes[need as usize].iter().filter_map(|c| self.v.by_class.get(c));
        let taken = places.filter(|p| !self.is_open(**p)).map(|p| self.slot(*p).reason);
        let premises: Vec<ReasonId> = std::iter::once(wants).chain(taken).collect();
        let reason = self.reason(&premises, |s| {
            if circle {
                Fact::Circle { part: s.name(ask.asker), need: name }
            } else {
                Fact::NothingServes { wanted: name }
            }
        });
        let positions = ask.at.or(ask.cause).into_iter().collect();
        let key = CheckKey::Need(ask.cause, ask.asker, need);
        let cure = Cure::Need(need);
        self.found.clashes.push(Trouble { key, positions, reason, what: String::new(), cure });
    }
}
