//! What a choice of parts for some places comes to at one joint, limit, pool or need, with all else as it stands: the terms
//! that the search for the best decisions adds up. What they leave out is found when the decisions are derived.

use rustc_hash::FxHashMap;
use smallvec::SmallVec;

use super::bench::Bench;
use super::either::Judged;
use super::fills::Overlay;
use super::order::{Marks, Row};
use crate::assessment::Origin;
use crate::catalogue::searched::Chain;
use crate::catalogue::{
    Bits, CircuitId, ClassId, JointId, LimitInput, NeedId, Numbered, PartId, PoolEntry, PoolId,
    PositionEntry, PositionId, RunId, SpotId,
};
use crate::library::{Alone, Level};
use crate::value::{Value, Verdict3};

/// One thing that can be judged by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) enum Term {
    /// A joint; of alternatives the first stands for all.
    Joint(JointId),
    Limit(RunId),
    Pool(PoolId),
    Need(NeedId),
    /// An opening at one of its spots: what it wants when it is apart.
    Spot(SpotId),
    /// A class of fluid: what its circuits take where they run out.
    Fluid(ClassId),
}

/// What is known of the plan before anything is decided.
#[derive(Debug)]
pub(crate) struct Before {
    /// Pools that the plan reaches.
    pub pools: Numbered<PoolEntry, bool>,
    /// Places that are apart, and circuits that run out.
    pub apart: Bits<PositionEntry>,
    pub run_out: Vec<CircuitId>,
    /// Limits that raise a need.
    raising: Vec<RunId>,
    /// Positions whose part asks for each need, those whose part offers it, and those whose part offered it as found.
    askers: PlacesByNeed,
    offering: PlacesByNeed,
    offered: PlacesByNeed,
}

type PlacesByNeed = FxHashMap<NeedId, SmallVec<[PositionId; 8]>>;

/// Somebody asks for something.
type Want<'a> = (PositionId, Option<&'a Value>, Level);

impl<'a> Bench<'a> {
    /// What the search reads of the plan as it stands.
    pub fn before(&self) -> Before {
        let (mut askers, mut offering) = (PlacesByNeed::default(), PlacesByNeed::default());
        let mut offered = PlacesByNeed::default();
        for (pos, part) in self.fitted() {
            for (need, ..) in &self.part(part).needs {
                askers.entry(*need).or_default().push(pos);
            }
            for (need, _) in &self.part(part).offers {
                offering.entry(*need).or_default().push(pos);
            }
        }
        for pos in self.v.positions.ids() {
            for (need, _) in self.as_found(pos).into_iter().flat_map(|part| &self.part(part).offers) {
                offered.entry(*need).or_default().push(pos);
            }
        }
        let apart = Bits::of(self.v.positions.len(), self.found.apart.iter().copied());
        let run_out = self.found.run_out.clone();
        let raises = |run: &RunId| self.limit_of(*run).raises.is_some();
        let raising = self.v.limits.ids().filter(raises).collect();
        Before { pools: self.pools_touched(), raising, apart, run_out, askers, offering, offered }
    }

    /// What sits in a place is not as found, or something is tried there.
    pub(super) fn is_touched(&self, pos: PositionId, overlay: &Overlay) -> bool {
        self.slot(pos).changed || overlay.iter().any(|(p, _)| *p == pos)
    }

    /// The first of a joint and its alternatives.
    pub fn first_of(&self, joint: JointId) -> JointId {
        self.v.joints[joint].alternatives.iter().copied().min().map_or(joint, |other| other.min(joint))
    }

    /// What a term comes to with some parts in their places.
    pub fn weigh(&self, term: Term, overlay: &Overlay, before: &Before) -> Marks {
        match term {
            Term::Joint(joint) => self.weigh_joint(joint, overlay, before),
            Term::Limit(run) => self.weigh_limit(run, overlay, before),
            Term::Pool(pool) => self.weigh_pool(pool, overlay, before),
            Term::Need(need) => self.weigh_need(need, overlay, before),
            Term::Spot(spot) => self.weigh_spot(spot, overlay, before),
            Term::Fluid(fluid) => self.weigh_fluid(fluid, overlay, before),
        }
    }

