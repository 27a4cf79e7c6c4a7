//! Joints: direct fit, else the cheapest bridge, else another part for an end nobody chose, else a clash.

use super::agree::{agree, same_side};
use super::bench::{Bench, By, CheckKey, Comp, Key, Trouble};
use super::fills::{Must, Overlay};
use crate::assessment::{Answer, Origin};
use crate::catalogue::{Ix, PortEntry};
use crate::library::{Alone, Level};
use crate::reason::{Fact, ReasonId};
use crate::value::Verdict3;

type Meeting<'a> = Vec<(Ix, &'a PortEntry)>;

impl<'a> Bench<'a> {
    pub fn joints(&mut self) {
        for joint in 0..self.v.joints.len() as Ix {
            if self.joint_changed(joint) {
                self.joint(joint);
            }
        }
    }

    pub fn joint_changed(&self, joint: Ix) -> bool {
        self.v.joints[joint as usize].ends.iter().any(|(pos, _)| self.slot(*pos).changed)
    }

    fn joint(&mut self, joint: Ix) {
        let meeting = self.meeting(joint, &Overlay::new());
        match meeting.len() {
            0 => {}
            1 => self.alone(joint, meeting[0].0, meeting[0].1),
            _ => self.met(joint, &meeting),
        }
    }

    fn met(&mut self, joint: Ix, meeting: &Meeting<'a>) {
        match self.joint_verdict(meeting) {
            Verdict3::Holds => self.check(CheckKey::Joint(joint), Answer::Holds, super::bench::NO_REASON),
            Verdict3::Open => self.open_joint(joint, meeting),
            Verdict3::Broken => {
                if meeting.len() == 2 && self.bridge(joint, meeting) {
                    return;
                }
                if self.fill_joint(joint, meeting) {
                    return;
                }
                self.clash_joint(joint, meeting);
            }
        }
    }

    pub fn check(&mut self, key: CheckKey, answer: Answer, reason: ReasonId) {
        if self.full {
            self.found.checks.push((key, answer, reason));
        }
    }

