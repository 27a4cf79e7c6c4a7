//! The written order by which decisions are compared: one row after the other, fewest or least first.
//!
//! What does not go together stands before danger: a part that does not go together is no safer, and its danger is shown
//! with its cures either way. Advice has a row, or what clears nothing would never be proposed for its price.

use std::ops::{Add, AddAssign, Sub};

use super::bench::{Bench, By, CheckKey};
use super::fills::Overlay;
use crate::assessment::Order;
use crate::catalogue::{PartId, PositionId, UNPRICED, hundredths};
use crate::sheet::Verdict;

/// What decisions are compared by, the first row first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Row {
    /// Things that do not go together: joints, ports left alone, required needs, room overdrawn.
    Apart,
    /// Broken limits that can hurt people.
    Danger,
    /// Other broken limits.
    Broken,
    /// Places where another part than the owner's pick goes in.
    Passed,
    /// Sound parts of the owner for which another is put in, or whose place is left empty for one.
    TakenOff,
    /// Advice that nothing meets.
    Advice,
    /// Joints to measure.
    Unknown,
    /// How far beyond their bounds broken limits are that tell it, in hundredths of a per cent: of several parts that clear
    /// nothing the nearest goes in.
    Beyond,
    /// Money for all that follows, in hundredths.
    Money,
    /// Hours for all that follows, in thousandths.
    Hours,
    /// What else is to be measured.
    Open,
}

const ROWS: usize = 11;

/// How much stands in each row; of two the smaller is better.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Marks([i64; ROWS]);

impl Marks {
    pub fn of(row: Row, many: i64) -> Self {
        let mut marks = Self::default();
        marks.0[row as usize] = many;
        marks
    }

    pub fn get(self, row: Row) -> i64 {
        self.0[row as usize]
    }

    pub fn count(&mut self, row: Row, many: i64) {
        self.0[row as usize] += many;
    }

    /// The rows before money alone: nothing is put in only to be nearer, or to cost less.
    pub fn before_money(self) -> Self {
        let mut marks = self;
        marks.0[Row::Beyond as usize..].fill(0);
        marks
    }

    /// Nothing in the rows before money.
    pub fn is_clean(self) -> bool {
        self.before_money() == Self::default()
    }

    pub fn told(self) -> Order {
        Order {
            apart: self.get(Row::Apart),
            danger: self.get(Row::Danger),
            broken: self.get(Row::Broken),
            passed: self.get(Row::Passed),
            taken_off: self.get(Row::TakenOff),
            advice: self.get(Row::Advice),
            unknown: self.get(Row::Unknown),
            beyond: self.get(Row::Beyond),
            money: self.get(Row::Money),
            hours: self.get(Row::Hours),
            open: self.get(Row::Open),
        }
    }
}

impl Add for Marks {
    type Output = Self;

    fn add(mut self, other: Self) -> Self {
        self += other;
        self
    }
}

impl AddAssign for Marks {
    fn add_assign(&mut self, other: Self) {
        self.0.iter_mut().zip(other.0).for_each(|(mine, more)| *mine += more);
    }
}

impl Sub for Marks {
    type Output = Self;

    fn sub(mut self, other: Self) -> Self {
        self.0.iter_mut().zip(other.0).for_each(|(mine, less)| *mine -= less);
        self
    }
}

/// Hours in thousandths: what is compared is a whole number.
fn thousandths(hours: f64) -> i64 {
    (hours * 1000.0).round() as i64
}

