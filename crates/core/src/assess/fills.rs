//! Which part goes into a position nobody chose for.

use super::agree::{agree, same_side};
use super::bench::{Bench, Fill};
use crate::catalogue::{Ix, PortEntry};
use crate::library::{Alone, Level};
use crate::reason::ReasonId;
use crate::value::Verdict3;

/// Parts tried in positions: a candidate and, for a kit, its contents.
pub(crate) type Overlay = Vec<(Ix, Option<Ix>)>;

/// What a candidate must do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Must {
    /// Close this joint.
    Close(Ix),
    /// Have no port that must be served at this joint.
    DoWithout(Ix),
    /// Only fit where it goes.
    Fit,
}

impl<'a> Bench<'a> {
    /// The part in a position as an overlay would have it.
    pub fn tried(&self, overlay: &Overlay, pos: Ix) -> Option<Ix> {
        overlay.iter().find(|(p, _)| *p == pos).map_or(self.slot(pos).part, |(_, part)| *part)
    }

    pub fn overlay(&self, pos: Ix, part: Ix) -> Overlay {
        let mut overlay = vec![(pos, Some(part))];
        for (content, _) in &self.part(part).contents {
            let class = self.part(*content).class;
            if let Some(other) = self.v.by_class.get(&class).copied()
                && other != pos
                && !self.is_chosen(other)
            {
                overlay.push((other, Some(*content)));
            }
        }
        overlay
    }

    /// Ports that meet at a joint under an overlay.
    pub fn meeting(&self, joint: Ix, overlay: &Overlay) -> Vec<(Ix, &'a PortEntry)> {
        let entry = &self.v.joints[joint as usize];
        entry
            .ends
            .iter()
            .filter_map(|(pos, port)| {
                let part = self.tried(overlay, *pos)?;
                self.part(part).port(port).map(|p| (*pos, p))
            })
            .collect()
    }

    /// The worst answer over all pairs of a joint.
    pub fn joint_verdict(&self, meeting: &[(Ix, &PortEntry)]) -> Verdict3 {
        let mut worst = Verdict3::Holds;
        for (i, (_, a)) in meeting.iter().enumerate() {
            for (_, b) in &meeting[i + 1..] {
                if meeting.len() > 2 && same_side(a, b) {
                    continue;
                }
                worst = worst.max(agree(self.cat, a, b).verdict);
            }
        }
        worst
    }

    /// Joints at a position that a candidate would leave open or broken, beside one.
    fn breaks(&self, pos: Ix, overlay: &Overlay, except: Option<Ix>) -> u32 {
        let mut broken = 0;
        for joint in &self.v.joints_at[pos as usize] {
            if Some(*joint) == except {
                continue;
            }
            let meeting = self.meeting(*joint, overlay);
            match meeting.as_slice() {
                [(p, port)] if *p == pos && port.alone == Alone::Required => broken += 1,
                [a, b] if self.joint_verdict(&meeting) == Verdict3::Broken && self.closable(a.1, b.1) => {}
                [_, _, ..] if self.joint_verdict(&meeting) == Verdict3::Broken => broken += 1,
                _ => {}
            }
        }
        broken
    }

    /// Whether a candidate does what it must: nothing against it, or one mark where it wants a bridge to do so.
    fn does(&self, must: Must, pos: Ix, overlay: &Overlay) -> Option<u32> {
        let joint = match must {
            Must::Fit => return Some(0),
            Must::Close(joint) | Must::DoWithout(joint) => joint,
        };
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

    /// Candidates for a position that do what they must, best first: fewest other breaks, cheapest, by id.
    /// Stops at the first that breaks nothing unless `all`.
    pub fn candidates(&self, pos: Ix, must: Must, all: bool) -> Vec<(u32, Ix)> {
        let class = self.v.positions[pos as usize].class;
        let except = match must {
            Must::Close(j) | Must::DoWithout(j) => Some(j),
            Must::Fit => None,
        };
        let mut out: Vec<(u32, Ix)> = Vec::new();
        let Some(parts) = self.cat.by_class.get(class as usize) else { return out };
        for part in parts {
            if self.slot(pos).part == Some(*part) {
                continue;
            }
            // parts met on another old vehicle are not for sale
            if self.part(*part).cost == crate::catalogue::UNPRICED && !self.is_loose(*part) {
                continue;
            }
            let overlay = self.overlay(pos, *part);
            let Some(bridged) = self.does(must, pos, &overlay) else { continue };
            let broken = bridged + self.breaks(pos, &overlay, except) + self.figures_broken(pos, &overlay);
            out.push((broken, *part));
            if broken == 0 && !all {
                break;
            }
        }
        out.sort_by_key(|(broken, part)| (*broken, self.part(*part).cost, *part));
        out
    }

    /// Pools and limits a candidate would leave broken.
    fn figures_broken(&self, pos: Ix, overlay: &Overlay) -> u32 {
        let mut broken = 0;
        let part = self.tried(overlay, pos);
        if let Some(part) = part {
            for (pool, _) in &self.part(part).takes {
                broken += u32::from(self.pool_state(*pool, overlay).verdict == Verdict3::Broken);
            }
        }
        for limit in 0..self.cat.limits.len() as Ix {
            if self.cat.limits[limit as usize].raises.is_none()
                && self.limit_reads(limit, overlay)
                && self.limit_state(limit, overlay).is_some_and(|o| o.verdict == Verdict3::Broken)
            {
                broken += 1;
            }
        }
        broken
    }

    /// Whether a part may be put here: nobody chose, and it has not been changed too often already.
    pub fn may_fill(&self, pos: Ix) -> bool {
        !self.is_chosen(pos) && self.fills.get(&pos).is_none_or(|f| f.times < 3)
    }

    /// Picks the best candidate, or the owner's pick among them.
    pub fn best(&self, pos: Ix, must: Must) -> Option<Ix> {
        let pick = self.plan.picks.get(&self.key_text(super::bench::Key::Fill(pos)));
        if let Some(pick) = pick.and_then(|id| self.cat.part_names.get(id)) {
            let overlay = self.overlay(pos, pick);
            if self.part(pick).class == self.v.positions[pos as usize].class
                && self.does(must, pos, &overlay).is_some()
            {
                return Some(pick);
            }
        }
        self.candidates(pos, must, false).first().map(|(_, part)| *part)
    }

    /// Puts a part into a position for a reason; the next pass works on it.
    pub fn fill(&mut self, pos: Ix, part: Ix, reason: ReasonId, cause: Option<Ix>, level: Level) {
        let times = self.fills.get(&pos).map_or(1, |f| f.times + 1);
        self.fills.insert(pos, Fill { part, reason, cause, level, times });
        self.slots[pos as usize] = super::bench::Slot {
            part: Some(part),
            by: super::bench::By::Fill,
            changed: true,
            opened: true,
            reason,
        };
        self.dirty = true;
    }
}
