//! Whether the vehicle may be driven: what is open still, in words.

use crate::assessment::Assessment;
use crate::jobs::Jobs;
use crate::sheet::Verdict;
use crate::showing::Measure;

/// What stands in the way of the first metre of road, the worst first; nothing: it is ready by the plan. It replaces no
/// inspection that the law asks for.
#[must_use]
pub fn missing(jobs: &Jobs, a: &Assessment, measure: Measure) -> Vec<String> {
    let mut out = Vec::new();
    let stops = a.positions.iter().filter(|p| p.verdict == Some(Verdict::Stop) && p.verdict_stands);
    out.extend(
        stops.map(|p| format!("{}: the survey says stop, and nothing in the plan answers it", p.name)),
    );
    out.extend(jobs.undecided.iter().cloned());
    out.extend(jobs.not_driven.as_ref().map(|since| match since.as_str() {
        "" => "The sheet says that it is not driven on the road".to_owned(),
        since => format!("The sheet says that it is not driven on the road since {since}"),
    }));
    // only what people depend on, or what the survey stopped, has a danger
    for c in &a.companions {
        out.extend(c.danger.iter().map(|danger| format!("{} is left out: {danger}", c.name)));
    }
    out.extend(a.clashes.iter().map(|clash| format!("{}: does not fit", clash.name)));
    let unknowns = a.to_measure.iter();
    out.extend(unknowns.map(|unknown| unknown.what.say(measure)));
    let open = jobs.jobs.iter().filter(|job| job.done.is_none() && !job.after_the_road);
    out.extend(open.map(|job| format!("{}: not done", job.name)));
    let checks =
        jobs.checks.iter().filter(|check| check.phase.is_before_the_road() && check.signed.is_none());
    out.extend(checks.map(|check| {
        format!("{}: {}", check.name, check.failed().unwrap_or_else(|| "not signed".to_owned()))
    }));
    out
}
