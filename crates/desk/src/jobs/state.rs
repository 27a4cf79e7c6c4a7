//! What the page of the jobs keeps, and the work of the sheet as it stands.

use knockon_core::assessment::Assessment;
use knockon_core::jobs::{Jobs, jobs, missing, session_hours};
use knockon_core::showing::Measure;
use knockon_core::{Catalogue, Sheet};

/// Which jobs are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Shown {
    /// All in their order.
    #[default]
    All,
    /// What can be done in so many hours with what is here.
    Session,
    /// The checks, and what stands in the way of the road.
    Checks,
}

/// What the page keeps.
#[derive(Clone, Debug)]
pub struct JobsState {
    /// Which are shown.
    pub shown: Shown,
    /// Hours of a session, as typed.
    pub hours: String,
    /// The job that is open, by id.
    pub open: Option<String>,
    /// What is being read at a check: its id, the reading and the initials.
    pub reading: Option<(String, String, String)>,
}

impl Default for JobsState {
    fn default() -> Self {
        Self { shown: Shown::All, hours: "6".to_owned(), open: None, reading: None }
    }
}

impl JobsState {
    /// The hours of a session; `None`: what is typed is no such number.
    pub fn hours(&self) -> Option<f64> {
        session_hours(&self.hours)
    }
}

/// The work of a revision.
#[derive(Clone, Debug, Default)]
pub struct ToDo {
    /// Jobs and checks.
    pub jobs: Jobs,
    /// What stands in the way of the road.
    pub missing: Vec<String>,
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
        Self { half: to_go.within(0.5), most: to_go.within(0.8), jobs, missing }
    }
}