    fn weigh_joint(&self, joint: JointId, overlay: &Overlay, before: &Before) -> Marks {
        if !self.ends_of_either(joint).any(|pos| self.is_touched(pos, overlay)) {
            return Marks::default();
        }
        match self.judged(joint, overlay) {
            Judged::Nothing => Marks::default(),
            Judged::Holds(joint) => self.weigh_seals(joint, &[], overlay, before),
            Judged::Open(joint) => Marks::of(Row::Unknown, 1) + self.weigh_seals(joint, &[], overlay, before),
            Judged::Broken(joint) => Marks::of(Row::Apart, 1) + self.weigh_seals(joint, &[], overlay, before),
            Judged::Bridged(joint, chain) => {
                self.weigh_chain(joint, &chain, overlay, before)
                    + self.weigh_seals(joint, &chain.links, overlay, before)
            }
            Judged::Alone(joint, port) => match port.1.alone {
                Alone::Fine | Alone::Surplus => Marks::default(),
                Alone::Required => Marks::of(Row::Apart, 1),
                Alone::Cap => match self.cap_for(port.1) {
                    Some(cap) => self.weigh_part(cap, self.v.joints[joint].qty),
                    None => Marks::of(Row::Apart, 1),
                },
            },
        }
    }

    /// Bridges, and what they ask for.
    fn weigh_chain(&self, joint: JointId, chain: &Chain, overlay: &Overlay, before: &Before) -> Marks {
        let mut marks = Marks::of(Row::Unknown, i64::from(chain.open));
        for link in &chain.links {
            marks += self.weigh_part(link.part, self.v.joints[joint].qty);
            let suppliers =
                Suppliers { fitted: overlay.iter().map(|(pos, _)| *pos).collect(), bought: SmallVec::new() };
            let mut asked = Asked { bench: self, overlay, before, suppliers, marks };
            for (need, value, level) in &self.part(link.part).needs {
                let mut line = SmallVec::from_slice(&[link.part]);
                asked.ask(*need, value.as_ref(), *level, None, &mut line);
            }
            marks = asked.marks;
        }
        marks
    }

    /// Money and hours of so many of a part; what lies in a box is not paid again.
    pub fn weigh_part(&self, part: PartId, qty: u32) -> Marks {
        let left: u32 = self.stock.iter().filter(|l| l.part == part).map(|l| l.left).sum();
        self.work_of(part, qty, qty.saturating_sub(left))
    }

    fn weigh_limit(&self, run: RunId, overlay: &Overlay, before: &Before) -> Marks {
        // where it raises a need, that stands for it
        match self.limit_tried(run, overlay, before) {
            None | Some(Verdict3::Holds) => Marks::default(),
            Some(Verdict3::Open) => Marks::of(Row::Open, 1),
            Some(Verdict3::Broken) if self.limit_of(run).raises.is_some() => Marks::default(),
            Some(Verdict3::Broken) => {
                let row = if self.limit_of(run).def.safety { Row::Danger } else { Row::Broken };
                Marks::of(row, 1) + Marks::of(Row::Beyond, self.beyond(run, overlay))
            }
        }
    }

