//! Parts that have lost their job: every port that was their job hangs alone.

use super::bench::{Bench, By};
use crate::catalogue::{JointId, PositionId};
use crate::reason::Fact;

impl Bench<'_> {
    /// The owner keeps, works on or renews the part that is there, and nothing is left for it to do: it asks for nothing.
    pub fn is_idle(&self, pos: PositionId) -> bool {
        self.is_chosen(pos) && self.gone.contains_key(&pos)
    }

    pub fn surplus(&mut self) {
        let ground = self.ground;
        for (pos, jobs) in &ground.jobs {
            let pos = *pos;
            let slot = *self.slot(pos);
            let Some(part) = slot.part.filter(|_| matches!(slot.by, By::Found | By::Owner) && !slot.changed)
            else {
                continue;
            };
            if !self.change.near.has(pos) || self.gone.contains_key(&pos) {
                continue;
            }
            let any_changed = jobs.iter().any(|joint| self.change.joints.has(*joint));
            let has_job =
                |joint: &JointId| self.met_now(*joint).ports.len() > 1 && !self.is_superseded(*joint);
            if any_changed && !jobs.iter().any(has_job) {
                let others = jobs.iter().flat_map(|joint| self.ends_of_either(*joint));
                let others = others.filter(|p| *p != pos).map(|p| self.slot(p).reason);
                let premises: Vec<_> = std::iter::once(slot.reason).chain(others).collect();
                let reason = self.reason(&premises, |s| Fact::LostJob { part: s.name(part) });
                self.gone.insert(pos, reason);
                self.dirty = true;
            }
        }
    }
}

#[cfg(test)]
mod tests;
