//! Jobs: the work that a plan makes, from the first thing that comes off to the first mile, in an order in which nothing is
//! taken apart twice.
//!
//! In words. What a plan changes asks for the operations that the library has *for* its class ([`ask`]); an operation asks for
//! what comes before it and for the one that closes what it opens. Where the library has none that puts parts on, a place has a
//! job of its own. The order keeps what stands in `after`, closes nothing before all that wants it open is done, and keeps the
//! rules of the trade ([`order`]). Every part that goes on is in exactly one job ([`lines`]). What it takes to fit the parts of
//! a place is spread over the operations that the place asks for; operations that only make way take hours of their own
//! ([`hours`]). Checks follow from what was opened ([`checks`]).

mod ask;
mod checks;
mod hours;
pub mod learnt;
pub mod limit;
mod lines;
mod order;
mod ready;
mod touched;
pub mod while_apart;

use std::collections::{BTreeMap, BTreeSet};

use jiff::Span;
use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::date::Dated;
use crate::jobs::learnt::Learnt;
use crate::jobs::limit::Limits;
use crate::library::{Card, JobKind, Operation, OrderRule, Phase};
use crate::phrase::Phrase;
use crate::sheet::{Done, Sheet, Signed, Verdict};
use crate::survey::{Outcome, survey};

pub use hours::{Hours, Spread, session_hours};
pub use ready::missing;

/// A job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// By which edits and files call it: the operation, and behind an @ the place where it is done for each: "hose-off@front-hoses".
    pub id: String,
    /// As shown.
    pub name: String,
    /// What it is.
    pub kind: JobKind,
    /// Position it is at, where it is at one.
    pub position: Option<String>,
    /// Where one stands.
    pub area: String,
    /// It only makes way: nothing of the plan changes in it.
    pub makes_way: bool,
    /// Jobs right before it, by id, and why: what it opens, what it closes, a rule of the trade.
    pub after: Vec<(String, String)>,
    /// Checks that are signed before it, by id, and why.
    pub after_checks: Vec<(String, String)>,
    /// Hours for one person who does it for the first time, as the library has them; what is told of a job is
    /// [`Jobs::hours_of`].
    pub library_hours: Hours,
    /// So many of them are hours of the parts of the plan, which its sum counts too; the rest only makes way.
    pub parts_hours: f64,
    /// A rule puts a check on the road before it: it does not stand in the way of the road.
    pub after_the_road: bool,
    /// How many people it takes.
    pub people: u32,
    /// The skill that one of them must have; empty: anybody's.
    pub skill: String,
    /// What there is one of and it takes for itself: a press, a hoist.
    pub places: Vec<String>,
    /// Weeks for which it is away afterwards, at least and at most. `None`: it is not away, or nobody has said.
    pub weeks: Option<[f64; 2]>,
    /// It is done and sent out: the day on which it is back at the latest, where that is still to come. `None`: it is not away,
    /// or nobody says since when or for how long.
    pub back_on: Option<Date>,
    /// Tools.
    pub tools: Vec<String>,
    /// What is ticked before it is begun.
    pub ticks: Vec<String>,
    /// What to mind.
    pub note: String,
    /// Caution ids.
    pub cautions: Vec<String>,
    /// The card that tells how it is done, by id.
    pub card: Option<String>,
    /// Part ids that go on in it.
    pub lines: Vec<String>,
    /// Those of them that are not in hand yet.
    pub waits_for: Vec<String>,
    /// That it is done.
    pub done: Option<Done>,
}

/// A check of what was opened.
#[derive(Clone, Debug, PartialEq)]
pub struct Commission {
    /// Check id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// When it can be done.
    pub phase: Phase,
    /// Checks before it, by id.
    pub after: Vec<String>,
    /// Jobs that ask for it or that a rule puts before it, by id.
    pub after_jobs: Vec<String>,
    /// How it is done.
    pub method: String,
    /// What passes.
    pub pass: String,
    /// What the reading must lie within, where it is one figure.
    pub limit: Option<Limits>,
    /// What to do where it does not.
    pub fail: String,
    /// Caution ids.
    pub cautions: Vec<String>,
    /// The card that tells how it is done, by id.
    pub card: Option<String>,
    /// That it passed, after all that asks for it was done.
    pub signed: Option<Signed>,
    /// It was signed, and what was read does not pass: outside the limits, or no figure.
    pub outside: Option<Signed>,
}

