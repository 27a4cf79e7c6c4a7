//! Joints: direct fit, else the cheapest bridge, else a clash. A port left alone is fine, wants a cap, or is a clash.

use std::sync::Arc;

use smallvec::{SmallVec, smallvec};

use super::bench::{Bench, CheckKey, Comp, Cure, Key, NO_REASON, Trouble};
use super::memory::Met;
use crate::assessment::{Answer, Origin};
use crate::catalogue::meeting::agree;
use crate::catalogue::searched::{Chain, Link};
use crate::catalogue::{JointId, PartId, PortEntry, PortNameId, PositionId};
use crate::library::{Alone, Level, Rule};
use crate::mismatch;
use crate::reason::{Fact, ReasonId};
use crate::value::Verdict3;

impl<'a> Bench<'a> {
    pub fn joints(&mut self) {
        let mut last = None;
        // a fill on the way may change joints that stand later
        while let Some(joint) = self.change.joints.after(last) {
            last = Some(joint);
            if !self.v.joints[joint].alternatives.is_empty() {
                self.either_or(joint);
            } else if self.is_held(joint) {
                self.check(CheckKey::Joint(joint), Answer::Holds, NO_REASON);
            } else {
                self.joint(joint);
            }
        }
    }

    fn joint(&mut self, joint: JointId) {
        let met = self.met_now(joint);
        match met.ports.len() {
            0 => {}
            1 => self.alone(joint, met.ports[0].0, met.ports[0].1),
            _ => self.met(joint, &met),
        }
    }

    fn met(&mut self, joint: JointId, met: &Met<'a>) {
        match met.verdict {
            Verdict3::Holds => {
                self.remember_held(joint);
                self.check(CheckKey::Joint(joint), Answer::Holds, NO_REASON);
            }
            Verdict3::Open => self.open_joint(joint, met),
            Verdict3::Broken => {
                if !(met.ports.len() == 2 && self.bridge(joint, met)) {
                    self.clash_joint(joint, met);
                }
            }
        }
    }

    pub fn check(&mut self, key: CheckKey, answer: Answer, reason: ReasonId) {
        if self.full {
            self.found.checks.push((key, answer, reason));
        }
    }

