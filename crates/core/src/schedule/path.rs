//! The critical path method: how early and how late each task can be where people and places are without end, and the chain
//! that nothing can shorten.
//!
//! Kelley and Walker, "Critical-path planning and scheduling" (1959).

use petgraph::algo::toposort;
use petgraph::graphmap::DiGraphMap;

use crate::schedule::solve::{Problem, back, gone_by};

/// How early and how late each task can be, in worked minutes.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Path {
    /// The earliest start of each.
    pub early: Vec<u64>,
    /// The latest start of each that puts off nothing.
    pub late: Vec<u64>,
    /// The minute at which all is done at the earliest.
    pub length: u64,
    /// The longest chain, first to last.
    pub chain: Vec<usize>,
}

impl Path {
    /// Of a problem; `None`: tasks go round.
    #[must_use]
    pub fn of(problem: &Problem) -> Option<Self> {
        let (tasks, session) = (&problem.tasks, problem.session);
        let n = tasks.len();
        let mut graph: DiGraphMap<usize, u64> = DiGraphMap::with_capacity(n, n);
        for (at, task) in tasks.iter().enumerate() {
            graph.add_node(at);
            for link in &task.after {
                let known = graph.edge_weight(link.task, at).copied().unwrap_or(0);
                graph.add_edge(link.task, at, known.max(link.sessions));
            }
        }
        let order = toposort(&graph, None).ok()?;
        let (mut early, mut bound) = (vec![0; n], vec![None; n]);
        for at in &order {
            early[*at] = tasks[*at].release;
            for (from, _, sessions) in graph.edges_directed(*at, petgraph::Incoming) {
                let here = back(early[from] + tasks[from].minutes, *sessions, session);
                if here > early[*at] || here == early[*at] && bound[*at].is_none() {
                    early[*at] = here;
                    bound[*at] = Some(from);
                }
            }
        }
        let length = (0..n).map(|at| early[at] + tasks[at].minutes).max().unwrap_or(0);
        let mut late = vec![0; n];
        for at in order.iter().rev() {
            let ends = graph.edges_directed(*at, petgraph::Outgoing).map(|(_, to, sessions)| {
                // what is early enough by the way forward is so by the way back
                gone_by(late[to], *sessions, session).unwrap_or(0)
            });
            let end = ends.min().unwrap_or(length).min(length);
            late[*at] = end.saturating_sub(tasks[*at].minutes).max(early[*at]);
        }
        let last =
            (0..n).filter(|at| early[*at] + tasks[*at].minutes == length && tasks[*at].minutes > 0).max();
        let mut chain: Vec<usize> = std::iter::successors(last, |at| bound[*at]).collect();
        chain.reverse();
        Some(Self { early, late, length, chain })
    }

    /// By how many minutes a task can be put off without putting off the end.
    #[must_use]
    pub fn float(&self, at: usize) -> u64 {
        self.late[at].saturating_sub(self.early[at])
    }
}
