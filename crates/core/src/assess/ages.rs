//! What age does to what is kept: rubber hardens and fluid takes up water whatever the survey sees. A part is surely over
//! its age, surely not, or nobody can say, as its date is known to the year, the month or the day.

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests;

use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Cure, Key, Trouble};
use super::ground::Ground;
use super::renewals::{Apart, DueOpenings, Opened, Renewal};
use crate::assessment::{Answer, Origin};
use crate::catalogue::{CircuitId, ClassId, Id, LastsEntry, PartId, PositionEntry, PositionId};
use crate::date::{Date, Dated, Period, age};
use crate::grammar::lower;
use crate::library::Level;
use crate::phrase::Phrase;
use crate::reason::{Fact, ReasonId, Same};

/// How something of a date stands on the day of the assessment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Age {
    /// No older than its kind lasts, whichever day of its date it is of; the last day on which that is sure.
    Within(Date),
    /// Older on some days of its date; the last day on which it was surely within.
    Open(Date),
    /// Older whichever day of its date it is of.
    Over,
}

impl Age {
    /// What is of a date and lasts a time, on a day. `None`: it lasts beyond the calendar.
    pub fn of(made: &Dated, lasts: &Period, on: Date) -> Option<Self> {
        let (early, late) = (lasts.after(made.first)?, lasts.after(made.last)?);
        Some(if late < on {
            Self::Over
        } else if early < on {
            Self::Open(early)
        } else {
            Self::Within(early)
        })
    }
}

/// A place whose parts do not last for ever, or a circuit whose fluid does not.
#[derive(Clone, Debug)]
pub(crate) struct Aging<'a, T> {
    /// The position, or the circuit.
    pub at: Id<T>,
    pub lasts: &'a LastsEntry,
    /// When what was found there was made, and how that stands; `None`: nobody has said.
    pub made: Option<(Dated, Age)>,
}

impl<'a, T> Aging<'a, T> {
    fn new(at: Id<T>, lasts: &'a LastsEntry, made: Option<&Dated>, on: Date) -> Self {
        let made = made.and_then(|made| Some((made.clone(), Age::of(made, &lasts.time, on)?)));
        Self { at, lasts, made }
    }
}

impl<'a> Ground<'a> {
    /// The places and circuits where age matters, where a day was given.
    pub(super) fn ages(&mut self) {
        let mut dates: Vec<(&'a str, Dated)> = Vec::new();
        for (key, text) in &self.sheet.made {
            let v = self.v;
            let is_known = v.position_ix.contains_key(key) || v.circuits.values().any(|c| c.id == *key);
            let read = Dated::parse(text).map_err(|e| e.to_string());
            let read = read.and_then(|made| match self.cat.as_of.filter(|on| made.first > *on) {
                Some(on) => Err(format!(
                    "{text} is after {on}, the day of this assessment; nothing is said of its age"
                )),
                None => Ok(made),
            });
            match read {
                _ if !is_known => self.problems.push(format!(
                    "made: there is no position and no circuit \"{key}\" on this vehicle; its date is left out"
                )),
                Ok(made) => dates.push((key, made)),
                Err(why) => self.problems.push(format!("made at {key}: {why}")),
            }
        }
        for (part, line) in &self.sheet.lines {
            if let Some(Err(why)) = line.fitted.as_deref().map(Dated::parse) {
                self.problems.push(format!("the line {part}: {why}"));
            }
        }
        let Some(on) = self.cat.as_of else { return };
        let (cat, v) = (self.cat, self.v);
        let lasts = |class: ClassId| cat.lasts.get(class)?.as_ref();
        let made = |id: &str| dates.iter().find(|(key, _)| *key == id).map(|(_, made)| made);
        let positions = v.positions.iter();
        let aging = positions.filter_map(|(at, p)| Some(Aging::new(at, lasts(p.class)?, made(&p.id), on)));
        self.aging = aging.collect();
        // a position of the same id has the date
        let circuits = v.circuits.iter().filter(|(_, c)| !v.position_ix.contains_key(&c.id));
        let fluids = circuits.filter_map(|(at, c)| Some(Aging::new(at, lasts(c.fluid)?, made(&c.id), on)));
        self.fluids = fluids.collect();
    }
}

impl<'a> Bench<'a> {
    /// A place where what is kept is surely over its age.
    pub(super) fn over_age(&self, pos: PositionId) -> Option<&'a Aging<'a, PositionEntry>> {
        let here = self.ground.aging.iter().find(|a| a.at == pos)?;
        matches!(here.made, Some((_, Age::Over))).then_some(here)
    }

    /// How strongly the age of a part is to be cured, and why.
    pub(super) fn aged(&mut self, here: &Aging<'a, PositionEntry>, part: PartId) -> (Level, ReasonId) {
        let is_safety = here.lasts.def.safety || self.part(part).part.safety;
        let level = if is_safety { Level::Required } else { Level::Advised };
        let (place, name) = (self.place(here.at), self.name(part));
        let slot = self.slot(here.at).reason;
        let same = if self.full { self.same_as(here.at, part) } else { Same::ToBeHad };
        let reason = self.too_old(here, (place, name, same), &[slot]);
        let class = self.v.positions[here.at].class;
        (level, self.noting(reason, |s| s.lasts_spec(class).into_iter().collect()))
    }

