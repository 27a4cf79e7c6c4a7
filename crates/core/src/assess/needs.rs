//! Needs: a capability one part wants and another must supply.

use std::collections::VecDeque;

use super::bench::{Bench, By, CheckKey, Comp, Key, Trouble};
use super::fills::{Must, Overlay};
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

impl Bench<'_> {
    pub fn needs(&mut self) {
        let mut queue: VecDeque<Ask> = VecDeque::new();
        for pos in 0..self.v.positions.len() as Ix {
            let slot = *self.slot(pos);
            let Some(part) = slot.part else { continue };
            for (need, value, level) in &self.part(part).needs {
                if !slot.changed && !self.lost_provider(*need) {
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

    /// An as-found part supplied this and is not there any more.
    fn lost_provider(&self, need: Ix) -> bool {
        (0..self.v.positions.len()).any(|pos| {
            self.slots[pos].changed
                && self.as_found[pos].is_some_and(|p| self.part(p).offers.iter().any(|(n, _)| *n == need))
        })
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
        while let Some(ask) = queue.pop_front() {
            if let Some(comp) = self.supply(&ask) {
                self.found.comps.push(comp);
                self.ask_of(&comp, &ask.line, &mut queue);
            }
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

    fn offers_it(&self, part: Ix, need: Ix, wanted: Option<&Value>) -> bool {
        self.part(part).offers.iter().any(|(n, v)| *n == need && self.good(need, wanted, v.as_ref()))
    }

    /// Somebody fitted, or a companion already found, supplies it.
    fn supplied(&self, ask: &Ask) -> bool {
        let wanted = ask.value.as_ref();
        self.v.offers.iter().any(|(n, v)| *n == ask.need && self.good(ask.need, wanted, v.as_ref()))
            || self.slots.iter().enumerate().any(|(pos, s)| {
                Some(pos as Ix) != ask.at && s.part.is_some_and(|p| self.offers_it(p, ask.need, wanted))
            })
            || self.found.comps.iter().any(|c| self.offers_it(c.part, ask.need, wanted))
    }

    fn supply(&mut self, ask: &Ask) -> Option<Comp> {
        let own = self.cat.is_own(ask.need);
        if !own && self.supplied(ask) {
            return None;
        }
        let wanted = ask.value.as_ref();
        let loose = self
            .stock
            .iter()
            .find(|l| l.left > 0 && self.offers_it(l.part, ask.need, wanted))
            .map(|l| l.part);
        let key = Key::Need(ask.cause, ask.asker, ask.need);
        let mut choice = loose.map(|p| (p, None));
        if choice.is_none() {
            let pick = self.plan.picks.get(&self.key_text(key)).and_then(|id| self.cat.part_names.get(id));
            let list: Vec<Ix> =
                pick.into_iter().chain(self.cat.offered_by[ask.need as usize].iter().copied()).collect();
            for part in list {
                if !self.offers_it(part, ask.need, wanted) || ask.line.contains(&part) {
                    continue;
                }
                let class = self.part(part).class;
                match self.v.by_class.get(&class).copied() {
                    Some(pos)
                        if self.slot(pos).part.is_none()
                            && self.may_fill(pos)
                            && self.slot(pos).by != By::Owner =>
                    {
                        choice = Some((part, Some(pos)));
                        break;
                    }
                    None if self.cat.classes[class as usize].1 => {
                        choice = Some((part, None));
                        break;
                    }
                    _ => {}
                }
            }
        }
        let need = ask.need;
        let wants = self.reason(&[ask.reason], |s| Fact::Wants {
            part: s.name(ask.asker),
            need: s.cat.needs[need as usize].name.clone(),
            value: ask.value.as_ref().map_or_else(String::new, Value::text),
            why: s.cat.needs[need as usize].why.clone(),
        });
        match choice {
            Some((part, Some(pos))) => {
                let reason = self.reason(&[wants], |s| Fact::Supplies {
                    part: s.name(part),
                    need: s.cat.needs[need as usize].name.clone(),
                });
                self.fill(pos, part, reason, ask.cause, ask.level);
                None
            }
            Some((part, None)) => {
                let reason = self.reason(&[wants], |s| Fact::Supplies {
                    part: s.name(part),
                    need: s.cat.needs[need as usize].name.clone(),
                });
                let in_kit = self.take_loose(part, 1);
                Some(Comp {
                    key,
                    part,
                    qty: 1,
                    level: ask.level,
                    origin: Origin::Need,
                    reason,
                    position: None,
                    cause: ask.cause,
                    parent: ask.parent,
                    in_kit,
                })
            }
            None if ask.level == Level::Required => {
                self.unmet(ask, wants);
                None
            }
            None => None,
        }
    }

    fn unmet(&mut self, ask: &Ask, wants: ReasonId) {
        let need = ask.need;
        let circle = ask.line.iter().any(|p| self.offers_it(*p, need, ask.value.as_ref()));
        let name = self.cat.needs[need as usize].name.clone();
        let reason = self.reason(&[wants], |s| {
            if circle {
                Fact::Circle { part: s.name(ask.asker), need: name }
            } else {
                Fact::NothingServes { wanted: name }
            }
        });
        let mut remedies = Vec::new();
        if self.full {
            for part in self.cat.offered_by[need as usize].iter().take(3) {
                if let Some(pos) = self.v.by_class.get(&self.part(*part).class).copied()
                    && self.does_fit(pos, *part)
                {
                    remedies.push((pos, *part));
                }
            }
        }
        let positions = ask.at.or(ask.cause).into_iter().collect();
        let key = CheckKey::Need(ask.cause, ask.asker, need);
        self.found.clashes.push(Trouble { key, positions, reason, what: String::new(), remedies });
    }

    fn does_fit(&self, pos: Ix, part: Ix) -> bool {
        self.candidates(pos, Must::Fit, true).iter().any(|(broken, p)| *p == part && *broken == 0)
    }

    /// An empty overlay, for callers that look at things as they stand.
    pub fn as_is() -> Overlay {
        Overlay::new()
    }
}
