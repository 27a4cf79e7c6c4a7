//! What is opened, and what the survey says. First it is settled which places are apart, round by round: a renewal opens
//! its place, and what an open place has renewed beside it is open as well. Then everything open is asked what it wants.

use std::collections::BTreeMap;

use knockon_core::library::{Level, Port};
use knockon_core::sheet::{Route, Verdict as Survey};

use super::values::{Verdict, amount, fields};
use super::{By, Comp, Oracle};

/// A place that is apart: how much that is asked for, and whose choice it goes back to.
type Open<'a> = BTreeMap<&'a str, (Level, Option<&'a str>)>;

/// A part renewed in a place nobody chose for.
#[derive(Clone)]
struct Renewed<'a> {
    key: String,
    /// The opening that asked first.
    by: Option<&'a str>,
    part: &'a str,
    qty: u32,
    level: Level,
    cause: Option<&'a str>,
    survey: bool,
}

type Renewals<'a> = BTreeMap<&'a str, Renewed<'a>>;

impl<'a> Oracle<'a> {
    pub(super) fn opened(&mut self) {
        let (open, renewed) = self.apart();
        for joint in self.v.joints.keys() {
            self.opened_joint(joint, &open);
        }
        for opening in self.lib.openings.keys() {
            self.while_apart(opening, &open, &renewed);
        }
        self.fluids(&open);
        for (pos, renewal) in renewed.into_iter().filter(|(_, r)| r.survey) {
            self.renewal(pos, renewal);
        }
    }

    /// The survey, then openings until nothing changes.
    fn apart(&self) -> (Open<'a>, Renewals<'a>) {
        let mut open = Open::new();
        for (pos, slot) in &self.slots {
            if slot.opened {
                open.insert(pos, (Level::Required, self.root(pos)));
            }
        }
        let mut renewed = Renewals::new();
        for (pos, finding) in &self.sheet.survey {
            self.survey(pos, finding.verdict, &mut open, &mut renewed);
        }
        loop {
            let before: Vec<(&str, Level)> = open.iter().map(|(p, o)| (*p, o.0)).collect();
            self.round(&mut open, &mut renewed);
            if before == open.iter().map(|(p, o)| (*p, o.0)).collect::<Vec<_>>() {
                return (open, renewed);
            }
        }
    }