    fn open_joint(&mut self, joint: Ix, meeting: &Meeting<'a>) {
        let (a, b) = self.worst_pair(meeting);
        let reason = self.disagree(joint, a, b);
        let what = if self.full { self.what_to_measure(a, b) } else { String::new() };
        let positions = meeting.iter().map(|(p, _)| *p).collect();
        self.check(CheckKey::Joint(joint), Answer::ToMeasure, reason);
        self.found.unknowns.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason,
            what,
            remedies: Vec::new(),
        });
    }

    fn what_to_measure(&self, a: (Ix, &PortEntry), b: (Ix, &PortEntry)) -> String {
        let Some(field) = agree(self.cat, a.1, b.1).field else { return String::new() };
        let name = self.field_name(a.1, field);
        let mut out = Vec::new();
        for (pos, port) in [a, b] {
            if let Some(Some(value)) = port.values.get(field)
                && let crate::value::Value::Unknown(how) = value
            {
                let how = if how.is_empty() { String::new() } else { format!(": {how}") };
                out.push(format!("{name} of the {}{how}", self.place(pos).to_lowercase()));
            }
        }
        if out.is_empty() { format!("{name}: closer than the tolerance written") } else { out.join("; ") }
    }

    fn field_name(&self, port: &PortEntry, field: usize) -> String {
        self.cat
            .port_types
            .get(port.port_type as usize)
            .and_then(|t| t.fields.get(field))
            .map_or_else(String::new, |f| f.1.name.clone())
    }

    fn worst_pair<'b>(&self, meeting: &'b Meeting<'a>) -> ((Ix, &'a PortEntry), (Ix, &'a PortEntry)) {
        let mut worst = (Verdict3::Holds, (meeting[0], meeting[1]));
        for (i, a) in meeting.iter().enumerate() {
            for b in &meeting[i + 1..] {
                if meeting.len() > 2 && same_side(a.1, b.1) {
                    continue;
                }
                let verdict = agree(self.cat, a.1, b.1).verdict;
                if verdict > worst.0 {
                    worst = (verdict, (*a, *b));
                }
            }
        }
        worst.1
    }

    fn label(&self, pos: Ix) -> String {
        self.slot(pos).part.map_or_else(|| self.place(pos), |p| self.name(p))
    }

    fn disagree(&mut self, joint: Ix, a: (Ix, &PortEntry), b: (Ix, &PortEntry)) -> ReasonId {
        let premises = [self.slot(a.0).reason, self.slot(b.0).reason];
        self.reason(&premises, |s| {
            let result = agree(s.cat, a.1, b.1);
            let joint = s.v.joints[joint as usize].name.clone();
            let names = (s.label(a.0), s.label(b.0));
            let value = |p: &PortEntry, i: usize| {
                p.values
                    .get(i)
                    .and_then(Option::as_ref)
                    .map_or_else(|| "-".to_owned(), crate::value::Value::text)
            };
            match result.field {
                Some(i) => {
                    let field = s.field_name(a.1, i);
                    let why = s.cat.port_types[a.1.port_type as usize].fields[i].1.why.clone();
                    let (av, bv) = (value(a.1, i), value(b.1, i));
                    if result.verdict == Verdict3::Open {
                        Fact::Unknown { joint, field, a: names.0, a_value: av, b: names.1, b_value: bv }
                    } else {
                        Fact::Disagree {
                            joint,
                            field,
                            a: names.0,
                            a_does: does(a.1),
                            a_value: av,
                            b: names.1,
                            b_does: does(b.1),
                            b_value: bv,
                            why,
                        }
                    }
                }
                None => {
                    let ty = |p: &PortEntry| s.cat.port_types[p.port_type as usize].name.clone();
                    Fact::Disagree {
                        joint,
                        field: "kind of connection".to_owned(),
                        a: names.0,
                        a_does: does(a.1),
                        a_value: ty(a.1),
                        b: names.1,
                        b_does: does(b.1),
                        b_value: ty(b.1),
                        why: String::new(),
                    }
                }
            }
        })
    }

    fn cause_of(&self, positions: impl IntoIterator<Item = Ix>) -> Option<Ix> {
        positions.into_iter().find_map(|p| self.root(p))
    }

    fn bridge(&mut self, joint: Ix, meeting: &Meeting<'a>) -> bool {
        let (a, b) = (meeting[0], meeting[1]);
        let picked = self.plan.picks.get(&self.key_text(Key::Bridge(joint, 0)));
        let picked = picked.and_then(|id| self.cat.part_names.get(id));
        let chain = match picked {
            Some(pick) if self.other_bridges(a.1, b.1).contains(&pick) => {
                Some(super::bridges::Chain { parts: vec![pick], open: false })
            }
            _ => self.chain(a.1, b.1),
        };
        let Some(chain) = chain else { return false };
        let why = self.disagree(joint, a, b);
        let qty = self.v.joints[joint as usize].qty;
        let cause = self.cause_of([a.0, b.0]);
        for (n, part) in chain.parts.iter().enumerate() {
            let reason = self.reason(&[why], |s| Fact::Bridges {
                part: s.name(*part),
                joint: s.v.joints[joint as usize].name.clone(),
            });
            let in_kit = self.take_loose(*part, qty) || self.take_loose(*part, 1);
            self.found.comps.push(Comp {
                key: Key::Bridge(joint, n as u8),
                part: *part,
                qty,
                level: Level::Required,
                origin: Origin::Bridge,
                reason,
                position: None,
                cause,
                parent: None,
                in_kit,
            });
        }
        if chain.open {
            let what = if self.full { self.what_to_measure(a, b) } else { String::new() };
            self.found.unknowns.push(Trouble {
                key: CheckKey::Joint(joint),
                positions: vec![a.0, b.0],
                reason: why,
                what,
                remedies: Vec::new(),
            });
        }
        self.check(CheckKey::Joint(joint), Answer::Bridged, why);
        true
    }

    /// Replaces ends nobody chose: one that closes the whole joint, else each that disagrees with the chosen ends.
    fn fill_joint(&mut self, joint: Ix, meeting: &Meeting<'a>) -> bool {
        let pair = self.worst_pair(meeting);
        let mut best: Option<(i64, Ix, Ix)> = None;
        for (pos, _) in meeting {
            if !self.may_fill(*pos) {
                continue;
            }
            if let Some(part) = self.best(*pos, Must::Close(joint)) {
                // an end that came with a choice gives way before one that was always there
                let rank = (self.part(part).cost, *pos, part);
                if best.is_none_or(|b| rank < b) {
                    best = Some(rank);
                }
            }
        }
        if let Some((_, pos, part)) = best {
            self.fill_for(joint, pos, part, pair.0, pair.1);
            return true;
        }
        if meeting.len() < 3 {
            return false;
        }
        let fixed: Meeting<'a> = meeting
            .iter()
            .filter(|(p, _)| !self.may_fill(*p) || self.slot(*p).by != By::Found)
            .copied()
            .collect();
        let mut any = false;
        for end in meeting {
            let against: Vec<_> = fixed
                .iter()
                .filter(|f| f.0 != end.0 && agree(self.cat, end.1, f.1).verdict == Verdict3::Broken)
                .copied()
                .collect();
            if against.is_empty() || !self.may_fill(end.0) || self.slot(end.0).by != By::Found {
                continue;
            }
            let port_name = end.1.name.clone();
            let part = self.candidates(end.0, Must::Fit, true).into_iter().map(|(_, p)| p).find(|p| {
                self.part(*p).port(&port_name).is_some_and(|port| {
                    against.iter().all(|f| agree(self.cat, port, f.1).verdict != Verdict3::Broken)
                })
            });
            if let Some(part) = part {
                self.fill_for(joint, end.0, part, *end, against[0]);
                any = true;
            }
        }
        any
    }

    fn fill_for(&mut self, joint: Ix, pos: Ix, part: Ix, a: (Ix, &PortEntry), b: (Ix, &PortEntry)) {
        let why = self.disagree(joint, a, b);
        let cause =
            self.cause_of([a.0, b.0].into_iter().filter(|p| *p != pos)).or_else(|| self.cause_of([a.0, b.0]));
        let reason = self.reason(&[why], |s| Fact::Fills { part: s.name(part), place: s.place(pos) });
        self.fill(pos, part, reason, cause, Level::Required);
    }

    fn clash_joint(&mut self, joint: Ix, meeting: &Meeting<'a>) {
        let (a, b) = self.worst_pair(meeting);
        let reason = self.disagree(joint, a, b);
        let mut remedies = Vec::new();
        if self.full {
            for (pos, _) in meeting {
                remedies.extend(
                    self.candidates(*pos, Must::Close(joint), true)
                        .into_iter()
                        .take(3)
                        .map(|(_, part)| (*pos, part)),
                );
            }
        }
        let positions = meeting.iter().map(|(p, _)| *p).collect();
        self.check(CheckKey::Joint(joint), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason,
            what: String::new(),
            remedies,
        });
    }

    fn alone(&mut self, joint: Ix, pos: Ix, port: &'a PortEntry) {
        match port.alone {
            Alone::Fine | Alone::Surplus => {}
            Alone::Cap => self.cap(joint, pos, port),
            Alone::Required => self.left_without(joint, pos, port),
        }
    }

    fn lost(&mut self, joint: Ix, pos: Ix, port: &PortEntry) -> ReasonId {
        let others: Vec<Ix> =
            self.v.joints[joint as usize].ends.iter().map(|(p, _)| *p).filter(|p| *p != pos).collect();
        let mut premises = vec![self.slot(pos).reason];
        premises.extend(others.iter().map(|p| self.slot(*p).reason));
        self.reason(&premises, |s| Fact::LeftAlone {
            joint: s.v.joints[joint as usize].name.clone(),
            part: s.label(pos),
            kind: s.cat.port_types[port.port_type as usize].name.clone(),
            lost: others.first().map_or_else(String::new, |p| s.label(*p)),
        })
    }

    fn cap(&mut self, joint: Ix, pos: Ix, port: &'a PortEntry) {
        let cat = self.cat;
        let mut caps: Vec<Ix> = cat
            .cap_index
            .candidates(&cat.port_types, port)
            .filter(|(part, at)| {
                agree(cat, port, &cat.parts[*part as usize].ports[*at as usize]).verdict != Verdict3::Broken
            })
            .map(|(part, _)| part)
            .collect();
        caps.sort_by_key(|p| (!self.is_loose(*p), self.part(*p).cost, *p));
        let why = self.lost(joint, pos, port);
        let ends: Vec<Ix> = self.v.joints[joint as usize].ends.iter().map(|(p, _)| *p).collect();
        let cause = self.cause_of(ends.iter().copied());
        match caps.first().copied() {
            Some(part) => {
                let reason = self.reason(&[why], |s| Fact::Bridges {
                    part: s.name(part),
                    joint: s.v.joints[joint as usize].name.clone(),
                });
                let in_kit = self.take_loose(part, 1);
                let qty = self.v.joints[joint as usize].qty;
                self.found.comps.push(Comp {
                    key: Key::Cap(joint),
                    part,
                    qty,
                    level: Level::Required,
                    origin: Origin::Cap,
                    reason,
                    position: None,
                    cause,
                    parent: None,
                    in_kit,
                });
            }
            None => self.found.clashes.push(Trouble {
                key: CheckKey::Joint(joint),
                positions: vec![pos],
                reason: why,
                what: String::new(),
                remedies: Vec::new(),
            }),
        }
    }

    fn left_without(&mut self, joint: Ix, pos: Ix, port: &'a PortEntry) {
        let others: Vec<Ix> =
            self.v.joints[joint as usize].ends.iter().map(|(p, _)| *p).filter(|p| *p != pos).collect();
        let why = self.lost(joint, pos, port);
        let cause = self.cause_of(std::iter::once(pos).chain(others.iter().copied()));
        for other in &others {
            if self.may_fill(*other)
                && let Some(part) = self.best(*other, Must::Close(joint))
            {
                let reason =
                    self.reason(&[why], |s| Fact::Fills { part: s.name(part), place: s.place(*other) });
                self.fill(*other, part, reason, cause, Level::Required);
                return;
            }
        }
        if self.may_fill(pos)
            && let Some(part) = self.best(pos, Must::DoWithout(joint))
        {
            let reason = self.reason(&[why], |s| Fact::Fills { part: s.name(part), place: s.place(pos) });
            self.fill(pos, part, reason, cause, Level::Required);
            return;
        }
        let mut remedies = Vec::new();
        if self.full {
            for other in &others {
                remedies.extend(
                    self.candidates(*other, Must::Close(joint), true)
                        .into_iter()
                        .take(2)
                        .map(|(_, p)| (*other, p)),
                );
            }
            remedies.extend(
                self.candidates(pos, Must::DoWithout(joint), true).into_iter().take(2).map(|(_, p)| (pos, p)),
            );
        }
        let mut positions = vec![pos];
        positions.extend(others);
        self.check(CheckKey::Joint(joint), Answer::Broken, why);
        self.found.clashes.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason: why,
            what: String::new(),
            remedies,
        });
    }
}

/// The verb that goes with a side.
fn does(port: &PortEntry) -> &'static str {
    match port.role {
        crate::library::Role::Give => "supplies",
        crate::library::Role::Take => "accepts",
        crate::library::Role::Plain => "has",
    }
}
