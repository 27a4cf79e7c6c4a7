//! The work of every plan of every example: each part goes on in one job, nothing comes before what it comes after, what is
//! opened is closed, and the hours are those of the plan. Common practice: tables of the trade's order.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::jobs::{Jobs, jobs};
use knockon_core::{Assessment, Catalogue, Sheet, assess};
use knockon_store::{library, sheets};
use knockon_tests::examples::each_example;

fn works(visit: impl Fn(&str, &Sheet, &Assessment, &Catalogue, &Jobs)) {
    let catalogue = library::shipped();
    for (name, sheet) in each_example() {
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let work = jobs(&sheet, &a, &catalogue);
            visit(&format!("{name}, {plan}"), &sheet, &a, &catalogue, &work);
        }
    }
}

#[test]
fn every_part_goes_on_in_exactly_one_job() {
    works(|name, _, a, _, work| {
        let mut jobs_of: BTreeMap<&str, usize> = BTreeMap::new();
        for part in work.jobs.iter().flat_map(|job| &job.lines) {
            *jobs_of.entry(part).or_default() += 1;
        }
        // a part that goes to several places may go on in as many jobs, and in no more
        for (part, jobs) in &jobs_of {
            let bare = part.strip_suffix(".rebuild").or_else(|| part.strip_suffix(".clean")).unwrap_or(part);
            let sits =
                a.positions.iter().filter(|p| p.fitted.as_ref().is_some_and(|(id, _)| id == bare)).count();
            let hangs = a.companions.iter().filter(|c| c.part == bare && c.position.is_none()).count();
            assert!(*jobs <= sits + hangs, "{name}: {part} goes on in {jobs} jobs");
        }
        for line in a.buy.iter().filter(|line| line.waived.is_none()) {
            assert!(jobs_of.contains_key(line.part.as_str()), "{name}: {} goes on in no job", line.name);
        }
        for c in a.companions.iter().filter(|c| c.waived.is_none()) {
            assert!(jobs_of.contains_key(c.part.as_str()), "{name}: {} goes on in no job", c.name);
        }
        let ids: BTreeSet<&str> = work.jobs.iter().map(|job| job.id.as_str()).collect();
        assert_eq!(ids.len(), work.jobs.len(), "{name}: a job twice");
    });
}

#[test]
fn no_job_stands_before_what_it_comes_after_and_what_is_opened_is_closed() {
    works(|name, _, _, catalogue, work| {
        let at: BTreeMap<&str, usize> =
            work.jobs.iter().enumerate().map(|(at, job)| (job.id.as_str(), at)).collect();
        for (here, job) in work.jobs.iter().enumerate() {
            for (before, why) in &job.after {
                assert!(at[before.as_str()] < here, "{name}: {} before {before}: {why}", job.id);
            }
            let (operation, place) = job.id.split_once('@').unwrap_or((&job.id, ""));
            let Some(op) = catalogue.operations.get(operation) else { continue };
            let Some(closing) = &op.closed_by else { continue };
            let closed = at.get(closing.as_str()).or_else(|| at.get(format!("{closing}@{place}").as_str()));
            let closed = closed.copied().or_else(|| {
                work.jobs.iter().position(|job| job.id.split_once('@').is_some_and(|(id, _)| id == closing))
            });
            if let Some(closed) = closed {
                assert!(here < closed, "{name}: {closing} before {}", job.id);
            }
        }
    });
}

#[test]
fn the_hours_of_the_parts_are_those_of_the_plan_and_rules_do_not_go_round() {
    works(|name, _, a, _, work| {
        let parts: f64 = work.jobs.iter().map(|job| job.parts_hours).sum();
        assert!((parts - a.totals.hours).abs() < 1e-6, "{name}: {parts} and {}", a.totals.hours);
        assert_eq!(work.circles, [], "{name}");
        for job in &work.jobs {
            let h = work.hours_of(job);
            assert!(0.0 <= h.least && h.least <= h.likely && h.likely <= h.most, "{name}: {}", job.id);
        }
        let to_go = work.to_go();
        assert!(to_go.within(0.5) <= to_go.within(0.8), "{name}");
    });
}

#[test]
fn a_plan_that_is_done_has_nothing_to_go_and_what_is_done_is_not_offered() {
    let catalogue = library::shipped();
    let mut sheet = sheets::parse("example", library::example()).expect("the example opens");
    let a = assess(&sheet, &sheet.plan, &catalogue);
    for job in jobs(&sheet, &a, &catalogue).jobs {
        sheet.done.insert(job.id, knockon_core::sheet::Done::default());
    }
    let work = jobs(&sheet, &a, &catalogue);
    assert_eq!(work.to_go().within(0.8), 0.0);
    assert!(work.in_hours(1000.0).is_empty());
}
