//! Serial schedule generation: one task after the other, each as early as what it comes after, people and places let it.
//! The axis is worked minutes; a session is a stretch of it that a task crosses only where it is longer than one.
//!
//! Kolisch and Hartmann, "Heuristic algorithms for the resource-constrained project scheduling problem" (1999), section 2.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A session without an end: the axis is not divided.
pub const UNDIVIDED: u64 = u64::MAX;

/// What a task comes after.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Number of the other task.
    pub task: usize,
    /// Sessions from the one in which the other ends until this one can begin; 0: right behind it.
    pub sessions: u64,
}

/// One task.
#[derive(Clone, Debug, Default)]
pub struct Task {
    /// Worked minutes.
    pub minutes: u64,
    /// What it comes after.
    pub after: Vec<Link>,
    /// It does not begin before this minute.
    pub release: u64,
    /// How many people it takes, at most as many as there are.
    pub people: usize,
    /// Of the skills, one bit each, those that one of them has; 0: anybody.
    pub skill: u64,
    /// What it takes of each shared thing: its number, how many.
    pub takes: Vec<(usize, u32)>,
    /// It goes before others wherever it can.
    pub first: bool,
}

/// Tasks and what they share.
#[derive(Clone, Debug)]
pub struct Problem {
    /// The tasks; links go to any of them, and never round.
    pub tasks: Vec<Task>,
    /// For each person the skills, one bit each. Nobody: people do not count.
    pub people: Vec<u64>,
    /// How many there are of each shared thing.
    pub shared: Vec<u32>,
    /// Minutes of a session, or [`UNDIVIDED`].
    pub session: u64,
}

/// Where a task lies.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Placed {
    /// First minute.
    pub start: u64,
    /// The minute after its last.
    pub end: u64,
    /// Who does it, by number.
    pub people: Vec<usize>,
}

/// The first minute of the session at which what ends at a minute is back after so many sessions.
#[must_use]
pub fn back(end: u64, sessions: u64, session: u64) -> u64 {
    if sessions == 0 {
        return end;
    }
    let of = end.saturating_sub(1) / session;
    of.saturating_add(sessions).saturating_mul(session)
}

/// The last minute at which something may end so that it is [`back`] by a minute; `None`: it cannot be.
#[must_use]
pub fn gone_by(back: u64, sessions: u64, session: u64) -> Option<u64> {
    if sessions == 0 {
        return Some(back);
    }
    let of = (back / session).checked_sub(sessions)?;
    Some((of + 1).saturating_mul(session))
}

/// Stretches in which somebody is busy, in order, none touching another.
#[derive(Clone, Debug, Default)]
struct Busy(Vec<(u64, u64)>);

impl Busy {
    /// The first minute from one on at which nothing lies for so long.
    fn free_for(&self, from: u64, minutes: u64) -> u64 {
        let mut at = from;
        let first = self.0.partition_point(|(_, end)| *end <= from);
        for (start, end) in &self.0[first..] {
            if at.saturating_add(minutes) <= *start {
                break;
            }
            at = at.max(*end);
        }
        at
    }

    fn take(&mut self, start: u64, end: u64) {
        let at = self.0.partition_point(|(s, _)| *s < start);
        let touches_before = at > 0 && self.0[at - 1].1 == start;
        let touches_after = at < self.0.len() && self.0[at].0 == end;
        match (touches_before, touches_after) {
            (true, true) => {
                self.0[at - 1].1 = self.0[at].1;
                self.0.remove(at);
            }
            (true, false) => self.0[at - 1].1 = end,
            (false, true) => self.0[at].0 = start,
            (false, false) => self.0.insert(at, (start, end)),
        }
    }
}

/// How many of a thing are taken, from each minute on at which that changes.
#[derive(Clone, Debug)]
struct Taken(Vec<(u64, u32)>);

impl Taken {
    fn free_for(&self, from: u64, minutes: u64, need: u32, there: u32) -> u64 {
        let most = there.saturating_sub(need);
        let mut at = from;
        let first = self.0.partition_point(|(t, _)| *t <= from).saturating_sub(1);
        for (i, (start, used)) in self.0.iter().enumerate().skip(first) {
            if *start >= at.saturating_add(minutes) {
                break;
            }
            if *used > most {
                // the last step uses nothing
                at = at.max(self.0.get(i + 1).map_or(*start, |next| next.0));
            }
        }
        at
    }

    fn take(&mut self, start: u64, end: u64, need: u32) {
        for cut in [start, end] {
            let at = self.0.partition_point(|(t, _)| *t <= cut);
            let (t, used) = self.0[at - 1];
            if t != cut {
                self.0.insert(at, (cut, used));
            }
        }
        let from = self.0.partition_point(|(t, _)| *t < start);
        let mut at = from;
        while at < self.0.len() && self.0[at].0 < end {
            self.0[at].1 += need;
            at += 1;
        }
        // steps that change nothing go
        for at in [at, from] {
            if at > 0 && at < self.0.len() && self.0[at - 1].1 == self.0[at].1 {
                self.0.remove(at);
            }
        }
    }
}

