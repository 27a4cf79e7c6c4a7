//! In which order jobs are done: what stands before a job is done before it, nothing is closed before all that wants it open
//! is done, and the rules of the trade hold. Of what is free next, what is in the area already open goes first.

use std::collections::{BTreeMap, BTreeSet};

use petgraph::algo::tarjan_scc;
use petgraph::graphmap::DiGraphMap;

use crate::catalogue::{Catalogue, VehicleEntry};
use crate::jobs::Circle;
use crate::jobs::ask::{All, Asked, before};
use crate::library::JobKind;

/// Why one job is before another, the strongest last: where they go round, the weakest is left out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Why {
    /// What was opened inside something open is closed before that is; where it cannot be, it is not said.
    Inside,
    Rule(String),
    Closes,
    Opens,
}

impl Why {
    fn words(&self) -> &str {
        match self {
            Self::Inside => "was opened inside it",
            Self::Rule(why) => why,
            Self::Closes => "wants it open still",
            Self::Opens => "makes way",
        }
    }
}

/// Jobs in order.
#[derive(Clone, Debug, Default)]
pub struct Sorted {
    /// Job numbers.
    pub order: Vec<usize>,
    edges: BTreeMap<(usize, usize), Why>,
}

impl Sorted {
    /// What is right before a job, and why: no other job lies between them.
    pub fn before(&self, at: usize) -> impl Iterator<Item = (usize, &str)> + '_ {
        let all: Vec<usize> = self.edges.keys().filter(|(_, b)| *b == at).map(|(a, _)| *a).collect();
        let near = all
            .clone()
            .into_iter()
            .filter(move |a| !all.iter().any(|between| between != a && self.reaches(*a, *between)));
        near.filter_map(move |a| self.edges.get(&(a, at)).map(|why| (a, why.words())))
    }

    fn reaches(&self, from: usize, to: usize) -> bool {
        let (mut open, mut seen) = (vec![from], BTreeSet::new());
        while let Some(at) = open.pop() {
            if at == to {
                return true;
            }
            let next = self.edges.range((at, 0)..=(at, usize::MAX)).map(|((_, b), _)| *b);
            open.extend(next.filter(|b| seen.insert(*b)));
        }
        false
    }
}

/// Two jobs speak of one place, or one of them of the whole vehicle.
fn together(a: &Asked, b: &Asked) -> bool {
    a.place.is_none() || b.place.is_none() || a.place == b.place || a.whereabouts.goes_with(&b.whereabouts)
}

/// The jobs in order, and what went round.
pub fn order(all: &All, catalogue: &Catalogue, v: &VehicleEntry) -> (Sorted, Vec<Circle>) {
    let mut edges: BTreeMap<(usize, usize), Why> = BTreeMap::new();
    let mut put = |a: usize, b: usize, why: Why| {
        if a != b && together(&all.jobs[a], &all.jobs[b]) {
            let known = edges.entry((a, b)).or_insert_with(|| why.clone());
            *known = std::mem::replace(known, Why::Closes).max(why);
        }
    };
    for (at, job) in all.jobs.iter().enumerate() {
        let Some(op) = job.operation.as_ref().and_then(|id| catalogue.operations.get(id)) else {
            // what comes off at a place comes off before the new part goes on
            for (other, _) in all.jobs.iter().enumerate().filter(|(_, other)| {
                let op = other.operation.as_ref().and_then(|id| catalogue.operations.get(id));
                op.is_some_and(|op| op.kind == JobKind::Remove) && other.pulled && other.asked_at == job.place
            }) {
                put(other, at, Why::Opens);
            }
            continue;
        };
        for before in before(op, v) {
            for id in &before.any {
                for opener in all.of(id) {
                    put(
                        opener,
                        at,
                        if before.orders_only { Why::Rule("comes first".to_owned()) } else { Why::Opens },
                    );
                    // what wants it open is done before it is closed
                    let opener =
                        all.jobs[opener].operation.as_ref().and_then(|id| catalogue.operations.get(id));
                    let closing =
                        opener.and_then(|op| op.closed_by.as_deref()).filter(|_| !before.orders_only);
                    for closing in closing.into_iter().flat_map(|id| all.of(id)) {
                        put(at, closing, Why::Closes);
                        for own in op.closed_by.iter().flat_map(|id| all.of(id)) {
                            put(own, closing, Why::Inside);
                        }
                    }
                }
            }
        }
        for closing in op.closed_by.iter().flat_map(|id| all.of(id)) {
            put(at, closing, Why::Opens);
        }
    }
    for rule in catalogue.orders.values() {
        for a in rule.before.iter().flat_map(|id| all.of(id)) {
            for b in rule.after.iter().flat_map(|id| all.of(id)) {
                put(a, b, Why::Rule(rule.why.clone()));
            }
        }
    }
    let circles = without_circles(all, &mut edges);
    let order = sorted(all, catalogue, &edges);
    (Sorted { order, edges }, circles)
}

