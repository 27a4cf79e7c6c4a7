//! Sets of changes to what the owner chose, tried one after the other on one bench, and what would clear what does not fit
//! with each of them.

use std::collections::{BTreeMap, BTreeSet};

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey};
use super::ground::Ground;
use super::offers::{Sum, sum};
use crate::amounts::Amounts;
use crate::catalogue::{Catalogue, NeedId, PartEntry, PartId, PositionId, hundredths};
use crate::key;
use crate::library::{Decided, Level};
use crate::sheet::{Choice, Route, Sheet};

/// What is chosen at a place.
pub(crate) type Said = (Route, Option<PartId>);

/// Places with what is chosen there instead.
pub(crate) type Changes = BTreeMap<PositionId, Said>;

/// Changes at one place or two that clear a clash, as far as its joint, limit, pool or need tells.
pub(crate) type Way = SmallVec<[(PositionId, Said); 2]>;

/// A clash of what is tried.
pub(crate) type Check = CheckKey;

/// What would clear a clash.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ways {
    pub all: Vec<Way>,
    /// Places of them all.
    pub places: BTreeSet<PositionId>,
}

/// What a set of changes comes to.
#[derive(Clone, Debug)]
pub(crate) struct Outcome {
    /// What does not fit.
    pub broken: BTreeSet<Check>,
    pub money: Amounts,
    pub hours: f64,
    pub to_measure: i64,
}

pub(crate) struct Trial<'a> {
    pub(super) bench: Bench<'a>,
    /// The changes the bench stands on.
    pub(super) laid: Changes,
    /// What the plan came to as it stands: what is bought for it stays bought.
    before: Option<Sum>,
    /// Looks at ways.
    pub(super) looks: usize,
    /// Some ways were not looked at.
    pub cut: bool,
}

