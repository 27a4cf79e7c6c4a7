//! Schedules held to networkx (the critical path of random networks) and to an exact solver (the least length of random
//! projects of 30 jobs), by the stored values of `tests/reference/schedules.py`; and what must hold of every example.

#![allow(clippy::expect_used, clippy::unwrap_used, reason = "a test may stop")]

use std::collections::BTreeMap;
use std::fs;

use knockon_core::date::Date;
use knockon_core::jobs::jobs;
use knockon_core::schedule::path::Path;
use knockon_core::schedule::rules::solve;
use knockon_core::schedule::solve::{Link, Placed, Problem, Task, UNDIVIDED, end_of};
use knockon_core::schedule::{Schedule, schedule};
use knockon_core::sheet::{Person, Time};
use knockon_core::{Catalogue, Sheet, assess};
use knockon_store::library;
use knockon_tests::examples::each_example;
use knockon_tests::schemas::root;
use serde_json::Value as Json;

fn stored(name: &str) -> Vec<Json> {
    let text = fs::read_to_string(root().join("tests/reference/schedules.json")).unwrap();
    serde_json::from_str::<Json>(&text).unwrap()[name].as_array().unwrap().clone()
}

fn numbers(json: &Json) -> Vec<u64> {
    json.as_array().unwrap().iter().map(|n| n.as_u64().unwrap()).collect()
}

fn links(json: &Json) -> Vec<Link> {
    numbers(json).into_iter().map(|task| Link { task: task as usize, sessions: 0 }).collect()
}

#[test]
fn early_and_late_starts_are_those_of_networkx() {
    let all = stored("networks");
    assert!(all.len() >= 30);
    for case in &all {
        let mut tasks: Vec<Task> = numbers(&case["minutes"])
            .into_iter()
            .map(|minutes| Task { minutes, ..Task::default() })
            .collect();
        for edge in case["edges"].as_array().unwrap() {
            let [a, b] = numbers(edge)[..] else { panic!("{edge}") };
            tasks[b as usize].after.push(Link { task: a as usize, sessions: 0 });
        }
        let problem = Problem { tasks, people: Vec::new(), shared: Vec::new(), session: UNDIVIDED };
        let path = Path::of(&problem).expect("nothing goes round");
        assert_eq!(path.length, case["length"].as_u64().unwrap());
        assert_eq!(path.early, numbers(&case["early"]));
        assert_eq!(path.late, numbers(&case["late"]));
        // the chain is one: each begins where the one before it ends, and its length is that of the longest way
        let minutes: u64 = path.chain.iter().map(|at| problem.tasks[*at].minutes).sum();
        assert_eq!(minutes, path.length);
        for pair in path.chain.windows(2) {
            assert!(problem.tasks[pair[1]].after.iter().any(|link| link.task == pair[0]));
            assert_eq!(path.float(pair[0]), 0);
        }
        holds(&problem, &solve(&problem, &path).placed);
    }
}

/// Nothing begins before what it comes after ends, nobody and nothing is in two at once, no session is crossed.
fn holds(problem: &Problem, placed: &[Placed]) {
    for (task, one) in problem.tasks.iter().zip(placed) {
        assert_eq!(one.end - one.start, task.minutes);
        assert!(task.after.iter().all(|link| placed[link.task].end <= one.start));
        if task.minutes <= problem.session && task.minutes > 0 {
            assert_eq!(one.start / problem.session, (one.end - 1) / problem.session, "a session is crossed");
        }
        if task.minutes > 0 {
            assert_eq!(one.people.len(), task.people.min(problem.people.len()));
        }
    }
    for at in placed.iter().map(|one| one.start) {
        let now = || problem.tasks.iter().zip(placed).filter(move |(_, one)| one.start <= at && at < one.end);
        let mut people: Vec<usize> = now().flat_map(|(_, one)| one.people.clone()).collect();
        people.sort_unstable();
        assert!(people.windows(2).all(|two| two[0] != two[1]), "somebody is in two jobs");
        for (what, there) in problem.shared.iter().enumerate() {
            let used: u32 =
                now().flat_map(|(task, _)| &task.takes).filter(|t| t.0 == what).map(|t| t.1).sum();
            assert!(used <= *there);
        }
    }
}

