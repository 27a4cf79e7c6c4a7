//! The slow, obvious second implementation of `assess`: no numbers for words, no index, no memory of what was searched,
//! every part looked at and every chain of bridges tried. It reads the files as written and shares no code with the
//! engine beyond the types of those files and their keys; it knows what the generator writes, not all that a library may hold.

mod ages;
mod boxes;
mod chains;
mod decide;
mod either;
mod fluids;
mod later;
mod limits;
mod measured;
mod needs;
mod once;
mod opened;
mod places;
mod survey;
mod values;

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::key::{CheckKey, CompanionKey, FactKey};
use knockon_core::library::{Alone, Level, LibraryFile, Part, Port, Vehicle};
use knockon_core::sheet::{LineState, Plan, Route, Sheet};
use rust_decimal::Decimal;
use values::{Verdict, agree, amount};

/// A companion: key, part, how many, level, how many out of a box.
pub type Companion = (CompanionKey, String, u32, Level, u32);

/// Something to be done later: what, after which distances and times or by which day, how much it is asked for, where, and
/// the companions it goes with.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Later {
    /// What is to be done.
    pub what: String,
    /// Distances and times as written; or the day: "by 2026-05-01", "due since 2020-01-01".
    pub when: BTreeSet<String>,
    /// Required or advised.
    pub level: Level,
    /// Position ids.
    pub positions: BTreeSet<String>,
    /// Companion keys.
    pub companions: BTreeSet<CompanionKey>,
}

/// What the oracle finds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Findings {
    /// Companions.
    pub companions: BTreeSet<Companion>,
    /// Keys of clashes.
    pub clashes: BTreeSet<CheckKey>,
    /// Keys of advice that nothing meets.
    pub unmet: BTreeSet<CheckKey>,
    /// Keys of checks to measure.
    pub unknowns: BTreeSet<CheckKey>,
    /// Keys of limits that hold with little left.
    pub close: BTreeSet<CheckKey>,
    /// Values at ports that an open joint wants: the check and the key of the value, and of the one that does instead.
    pub wanted: BTreeSet<(CheckKey, FactKey, Option<FactKey>)>,
    /// Positions whose as-found part is taken off.
    pub surplus: BTreeSet<String>,
    /// What is to be done later.
    pub later: BTreeSet<Later>,
    /// All that is bought or worked on, in money, with what is bought and not wanted; what is in hand or fitted counts for
    /// what was paid.
    pub money: Decimal,
    /// Own hours for it, for each piece.
    pub hours: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By<'a> {
    Found,
    Owner,
    Kit(&'a str),
    Fill,
    Gone,
}

#[derive(Clone, Copy, Debug)]
struct Slot<'a> {
    part: Option<&'a str>,
    by: By<'a>,
    changed: bool,
    opened: bool,
}

#[derive(Clone, Debug)]
struct Comp<'a> {
    key: CompanionKey,
    part: &'a str,
    qty: u32,
    level: Level,
    boxed: u32,
    /// The place it belongs to, for what it asks.
    by: Option<&'a str>,
    position: Option<&'a str>,
    survey: bool,
}

struct Oracle<'a> {
    lib: &'a LibraryFile,
    v: &'a Vehicle,
    sheet: &'a Sheet,
    /// What the survey says of each place: a person, and what was read and seen.
    survey: BTreeMap<String, knockon_core::sheet::Verdict>,
    plan: &'a Plan,
    slots: BTreeMap<&'a str, Slot<'a>>,
    /// What is put into places nobody chose for.
    fills: BTreeMap<&'a str, &'a str>,
    gone: BTreeSet<&'a str>,
    /// Loose parts of chosen kits, in the order of their ids.
    stock: Vec<boxes::Content<'a>>,
    /// How many of the part at a position come out of the box of a kit elsewhere.
    from_box: BTreeMap<&'a str, u32>,
    comps: Vec<Comp<'a>>,
    /// Keys that ask for the same service, by the first of them.
    once: BTreeMap<CompanionKey, Vec<CompanionKey>>,
    chains: BTreeMap<&'a str, Vec<chains::Step<'a>>>,
    clashes: BTreeSet<CheckKey>,
    unmet: BTreeSet<CheckKey>,
    unknowns: BTreeSet<CheckKey>,
    close: BTreeSet<CheckKey>,
    wanted: BTreeSet<(CheckKey, FactKey, Option<FactKey>)>,
    later: BTreeSet<Later>,
    /// The day of the assessment.
    on: ages::Day,
    dirty: bool,
    /// The limits, once for each set of places they are about.
    runs: Vec<limits::Run<'a>>,
}

