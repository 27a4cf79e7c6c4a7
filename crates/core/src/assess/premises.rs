//! What a finding rests on in the end: choices, parts as found, verdicts of the survey, measured values.

use std::collections::BTreeSet;

use super::bench::{Bench, NO_REASON};
use crate::assessment::Assessment;
use crate::catalogue::{JointId, PartId, PortNameId};
use crate::key::{FactKey, Premise};
use crate::reason::ReasonId;

impl Bench<'_> {
    /// Notes the measured values that a step of a derivation reads.
    pub fn resting_on(&mut self, reason: ReasonId, measured: impl FnOnce(&Self) -> Vec<FactKey>) -> ReasonId {
        if reason != NO_REASON {
            let measured = measured(self);
            if let Some(reason) = self.arena.get_mut(reason.0 as usize) {
                reason.measured.extend(measured);
                reason.measured.sort();
                reason.measured.dedup();
            }
        }
        reason
    }

    /// Of the values measured on this vehicle, those of one part.
    pub fn measured_on(&self, part: PartId) -> Vec<FactKey> {
        let figures = self.ground.part_facts.keys().filter(|(of, _)| *of == part);
        let figures = figures.map(|(_, figure)| self.part_fact_key(part, *figure));
        let at_ports = self.ground.port_facts.iter().filter(|fact| fact.part == part);
        figures.chain(at_ports.map(|fact| self.port_key(part, fact.port, fact.field))).collect()
    }

    /// Of the values measured on this vehicle, those at the ports that meet at a joint.
    pub fn measured_at_joint(&self, joint: JointId) -> Vec<FactKey> {
        let ends = &self.v.joints[joint].ends;
        let meets = |part: PartId, port: PortNameId| {
            ends.iter().any(|(pos, at)| *at == port && self.slot(*pos).part == Some(part))
        };
        let here = self.ground.port_facts.iter().filter(|fact| meets(fact.part, fact.port));
        here.map(|fact| self.port_key(fact.part, fact.port, fact.field)).collect()
    }
}

impl Assessment {
    /// What a reason rests on in the end. Empty for a reason that is not there.
    #[must_use]
    pub fn premises(&self, root: ReasonId) -> BTreeSet<Premise> {
        let (mut out, mut seen, mut open) = (BTreeSet::new(), BTreeSet::new(), vec![root]);
        while let Some(id) = open.pop() {
            if !seen.insert(id) {
                continue;
            }
            let Some(reason) = self.reasons.get(id.0 as usize) else { continue };
            out.extend(reason.fact.premise());
            out.extend(reason.measured.iter().map(|fact| Premise::Measured { fact: fact.clone() }));
            open.extend(&reason.premises);
        }
        out
    }
}

#[cfg(test)]
mod tests;
