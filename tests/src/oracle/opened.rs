//! What is opened, and what the survey says. First it is settled which places are apart, round by round: a renewal opens
//! its place, and what an open place has renewed beside it is open as well. Then everything open is asked what it wants.

use std::collections::BTreeMap;

use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::{Level, Port, Want, Whereabouts};
use knockon_core::sheet::Verdict as Survey;

use super::places::together;
use super::values::{Verdict, amount, fields, open_fields};
use super::{By, Comp, Meeting, Oracle};

/// A place that is apart, and how much that is asked for.
pub(super) type Open<'a> = BTreeMap<&'a str, Level>;

/// A part renewed in a place nobody chose for.
#[derive(Clone)]
pub(super) struct Renewed<'a> {
    pub(super) key: CompanionKey,
    /// The opening that asked first, and where; none where the survey, its age or a joint did.
    pub(super) by: Option<Spot<'a>>,
    /// A joint asked first.
    pub(super) joint: bool,
    pub(super) part: &'a str,
    pub(super) qty: u32,
    pub(super) level: Level,
    /// The survey asked for it, or its age did.
    pub(super) survey: bool,
}

pub(super) type Renewals<'a> = BTreeMap<&'a str, Renewed<'a>>;

/// An opening, and one of the spots where the vehicle has it.
#[derive(Clone, PartialEq)]
pub(super) struct Spot<'a> {
    pub(super) opening: &'a str,
    pub(super) words: Whereabouts,
    /// The vehicle has it at others too.
    several: bool,
}

impl<'a> Oracle<'a> {
    pub(super) fn opened(&mut self) -> (Open<'a>, Renewals<'a>) {
        let (open, renewed) = self.apart();
        for joint in self.v.joints.keys() {
            if !self.superseded(joint) {
                self.opened_joint(joint, &open, &renewed);
            }
        }
        for (pos, renewal) in renewed.iter().filter(|(_, r)| r.joint) {
            self.renewal(pos, renewal.clone());
        }
        for spot in self.spots() {
            self.while_apart(&spot, &open, &renewed);
        }
        self.fluids(&open);
        for (pos, renewal) in renewed.clone().into_iter().filter(|(_, r)| r.survey) {
            self.renewal(pos, renewal);
        }
        self.ages_not_known(&open, &renewed);
        (open, renewed)
    }

    /// The survey, then ages, then openings until nothing changes.
    fn apart(&self) -> (Open<'a>, Renewals<'a>) {
        let mut open = Open::new();
        for (pos, slot) in &self.slots {
            if slot.opened {
                open.insert(pos, Level::Required);
            }
        }
        let mut renewed = Renewals::new();
        for (pos, verdict) in &self.survey {
            let Some((pos, _)) = self.v.positions.get_key_value(pos) else { continue };
            self.survey(pos, *verdict, &mut open, &mut renewed);
        }
        self.outlived(&mut open, &mut renewed);
        // openings until nothing is added, then joints, then openings again
        loop {
            if self.adds(&mut open, &mut renewed, Self::round) {
                continue;
            }
            if !self.adds(&mut open, &mut renewed, Self::seals_in_place) {
                return (open, renewed);
            }
        }
    }

    /// Whether a look opens something that was shut, or opens it more surely.
    fn adds(
        &self,
        open: &mut Open<'a>,
        renewed: &mut Renewals<'a>,
        look: fn(&Self, &mut Open<'a>, &mut Renewals<'a>),
    ) -> bool {
        let before = open.clone();
        look(self, open, renewed);
        before != *open
    }

    /// What an opened joint wants that has a place on this vehicle is renewed there.
    fn seals_in_place(&self, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        let mut wanted = Vec::new();
        for (joint, def) in &self.v.joints {
            let ends: Vec<&'a str> = def.ends.iter().map(|e| e.at.as_str()).collect();
            let meeting = self.meeting(joint);
            if meeting.len() < 2 || Self::call(open, &ends).is_none() || self.superseded(joint) {
                continue;
            }
            for (x, _) in self.contacts(joint, &meeting) {
                for want in &self.lib.port_types[&x.port_type].opened {
                    let mut places = self.bearing(&want.class, &want.whereabouts);
                    places.retain(|pos| ends.iter().all(|end| together(self.spot(pos), self.spot(end))));
                    wanted.extend(places.into_iter().map(|pos| (ends.clone(), want, pos)));
                }
            }
        }
        for (ends, want, pos) in wanted {
            let Some(level) = Self::call(open, &ends) else { continue };
            self.renew_in_place(pos, want, None, level, open, renewed);
        }
    }

    fn renew_in_place(
        &self,
        pos: &'a str,
        want: &Want,
        by: Option<&Spot<'a>>,
        level: Level,
        open: &mut Open<'a>,
        renewed: &mut Renewals<'a>,
    ) {
        let free = !self.chosen(pos) && self.slots[pos].by == By::Found;
        let new = self.slots[pos].part.filter(|p| free && self.part(p).price.is_some());
        let Some(part) = renewed.get(pos).map(|r| r.part).or(new) else { return };
        let new = Renewed {
            key: CompanionKey::beside(pos),
            by: by.cloned(),
            joint: by.is_none(),
            part,
            qty: self.v.positions[pos].qty.max(want.qty),
            level: level.max(want.level),
            survey: false,
        };
        self.renew(pos, new, open, renewed);
    }

