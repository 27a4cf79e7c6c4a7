//! Priority rules, and what is made better afterwards: each rule gives a schedule, the best of them are pushed to the end
//! and back to the beginning until that gains nothing.
//!
//! Rules: Kolisch, "Serial and parallel resource-constrained project scheduling methods revisited" (1996), table 1. Forward and
//! backward: Li and Willis (1992); as double justification: Valls, Ballestín and Quintanilla (2005).

use crate::schedule::path::Path;
use crate::schedule::solve::{Net, Placed, Problem, UNDIVIDED, end_of};

/// By what the next task is chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// As the list of jobs has them: area by area.
    #[default]
    Listed,
    /// Whose latest finish is the earliest.
    LatestFinish,
    /// Whose latest start is the earliest.
    LatestStart,
    /// Which can be put off the least.
    LeastFloat,
    /// Which most come after, near and far.
    MostSuccessors,
    /// Which is the longest with what comes right after it.
    PositionalWeight,
    /// Which is the longest.
    LongestFirst,
    /// One of the others, pushed to the end and back.
    Improved,
}

impl Rule {
    /// Those that are tried, the one that stands where none is better first.
    const TRIED: [Self; 7] = [
        Self::Listed,
        Self::LatestFinish,
        Self::LatestStart,
        Self::LeastFloat,
        Self::MostSuccessors,
        Self::PositionalWeight,
        Self::LongestFirst,
    ];

    /// As it is told.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Listed => "in the order of the list",
            Self::LatestFinish => "latest finish first",
            Self::LatestStart => "latest start first",
            Self::LeastFloat => "least float first",
            Self::MostSuccessors => "most that comes after first",
            Self::PositionalWeight => "longest with what comes after first",
            Self::LongestFirst => "longest first",
            Self::Improved => "pushed to the end and back",
        }
    }

    /// For each task its rank; the least is next.
    fn ranks(self, net: &Net, path: &Path) -> Vec<i64> {
        let tasks = &net.of.tasks;
        let n = tasks.len();
        let signed = |minutes: u64| i64::try_from(minutes).unwrap_or(i64::MAX);
        let minutes = |at: usize| signed(tasks[at].minutes);
        match self {
            Self::Listed | Self::Improved => (0..n).map(|at| i64::try_from(at).unwrap_or(i64::MAX)).collect(),
            Self::LatestFinish => (0..n).map(|at| signed(path.late[at]) + minutes(at)).collect(),
            Self::LatestStart => path.late.iter().map(|late| signed(*late)).collect(),
            Self::LeastFloat => (0..n).map(|at| signed(path.float(at))).collect(),
            Self::MostSuccessors => successors(net).into_iter().map(|many| -signed(many)).collect(),
            Self::PositionalWeight => (0..n)
                .map(|at| -(minutes(at) + net.then()[at].iter().map(|link| minutes(link.task)).sum::<i64>()))
                .collect(),
            Self::LongestFirst => (0..n).map(|at| -minutes(at)).collect(),
        }
    }
}

/// How many come after each task, near and far.
fn successors(net: &Net) -> Vec<u64> {
    let n = net.of.tasks.len();
    let words = n.div_ceil(64);
    let mut sets = vec![vec![0_u64; words]; n];
    let mut waits: Vec<usize> = net.then().iter().map(Vec::len).collect();
    let mut open: Vec<usize> = (0..n).filter(|at| waits[*at] == 0).collect();
    while let Some(at) = open.pop() {
        let own = sets[at].clone();
        for link in &net.of.tasks[at].after {
            let set = &mut sets[link.task];
            set.iter_mut().zip(&own).for_each(|(a, b)| *a |= b);
            set[at / 64] |= 1 << (at % 64);
            waits[link.task] -= 1;
            if waits[link.task] == 0 {
                open.push(link.task);
            }
        }
    }
    sets.iter().map(|set| set.iter().map(|word| u64::from(word.count_ones())).sum()).collect()
}

/// A schedule, and by what it was found.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    /// Where each task lies.
    pub placed: Vec<Placed>,
    /// The ranks that lead to it.
    pub ranks: Vec<i64>,
    /// By what it was found.
    pub rule: Rule,
}