/// What a joint is asked through: position and port.
type Meeting<'a> = Vec<(&'a str, &'a Port)>;

pub use decide::{Decisions, Line, all_earn, best_of_all, best_where, combinations, derive, values};

impl<'a> Oracle<'a> {
    fn part(&self, id: &str) -> &'a Part {
        &self.lib.parts[id]
    }

    fn found(&self, pos: &str) -> Option<&'a str> {
        match self.sheet.as_found.get(pos) {
            Some(otherwise) => otherwise.as_deref(),
            None => self.v.positions[pos].as_found.as_deref(),
        }
    }

    /// Price for ordering; what nobody has priced comes last.
    fn cost(&self, part: &str) -> Decimal {
        self.part(part).price.as_ref().map_or(Decimal::from(1_000_000_000), |m| m.amount)
    }

    /// Parts of a class are used without a place: it is free or a service, and this vehicle has no place for it.
    fn used_loose(&self, class: &str) -> bool {
        let def = &self.lib.classes[class];
        (def.free || def.service) && self.places_of(class).is_empty()
    }

    fn chosen(&self, pos: &str) -> bool {
        self.plan.routes.contains_key(pos)
    }

    fn pass(&mut self) {
        self.dirty = false;
        self.comps.clear();
        self.chains.clear();
        self.clashes.clear();
        self.unmet.clear();
        self.unknowns.clear();
        self.close.clear();
        self.wanted.clear();
        self.settle();
        for joint in self.v.joints.keys() {
            self.joint(joint);
        }
        self.not_joined();
        for stage in [Self::surplus, Self::needs, Self::pools, Self::limits] {
            if !self.dirty {
                stage(self);
            }
        }
    }

    fn settle(&mut self) {
        self.stock.clear();
        self.from_box.clear();
        let mut kits: Vec<(&'a str, &'a str)> = Vec::new();
        for pos in self.v.positions.keys() {
            let found = self.found(pos);
            let mut slot = Slot { part: found, by: By::Found, changed: false, opened: false };
            if let Some(choice) = self.plan.routes.get(pos) {
                slot.by = if choice.route == Route::Keep { By::Found } else { By::Owner };
                slot.opened = !matches!(choice.route, Route::Keep | Route::LeaveOff) && found.is_some();
                if choice.route == Route::Convert {
                    slot.part = choice.part.as_deref();
                    slot.opened = true;
                    kits.extend(slot.part.map(|part| (pos.as_str(), part)));
                } else if choice.route == Route::LeaveOff {
                    slot.part = None;
                }
                slot.changed = slot.part != found;
            }
            self.slots.insert(pos, slot);
        }
        self.unpack_all(kits);
        let fills: Vec<(&'a str, &'a str)> = self.fills.iter().map(|(pos, part)| (*pos, *part)).collect();
        for (pos, part) in &fills {
            self.slots.insert(pos, Slot { part: Some(part), by: By::Fill, changed: true, opened: true });
        }
        self.unpack_all(fills);
        for pos in &self.gone {
            if self.slots[pos].by == By::Found && !self.chosen(pos) {
                self.slots.insert(pos, Slot { part: None, by: By::Gone, changed: true, opened: false });
            }
        }
        self.stock.sort_by_key(|content| content.part);
    }

    fn meeting(&self, joint: &str) -> Meeting<'a> {
        let ends = self.v.joints[joint].ends.iter();
        ends.filter_map(|e| {
            let part = self.slots[e.at.as_str()].part?;
            self.part(part).ports.get(&e.port).map(|p| (e.at.as_str(), p))
        })
        .collect()
    }

    fn verdict(&self, meeting: &Meeting<'a>) -> Verdict {
        let mut worst = Verdict::Holds;
        for (i, (_, a)) in meeting.iter().enumerate() {
            for (_, b) in &meeting[i + 1..] {
                if meeting.len() == 2 || !values::same_side(a, b) {
                    worst = worst.max(agree(self.lib, a, b));
                }
            }
        }
        worst
    }

    fn joint(&mut self, joint: &'a str) {
        let either = self.either(joint);
        let ends = either.iter().flat_map(|j| self.v.joints[*j].ends.iter());
        if !ends.map(|e| e.at.as_str()).any(|pos| self.slots[pos].changed) {
            return;
        }
        if either.len() > 1 {
            if either[0] == joint {
                self.either_or(&either);
            }
            return;
        }
        let meeting = self.meeting(joint);
        let key = CheckKey::joint(joint);
        if let [(pos, port)] = meeting.as_slice() {
            self.alone(joint, pos, port);
        } else if meeting.len() >= 2 {
            match self.verdict(&meeting) {
                Verdict::Holds => {}
                Verdict::Open => {
                    self.unknowns.insert(key);
                    self.want(joint, &[]);
                }
                Verdict::Broken => {
                    if !(meeting.len() == 2 && self.bridge(joint, &meeting)) {
                        self.clashes.insert(key);
                    }
                }
            }
        }
    }

    /// What goes in with a port that must be served, at a place that joints of the vehicle meet, where none of them meets
    /// this port: to be looked at, but where what was found there has such a port too.
    fn not_joined(&mut self) {
        for (pos, slot) in &self.slots {
            let Some(part) = slot.part.filter(|_| slot.changed) else { continue };
            let ends = self.v.joints.values().flat_map(|j| &j.ends).filter(|end| end.at == *pos);
            let met: Vec<&str> = ends.map(|end| end.port.as_str()).collect();
            let had = self.found(pos).map(|found| &self.part(found).ports);
            for (name, port) in &self.part(part).ports {
                let is_told = met.is_empty() || met.contains(&name.as_str());
                if port.alone == Alone::Required && !is_told && !had.is_some_and(|had| had.contains_key(name))
                {
                    let (position, port) = ((*pos).to_owned(), name.clone());
                    self.unknowns.insert(CheckKey::Port { position, port });
                }
            }
        }
    }

    fn bridge(&mut self, joint: &'a str, meeting: &Meeting<'a>) -> bool {
        let Some((open, steps)) = self.chain(meeting[0].1, meeting[1].1) else { return false };
        let by = Some(meeting[0].0);
        let qty = self.v.joints[joint].qty;
        for (n, step) in steps.iter().enumerate() {
            let key = CompanionKey::Bridge { joint: joint.to_owned(), n: n as u32 };
            let boxed = self.take_for(&key, step.part, qty);
            self.comps.push(Comp {
                key,
                part: step.part,
                qty,
                level: Level::Required,
                boxed,
                by,
                position: None,
                survey: false,
            });
        }
        if open {
            self.unknowns.insert(CheckKey::joint(joint));
            self.want(joint, &steps);
        }
        self.chains.insert(joint, steps);
        true
    }

    fn alone(&mut self, joint: &'a str, pos: &'a str, port: &'a Port) {
        match port.alone {
            Alone::Fine | Alone::Surplus => {}
            Alone::Cap => {
                let caps =
                    self.lib.parts.iter().filter(|(_, p)| p.bridges.is_none() && self.used_loose(&p.class));
                let fits = caps.filter(|(_, p)| {
                    p.ports.get("cap").is_some_and(|cap| agree(self.lib, port, cap) != Verdict::Broken)
                });
                let best =
                    fits.map(|(id, _)| id.as_str()).min_by_key(|id| (!self.loose(id), self.cost(id), *id));
                let Some(part) = best else {
                    self.clashes.insert(CheckKey::joint(joint));
                    return;
                };
                let qty = self.v.joints[joint].qty;
                let boxed = self.take_for(&CompanionKey::Cap { joint: joint.to_owned() }, part, qty);
                self.comps.push(Comp {
                    key: CompanionKey::Cap { joint: joint.to_owned() },
                    part,
                    qty,
                    level: Level::Required,
                    boxed,
                    by: Some(pos),
                    position: None,
                    survey: false,
                });
            }
            Alone::Required => drop(self.clashes.insert(CheckKey::joint(joint))),
        }
    }

    fn surplus(&mut self) {
        for pos in self.v.positions.keys() {
            let slot = self.slots[pos.as_str()];
            let (By::Found | By::Owner, Some(part), false) = (slot.by, slot.part, slot.changed) else {
                continue;
            };
            let is_job =
                |port: &str| self.part(part).ports.get(port).is_some_and(|p| p.alone == Alone::Surplus);
            let jobs =
                self.v.joints.iter().filter(|(_, j)| j.ends.iter().any(|e| e.at == *pos && is_job(&e.port)));
            let (mut changed, mut has_job) = (false, false);
            for (joint, _) in jobs {
                has_job |= self.meeting(joint).len() > 1 && !self.superseded(joint);
                let ends = self.either(joint).into_iter().flat_map(|j| self.v.joints[j].ends.iter());
                changed |= ends.map(|e| e.at.as_str()).any(|at| self.slots[at].changed);
            }
            if changed && !has_job && self.gone.insert(pos) {
                self.dirty = true;
            }
        }
    }

    /// The owner keeps or renews what is there, and it has nothing left to do.
    fn idle(&self, pos: &str) -> bool {
        self.chosen(pos) && self.gone.contains(pos)
    }

    /// What a pool comes to: broken or not (the generator writes no tolerance here), and whether the plan touches it.
    fn pool(&self, pool: &str) -> (Verdict, bool) {
        let amps = |table: &BTreeMap<String, String>| table.get(pool).map_or(0.0, |text| amount(text).0);
        let (mut given, mut taken, mut touched) = (amps(&self.v.gives), 0.0, false);
        for (pos, slot) in &self.slots {
            let Some(part) = slot.part else {
                let found = self.found(pos).map(|p| self.part(p));
                touched |= slot.changed && found.is_some_and(|p| p.gives.contains_key(pool));
                continue;
            };
            let part = self.part(part);
            given += amps(&part.gives);
            taken += amps(&part.takes) * f64::from(self.v.positions[*pos].qty);
            if part.takes.contains_key(pool) {
                touched |= slot.changed;
            }
        }
        for comp in &self.comps {
            let part = self.part(comp.part);
            taken += amps(&part.takes) * f64::from(comp.qty);
            touched |= part.takes.contains_key(pool);
        }
        let margin = self.lib.pools[pool].margin.as_deref().map_or(0.0, |text| amount(text).0);
        let verdict = if given - taken - margin < -1e-9 { Verdict::Broken } else { Verdict::Holds };
        (verdict, touched && (given != 0.0 || taken != 0.0))
    }

    fn pools(&mut self) {
        for pool in self.lib.pools.keys() {
            if self.pool(pool) == (Verdict::Broken, true) {
                self.clashes.insert(CheckKey::pool(pool));
            }
        }
    }

    fn money(&self, part: &str) -> Decimal {
        self.part(part).price.as_ref().map_or(Decimal::ZERO, |m| m.amount)
    }

    /// What is wanted, at the prices of the library.
    fn listed(&self, companions: &BTreeSet<Companion>) -> Decimal {
        let mut money = Decimal::ZERO;
        for (_, part, qty, _, boxed) in companions.iter().filter(|c| !self.waived(&c.0)) {
            money += self.money(part) * Decimal::from(qty - boxed);
        }
        for pos in self.plan.routes.keys() {
            let boxed = self.from_box.get(pos.as_str()).copied().unwrap_or(0);
            let saved = self.slots[pos.as_str()].part.map_or(Decimal::ZERO, |p| self.money(p));
            money += self.own_cost(pos).unwrap_or_default() - saved * Decimal::from(boxed);
        }
        money
    }

    /// What the buying record adds to that: one on order that nobody wants is paid for all the same, and what is here and of
    /// which nobody says what was paid counts for nothing. No number, no price paid and nothing that came back is generated.
    fn recorded(&self, companions: &BTreeSet<Companion>) -> Decimal {
        let wanted = |id: &str| {
            let with = companions.iter().filter(|c| c.1 == id && !self.waived(&c.0));
            let own = self.plan.routes.iter().filter_map(|(pos, choice)| {
                let part = choice.part.as_deref().or(self.found(pos))?;
                let bought = part == id && matches!(choice.route, Route::Convert | Route::Renew);
                let boxed = self.from_box.get(pos.as_str()).copied().unwrap_or(0);
                bought.then(|| self.v.positions[pos].qty - boxed)
            });
            with.map(|c| c.2 - c.4).chain(own).sum::<u32>()
        };
        let lines = self.sheet.lines.iter().filter(|(id, _)| self.lib.parts.contains_key(*id));
        lines
            .map(|(id, line)| match line.state {
                LineState::OnOrder if wanted(id) == 0 => self.money(id),
                LineState::InHand | LineState::Fitted => -self.money(id) * Decimal::from(wanted(id)),
                _ => Decimal::ZERO,
            })
            .sum()
    }

    /// What the choice at a position costs, for all its parts.
    fn own_cost(&self, pos: &str) -> Option<Decimal> {
        let choice = &self.plan.routes[pos];
        let part = choice.part.as_deref().or(self.found(pos))?;
        let price = match choice.route {
            Route::Convert | Route::Renew => self.part(part).price.as_ref()?,
            Route::Rebuild => self.part(part).rebuild.as_ref()?.price.as_ref()?,
            _ => return None,
        };
        Some(price.amount * Decimal::from(self.v.positions[pos].qty))
    }

    fn own_hours(&self, pos: &str) -> Option<f64> {
        let choice = &self.plan.routes[pos];
        let part = self.part(choice.part.as_deref().or(self.found(pos))?);
        match choice.route {
            Route::Convert | Route::Renew => part.hours,
            Route::Rebuild => part.rebuild.as_ref()?.hours,
            _ => None,
        }
    }

    fn findings(&self) -> Findings {
        let mut out = Findings {
            clashes: self.clashes.clone(),
            unmet: self.unmet.clone(),
            unknowns: self.unknowns.clone(),
            close: self.close.clone(),
            wanted: self.wanted.clone(),
            later: self.later.clone(),
            ..Findings::default()
        };
        for comp in &self.comps {
            // the same thing wanted twice for the same reason is one: the first
            if !out.companions.iter().any(|(key, ..)| *key == comp.key) {
                out.companions.insert((
                    comp.key.clone(),
                    comp.part.to_owned(),
                    comp.qty,
                    comp.level,
                    comp.boxed,
                ));
            }
        }
        for (pos, part) in &self.fills {
            let qty = self.v.positions[*pos].qty;
            let key = CompanionKey::fill(*pos);
            let boxed = if self.waived(&key) { 0 } else { self.from_box.get(pos).copied().unwrap_or(0) };
            // how strongly it is asked for is not told here
            out.companions.insert((key, (*part).to_owned(), qty, Level::Required, boxed));
        }
        for (_, part, qty, ..) in out.companions.iter().filter(|c| !self.waived(&c.0)) {
            // what lies in a box is fitted as well
            out.hours += self.part(part).hours.unwrap_or(0.0) * f64::from(*qty);
        }
        for pos in self.plan.routes.keys() {
            out.hours += self.own_hours(pos).unwrap_or(0.0) * f64::from(self.v.positions[pos].qty);
        }
        for (pos, slot) in &self.slots {
            let replaced = slot.changed && self.found(pos).is_some_and(|found| slot.part != Some(found));
            if replaced || self.idle(pos) {
                out.surplus.insert((*pos).to_owned());
            }
        }
        out.money = self.listed(&out.companions) + self.recorded(&out.companions);
        out
    }
}