/// Works on a plan of a sheet; `None` where there is nothing to work on.
pub(crate) fn on_trial<T>(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    work: impl FnOnce(Trial<'_>) -> T,
) -> Option<T> {
    let catalogue = catalogue.for_sheet(sheet);
    let ground = Ground::new(sheet, sheet.plans.get(plan)?, &catalogue).ok()?;
    let mut bench = Bench::new(&ground, false);
    bench.begin();
    Some(work(Trial { bench, laid: Changes::new(), before: None, looks: 0, cut: false }))
}

impl Trial<'_> {
    /// What the plan comes to with some changes.
    pub fn comes_to(&mut self, changes: &Changes) -> Outcome {
        self.lay(changes);
        let sum = sum(&self.bench, self.before.as_ref());
        let money = sum.spent.sums.all();
        let hours = sum.hours;
        if changes.is_empty() {
            self.before.get_or_insert(sum);
        }
        let found = &self.bench.found;
        let unknown: BTreeSet<Check> = found.unknowns.iter().map(|trouble| trouble.key).collect();
        Outcome {
            broken: found.clashes.iter().map(|trouble| self.bench.one_key(trouble.key)).collect(),
            money,
            hours,
            to_measure: unknown.len() as i64,
        }
    }

    fn lay(&mut self, changes: &Changes) {
        let places: BTreeSet<PositionId> = self.laid.keys().chain(changes.keys()).copied().collect();
        for pos in places {
            let chosen = changes.get(&pos).copied().or(self.bench.ground.owner[pos]);
            if self.bench.owner[pos] != chosen {
                self.bench.choose(pos, chosen);
            }
        }
        self.laid.clone_from(changes);
        self.bench.decide();
    }

    /// What would clear clashes of a set of changes, at other places than those it changes.
    pub fn ways(&mut self, changes: &Changes, keys: &BTreeSet<Check>) -> BTreeMap<Check, Ways> {
        if self.laid != *changes {
            self.lay(changes);
        }
        let mut out: BTreeMap<Check, Ways> = BTreeMap::new();
        let troubles = self.bench.found.clashes.clone();
        for trouble in &troubles {
            let key = self.bench.one_key(trouble.key);
            if keys.contains(&key) {
                let ways = out.entry(key).or_default();
                ways.all.extend(self.ways_of(trouble));
            }
        }
        for ways in out.values_mut() {
            ways.all.sort();
            ways.all.dedup();
            ways.places = ways.all.iter().flatten().map(|(pos, _)| *pos).collect();
        }
        out
    }

    /// Places that have to do with clashes of a set of changes.
    pub fn about(&mut self, changes: &Changes, keys: &BTreeSet<Check>) -> BTreeSet<PositionId> {
        if self.laid != *changes {
            self.lay(changes);
        }
        let here = self.bench.found.clashes.iter();
        let asked = here.filter(|trouble| keys.contains(&self.bench.one_key(trouble.key)));
        asked.flat_map(|trouble| self.bench.places_about(trouble)).collect()
    }

    /// What is given up of a wish where something else is chosen in its place, in hundredths; `None` where it is kept or
    /// nothing was wished.
    pub fn given_up(&self, pos: PositionId, said: Said) -> Option<i64> {
        let Some((Route::Convert, Some(wished))) = self.bench.ground.owner[pos] else { return None };
        let other = said.1.filter(|_| said.0 == Route::Convert);
        if other.is_some_and(|other| self.does_the_same(wished, other)) {
            return None;
        }
        let price = self.bench.part(wished).part.price.as_ref();
        Some(price.map_or(0, |price| hundredths(price.amount)))
    }

    fn does_the_same(&self, wished: PartId, other: PartId) -> bool {
        let (wished, other) = (self.bench.part(wished), self.bench.part(other));
        let has_port = |port_type| other.ports.iter().any(|port| port.port_type == port_type);
        // what is only advised is no need
        let needs = |part: &PartEntry| -> Vec<NeedId> {
            let required = part.needs.iter().filter(|(.., level)| *level == Level::Required);
            required.map(|(need, ..)| *need).collect()
        };
        let others = needs(other);
        wished.ports.iter().all(|port| has_port(port.port_type))
            && needs(wished).iter().all(|need| others.contains(need))
    }

    /// Whether two sets are one way: they change the same places, and put in parts there that do the same, or none. That a
    /// place keeps what was found in the one and stays without in the other is no other way.
    pub fn are_alike(&self, one: &Changes, other: &Changes) -> bool {
        let same = |a: Option<PartId>, b: Option<PartId>| match (a, b) {
            (Some(a), Some(b)) => a == b || self.does_the_same(a, b) && self.does_the_same(b, a),
            (a, b) => a == b,
        };
        one.len() == other.len()
            && one.iter().zip(other).all(|((at, a), (place, b))| at == place && same(a.1, b.1))
    }

    /// Nobody has chosen, and the place follows what it joins.
    pub fn is_left_to_plan(&self, pos: PositionId) -> bool {
        let class = self.bench.v.positions[pos].class;
        self.bench.ground.owner[pos].is_none()
            && self.bench.cat.classes[class].decided != Some(Decided::Owner)
    }

    /// As sheets have it.
    pub fn named(&self, changes: &Changes) -> BTreeMap<String, Choice> {
        let named = |(pos, (route, part)): (&PositionId, &Said)| {
            let part = part.map(|part| self.bench.cat.part_names.id(part).to_owned());
            (self.bench.v.positions[*pos].id.clone(), Choice { route: *route, part })
        };
        changes.iter().map(named).collect()
    }

    /// Some clashes of a set of changes, as the assessment has them.
    pub fn keys_of(&mut self, changes: &Changes, keys: &BTreeSet<Check>) -> BTreeSet<key::CheckKey> {
        if self.laid != *changes {
            self.lay(changes);
        }
        let here = self.bench.found.clashes.iter();
        let asked = here.filter(|trouble| keys.contains(&self.bench.one_key(trouble.key)));
        asked.map(|trouble| self.bench.check_key(trouble.key)).collect()
    }

    /// The place as sheets name it.
    pub fn place(&self, pos: PositionId) -> String {
        self.bench.v.positions[pos].id.clone()
    }
}