    /// How strongly some places are taken apart; none where all are shut.
    pub(super) fn call(open: &Open<'a>, places: &[&'a str]) -> Option<Level> {
        places.iter().filter_map(|p| open.get(p)).copied().min()
    }

    /// Every place of an opening; none on a vehicle that is not built as it wants.
    fn everywhere(&self, opening: &str) -> Vec<&'a str> {
        let built = &self.lib.openings[opening].built;
        if !built.is_empty() && !built.iter().any(|word| self.v.built.contains(word)) {
            return Vec::new();
        }
        let classes = self.lib.openings[opening].classes.iter();
        let all: Vec<&'a str> = classes.flat_map(|c| self.bearing(&c.class, &c.whereabouts)).collect();
        let mut once: Vec<&'a str> = Vec::new();
        for pos in all {
            if !once.contains(&pos) {
                once.push(pos);
            }
        }
        once
    }

    /// All openings at their spots: the words of a place of theirs that no other place says more closely.
    pub(super) fn spots(&self) -> Vec<Spot<'a>> {
        let mut out = Vec::new();
        for opening in self.lib.openings.keys() {
            let mut words: Vec<&Whereabouts> =
                self.everywhere(opening).iter().map(|pos| self.spot(pos)).collect();
            words.sort();
            words.dedup();
            let closest = |w: &&&Whereabouts| !words.iter().any(|o| o != *w && o.bears(w));
            let closest: Vec<&Whereabouts> = words.iter().filter(closest).copied().collect();
            let several = closest.len() > 1;
            out.extend(closest.into_iter().map(|w| Spot { opening, words: w.clone(), several }));
        }
        out
    }

    pub(super) fn places(&self, spot: &Spot<'a>) -> Vec<&'a str> {
        let all = self.everywhere(spot.opening).into_iter();
        all.filter(|pos| together(self.spot(pos), &spot.words)).collect()
    }

    fn round(&self, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        for spot in self.spots() {
            let wants = &self.lib.openings[spot.opening].wants;
            let wanted = wants.iter().flat_map(|want| {
                let places = self.meant(&want.class, &want.whereabouts, &spot.words);
                places.into_iter().map(move |pos| (want, pos))
            });
            for (want, pos) in wanted.collect::<Vec<_>>() {
                // what was renewed a moment ago counts for the next want
                let Some(level) = Self::call(open, &self.places(&spot)) else { continue };
                self.renew_in_place(pos, want, Some(&spot), level, open, renewed);
            }
        }
    }

    /// A place is renewed once, for the first reason and as strongly as the strongest asks; left out, it opens nothing.
    pub(super) fn renew(
        &self,
        pos: &'a str,
        new: Renewed<'a>,
        open: &mut Open<'a>,
        renewed: &mut Renewals<'a>,
    ) {
        let level = new.level;
        let entry = renewed.entry(pos).or_insert(new);
        entry.level = entry.level.min(level);
        if !self.plan.waived.contains_key(&entry.key) {
            let apart = open.entry(pos).or_insert(entry.level);
            *apart = entry.level.min(*apart);
        }
    }

    fn survey(&self, pos: &'a str, verdict: Survey, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        let Some(part) = self.kept(pos) else { return };
        // outside its limit, and people depend on it: asked for as what was stopped is
        let level = match verdict {
            Survey::Stop => Level::Required,
            Survey::Renew if self.part(part).safety => Level::Required,
            Survey::Renew => Level::Advised,
            Survey::Good | Survey::Watch => return,
        };
        // over its age as well it is asked for as strongly as either asks
        let level = self.too_old(pos).map_or(level, |(_, asked)| level.min(asked));
        let (key, qty) = (CompanionKey::survey(pos), self.v.positions[pos].qty);
        let new = Renewed { key, by: None, joint: false, part, qty, level, survey: true };
        self.renew(pos, new, open, renewed);
    }

    fn renewal(&mut self, pos: &'a str, renewal: Renewed<'a>) {
        let Renewed { key, part, qty, level, survey, .. } = renewal;
        let boxed = self.take_for(&key, part, qty);
        self.comps.push(Comp { key, part, qty, level, boxed, by: None, position: Some(pos), survey });
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

    /// The ports that touch at a joint, with the bridges between.
    fn contacts(&self, joint: &str, meeting: &Meeting<'a>) -> Vec<(&'a Port, &'a Port)> {
        let mut contacts: Vec<(&'a Port, &'a Port)> = Vec::new();
        let mut from = meeting[0].1;
        for step in self.chains.get(joint).into_iter().flatten() {
            contacts.push((from, step.enter));
            from = step.leave;
        }
        contacts.push((from, meeting[1].1));
        contacts
    }

    fn opened_joint(&mut self, joint: &'a str, open: &Open<'a>, renewed: &Renewals<'a>) {
        let ends: Vec<&'a str> = self.v.joints[joint].ends.iter().map(|e| e.at.as_str()).collect();
        let meeting = self.meeting(joint);
        let Some(asked) = Self::call(open, &ends).filter(|_| meeting.len() >= 2) else { return };
        let contacts = self.contacts(joint, &meeting);
        // how many contacts want the same part
        let mut wanted: Vec<(&'a str, &'a str, Level, u32)> = Vec::new();
        for (x, y) in contacts {
            for want in &self.lib.port_types[&x.port_type].opened {
                let seal = self.seal(&want.class, x, y).filter(|_| self.used_loose(&want.class));
                let Some(part) = seal else { continue };
                // which one it is hangs on what nobody measured
                let is_any = |end: &Port, other: &Port| {
                    let mut own = self.part(part).ports.values().filter(|own| own.port_type == end.port_type);
                    own.any(|own| {
                        let mut open = open_fields(self.lib, own, end).into_iter();
                        fields(self.lib, own, end) == Verdict::Open
                            && open.any(|(field, _)| !self.told_by_other(joint, &field, end, other))
                    })
                };
                if is_any(x, y) || is_any(y, x) {
                    self.unknowns.insert(CheckKey::joint(joint));
                    self.want_for_seal(joint, part, renewed);
                }
                match wanted.iter_mut().find(|(class, p, ..)| *class == want.class && *p == part) {
                    Some(same) => same.3 += want.qty,
                    None => wanted.push((&want.class, part, want.level, want.qty)),
                }
            }
        }
        let mut seen: Vec<&str> = Vec::new();
        for (class, part, level, times) in wanted {
            let n = seen.iter().filter(|c| **c == class).count() as u32;
            seen.push(class);
            let key = CompanionKey::Seal { joint: joint.to_owned(), class: class.to_owned(), n };
            let qty = times * self.v.joints[joint].qty;
            let boxed = self.take_for(&key, part, qty);
            let level = level.max(asked);
            self.comps.push(Comp { key, part, qty, level, boxed, by: None, position: None, survey: false });
        }
    }

    fn while_apart(&mut self, spot: &Spot<'a>, open: &Open<'a>, renewed: &Renewals<'a>) {
        let Some(asked) = Self::call(open, &self.places(spot)) else { return };
        for want in &self.lib.openings[spot.opening].wants {
            for pos in self.meant(&want.class, &want.whereabouts, &spot.words) {
                if let Some(renewal) = renewed.get(pos).filter(|r| r.by.as_ref() == Some(spot)) {
                    self.renewal(pos, renewal.clone());
                }
            }
            if !self.places_of(&want.class).is_empty() {
                continue;
            }
            let words = spot.words.words().filter(|_| spot.several);
            let at = words.map(str::to_owned).collect();
            let key = CompanionKey::Apart { opening: spot.opening.to_owned(), at, class: want.class.clone() };
            let list = self.by_price(&want.class);
            let loose = list.iter().find(|id| self.loose(id));
            let part = loose.or(list.first()).copied().filter(|_| self.used_loose(&want.class));
            let Some(part) = part else { continue };
            let boxed = self.take_for(&key, part, want.qty);
            let (qty, level) = (want.qty, want.level.max(asked));
            self.comps.push(Comp { key, part, qty, level, boxed, by: None, position: None, survey: false });
        }
    }

    /// How strongly a circuit asks to be filled; none where it stays full of what is in it.
    pub(super) fn runs_out(&self, circuit: &str, open: &Open<'a>) -> Option<Level> {
        let circuit_places = self.v.circuits[circuit].positions.iter();
        let places: Vec<&'a str> = circuit_places.map(String::as_str).collect();
        // what is taken off lets the circuit run out, as long as something of it stays
        let off = |pos: &&str| self.slots[*pos].part.is_none() && self.found(pos).is_some();
        let stays = |pos: &&str| self.slots[*pos].part.is_some();
        let runs_out = places.iter().any(off) && places.iter().any(stays);
        let taken_off = runs_out.then_some(Level::Required);
        let called = Self::call(open, &places);
        called.into_iter().chain(taken_off).chain(self.stale(circuit)).min()
    }

    fn fluids(&mut self, open: &Open<'a>) {
        let mut litres = 0.0;
        let mut calls = Vec::new();
        for (id, circuit) in &self.v.circuits {
            if let Some(level) = self.runs_out(id, open) {
                litres += amount(&circuit.capacity).0;
                calls.push(level);
            }
        }
        let Some(level) = calls.into_iter().min() else { return };
        for (n, (part, qty)) in self.containers("fluid", litres).into_iter().enumerate() {
            let key = CompanionKey::Fluid { class: "fluid".to_owned(), n: n as u32 };
            let boxed = self.take_for(&key, part, qty);
            self.comps.push(Comp { key, part, qty, level, boxed, by: None, position: None, survey: false });
        }
    }
}
