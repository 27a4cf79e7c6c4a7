//! How long an assessment takes: on a generated sheet, side by side in one run with a bare clone of the sheet, with the
//! slow second implementation and with a library of another size.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::time::{Duration, Instant};

use knockon_core::{Catalogue, Sheet, assess, sweep};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, generate};
use knockon_tests::oracle;

/// The one of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// The fastest of several runs: the one least disturbed by the machine.
fn best(runs: u32, mut work: impl FnMut()) -> Duration {
    (0..runs)
        .map(|_| {
            let start = Instant::now();
            work();
            start.elapsed()
        })
        .min()
        .unwrap_or_default()
}

fn ratio(a: Duration, b: Duration) -> f64 {
    a.as_secs_f64() / b.as_secs_f64()
}

/// Both libraries serve the same vehicle and sheet; the larger one serves other vehicles too.
fn generated(parts: usize) -> (Sheet, Catalogue) {
    let size = Size {
        positions: 150,
        joints: 300,
        parts,
        family: 2_000,
        choices: 20,
        types: 24,
        doubt: 5,
        twins: 0,
    };
    let (file, sheet) = generate(1, size);
    (sheet, Catalogue::new(vec![("generated".to_owned(), file)]).0)
}

/// The oracle tries everything, so it gets a sheet it can finish.
fn against_the_oracle() {
    let size =
        Size { positions: 24, joints: 48, parts: 150, family: 150, choices: 8, types: 8, doubt: 5, twins: 0 };
    let (file, sheet) = generate(1, size);
    let (catalogue, _) = Catalogue::new(vec![("generated".to_owned(), file.clone())]);
    let engine = best(50, || drop(black_box(assess(&sheet, PLAN, &catalogue))));
    let slow = best(1, || drop(black_box(oracle::derive(&file, &sheet, &BTreeMap::new()))));
    println!(
        "the oracle, 24 positions and 150 parts: {slow:?} against {engine:?}, ratio {:.0}",
        ratio(slow, engine)
    );
}

fn main() {
    let (sheet, small) = generated(2_000);
    let (sheet_large, large) = generated(50_000);
    let a = assess(&sheet, PLAN, &small);
    println!(
        "generated sheet: 150 positions, 300 joints, {} choices; {} companions, {} clashes; {} and {} parts",
        sheet.plans[PLAN].routes.len(),
        a.companions.len(),
        a.clashes.len(),
        small.parts.len(),
        large.parts.len()
    );
    let same = assess(&sheet_large, PLAN, &large);
    println!(
        "the same findings in the larger library: {}",
        a.companions == same.companions && a.clashes == same.clashes
    );
    let (mut one, mut one_large, mut clone) = (Duration::MAX, Duration::MAX, Duration::MAX);
    // in turns, so that all meet the same machine
    for _ in 0..20 {
        clone = clone.min(best(20, || drop(black_box(sheet.clone()))));
        one = one.min(best(5, || drop(black_box(assess(&sheet, PLAN, &small)))));
        one_large = one_large.min(best(5, || drop(black_box(assess(&sheet_large, PLAN, &large)))));
    }
    let mut swept = 0;
    let all = best(5, || swept = black_box(sweep(&sheet, PLAN, &small)).len());
    println!("a bare clone of the sheet   {clone:?}");
    println!("one assessment              {one:?} = {:.1} clones", ratio(one, clone));
    println!("50,000 parts against 2,000  {:.2} (one assessment)", ratio(one_large, one));
    println!(
        "sweep over {swept} routes      {all:?} = {:.1} assessments; for 500 routes {:?}",
        ratio(all, one),
        all.mul_f64(500.0 / swept as f64)
    );

    against_the_oracle();
    let (example, shipped) = (sheets::parse("example", library::example()), library::shipped());
    let Ok(example) = example else { return };
    let pickup = best(50, || drop(black_box(assess(&example, "wishes", &shipped))));
    let pickup_clone = best(200, || drop(black_box(example.clone())));
    let mut routes = 0;
    let pickup_sweep = best(3, || routes = black_box(sweep(&example, "wishes", &shipped)).len());
    println!("the example pickup          {pickup:?} = {:.1} clones", ratio(pickup, pickup_clone));
    println!(
        "its sweep over {routes} routes   {pickup_sweep:?} = {:.1} assessments",
        ratio(pickup_sweep, pickup)
    );
}
