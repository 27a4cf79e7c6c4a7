//! Which checks follow from what was opened, in the order in which they are done.

use std::collections::{BTreeMap, BTreeSet};

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;

use crate::catalogue::{Catalogue, VehicleEntry};
use crate::date::Dated;
use crate::jobs::ask::{All, has_place};
use crate::jobs::limit::{Limits, Reading};
use crate::jobs::touched::Touched;
use crate::jobs::{Circle, Commission};
use crate::library::Check;
use crate::sheet::{Sheet, Signed};

/// The checks: by phase, then as they stand before each other.
pub fn checks(
    touched: &[Touched],
    all: &All,
    sheet: &Sheet,
    catalogue: &Catalogue,
    v: &VehicleEntry,
    circles: &mut Vec<Circle>,
) -> Vec<Commission> {
    let asked = |check: &Check| {
        let there = check.at.is_empty() || check.at.iter().any(|class| has_place(class, catalogue, v));
        let by = || check.by.iter().any(|id| all.of(id).next().is_some());
        let of = || touched.iter().any(|thing| check.whom.contains(&thing.class));
        there && (check.always || by() || of())
    };
    let wanted: BTreeMap<&str, &Check> = catalogue
        .checks
        .iter()
        .filter(|(_, check)| asked(check))
        .map(|(id, check)| (id.as_str(), check))
        .collect();
    // what is not asked for orders all the same: a before b before c keeps a before c
    let mut edges: BTreeSet<(&str, &str)> = BTreeSet::new();
    for (id, check) in &catalogue.checks {
        edges.extend(check.after.iter().map(|before| (before.as_str(), id.as_str())));
    }
    for rule in catalogue.orders.values() {
        let is_check = |id: &&String| catalogue.checks.contains_key(*id);
        for a in rule.before.iter().filter(is_check) {
            edges.extend(rule.after.iter().filter(is_check).map(|b| (a.as_str(), b.as_str())));
        }
    }
    let mut graph: DiGraphMap<&str, ()> = edges.iter().map(|(a, b)| (*a, *b, ())).collect();
    wanted.keys().for_each(|id| {
        graph.add_node(id);
    });
    // groups come last first; within one that goes round the phase decides
    let groups: Vec<Vec<&str>> = tarjan_scc(&graph).into_iter().rev().collect();
    let mut level: BTreeMap<&str, usize> = BTreeMap::new();
    for group in &groups {
        if group.len() > 1 {
            let mut jobs: Vec<String> = group.iter().map(|id| (*id).to_owned()).collect();
            jobs.sort();
            circles.push(Circle { jobs, left_out: "their order among themselves".to_owned() });
        }
        let before = group.iter().flat_map(|id| graph.neighbors_directed(id, petgraph::Incoming));
        let deepest = before.filter(|id| !group.contains(id)).filter_map(|id| level.get(id)).max();
        let here = deepest.map_or(0, |d| d + 1);
        group.iter().for_each(|id| {
            level.insert(id, here);
        });
    }
    let mut sorted: Vec<(&str, &Check)> = wanted.iter().map(|(id, check)| (*id, *check)).collect();
    sorted.sort_by_key(|(id, check)| (level.get(id).copied().unwrap_or(0), check.phase, *id));
    let one = |(id, check): (&str, &Check)| {
        let stands =
            sheet.signed.get(id).filter(|signed| !is_before_the_work(signed, check, touched, all, sheet));
        // a catalogue that was read has no other limits
        let limit = Limits::read(&check.limit).ok().flatten();
        let passes = |signed: &&Signed| {
            limit.as_ref().is_none_or(|limit| limit.holds(&signed.reading) == Reading::Passes)
        };
        let signed = stands.filter(passes).cloned();
        Commission {
            id: id.to_owned(),
            name: check.name.clone(),
            phase: check.phase,
            after: nearest(id, &graph, &wanted),
            after_jobs: jobs_before(id, check, touched, all, catalogue),
            method: check.method.clone(),
            pass: check.pass.clone(),
            fail: check.fail.clone(),
            cautions: check.cautions.clone(),
            card: check.card.clone(),
            outside: stands.filter(|_| signed.is_none()).cloned(),
            limit,
            signed,
        }
    };
    sorted.into_iter().map(one).collect()
}

/// Whether a check was signed before something was done that asks for it: then it says nothing of that. Where a day is not
/// known nobody can tell.
fn is_before_the_work(signed: &Signed, check: &Check, touched: &[Touched], all: &All, sheet: &Sheet) -> bool {
    // what is asked for by whatever is done says nothing of what was done later
    let jobs = if check.always { (0..all.jobs.len()).collect() } else { asking(check, touched, all) };
    let done = jobs.into_iter().filter_map(|at| {
        let on = sheet.done.get(&all.jobs[at].id())?.on.as_ref()?;
        Dated::parse(on).ok().map(|day| day.first)
    });
    let signed = signed.on.as_ref().and_then(|on| Dated::parse(on).ok()).map(|day| day.last);
    signed.zip(done.max()).is_some_and(|(signed, done)| signed < done)
}

/// The jobs that ask for a check.
fn asking(check: &Check, touched: &[Touched], all: &All) -> BTreeSet<usize> {
    let by = check.by.iter().flat_map(|id| all.of(id));
    let of_class = touched.iter().enumerate().filter(|(_, thing)| check.whom.contains(&thing.class));
    by.chain(of_class.flat_map(|(i, _)| all.by[i].iter().copied())).collect()
}

/// The jobs before a check: those that ask for it and those that a rule puts there, by id. A job that itself waits for the
/// check is none of them.
fn jobs_before(
    id: &str,
    check: &Check,
    touched: &[Touched],
    all: &All,
    catalogue: &Catalogue,
) -> Vec<String> {
    let is = |ids: &[String]| ids.iter().any(|other| other == id);
    let rules = catalogue.orders.values();
    let later: BTreeSet<usize> = rules
        .clone()
        .filter(|rule| is(&rule.before))
        .flat_map(|rule| rule.after.iter().flat_map(|op| all.of(op)))
        .collect();
    let ruled =
        rules.filter(|rule| is(&rule.after)).flat_map(|rule| rule.before.iter().flat_map(|op| all.of(op)));
    let jobs: BTreeSet<usize> = asking(check, touched, all).into_iter().chain(ruled).collect();
    jobs.difference(&later).map(|at| all.jobs[*at].id()).collect()
}

/// The checks of the plan that are next before one, over those that are not in it.
fn nearest(id: &str, graph: &DiGraphMap<&str, ()>, wanted: &BTreeMap<&str, &Check>) -> Vec<String> {
    let (mut open, mut seen, mut out) = (vec![id], BTreeSet::from([id]), BTreeSet::new());
    while let Some(at) = open.pop() {
        if !graph.contains_node(at) {
            continue;
        }
        for before in graph.neighbors_directed(at, petgraph::Incoming) {
            if !seen.insert(before) {
                continue;
            }
            if wanted.contains_key(before) {
                out.insert(before.to_owned());
            } else {
                open.push(before);
            }
        }
    }
    out.into_iter().collect()
}
