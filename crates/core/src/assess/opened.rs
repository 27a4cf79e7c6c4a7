//! What is opened wants its gaskets, seals and fluid; what the survey condemned is not kept in silence.

use std::collections::BTreeMap;

use smallvec::SmallVec;

use super::bench::{Bench, By, Comp, Key};
use super::fills::Meeting;
use crate::agree::fields_agree;
use crate::assessment::Origin;
use crate::catalogue::{Bits, Ix, PortEntry, UNPRICED};
use crate::library::{Level, Want};
use crate::reason::Fact;
use crate::sheet::{Route, Verdict};
use crate::value::Verdict3;

/// What the contacts of an opened joint want, as a part.
struct Wanted<'a> {
    class: Ix,
    part: Ix,
    want: &'a Want,
    times: u32,
}

impl<'a> Bench<'a> {
    pub fn opened(&mut self) {
        self.opened_joints();
        self.openings();
        self.circuits();
        self.survey();
    }

    /// Every contact of an opened joint wants what its port type says. A bridge makes two contacts of one, which may
    /// want seals of different sizes.
    fn opened_joints(&mut self) {
        let mut joints = Bits::below(self.v.joints.len());
        for (pos, _) in self.slots.iter().enumerate().filter(|(_, slot)| slot.opened) {
            joints.join(&self.v.joints_near[pos]);
        }
        let mut from = 0;
        while let Some(joint) = joints.next(from) {
            from = joint + 1;
            let met = self.met_now(joint);
            if met.ports.len() < 2 {
                continue;
            }
            let mut seen: SmallVec<[Ix; 4]> = SmallVec::new();
            let wanted = self.wanted_by(joint, &met.ports);
            if wanted.is_empty() {
                continue;
            }
            let ends = self.v.joints[joint as usize].ends.iter().map(|(p, _)| *p);
            let open: SmallVec<[Ix; 4]> = ends.filter(|p| self.slot(*p).opened).collect();
            for want in wanted {
                let n = seen.iter().filter(|c| **c == want.class).count() as u8;
                seen.push(want.class);
                self.opened_joint(joint, &open, &met.ports, want, n);
            }
        }
    }

