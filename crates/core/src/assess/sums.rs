//! The sums of the pools, with who gives and who takes.

use super::bench::Bench;
use crate::assessment::{PoolShare, PoolSum};
use crate::catalogue::{PartEntry, PoolId};
use crate::value::{Kind, Value};

impl Bench<'_> {
    /// Every pool that something gives to or takes from, in the order of their ids.
    pub fn sums(&self) -> Vec<PoolSum> {
        self.cat.pools.ids().filter_map(|pool| self.sum(pool)).collect()
    }

    fn sum(&self, pool: PoolId) -> Option<PoolSum> {
        let entry = &self.cat.pools[pool];
        let givers = self.shares(pool, |part| &part.gives, false);
        let takers = self.shares(pool, |part| &part.takes, true);
        if givers.is_empty() && takers.is_empty() && !self.v.gives.iter().any(|(p, _)| *p == pool) {
            return None;
        }
        let state = self.pool_state(pool);
        Some(PoolSum {
            id: self.cat.pool_names.id(pool).to_owned(),
            name: entry.def.name.clone(),
            kind: Kind::from_word(&entry.def.kind),
            given: state.given,
            taken: state.taken,
            margin: entry.margin,
            left: state.given - state.taken - entry.margin,
            unknown: state.unknown,
            tally: entry.def.tally,
            givers,
            takers,
        })
    }

    /// Fitted parts, then companions. What a position takes counts for each of its parts, what it gives counts once.
    fn shares(
        &self,
        pool: PoolId,
        side: impl Fn(&PartEntry) -> &Vec<(PoolId, Value)>,
        each: bool,
    ) -> Vec<PoolShare> {
        let fitted = self.fitted().map(|(pos, part)| (part, Some(pos), self.v.positions[pos].qty));
        let loose = self.added().map(|c| (c.part, c.cause, c.qty));
        let mut out = Vec::new();
        for (part, pos, qty) in fitted.chain(loose) {
            let qty = if each { qty } else { 1 };
            for (_, value) in side(self.part(part)).iter().filter(|(p, _)| *p == pool) {
                out.push(PoolShare {
                    position: pos.map(|p| self.v.positions[p].id.clone()),
                    part: self.cat.part_names.id(part).to_owned(),
                    name: self.name(part),
                    qty,
                    amount: value.bounds().map(|(low, high)| f64::midpoint(low, high) * f64::from(qty)),
                    text: value.text(),
                });
            }
        }
        out
    }
}
