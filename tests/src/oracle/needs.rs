//! Needs: a capability one part wants and another must supply; every part of the library is asked.

use std::collections::{BTreeSet, VecDeque};

use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::{Level, LibraryFile, Part, Sharing};
use rust_decimal::Decimal;

use super::places::together;
use super::values::amount;
use super::{Comp, Oracle};

impl<'a> Oracle<'a> {
    fn offers(&self, part: &str, need: &str, wanted: &str) -> bool {
        self.part(part).offers.get(need).is_some_and(|offered| {
            wanted == "present" || offered == "present" || amount(offered).0 >= amount(wanted).1
        })
    }

    pub(super) fn needs(&mut self) {
        let lost: BTreeSet<&str> = self
            .slots
            .iter()
            .filter(|(pos, slot)| slot.changed && slot.part != self.found(pos))
            .filter_map(|(pos, _)| self.found(pos))
            .flat_map(|part| self.part(part).offers.keys().map(String::as_str))
            .collect();
        let mut queue: VecDeque<Ask<'a>> = VecDeque::new();
        for (pos, slot) in &self.slots {
            let Some(part) = slot.part else { continue };
            for (need, value, level) in asks(self.part(part)) {
                if slot.changed || lost.contains(need) && !self.idle(pos) {
                    let at = Some(*pos);
                    queue.push_back(Ask { need, value, level, by: at, at, line: vec![part] });
                }
            }
        }
        for comp in &self.comps {
            ask_of(self.lib, comp, &[], &mut queue);
        }
        while let Some(ask) = queue.pop_front() {
            self.answer(&ask, &mut queue);
        }
    }

    /// What sits at a place serves those whose places go with it.
    fn in_reach(&self, ask: &Ask<'a>, pos: &str) -> bool {
        ask.at.is_none_or(|at| together(self.spot(at), self.spot(pos)))
    }

    fn supplied(&self, ask: &Ask<'a>) -> bool {
        let here = |part: &str| self.offers(part, ask.need, ask.value);
        self.v.offers.contains_key(ask.need)
            || self
                .slots
                .iter()
                .any(|(pos, s)| Some(*pos) != ask.at && self.in_reach(ask, pos) && s.part.is_some_and(here))
            || self.comps.iter().any(|c| here(c.part))
    }

    /// Of all that could supply it: fewest needs that nothing meets, then the least price, both with what it asks for in
    /// turn, then the least price by itself, then by id. What is asked for in turn is counted four deep.
    fn cheapest(&self, need: &str, value: &str, line: &[&'a str]) -> Option<(usize, Decimal, &'a str)> {
        let serves = |(id, part): &(&'a String, &'a Part)| {
            self.used_loose(&part.class) && self.offers(id, need, value) && !line.contains(&id.as_str())
        };
        let with_all = |(id, part): (&'a String, &'a Part)| {
            let (mut unmet, mut price) = (0, self.cost(id));
            let asked = asks(part).into_iter().filter(|_| line.len() <= 4);
            for (need, value, level) in asked {
                let line: Vec<&'a str> = line.iter().copied().chain([id.as_str()]).collect();
                let ask = Ask { need, value, level, by: None, at: None, line: Vec::new() };
                if self.lib.needs[need].sharing != Sharing::Own && self.supplied(&ask) {
                    continue;
                }
                match self.cheapest(need, value, &line) {
                    Some((more, all, _)) => {
                        unmet += more;
                        price += all;
                    }
                    None => unmet += usize::from(level == Level::Required),
                }
            }
            (unmet, price, id.as_str())
        };
        let all = self.lib.parts.iter().filter(serves).map(with_all);
        all.min_by_key(|(unmet, price, id)| (*unmet, *price, self.cost(id), *id))
    }

    fn answer(&mut self, ask: &Ask<'a>, queue: &mut VecDeque<Ask<'a>>) {
        let own = self.lib.needs[ask.need].sharing == Sharing::Own;
        let here = |s: &Self, part: &str| s.offers(part, ask.need, ask.value);
        if self.supplied(ask) && !own {
            return;
        }
        // what has a place serves in it, and who decides puts it there
        let loose = self
            .stock
            .iter()
            .find(|c| c.left > 0 && here(self, c.part) && self.places_of(&self.part(c.part).class).is_empty())
            .map(|c| c.part);
        let choice = loose.or_else(|| self.cheapest(ask.need, ask.value, &ask.line).map(|(_, _, part)| part));
        let cause = ask.by.map(str::to_owned);
        let (asker, need) = (ask.line[ask.line.len() - 1].to_owned(), ask.need.to_owned());
        match choice {
            Some(part) => {
                let key = CompanionKey::Need { cause, asker, need };
                let boxed = self.take_for(&key, part, 1);
                let comp = Comp {
                    key,
                    part,
                    qty: 1,
                    level: ask.level,
                    boxed,
                    by: ask.by,
                    position: None,
                    survey: false,
                };
                ask_of(self.lib, &comp, &ask.line, queue);
                self.comps.push(comp);
            }
            None if ask.level == Level::Required => {
                self.clashes.insert(CheckKey::Need { cause, asker, need });
            }
            None => drop(self.unmet.insert(CheckKey::Need { cause, asker, need })),
        }
    }
}

struct Ask<'a> {
    need: &'a str,
    value: &'a str,
    level: Level,
    /// The place it is asked for: the asker's, or where the companion that asks belongs.
    by: Option<&'a str>,
    at: Option<&'a str>,
    line: Vec<&'a str>,
}

/// What a part asks for: what it needs, then what it is better with.
fn asks(part: &Part) -> Vec<(&str, &str, Level)> {
    let of = |(need, value, level)| -> (&str, &str, Level) { (need, value, level) };
    let required = part.needs.iter().map(|(n, v)| of((n.as_str(), v.as_str(), Level::Required)));
    required.chain(part.advises.iter().map(|(n, v)| of((n.as_str(), v.as_str(), Level::Advised)))).collect()
}

fn ask_of<'a>(lib: &'a LibraryFile, comp: &Comp<'a>, line: &[&'a str], queue: &mut VecDeque<Ask<'a>>) {
    if comp.survey {
        return;
    }
    for (need, value, level) in asks(&lib.parts[comp.part]) {
        let mut line = line.to_vec();
        line.push(comp.part);
        let level = level.max(comp.level);
        queue.push_back(Ask { need, value, level, by: comp.by, at: comp.position, line });
    }
}
