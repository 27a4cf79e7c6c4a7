//! How long a search in a library of 50,000 parts takes: a generated one, and the parts of the program many times over, each
//! time of other sizes.

use std::hint::black_box;
use std::time::{Duration, Instant};

use knockon_core::Catalogue;
use knockon_core::library::{LibraryFile, Part, Table};
use knockon_core::library_search::LibrarySearch;
use knockon_tests::generate::{Size, generate};
use serde_json::Value as Json;

/// The one of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// What is wanted of a query: one frame.
const WANTED: Duration = Duration::from_millis(16);
const PARTS: usize = 50_000;

const QUERIES: [&str; 10] = [
    "ends in 3/8-24 inverted flare",
    "5/16 barb",
    "M14 spark plug",
    "radiator under 470 mm",
    "carburettor between 200 and 350 cfm",
    "generator over 30 A",
    "alternator over 60 A under 200 USD",
    "brake master cylinder",
    "carbureter with electric choke",
    "part 12 mm over 3 in",
];

/// The fastest of several runs: the one least disturbed by the machine.
fn best(runs: u32, mut work: impl FnMut()) -> Duration {
    let run = |_| {
        let start = Instant::now();
        work();
        start.elapsed()
    };
    (0..runs).map(run).min().unwrap_or_default()
}

/// A length so much larger, as it is written.
fn larger(json: &mut Json, times: usize) {
    match json {
        Json::String(text) => {
            if let Some(mm) = text.strip_suffix(" mm").and_then(|number| number.parse::<f64>().ok()) {
                *text = format!("{:.1} mm", mm * (1.0 + times as f64 / 37.0));
            }
        }
        Json::Array(list) => list.iter_mut().for_each(|json| larger(json, times)),
        _ => {}
    }
}

/// The parts of the program many times over: names, ports and numbers as a library has them.
fn multiplied() -> Catalogue {
    let shipped = knockon_store::library::shipped();
    let mut all: Table<Part> = Table::new();
    let count = shipped.parts.len();
    for times in 0..PARTS.div_ceil(count) {
        for (id, entry) in shipped.parts.iter() {
            let mut part = (*entry.part).clone();
            part.contents.clear();
            part.name = format!("{}, make {times}", part.name);
            for port in part.ports.values_mut() {
                port.fields.values_mut().for_each(|json| larger(json, times));
            }
            all.insert(format!("{}-{times}", shipped.part_names.id(id)), part);
        }
    }
    let own = knockon_core::catalogue::Brought {
        parts: all.into_iter().map(|(id, part)| (id, knockon_core::library::Written::whole(part))).collect(),
        ..knockon_core::catalogue::Brought::default()
    };
    shipped.with_brought(&own).0
}

fn generated() -> Catalogue {
    let size = Size {
        positions: 150,
        joints: 190,
        parts: PARTS,
        family: PARTS,
        choices: 20,
        types: 24,
        doubt: 5,
        twins: 0,
    };
    let file: LibraryFile = generate(1, size).0;
    Catalogue::new(vec![("generated".to_owned(), file)]).0
}

fn main() {
    for (name, catalogue) in [("generated", generated()), ("the program's, multiplied", multiplied())] {
        let mut search = LibrarySearch::default();
        let built = best(1, || search = LibrarySearch::new(&catalogue));
        println!("{name}: {} parts, taken apart in {built:.1?}", catalogue.parts.len());
        for query in QUERIES {
            let answer = search.find(&catalogue, query);
            let took = best(7, || drop(black_box(search.find(&catalogue, query))));
            let late = if took > WANTED { ", LATE" } else { "" };
            println!(
                "  {took:>8.1?}{late}  {query}: {} answer, {} not known",
                answer.hits.len(),
                answer.open.len()
            );
        }
    }
}
