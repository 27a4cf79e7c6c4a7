//! What follows from decisions, and which decisions are best: every choice of parts for the places that follow is tried.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::assessment::Order;
use knockon_core::key::CheckKey;
use knockon_core::library::{Decided, LibraryFile};
use knockon_core::sheet::{LineState, Sheet, Verdict as Survey};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

use super::{By, Findings, Oracle, Slot, ages, measured, survey};
use crate::generate::{DAY, PLAN, VEHICLE};

/// The part that is put into each place nobody chose for.
pub type Decisions = BTreeMap<String, String>;

/// What decisions come to, the first line first: of two the smaller is better.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Line {
    /// Things that do not go together.
    pub apart: usize,
    /// Broken limits that can hurt people.
    pub danger: usize,
    /// Other broken limits.
    pub broken: usize,
    /// Places where another part than the owner's pick goes in.
    pub passed: usize,
    /// Sound parts of the owner that are taken off.
    pub taken_off: usize,
    /// Advice that nothing meets.
    pub advice: usize,
    /// Joints to measure.
    pub unknown: usize,
    /// Money for all, in cents.
    pub money: i64,
    /// Hours for all, in thousandths.
    pub hours: i64,
    /// What else is to be measured.
    pub open: usize,
    /// The parts put in, sorted.
    pub parts: Vec<String>,
    /// Where, sorted.
    pub places: Vec<String>,
}

impl Line {
    /// The rows before money.
    fn before_money(&self) -> [usize; 7] {
        [self.apart, self.danger, self.broken, self.passed, self.taken_off, self.advice, self.unknown]
    }

    /// As the engine counts, without what breaks a tie.
    #[must_use]
    pub fn order(&self) -> Order {
        let many = |n: usize| n as i64;
        Order {
            apart: many(self.apart),
            danger: many(self.danger),
            broken: many(self.broken),
            passed: many(self.passed),
            taken_off: many(self.taken_off),
            advice: many(self.advice),
            unknown: many(self.unknown),
            // the generator writes no limit that tells how far beyond it is
            beyond: 0,
            money: self.money,
            hours: self.hours,
            open: many(self.open),
        }
    }
}

/// What follows from decisions, and the line they come to.
#[must_use]
pub fn derive(lib: &LibraryFile, sheet: &Sheet, decisions: &Decisions) -> (Findings, Line) {
    let lib = &measured::written(lib, sheet);
    let mut oracle = Oracle::new(lib, sheet);
    oracle.fills = decisions.iter().map(|(pos, part)| (pos.as_str(), part.as_str())).collect();
    while oracle.dirty {
        oracle.pass();
    }
    let (open, renewed) = oracle.opened();
    oracle.services_once();
    oracle.share_boxes();
    oracle.later(&open, &renewed);
    let found = oracle.findings();
    let line = oracle.line(&found, decisions);
    (found, line)
}

/// The places that follow and nobody chose for, each with the parts that can be put there.
#[must_use]
pub fn values(lib: &LibraryFile, sheet: &Sheet) -> Vec<(String, Vec<String>)> {
    Oracle::new(&measured::written(lib, sheet), sheet).values()
}

/// How many choices of parts there are for the places that follow.
#[must_use]
pub fn combinations(lib: &LibraryFile, sheet: &Sheet) -> usize {
    values(lib, sheet).iter().map(|(_, parts)| parts.len() + 1).product()
}

/// Decisions and what they come to, worked out once.
struct Tried<'l> {
    lib: &'l LibraryFile,
    sheet: &'l Sheet,
    known: BTreeMap<Decisions, Line>,
}

impl<'l> Tried<'l> {
    fn line(&mut self, decisions: &Decisions) -> &Line {
        let (lib, sheet) = (self.lib, self.sheet);
        self.known.entry(decisions.clone()).or_insert_with(|| derive(lib, sheet, decisions).1)
    }

    /// Each of them earns its place: without it something is broken, unmet or not known that is not so with it.
    fn all_earn(&mut self, decisions: &Decisions) -> bool {
        let here = self.line(decisions).before_money();
        decisions.keys().all(|pos| {
            let mut fewer = decisions.clone();
            fewer.remove(pos);
            self.line(&fewer).before_money() > here
        })
    }
}

/// Whether each decision earns its place.
#[must_use]
pub fn all_earn(lib: &LibraryFile, sheet: &Sheet, decisions: &Decisions) -> bool {
    Tried { lib, sheet, known: BTreeMap::new() }.all_earn(decisions)
}

/// The best decisions of all in which each earns its place, and what they come to.
#[must_use]
pub fn best_of_all(lib: &LibraryFile, sheet: &Sheet) -> (Decisions, Line) {
    best_where(lib, sheet, |_| true)
}

/// The best of those decisions of which something more holds.
#[must_use]
pub fn best_where(lib: &LibraryFile, sheet: &Sheet, may: impl Fn(&Decisions) -> bool) -> (Decisions, Line) {
    let mut all: Vec<Decisions> = vec![Decisions::new()];
    for (pos, parts) in values(lib, sheet) {
        for before in std::mem::take(&mut all) {
            for part in &parts {
                let mut with = before.clone();
                with.insert(pos.clone(), part.clone());
                all.push(with);
            }
            all.push(before);
        }
    }
    let mut tried = Tried { lib, sheet, known: BTreeMap::new() };
    let mut lines: Vec<(Line, Decisions)> = all.into_iter().map(|d| (tried.line(&d).clone(), d)).collect();
    lines.sort_by(|a, b| a.0.cmp(&b.0));
    let best = lines.into_iter().find(|(_, d)| tried.all_earn(d) && may(d));
    best.map_or_else(|| (Decisions::new(), derive(lib, sheet, &Decisions::new()).1), |(line, d)| (d, line))
}

