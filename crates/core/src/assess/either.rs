//! Joints of a vehicle that are alternatives: one of them is enough. A drop arm moves a bell-crank or a one-piece link.
//!
//! Where one of them holds, or a bridge closes it, the others count for nothing: what they leave open or broken is no
//! clash, nothing is put in for them, and a part whose only job was at them has lost it. Where none does, they are tried
//! one after the other, those first where most ports meet; what nothing closes is one clash.
//!
//! What the owner has said of an end that not all of them share goes before what merely still fits: where a part meets
//! there, only such alternatives count. He chose the link, so the bell-crank that is there still is no answer to a link
//! that does not fit.

use std::cmp::Reverse;
use std::rc::Rc;

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, NO_REASON};
use super::fills::Overlay;
use super::joints::GivesWay;
use super::memory::Met;
use crate::assessment::Answer;
use crate::catalogue::{JointId, PositionId};
use crate::library::Alone;
use crate::value::Verdict3;

impl<'a> Bench<'a> {
    /// A joint and its alternatives, in order.
    fn either(&self, joint: JointId) -> SmallVec<[JointId; 4]> {
        let mut all = SmallVec::from_slice(&self.v.joints[joint].alternatives);
        all.push(joint);
        all.sort_unstable();
        all
    }

    /// Whether ports meet at a joint, one of them of a place that its alternatives do not all have, of which the owner
    /// has said what happens.
    fn is_chosen_among(&self, joint: JointId, all: &[JointId], overlay: &Overlay) -> bool {
        let has_end = |j: &JointId, pos: PositionId| self.v.joints[*j].ends.iter().any(|(at, _)| *at == pos);
        let is_own = |pos: PositionId| !all.iter().all(|j| has_end(j, pos));
        let meeting = self.meeting(joint, overlay);
        meeting.len() > 1 && meeting.iter().any(|(pos, _)| self.is_chosen(*pos) && is_own(*pos))
    }

    /// Whether a joint counts among its alternatives: the owner chose it, or none of them.
    fn does_count(&self, joint: JointId, overlay: &Overlay) -> bool {
        let all = self.either(joint);
        self.is_chosen_among(joint, &all, overlay)
            || !all.iter().any(|other| self.is_chosen_among(*other, &all, overlay))
    }

    /// Judges a joint with its alternatives, all at the first of them.
    pub(super) fn either_or(&mut self, joint: JointId) {
        let all = self.either(joint);
        if all[0] != joint {
            return;
        }
        let counting = all.iter().filter(|j| self.does_count(**j, &Overlay::new()));
        let mut met: Vec<(JointId, Rc<Met<'a>>)> = counting.map(|j| (*j, self.met_now(*j))).collect();
        met.sort_by_key(|(j, m)| (Reverse(m.ports.len()), *j));
        let is = |m: &Met<'_>, verdict| m.ports.len() > 1 && m.verdict == verdict;
        if let Some((joint, _)) = met.iter().find(|(_, m)| is(m, Verdict3::Holds)) {
            self.check(CheckKey::Joint(*joint), Answer::Holds, NO_REASON);
            return;
        }
        let broken = met.iter().filter(|(_, m)| m.ports.len() == 2 && is(m, Verdict3::Broken));
        let bridged = broken.filter_map(|(j, m)| {
            let chain = self.chain_of(m)?;
            let cost: i64 = chain.links.iter().map(|link| self.bridge_cost(link.part)).sum();
            Some((chain.open, cost, chain.links.len(), *j, Rc::clone(m)))
        });
        let bridged = bridged.min_by_key(|(open, cost, length, j, _)| (*open, *cost, *length, *j));
        let open = met.iter().find(|(_, m)| is(m, Verdict3::Open));
        match (bridged, open) {
            (Some((false, .., joint, m)), _) | (Some((true, .., joint, m)), None) => {
                self.bridge(joint, &m);
            }
            (_, Some((joint, m))) => self.open_joint(*joint, m),
            (None, None) => self.close_one(&met),
        }
    }

    /// Puts a part in that closes one of them; else tells the first as a clash.
    fn close_one(&mut self, met: &[(JointId, Rc<Met<'a>>)]) {
        for (joint, m) in met {
            let gives_way = match m.ports.as_slice() {
                [] => GivesWay::No,
                [(pos, port)] if port.alone == Alone::Required => self.serve(*joint, *pos, port),
                [_] => GivesWay::No,
                _ => self.fill_joint(*joint, m),
            };
            if gives_way == GivesWay::Yes {
                return;
            }
        }
        let Some((joint, m)) = met.first() else { return };
        match m.ports.as_slice() {
            [] => {}
            [_] => {
                let worst = |m: &Met<'_>| match m.ports[0].1.alone {
                    Alone::Required => 0,
                    Alone::Cap => 1,
                    Alone::Fine | Alone::Surplus => 2,
                };
                let single = met.iter().filter(|(_, m)| m.ports.len() == 1);
                if let Some((joint, m)) = single.min_by_key(|(j, m)| (worst(m), *j)) {
                    self.alone(*joint, m.ports[0].0, m.ports[0].1);
                }
            }
            _ => self.clash_joint(*joint, m),
        }
    }

    /// Whether a joint counts, and ports meet there and agree, or a bridge that was found makes them.
    fn is_served(&self, joint: JointId) -> bool {
        let met = self.met_now(joint);
        let is_bridged = || self.found.chains.iter().any(|(j, _)| *j == joint);
        met.ports.len() > 1
            && (met.verdict != Verdict3::Broken || is_bridged())
            && self.does_count(joint, &Overlay::new())
    }

    /// Whether a joint counts for nothing: it is not served, and one of its alternatives is.
    pub(super) fn is_superseded(&self, joint: JointId) -> bool {
        let others = &self.v.joints[joint].alternatives;
        !others.is_empty() && !self.is_served(joint) && others.iter().any(|other| self.is_served(*other))
    }

    /// Whether one of the alternatives of a joint would be served with other parts in some places.
    pub(super) fn is_made_good(&self, joint: JointId, overlay: &Overlay) -> bool {
        self.v.joints[joint].alternatives.iter().any(|other| {
            let meeting = self.meeting(*other, overlay);
            let closes = || matches!(meeting.as_slice(), [a, b] if self.closable(a.1, b.1));
            meeting.len() > 1
                && (self.joint_verdict(&meeting) != Verdict3::Broken || closes())
                && self.does_count(*other, overlay)
        })
    }

    /// Positions at the ends of a joint and of its alternatives.
    pub(super) fn ends_of_either(&self, joint: JointId) -> impl Iterator<Item = PositionId> {
        let all = self.either(joint);
        all.into_iter().flat_map(|j| self.v.joints[j].ends.iter().map(|(pos, _)| *pos))
    }
}

#[cfg(test)]
mod tests;
