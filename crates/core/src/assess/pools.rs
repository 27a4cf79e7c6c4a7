//! Pools: what is given must cover what is taken and the margin.

use std::borrow::Cow;
use std::cell::Ref;

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Comp, Cure, NO_REASON, Trouble};
use super::fills::Overlay;
use crate::assessment::Answer;
use crate::catalogue::{Numbered, PartEntry, PartId, PoolEntry, PoolId, PositionId, Share};
use crate::phrase::Number;
use crate::reason::{Fact, ReasonId};
use crate::value::{Kind, Value, Verdict3};

/// The sums of a pool, SI.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct PoolSum {
    pub given: f64,
    pub taken: f64,
    /// What the tolerances leave open, either way.
    slack: f64,
    margin: f64,
    unknown: bool,
    /// What is given is not known: nobody can say then that too much is taken.
    given_unknown: bool,
}

impl PoolSum {
    /// What is given counts once, what is taken so many times.
    fn add(&mut self, share: &Share, times: u32) {
        let Some((middle, slack)) = share.amount else {
            self.unknown = true;
            self.given_unknown |= share.gives;
            return;
        };
        let times = if share.gives { 1.0 } else { f64::from(times) };
        let sum = if share.gives { &mut self.given } else { &mut self.taken };
        *sum += middle * times;
        self.slack += slack * times;
    }

    /// How much it is overdrawn; 0 where it is not.
    pub fn missing(&self) -> f64 {
        if self.given_unknown { 0.0 } else { (-self.left()).max(0.0) }
    }

    fn left(&self) -> f64 {
        self.given - self.taken - self.margin
    }

    pub fn verdict(&self) -> Verdict3 {
        let e = 1e-9 * (self.given.abs() + self.taken.abs());
        if !self.given_unknown && self.left() + self.slack + e < 0.0 {
            Verdict3::Broken
        } else if self.unknown || self.left() - self.slack + e < 0.0 {
            Verdict3::Open
        } else {
            Verdict3::Holds
        }
    }
}

/// What a pool comes to.
#[derive(Clone, Debug)]
pub(crate) struct PoolState {
    pub verdict: Verdict3,
    pub given: f64,
    pub taken: f64,
    /// A value of it is not known.
    pub unknown: bool,
    /// Positions that take.
    pub takers: Vec<PositionId>,
    /// Positions that give.
    pub givers: Vec<PositionId>,
}

fn is_of(pool: PoolId) -> impl Fn(&&(PoolId, Value)) -> bool {
    move |(p, _)| *p == pool
}