/// What counts: whole sessions, or minutes where nothing divides them.
fn length(problem: &Problem, placed: &[Placed]) -> u64 {
    let end = end_of(placed);
    if problem.session == UNDIVIDED { end } else { end.div_ceil(problem.session) }
}

/// The order of the list alone, without a look for a better one.
#[must_use]
pub fn by_ranks(problem: &Problem, ranks: &[i64]) -> Vec<Placed> {
    Net::new(problem).placed(&wanted_first(problem, ranks.to_vec()))
}

/// So many of the schedules are pushed to and fro.
const BETTERED: usize = 3;
/// So often at most.
const ROUNDS: usize = 6;

/// The best schedule found. The order of the list stands where no other needs fewer sessions.
#[must_use]
pub fn solve(problem: &Problem, path: &Path) -> Solved {
    let net = Net::new(problem);
    let back = net.mirrored();
    let mut all: Vec<(u64, Solved)> = Vec::new();
    for rule in Rule::TRIED {
        let ranks = wanted_first(problem, rule.ranks(&net, path));
        let placed = net.placed(&ranks);
        all.push((length(problem, &placed), Solved { placed, ranks, rule }));
        // nothing is shorter than the longest chain
        let least = if problem.session == UNDIVIDED { path.length } else { least_sessions(problem, path) };
        if all.last().is_some_and(|(length, _)| *length <= least) {
            break;
        }
    }
    all.sort_by_key(|(length, solved)| (*length, solved.rule));
    let mut best = all.first().cloned().unwrap_or_default();
    let least = if problem.session == UNDIVIDED { path.length } else { least_sessions(problem, path) };
    for (_, solved) in all.into_iter().take(BETTERED) {
        if best.0 <= least {
            break;
        }
        let mut now = solved.placed;
        for _ in 0..ROUNDS {
            let to_end: Vec<i64> = now.iter().map(|one| -signed(one.end)).collect();
            let pushed = back.placed(&to_end);
            // from the end: what ends last there begins first here
            let ranks: Vec<i64> = pushed.iter().map(|one| -signed(one.end)).collect();
            let ranks = wanted_first(problem, ranks);
            let forward = net.placed(&ranks);
            let (was, is) = (end_of(&now), end_of(&forward));
            let length = length(problem, &forward);
            if length < best.0 {
                best = (length, Solved { placed: forward.clone(), ranks, rule: Rule::Improved });
            }
            now = forward;
            if is >= was {
                break;
            }
        }
    }
    best.1
}

/// Fewer sessions cannot be: the hours of people, and the longest chain.
fn least_sessions(problem: &Problem, path: &Path) -> u64 {
    let people = u64::try_from(problem.people.len()).unwrap_or(1).max(1);
    let need = |people: usize| u64::try_from(people.min(problem.people.len())).unwrap_or(1);
    let work: u64 = problem.tasks.iter().map(|task| task.minutes * need(task.people)).sum();
    let by_work = work.div_ceil(problem.session.saturating_mul(people));
    by_work.max(path.length.div_ceil(problem.session))
}

fn signed(minutes: u64) -> i64 {
    i64::try_from(minutes).unwrap_or(i64::MAX)
}

/// What is wanted first, and all it comes after, ranks before all else.
fn wanted_first(problem: &Problem, ranks: Vec<i64>) -> Vec<i64> {
    let mut open: Vec<usize> = (0..problem.tasks.len()).filter(|at| problem.tasks[*at].first).collect();
    if open.is_empty() {
        return ranks;
    }
    let mut first = vec![false; problem.tasks.len()];
    while let Some(at) = open.pop() {
        if !std::mem::replace(&mut first[at], true) {
            open.extend(problem.tasks[at].after.iter().map(|link| link.task));
        }
    }
    let mut order: Vec<usize> = (0..ranks.len()).collect();
    order.sort_by_key(|at| (!first[*at], ranks[*at], *at));
    let mut out = vec![0; ranks.len()];
    order.iter().enumerate().for_each(|(rank, at)| out[*at] = i64::try_from(rank).unwrap_or(i64::MAX));
    out
}
