//! What is opened wants its gaskets, seals and fluid; what the survey condemned is not kept in silence.

use super::agree::agree;
use super::bench::{Bench, By, Comp, Key};
use super::fills::Overlay;
use crate::assessment::Origin;
use crate::catalogue::{Ix, UNPRICED};
use crate::library::Level;
use crate::reason::Fact;
use crate::sheet::{Route, Verdict};
use crate::value::Verdict3;

impl Bench<'_> {
    pub fn opened(&mut self) {
        self.opened_joints();
        self.openings();
        self.circuits();
        self.survey();
    }

    fn opened_joints(&mut self) {
        for joint in 0..self.v.joints.len() as Ix {
            let entry = &self.v.joints[joint as usize];
            let open: Vec<Ix> = entry.ends.iter().map(|(p, _)| *p).filter(|p| self.slot(*p).opened).collect();
            if open.is_empty() {
                continue;
            }
            let meeting = self.meeting(joint, &Overlay::new());
            if meeting.len() < 2 {
                continue;
            }
            let ty = meeting[0].1.port_type;
            let seams = 1 + self
                .found
                .comps
                .iter()
                .filter(|c| {
                    matches!(c.key, Key::Bridge(j, _) if j == joint)
                        && self.part(c.part).ports.iter().any(|p| p.port_type == ty)
                })
                .count() as u32;
            for (class, want) in &self.cat.port_types[ty as usize].opened {
                let list = self.cat.by_class[*class as usize].clone();
                let fits = |p: &Ix| {
                    let part = self.part(*p);
                    match part.ports.iter().find(|x| x.port_type == ty) {
                        Some(port) => meeting.iter().any(|(_, m)| {
                            let mut m = (*m).clone();
                            m.role = port.role;
                            let mut p = port.clone();
                            p.role = crate::library::Role::Plain;
                            m.role = crate::library::Role::Plain;
                            agree(self.cat, &p, &m).verdict != Verdict3::Broken
                        }),
                        None => true,
                    }
                };
                let part = list
                    .iter()
                    .copied()
                    .find(|p| self.is_loose(*p) && fits(p))
                    .or_else(|| list.iter().copied().find(fits));
                let Some(part) = part else { continue };
                let qty = want.qty * entry.qty * seams;
                let premises: Vec<_> = open.iter().map(|p| self.slot(*p).reason).collect();
                let reason = self.reason(&premises, |s| Fact::Opened {
                    what: s.v.joints[joint as usize].name.clone(),
                    wants: s.name(part),
                    why: want.why.clone(),
                });
                let in_kit = self.take_loose(part, qty) || self.take_loose(part, 1);
                let cause = open.iter().find_map(|p| self.root(*p));
                self.found.comps.push(Comp {
                    key: Key::Open(joint, *class),
                    part,
                    qty,
                    level: want.level,
                    origin: Origin::Joint,
                    reason,
                    position: None,
                    cause,
                    parent: None,
                    in_kit,
                });
            }
        }
    }

    fn openings(&mut self) {
        for opening in 0..self.cat.openings.len() as Ix {
            let entry = &self.cat.openings[opening as usize];
            let open: Vec<Ix> = entry
                .classes
                .iter()
                .filter_map(|c| self.v.by_class.get(c).copied())
                .filter(|p| self.slot(*p).opened)
                .collect();
            if open.is_empty() {
                continue;
            }
            let premises: Vec<_> = open.iter().map(|p| self.slot(*p).reason).collect();
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
                    None => {
                        let list = &self.cat.by_class[*class as usize];
                        list.iter().copied().find(|p| self.is_loose(*p)).or_else(|| list.first().copied())
                    }
                };
                let Some(part) = part else { continue };
                let qty = place.map_or(want.qty, |p| self.v.positions[p as usize].qty.max(want.qty));
                let reason = self.reason(&premises, |s| Fact::Opened {
                    what: s.cat.openings[opening as usize].name.clone(),
                    wants: s.name(part),
                    why: want.why.clone(),
                });
                let in_kit = self.take_loose(part, qty) || self.take_loose(part, 1);
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
                    in_kit,
                });
            }
        }
    }

    fn is_renewed(&self, pos: Ix) -> bool {
        self.found.comps.iter().any(|c| c.origin == Origin::Opening && c.position == Some(pos))
    }

    fn circuits(&mut self) {
        for circuit in 0..self.v.circuits.len() as Ix {
            let entry = &self.v.circuits[circuit as usize];
            let open: Vec<Ix> = entry.positions.iter().copied().filter(|p| self.slot(*p).opened).collect();
            if open.is_empty() {
                continue;
            }
            let held: f64 = self
                .slots
                .iter()
                .filter_map(|s| s.part)
                .flat_map(|p| self.part(p).holds.iter())
                .filter(|(id, _)| *id == entry.id)
                .map(|(_, v)| v)
                .sum();
            let amount = entry.capacity + held;
            let Some(container) = self.cat.figure_names.get("container") else { continue };
            // the cheapest way to fill with containers of one size
            let best = self.cat.by_class[entry.fluid as usize]
                .iter()
                .filter_map(|p| {
                    let (_, size) = self.part(*p).figure(container)?.bounds()?;
                    (size > 0.0).then(|| (*p, (amount / size - 1e-9).ceil().clamp(1.0, 10_000.0) as u32))
                })
                .min_by_key(|(p, n)| (self.part(*p).cost.saturating_mul(i64::from(*n)), *p));
            let Some((part, qty)) = best else { continue };
            let premises: Vec<_> = open.iter().map(|p| self.slot(*p).reason).collect();
            let reason = self.reason(&premises, |s| Fact::CircuitOpened {
                circuit: s.v.circuits[circuit as usize].name.clone(),
                amount: crate::explain::show(
                    amount,
                    Some(crate::value::Kind::Dimension(crate::units::Dimension::Volume)),
                ),
            });
            let cause = open.iter().find_map(|p| self.root(*p));
            self.found.comps.push(Comp {
                key: Key::Fluid(circuit, entry.fluid),
                part,
                qty,
                level: Level::Required,
                origin: Origin::Fluid,
                reason,
                position: None,
                cause,
                parent: None,
                in_kit: false,
            });
        }
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
                in_kit: false,
            });
        }
    }
}
