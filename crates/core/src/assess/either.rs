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
use std::sync::Arc;

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, NO_REASON};
use super::fills::{Meeting, Overlay};
use crate::assessment::Answer;
use crate::catalogue::searched::Chain;
use crate::catalogue::{JointId, PortEntry, PositionId};
use crate::library::Alone;
use crate::value::Verdict3;

/// What a joint and its alternatives come to: the one of them that counts, and how.
#[derive(Clone, Debug)]
pub(super) enum Judged<'a> {
    /// Nothing is there.
    Nothing,
    Holds(JointId),
    Open(JointId),
    Bridged(JointId, Arc<Chain>),
    /// A port that hangs alone, and its place.
    Alone(JointId, (PositionId, &'a PortEntry)),
    Broken(JointId),
}

impl<'a> Bench<'a> {
    /// A joint and its alternatives, in order.
    pub(super) fn either(&self, joint: JointId) -> SmallVec<[JointId; 4]> {
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
        match self.judged(joint, &Overlay::new()) {
            Judged::Nothing => {}
            Judged::Holds(joint) => self.check(CheckKey::Joint(joint), Answer::Holds, NO_REASON),
            Judged::Open(joint) => {
                let met = self.met_now(joint);
                self.open_joint(joint, &met);
            }
            Judged::Bridged(joint, _) => {
                let met = self.met_now(joint);
                self.bridge(joint, &met);
            }
            Judged::Alone(joint, (pos, port)) => self.alone(joint, pos, port),
            Judged::Broken(joint) => {
                let met = self.met_now(joint);
                self.clash_joint(joint, &met);
            }
        }
    }

    /// What a joint comes to, with its alternatives, with some parts in their places.
    pub(super) fn judged(&self, joint: JointId, overlay: &Overlay) -> Judged<'a> {
        let all = self.either(joint);
        let counting = all.iter().copied().filter(|j| self.does_count(*j, overlay));
        let mut met: SmallVec<[(JointId, Meeting<'a>, Verdict3); 2]> = counting
            .map(|j| {
                let meeting = self.meeting(j, overlay);
                let verdict = self.joint_verdict(&meeting);
                (j, meeting, verdict)
            })
            .collect();
        met.sort_by_key(|(j, m, _)| (Reverse(m.len()), *j));
        let of = |verdict| met.iter().find(|(_, m, v)| m.len() > 1 && *v == verdict).map(|(j, ..)| *j);
        if let Some(joint) = of(Verdict3::Holds) {
            return Judged::Holds(joint);
        }
        let broken = met.iter().filter(|(_, m, v)| m.len() == 2 && *v == Verdict3::Broken);
        let bridged = broken.filter_map(|(j, m, _)| {
            let chain = self.chain_at(*j, m[0].1, m[1].1)?;
            let cost: i64 = chain.links.iter().map(|link| self.bridge_cost(link.part)).sum();
            Some((chain.open, cost, chain.links.len(), *j, chain))
        });
        let bridged = bridged.min_by_key(|(open, cost, length, j, _)| (*open, *cost, *length, *j));
        match (bridged, of(Verdict3::Open)) {
            (Some((false, .., joint, chain)), _) | (Some((true, .., joint, chain)), None) => {
                return Judged::Bridged(joint, chain);
            }
            (_, Some(joint)) => return Judged::Open(joint),
            (None, None) => {}
        }
        let worst = |port: &PortEntry| match port.alone {
            Alone::Required => 0,
            Alone::Cap => 1,
            Alone::Fine | Alone::Surplus => 2,
        };
        match met.first() {
            Some((joint, m, _)) if m.len() > 1 => Judged::Broken(*joint),
            Some((_, m, _)) if m.len() == 1 => {
                let single = met.iter().filter(|(_, m, _)| m.len() == 1);
                let first = single.min_by_key(|(j, m, _)| (worst(m[0].1), *j));
                first.map_or(Judged::Nothing, |(j, m, _)| Judged::Alone(*j, m[0]))
            }
            _ => Judged::Nothing,
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
