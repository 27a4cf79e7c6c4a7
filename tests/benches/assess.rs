//! How long an assessment takes: on generated sheets and on the example, side by side in one run with a bare clone of the
//! sheet, with what follows from decisions alone, with the slow second implementation, and with libraries and vehicles of
//! other sizes.

use std::collections::BTreeMap;
use std::hint::black_box;
use std::time::{Duration, Instant};

use knockon_core::key::CompanionKey;
use knockon_core::library::{Decided, LibraryFile};
use knockon_core::together::{Together, together};
use knockon_core::{Assessment, Catalogue, Sheet, assess, derive, offers};
use knockon_store::{library, sheets};
use knockon_tests::generate::{PLAN, Size, VEHICLE, generate};
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

/// As dense as the example: 190 joints for 150 places.
const DENSE: Size = Size {
    positions: 150,
    joints: 190,
    parts: 2_000,
    family: 2_000,
    choices: 20,
    types: 24,
    doubt: 5,
    twins: 0,
};

struct Case {
    file: LibraryFile,
    sheet: Sheet,
    catalogue: Catalogue,
}

impl Case {
    fn of(file: LibraryFile, sheet: Sheet) -> Self {
        let catalogue = Catalogue::new(vec![("generated".to_owned(), file.clone())]).0;
        Self { file, sheet, catalogue }
    }

    fn generated(seed: u64, size: Size) -> Self {
        let (file, sheet) = generate(seed, size);
        Self::of(file, sheet)
    }

    fn assess(&self) -> Assessment {
        assess(&self.sheet, PLAN, &self.catalogue)
    }

    fn time(&self) -> Duration {
        best(5, || drop(black_box(self.assess())))
    }
}

fn decisions(a: &Assessment) -> BTreeMap<String, String> {
    let fills = a.companions.iter().filter_map(|c| match &c.key {
        CompanionKey::Fill { position } => Some((position.clone(), c.part.clone())),
        _ => None,
    });
    fills.collect()
}

/// One assessment beside a clone of its sheet and what follows from its decisions alone.
fn one(what: &str, sheet: &Sheet, plan: &str, catalogue: &Catalogue) {
    let a = assess(sheet, plan, catalogue);
    let decided = decisions(&a);
    let (mut all, mut derived, mut clone) = (Duration::MAX, Duration::MAX, Duration::MAX);
    // in turns, so that all meet the same machine
    for _ in 0..20 {
        clone = clone.min(best(20, || drop(black_box(sheet.clone()))));
        all = all.min(best(3, || drop(black_box(assess(sheet, plan, catalogue)))));
        derived = derived.min(best(3, || drop(black_box(derive(sheet, plan, catalogue, &decided)))));
    }
    println!(
        "{what:34} {all:>9.1?} = {:5.1} clones of its sheet; derived alone, in words, {derived:>9.1?}; {} decided, {} companions, {} clashes, {}",
        ratio(all, clone),
        decided.len(),
        a.companions.len(),
        a.clashes.len(),
        if a.proved { "proved" } else { "NOT proved" }
    );
}

/// Two sizes of something in turns, and how many times the one takes what the other takes.
fn pair(what: &str, one: &Case, other: &Case) {
    let (mut a, mut b) = (Duration::MAX, Duration::MAX);
    for _ in 0..20 {
        a = a.min(one.time());
        b = b.min(other.time());
    }
    println!("{what:34} {a:>9.1?} against {b:>9.1?}: {:.2}", ratio(a, b));
}

/// How long the longest place takes, and all of them, of those a board has.
fn all_offers(what: &str, sheet: &Sheet, plan: &str, catalogue: &Catalogue) {
    let a = assess(sheet, plan, catalogue);
    let (mut routes, mut longest, mut all) = (0, Duration::ZERO, Duration::ZERO);
    for position in &a.positions {
        let mut here = 0;
        let took = best(3, || here = black_box(offers(sheet, plan, catalogue, &position.id)).len());
        routes += here;
        longest = longest.max(took);
        all += took;
    }
    let for_500 = all.mul_f64(500.0 / routes as f64);
    println!(
        "{what:34} {routes} routes {all:>9.1?}, the longest place {longest:>9.1?}; 500 routes {for_500:>9.1?}"
    );
}