    pub(super) fn open_joint(&mut self, joint: JointId, met: &Met<'a>) {
        let (a, b) = met.worst_pair();
        let reason = self.disagree(joint, a, b);
        let what = if self.full { self.what_to_measure(met, None) } else { Vec::new() };
        let positions = self.told_of(met);
        self.check(CheckKey::Joint(joint), Answer::ToMeasure, reason);
        self.found.unknowns.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason,
            what,
            cure: Cure::None,
        });
    }

    /// The positions that meet, for a reader; none where no words are wanted.
    fn told_of(&self, met: &Met<'a>) -> SmallVec<[PositionId; 4]> {
        if self.full { met.ports.iter().map(|(p, _)| *p).collect() } else { SmallVec::new() }
    }

    pub(super) fn field_name(&self, port: &PortEntry, field: usize) -> String {
        self.cat
            .port_types
            .get(port.port_type)
            .and_then(|t| t.fields.get(field))
            .map_or_else(String::new, |f| f.1.name.clone())
    }

    fn label(&self, pos: PositionId) -> String {
        self.slot(pos).part.map_or_else(|| self.place(pos), |p| self.name(p))
    }

    /// Two ends of a joint do not agree. It rests on all ends of the joint: with fewer a bridge could go between, and
    /// an end that is not there any more may be what changed.
    fn disagree(
        &mut self,
        joint: JointId,
        a: (PositionId, &PortEntry),
        b: (PositionId, &PortEntry),
    ) -> ReasonId {
        let premises: Vec<ReasonId> = if self.full {
            [a.0, b.0]
                .into_iter()
                .chain(self.ends_of_either(joint))
                .map(|pos| self.slot(pos).reason)
                .collect()
        } else {
            Vec::new()
        };
        let reason = self.reason(&premises, |s| {
            let result = agree(s.cat, a.1, b.1);
            let joint = s.v.joints[joint].name.clone();
            let names = (s.label(a.0), s.label(b.0));
            let Some(i) = result.field else {
                let kind = |p: &PortEntry| s.cat.port_types[p.port_type].name.clone();
                let says = mismatch::other_kind((&names.0, &kind(a.1)), (&names.1, &kind(b.1)));
                let field = "kind of connection".to_owned();
                return Fact::Disagree { joint, field, a: names.0, b: names.1, says, happens: false };
            };
            let value = |p: &PortEntry| p.values.get(i).and_then(Option::as_ref).cloned();
            let (field, a_value, b_value) = (s.field_name(a.1, i), value(a.1), value(b.1));
            if result.verdict == Verdict3::Open {
                return Fact::Unknown { joint, field, a: names.0, a_value, b: names.1, b_value };
            }
            let says = mismatch::told(
                &s.cat.port_types[a.1.port_type].fields[i],
                mismatch::End { name: &names.0, role: a.1.role, value: a_value.as_ref() },
                mismatch::End { name: &names.1, role: b.1.role, value: b_value.as_ref() },
            );
            let happens = s.cat.port_types[a.1.port_type].fields[i].1.rule != Rule::Mates;
            Fact::Disagree { joint, field, a: names.0, b: names.1, says, happens }
        });
        let reason = self.noting(reason, |s| {
            let field = agree(s.cat, a.1, b.1).field;
            field.map_or_else(Vec::new, |field| s.field_specs([a, b], field))
        });
        self.resting_on(reason, |s| s.measured_at_joint(joint))
    }

    fn cause_of(&self, positions: impl IntoIterator<Item = PositionId>) -> Option<PositionId> {
        positions.into_iter().find_map(|p| self.root(p))
    }

    pub(super) fn bridge(&mut self, joint: JointId, met: &Met<'a>) -> bool {
        let (a, b) = (met.ports[0], met.ports[1]);
        let chain = match self.picked_bridge(joint, a.1, b.1) {
            Some(link) => Some(Arc::new(Chain { links: vec![link], open: false })),
            None => self.chain_of(met),
        };
        let Some(chain) = chain else { return false };
        let why = self.disagree(joint, a, b);
        let qty = self.v.joints[joint].qty;
        let cause = self.cause_of([a.0, b.0]);
        for (n, link) in chain.links.iter().enumerate() {
            let part = link.part;
            let reason = self.reason(&[why], |s| Fact::Bridges {
                part: s.name(part),
                joint: s.v.joints[joint].name.clone(),
            });
            let reason = self.resting_on(reason, |s| s.measured_on(part));
            let reason = self.noting(reason, |s| s.all_port_specs(part));
            let key = Key::Bridge(joint, n as u8);
            let boxed = self.take_for(key, part, qty);
            self.found.comps.push(Comp {
                key,
                part,
                qty,
                level: Level::Required,
                origin: Origin::Bridge,
                reason,
                position: None,
                cause,
                by: Some(a.0),
                parent: None,
                boxed,
            });
        }
        if chain.open {
            let what = if self.full { self.what_to_measure(met, Some(&chain)) } else { Vec::new() };
            self.found.unknowns.push(Trouble {
                key: CheckKey::Joint(joint),
                positions: smallvec![a.0, b.0],
                reason: why,
                what,
                cure: Cure::None,
            });
        }
        // in order of the joints, though alternatives are judged at the first of them
        let at = self.found.chains.partition_point(|(j, _)| *j < joint);
        self.found.chains.insert(at, (joint, chain));
        self.check(CheckKey::Joint(joint), Answer::Bridged, why);
        true
    }

    /// The owner's pick among the single bridges that would do at a joint.
    fn picked_bridge(&self, joint: JointId, a: &PortEntry, b: &PortEntry) -> Option<Link> {
        let pick = self.ground.bridge_picks.get(&joint).copied()?;
        self.other_bridges(a, b).into_iter().find(|link| link.part == pick)
    }

    /// What would go between two ports at a joint.
    pub(super) fn chain_at(&self, joint: JointId, a: &PortEntry, b: &PortEntry) -> Option<Arc<Chain>> {
        match self.picked_bridge(joint, a, b) {
            Some(link) => Some(Arc::new(Chain { links: vec![link], open: false })),
            None => self.chain(a, b),
        }
    }

    pub(super) fn clash_joint(&mut self, joint: JointId, met: &Met<'a>) {
        let (a, b) = met.worst_pair();
        let reason = self.disagree(joint, a, b);
        let positions = self.told_of(met);
        self.check(CheckKey::Joint(joint), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason,
            what: Vec::new(),
            cure: Cure::Ends(joint),
        });
    }

    pub(super) fn alone(&mut self, joint: JointId, pos: PositionId, port: &'a PortEntry) {
        match port.alone {
            Alone::Fine | Alone::Surplus => {}
            Alone::Cap => self.cap(joint, pos, port),
            Alone::Required => self.clash_alone(joint, pos, port),
        }
    }

    fn lost(&mut self, joint: JointId, pos: PositionId, port: &PortEntry) -> ReasonId {
        if !self.full {
            return NO_REASON;
        }
        let ends = &self.v.joints[joint].ends;
        let others = || ends.iter().filter(|(p, _)| *p != pos);
        let mut premises = vec![self.slot(pos).reason];
        premises.extend(self.ends_of_either(joint).filter(|p| *p != pos).map(|p| self.slot(p).reason));
        // who hung on it as found does no longer, or it would not be alone
        let had = |(p, port): &(PositionId, PortNameId)| {
            self.as_found(*p).filter(|part| self.part(*part).port_ix(*port).is_some())
        };
        let lost = others().find_map(had).map(|part| self.name(part));
        let before = self.slot(pos).part == self.as_found(pos);
        let reason = self.reason(&premises, |s| Fact::LeftAlone {
            joint: s.v.joints[joint].name.clone(),
            part: s.label(pos),
            kind: s.cat.port_types[port.port_type].name.clone(),
            lost,
            before,
        });
        self.resting_on(reason, |s| s.measured_at_joint(joint))
    }

    /// The best cap for a port that hangs alone.
    pub(super) fn cap_for(&self, port: &PortEntry) -> Option<PartId> {
        let cat = self.cat;
        cat.cap_index
            .candidates(&cat.port_types, port)
            .into_iter()
            .filter(|(part, at)| {
                agree(cat, port, &cat.parts[*part].ports[usize::from(*at)]).verdict != Verdict3::Broken
            })
            .map(|(part, _)| part)
            .filter(|part| self.is_used_loose(cat.parts[*part].class))
            .min_by_key(|p| (!self.is_loose(*p), self.part(*p).rank))
    }

    fn cap(&mut self, joint: JointId, pos: PositionId, port: &'a PortEntry) {
        let cap = self.cap_for(port);
        let why = self.lost(joint, pos, port);
        let ends: Vec<PositionId> = self.v.joints[joint].ends.iter().map(|(p, _)| *p).collect();
        let cause = self.cause_of(ends.iter().copied());
        match cap {
            Some(part) => {
                let reason = self.reason(&[why], |s| Fact::Bridges {
                    part: s.name(part),
                    joint: s.v.joints[joint].name.clone(),
                });
                let reason = self.resting_on(reason, |s| s.measured_on(part));
                let reason = self.noting(reason, |s| s.all_port_specs(part));
                let qty = self.v.joints[joint].qty;
                let key = Key::Cap(joint);
                let boxed = self.take_for(key, part, qty);
                self.found.comps.push(Comp {
                    key,
                    part,
                    qty,
                    level: Level::Required,
                    origin: Origin::Cap,
                    reason,
                    position: None,
                    cause,
                    by: Some(pos),
                    parent: None,
                    boxed,
                });
            }
            None => self.clash_alone(joint, pos, port),
        }
    }

    /// The positions at the other ends of a joint.
    fn opposite(&self, joint: JointId, pos: PositionId) -> SmallVec<[PositionId; 4]> {
        self.v.joints[joint].ends.iter().map(|(p, _)| *p).filter(|p| *p != pos).collect()
    }

    fn clash_alone(&mut self, joint: JointId, pos: PositionId, port: &PortEntry) {
        let others = self.opposite(joint, pos);
        let why = self.lost(joint, pos, port);
        let positions = std::iter::once(pos).chain(others.iter().copied()).collect();
        self.check(CheckKey::Joint(joint), Answer::Broken, why);
        self.found.clashes.push(Trouble {
            key: CheckKey::Joint(joint),
            positions,
            reason: why,
            what: Vec::new(),
            cure: Cure::Alone(joint),
        });
    }
}

#[cfg(test)]
mod tests;