    /// What the contacts of a joint want, the same part for several contacts told once.
    fn wanted_by(&self, joint: Ix, meeting: &Meeting<'a>) -> SmallVec<[Wanted<'a>; 2]> {
        let (a, b) = (meeting[0].1, meeting[1].1);
        let chain = self.found.chains.binary_search_by_key(&joint, |(j, _)| *j).ok();
        let links = chain.map_or(&[][..], |at| &self.found.chains[at].1.links);
        let links = if meeting.len() == 2 { links } else { &[] };
        let mut out: SmallVec<[Wanted<'a>; 2]> = SmallVec::new();
        self.contacts(a, links, b, |x, y| {
            for (class, want) in &self.cat.port_types[x.port_type as usize].opened {
                let Some(part) = self.seal(*class, x, y) else { continue };
                match out.iter_mut().find(|w| w.class == *class && w.part == part) {
                    Some(same) => same.times += 1,
                    None => out.push(Wanted { class: *class, part, want, times: 1 }),
                }
            }
        });
        out
    }

    /// The cheapest part of a class that suits a contact, one out of a chosen kit's box before all. Who gives and who
    /// takes does not matter to what lies between.
    fn seal(&self, class: Ix, x: &PortEntry, y: &PortEntry) -> Option<Ix> {
        let from_box = self.stock.iter().any(|l| l.left > 0 && self.part(l.part).class == class);
        if from_box {
            return self.search_seal(class, x, y);
        }
        self.cat.searched.seals.get((class, x.spec, y.spec), || self.search_seal(class, x, y))
    }

    fn search_seal(&self, class: Ix, x: &PortEntry, y: &PortEntry) -> Option<Ix> {
        let Some(ports) = self.cat.seal_ports.get(&(class, x.port_type)) else {
            return self.any_of(class);
        };
        let suits = |part: &Ix, own: &PortEntry| {
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
    fn any_of(&self, class: Ix) -> Option<Ix> {
        let loose =
            self.stock.iter().filter(|l| l.left > 0 && self.part(l.part).class == class).map(|l| l.part);
        loose
            .min_by_key(|part| self.part(*part).rank)
            .or_else(|| self.cat.by_class[class as usize].first().copied())
    }

    fn opened_joint(&mut self, joint: Ix, open: &[Ix], meeting: &Meeting<'a>, wanted: Wanted<'a>, n: u8) {
        let Wanted { class, part, want, times } = wanted;
        let qty = want.qty * self.v.joints[joint as usize].qty * times;
        let about = open.iter().copied().chain(meeting.iter().map(|(p, _)| *p));
        let premises = self.reasons_of(about);
        let reason = self.reason(&premises, |s| Fact::Opened {
            what: s.v.joints[joint as usize].name.clone(),
            wants: s.name(part),
            why: want.why.clone(),
        });
        let boxed = self.take_loose(part, qty);
        let cause = open.iter().find_map(|p| self.root(*p));
        self.found.comps.push(Comp {
            key: Key::Open(joint, class, n),
            part,
            qty,
            level: want.level,
            origin: Origin::Joint,
            reason,
            position: None,
            cause,
            parent: None,
            boxed,
        });
    }

    fn openings(&mut self) {
        for opening in 0..self.cat.openings.len() as Ix {
            let entry = &self.cat.openings[opening as usize];
            let open: SmallVec<[Ix; 8]> = entry
                .classes
                .iter()
                .filter_map(|c| self.v.by_class.get(c).copied())
                .filter(|p| self.slot(*p).opened)
                .collect();
            if open.is_empty() {
                continue;
            }
            let cause = open.iter().find_map(|p| self.root(*p));
            for (class, want) in &entry.wants {
                let place = self.v.by_class.get(class).copied();
                let part = match place {
                    Some(pos) => {
                        let slot = self.slot(pos);
                        // one renewal serves whatever reason came first
                        if self.is_chosen(pos) || slot.by != By::Found || self.is_renewed(pos) {
                            continue;
                        }
                        slot.part.filter(|p| self.part(*p).cost != UNPRICED)
                    }
                    None => self.any_of(*class),
                };
                let Some(part) = part else { continue };
                let premises = self.reasons_of(open.iter().copied().chain(place));
                let qty = place.map_or(want.qty, |p| self.v.positions[p as usize].qty.max(want.qty));
                let reason = self.reason(&premises, |s| Fact::Apart {
                    what: s.cat.openings[opening as usize].name.clone(),
                    wants: s.name(part),
                    why: want.why.clone(),
                });
                let boxed = self.take_loose(part, qty);
                self.found.comps.push(Comp {
                    key: Key::Apart(opening, *class),
                    part,
                    qty,
                    level: want.level,
                    origin: Origin::Opening,
                    reason,
                    position: place,
                    cause,
                    parent: None,
                    boxed,
                });
            }
        }
    }

    fn is_renewed(&self, pos: Ix) -> bool {
        self.found.comps.iter().any(|c| c.origin == Origin::Opening && c.position == Some(pos))
    }

    /// Circuits that hold the same kind of fluid are filled from the same containers: one rounding for all.
    fn circuits(&mut self) {
        let Some(container) = self.cat.figure_names.get("container") else { return };
        let mut by_fluid: BTreeMap<Ix, Vec<Ix>> = BTreeMap::new();
        for (circuit, entry) in self.v.circuits.iter().enumerate() {
            if entry.positions.iter().any(|p| self.slot(*p).opened) {
                by_fluid.entry(entry.fluid).or_default().push(circuit as Ix);
            }
        }
        let held = self.held();
        for (fluid, circuits) in by_fluid {
            self.fill_circuits(container, fluid, &circuits, &held);
        }
    }

    /// What the fitted parts hold of each circuit.
    fn held(&self) -> Vec<&'a (String, f64)> {
        self.fitted().flat_map(|(_, p)| &self.part(p).holds).collect()
    }

    /// What a circuit takes: its own capacity and what the fitted parts hold.
    fn capacity(&self, circuit: Ix, held: &[&(String, f64)]) -> f64 {
        let entry = &self.v.circuits[circuit as usize];
        let held = held.iter().filter(|(id, _)| *id == entry.id);
        entry.capacity + held.map(|(_, volume)| volume).sum::<f64>()
    }

    fn fill_circuits(&mut self, container: Ix, fluid: Ix, circuits: &[Ix], held: &[&(String, f64)]) {
        let amount: f64 = circuits.iter().map(|c| self.capacity(*c, held)).sum();
        // the cheapest way to fill with containers of one size
        let best = self.cat.by_class[fluid as usize]
            .iter()
            .filter_map(|p| {
                let (_, size) = self.part(*p).figure(container)?.bounds()?;
                (size > 0.0).then(|| (*p, (amount / size - 1e-9).ceil().clamp(1.0, 10_000.0) as u32))
            })
            .min_by_key(|(p, n)| (self.part(*p).cost.saturating_mul(i64::from(*n)), *p));
        let Some((part, qty)) = best else { return };
        let open: Vec<Ix> = circuits
            .iter()
            .flat_map(|c| &self.v.circuits[*c as usize].positions)
            .copied()
            .filter(|p| self.slot(*p).opened)
            .collect();
        let premises = self.reasons_of(open.iter().copied());
        let reason = self.reason(&premises, |s| Fact::CircuitOpened {
            circuit: circuits
                .iter()
                .map(|c| s.v.circuits[*c as usize].name.as_str())
                .collect::<Vec<_>>()
                .join(" and "),
            amount: crate::explain::show(
                amount,
                Some(crate::value::Kind::Dimension(crate::units::Dimension::Volume)),
            ),
        });
        let cause = open.iter().find_map(|p| self.root(*p));
        let boxed = self.take_loose(part, qty);
        self.found.comps.push(Comp {
            key: Key::Fluid(fluid),
            part,
            qty,
            level: Level::Required,
            origin: Origin::Fluid,
            reason,
            position: None,
            cause,
            parent: None,
            boxed,
        });
    }

    fn survey(&mut self) {
        for (position, finding) in &self.sheet.survey {
            // "renew" is outside its limit and wise to cure; "stop" may not be driven
            let level = match finding.verdict {
                Verdict::Stop => Level::Required,
                Verdict::Renew => Level::Advised,
                Verdict::Good | Verdict::Watch => continue,
            };
            let Some(pos) = self.v.position_ix.get(position).copied() else { continue };
            let slot = *self.slot(pos);
            let kept = self.owner[pos as usize]
                .is_none_or(|(route, _)| route == Route::Keep || route == Route::Clean);
            let Some(part) = slot.part.filter(|_| kept && matches!(slot.by, By::Found | By::Owner)) else {
                continue;
            };
            if let Some(comp) =
                self.found.comps.iter_mut().find(|c| c.origin == Origin::Opening && c.position == Some(pos))
            {
                comp.level = comp.level.min(level);
                continue;
            }
            let reason = self.reason(&[slot.reason], |s| Fact::Condemned {
                position: position.clone(),
                place: s.place(pos),
                part: s.name(part),
                note: finding.note.clone(),
                stop: level == Level::Required,
            });
            let qty = self.v.positions[pos as usize].qty;
            self.found.comps.push(Comp {
                key: Key::Survey(pos),
                part,
                qty,
                level,
                origin: Origin::Survey,
                reason,
                position: Some(pos),
                cause: Some(pos),
                parent: None,
                boxed: 0,
            });
        }
    }
}