/// What would clear all clashes of a plan together.
fn cures(sheet: &Sheet, plan: &str, catalogue: &Catalogue) {
    let a = assess(sheet, plan, catalogue);
    let mut found = Together::default();
    let took = best(20, || found = black_box(together(sheet, plan, catalogue, &a)));
    println!(
        "what clears all of {plan:15} {took:>9.1?}; {} clashes, {} knots, {} assessed, {}",
        a.clashes.len(),
        found.knots.len(),
        found.assessed,
        if found.proved { "proved" } else { "NOT proved" }
    );
}

/// The oracle tries everything, so it gets a sheet it can finish.
fn against_the_oracle() {
    let case = Case::generated(
        1,
        Size { positions: 24, joints: 48, parts: 150, family: 150, choices: 8, types: 8, doubt: 5, twins: 0 },
    );
    let engine = best(50, || drop(black_box(case.assess())));
    let slow = best(1, || drop(black_box(oracle::derive(&case.file, &case.sheet, &BTreeMap::new()))));
    println!(
        "the oracle, 24 positions and 150 parts: {slow:.1?} against {engine:.1?}, ratio {:.0}",
        ratio(slow, engine)
    );
}

/// So many parts of one's own, in the sheet, and the same on the shelf of the library.
fn own_parts(many: usize) -> (Case, Case) {
    let (mut file, mut sheet) = generate(1, DENSE);
    let shelf = Case::of(file.clone(), sheet.clone());
    let (more, _) = generate(2, Size { parts: many + 4_000, family: many + 4_000, ..DENSE });
    let foreign = more
        .parts
        .into_iter()
        .filter(|(id, p)| !file.parts.contains_key(id) && file.classes.contains_key(&p.class));
    let foreign: Vec<_> = foreign.filter(|(_, p)| p.contents.is_empty()).take(many).collect();
    for (id, part) in foreign {
        file.parts.insert(id.clone(), part.clone());
        sheet.parts.insert(id, knockon_core::library::Written::whole(part));
    }
    let on_shelf = Case::of(file, shelf.sheet.clone());
    (Case { sheet, ..shelf }, on_shelf)
}

fn main() {
    let mut proved = 0;
    let mut longest = Duration::ZERO;
    for seed in 0..100 {
        let case = Case::generated(seed, DENSE);
        proved += usize::from(case.assess().proved);
        longest = longest.max(best(3, || drop(black_box(case.assess()))));
    }
    println!(
        "150 places, 190 joints, half following: {proved} of 100 sheets proved, the longest {longest:.1?}"
    );
    let small = Case::generated(1, DENSE);
    one("150 places, 190 joints", &small.sheet, PLAN, &small.catalogue);
    let dense = Case::generated(1, Size { joints: 300, ..DENSE });
    one("150 places, 300 joints", &dense.sheet, PLAN, &dense.catalogue);

    let large = Case::generated(1, Size { parts: 50_000, ..DENSE });
    println!(
        "the same is decided in the larger library: {}",
        decisions(&small.assess()) == decisions(&large.assess())
    );
    pair("50,000 parts against 2,000", &large, &small);
    let thousand = Case::generated(1, Size { positions: 1_000, joints: 1_267, ..DENSE });
    pair("1,000 places against 150", &thousand, &small);
    let (own, shelf) = own_parts(10_000);
    println!("parts of one's own: {}", own.sheet.parts.len());
    pair("10,000 of one's own, on the shelf", &own, &shelf);

    let mut hostile = Duration::ZERO;
    let mut hostile_proved = 0;
    for seed in 0..20 {
        let (mut file, sheet) = generate(seed, Size { joints: 300, ..DENSE });
        let classes: Vec<String> =
            file.vehicles[VEHICLE].positions.values().map(|p| p.class.clone()).collect();
        for class in classes {
            if let Some(class) = file.classes.get_mut(&class) {
                class.decided = Some(Decided::Follows);
            }
        }
        let case = Case::of(file, sheet);
        hostile = hostile.max(case.time());
        hostile_proved += usize::from(case.assess().proved);
    }
    println!("hostile: 300 joints, all following, {hostile_proved} of 20 proved, the longest {hostile:.1?}");

    all_offers("the routes of 150 places", &small.sheet, PLAN, &small.catalogue);
    against_the_oracle();
    let Ok(example) = sheets::parse("example", library::example()) else { return };
    let shipped = library::shipped();
    for plan in ["sound", "wishes", "worked-out"] {
        one(plan, &example, plan, &shipped);
    }
    all_offers("the routes of the example", &example, "wishes", &shipped);
    cures(&example, "wishes", &shipped);
}