/// Jobs that each wanted another of them done first; a rule was left out so that the work can begin.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Circle {
    /// The jobs, by id.
    pub jobs: Vec<String>,
    /// What was left out: "a before b", and why it was said.
    pub left_out: String,
}

/// The work of a plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Jobs {
    /// In the order in which they are done.
    pub jobs: Vec<Job>,
    /// Checks, in the order in which they are done.
    pub checks: Vec<Commission>,
    /// What went round, and how it was broken.
    pub circles: Vec<Circle>,
    /// The vehicle is not driven on the road: the day since when, or nothing where nobody says which.
    pub not_driven: Option<String>,
    /// What stops the vehicle and is read too closely to say so, in words.
    pub undecided: Vec<String>,
    /// Cautions of jobs and checks by id, in words: what can happen, and what to do.
    pub cautions: BTreeMap<String, String>,
    /// The cards that they name, by id.
    pub cards: BTreeMap<String, Card>,
    /// What the jobs that are done took against what was likely.
    pub learnt: Learnt,
    /// How many times a workshop's the hours of the library are, at least and at most; `None`: it does not say.
    pub of_workshop: Option<[f64; 2]>,
}

/// The work of a plan: of its assessment. Empty where the vehicle is not known.
#[must_use]
pub fn jobs(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Jobs {
    let catalogue = catalogue.for_sheet(sheet);
    let Some(v) = catalogue.vehicles.get(&sheet.vehicle) else { return Jobs::default() };
    let touched = touched::touched(a, &catalogue, v);
    let asked = ask::ask(&touched, &catalogue, v);
    let (sorted, mut circles) = order::order(&asked, &catalogue, v);
    let puts_on = |at: usize| {
        let op = asked.jobs[at].operation.as_ref().and_then(|id| catalogue.operations.get(id));
        op.is_none_or(|op| op.kind.takes_lines())
    };
    let taken = lines::taken(&touched, &asked, &sorted.order, &puts_on);
    let hours = hours::hours(&touched, &asked, &taken, &catalogue);
    let name = |place: &str| {
        let at = a.positions.iter().find(|p| p.id == place);
        at.map_or_else(|| place.to_owned(), |p| p.name.clone())
    };
    let stands = |part: &String| {
        let line = a.buy.iter().find(|line| line.part == *part);
        line.is_none_or(|line| line.state.is_here() && line.short == 0)
    };
    let mut all = Vec::new();
    for at in &sorted.order {
        let one = &asked.jobs[*at];
        let op = one.operation.as_ref().and_then(|id| catalogue.operations.get(id));
        let mut lines: Vec<String> = taken
            .iter()
            .enumerate()
            .filter(|(_, job)| **job == Some(*at))
            .map(|(i, _)| touched[i].part.clone())
            .collect();
        let mut once = BTreeSet::new();
        lines.retain(|part| once.insert(part.clone()));
        let id = one.id();
        let waits_for = lines.iter().filter(|part| !stands(part)).cloned().collect();
        let place = one.place.as_deref();
        all.push(Job {
            name: match (op, place) {
                (Some(op), Some(place)) => format!("{}: {}", op.name, name(place)),
                (Some(op), None) => op.name.clone(),
                (None, Some(place)) => format!("{}: fit", name(place)),
                (None, None) => "The rest of the plan".to_owned(),
            },
            kind: op.map_or(JobKind::Fit, |op| op.kind),
            position: one.place.clone().or_else(|| one.asked_at.clone()),
            area: op.map_or_else(String::new, |op| op.area.clone()),
            makes_way: !one.pulled,
            after: sorted.before(*at).map(|(job, why)| (asked.jobs[job].id(), why.to_owned())).collect(),
            after_checks: Vec::new(),
            library_hours: hours[*at].0,
            parts_hours: hours[*at].1,
            after_the_road: one.operation.as_ref().is_some_and(|id| is_after_the_road(id, &catalogue)),
            people: op.and_then(|op| op.people).unwrap_or(1),
            skill: op.map_or_else(String::new, |op| op.skill.clone()),
            places: op.map_or_else(Vec::new, |op| op.places.clone()),
            weeks: op.and_then(|op| op.weeks),
            back_on: back_on(op, sheet.done.get(&id), catalogue.as_of),
            tools: op.map_or_else(Vec::new, |op| op.tools.clone()),
            ticks: op.map_or_else(Vec::new, |op| op.ticks.clone()),
            note: op.map_or_else(String::new, |op| op.note.clone()),
            cautions: op.map_or_else(Vec::new, |op| op.cautions.clone()),
            card: op.and_then(|op| op.card.clone()),
            waits_for,
            lines,
            done: sheet.done.get(&id).cloned(),
            id,
        });
    }
    let checks = checks::checks(&touched, &asked, sheet, &catalogue, v, &mut circles);
    let named = all.iter().filter_map(|job| job.card.as_ref());
    let named = named.chain(checks.iter().filter_map(|check| check.card.as_ref()));
    let cards: BTreeMap<String, Card> =
        named.filter_map(|id| Some((id.clone(), catalogue.cards.get(id)?.clone()))).collect();
    let ids = all.iter().flat_map(|job| &job.cautions).chain(checks.iter().flat_map(|check| &check.cautions));
    let ids = ids.chain(cards.values().flat_map(|card| &card.cautions));
    let words = |id: &String| {
        let caution = catalogue.cautions.get(id)?;
        let guard = Phrase::read(&caution.guard).in_both();
        Some((id.clone(), format!("{}. {guard}", caution.danger.trim_end_matches('.'))))
    };
    let cautions = ids.filter_map(words).collect();
    for rule in catalogue.orders.values() {
        let before: Vec<&String> =
            rule.before.iter().filter(|id| checks.iter().any(|check| check.id == **id)).collect();
        for job in &mut all {
            let op = job.id.split_once('@').map_or(job.id.as_str(), |(op, _)| op);
            if rule.after.iter().any(|id| id == op) {
                job.after_checks.extend(before.iter().map(|id| ((*id).clone(), rule.why.clone())));
            }
        }
    }
    let learnt = Learnt::of(all.iter());
    let not_driven = sheet.not_driven.as_ref().map(|off| off.since.clone().unwrap_or_default());
    let undecided = undecided(sheet, a, &catalogue);
    Jobs {
        jobs: all,
        checks,
        circles,
        not_driven,
        undecided,
        cautions,
        cards,
        learnt,
        of_workshop: catalogue.first_time,
    }
}

/// What was read too closely to an end to say whether it stops the vehicle, where the plan keeps what was read.
fn undecided(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Vec<String> {
    if sheet.readings.is_empty() {
        return Vec::new();
    }
    let stands = |id: &str| a.positions.iter().any(|p| p.id == id && p.verdict_stands);
    let survey = survey(sheet, &sheet.plan, catalogue);
    let open = survey.lines.iter().filter(|line| {
        let is_near = matches!(line.outcome, Outcome::Undecided { worse: Verdict::Stop, .. });
        (is_near && stands(&line.position)) || (line.rest.is_some() && line.is_open_before_the_road())
    });
    open.map(|line| format!("{}: {} {}", line.place, line.name, line.says())).collect()
}

/// The day on which what was sent out is back at the latest; `None` where that is not known, or has gone by.
fn back_on(op: Option<&Operation>, done: Option<&Done>, today: Option<Date>) -> Option<Date> {
    let [_, most] = op?.weeks?;
    let sent = Dated::parse(done?.on.as_ref()?).ok()?.last;
    let back = sent.checked_add(Span::new().try_days((most * 7.0).ceil() as i64).ok()?).ok()?;
    today.is_some_and(|today| back > today).then_some(back)
}

/// Whether a rule of the trade puts a check that is done on the road before an operation.
fn is_after_the_road(id: &str, catalogue: &Catalogue) -> bool {
    let on_the_road =
        |check: &String| catalogue.checks.get(check).is_some_and(|c| !c.phase.is_before_the_road());
    let says =
        |rule: &OrderRule| rule.before.iter().any(on_the_road) && rule.after.iter().any(|other| other == id);
    catalogue.orders.values().any(says)
}

impl Commission {
    /// That it was signed and does not pass, with what would: "read "30 mm", and what passes is at least 50 mm". `None`: it
    /// passed, or nobody has signed it.
    #[must_use]
    pub fn failed(&self) -> Option<String> {
        let (signed, limit) = self.outside.as_ref().zip(self.limit.as_ref())?;
        Some(match signed.reading.trim() {
            "" => format!("signed without a reading, and what passes is {}", limit.text),
            read => format!("read \"{read}\", and what passes is {}", limit.text),
        })
    }
}

impl Job {
    /// It is sent out: what comes after it is not done in the same session.
    #[must_use]
    pub fn goes_away(&self) -> bool {
        self.weeks.map_or(self.kind == JobKind::SendOut, |[_, most]| most > 0.0)
    }

    /// It is done and was sent out, and whether it is back nobody can tell: since when it is away, or for how long, is not known.
    #[must_use]
    pub fn is_lost(&self) -> bool {
        let is_dated = |done: &Done| done.on.as_ref().is_some_and(|on| Dated::parse(on).is_ok());
        self.goes_away() && self.done.as_ref().is_some_and(|done| self.weeks.is_none() || !is_dated(done))
    }
}

impl Jobs {
    /// What can be done in so many hours with what is here: from the front, what is not done, wants nothing that is still to
    /// come and follows only what is done and here, or done in the same hours and not sent out. What is longer than what is
    /// left is passed over.
    #[must_use]
    pub fn in_hours(&self, hours: f64) -> Vec<&Job> {
        let here = |job: &&Job| job.done.is_some() && job.back_on.is_none();
        let mut ready: BTreeSet<&str> = self.jobs.iter().filter(here).map(|job| job.id.as_str()).collect();
        let signed = |id: &String| self.checks.iter().any(|check| check.id == *id && check.signed.is_some());
        let (mut left, mut out) = (hours, Vec::new());
        for job in self.jobs.iter().filter(|job| job.done.is_none()) {
            let free =
                job.waits_for.is_empty() && job.after.iter().all(|(id, _)| ready.contains(id.as_str()));
            let free = free && job.after_checks.iter().all(|(id, _)| signed(id));
            let likely = self.hours_of(job).likely;
            if free && likely <= left {
                left -= likely;
                if !job.goes_away() {
                    ready.insert(&job.id);
                }
                out.push(job);
            }
        }
        out
    }

    /// Cautions in words, what can happen and what to do.
    pub fn cautions_of<'a>(&'a self, ids: &'a [String]) -> impl Iterator<Item = &'a str> {
        ids.iter().filter_map(|id| self.cautions.get(id)).map(String::as_str)
    }

    /// The hours that are still to be worked.
    #[must_use]
    pub fn to_go(&self) -> Spread {
        Spread::of(self.jobs.iter().filter(|job| job.done.is_none()).map(|job| self.hours_of(job)))
    }

    /// Hours of a job at the pace that was learnt; as the library has them where it is done. Whoever tells the hours of a job, or
    /// adds them up, asks here.
    #[must_use]
    pub fn hours_of(&self, job: &Job) -> Hours {
        if job.done.is_some() { job.library_hours } else { self.learnt.at_pace(job.library_hours) }
    }

    /// Likely hours that are still to be worked, at the pace that was learnt: those of the parts, and those that only make way.
    #[must_use]
    pub fn parts_and_way(&self) -> (f64, f64) {
        let factor = self.learnt.factor();
        let open = self.jobs.iter().filter(|job| job.done.is_none());
        open.fold((0.0, 0.0), |(parts, way), job| {
            let of_parts = job.parts_hours * factor;
            (parts + of_parts, way + (self.hours_of(job).likely - of_parts).max(0.0))
        })
    }

    /// What is done or signed before a check can be: names, jobs first. Nothing: it can be signed.
    #[must_use]
    pub fn before_check(&self, check: &Commission) -> Vec<&str> {
        let job = |id: &String| self.jobs.iter().find(|job| job.id == *id && job.done.is_none());
        let open = |id: &String| self.checks.iter().find(|other| other.id == *id && other.signed.is_none());
        let jobs = check.after_jobs.iter().filter_map(job).map(|job| job.name.as_str());
        jobs.chain(check.after.iter().filter_map(open).map(|check| check.name.as_str())).collect()
    }

    /// What is signed before a job can be done: names of checks that are open.
    #[must_use]
    pub fn before_job(&self, job: &Job) -> Vec<&str> {
        let open = |(id, _): &(String, String)| {
            self.checks.iter().find(|check| check.id == *id && check.signed.is_none())
        };
        job.after_checks.iter().filter_map(open).map(|check| check.name.as_str()).collect()
    }
}

#[cfg(test)]
mod tests;