impl<'a> Oracle<'a> {
    pub(super) fn new(lib: &'a LibraryFile, sheet: &'a Sheet) -> Self {
        let mut oracle = Oracle {
            lib,
            v: &lib.vehicles[VEHICLE],
            sheet,
            survey: survey::survey(lib, &lib.vehicles[VEHICLE], sheet),
            plan: &sheet.plans[PLAN],
            slots: BTreeMap::new(),
            fills: BTreeMap::new(),
            gone: BTreeSet::new(),
            stock: Vec::new(),
            from_box: BTreeMap::new(),
            comps: Vec::new(),
            once: BTreeMap::new(),
            chains: BTreeMap::new(),
            clashes: BTreeSet::new(),
            unmet: BTreeSet::new(),
            unknowns: BTreeSet::new(),
            close: BTreeSet::new(),
            wanted: BTreeSet::new(),
            later: BTreeSet::new(),
            on: ages::dated(DAY).0,
            dirty: true,
            runs: Vec::new(),
        };
        oracle.runs = oracle.all_runs();
        oracle
    }

    /// Places that follow and nobody chose for, with the parts that can be had for them.
    fn values(&self) -> Vec<(String, Vec<String>)> {
        let follows = |class: &str| self.lib.classes[class].decided != Some(Decided::Owner);
        let places = self.v.positions.iter().filter(|(pos, p)| follows(&p.class) && !self.chosen(pos));
        let parts = |pos: &str, class: &str| {
            let all = self.lib.parts.iter();
            let had = all.filter(|(_, p)| p.class == class && p.price.is_some());
            had.map(|(id, _)| id).filter(|id| self.found(pos) != Some(id)).cloned().collect()
        };
        places.map(|(pos, p)| (pos.clone(), parts(pos, &p.class))).collect()
    }

    /// Found good or not looked at, and not over its age.
    fn sound(&self, pos: &str) -> bool {
        let verdict = self.survey.get(pos).copied();
        let lasts = self.lasts(&self.v.positions[pos].class);
        let old = lasts.zip(self.sheet.made.get(pos)).is_some_and(|(lasts, made)| self.is_over(made, lasts));
        matches!(verdict, None | Some(Survey::Good)) && !old
    }

    fn line(&self, found: &Findings, decisions: &Decisions) -> Line {
        let is_limit = |key: &CheckKey| matches!(key, CheckKey::Limit { .. });
        let hurts = |key: &CheckKey| match key {
            CheckKey::Limit { limit, .. } => self.lib.limits[limit].safety,
            _ => false,
        };
        let is_fit = |key: &CheckKey| matches!(key, CheckKey::Joint { .. });
        let picked = |(pos, part): &(&String, &String)| {
            let key = knockon_core::key::CompanionKey::fill(pos.as_str());
            self.plan
                .picks
                .get(&key)
                .is_some_and(|pick| pick != *part && self.part(pick).class == self.v.positions[*pos].class)
        };
        let off = |pos: &&String| self.found(pos).is_some() && self.sound(pos);
        // for what lies in the box of what goes in, or because that leaves a place empty
        let by_kit = |slot: &Slot<'_>| matches!(slot.by, By::Kit(kit) if decisions.contains_key(kit));
        let elsewhere = self.slots.iter().filter(|(_, slot)| slot.changed && by_kit(slot));
        let with_it = elsewhere.filter(|(pos, _)| self.found(pos).is_some() && self.sound(pos)).count();
        let cents = |money: Decimal| (money * Decimal::ONE_HUNDRED).to_i64().unwrap_or(i64::MAX);
        let mut parts: Vec<String> = decisions.values().cloned().collect();
        parts.sort();
        Line {
            apart: found.clashes.iter().filter(|k| !is_limit(k)).count(),
            danger: found.clashes.iter().filter(|k| hurts(k)).count(),
            broken: found.clashes.iter().filter(|k| is_limit(k) && !hurts(k)).count(),
            passed: decisions.iter().filter(picked).count(),
            taken_off: decisions.keys().filter(off).count() + with_it,
            advice: found.unmet.len(),
            unknown: found.unknowns.iter().filter(|k| is_fit(k)).count(),
            money: cents(self.all_money(found)),
            hours: (self.all_hours(found) * 1000.0).round() as i64,
            open: found.unknowns.iter().filter(|k| !is_fit(k)).count(),
            parts,
            places: decisions.keys().cloned().collect(),
        }
    }

    /// All that follows in money, what the owner leaves out as well: what he leaves out decides nothing. What is in hand is
    /// free.
    fn all_money(&self, found: &Findings) -> Decimal {
        let is_in_hand = |part: &str| {
            let state = self.sheet.lines.get(part).map(|line| line.state);
            matches!(state, Some(LineState::InHand | LineState::Fitted))
        };
        let mut money = self.listed(&found.companions);
        for (key, part, qty, _, boxed) in &found.companions {
            let price = self.money(part) * Decimal::from(qty - boxed);
            match (self.waived(key), is_in_hand(part)) {
                (true, false) => money += price,
                (false, true) => money -= price,
                _ => {}
            }
        }
        money
    }

    fn all_hours(&self, found: &Findings) -> f64 {
        let left_out = found.companions.iter().filter(|c| self.waived(&c.0));
        let more: f64 =
            left_out.map(|(_, part, qty, ..)| self.part(part).hours.unwrap_or(0.0) * f64::from(*qty)).sum();
        found.hours + more
    }
}