impl Bench<'_> {
    /// Positions that matter to a pool, in order, with those of an overlay.
    fn pool_positions(&self, pool: PoolId, overlay: &Overlay) -> Cow<'_, [PositionId]> {
        let pooled = &self.pooled[pool];
        let is_new = |(pos, part): &&(PositionId, Option<PartId>)| {
            part.is_some_and(|p| self.in_pool(p, pool)) && pooled.binary_search(pos).is_err()
        };
        if !overlay.iter().any(|tried| is_new(&tried)) {
            return Cow::Borrowed(pooled);
        }
        let mut merged: Vec<PositionId> = overlay.iter().filter(is_new).map(|(pos, _)| *pos).collect();
        merged.extend(pooled);
        merged.sort_unstable();
        merged.dedup();
        Cow::Owned(merged)
    }

    /// Companions that come beside what sits in the positions. A renewal takes the place of the part it renews.
    pub fn added(&self) -> impl Iterator<Item = &Comp> {
        self.found.comps.iter().filter(|c| c.position.is_none())
    }

    /// Places of those companions that give to a pool or take from one.
    fn added_in_pools(&self) -> Ref<'_, SmallVec<[usize; 16]>> {
        let comps = &self.found.comps;
        let looked = self.found.in_pools.borrow().0;
        if looked < comps.len() {
            let mut known = self.found.in_pools.borrow_mut();
            let counts = |at: &usize| comps[*at].position.is_none() && self.part(comps[*at].part).in_pools;
            known.1.extend((looked..comps.len()).filter(counts));
            known.0 = comps.len();
        }
        Ref::map(self.found.in_pools.borrow(), |known| &known.1)
    }

    pub fn pool_sum(&self, pool: PoolId, overlay: &Overlay) -> PoolSum {
        let mut sum = PoolSum { margin: self.cat.pools[pool].margin, ..PoolSum::default() };
        for (_, value) in self.v.gives.iter().filter(is_of(pool)) {
            sum.add(&Share::new(pool, value, true), 1);
        }
        for pos in self.pool_positions(pool, overlay).iter().copied() {
            let Some(part) = self.tried(overlay, pos) else { continue };
            for share in self.part(part).shares.iter().filter(|s| s.pool == pool) {
                sum.add(share, self.v.positions[pos].qty);
            }
        }
        for at in self.added_in_pools().iter() {
            let comp = &self.found.comps[*at];
            for share in self.part(comp.part).shares.iter().filter(|s| s.pool == pool) {
                sum.add(share, comp.qty);
            }
        }
        sum
    }

    /// The sums of a pool as things stand, and who gives and takes.
    pub fn pool_state(&self, pool: PoolId) -> PoolState {
        let sum = self.pool_sum(pool, &Overlay::new());
        let who = |of: fn(&PartEntry) -> &[(PoolId, Value)]| {
            let does = |part: PartId| of(self.part(part)).iter().any(|(p, _)| *p == pool);
            self.fitted().filter(|(_, part)| does(*part)).map(|(pos, _)| pos).collect()
        };
        PoolState {
            verdict: sum.verdict(),
            given: sum.given,
            taken: sum.taken,
            unknown: sum.unknown,
            takers: who(|entry| &entry.takes),
            givers: who(|entry| &entry.gives),
        }
    }

    /// Pools that a plan's change reaches: somebody new gives or takes, or who gave is not there any more. Who takes no
    /// more eases the pool.
    pub fn pools_touched(&self) -> Numbered<PoolEntry, bool> {
        let mut touched = Numbered::filled(false, self.cat.pools.len());
        for (pos, slot) in self.slots.iter().filter(|(_, slot)| slot.changed) {
            match slot.part {
                Some(part) => self.each_pool(part, |pool| touched[pool] = true),
                None => {
                    for (pool, _) in self.as_found(pos).iter().flat_map(|p| &self.part(*p).gives) {
                        touched[*pool] = true;
                    }
                }
            }
        }
        for at in self.added_in_pools().iter() {
            self.each_pool(self.found.comps[*at].part, |pool| touched[pool] = true);
        }
        touched
    }

    fn each_pool(&self, part: PartId, mut each: impl FnMut(PoolId)) {
        let entry = self.part(part);
        entry.gives.iter().chain(&entry.takes).for_each(|(pool, _)| each(*pool));
    }

    /// Notes in which pools a position counts where its part has changed.
    pub fn note_pools(&mut self, pos: PositionId, before: Option<PartId>, now: Option<PartId>) {
        let cat = self.cat;
        let shares = |part: Option<PartId>| part.map_or(&[][..], |p| &cat.parts[p].shares);
        for share in shares(before) {
            let list = &mut self.pooled[share.pool];
            if let Ok(at) = list.binary_search(&pos) {
                list.remove(at);
            }
        }
        for share in shares(now) {
            let list = &mut self.pooled[share.pool];
            if let Err(at) = list.binary_search(&pos) {
                list.insert(at, pos);
            }
        }
    }

    pub fn in_pool(&self, part: PartId, pool: PoolId) -> bool {
        let entry = self.part(part);
        entry.gives.iter().chain(&entry.takes).any(|(p, _)| *p == pool)
    }

    pub fn pools(&mut self) {
        let touched = self.pools_touched();
        for pool in self.cat.pools.ids() {
            let def = &self.cat.pools[pool].def;
            if def.tally {
                continue;
            }
            if !touched[pool] {
                continue;
            }
            let sum = self.pool_sum(pool, &Overlay::new());
            if sum.given == 0.0 && sum.taken == 0.0 {
                continue;
            }
            if sum.verdict() == Verdict3::Holds {
                self.check(CheckKey::Pool(pool), Answer::Holds, NO_REASON);
                continue;
            }
            let state = self.pool_state(pool);
            match state.verdict {
                Verdict3::Holds => {}
                Verdict3::Open => {
                    let reason = self.pool_reason(pool, &state);
                    let what = format!("{}: a value in the sum is not known closely enough", def.name);
                    self.check(CheckKey::Pool(pool), Answer::ToMeasure, reason);
                    self.found.unknowns.push(Trouble {
                        key: CheckKey::Pool(pool),
                        positions: state.takers.into(),
                        reason,
                        what: vec![what.into()],
                        cure: Cure::None,
                    });
                }
                Verdict3::Broken => self.overdrawn(pool, &state),
            }
        }
    }

    /// The sum of a pool that holds, in words.
    pub fn pool_holds(&mut self, pool: PoolId) -> ReasonId {
        let state = self.pool_state(pool);
        self.pool_reason(pool, &state)
    }

    fn overdrawn(&mut self, pool: PoolId, state: &PoolState) {
        let reason = self.pool_reason(pool, state);
        let mut positions = SmallVec::from_slice(&state.takers);
        positions.sort_by_key(|p| !self.is_chosen(*p));
        self.check(CheckKey::Pool(pool), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Pool(pool),
            positions,
            reason,
            what: Vec::new(),
            cure: Cure::Pool(pool),
        });
    }

    fn pool_reason(&mut self, pool: PoolId, state: &PoolState) -> ReasonId {
        let mut premises = self.reasons_of(state.takers.iter().chain(&state.givers).copied());
        let loose = self.added().filter(|c| self.in_pool(c.part, pool));
        premises.extend(loose.map(|c| c.reason));
        let reason = self.reason(&premises, |s| {
            let entry = &s.cat.pools[pool];
            let kind = Kind::from_word(&entry.def.kind);
            let number = |x: f64| Number::of(x, kind).difference();
            let mut parts: Vec<(String, Value)> = Vec::new();
            let all = s.slots.values().filter_map(|slot| slot.part).chain(s.added().map(|c| c.part));
            for part in all {
                for (p, value) in &s.part(part).takes {
                    if *p == pool {
                        parts.push((s.name(part), value.clone()));
                    }
                }
            }
            let left = state.given - state.taken;
            Fact::Pool {
                pool: entry.def.name.clone(),
                given: number(state.given).beside(state.taken),
                taken: number(state.taken).beside(state.given),
                parts,
                left: number(left).beside(entry.margin),
                margin: number(entry.margin).beside(left),
                why: entry.def.why.clone(),
            }
        });
        self.noting(reason, |s| s.pool_specs(pool))
    }
}

#[cfg(test)]
mod tests;