    /// What a limit comes to where the plan or what is tried reaches it.
    fn limit_tried(&self, run: RunId, overlay: &Overlay, before: &Before) -> Option<Verdict3> {
        let here = &self.v.limits[run];
        let sets = |part: PartId| self.sets_for(run, part);
        let reached = |(pos, part): &(PositionId, Option<PartId>)| {
            here.places.contains(pos)
                || here.setters.contains(pos)
                    && (part.is_some_and(sets) || self.as_found(*pos).is_some_and(sets))
        };
        let mut reads_pool = false;
        for (_, input) in &self.limit_of(run).inputs {
            input.each(&mut |input| {
                if let LimitInput::Pool(pool) = input {
                    let shares = |part: PartId| self.in_pool(part, *pool);
                    reads_pool |= overlay.iter().any(|(_, part)| part.is_some_and(shares));
                }
            });
        }
        let is_reached = reads_pool || overlay.iter().any(reached) || self.limit_touched(run, &before.pools);
        if is_reached { self.limit_verdict(run, overlay) } else { None }
    }

    fn weigh_pool(&self, pool: PoolId, overlay: &Overlay, before: &Before) -> Marks {
        let shares = |part: PartId| self.in_pool(part, pool);
        let reached = overlay.iter().any(|(_, part)| part.is_some_and(shares));
        if !reached && !before.pools[pool] || self.cat.pools[pool].def.tally {
            return Marks::default();
        }
        let sum = self.pool_sum(pool, overlay);
        match sum.verdict() {
            _ if sum.given == 0.0 && sum.taken == 0.0 => Marks::default(),
            Verdict3::Holds => Marks::default(),
            Verdict3::Open => Marks::of(Row::Open, 1),
            Verdict3::Broken => Marks::of(Row::Apart, 1),
        }
    }

    fn weigh_need(&self, need: NeedId, overlay: &Overlay, before: &Before) -> Marks {
        let wants = self.wants_of(need, overlay, before);
        if wants.is_empty() {
            return Marks::default();
        }
        let mut weighed = Asked {
            bench: self,
            overlay,
            before,
            suppliers: self.suppliers_of(need, overlay, before),
            marks: Marks::default(),
        };
        for (at, wanted, level) in wants {
            weighed.ask(need, wanted, level, Some(at), &mut SmallVec::new());
        }
        weighed.marks
    }

    fn suppliers_of(&self, need: NeedId, overlay: &Overlay, before: &Before) -> Suppliers {
        Suppliers { fitted: places_with(&before.offering, need, overlay), bought: SmallVec::new() }
    }

    /// Who asks for a need with some parts in their places.
    fn wants_of(&self, need: NeedId, overlay: &Overlay, before: &Before) -> SmallVec<[Want<'a>; 8]> {
        // who offered it as found and is not there any more
        let is_lost =
            before.offered.get(&need).into_iter().flatten().any(|pos| {
                self.is_touched(*pos, overlay) && self.tried(overlay, *pos) != self.as_found(*pos)
            });
        let mut wants: SmallVec<[Want<'_>; 8]> = SmallVec::new();
        for pos in places_with(&before.askers, need, overlay) {
            if !(self.is_touched(pos, overlay) || is_lost && !self.is_idle(pos)) {
                continue;
            }
            let Some(part) = self.tried(overlay, pos) else { continue };
            let asked = self.part(part).needs.iter().filter(|(n, ..)| *n == need);
            wants.extend(asked.map(|(_, value, level)| (pos, value.as_ref(), *level)));
        }
        for run in before.raising.iter().copied() {
            let Some((_, value)) = self.limit_of(run).raises.as_ref().filter(|(n, _)| *n == need) else {
                continue;
            };
            if self.limit_tried(run, overlay, before) != Some(Verdict3::Broken) {
                continue;
            }
            let at =
                self.v.limits[run].places.iter().copied().find(|pos| self.tried(overlay, *pos).is_some());
            wants.extend(at.map(|at| (at, value.as_ref(), Level::Required)));
        }
        wants
    }
}

/// Places known for a need, and those that an overlay touches.
fn places_with(places: &PlacesByNeed, need: NeedId, overlay: &Overlay) -> SmallVec<[PositionId; 16]> {
    let mut all: SmallVec<[PositionId; 16]> = places.get(&need).into_iter().flatten().copied().collect();
    all.extend(overlay.iter().map(|(pos, _)| *pos));
    all.sort_unstable();
    all.dedup();
    all
}

/// Who supplies a need: places whose part may offer it, and what is bought for it.
struct Suppliers {
    fitted: SmallVec<[PositionId; 16]>,
    bought: SmallVec<[PartId; 4]>,
}

/// Needs asked one after the other, with what is bought for them and what that asks for in turn.
struct Asked<'b, 'a> {
    bench: &'b Bench<'a>,
    overlay: &'b Overlay,
    before: &'b Before,
    suppliers: Suppliers,
    marks: Marks,
}

impl Asked<'_, '_> {
    fn ask(
        &mut self,
        need: NeedId,
        wanted: Option<&Value>,
        level: Level,
        at: Option<PositionId>,
        line: &mut SmallVec<[PartId; 4]>,
    ) {
        let bench = self.bench;
        if !bench.cat.is_own(need) && self.is_met(need, wanted, at) {
            return;
        }
        let offers = |part: &PartId| {
            bench.offers_it(*part, need, wanted) && !line.contains(part) && bench.for_sale(*part)
        };
        let met = |need: NeedId, wanted: Option<&Value>| self.is_met(need, wanted, None);
        let Some(part) = bench.cheapest_supplier(need, offers, &met, line) else {
            self.marks.count(if level == Level::Required { Row::Apart } else { Row::Advice }, 1);
            return;
        };
        self.suppliers.bought.push(part);
        if self.is_bought_for_another(part, need) {
            return;
        }
        self.marks += bench.weigh_part(part, 1);
        line.push(part);
        for (need, value, own) in &bench.part(part).needs {
            self.ask(*need, value.as_ref(), level.max(*own), None, line);
        }
        line.pop();
    }

