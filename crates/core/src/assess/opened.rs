//! What is opened wants its gaskets, seals and fluid.

use std::collections::BTreeMap;
use std::sync::Arc;

use smallvec::SmallVec;

use super::bench::{Bench, Comp, Key};
use super::fills::Meeting;
use super::renewals::{Apart, Opened, Renewal};
use crate::assessment::Origin;
use crate::catalogue::meeting::fields_agree;
use crate::catalogue::searched::{Chain, Link};
use crate::catalogue::{Bits, CircuitId, ClassId, JointId, PartId, PortEntry, PositionId, SpotId};
use crate::library::{Level, Want};
use crate::reason::{Fact, ReasonId};
use crate::value::Verdict3;

/// What the contacts of an opened joint want, as a part.
pub(super) struct Wanted<'a> {
    pub class: ClassId,
    pub part: PartId,
    pub want: &'a Want,
    pub times: u32,
}

impl<'a> Bench<'a> {
    /// Notes all that is wanted because something is apart or over its age; what is apart and renewed.
    pub(super) fn opened(&mut self) -> Opened {
        let opened = self.taken_apart();
        let places = self.v.positions.ids();
        self.found.apart.extend(places.filter(|pos| opened.apart(*pos).is_some()));
        if self.full {
            let places = self.v.positions.ids();
            self.found.renewed.extend(places.filter(|pos| opened.is_renewed(*pos)));
        }
        self.opened_joints(&opened);
        self.renew_by(&[Origin::Joint], &opened);
        self.openings(&opened);
        self.circuits(&opened);
        self.renew_by(&[Origin::Survey, Origin::Age], &opened);
        self.ages_not_known(&opened);
        opened
    }

    /// The renewals that go back to joints, to the survey, or to ages.
    fn renew_by(&mut self, origins: &[Origin], opened: &Opened) {
        for pos in self.v.positions.ids() {
            if let Some(renewal) = opened.renewed(pos).filter(|r| origins.contains(&r.origin)) {
                self.renew(pos, renewal);
            }
        }
    }

    fn renew(&mut self, pos: PositionId, renewal: &Renewal) {
        let Renewal { key, part, qty, level, origin, reason, cause, .. } = *renewal;
        let boxed = self.take_for(key, part, qty);
        let position = Some(pos);
        self.found.comps.push(Comp {
            key,
            part,
            qty,
            level,
            origin,
            reason,
            position,
            cause,
            by: None,
            parent: None,
            boxed,
        });
    }

    /// Every contact of an opened joint wants what its port type says. A bridge makes two contacts of one, which may
    /// want seals of different sizes.
    fn opened_joints(&mut self, opened: &Opened) {
        let mut joints = Bits::below(self.v.joints.len());
        for pos in self.slots.ids().filter(|p| opened.apart(*p).is_some()) {
            joints.join(&self.v.joints_near[pos]);
        }
        let mut last = None;
        while let Some(joint) = joints.after(last) {
            last = Some(joint);
            let met = self.met_now(joint);
            if met.ports.len() < 2 || self.is_superseded(joint) {
                continue;
            }
            let mut seen: SmallVec<[ClassId; 4]> = SmallVec::new();
            let chain = self.chain_found(joint);
            let wanted = self.wanted_by(&met.ports, chain.as_ref().map_or(&[], |chain| &chain.links));
            if wanted.is_empty() {
                continue;
            }
            let open = opened.among(self.v.joints[joint].ends.iter().map(|(p, _)| *p));
            if open.is_empty() {
                continue;
            }
            for want in wanted {
                let n = seen.iter().filter(|c| **c == want.class).count() as u8;
                seen.push(want.class);
                self.opened_joint(joint, opened, &open, &met.ports, want, n);
            }
        }
    }

    /// The bridges that were found for a joint.
    pub(super) fn chain_found(&self, joint: JointId) -> Option<Arc<Chain>> {
        let at = self.found.chains.binary_search_by_key(&joint, |(j, _)| *j).ok()?;
        Some(Arc::clone(&self.found.chains[at].1))
    }