impl Bench<'_> {
    /// Money and hours of so many of a part, so many of them paid for. What is in hand is free: it is paid for whatever the
    /// plan becomes.
    pub fn work_of(&self, part: PartId, qty: u32, paid: u32) -> Marks {
        let entry = self.part(part);
        let is_free = entry.cost == UNPRICED || self.ground.in_hand.contains(&part);
        let price = if is_free { 0 } else { entry.cost };
        let mut marks = Marks::of(Row::Money, price.saturating_mul(i64::from(paid)));
        marks.count(Row::Hours, thousandths(entry.part.hours.unwrap_or(0.0) * f64::from(qty)));
        marks
    }

    /// What was found in a place is good or was not looked at, and is not over its age.
    pub fn is_sound(&self, pos: PositionId) -> bool {
        let finding = self.ground.survey.get(&self.v.positions[pos].id);
        matches!(finding.map(|f| f.verdict), None | Some(Verdict::Good)) && self.over_age(pos).is_none()
    }

    /// What goes off a place for a part put in there, where the survey found it good and it is not over its age.
    pub fn takes_off(&self, pos: PositionId, part: PartId) -> Option<PartId> {
        let is_good =
            self.ground.survey.get(&self.v.positions[pos].id).is_some_and(|f| f.verdict == Verdict::Good);
        let slot = self.slot(pos);
        let goes_in = slot.by == By::Fill && slot.part == Some(part);
        self.as_found(pos)
            .filter(|found| goes_in && is_good && *found != part && self.over_age(pos).is_none())
    }

    /// How many sound parts of the owner go off elsewhere for a part in a place: for what lies in its box, and where it leaves
    /// a place empty.
    pub fn sound_elsewhere(&self, pos: PositionId, part: PartId) -> i64 {
        let entry = self.part(part);
        if entry.leaves_empty.is_empty() && entry.contents.is_empty() {
            return 0;
        }
        let boxed = self.overlay(pos, part).into_iter().skip(1);
        let mut off: Vec<(PositionId, Option<PartId>)> = boxed.collect();
        for said in &entry.leaves_empty {
            let places = self.v.meant(said, self.v.whereabouts(pos)).into_iter();
            off.extend(places.filter(|at| *at != pos && !self.is_chosen(*at)).map(|at| (at, None)));
        }
        off.sort_unstable();
        off.dedup_by_key(|(at, _)| *at);
        let is_sound = |(at, put): &&(PositionId, Option<PartId>)| {
            self.as_found(*at).is_some() && *put != self.as_found(*at) && self.is_sound(*at)
        };
        off.iter().filter(is_sound).count() as i64
    }

    /// A part goes in where the owner has picked another.
    pub fn is_passed(&self, pos: PositionId, part: PartId) -> bool {
        let class = self.v.positions[pos].class;
        let pick = self.ground.fill_picks.get(&pos).filter(|pick| self.part(**pick).class == class);
        pick.is_some_and(|pick| *pick != part)
    }

    /// What all comes to as it was found to follow. What the owner leaves out counts as well: what he leaves out decides
    /// nothing.
    pub fn marks(&self) -> Marks {
        let mut marks = Marks::default();
        let mut clashes: Vec<CheckKey> = self.found.clashes.iter().map(|c| c.key).collect();
        clashes.sort_unstable();
        clashes.dedup();
        for key in clashes {
            let row = match key {
                CheckKey::Limit(run) if self.limit_of(run).def.safety => Row::Danger,
                CheckKey::Limit(_) => Row::Broken,
                _ => Row::Apart,
            };
            marks.count(row, 1);
            if let CheckKey::Limit(run) = key {
                marks.count(Row::Beyond, self.beyond(run, &Overlay::new()));
            }
        }
        let mut unmet: Vec<CheckKey> = self.found.unmet.iter().map(|u| u.key).collect();
        unmet.sort_unstable();
        unmet.dedup();
        marks.count(Row::Advice, unmet.len() as i64);
        let mut unknowns: Vec<CheckKey> = self.found.unknowns.iter().map(|u| u.key).collect();
        unknowns.sort_unstable();
        unknowns.dedup();
        for key in unknowns {
            marks.count(if matches!(key, CheckKey::Joint(_)) { Row::Unknown } else { Row::Open }, 1);
        }
        let mut hours = 0.0;
        for pos in self.v.positions.ids() {
            let slot = self.slot(pos);
            let found = self.as_found(pos);
            if self.is_chosen(pos) {
                // what lies in a box is not paid again
                let (price, own) = self.own_paid(pos);
                marks.count(Row::Money, price.map_or(0, hundredths));
                hours += own;
                continue;
            }
            // what lies in the box of a part that goes in, and what that leaves empty, goes in or off with it
            let by_fill = match slot.by {
                By::Fill => true,
                By::Kit(kit) => slot.changed && self.fills.contains_key(&kit),
                By::Found | By::Owner | By::Gone => false,
            };
            marks.count(Row::TakenOff, i64::from(by_fill && found.is_some() && self.is_sound(pos)));
            let Some(part) = slot.part.filter(|_| slot.by == By::Fill) else { continue };
            marks.count(Row::Passed, i64::from(self.is_passed(pos, part)));
        }
        self.each_comp(|_, comp| {
            let part = self.part(comp.part);
            hours += part.part.hours.unwrap_or(0.0) * f64::from(comp.qty);
            let paid = self.work_of(comp.part, 0, comp.qty - comp.boxed);
            marks += paid;
        });
        marks.count(Row::Hours, thousandths(hours));
        marks
    }
}

#[cfg(test)]
mod tests;