/// Leaves out the weakest of what goes round, until nothing does.
fn without_circles(all: &All, edges: &mut BTreeMap<(usize, usize), Why>) -> Vec<Circle> {
    let mut out = Vec::new();
    loop {
        let graph: DiGraphMap<usize, ()> = edges.keys().map(|(a, b)| (*a, *b, ())).collect();
        let Some(mut round) = tarjan_scc(&graph).into_iter().find(|group| group.len() > 1) else {
            return out;
        };
        round.sort_unstable();
        let inside = edges.iter().filter(|((a, b), _)| round.contains(a) && round.contains(b));
        let Some((weakest, why)) =
            inside.min_by(|x, y| (x.1, x.0).cmp(&(y.1, y.0))).map(|(k, w)| (*k, w.clone()))
        else {
            return out;
        };
        edges.remove(&weakest);
        if why == Why::Inside {
            continue;
        }
        let id = |at: usize| all.jobs[at].id();
        out.push(Circle {
            jobs: round.iter().map(|at| id(*at)).collect(),
            left_out: format!("{} before {}: {}", id(weakest.0), id(weakest.1), why.words()),
        });
    }
}

/// Of what is free the next: in the area already open, then what comes off before what goes on, then what most waits for.
fn sorted(all: &All, catalogue: &Catalogue, edges: &BTreeMap<(usize, usize), Why>) -> Vec<usize> {
    let n = all.jobs.len();
    let mut waits = vec![0_usize; n];
    let mut then: Vec<Vec<usize>> = vec![Vec::new(); n];
    for (a, b) in edges.keys() {
        waits[*b] += 1;
        then[*a].push(*b);
    }
    let op = |at: usize| all.jobs[at].operation.as_ref().and_then(|id| catalogue.operations.get(id));
    let area = |at: usize| op(at).map_or("", |op| op.area.as_str());
    let puts_on = |at: usize| op(at).is_none_or(|op| op.kind.takes_lines());
    let mut behind = vec![None; n];
    let mut free: BTreeSet<usize> = (0..n).filter(|at| waits[*at] == 0).collect();
    let (mut out, mut here) = (Vec::with_capacity(n), "");
    while !free.is_empty() {
        let key = |at: &usize| {
            let far = area(*at) != here || here.is_empty();
            (far, puts_on(*at))
        };
        let best = free.iter().map(key).min();
        let all_best: Vec<usize> = free.iter().copied().filter(|at| Some(key(at)) == best).collect();
        let next =
            all_best.into_iter().max_by_key(|at| (depth(*at, &then, &mut behind), std::cmp::Reverse(*at)));
        let Some(next) = next else { break };
        free.remove(&next);
        here = area(next);
        out.push(next);
        for after in &then[next] {
            waits[*after] -= 1;
            if waits[*after] == 0 {
                free.insert(*after);
            }
        }
    }
    out
}

/// How many jobs follow one after the other behind this one; nothing goes round here.
fn depth(at: usize, then: &[Vec<usize>], known: &mut [Option<usize>]) -> usize {
    let mut stack = vec![at];
    while let Some(&top) = stack.last() {
        if known[top].is_some() {
            stack.pop();
            continue;
        }
        let open: Vec<usize> = then[top].iter().copied().filter(|next| known[*next].is_none()).collect();
        if open.is_empty() {
            known[top] = Some(then[top].iter().filter_map(|next| known[*next]).max().map_or(0, |d| d + 1));
            stack.pop();
        } else {
            stack.extend(open);
        }
    }
    known[at].unwrap_or(0)
}
