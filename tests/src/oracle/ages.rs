//! Ages: what is kept of a date, and how long its class lasts. Days are counted from 1 March of the year 0, months by hand.

use std::collections::BTreeSet;

use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::library::{Lasts, Level};
use knockon_core::sheet::{LineState, Route};

use super::opened::{Open, Renewals, Renewed};
use super::{By, Oracle};

/// Year, month, day.
pub(super) type Day = (i64, i64, i64);

fn days_in(year: i64, month: i64) -> i64 {
    match month {
        2 if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

/// The first and the last day a date can be.
pub(super) fn dated(text: &str) -> (Day, Day) {
    let mut pieces = text.split('-').map(|piece| piece.parse().unwrap_or(0));
    let (year, month, day) = (pieces.next().unwrap_or(0), pieces.next(), pieces.next());
    match (month, day) {
        (Some(month), Some(day)) => ((year, month, day), (year, month, day)),
        (Some(month), None) => ((year, month, 1), (year, month, days_in(year, month))),
        _ => ((year, 1, 1), (year, 12, 31)),
    }
}

/// A day some time later, by the calendar.
fn after((mut year, mut month, mut day): Day, time: &str) -> Day {
    let (many, unit) = time.split_once(' ').unwrap_or(("0", ""));
    let many: i64 = many.parse().unwrap_or(0);
    match unit {
        "years" => year += many,
        "months" => {
            month += many;
            (year, month) = (year + (month - 1) / 12, (month - 1) % 12 + 1);
        }
        _ => {
            for _ in 0..many {
                day += 1;
                if day > days_in(year, month) {
                    (month, day) = (month + 1, 1);
                }
                if month > 12 {
                    (year, month) = (year + 1, 1);
                }
            }
        }
    }
    (year, month, day.min(days_in(year, month)))
}

/// The two ends of the last day on which something of a date is no older than its class lasts.
fn ends(made: &str, lasts: &Lasts) -> (Day, Day) {
    let (first, last) = dated(made);
    (after(first, &lasts.time), after(last, &lasts.time))
}

impl<'a> Oracle<'a> {
    pub(super) fn lasts(&self, class: &str) -> Option<&'a Lasts> {
        self.lib.classes[class].lasts.as_ref()
    }

    /// The part of a place that stays as it was found, or is cleaned.
    pub(super) fn kept(&self, pos: &str) -> Option<&'a str> {
        let route = self.plan.routes.get(pos).map(|c| c.route);
        let stays = matches!(route, None | Some(Route::Keep | Route::Clean)) && !self.idle(pos);
        let slot = self.slots[pos];
        slot.part.filter(|_| stays && matches!(slot.by, By::Found | By::Owner))
    }

    /// A part that is kept though it is older than its kind lasts, whichever day of its date it was made on.
    pub(super) fn too_old(&self, pos: &str) -> Option<(&'a str, Level)> {
        let part = self.kept(pos)?;
        let lasts = self.lasts(&self.v.positions[pos].class)?;
        let made = self.sheet.made.get(pos)?;
        let level = if lasts.safety || self.part(part).safety { Level::Required } else { Level::Advised };
        (ends(made, lasts).1 < self.on).then_some((part, level))
    }

    /// Older than its class lasts, whichever day of its date it was made on.
    pub(super) fn is_over(&self, made: &str, lasts: &Lasts) -> bool {
        ends(made, lasts).1 < self.on
    }

    pub(super) fn outlived(&self, open: &mut Open<'a>, renewed: &mut Renewals<'a>) {
        for (pos, def) in &self.v.positions {
            let Some((part, level)) = self.too_old(pos).filter(|_| !renewed.contains_key(pos.as_str()))
            else {
                continue;
            };
            let (key, qty) = (CompanionKey::Age { position: pos.clone() }, def.qty);
            let new = Renewed { key, by: None, joint: false, part, qty, level, survey: true };
            self.renew(pos, new, open, renewed);
        }
    }

    /// The renewal of a place that the owner does not leave out.
    pub(super) fn is_renewed(&self, pos: &str, renewed: &Renewals<'a>) -> bool {
        renewed.get(pos).is_some_and(|r| !self.plan.waived.contains_key(&r.key))
    }

    pub(super) fn ages_not_known(&mut self, open: &Open<'a>, renewed: &Renewals<'a>) {
        let mut found = BTreeSet::new();
        for (pos, def) in &self.v.positions {
            let Some(lasts) = self.lasts(&def.class) else { continue };
            let Some(part) = self.kept(pos).filter(|_| !self.is_renewed(pos, renewed)) else { continue };
            let unknown = match self.sheet.made.get(pos) {
                Some(made) => {
                    let (early, late) = ends(made, lasts);
                    early < self.on && self.on <= late
                }
                None => !self.survey.contains_key(pos) && (lasts.safety || self.part(part).safety),
            };
            if unknown {
                found.insert(CheckKey::Age { position: pos.clone() });
            }
        }
        for (circuit, def) in &self.v.circuits {
            let Some(made) = self.sheet.made.get(circuit) else { continue };
            let Some(lasts) = self.lasts(&def.fluid) else { continue };
            let (early, late) = ends(made, lasts);
            let stays = def.positions.iter().any(|p| self.slots[p.as_str()].part.is_some());
            if early < self.on && self.on <= late && stays && self.runs_out(circuit, open).is_none() {
                found.insert(CheckKey::FluidAge { circuit: circuit.clone() });
            }
        }
        self.unknowns.extend(found);
    }

    /// Fluid of a circuit that is surely too old asks to be filled anew, as long as something of the circuit stays.
    pub(super) fn stale(&self, circuit: &str) -> Option<Level> {
        let def = &self.v.circuits[circuit];
        let lasts = self.lasts(&def.fluid)?;
        let made = self.sheet.made.get(circuit)?;
        let stays = def.positions.iter().any(|p| self.slots[p.as_str()].part.is_some());
        let level = if lasts.safety { Level::Required } else { Level::Advised };
        (stays && ends(made, lasts).1 < self.on).then_some(level)
    }

    /// When what stands at a place or in a circuit falls due, and whether that is over: of what is kept only where it is
    /// surely not too old, of what was bought by the day it was fitted.
    pub(super) fn falls_due(
        &self,
        lasts: &Lasts,
        kept: Option<&String>,
        bought: Option<&str>,
    ) -> Option<(Day, bool)> {
        let made = match bought {
            Some(id) => {
                let line = self.sheet.lines.get(id).filter(|l| l.state == LineState::Fitted)?;
                line.fitted.as_ref()?
            }
            None => kept.filter(|made| ends(made, lasts).0 >= self.on)?,
        };
        let due = ends(made, lasts).0;
        Some((due, due < self.on))
    }
}

#[test]
fn days_are_counted_by_the_calendar() {
    assert_eq!(after((2016, 3, 1), "10 years"), (2026, 3, 1));
    assert_eq!(after((2024, 2, 29), "1 years"), (2025, 2, 28));
    assert_eq!(after((2024, 8, 31), "18 months"), (2026, 2, 28));
    // 2024 has 366 days
    assert_eq!(after((2024, 1, 1), "366 days"), (2025, 1, 1));
    assert_eq!(dated("2024-02"), ((2024, 2, 1), (2024, 2, 29)));
}
