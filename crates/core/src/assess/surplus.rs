//! Parts that have lost their job: every port that was their job hangs alone.

use super::bench::{Bench, By};
use crate::catalogue::Ix;
use crate::library::Alone;
use crate::reason::Fact;

impl Bench<'_> {
    /// The owner keeps, works on or renews the part that is there, and nothing is left for it to do: it asks for nothing.
    pub fn is_idle(&self, pos: Ix) -> bool {
        self.is_chosen(pos) && self.gone.contains_key(&pos)
    }

    pub fn surplus(&mut self) {
        for pos in 0..self.v.positions.len() as Ix {
            let slot = *self.slot(pos);
            let Some(part) = slot.part.filter(|_| matches!(slot.by, By::Found | By::Owner) && !slot.changed)
            else {
                continue;
            };
            if !self.near_change[pos as usize] || self.gone.contains_key(&pos) {
                continue;
            }
            let entry = self.part(part);
            if !entry.has_job {
                continue;
            }
            let is_job = |name: Ix| entry.port_ix(name).is_some_and(|p| p.alone == Alone::Surplus);
            let at_job = |joint: &&Ix| {
                let ends = &self.v.joints[**joint as usize].ends;
                ends.iter().any(|(p, port)| *p == pos && is_job(*port))
            };
            let jobs = || self.v.joints_at[pos as usize].iter().filter(at_job);
            let any_changed = jobs().any(|joint| self.joint_changed[*joint as usize]);
            if any_changed && !jobs().any(|joint| self.met_now(*joint).ports.len() > 1) {
                let others = jobs().flat_map(|joint| &self.v.joints[*joint as usize].ends);
                let others = others.filter(|(p, _)| *p != pos).map(|(p, _)| self.slot(*p).reason);
                let premises: Vec<_> = std::iter::once(slot.reason).chain(others).collect();
                let reason = self.reason(&premises, |s| Fact::LostJob { part: s.name(part) });
                self.gone.insert(pos, reason);
                self.dirty = true;
            }
        }
    }
}