    fn too_old<T>(
        &mut self,
        here: &Aging<'a, T>,
        (place, part, same): (String, String, Same),
        premises: &[ReasonId],
    ) -> ReasonId {
        self.reason(premises, |s| {
            let made = here.made.as_ref().map(|(made, _)| made);
            let old = made.zip(s.cat.as_of).map(|(made, on)| age(made.last, on));
            Fact::Aged {
                place,
                part,
                made: made.map_or_else(String::new, |made| made.text.clone()),
                age: old.unwrap_or_default(),
                lasts: here.lasts.time.to_string(),
                why: here.lasts.def.why.clone(),
                same,
            }
        })
    }

    /// What is kept over its age is renewed, where the survey has not asked for it already.
    pub(super) fn outlived(&mut self, opened: &mut Opened, due: &mut DueOpenings) {
        let ground = self.ground;
        for here in &ground.aging {
            if self.over_age(here.at).is_none() || opened.renewed(here.at).is_some() {
                continue;
            }
            let Some(part) = self.kept(here.at) else { continue };
            let (level, reason) = self.aged(here, part);
            let key = Key::Age(here.at);
            let renewal = Renewal {
                key,
                opening: None,
                part,
                qty: self.v.positions[here.at].qty,
                origin: Origin::Age,
                level,
                cause: Some(here.at),
                reason,
                waived: self.is_waived(key),
            };
            self.put_renewal(here.at, renewal, opened, due);
        }
    }

    /// What nobody can say is to be read from the part; one that is renewed has answered it.
    pub(super) fn ages_not_known(&mut self, opened: &Opened) {
        let ground = self.ground;
        for here in &ground.aging {
            let Some(part) = self.kept(here.at).filter(|_| !opened.is_renewed(here.at)) else { continue };
            let made = match &here.made {
                Some((made, Age::Open(_))) => made.text.clone(),
                Some(_) => continue,
                None => {
                    let looked_at = self.ground.survey.contains_key(&self.v.positions[here.at].id);
                    if looked_at || !(here.lasts.def.safety || self.part(part).part.safety) {
                        continue;
                    }
                    String::new()
                }
            };
            let (place, name) = (self.place(here.at), self.name(part));
            let what = how(&place, here);
            let slot = self.slot(here.at).reason;
            let key = CheckKey::Age(here.at);
            self.age_open(key, SmallVec::from_slice(&[here.at]), what, here, [place, name, made], &[slot]);
        }
        for here in &ground.fluids {
            let Some((made, Age::Open(_))) = &here.made else { continue };
            let Some(places) = self.filled(here.at).filter(|_| self.run_out(here.at, opened, &[]).is_empty())
            else {
                continue;
            };
            let circuit = &self.v.circuits[here.at];
            let fluid = self.cat.classes[circuit.fluid].name.clone();
            let (what, made) = (how(&circuit.name, here), made.text.clone());
            let key = CheckKey::FluidAge(here.at);
            let names = [circuit.name.clone(), fluid, made];
            let premises = self.reasons_of(places.iter().copied());
            self.age_open(key, places, what, here, names, &premises);
        }
    }

    fn age_open<T>(
        &mut self,
        key: CheckKey,
        positions: SmallVec<[PositionId; 4]>,
        what: Phrase,
        here: &Aging<'a, T>,
        [place, part, made]: [String; 3],
        premises: &[ReasonId],
    ) {
        let reason = self.reason(premises, |_| Fact::AgeOpen {
            place,
            part,
            made,
            lasts: here.lasts.time.to_string(),
            why: here.lasts.def.why.clone(),
        });
        self.check(key, Answer::ToMeasure, reason);
        self.found.unknowns.push(Trouble { key, positions, reason, what: vec![what], cure: Cure::None });
    }

    /// The places of a circuit that hold something; none where all of it is off.
    pub(super) fn filled(&self, circuit: CircuitId) -> Option<SmallVec<[PositionId; 4]>> {
        let places = self.v.circuits[circuit].positions.iter().copied();
        let some: SmallVec<[PositionId; 4]> = places.filter(|p| self.slot(*p).part.is_some()).collect();
        (!some.is_empty()).then_some(some)
    }

    /// Circuits whose fluid is surely over its age, as what opens them.
    pub(super) fn stale(&mut self) -> SmallVec<[(CircuitId, Apart); 2]> {
        let ground = self.ground;
        let mut out = SmallVec::new();
        for here in &ground.fluids {
            let is_over = matches!(here.made, Some((_, Age::Over)));
            let Some(places) = self.filled(here.at).filter(|_| is_over) else { continue };
            let circuit = &self.v.circuits[here.at];
            let (place, fluid) = (circuit.name.clone(), self.cat.classes[circuit.fluid].name.clone());
            let level = if here.lasts.def.safety { Level::Required } else { Level::Advised };
            let premises = self.reasons_of(places.into_iter());
            let reason = self.too_old(here, (place, fluid, Same::ToBeHad), &premises);
            let class = circuit.fluid;
            let reason = self.noting(reason, |s| s.lasts_spec(class).into_iter().collect());
            out.push((here.at, Apart { level, cause: None, reason }));
        }
        out
    }
}

/// What is to be found out, and how.
fn how<T>(place: &str, here: &Aging<'_, T>) -> Phrase {
    let read = &here.lasts.def.read;
    let read = if read.is_empty() { String::new() } else { format!(" ({read})") };
    format!("date of {}{read}", lower(place)).into()
}