    /// Each contact of a joint, with what its port type wants when it is opened.
    pub(super) fn each_want(
        &self,
        meeting: &Meeting<'a>,
        links: &[Link],
        mut each: impl FnMut(&'a PortEntry, &'a PortEntry, ClassId, &'a Want),
    ) {
        let (a, b) = (meeting[0].1, meeting[1].1);
        let links = if meeting.len() == 2 { links } else { &[] };
        self.contacts(a, links, b, |x, y| {
            for (class, want) in &self.cat.port_types[x.port_type].opened {
                each(x, y, *class, want);
            }
        });
    }

    /// What the contacts of a joint want that has no place on this vehicle, the same part for several contacts told once.
    pub(super) fn wanted_by(&self, meeting: &Meeting<'a>, links: &[Link]) -> SmallVec<[Wanted<'a>; 2]> {
        let mut out: SmallVec<[Wanted<'a>; 2]> = SmallVec::new();
        self.each_want(meeting, links, |x, y, class, want| {
            if !self.is_used_loose(class) {
                return;
            }
            let Some(part) = self.seal(class, x, y) else { return };
            match out.iter_mut().find(|w| w.class == class && w.part == part) {
                Some(same) => same.times += 1,
                None => out.push(Wanted { class, part, want, times: 1 }),
            }
        });
        out
    }

    /// The cheapest part of a class that suits a contact, one out of a chosen kit's box before all. Who gives and who
    /// takes does not matter to what lies between.
    fn seal(&self, class: ClassId, x: &PortEntry, y: &PortEntry) -> Option<PartId> {
        let from_box = self.stock.iter().any(|l| l.left > 0 && self.part(l.part).class == class);
        if from_box {
            return self.search_seal(class, x, y);
        }
        self.cat.searched.seals.get((class, x.spec, y.spec), || self.search_seal(class, x, y))
    }

    fn search_seal(&self, class: ClassId, x: &PortEntry, y: &PortEntry) -> Option<PartId> {
        let Some(ports) = self.cat.seal_ports.get(&(class, x.port_type)) else {
            return self.any_of(class);
        };
        let suits = |part: &PartId, own: &PortEntry| {
            let with = |other: &PortEntry| fields_agree(self.cat, own, other) != Verdict3::Broken;
            (with(x) && (y.port_type != x.port_type || with(y))).then_some(*part)
        };
        let hits = ports.index.candidates(&self.cat.port_types, x);
        let fitting =
            hits.iter().filter_map(|(part, at)| suits(part, &self.part(*part).ports[usize::from(*at)]));
        let all = fitting.chain(
            ports
                .without
                .first()
                .copied()
                .into_iter()
                .chain(self.stock.iter().map(|l| l.part).filter(|part| ports.without.contains(part))),
        );
        all.min_by_key(|part| (!self.is_loose(*part), self.part(*part).rank))
    }

    /// The cheapest part of a class, one out of a chosen kit's box before all.
    pub(super) fn any_of(&self, class: ClassId) -> Option<PartId> {
        let loose =
            self.stock.iter().filter(|l| l.left > 0 && self.part(l.part).class == class).map(|l| l.part);
        loose.min_by_key(|part| self.part(*part).rank).or_else(|| self.cat.by_class[class].first().copied())
    }

    fn opened_joint(
        &mut self,
        joint: JointId,
        opened: &Opened,
        open: &[PositionId],
        meeting: &Meeting<'a>,
        wanted: Wanted<'a>,
        n: u8,
    ) {
        let Wanted { class, part, want, times } = wanted;
        let qty = want.qty * self.v.joints[joint].qty * times;
        let mut premises = opened.reasons(open);
        premises.extend(self.reasons_of(meeting.iter().map(|(p, _)| *p)));
        let reason = self.reason(&premises, |s| Fact::Opened {
            what: s.v.joints[joint].name.clone(),
            wants: if s.is_called_by_class(joint, part) {
                s.class_measured_first(part)
            } else {
                s.name(part)
            },
            why: want.why.clone(),
        });
        // which seal it is rests on what the ports say, its own as well
        let reason = self.resting_on(reason, |s| s.measured_at_joint(joint));
        let reason = self.resting_on(reason, |s| s.measured_on(part));
        self.measure_for_seal(joint, part, reason);
        let key = Key::Open(joint, class, n);
        let boxed = self.take_for(key, part, qty);
        self.found.comps.push(Comp {
            key,
            part,
            qty,
            level: want.level.max(opened.level(open)),
            origin: Origin::Joint,
            reason,
            position: None,
            cause: opened.cause(open),
            by: None,
            parent: None,
            boxed,
        });
    }

    /// The name of an opening, with where it is where the vehicle has it at several spots.
    pub(super) fn opening_name(&self, opening: SpotId) -> String {
        let here = &self.v.openings[opening];
        let name = &self.cat.openings[here.opening].name;
        if here.spot.is_empty() { name.clone() } else { format!("{name}, {}", here.spot) }
    }

    /// While a place is apart: renewals of what sits in other places, and what has no place of its own.
    fn openings(&mut self, opened: &Opened) {
        let v = self.v;
        for (opening, places) in v.openings.iter() {
            let open = opened.among(places.places.iter().copied());
            if open.is_empty() {
                continue;
            }
            for (at, place) in places.wanted.iter().enumerate() {
                let (class, want) = &self.cat.openings[places.opening].wants[at];
                if let Some(here) = place {
                    for pos in here {
                        if let Some(renewal) = opened.renewed(*pos).filter(|r| r.opening == Some(opening)) {
                            self.renew(*pos, renewal);
                        }
                    }
                    continue;
                }
                let key = Key::Apart(opening, *class);
                let Some(part) = self.any_of(*class).filter(|_| self.is_used_loose(*class)) else { continue };
                let reason = self.reason(&opened.reasons(&open), |s| Fact::Apart {
                    what: s.opening_name(opening),
                    wants: s.name(part),
                    why: want.why.clone(),
                });
                let boxed = self.take_for(key, part, want.qty);
                self.found.comps.push(Comp {
                    key,
                    part,
                    qty: want.qty,
                    level: want.level.max(opened.level(&open)),
                    origin: Origin::Opening,
                    reason,
                    position: None,
                    cause: opened.cause(&open),
                    by: None,
                    parent: None,
                    boxed,
                });
            }
        }
    }

    /// Circuits that hold the same kind of fluid are filled from the same containers: one rounding for all.
    fn circuits(&mut self, opened: &Opened) {
        let stale = self.stale();
        let mut by_fluid: BTreeMap<ClassId, Vec<CircuitId>> = BTreeMap::new();
        for (circuit, entry) in self.v.circuits.iter() {
            if !self.run_out(circuit, opened, &stale).is_empty() {
                self.found.run_out.push(circuit);
                by_fluid.entry(entry.fluid).or_default().push(circuit);
            }
        }
        let held = self.held();
        for (fluid, circuits) in by_fluid {
            self.fill_circuits(opened, &stale, fluid, &circuits, &held);
        }
    }

    /// Where a circuit runs out: at what is apart, at what is taken off while something of it stays, and where its fluid is
    /// over its age.
    pub(super) fn run_out(
        &self,
        circuit: CircuitId,
        opened: &Opened,
        stale: &[(CircuitId, Apart)],
    ) -> SmallVec<[Apart; 4]> {
        let positions = &self.v.circuits[circuit].positions;
        let stays = positions.iter().any(|p| self.slot(*p).part.is_some());
        let taken_off = |pos: PositionId| {
            let slot = self.slot(pos);
            let is_off = stays && slot.part.is_none() && self.as_found(pos).is_some();
            is_off.then(|| Apart { level: Level::Required, cause: self.root(pos), reason: slot.reason })
        };
        let open = positions.iter().filter_map(|p| opened.apart(*p).copied().or_else(|| taken_off(*p)));
        open.chain(stale.iter().filter(|(c, _)| *c == circuit).map(|(_, apart)| *apart)).collect()
    }

    /// What the fitted parts hold of each circuit.
    pub(super) fn held(&self) -> Vec<&'a (String, f64)> {
        self.fitted().flat_map(|(_, p)| &self.part(p).holds).collect()
    }

    /// What a circuit takes: its own capacity and what the fitted parts hold.
    pub(super) fn capacity(&self, circuit: CircuitId, held: &[&(String, f64)]) -> f64 {
        let entry = &self.v.circuits[circuit];
        let held = held.iter().filter(|(id, _)| *id == entry.id);
        entry.capacity + held.map(|(_, volume)| volume).sum::<f64>()
    }

    fn fill_circuits(
        &mut self,
        opened: &Opened,
        stale: &[(CircuitId, Apart)],
        fluid: ClassId,
        circuits: &[CircuitId],
        held: &[&(String, f64)],
    ) {
        let amount: f64 = circuits.iter().map(|c| self.capacity(*c, held)).sum();
        if amount <= 0.0 {
            return;
        }
        let containers = self.containers(fluid, amount);
        if containers.is_empty() {
            return;
        }
        let out: SmallVec<[Apart; 8]> =
            circuits.iter().flat_map(|c| self.run_out(*c, opened, stale)).collect();
        let mut premises: SmallVec<[ReasonId; 8]> = out.iter().map(|a| a.reason).collect();
        // that what is taken off lets it run out rests on what stays
        let stays = |circuit: &CircuitId| {
            let positions = &self.v.circuits[*circuit].positions;
            let is_off = positions.iter().any(|p| opened.apart(*p).is_none() && self.slot(*p).part.is_none());
            positions.iter().copied().find(|p| is_off && self.slot(*p).part.is_some())
        };
        premises.extend(self.reasons_of(circuits.iter().filter_map(stays)));
        if self.full {
            // what lies in a box turns what is bought beside it
            premises.extend(containers.iter().filter_map(|(part, _)| self.loose_reason(*part)));
        }
        let reason = self.reason(&premises, |s| Fact::CircuitOpened {
            circuit: circuits
                .iter()
                .map(|c| s.v.circuits[*c].name.as_str())
                .collect::<Vec<_>>()
                .join(" and "),
            amount: crate::phrase::Number::new(amount, crate::units::Dimension::Volume),
        });
        let reason = self.noting(reason, |s| s.circuit_specs(circuits));
        let level = out.iter().map(|a| a.level).min().unwrap_or_default();
        let cause = out.iter().find_map(|a| a.cause);
        for (n, (part, qty)) in (0..).zip(containers) {
            let key = Key::Fluid(fluid, n);
            let boxed = self.take_for(key, part, qty);
            self.found.comps.push(Comp {
                key,
                part,
                qty,
                level,
                origin: Origin::Fluid,
                reason,
                position: None,
                cause,
                by: None,
                parent: (n > 0).then_some(Key::Fluid(fluid, 0)),
                boxed,
            });
        }
    }
}

#[cfg(test)]
mod tests;