/// The problem with what comes after each task.
#[derive(Clone, Debug)]
pub struct Net<'a> {
    /// The problem.
    pub of: &'a Problem,
    /// For each task what it comes after.
    before: Vec<Vec<Link>>,
    /// For each task what comes after it.
    then: Vec<Vec<Link>>,
    /// Tasks do not begin before their release.
    released: bool,
}

impl<'a> Net<'a> {
    /// Of a problem.
    #[must_use]
    pub fn new(of: &'a Problem) -> Self {
        let before: Vec<Vec<Link>> = of.tasks.iter().map(|task| task.after.clone()).collect();
        let then = turned(&before);
        Self { of, before, then, released: true }
    }

    /// The same from its end to its beginning.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self { of: self.of, before: self.then.clone(), then: self.before.clone(), released: false }
    }

    /// What comes after each task.
    #[must_use]
    pub fn then(&self) -> &[Vec<Link>] {
        &self.then
    }

    /// All tasks placed: of those that are free the one with the least rank is next. Tasks that go round stay at the beginning.
    #[must_use]
    pub fn placed(&self, rank: &[i64]) -> Vec<Placed> {
        let (tasks, session) = (&self.of.tasks, self.of.session);
        let mut placed = vec![Placed::default(); tasks.len()];
        let mut waits: Vec<usize> = self.before.iter().map(Vec::len).collect();
        let mut busy = vec![Busy::default(); self.of.people.len()];
        let mut taken = vec![Taken(vec![(0, 0)]); self.of.shared.len()];
        let mut free: BinaryHeap<Reverse<(i64, usize)>> =
            (0..tasks.len()).filter(|at| waits[*at] == 0).map(|at| Reverse((rank[at], at))).collect();
        while let Some(Reverse((_, at))) = free.pop() {
            let after =
                self.before[at].iter().map(|link| back(placed[link.task].end, link.sessions, session));
            let release = if self.released { tasks[at].release } else { 0 };
            let from = after.max().unwrap_or(0).max(release);
            placed[at] = self.place(at, from, &busy, &taken);
            let Placed { start, end, people } = &placed[at];
            if end > start {
                people.iter().for_each(|person| busy[*person].take(*start, *end));
                tasks[at].takes.iter().for_each(|(what, many)| taken[*what].take(*start, *end, *many));
            }
            for link in &self.then[at] {
                waits[link.task] -= 1;
                if waits[link.task] == 0 {
                    free.push(Reverse((rank[link.task], link.task)));
                }
            }
        }
        placed
    }

    /// The earliest place for a task from a minute on.
    fn place(&self, at: usize, from: u64, busy: &[Busy], taken: &[Taken]) -> Placed {
        let task = &self.of.tasks[at];
        let (minutes, session) = (task.minutes, self.of.session);
        if minutes == 0 {
            return Placed { start: from, end: from, people: Vec::new() };
        }
        let mut start = from;
        loop {
            let was = start;
            if minutes <= session && start % session > session - minutes {
                start = (start / session + 1).saturating_mul(session);
            }
            for (what, many) in &task.takes {
                let there = self.of.shared[*what];
                start = taken[*what].free_for(start, minutes, (*many).min(there), there);
            }
            let need = task.people.min(busy.len());
            if need > 0 {
                let each: Vec<u64> = busy.iter().map(|one| one.free_for(start, minutes)).collect();
                let mut sorted = each.clone();
                sorted.sort_unstable();
                let skilled = each.iter().zip(&self.of.people).filter(|(_, can)| *can & task.skill != 0);
                let skilled = skilled.map(|(at, _)| *at).min().filter(|_| task.skill != 0);
                start = start.max(sorted[need - 1]).max(skilled.unwrap_or(0));
            }
            if start == was {
                break;
            }
        }
        let mut people: Vec<usize> =
            (0..busy.len()).filter(|one| busy[*one].free_for(start, minutes) == start).collect();
        // one who has the skill, then those with the fewest, so that the others stay free for theirs
        people.sort_by_key(|one| {
            let can = self.of.people[*one];
            (can.count_ones(), *one)
        });
        if let Some(skilled) = people.iter().position(|one| self.of.people[*one] & task.skill != 0) {
            let one = people.remove(skilled);
            people.insert(0, one);
        }
        people.truncate(task.people.min(busy.len()));
        Placed { start, end: start.saturating_add(minutes), people }
    }
}

fn turned(before: &[Vec<Link>]) -> Vec<Vec<Link>> {
    let mut then = vec![Vec::new(); before.len()];
    for (at, links) in before.iter().enumerate() {
        for link in links {
            then[link.task].push(Link { task: at, sessions: link.sessions });
        }
    }
    then
}

/// The minute after the last.
#[must_use]
pub fn end_of(placed: &[Placed]) -> u64 {
    placed.iter().map(|one| one.end).max().unwrap_or(0)
}
