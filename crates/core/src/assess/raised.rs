//! A broken limit that asks for a need instead of being a clash at once. Some part asks for it: one that the plan put into
//! a place the limit reads, else a companion it reads, else what sits in such a place.

use std::collections::VecDeque;

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Comp, Key};
use super::needs::Ask;
use crate::assessment::Answer;
use crate::catalogue::{LimitInput, PartId, PositionId, RunId};
use crate::library::Level;
use crate::reason::ReasonId;

/// Who asks for what a limit raises.
struct Asker {
    part: PartId,
    at: Option<PositionId>,
    by: Option<PositionId>,
    cause: Option<PositionId>,
    parent: Option<Key>,
}

impl Bench<'_> {
    /// Whether a limit raises a need, which is then asked for. It is not where nobody is there to ask for it.
    pub(super) fn is_raised(&mut self, limit: RunId, positions: &[PositionId], reason: ReasonId) -> bool {
        let Some((need, value)) = &self.limit_of(limit).raises else { return false };
        let Some(asker) = self.asker(limit, positions) else { return false };
        self.check(CheckKey::Limit(limit), Answer::Bridged, reason);
        let ask = Ask {
            need: *need,
            value: value.as_ref(),
            level: Level::Required,
            cause: asker.cause,
            at: asker.at,
            by: asker.by,
            asker: asker.part,
            reason,
            parent: asker.parent,
            line: SmallVec::new(),
        };
        self.answer(VecDeque::from([ask]));
        true
    }

    fn asker(&self, limit: RunId, positions: &[PositionId]) -> Option<Asker> {
        let cause = positions.iter().find_map(|p| self.root(*p));
        let sits = |changed: bool| {
            let all = positions.iter().copied().filter(|p| !changed || self.slot(*p).changed);
            all.filter_map(|p| Some((p, self.slot(p).part?))).next()
        };
        let at = |(pos, part): (PositionId, PartId)| Asker {
            part,
            at: Some(pos),
            by: Some(pos),
            cause,
            parent: None,
        };
        let of = |comp: &Comp| {
            let Comp { part, position, key, by, .. } = *comp;
            Asker { part, at: position, by, cause: comp.cause, parent: Some(key) }
        };
        let takes = |comp: &&Comp| self.reads_pool_of(limit, comp.part);
        let taker = || self.added().find(takes).map(of);
        sits(true).map(at).or_else(taker).or_else(|| sits(false).map(at))
    }

    /// Whether a part takes from a pool that a limit reads.
    fn reads_pool_of(&self, limit: RunId, part: PartId) -> bool {
        let mut takes = false;
        for (_, input) in &self.limit_of(limit).inputs {
            input.each(&mut |input| {
                takes |= matches!(input, LimitInput::Pool(pool) if self.part(part).takes.iter().any(|(p, _)| p == pool));
            });
        }
        takes
    }
}

#[cfg(test)]
mod tests;
