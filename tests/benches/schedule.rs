//! How long it takes to lay out the work: 500 jobs, the jobs of the example, and how near to the least length it comes.

use std::hint::black_box;
use std::time::{Duration, Instant};

use knockon_core::assess;
use knockon_core::jobs::jobs;
use knockon_core::schedule::path::Path;
use knockon_core::schedule::rules::solve;
use knockon_core::schedule::schedule;
use knockon_core::schedule::solve::{Link, Problem, Task};
use knockon_store::{library, sheets};

/// The one of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn best(runs: u32, mut work: impl FnMut()) -> Duration {
    let one = |_| {
        let start = Instant::now();
        work();
        start.elapsed()
    };
    (0..runs).map(one).min().unwrap_or_default()
}

/// Jobs of minutes to days, each after up to three of the thirty before it, some away for weeks, two things shared.
fn random(seed: u64, many: usize, people: usize) -> Problem {
    let mut rng = fastrand::Rng::with_seed(seed);
    let tasks = (0..many).map(|at| Task {
        minutes: rng.u64(5..=600),
        after: (0..rng.usize(0..=3).min(at))
            .map(|_| Link {
                task: rng.usize(at.saturating_sub(30)..at),
                sessions: if rng.u8(0..40) == 0 { rng.u64(1..=4) } else { 0 },
            })
            .collect(),
        release: if rng.u8(0..10) == 0 { rng.u64(0..20) * 360 } else { 0 },
        people: if rng.u8(0..6) == 0 { 2 } else { 1 },
        takes: if rng.u8(0..8) == 0 { vec![(rng.usize(0..2), 1)] } else { Vec::new() },
        ..Task::default()
    });
    Problem { tasks: tasks.collect(), people: vec![0; people], shared: vec![1, 1], session: 360 }
}

fn main() {
    for people in 1..=4 {
        let (mut longest, mut paths) = (Duration::ZERO, Duration::ZERO);
        for seed in 0..10 {
            let problem = random(seed, 500, people);
            let Some(path) = Path::of(&problem) else { continue };
            paths = paths.max(best(5, || drop(black_box(Path::of(&problem)))));
            longest = longest.max(best(5, || drop(black_box(solve(&problem, &path)))));
        }
        println!("500 jobs, {people} people: the path {paths:.1?}, laid {longest:.1?}, the longest of 10");
    }
    let Ok(example) = sheets::parse("example", library::example()) else { return };
    let Ok(day) = "2026-03-30".parse() else { return };
    let shipped = library::shipped().on(day);
    for plan in example.plans.keys() {
        let a = assess(&example, plan, &shipped);
        let work = jobs(&example, &a, &shipped);
        let all = best(10, || drop(black_box(jobs(&example, &a, &shipped))));
        let laid = best(10, || drop(black_box(schedule(&example, &work, &a, &shipped))));
        println!("{plan:12} {} jobs found in {all:.1?}, laid in {laid:.1?}", work.jobs.len());
    }
}
