//! What the page of the jobs keeps, and the work of the sheet as it stands.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::assessment::Assessment;
use knockon_core::jobs::while_apart::{Cheap, while_apart};
use knockon_core::jobs::{Jobs, jobs, missing, session_hours};
use knockon_core::schedule::{End, Schedule, schedule};
use knockon_core::sheet::{Line, Time};
use knockon_core::showing::Measure;
use knockon_core::{Catalogue, Sheet};

use crate::look::typed::Fields;

/// Which jobs are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Shown {
    /// All in their order.
    #[default]
    All,
    /// What can be done in so many hours with what is here.
    Session,
    /// What is cheap while something is apart, and dear later.
    Apart,
    /// The checks, and what stands in the way of the road.
    Checks,
}

/// How long a job has been worked on at the bench.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timer {
    /// The job, by id.
    pub job: String,
    /// Seconds before it was last started.
    pub before: f64,
    /// Since when it runs, in seconds of the window; `None`: it stands.
    pub since: Option<f64>,
}

impl Timer {
    /// Seconds at a time of the window.
    pub fn seconds(&self, now: f64) -> f64 {
        self.before + self.since.map_or(0.0, |since| (now - since).max(0.0))
    }
}

/// What a move of a job changed: the end before it.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The job, by id.
    pub job: String,
    /// The end before, four times of five.
    pub before: End,
}

/// What the page keeps.
#[derive(Clone, Debug)]
pub struct JobsState {
    /// Which are shown.
    pub shown: Shown,
    /// Hours of a session, as typed; empty: those of the sheet.
    pub hours: String,
    /// The job that is open, by id.
    pub open: Option<String>,
    /// That job is to come into sight.
    pub reveal: bool,
    /// What is being read at a check: its id, the reading and the initials.
    pub reading: Option<(String, String, String)>,
    /// The check that was to be signed before what it comes after.
    pub refused: Option<String>,
    /// The job that fills the window, by id.
    pub bench: Option<String>,
    /// What was ticked before a job is begun: job id and number.
    pub ticked: BTreeSet<(String, usize)>,
    /// How long it has been worked on.
    pub timer: Option<Timer>,
    /// What is being typed into fields.
    pub fields: Fields,
    /// What the last move changed.
    pub moved: Option<Moved>,
}

impl Default for JobsState {
    fn default() -> Self {
        Self {
            shown: Shown::All,
            hours: "6".to_owned(),
            open: None,
            reveal: false,
            reading: None,
            refused: None,
            bench: None,
            ticked: BTreeSet::new(),
            timer: None,
            fields: Fields::default(),
            moved: None,
        }
    }
}

impl JobsState {
    /// The hours of a session; `None`: what is typed is no such number.
    pub fn hours(&self) -> Option<f64> {
        session_hours(&self.hours)
    }
}

/// The work of a revision.
#[derive(Clone, Debug)]
pub struct ToDo {
    /// Jobs and checks.
    pub jobs: Jobs,
    /// What stands in the way of the road.
    pub missing: Vec<String>,
    /// What is cheap while something is apart, and dear later.
    pub apart: Vec<Cheap>,
    /// When it is done.
    pub schedule: Schedule,
    /// The time there is, as the sheet says.
    pub time: Time,
    /// The buying record, as the sheet says.
    pub lines: BTreeMap<String, Line>,
    /// Days that jobs were moved to, by job id.
    pub pinned: BTreeMap<String, String>,
    /// Hours within which the rest is done as often as not.
    pub half: f64,
    /// The same four times of five.
    pub most: f64,
}

impl ToDo {
    /// The work of a sheet.
    pub fn of(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue, measure: Measure) -> Self {
        let jobs = jobs(sheet, a, catalogue);
        let missing = missing(&jobs, a, measure);
        let to_go = jobs.to_go();
        Self {
            half: to_go.within(0.5),
            most: to_go.within(0.8),
            apart: while_apart(sheet, a, &jobs, catalogue),
            schedule: schedule(sheet, &jobs, a, catalogue),
            time: sheet.time.clone().unwrap_or_default(),
            lines: sheet.lines.clone(),
            pinned: sheet.pinned.clone(),
            jobs,
            missing,
        }
    }
}
