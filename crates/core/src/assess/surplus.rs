//! Parts that have lost their job: every port that was their job hangs alone.

use super::bench::{Bench, By};
use crate::catalogue::Ix;
use crate::library::Alone;
use crate::reason::Fact;

impl Bench<'_> {
    pub fn surplus(&mut self) {
        for pos in 0..self.v.positions.len() as Ix {
            let slot = *self.slot(pos);
            let (By::Found, Some(part)) = (slot.by, slot.part) else { continue };
            if self.is_chosen(pos) || self.gone.contains_key(&pos) {
                continue;
            }
            let entry = self.part(part);
            if !entry.has_job {
                continue;
            }
            let is_job = |name: Ix| entry.port_ix(name).is_some_and(|p| p.alone == Alone::Surplus);
            if !self.v.joints_at[pos as usize].iter().any(|joint| self.joint_changed(*joint)) {
                continue;
            }
            let (mut any_changed, mut any_job) = (false, false);
            let mut premises = vec![slot.reason];
            for joint in &self.v.joints_at[pos as usize] {
                let ends = &self.v.joints[*joint as usize].ends;
                if !ends.iter().any(|(p, port)| *p == pos && is_job(*port)) {
                    continue;
                }
                any_job |= self.meeting_now(*joint).len() > 1;
                any_changed |= self.joint_changed(*joint);
                premises.extend(ends.iter().filter(|(p, _)| *p != pos).map(|(p, _)| self.slot(*p).reason));
            }
            if any_changed && !any_job {
                let reason = self.reason(&premises, |s| Fact::LostJob { part: s.name(part) });
                self.gone.insert(pos, reason);
                self.dirty = true;
            }
        }
    }
}
