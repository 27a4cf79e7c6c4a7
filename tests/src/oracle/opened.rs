//! What is opened, and what the survey says.

use knockon_core::library::{Level, Port};
use knockon_core::sheet::{Route, Verdict as Survey};

use super::values::{Verdict, amount, fields};
use super::{By, Comp, Oracle};

impl<'a> Oracle<'a> {
    pub(super) fn opened(&mut self) {
        for joint in self.v.joints.keys() {
            self.opened_joint(joint);
        }
        for opening in self.lib.openings.keys() {
            self.apart(opening);
        }
        self.fluids();
        for (pos, finding) in &self.sheet.survey {
            self.survey(pos, finding.verdict);
        }
    }

    fn by_price(&self, class: &str) -> Vec<&'a str> {
        let mut list: Vec<&'a str> =
            self.lib.parts.iter().filter(|(_, p)| p.class == class).map(|(id, _)| id.as_str()).collect();
        list.sort_by_key(|id| (self.cost(id), *id));
        list
    }

    fn seal(&self, class: &str, x: &Port, y: &Port) -> Option<&'a str> {
        let suits = |id: &str| {
            let own = self.part(id).ports.values().find(|p| p.port_type == x.port_type);
            own.is_none_or(|own| {
                fields(self.lib, own, x) != Verdict::Broken
                    && (y.port_type != x.port_type || fields(self.lib, own, y) != Verdict::Broken)
            })
        };
        let list = self.by_price(class);
        let loose = list.iter().copied().filter(|id| self.loose(id));
        loose.chain(list.iter().copied()).find(|id| suits(id))
    }

    fn opened_joint(&mut self, joint: &'a str) {
        let ends: Vec<&'a str> = self.v.joints[joint].ends.iter().map(|e| e.at.as_str()).collect();
        let open: Vec<&'a str> = ends.iter().copied().filter(|p| self.slots[p].opened).collect();
        let meeting = self.meeting(joint, &Vec::new());
        if open.is_empty() || meeting.len() < 2 {
            return;
        }
        let mut contacts: Vec<(&'a Port, &'a Port)> = Vec::new();
        let mut from = meeting[0].1;
        for step in self.chains.get(joint).into_iter().flatten() {
            contacts.push((from, step.enter));
            from = step.leave;
        }
        contacts.push((from, meeting[1].1));
        // how many contacts want the same part
        let mut wanted: Vec<(&'a str, &'a str, Level, u32)> = Vec::new();
        for (x, y) in contacts {
            for want in &self.lib.port_types[&x.port_type].opened {
                let Some(part) = self.seal(&want.class, x, y) else { continue };
                match wanted.iter_mut().find(|(class, p, ..)| *class == want.class && *p == part) {
                    Some(same) => same.3 += want.qty,
                    None => wanted.push((&want.class, part, want.level, want.qty)),
                }
            }
        }
        let mut seen: Vec<&str> = Vec::new();
        for (class, part, level, times) in wanted {
            let n = seen.iter().filter(|c| **c == class).count();
            seen.push(class);
            let key =
                if n == 0 { format!("joint:{joint}:{class}") } else { format!("joint:{joint}:{class}:{n}") };
            let qty = times * self.v.joints[joint].qty;
            let boxed = self.take(part, qty);
            let cause = self.cause(&open);
            self.comps.push(Comp {
                key,
                part,
                qty,
                level,
                boxed,
                cause,
                position: None,
                survey: false,
                apart: false,
            });
        }
    }

    fn apart(&mut self, opening: &'a str) {
        let def = &self.lib.openings[opening];
        let open: Vec<&'a str> =
            def.classes.iter().filter_map(|c| self.place_of(c)).filter(|p| self.slots[p].opened).collect();
        if open.is_empty() {
            return;
        }
        for want in &def.wants {
            let place = self.place_of(&want.class);
            let part = match place {
                Some(pos) => {
                    let renewed = self.comps.iter().any(|c| c.apart && c.position == Some(pos));
                    if self.chosen(pos) || self.slots[pos].by != By::Found || renewed {
                        continue;
                    }
                    self.slots[pos].part.filter(|p| self.part(p).price.is_some())
                }
                None => {
                    let list = self.by_price(&want.class);
                    list.iter().find(|id| self.loose(id)).or(list.first()).copied()
                }
            };
            let Some(part) = part else { continue };
            let qty = place.map_or(want.qty, |p| self.v.positions[p].qty.max(want.qty));
            let boxed = self.take(part, qty);
            let key = format!("apart:{opening}:{}", want.class);
            let cause = self.cause(&open);
            let level = want.level;
            self.comps.push(Comp {
                key,
                part,
                qty,
                level,
                boxed,
                cause,
                position: place,
                survey: false,
                apart: true,
            });
        }
    }

    fn fluids(&mut self) {
        let mut litres = 0.0;
        for circuit in self.v.circuits.values() {
            if circuit.positions.iter().any(|p| self.slots[p.as_str()].opened) {
                litres += amount(&circuit.capacity).0;
            }
        }
        if litres == 0.0 {
            return;
        }
        let count = |id: &str| {
            let size = amount(self.part(id).figures["container"].as_str().unwrap_or("")).0;
            (litres / size - 1e-9).ceil() as u32
        };
        let best = self
            .by_price("fluid")
            .into_iter()
            .min_by_key(|id| (self.cost(id) * rust_decimal::Decimal::from(count(id)), *id));
        let Some(part) = best else { return };
        let qty = count(part);
        let boxed = self.take(part, qty);
        let (key, level) = ("fluid:fluid".to_owned(), Level::Required);
        self.comps.push(Comp {
            key,
            part,
            qty,
            level,
            boxed,
            cause: None,
            position: None,
            survey: false,
            apart: false,
        });
    }

    fn survey(&mut self, pos: &'a str, verdict: Survey) {
        let level = match verdict {
            Survey::Stop => Level::Required,
            Survey::Renew => Level::Advised,
            Survey::Good | Survey::Watch => return,
        };
        let route = self.plan.routes.get(pos).map(|c| c.route);
        let kept = matches!(route, None | Some(Route::Keep | Route::Clean));
        let slot = self.slots[pos];
        let Some(part) = slot.part.filter(|_| kept && matches!(slot.by, By::Found | By::Owner)) else {
            return;
        };
        if let Some(comp) = self.comps.iter_mut().find(|c| c.apart && c.position == Some(pos)) {
            comp.level = comp.level.min(level);
            return;
        }
        let qty = self.v.positions[pos].qty;
        let key = format!("survey:{pos}");
        self.comps.push(Comp {
            key,
            part,
            qty,
            level,
            boxed: 0,
            cause: Some(pos),
            position: Some(pos),
            survey: true,
            apart: false,
        });
    }
}
