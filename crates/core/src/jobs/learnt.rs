//! What the jobs that are done took, against what they were likely to: the pace of who works here, for the rest.

use crate::jobs::{Hours, Job};

/// So many jobs must have been timed before the rest is scaled: one broken stud is no pace.
pub const ENOUGH: usize = 3;
/// No pace is slower or faster than that.
const PACES: (f64, f64) = (0.2, 5.0);

/// What was learnt of jobs that were timed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Learnt {
    /// How many.
    pub jobs: usize,
    /// Hours that they took.
    pub taken: f64,
    /// Hours that they were likely to take.
    pub likely: f64,
}

impl Learnt {
    /// Of jobs, those that are done and timed.
    pub fn of<'a>(jobs: impl Iterator<Item = &'a Job>) -> Self {
        let timed = jobs.filter_map(|job| {
            let taken = job.done.as_ref()?.hours.filter(|hours| hours.is_finite() && *hours > 0.0)?;
            (job.library_hours.likely > 0.0).then_some((taken, job.library_hours.likely))
        });
        timed.fold(Self::default(), |sum, (taken, likely)| Self {
            jobs: sum.jobs + 1,
            taken: sum.taken + taken,
            likely: sum.likely + likely,
        })
    }

    /// How many times their hours the rest takes: taken to likely, 1 as long as too few were timed.
    #[must_use]
    pub fn factor(self) -> f64 {
        if self.jobs < ENOUGH || self.likely <= 0.0 {
            return 1.0;
        }
        (self.taken / self.likely).clamp(PACES.0, PACES.1)
    }

    /// Hours at this pace.
    #[must_use]
    pub fn at_pace(self, hours: Hours) -> Hours {
        let factor = self.factor();
        Hours { least: hours.least * factor, likely: hours.likely * factor, most: hours.most * factor }
    }
}