/// How many times the least length the found ones are, in the mean.
fn ratio(name: &str, problem: impl Fn(&Json) -> Problem) -> f64 {
    let all = stored(name);
    assert!(all.len() >= 20);
    let one = |case: &Json| {
        let problem = problem(case);
        let placed = solve(&problem, &Path::of(&problem).unwrap()).placed;
        holds(&problem, &placed);
        let end = end_of(&placed);
        let found = if problem.session == UNDIVIDED { end } else { end.div_ceil(problem.session) };
        let least = case["least"].as_u64().unwrap();
        assert!(found >= least, "shorter than the least there is");
        found as f64 / least as f64
    };
    let sum: f64 = all.iter().map(one).sum();
    let mean = sum / all.len() as f64;
    println!("{name}: {mean:.4} times the least in the mean of {}", all.len());
    mean
}

#[test]
fn projects_are_nearly_as_short_as_an_exact_solver_makes_them() {
    let mean = ratio("projects", |case| {
        let takes = case["takes"].as_array().unwrap().iter().map(|all| {
            let one = |pair: &Json| (numbers(pair)[0] as usize, numbers(pair)[1] as u32);
            all.as_array().unwrap().iter().map(one).collect::<Vec<_>>()
        });
        let after = case["after"].as_array().unwrap().iter().map(links);
        let tasks = numbers(&case["minutes"]).into_iter().zip(after).zip(takes);
        let tasks = tasks.map(|((minutes, after), takes)| Task { minutes, after, takes, ..Task::default() });
        let shared = numbers(&case["there"]).into_iter().map(|n| n as u32).collect();
        Problem { tasks: tasks.collect(), people: Vec::new(), shared, session: UNDIVIDED }
    });
    assert!(mean < 1.05, "{mean}");
}

#[test]
fn workshops_need_nearly_as_few_sessions_as_an_exact_solver_makes_them() {
    let mean = ratio("workshops", |case| {
        let after = case["after"].as_array().unwrap().iter().map(links);
        let tasks = numbers(&case["minutes"]).into_iter().zip(after).zip(numbers(&case["hands"]));
        let tasks = tasks.map(|((minutes, after), hands)| Task {
            minutes,
            after,
            people: hands as usize,
            ..Task::default()
        });
        let people = vec![0; case["people"].as_u64().unwrap() as usize];
        let session = case["session"].as_u64().unwrap();
        Problem { tasks: tasks.collect(), people, shared: Vec::new(), session }
    });
    assert!(mean < 1.05, "{mean}");
}

fn each(visit: impl Fn(&str, &Sheet, &Schedule, &knockon_core::jobs::Jobs)) {
    let today: Date = "2026-03-30".parse().unwrap();
    let catalogue: Catalogue = library::shipped().on(today);
    for (name, mut sheet) in each_example() {
        for plan in sheet.plans.keys().cloned().collect::<Vec<_>>() {
            let a = assess(&sheet, &plan, &catalogue);
            for (people, hours) in [(1, 6.0), (3, 2.5)] {
                let people = (0..people).map(|_| Person::default()).collect();
                sheet.time = Some(Time { people, hours: Some(hours), ..Time::default() });
                let work = jobs(&sheet, &a, &catalogue);
                visit(
                    &format!("{name}, {plan}, {hours} h"),
                    &sheet,
                    &schedule(&sheet, &work, &a, &catalogue),
                    &work,
                );
            }
        }
    }
}

