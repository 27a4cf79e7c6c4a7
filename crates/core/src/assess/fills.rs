//! Which part goes into a position nobody chose for.

use smallvec::SmallVec;

use super::bench::Bench;
use crate::catalogue::meeting::{agree, same_side};
use crate::catalogue::{JointId, PartId, PortEntry, PositionId, UNPRICED};
use crate::library::Alone;
use crate::value::Verdict3;

/// Parts tried in positions: a candidate and, for a kit, its contents.
pub(crate) type Overlay = SmallVec<[(PositionId, Option<PartId>); 4]>;

/// Ports that meet at a joint, each with its position.
pub(crate) type Meeting<'a> = SmallVec<[(PositionId, &'a PortEntry); 4]>;

/// What a candidate must do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Must {
    /// Close this joint, directly or with a bridge; other joints it breaks count against it.
    Close(JointId),
    /// Have no port that must be served at this joint, and break no other.
    DoWithout(JointId),
    /// Break no joint.
    Fit,
}

impl Must {
    /// The joint it is about.
    pub fn joint(self) -> Option<JointId> {
        match self {
            Self::Close(joint) | Self::DoWithout(joint) => Some(joint),
            Self::Fit => None,
        }
    }
}

impl<'a> Bench<'a> {
    /// The part in a position as an overlay would have it.
    pub fn tried(&self, overlay: &Overlay, pos: PositionId) -> Option<PartId> {
        overlay.iter().find(|(p, _)| *p == pos).map_or(self.slot(pos).part, |(_, part)| *part)
    }

    pub fn overlay(&self, pos: PositionId, part: PartId) -> Overlay {
        let mut overlay = Overlay::new();
        overlay.push((pos, Some(part)));
        if !self.v.has_kits[pos] {
            return overlay;
        }
        for content in &self.part(part).contents {
            let had = content.qty.saturating_mul(self.v.positions[pos].qty);
            let places = self.v.places_of_content(pos, content, had, self.part(content.part));
            for other in places.into_iter().filter(|other| !self.is_chosen(*other)) {
                overlay.push((other, Some(content.part)));
            }
        }
        overlay
    }

