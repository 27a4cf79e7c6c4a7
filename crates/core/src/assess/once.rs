//! A service that several ask for is done once: alignment, a skim, an inspection leave nothing on the vehicle that there
//! could be two of.

use smallvec::SmallVec;

use super::bench::{Bench, Comp, Key};
use crate::reason::Fact;

impl Bench<'_> {
    /// Makes one companion of all that ask for the same service: the first by key stays, as strongly as the strongest
    /// asks, for as many as are asked at once.
    pub(super) fn services_once(&mut self) {
        let comps = &self.found.comps;
        let is_service = |c: &Comp| c.position.is_none() && self.cat.services.has(self.part(c.part).class);
        let mut asked: SmallVec<[usize; 8]> = (0..comps.len()).filter(|at| is_service(&comps[*at])).collect();
        asked.sort_by_key(|at| (comps[*at].part, comps[*at].key.order(), *at));
        let groups: SmallVec<[SmallVec<[usize; 4]>; 4]> = asked
            .chunk_by(|a, b| comps[*a].part == comps[*b].part)
            .filter(|group| group.len() > 1)
            .map(SmallVec::from_slice)
            .collect();
        for group in &groups {
            self.join(group);
        }
        // the rest of each group is in its first now
        let mut rest: SmallVec<[usize; 8]> = groups.iter().flat_map(|group| group[1..].to_vec()).collect();
        rest.sort_unstable();
        for at in rest.into_iter().rev() {
            self.found.comps.remove(at);
        }
    }

    fn join(&mut self, group: &[usize]) {
        let all: SmallVec<[Comp; 4]> = group.iter().map(|at| self.found.comps[*at]).collect();
        let reasons: SmallVec<[_; 4]> = all.iter().map(|c| c.reason).collect();
        let Comp { key, part, .. } = all[0];
        let reason = self.reason(&reasons, |s| Fact::Once { service: s.name(part) });
        let qty = all.iter().map(|c| c.qty).max().unwrap_or_default();
        let joined = &mut self.found.comps[group[0]];
        joined.level = all.iter().map(|c| c.level).min().unwrap_or(joined.level);
        joined.cause = all.iter().find_map(|c| c.cause);
        (joined.reason, joined.qty) = (reason, qty);
        let others = all.iter().map(|c| c.key).filter(|other| *other != key);
        self.found.once.extend(others.map(|other| (other, key)));
        for comp in &mut self.found.comps {
            if comp.parent.is_some_and(|parent| all.iter().any(|c| c.key == parent)) {
                comp.parent = Some(key);
            }
        }
    }

    /// Keys that ask for the same service as this one, the first of them.
    pub(super) fn asked_with(&self, first: Key) -> impl Iterator<Item = Key> {
        self.found.once.iter().filter(move |(_, key)| *key == first).map(|(other, _)| *other)
    }
}

#[cfg(test)]
mod tests;
