//! Pools: what is given must cover what is taken and the margin.

use std::borrow::Cow;

use super::bench::{Bench, CheckKey, Cure, NO_REASON, Trouble};
use super::fills::Overlay;
use crate::assessment::Answer;
use crate::catalogue::Ix;
use crate::library::Level;
use crate::reason::{Fact, ReasonId};
use crate::value::{Kind, Value, Verdict3};

/// What a pool comes to.
#[derive(Clone, Debug)]
pub(crate) struct PoolState {
    pub verdict: Verdict3,
    pub given: f64,
    pub taken: f64,
    /// Positions that take.
    pub takers: Vec<Ix>,
    /// Positions that give.
    pub givers: Vec<Ix>,
    pub unknown: bool,
}

impl Bench<'_> {
    /// Whether the part in a position, now or as found, gives to or takes from any pool.
    pub fn is_pooled(&self, pos: Ix) -> bool {
        let touches = |p: Ix| !self.part(p).gives.is_empty() || !self.part(p).takes.is_empty();
        self.slot(pos).part.is_some_and(touches) || self.as_found(pos).is_some_and(touches)
    }

    /// Positions that matter to pools, in order, with those of an overlay.
    fn pool_positions(&self, overlay: &Overlay) -> Cow<'_, [Ix]> {
        let extra = overlay.iter().map(|(pos, _)| *pos).filter(|pos| self.pooled.binary_search(pos).is_err());
        let mut merged: Vec<Ix> = extra.collect();
        if merged.is_empty() {
            return Cow::Borrowed(&self.pooled);
        }
        merged.extend(&self.pooled);
        merged.sort_unstable();
        merged.dedup();
        Cow::Owned(merged)
    }

    pub fn pool_state(&self, pool: Ix, overlay: &Overlay) -> PoolState {
        let mut state = PoolState {
            verdict: Verdict3::Holds,
            given: 0.0,
            taken: 0.0,
            takers: Vec::new(),
            givers: Vec::new(),
            unknown: false,
        };
        let (mut slack_give, mut slack_take) = (0.0, 0.0);
        let mut add = |value: &Value, times: f64, give: bool, state: &mut PoolState| match value.bounds() {
            Some((low, high)) => {
                let (mid, half) = (f64::midpoint(low, high) * times, (high - low) / 2.0 * times);
                if give {
                    state.given += mid;
                    slack_give += half;
                } else {
                    state.taken += mid;
                    slack_take += half;
                }
            }
            None => state.unknown = true,
        };
        for (p, value) in &self.v.gives {
            if *p == pool {
                add(value, 1.0, true, &mut state);
            }
        }
        for pos in self.pool_positions(overlay).iter().copied() {
            let Some(part) = self.tried(overlay, pos) else { continue };
            let entry = self.part(part);
            for (p, value) in &entry.gives {
                if *p == pool {
                    add(value, 1.0, true, &mut state);
                    state.givers.push(pos);
                }
            }
            for (p, value) in &entry.takes {
                if *p == pool {
                    add(value, f64::from(self.v.positions[pos as usize].qty), false, &mut state);
                    state.takers.push(pos);
                }
            }
        }
        for comp in &self.found.comps {
            let entry = self.part(comp.part);
            for (p, value) in &entry.gives {
                if *p == pool {
                    add(value, 1.0, true, &mut state);
                }
            }
            for (p, value) in &entry.takes {
                if *p == pool {
                    add(value, f64::from(comp.qty), false, &mut state);
                }
            }
        }
        let left = state.given - state.taken - self.cat.pools[pool as usize].margin;
        let e = 1e-9 * (state.given.abs() + state.taken.abs());
        if left + slack_give + slack_take + e < 0.0 {
            state.verdict = Verdict3::Broken;
        } else if state.unknown || left - slack_give - slack_take + e < 0.0 {
            state.verdict = Verdict3::Open;
        }
        state
    }

    /// Pools that a plan's change reaches: somebody new gives or takes, or who gave is not there any more. Who takes no
    /// more eases the pool.
    pub fn pools_touched(&self) -> Vec<bool> {
        let mut touched = vec![false; self.cat.pools.len()];
        for pos in self.pooled.iter().copied().filter(|p| self.slot(*p).changed) {
            match self.slot(pos).part {
                Some(part) => self.each_pool(part, |pool| touched[pool as usize] = true),
                None => {
                    for (pool, _) in self.as_found(pos).iter().flat_map(|p| &self.part(*p).gives) {
                        touched[*pool as usize] = true;
                    }
                }
            }
        }
        for comp in &self.found.comps {
            self.each_pool(comp.part, |pool| touched[pool as usize] = true);
        }
        touched
    }

    fn each_pool(&self, part: Ix, mut each: impl FnMut(Ix)) {
        let entry = self.part(part);
        entry.gives.iter().chain(&entry.takes).for_each(|(pool, _)| each(*pool));
    }

    pub fn in_pool(&self, part: Ix, pool: Ix) -> bool {
        let entry = self.part(part);
        entry.gives.iter().chain(&entry.takes).any(|(p, _)| *p == pool)
    }

    pub fn pools(&mut self) {
        let touched = self.pools_touched();
        for pool in 0..self.cat.pools.len() as Ix {
            let def = &self.cat.pools[pool as usize].def;
            if def.tally {
                continue;
            }
            if !touched[pool as usize] {
                continue;
            }
            let state = self.pool_state(pool, &Overlay::new());
            if state.given == 0.0 && state.taken == 0.0 {
                continue;
            }
            match state.verdict {
                Verdict3::Holds => self.check(CheckKey::Pool(pool), Answer::Holds, NO_REASON),
                Verdict3::Open => {
                    let reason = self.pool_reason(pool, &state);
                    let what = format!("{}: a value in the sum is not known closely enough", def.name);
                    self.check(CheckKey::Pool(pool), Answer::ToMeasure, reason);
                    self.found.unknowns.push(Trouble {
                        key: CheckKey::Pool(pool),
                        positions: state.takers,
                        reason,
                        what,
                        cure: Cure::None,
                    });
                }
                Verdict3::Broken => self.overdrawn(pool, &state),
            }
        }
    }

    /// The sum of a pool that holds, in words.
    pub fn pool_holds(&mut self, pool: Ix) -> ReasonId {
        let state = self.pool_state(pool, &Overlay::new());
        self.pool_reason(pool, &state)
    }

    fn overdrawn(&mut self, pool: Ix, state: &PoolState) {
        let reason = self.pool_reason(pool, state);
        for pos in &state.takers {
            if !self.may_fill(*pos) {
                continue;
            }
            let holds = |p: Ix| self.pool_state(pool, &self.overlay(*pos, p)).verdict != Verdict3::Broken;
            let part = self.cheapest_clean(*pos, holds);
            if let Some(part) = part {
                let cause = state.takers.iter().find_map(|p| self.root(*p));
                let fills =
                    self.reason(&[reason], |s| Fact::Fills { part: s.name(part), place: s.place(*pos) });
                self.fill(*pos, part, fills, cause, Level::Required);
                return;
            }
        }
        let mut positions = state.takers.clone();
        positions.sort_by_key(|p| !self.is_chosen(*p));
        self.check(CheckKey::Pool(pool), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Pool(pool),
            positions,
            reason,
            what: String::new(),
            cure: Cure::Pool(pool),
        });
    }

    fn pool_reason(&mut self, pool: Ix, state: &PoolState) -> ReasonId {
        let mut premises: Vec<_> =
            state.takers.iter().chain(&state.givers).map(|p| self.slot(*p).reason).collect();
        let loose = self.found.comps.iter().filter(|c| self.in_pool(c.part, pool));
        premises.extend(loose.map(|c| c.reason));
        self.reason(&premises, |s| {
            let entry = &s.cat.pools[pool as usize];
            let kind = Kind::from_word(&entry.def.kind);
            let show = |x: f64| crate::explain::show(x, kind);
            let mut parts: Vec<String> = Vec::new();
            let all = s.slots.iter().filter_map(|slot| slot.part).chain(s.found.comps.iter().map(|c| c.part));
            for part in all {
                for (p, value) in &s.part(part).takes {
                    if *p == pool {
                        parts.push(format!(
                            "{} {}",
                            crate::explain::short(&s.part(part).part.name),
                            value.text()
                        ));
                    }
                }
            }
            Fact::Pool {
                pool: entry.def.name.clone(),
                given: show(state.given),
                taken: show(state.taken),
                parts: parts.join(", "),
                left: show(state.given - state.taken),
                margin: show(entry.margin),
                why: entry.def.why.clone(),
            }
        })
    }
}
