//! How long jobs take: at least, likely, at most; and all of them together as a distribution.

use std::collections::BTreeMap;

use crate::catalogue::Catalogue;
use crate::jobs::ask::{All, Asked};
use crate::jobs::touched::Touched;
use crate::library::JobKind;

/// Hours of one person.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hours {
    /// Where all goes well.
    pub least: f64,
    /// As a rule.
    pub likely: f64,
    /// Where it does not.
    pub most: f64,
}

/// What each job takes by its operation: least, likely, most; `None`: the library does not say. What is only put back because
/// it was taken off takes no longer than taking it off took: two hours to lay new cables are no hours for a battery that was
/// disconnected (common practice). What is filled, bled, set or tried takes its time whatever was opened.
pub fn own(all: &All, catalogue: &Catalogue) -> Vec<Option<[f64; 3]>> {
    let operation = |job: &Asked| job.operation.as_ref().and_then(|id| catalogue.operations.get(id));
    let mut out: Vec<Option<[f64; 3]>> =
        all.jobs.iter().map(|job| operation(job).and_then(|op| op.hours)).collect();
    let mut taken_off: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, job) in all.jobs.iter().enumerate() {
        if let Some(op) = operation(job).filter(|op| op.kind == JobKind::Remove)
            && let Some(by) = &op.closed_by
        {
            taken_off.entry(by).or_default().push(at);
        }
    }
    for (by, job) in all.jobs.iter().enumerate().filter(|(_, job)| !job.pulled) {
        let puts_back = operation(job).is_some_and(|op| matches!(op.kind, JobKind::Fit | JobKind::Connect));
        let opened = job.operation.as_ref().filter(|_| puts_back).and_then(|id| taken_off.get(id.as_str()));
        // where one of them says nothing, nobody knows how long it took
        let likely: Option<f64> =
            opened.and_then(|all| all.iter().map(|at| out[*at].map(|[_, likely, _]| likely)).sum());
        if let (Some(likely), Some(hours)) = (likely, out[by]) {
            let [_, of, _] = hours;
            if of > likely && likely > 0.0 {
                out[by] = Some(hours.map(|h| h * likely / of));
            }
        }
    }
    out
}

/// For each job its hours, and how many of them are those of parts. What it takes to fit the parts of a place is spread over
/// the operations that the place asks for, by their own hours; an operation that nothing is spread over takes its own, and
/// none is shorter than its own least. How far they may be off the operation says; where none does, nobody knows.
pub fn hours(
    touched: &[Touched],
    all: &All,
    taken: &[Option<usize>],
    catalogue: &Catalogue,
) -> Vec<(Hours, f64)> {
    let of_operation = own(all, catalogue);
    let own = |at: usize| of_operation[at];
    let mut spread = vec![0.0; all.jobs.len()];
    for (i, thing) in touched.iter().enumerate().filter(|(_, thing)| thing.hours > 0.0) {
        let mut jobs = all.by[i].clone();
        jobs.extend(taken[i].filter(|job| !jobs.contains(job)));
        let weight = |at: usize| own(at).map_or(1.0, |[_, likely, _]| likely.max(0.1));
        let sum: f64 = jobs.iter().map(|at| weight(*at)).sum();
        for at in jobs {
            spread[at] += thing.hours * weight(at) / sum;
        }
    }
    let one = |(at, parts): (usize, f64)| {
        let own = own(at);
        let likely = match own {
            Some([least, likely, _]) if parts < least => {
                if parts > 0.0 {
                    least
                } else {
                    likely
                }
            }
            _ => parts,
        };
        let [low, _, high] = match own {
            Some([least, of, most]) if of > 0.0 => [least / of, 1.0, most / of],
            _ => [1.0; 3],
        };
        (Hours { least: likely * low, likely, most: likely * high }, parts)
    };
    spread.into_iter().enumerate().map(one).collect()
}

/// Hours of a session as people type them: "6", "4,5 h"; `None` where that is no number above nothing.
#[must_use]
pub fn session_hours(text: &str) -> Option<f64> {
    let typed = text.trim().trim_end_matches('h').trim().replace(',', ".");
    typed.parse::<f64>().ok().filter(|hours| *hours > 0.0 && *hours <= 10_000.0)
}

/// Hours of many jobs together, as a distribution: each a triangle over its three figures, added up by convolution.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// Hours of its first step.
    start: f64,
    /// Width of a step, hours.
    step: f64,
    /// Probability of each step.
    weights: Vec<f64>,
}

/// So many steps at most: what is finer than a thousandth of the whole nobody asks for.
const STEPS: usize = 2000;

impl Spread {
    /// Of these jobs, each for itself.
    pub fn of(jobs: impl Iterator<Item = Hours>) -> Self {
        let jobs: Vec<Hours> = jobs.filter(|h| h.most > 0.0 && h.most.is_finite()).collect();
        let (least, most) =
            (jobs.iter().map(|h| h.least).sum::<f64>(), jobs.iter().map(|h| h.most).sum::<f64>());
        let step = ((most - least) / STEPS as f64).max(0.01);
        let (mut start, mut weights) = (0.0, vec![1.0]);
        for hours in &jobs {
            let one = triangle(*hours, step);
            // steps are coarse for a short job: its mean stays what it is
            let mean: f64 = one.iter().enumerate().map(|(i, w)| i as f64 * step * w).sum();
            start += (hours.least + hours.likely + hours.most) / 3.0 - mean;
            let mut sum = vec![0.0; weights.len() + one.len() - 1];
            for (i, a) in weights.iter().enumerate() {
                for (j, b) in one.iter().enumerate() {
                    sum[i + j] += a * b;
                }
            }
            weights = sum;
        }
        Self { start, step, weights }
    }

    /// The hours within which it is done with this probability, 0 to 1.
    #[must_use]
    pub fn within(&self, probability: f64) -> f64 {
        let mut sum = 0.0;
        for (i, weight) in self.weights.iter().enumerate() {
            sum += weight;
            if sum >= probability {
                return self.start + i as f64 * self.step;
            }
        }
        self.start + self.weights.len() as f64 * self.step
    }
}

/// The probabilities of a triangle from its least on, in steps.
fn triangle(hours: Hours, step: f64) -> Vec<f64> {
    let Hours { least, likely, most } = hours;
    let width = most - least;
    let n = (width / step).round() as usize;
    if n < 1 {
        return vec![1.0];
    }
    let below = |x: f64| {
        let x = x.clamp(least, most);
        if x <= likely && likely > least {
            (x - least).powi(2) / (width * (likely - least))
        } else if most > likely {
            1.0 - (most - x).powi(2) / (width * (most - likely))
        } else {
            1.0
        }
    };
    let edge = |i: usize| least + (i as f64 - 0.5) * step;
    let mut out: Vec<f64> = (0..=n).map(|i| below(edge(i + 1)) - below(edge(i))).collect();
    let sum: f64 = out.iter().sum();
    out.iter_mut().for_each(|w| *w /= sum);
    out
}