    /// Ports that meet at a joint under an overlay.
    pub fn meeting(&self, joint: JointId, overlay: &Overlay) -> Meeting<'a> {
        let entry = &self.v.joints[joint];
        let mut out = Meeting::new();
        for (pos, port) in &entry.ends {
            let Some(part) = self.tried(overlay, *pos) else { continue };
            out.extend(self.part(part).port_ix(*port).map(|p| (*pos, p)));
        }
        out
    }

    /// The worst answer over all pairs of a joint.
    pub fn joint_verdict(&self, meeting: &[(PositionId, &PortEntry)]) -> Verdict3 {
        self.worst_of(meeting).0
    }

    /// The worst answer over all pairs of a joint, and the first pair that gives it, by their places.
    pub fn worst_of(&self, meeting: &[(PositionId, &PortEntry)]) -> (Verdict3, (usize, usize)) {
        let mut worst = (Verdict3::Holds, (0, 1));
        for (i, (_, a)) in meeting.iter().enumerate() {
            for (k, (_, b)) in meeting.iter().enumerate().skip(i + 1) {
                if meeting.len() > 2 && same_side(a, b) {
                    continue;
                }
                let verdict = agree(self.cat, a, b).verdict;
                if verdict > worst.0 {
                    worst = (verdict, (i, k));
                }
            }
        }
        worst
    }

    /// Joints at a position that a candidate would leave open or broken, beside one.
    pub fn breaks(&self, pos: PositionId, overlay: &Overlay, except: Option<JointId>) -> u32 {
        let mut broken = 0;
        for joint in &self.v.joints_at[pos] {
            let alternatives = &self.v.joints[*joint].alternatives;
            if Some(*joint) == except || except.is_some_and(|closed| alternatives.contains(&closed)) {
                continue;
            }
            let meeting = self.meeting(*joint, overlay);
            let is_broken = match meeting.as_slice() {
                [(p, port)] => *p == pos && port.alone == Alone::Required,
                [a, b] => self.joint_verdict(&meeting) == Verdict3::Broken && !self.closable(a.1, b.1),
                met => self.joint_verdict(met) == Verdict3::Broken,
            };
            broken += u32::from(is_broken && !self.is_made_good(*joint, overlay));
        }
        broken
    }

    /// Whether a candidate does what it must: nothing against it, or one mark where it wants a bridge to do so.
    fn does(&self, must: Must, pos: PositionId, overlay: &Overlay) -> Option<u32> {
        let Some(joint) = must.joint() else { return Some(0) };
        let meeting = self.meeting(joint, overlay);
        match (must, meeting.as_slice()) {
            (Must::Close(_), met) if met.len() < 2 || !met.iter().any(|(p, _)| *p == pos) => None,
            (Must::DoWithout(_), []) => Some(0),
            (Must::DoWithout(_), [(_, port)]) => (port.alone != Alone::Required).then_some(0),
            (_, met) if self.joint_verdict(met) != Verdict3::Broken => Some(0),
            (_, [a, b]) => self.closable(a.1, b.1).then_some(1),
            _ => None,
        }
    }

    /// Marks against a candidate at the joints of its place, or `None` where it does not do what it must.
    pub fn marks_at_joints(&self, pos: PositionId, must: Must, overlay: &Overlay) -> Option<u32> {
        let bridged = self.does(must, pos, overlay)?;
        let broken = self.breaks(pos, overlay, must.joint());
        (broken == 0 || matches!(must, Must::Close(_))).then_some(bridged + broken)
    }

    /// The best candidates for a position that do what they must, so many at most: fewest marks, cheapest, by id.
    pub fn candidates(&self, pos: PositionId, must: Must, few: usize) -> Vec<(u32, PartId)> {
        if matches!(must, Must::Close(_)) {
            let mut clean = self.marked(pos, must, true, few);
            clean.retain(|(marks, _)| *marks == 0);
            if clean.len() >= few {
                return clean;
            }
        }
        let mut out = self.marked(pos, must, false, few);
        out.sort_by_key(|(marks, part)| (*marks, self.part(*part).rank));
        out.truncate(few);
        out
    }

    /// Candidates with their marks, up to so many with no mark: whoever is cheapest stands first in the list, so that none
    /// after them can be better.
    fn marked(&self, pos: PositionId, must: Must, clean: bool, few: usize) -> Vec<(u32, PartId)> {
        let mut out: Vec<(u32, PartId)> = Vec::new();
        let mut unmarked = 0;
        for (marks, part) in self.at_joints(pos, must, clean) {
            if self.slot(pos).part == Some(part) || !self.for_sale(part) {
                continue;
            }
            let marks = marks + self.figures_broken(pos, &self.overlay(pos, part));
            out.push((marks, part));
            unmarked += usize::from(marks == 0);
            if unmarked >= few {
                break;
            }
        }
        out
    }

    /// Parts met on another old vehicle are not for sale.
    pub fn for_sale(&self, part: PartId) -> bool {
        self.part(part).cost != UNPRICED || self.is_loose(part)
    }

    /// Pools and limits a candidate would leave broken.
    fn figures_broken(&self, pos: PositionId, overlay: &Overlay) -> u32 {
        let mut broken = 0;
        if let Some(part) = self.tried(overlay, pos) {
            for (pool, _) in &self.part(part).takes {
                broken += u32::from(self.pool_sum(*pool, overlay).verdict() == Verdict3::Broken);
            }
        }
        for (at, (over, _)) in overlay.iter().enumerate() {
            for limit in &self.v.limits_at[*over] {
                let earlier = overlay[..at].iter().any(|(p, _)| self.v.limits_at[*p].contains(limit));
                let raises = self.limit_of(*limit).raises.is_some();
                broken += u32::from(
                    !earlier && !raises && self.limit_verdict(*limit, overlay) == Some(Verdict3::Broken),
                );
            }
        }
        broken
    }
}

#[cfg(test)]
mod tests;
