//! When the work is done: jobs in sessions, what to order by when, and the day on which all is finished.
//!
//! In words. Jobs become tasks on an axis of worked minutes ([`model`]): what they come after, the people, skills and places
//! they take, the session from which their parts are here ([`supply`]), the weeks for which something is away. The critical
//! path ([`path`]) says how early and late each can be if hands were without end; a serial schedule by the best of some
//! priority rules, made better by pushing it to its end and back ([`solve`], [`rules`]), says in which session it is done
//! ([`trays`]). How long all takes with a probability comes out of the hours of all jobs, added up by convolution: with each
//! job as much longer than likely as that sum says, the same schedule is laid again ([`finish`]).

mod finish;
mod model;
pub mod path;
pub mod rules;
pub mod settings;
pub mod solve;
pub mod supply;
mod trays;

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::date::Dated;
use crate::jobs::Jobs;
use crate::schedule::model::Model;
use crate::schedule::path::Path;
use crate::schedule::rules::Rule;
use crate::schedule::settings::Settings;
use crate::schedule::supply::{Coming, Order};
use crate::sheet::Sheet;

/// A job in a session, or the part of it that falls into one.
#[derive(Clone, Debug, PartialEq)]
pub struct Block {
    /// Job id.
    pub job: String,
    /// Minutes from the beginning of the session.
    pub from: u64,
    /// Minutes in it.
    pub minutes: u64,
    /// Which piece of how many: a job that is longer than a session goes over several.
    pub piece: (usize, usize),
    /// Who does it, by number in the settings.
    pub people: Vec<usize>,
}

/// One session.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Session {
    /// Its day. `None`: no day is known.
    pub day: Option<Date>,
    /// What is done, in order. Nothing: all that is left waits.
    pub blocks: Vec<Block>,
}

/// Where a job lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// The session in which it begins, from 0.
    pub first: usize,
    /// The session in which it ends.
    pub last: usize,
    /// Worked hours from the beginning of all before which it cannot begin, if hands were without end.
    pub early: f64,
    /// Hours by which it can be put off then without putting off the end.
    pub float: f64,
    /// It is on the longest chain.
    pub critical: bool,
    /// Parts that it waits for.
    pub waits: Vec<Coming>,
}

/// The day on which all is done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct End {
    /// So many sessions.
    pub sessions: u64,
    /// The day of the last. `None`: no day is known.
    pub day: Option<Date>,
}

/// Something that does not go as it was meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    /// A job takes more people than there are.
    Hands {
        /// Job id.
        job: String,
        /// How many it takes.
        people: u32,
    },
    /// Nobody has a skill.
    Skill {
        /// Job id.
        job: String,
        /// The skill.
        skill: String,
    },
    /// A job is sent out, and nobody knows for how long.
    Away {
        /// Job id.
        job: String,
    },
    /// A job was sent out, and whether it is back nobody can tell: no day or no weeks are known. It counts as back.
    Sent {
        /// Job id.
        job: String,
    },
    /// A job stands in another session than it was moved to.
    Moved {
        /// Job id.
        job: String,
        /// The day it was moved to.
        to: Date,
        /// The day it stands on.
        on: Date,
        /// The last that it waits for, by id or name: a job, a part.
        behind: Option<String>,
    },
    /// A job waits for a part that is on order, and no day was promised.
    NoDay {
        /// The first job that waits for it, by id.
        job: String,
        /// The part, as shown.
        part: String,
        /// The day on which the plan has it, by the weeks it takes. `None`: nobody has said them, and it counts as here from the
        /// second session on.
        here: Option<Date>,
    },
    /// A job waits for a part whose promised day has gone by.
    Late {
        /// The first job that waits for it, by id.
        job: String,
        /// The part, as shown.
        part: String,
        /// The day it was promised for.
        promised: Date,
        /// The day on which the plan has it. `None`: it counts as here from the second session on.
        here: Option<Date>,
    },
    /// A job waits for a check that is not signed.
    Check {
        /// Job id.
        job: String,
        /// Names of the checks.
        checks: Vec<String>,
    },
}

/// When the work is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Schedule {
    /// The time there is.
    pub settings: Settings,
    /// Sessions in order, those in which nothing can be done among them.
    pub sessions: Vec<Session>,
    /// Where each job lies that is not done, by id.
    pub slots: BTreeMap<String, Slot>,
    /// The longest chain of jobs, by id.
    pub critical: Vec<String>,
    /// Worked hours of it, with what it waits for.
    pub chain: f64,
    /// Where every job takes what is likely.
    pub likely: End,
    /// As often as not.
    pub half: End,
    /// Four times of five.
    pub most: End,
    /// What is to be ordered, and by when.
    pub orders: Vec<Order>,
    /// What does not go as it was meant.
    pub notes: Vec<Note>,
    /// By which rule it was laid.
    pub rule: Rule,
}

impl Schedule {
    /// What is to be ordered today, or should have been.
    pub fn order_today(&self) -> impl Iterator<Item = &Order> {
        self.orders.iter().filter(|order| order.today)
    }

    /// Parts whose weeks nobody has said.
    pub fn to_ask(&self) -> impl Iterator<Item = &Order> {
        self.orders.iter().filter(|order| order.weeks.is_none())
    }

    /// Days from the wanted day to an end: more than nothing is late. `None`: there is no such day.
    #[must_use]
    pub fn late(&self, end: End) -> Option<i32> {
        let (wanted, day) = self.settings.wanted.zip(end.day)?;
        Some(wanted.until(day).ok()?.get_days())
    }
}

/// When the work of a sheet is done, on the day of the catalogue.
#[must_use]
pub fn schedule(sheet: &Sheet, jobs: &Jobs, a: &Assessment, catalogue: &Catalogue) -> Schedule {
    let grown = catalogue.for_sheet(sheet);
    // "by 2027-04" is kept on the last day of April
    let deadline = sheet.direction().and_then(|direction| direction.deadline.as_deref());
    let deadline = deadline.and_then(|text| Dated::parse(text).ok()).map(|dated| dated.last);
    let settings = Settings::of(sheet.time.as_ref(), deadline, catalogue.as_of);
    let model = Model::of(sheet, jobs, a, &grown, &settings);
    // jobs never go round: what would is left out of their order
    let path = Path::of(&model.problem).unwrap_or_default();
    let solved = rules::solve(&model.problem, &path);
    let [half, most] = finish::finish(&model, &solved, jobs, &settings);
    let sessions = trays::sessions(&model, &solved.placed, &settings);
    let slots = trays::slots(&model, &solved.placed, &path, &settings);
    let likely = finish::end(&solved.placed, &settings);
    let order = model.order_of(&solved.placed);
    let wanted = order.into_iter().flat_map(|at| {
        let (session, job) = (solved.placed[at].start / settings.minutes, model.ids[at].as_str());
        model.waits[at].iter().map(move |part| (job, session, part))
    });
    let mut notes = model.notes.clone();
    notes.extend(supply::notes(wanted.clone().map(|(job, _, part)| (job, part)), &settings));
    let orders = supply::orders(wanted, &settings);
    notes.extend(trays::moved(sheet, &model, &solved.placed, &settings));
    Schedule {
        critical: path.chain.iter().map(|at| model.ids[*at].clone()).collect(),
        chain: path.length as f64 / 60.0,
        half,
        most,
        likely,
        sessions,
        slots,
        orders,
        notes,
        rule: solved.rule,
        settings,
    }
}

#[cfg(test)]
mod tests;
