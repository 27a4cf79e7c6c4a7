//! When all is done as often as not, and four times of five.

use crate::jobs::{Hours, Jobs};
use crate::schedule::End;
use crate::schedule::model::{Model, minutes};
use crate::schedule::rules::{Solved, by_ranks};
use crate::schedule::settings::Settings;
use crate::schedule::solve::{Placed, end_of};

/// The session in which all is done.
pub fn end(placed: &[Placed], settings: &Settings) -> End {
    let sessions = end_of(placed).div_ceil(settings.minutes);
    End { sessions, day: sessions.checked_sub(1).and_then(|last| settings.day_of(last)) }
}

/// As often as not, and four times of five: the hours of all jobs with that probability, by the convolution of theirs, are
/// shared out over the jobs, each by how much longer or shorter it can be; then the schedule is laid again.
pub fn finish(model: &Model, solved: &Solved, jobs: &Jobs, settings: &Settings) -> [End; 2] {
    let spread = jobs.to_go();
    let mut least = 0;
    [0.5, 0.8].map(|probability| {
        let hours = shared(&model.hours, spread.within(probability));
        let mut problem = model.problem.clone();
        for (task, hours) in problem.tasks.iter_mut().zip(hours) {
            task.minutes = minutes(hours);
        }
        let mut end = end(&by_ranks(&problem, &solved.ranks), settings);
        // longer jobs are not done sooner, though they may happen to lie better
        if end.sessions < least {
            end = End { sessions: least, day: least.checked_sub(1).and_then(|last| settings.day_of(last)) };
        }
        least = end.sessions;
        end
    })
}

/// The hours of each job so that they come to a sum.
fn shared(hours: &[Hours], sum: f64) -> Vec<f64> {
    let likely: f64 = hours.iter().map(|h| h.likely).sum();
    let room = |h: &Hours| if sum >= likely { h.most - h.likely } else { h.likely - h.least };
    let all: f64 = hours.iter().map(room).sum();
    let share = if all > 0.0 { ((sum - likely) / all).clamp(-1.0, 1.0) } else { 0.0 };
    hours.iter().map(|h| h.likely + share * room(h)).collect()
}