    /// How strongly some places are taken apart, and for whom; none where all are shut.
    fn call(open: &Open<'a>, places: &[&'a str]) -> Option<(Level, Option<&'a str>)> {
        let calls: Vec<_> = places.iter().filter_map(|p| open.get(p)).collect();
        let level = calls.iter().map(|c| c.0).min()?;
        Some((level, calls.iter().find_map(|c| c.1)))
    }

    fn places(&self, opening: &str) -> Vec<&'a str> {
        self.lib.openings[opening].classes.iter().filter_map(|c| self.place_of(c)).collect()
    }

    fn round(&self, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        for (opening, def) in &self.lib.openings {
            for want in &def.wants {
                // what was renewed a moment ago counts for the next want
                let Some((level, cause)) = Self::call(open, &self.places(opening)) else { continue };
                let Some(pos) = self.place_of(&want.class) else { continue };
                let free = !self.chosen(pos) && self.slots[pos].by == By::Found;
                let new = self.slots[pos].part.filter(|p| free && self.part(p).price.is_some());
                let Some(part) = renewed.get(pos).map(|r| r.part).or(new) else { continue };
                let new = Renewed {
                    key: format!("beside:{pos}"),
                    by: Some(opening),
                    part,
                    qty: self.v.positions[pos].qty.max(want.qty),
                    level: level.max(want.level),
                    cause,
                    survey: false,
                };
                self.renew(pos, new, open, renewed);
            }
        }
    }

    /// A place is renewed once, for the first reason and as strongly as the strongest asks; left out, it opens nothing.
    fn renew(&self, pos: &'a str, new: Renewed<'a>, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        let level = new.level;
        let entry = renewed.entry(pos).or_insert(new);
        entry.level = entry.level.min(level);
        if !self.plan.waived.contains_key(&entry.key) {
            let apart = open.entry(pos).or_insert((entry.level, entry.cause));
            if entry.level < apart.0 {
                *apart = (entry.level, entry.cause);
            }
        }
    }

    fn survey(&self, pos: &'a str, verdict: Survey, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        let level = match verdict {
            Survey::Stop => Level::Required,
            Survey::Renew => Level::Advised,
            Survey::Good | Survey::Watch => return,
        };
        let route = self.plan.routes.get(pos).map(|c| c.route);
        let kept = matches!(route, None | Some(Route::Keep | Route::Clean)) && !self.idle(pos);
        let slot = self.slots[pos];
        let Some(part) = slot.part.filter(|_| kept && matches!(slot.by, By::Found | By::Owner)) else {
            return;
        };
        let (key, qty) = (format!("survey:{pos}"), self.v.positions[pos].qty);
        let new = Renewed { key, by: None, part, qty, level, cause: Some(pos), survey: true };
        self.renew(pos, new, open, renewed);
    }

    fn renewal(&mut self, pos: &'a str, renewal: Renewed<'a>) {
        let Renewed { key, part, qty, level, cause, survey, .. } = renewal;
        let boxed = self.take_for(&key, part, qty);
        self.comps.push(Comp { key, part, qty, level, boxed, cause, position: Some(pos), survey });
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

    fn opened_joint(&mut self, joint: &'a str, open: &Open<'a>) {
        let ends: Vec<&'a str> = self.v.joints[joint].ends.iter().map(|e| e.at.as_str()).collect();
        let meeting = self.meeting(joint, &Vec::new());
        let Some((asked, cause)) = Self::call(open, &ends).filter(|_| meeting.len() >= 2) else { return };
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
            let boxed = self.take_for(&key, part, qty);
            let level = level.max(asked);
            self.comps.push(Comp { key, part, qty, level, boxed, cause, position: None, survey: false });
        }
    }

    fn while_apart(&mut self, opening: &'a str, open: &Open<'a>, renewed: &Renewals<'a>) {
        let Some((asked, cause)) = Self::call(open, &self.places(opening)) else { return };
        for want in &self.lib.openings[opening].wants {
            if let Some(pos) = self.place_of(&want.class) {
                if let Some(renewal) = renewed.get(pos).filter(|r| r.by == Some(opening)) {
                    self.renewal(pos, renewal.clone());
                }
                continue;
            }
            let key = format!("apart:{opening}:{}", want.class);
            let list = self.by_price(&want.class);
            let loose = list.iter().find(|id| self.loose(id));
            let Some(part) = loose.or(list.first()).copied() else { continue };
            let boxed = self.take_for(&key, part, want.qty);
            let (qty, level) = (want.qty, want.level.max(asked));
            self.comps.push(Comp { key, part, qty, level, boxed, cause, position: None, survey: false });
        }
    }

    fn fluids(&mut self, open: &Open<'a>) {
        let mut litres = 0.0;
        let mut calls = Vec::new();
        for circuit in self.v.circuits.values() {
            let places: Vec<&'a str> = circuit.positions.iter().map(String::as_str).collect();
            // what is taken off lets the circuit run out, as long as something of it stays
            let off = |pos: &&str| self.slots[*pos].part.is_none() && self.found(pos).is_some();
            let stays = |pos: &&str| self.slots[*pos].part.is_some();
            let runs_out = places.iter().any(off) && places.iter().any(stays);
            let taken_off = runs_out.then_some((Level::Required, None));
            let calls_it = Self::call(open, &places);
            if let Some(call) = calls_it.into_iter().chain(taken_off).min_by_key(|call| call.0) {
                litres += amount(&circuit.capacity).0;
                calls.push(call.0);
            }
        }
        let Some(level) = calls.into_iter().min() else { return };
        for (n, (part, qty)) in self.containers("fluid", litres).into_iter().enumerate() {
            let key = if n == 0 { "fluid:fluid".to_owned() } else { format!("fluid:fluid:{n}") };
            let boxed = self.take_for(&key, part, qty);
            self.comps.push(Comp {
                key,
                part,
                qty,
                level,
                boxed,
                cause: None,
                position: None,
                survey: false,
            });
        }
    }
}
