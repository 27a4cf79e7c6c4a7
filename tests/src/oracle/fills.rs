//! Which part goes into a position nobody chose for: every part of the class is tried.

use knockon_core::key::CheckKey;
use knockon_core::library::{Alone, Level, Port};

use super::values::{Verdict, agree, same_side};
use super::{By, Fill, Meeting, Oracle, Overlay, Slot};

/// What a candidate must do.
#[derive(Clone, Copy)]
pub(super) enum Must<'a> {
    Close(&'a str),
    DoWithout(&'a str),
    Fit,
}

impl<'a> Oracle<'a> {
    pub(super) fn overlay(&self, pos: &'a str, part: &'a str) -> Overlay<'a> {
        let mut overlay = vec![(pos, part)];
        for content in &self.part(part).contents {
            let had = content.qty * self.v.positions[pos].qty;
            for other in self.places_of_content(pos, content, had) {
                if !self.chosen(other) {
                    overlay.push((other, &content.part));
                }
            }
        }
        overlay
    }

    pub(super) fn closed(&self, meeting: &Meeting<'a>) -> bool {
        self.verdict(meeting) != Verdict::Broken
            || (meeting.len() == 2 && self.chain(meeting[0].1, meeting[1].1).is_some())
    }

    /// Joints of a position that an overlay leaves broken, beside one.
    pub(super) fn breaks(&self, pos: &str, overlay: &Overlay<'a>, except: Option<&str>) -> u32 {
        let here = self.v.joints.iter().filter(|(id, j)| {
            let closes = except.is_some_and(|closed| self.either(id).contains(&closed));
            !closes && j.ends.iter().any(|e| e.at == pos)
        });
        here.filter(|(id, _)| !self.made_good(id, overlay))
            .filter(|(id, _)| {
                let meeting = self.meeting(id, overlay);
                match meeting.as_slice() {
                    [] => false,
                    [(p, port)] => *p == pos && port.alone == Alone::Required,
                    _ => !self.closed(&meeting),
                }
            })
            .count() as u32
    }

    fn figures(&self, pos: &'a str, overlay: &Overlay<'a>) -> u32 {
        let mut broken = 0;
        if let Some(part) = self.sits(overlay, pos) {
            for pool in self.part(part).takes.keys() {
                broken += u32::from(self.pool(pool, overlay).0 == Verdict::Broken);
            }
        }
        let tried: Vec<&str> = overlay.iter().map(|(pos, _)| *pos).collect();
        for run in self.limits_about(&tried) {
            broken += u32::from(self.limit(run, overlay) == Some(Verdict::Broken));
        }
        broken
    }

    fn does(&self, pos: &str, must: Must<'a>, part: &'a str, overlay: &Overlay<'a>) -> Option<u32> {
        match must {
            Must::Fit => Some(0),
            Must::DoWithout(joint) => {
                let meeting = self.meeting(joint, overlay);
                match meeting.as_slice() {
                    [] => Some(0),
                    [(_, port)] => (port.alone != Alone::Required).then_some(0),
                    _ => self.closed(&meeting).then(|| u32::from(self.verdict(&meeting) == Verdict::Broken)),
                }
            }
            Must::Close(joint) => {
                let meeting = self.meeting(joint, overlay);
                if meeting.len() < 2 || !meeting.iter().any(|(p, _)| *p == pos) || !self.closed(&meeting) {
                    return None;
                }
                // where several meet, it has to agree with one of them at least, or bring its own
                let brings = self.part(part).contents.iter().any(|c| {
                    let places = self.places_of(&self.part(&c.part).class);
                    self.v.joints[joint].ends.iter().any(|e| places.contains(&e.at.as_str()))
                });
                let now = self.meeting(joint, &Vec::new());
                let own = meeting.iter().find(|(p, _)| *p == pos)?.1;
                let others: Vec<&Port> =
                    now.iter().filter(|(p, _)| *p != pos).map(|(_, port)| *port).collect();
                let one = others.iter().any(|o| agree(self.lib, own, o) != Verdict::Broken);
                (brings || others.len() < 2 || one)
                    .then(|| u32::from(self.verdict(&meeting) == Verdict::Broken))
            }
        }
    }

    /// Candidates that do what they must, with the marks against them, best first.
    pub(super) fn candidates(&self, pos: &'a str, must: Must<'a>) -> Vec<(u32, &'a str)> {
        let class = &self.v.positions[pos].class;
        let except = match must {
            Must::Close(joint) | Must::DoWithout(joint) => Some(joint),
            Must::Fit => None,
        };
        let mut out = Vec::new();
        for (id, part) in &self.lib.parts {
            if part.class != *class || self.slots[pos].part == Some(id) {
                continue;
            }
            if part.price.is_none() && !self.loose(id) {
                continue;
            }
            let overlay = self.overlay(pos, id);
            let Some(bridged) = self.does(pos, must, id, &overlay) else { continue };
            let broken = self.breaks(pos, &overlay, except);
            if broken > 0 && !matches!(must, Must::Close(_)) {
                continue;
            }
            out.push((bridged + broken + self.figures(pos, &overlay), id.as_str()));
        }
        out.sort_by_key(|(marks, id)| (*marks, self.cost(id), *id));
        out
    }

    fn best(&self, pos: &'a str, must: Must<'a>) -> Option<(u32, &'a str)> {
        self.candidates(pos, must).into_iter().find(|(_, part)| !self.given_way.contains(&(pos, part)))
    }

    pub(super) fn fill(&mut self, pos: &'a str, part: &'a str, cause: Option<&'a str>, level: Level) {
        if let Some(before) = self.fills.insert(pos, Fill { part, cause, level }) {
            self.given_way.insert((pos, before.part));
        }
        self.slots.insert(pos, Slot { part: Some(part), by: By::Fill, changed: true, opened: true });
        self.dirty = true;
    }

    fn fill_for(&mut self, pos: &'a str, part: &'a str, a: &'a str, b: &'a str) {
        let others: Vec<&'a str> = [a, b].into_iter().filter(|p| *p != pos).collect();
        let cause = self.cause(&others).or_else(|| self.cause(&[a, b]));
        self.fill(pos, part, cause, Level::Required);
    }

    fn worst_pair(&self, meeting: &Meeting<'a>) -> (&'a str, &'a str) {
        let mut worst = (Verdict::Holds, (meeting[0].0, meeting[1].0));
        for (i, a) in meeting.iter().enumerate() {
            for b in &meeting[i + 1..] {
                if meeting.len() > 2 && same_side(a.1, b.1) {
                    continue;
                }
                let verdict = agree(self.lib, a.1, b.1);
                if verdict > worst.0 {
                    worst = (verdict, (a.0, b.0));
                }
            }
        }
        worst.1
    }

    pub(super) fn fill_joint(&mut self, joint: &'a str, meeting: &Meeting<'a>) -> bool {
        let pair = self.worst_pair(meeting);
        let places: Vec<&'a str> = meeting.iter().map(|(pos, _)| *pos).collect();
        let ends = meeting.iter().filter(|(pos, _)| !self.chosen(pos));
        let best = ends
            .filter_map(|(pos, _)| {
                self.best(pos, Must::Close(joint)).map(|(marks, part)| (marks, *pos, part))
            })
            .filter(|(_, pos, part)| self.in_proportion(pos, part, &places))
            .min_by_key(|(marks, _, part)| (*marks, self.cost(part), *part));
        if let Some((_, pos, part)) = best {
            self.fill_for(pos, part, pair.0, pair.1);
            return true;
        }
        if meeting.len() < 3 {
            return false;
        }
        let stays = |s: &Self, pos: &str| s.chosen(pos) || s.slots[pos].by != By::Found;
        let fixed: Meeting<'a> = meeting.iter().filter(|(p, _)| stays(self, p)).copied().collect();
        let mut any = false;
        for (pos, port) in meeting {
            let against: Meeting<'a> = fixed
                .iter()
                .filter(|(p, f)| {
                    p != pos && !same_side(port, f) && agree(self.lib, port, f) == Verdict::Broken
                })
                .copied()
                .collect();
            if against.is_empty() || stays(self, pos) {
                continue;
            }
            if let Some(part) = self.agreeing(pos, joint, &against)
                && self.in_proportion(pos, part, &places)
            {
                self.fill_for(pos, part, pos, against[0].0);
                any = true;
            }
        }
        any
    }

    fn agreeing(&self, pos: &'a str, joint: &'a str, against: &Meeting<'a>) -> Option<&'a str> {
        let name = &self.v.joints[joint].ends.iter().find(|e| e.at == pos)?.port;
        let class = &self.v.positions[pos].class;
        let all = self.lib.parts.iter().filter(|(id, p)| {
            p.class == *class
                && self.slots[pos].part != Some(id)
                && (p.price.is_some() || self.loose(id))
                && !self.given_way.contains(&(pos, id.as_str()))
                && p.ports.get(name).is_some_and(|port| {
                    against.iter().all(|(_, other)| agree(self.lib, port, other) != Verdict::Broken)
                })
        });
        all.map(|(id, _)| {
            let overlay = self.overlay(pos, id);
            (self.breaks(pos, &overlay, Some(joint)) + self.figures(pos, &overlay), id.as_str())
        })
        .min_by_key(|(marks, id)| (*marks, self.cost(id), *id))
        .map(|(_, id)| id)
    }

    pub(super) fn left_without(&mut self, joint: &'a str, pos: &'a str, ends: &[&'a str]) {
        if !self.serve(joint, pos, ends) {
            self.clashes.insert(CheckKey::joint(joint));
        }
    }

    /// The positions at the ends of a joint.
    pub(super) fn ends(&self, joint: &str) -> Vec<&'a str> {
        self.v.joints[joint].ends.iter().map(|e| e.at.as_str()).collect()
    }

    /// Puts a part in for a port that must be served; whether one was found.
    pub(super) fn serve(&mut self, joint: &'a str, pos: &'a str, ends: &[&'a str]) -> bool {
        let others: Vec<&'a str> = ends.iter().copied().filter(|p| *p != pos).collect();
        let mut order = vec![pos];
        order.extend(&others);
        let cause = self.cause(&order);
        for other in others.iter().filter(|p| !self.chosen(p)) {
            if let Some((_, part)) = self.best(other, Must::Close(joint))
                && self.in_proportion(other, part, &order)
            {
                self.fill(other, part, cause, Level::Required);
                return true;
            }
        }
        if !self.chosen(pos)
            && let Some((_, part)) = self.best(pos, Must::DoWithout(joint))
            && self.in_proportion(pos, part, &order)
        {
            self.fill(pos, part, cause, Level::Required);
            return true;
        }
        false
    }
}
