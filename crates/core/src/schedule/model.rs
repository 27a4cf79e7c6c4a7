//! The jobs that are left as tasks: minutes, what comes before, people, skills, places, and the session from which they can be.

use std::collections::BTreeMap;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::date::day;
use crate::jobs::{Hours, Job, Jobs};
use crate::library::JobKind;
use crate::schedule::Note;
use crate::schedule::settings::Settings;
use crate::schedule::solve::{Link, Placed, Problem, Task};
use crate::schedule::supply::{Coming, coming};
use crate::sheet::Sheet;

/// No job is longer; what is more is a slip.
const MOST_HOURS: f64 = 2000.0;

/// Tasks and what they are of.
pub struct Model {
    /// The tasks.
    pub problem: Problem,
    /// Job ids, task by task.
    pub ids: Vec<String>,
    /// Hours, task by task, at the pace that was learnt.
    pub hours: Vec<Hours>,
    /// Parts that each waits for.
    pub waits: Vec<Vec<Coming>>,
    /// What does not go as it was meant.
    pub notes: Vec<Note>,
}

/// Minutes for hours, up: a job is never squeezed into less than it takes.
pub fn minutes(hours: f64) -> u64 {
    // a bit of a sum is no minute
    (hours.clamp(0.0, MOST_HOURS) * 60.0 - 1e-6).ceil().max(0.0) as u64
}

impl Model {
    /// Of the jobs of a sheet that are not done.
    pub fn of(
        sheet: &Sheet,
        jobs: &Jobs,
        a: &Assessment,
        catalogue: &Catalogue,
        settings: &Settings,
    ) -> Self {
        let open: Vec<&Job> = jobs.jobs.iter().filter(|job| job.done.is_none()).collect();
        let number: BTreeMap<&str, usize> =
            open.iter().enumerate().map(|(at, job)| (job.id.as_str(), at)).collect();
        let sent: BTreeMap<&str, &Job> = jobs
            .jobs
            .iter()
            .filter(|job| job.done.is_some() && job.goes_away())
            .map(|job| (job.id.as_str(), job))
            .collect();
        let mut words: Vec<&str> =
            open.iter().map(|job| job.skill.as_str()).filter(|skill| !skill.is_empty()).collect();
        words.sort_unstable();
        words.dedup();
        // 64 skills in one plan are more than there are trades
        words.truncate(64);
        let bit = |skill: &str| {
            words.iter().position(|word| word.eq_ignore_ascii_case(skill)).map_or(0, |at| 1_u64 << at)
        };
        let people: Vec<u64> = settings
            .people
            .iter()
            .map(|hand| hand.can.iter().map(|can| bit(can)).fold(0, |all, one| all | one))
            .collect();
        let mut places: Vec<&str> = open.iter().flat_map(|job| &job.places).map(String::as_str).collect();
        places.sort_unstable();
        places.dedup();
        let mut parts: BTreeMap<&str, Coming> = BTreeMap::new();
        for part in open.iter().flat_map(|job| &job.waits_for) {
            parts.entry(part).or_insert_with(|| coming(part, sheet, a, catalogue, settings));
        }
        let mut model = Self {
            problem: Problem {
                tasks: Vec::with_capacity(open.len()),
                people,
                shared: vec![1; places.len()],
                session: settings.minutes,
            },
            ids: open.iter().map(|job| job.id.clone()).collect(),
            hours: open.iter().map(|job| jobs.hours_of(job)).collect(),
            waits: open
                .iter()
                .map(|job| {
                    job.waits_for.iter().filter_map(|part| parts.get(part.as_str()).cloned()).collect()
                })
                .collect(),
            notes: Vec::new(),
        };
        for (at, job) in open.iter().enumerate() {
            let after =
                job.after.iter().filter_map(|(id, _)| number.get(id.as_str())).filter(|before| **before < at);
            let after = after.map(|before| {
                let of = open[*before];
                // where nobody knows for how long, it is not back in the same session
                let unknown = u64::from(of.goes_away());
                let away = of.weeks.map_or(unknown, |[_, most]| settings.sessions_in(most));
                Link { task: *before, sessions: away }
            });
            let back = job.after.iter().filter_map(|(id, _)| sent.get(id.as_str())?.back_on);
            let back = back.filter_map(|day| settings.days_until(day)).max();
            let back = back.map(|days| settings.session_from(days));
            let pinned = sheet.pinned.get(&job.id).and_then(|text| day(text).ok());
            let pinned =
                pinned.and_then(|day| settings.days_until(day)).map(|days| settings.session_from(days));
            let here = model.waits[at].iter().map(|part| part.session).max();
            let from = here.max(pinned).max(back).unwrap_or(0);
            let skill = if job.skill.is_empty() { 0 } else { bit(&job.skill) };
            let can = model.problem.people.iter().any(|can| can & skill != 0);
            model.problem.tasks.push(Task {
                minutes: minutes(model.hours[at].likely),
                after: after.collect(),
                release: from.saturating_mul(settings.minutes),
                people: usize::try_from(job.people.max(1)).unwrap_or(1).min(settings.people.len()),
                skill: if can { skill } else { 0 },
                takes: job
                    .places
                    .iter()
                    .filter_map(|place| Some((places.binary_search(&place.as_str()).ok()?, 1)))
                    .collect(),
                first: pinned.is_some(),
            });
            let id = || job.id.clone();
            if job.people as usize > settings.people.len() {
                model.notes.push(Note::Hands { job: id(), people: job.people });
            }
            if skill != 0 && !can {
                model.notes.push(Note::Skill { job: id(), skill: job.skill.clone() });
            }
            if job.kind == JobKind::SendOut && job.weeks.is_none() {
                model.notes.push(Note::Away { job: id() });
            }
            for before in job.after.iter().filter_map(|(id, _)| sent.get(id.as_str())) {
                let is_told = |note: &Note| matches!(note, Note::Sent { job } if *job == before.id);
                if before.is_lost() && !model.notes.iter().any(is_told) {
                    model.notes.push(Note::Sent { job: before.id.clone() });
                }
            }
            let checks = jobs.before_job(job);
            if !checks.is_empty() {
                let checks = checks.into_iter().map(str::to_owned).collect();
                model.notes.push(Note::Check { job: id(), checks });
            }
        }
        model
    }

    /// Task numbers in the order in which they begin.
    pub fn order_of(&self, placed: &[Placed]) -> Vec<usize> {
        let mut order: Vec<usize> = (0..placed.len()).collect();
        order.sort_by_key(|at| (placed[*at].start, *at));
        order
    }
}