    /// Whether a supplier is bought for another need that it offers and that is asked for as well: of several it is counted
    /// at the first.
    fn is_bought_for_another(&self, supplier: PartId, need: NeedId) -> bool {
        let bench = self.bench;
        let mut others = bench.part(supplier).offers.iter().map(|(other, _)| *other);
        others.any(|other| {
            other < need
                && !bench.cat.is_own(other)
                && bench.wants_of(other, self.overlay, self.before).into_iter().any(|(at, wanted, _)| {
                    let suppliers = bench.suppliers_of(other, self.overlay, self.before);
                    let asked = Asked { suppliers, marks: Marks::default(), ..*self };
                    let offers =
                        |part: &PartId| bench.offers_it(*part, other, wanted) && bench.for_sale(*part);
                    let met = |need: NeedId, wanted: Option<&Value>| asked.is_met(need, wanted, None);
                    bench.cheapest_supplier(other, offers, &met, &[]) == Some(supplier)
                        && !asked.is_met(other, wanted, Some(at))
                })
        })
    }

    fn is_met(&self, need: NeedId, wanted: Option<&Value>, at: Option<PositionId>) -> bool {
        let bench = self.bench;
        let fitted = |pos: &PositionId| {
            let is_near = |at: PositionId| bench.v.whereabouts(at).goes_with(bench.v.whereabouts(*pos));
            at.is_none_or(|at| at != *pos && is_near(at))
                && bench.tried(self.overlay, *pos).is_some_and(|part| bench.offers_it(part, need, wanted))
        };
        let elsewhere = || self.before.offering.get(&need).into_iter().flatten();
        // what the plan as it stands buys for a need is asked for anew here
        let stays = bench.found.comps.iter().filter(|c| c.origin != Origin::Need).map(|c| c.part);
        bench.v.offers.iter().any(|(n, v)| *n == need && bench.good(need, wanted, v.as_ref()))
            || stays.chain(self.suppliers.bought.iter().copied()).any(|p| bench.offers_it(p, need, wanted))
            || self.suppliers.fitted.iter().chain(elsewhere()).any(fitted)
    }
}

#[cfg(test)]
mod tests;
