//! Clashes that are one trouble: each change that clears the one clears the other, and there is such a change. Two joints of
//! one gearbox and one engine are no two things to settle where every other gearbox settles both.
//!
//! A change is another part at one place, for sale or what was found there and is sound. Whether it clears a clash is read
//! from the joint, limit, pool or need alone.

use std::collections::BTreeSet;

use super::bench::{Bench, CheckKey, Trouble};
use super::remedies::Way;
use crate::catalogue::{PartId, PositionId};

/// Parts with the places they would go to.
type Changes = BTreeSet<(PositionId, PartId)>;

impl Bench<'_> {
    /// Keys of the clashes that are one trouble, those that are by themselves left out. The ways are those told of each.
    pub(super) fn one_troubles(&self, clashes: &[(&Trouble, &[Way])]) -> Vec<Vec<CheckKey>> {
        let mut out: Vec<(Changes, Vec<CheckKey>)> = Vec::new();
        for (at, (trouble, ways)) in clashes.iter().enumerate() {
            // what is told of two must clear both, or all of it need not be looked at
            let may_be_one = clashes.iter().enumerate().any(|(other, (also, theirs))| {
                other != at && self.all_clear(also, ways) && self.all_clear(trouble, theirs)
            });
            if !may_be_one {
                continue;
            }
            let all = self.single_changes(trouble);
            match out.iter_mut().find(|(changes, _)| *changes == all) {
                Some((_, keys)) => keys.push(trouble.key),
                None => out.push((all, vec![trouble.key])),
            }
        }
        out.into_iter().map(|(_, keys)| keys).filter(|keys| keys.len() > 1).collect()
    }

    /// Something is told, and each of it that is sure clears this clash too.
    fn all_clear(&self, trouble: &Trouble, ways: &[Way]) -> bool {
        let mut sure = ways.iter().filter(|way| !way.to_measure).peekable();
        sure.peek().is_some() && sure.all(|way| self.does_clear(trouble, way.pos, way.part))
    }

    /// Every change that clears a clash by itself.
    fn single_changes(&self, trouble: &Trouble) -> BTreeSet<(PositionId, PartId)> {
        let mut out = BTreeSet::new();
        for pos in self.places_to_look(trouble) {
            let parts = self.cat.by_class[self.v.positions[pos].class].iter().copied();
            let others =
                parts.filter(|part| self.slot(pos).part != Some(*part) && self.can_be_had(pos, *part));
            let sound = others.filter(|part| !self.is_bad_way(pos, *part));
            out.extend(sound.filter(|part| self.does_clear(trouble, pos, *part)).map(|part| (pos, part)));
        }
        out
    }
}

#[cfg(test)]
mod tests;
