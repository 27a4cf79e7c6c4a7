//! Needs that nothing meets: required, it is a clash; advised, it is told. Either way with why not.

use super::bench::{Bench, CheckKey, Cure, NO_REASON, Trouble};
use super::needs::Ask;
use crate::catalogue::{NeedId, PartId, PositionId};
use crate::library::{Level, NeedRule};
use crate::reason::{Fact, InTheWay, Nearest, ReasonId, Taken};
use crate::value::{Value, Verdict3};

impl<'a> Bench<'a> {
    /// What a part wants of a need: as it says itself, else as the limit says that raises the need.
    pub fn wanted_of(&self, asker: PartId, need: NeedId) -> Option<&'a Value> {
        let own = self.part(asker).needs.iter().find(|(n, ..)| *n == need);
        let raised = || self.cat.limits.values().filter_map(|l| l.raises.as_ref()).find(|(n, _)| *n == need);
        own.map_or_else(|| raised().and_then(|(_, value)| value.as_ref()), |(_, value, _)| value.as_ref())
    }

    pub(super) fn unmet(&mut self, ask: &Ask<'_>, wants: ReasonId) {
        let reason = if self.full { self.why_unmet(ask, wants) } else { NO_REASON };
        let positions = ask.by.or(ask.cause).into_iter().collect();
        let (by, asker, need) = Self::need_key(ask);
        let key = CheckKey::Need(by, asker, need);
        let trouble = Trouble { key, positions, reason, what: Vec::new(), cure: Cure::Need(need) };
        match ask.level {
            Level::Required => self.found.clashes.push(trouble),
            Level::Advised => self.found.unmet.push(trouble),
        }
    }

    /// Why nothing meets it: that the places where a supplier could sit are taken is part of it.
    fn why_unmet(&mut self, ask: &Ask<'_>, wants: ReasonId) -> ReasonId {
        let need = ask.need;
        let circle = ask.line.iter().any(|p| self.offers_it(*p, need, ask.value));
        let places = self.cat.need_classes[need].iter().flat_map(|c| self.v.by_class.of(*c));
        let places: Vec<PositionId> =
            places.copied().filter(|p| self.is_within_reach(ask.at, Some(*p))).collect();
        let taken = places.iter().filter(|p| !self.is_open(**p)).map(|p| self.slot(*p).reason);
        let premises: Vec<ReasonId> = std::iter::once(wants).chain(taken).collect();
        self.reason(&premises, |s| {
            let wanted = s.cat.needs[need].name.clone();
            if circle {
                return Fact::Circle { part: s.name(ask.asker), need: wanted };
            }
            let places: Vec<Taken> =
                places.iter().filter(|p| s.would_serve(**p, ask)).map(|p| s.in_the_way(*p)).collect();
            let nearest = if places.is_empty() { s.nearest(ask) } else { None };
            let value = ask.value.cloned();
            Fact::NothingServes { wanted, value, places, nearest }
        })
    }

    /// Whether another part in a place would supply it.
    fn would_serve(&self, pos: PositionId, ask: &Ask<'_>) -> bool {
        let class = self.v.positions[pos].class;
        let parts = self.cat.offered_in.get(&(ask.need, class)).into_iter().flatten();
        let mut parts = parts.filter(|part| self.for_sale(**part) && self.slot(pos).part != Some(**part));
        parts.any(|part| self.offers_it(*part, ask.need, ask.value))
    }

    fn in_the_way(&self, pos: PositionId) -> Taken {
        let by = match self.slot(pos).part {
            Some(part) => InTheWay::Part(self.name(part)),
            None if self.is_open(pos) => InTheWay::Empty,
            None => InTheWay::LeftEmpty,
        };
        Taken { place: self.place(pos), by }
    }

    /// What is offered nearest to what is wanted, where all of it misses; nothing where some of it would do and cannot be
    /// had here.
    fn nearest(&self, ask: &Ask<'_>) -> Option<Nearest> {
        let wanted = ask.value?;
        let (least, most) = wanted.bounds()?;
        let rule = self.cat.needs[ask.need].rule;
        let of_parts = self.cat.offered_by[ask.need]
            .iter()
            .filter(|p| self.for_sale(**p) || self.fitted().any(|(_, fitted)| fitted == **p));
        let of_parts = of_parts.flat_map(|p| self.part(*p).offers.iter().map(move |offer| (Some(*p), offer)));
        let all = of_parts.chain(self.v.offers.iter().map(|offer| (None, offer)));
        let mut best: Option<(f64, Option<PartId>, &Value)> = None;
        for (part, (_, value)) in all.filter(|(_, (n, _))| *n == ask.need) {
            // whoever only has it has as much as is wanted
            let value = value.as_ref()?;
            let verdict = self.offered(ask.need, wanted, value);
            if verdict == Verdict3::Holds {
                return None;
            }
            let miss = value.bounds().map_or(f64::INFINITY, |(low, high)| match rule {
                NeedRule::AtLeast => most - low,
                NeedRule::Inside => (least - low).max(0.0) + (high - most).max(0.0),
            });
            // of several that come as near the cheapest, which stands first
            if best.is_none_or(|(other, ..)| miss < other) {
                best = Some((miss, part, value));
            }
        }
        let (_, part, value) = best?;
        let part = part.map(|p| self.name(p));
        Some(Nearest { part, value: value.bounds().map(|_| value.clone()), rule })
    }
}

#[cfg(test)]
mod tests;