#[test]
fn on_all_examples_every_job_lies_behind_what_it_comes_after_and_nobody_is_in_two() {
    each(|name, _, found, work| {
        let length = found.settings.minutes;
        let mut spans: BTreeMap<&str, (u64, u64, u64)> = BTreeMap::new();
        for (n, session) in found.sessions.iter().enumerate() {
            let mut busy: BTreeMap<usize, Vec<(u64, u64)>> = BTreeMap::new();
            for block in &session.blocks {
                assert!(block.from + block.minutes <= length, "{name}: {} is over its session", block.job);
                let (from, to) =
                    (n as u64 * length + block.from, n as u64 * length + block.from + block.minutes);
                let span = spans.entry(&block.job).or_insert((from, to, 0));
                *span = (span.0.min(from), span.1.max(to), span.2 + block.minutes);
                if block.minutes > 0 {
                    block.people.iter().for_each(|who| busy.entry(*who).or_default().push((from, to)));
                }
            }
            for (who, mut all) in busy {
                all.sort_unstable();
                assert!(all.windows(2).all(|two| two[0].1 <= two[1].0), "{name}: {who} is in two jobs");
            }
        }
        // what is done lies behind all sessions
        let open = || work.jobs.iter().filter(|job| job.done.is_none());
        assert_eq!(spans.len(), open().count(), "{name}: every job lies in some session");
        for job in open() {
            let (from, _, minutes) = spans[job.id.as_str()];
            let likely = work.hours_of(job).likely * 60.0;
            assert!(
                minutes as f64 >= likely - 1e-6 && (minutes as f64) < likely + 1.0 + 1e-6,
                "{name}: {}",
                job.id
            );
            for (before, why) in job.after.iter().filter(|(before, _)| spans.contains_key(before.as_str())) {
                assert!(spans[before.as_str()].1 <= from, "{name}: {} before {before}: {why}", job.id);
            }
            // only what is longer than a session goes over several
            let slot = &found.slots[&job.id];
            assert!(minutes > length || slot.first == slot.last, "{name}: {} is cut", job.id);
        }
        let tray = &found.sessions[0];
        let waits = tray.blocks.iter().find(|b| !found.slots[&b.job].waits.is_empty());
        assert!(waits.is_none(), "{name}: {waits:?} is not here in the first session");
        assert!(found.half.sessions <= found.most.sessions, "{name}");
        assert_eq!(found.likely.sessions as usize, found.sessions.len(), "{name}");
    });
}

#[test]
fn on_all_examples_checks_and_jobs_never_wait_for_each_other() {
    each(|name, _, _, work| {
        // jobs in their order; a check behind what it comes after, a job behind its checks: nothing may go round
        let mut left: Vec<(&str, Vec<&str>)> = Vec::new();
        for job in &work.jobs {
            let after = job.after.iter().chain(&job.after_checks).map(|(id, _)| id.as_str());
            left.push((&job.id, after.collect()));
        }
        for check in &work.checks {
            left.push((&check.id, check.after.iter().chain(&check.after_jobs).map(String::as_str).collect()));
        }
        loop {
            let open: Vec<&str> = left.iter().map(|(id, _)| *id).collect();
            let was = left.len();
            left.retain(|(_, after)| after.iter().any(|id| open.contains(id)));
            if left.len() == was {
                break;
            }
        }
        assert_eq!(left, [], "{name}");
    });
}

/// `tests/reference/calendar_file.py` reads the stored one with another reader. `INSTA_UPDATE=always` writes it anew.
#[test]
fn the_stored_calendar_is_what_the_program_writes() {
    let catalogue = library::shipped().on("2026-03-30".parse().unwrap());
    let mut sheet = knockon_tests::examples::example("furrow-10");
    sheet.time = Some(Time { wanted: Some("2027-06-01".into()), ..Time::default() });
    let plan = "worked-out";
    let a = assess(&sheet, plan, &catalogue);
    let work = jobs(&sheet, &a, &catalogue);
    let laid = schedule(&sheet, &work, &a, &catalogue);
    let text = knockon_report::calendar::calendar(&work, &laid, &a, &sheet.vehicle).unwrap();
    let path = root().join("tests/reference/calendar.ics");
    if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
        fs::write(&path, &text).unwrap();
    }
    assert!(
        fs::read_to_string(&path).is_ok_and(|stored| stored == text),
        "tests/reference/calendar.ics is another"
    );
    let again = knockon_report::calendar::calendar(&work, &laid, &a, &sheet.vehicle).unwrap();
    assert_eq!(text, again);
}
