//! How long an assessment takes, told as ratios against a bare clone of the sheet, measured side by side.

use std::hint::black_box;
use std::time::{Duration, Instant};

use knockon_core::library::LibraryFile;
use knockon_core::{Catalogue, assess, offers};
use knockon_store::{library, sheets};

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

/// The shipped library with bridges of other sizes added, as a larger library would hold.
fn grown(parts: usize) -> Catalogue {
    let shipped = library::shipped();
    let bridges: Vec<_> = shipped.parts.iter().filter(|p| p.bridge.is_some()).collect();
    let mut file = LibraryFile { format: 1, ..LibraryFile::default() };
    for n in 0..parts.saturating_sub(shipped.parts.len()) {
        let mut part = bridges[n % bridges.len()].part.clone();
        for port in part.ports.values_mut() {
            for value in port.fields.values_mut() {
                if let Some(other) = value.as_str().and_then(|text| other_size(text, n)) {
                    *value = serde_json::Value::String(other);
                }
            }
        }
        file.parts.insert(format!("grown-{n}"), part);
    }
    shipped.with_parts(&file.parts).0
}

/// The same field of a part for another size or kind: it must not match what is fitted here.
fn other_size(text: &str, n: usize) -> Option<String> {
    if text.ends_with(" mm") && !text.contains(" to ") {
        Some(format!("{}.{n:05} mm", 2000 + n % 7000))
    } else if knockon_core::quantity::is_thread(text) {
        Some(format!("M{}x1.25", 200 + n))
    } else if knockon_core::quantity::Quantity::parse(text).is_err()
        && !["male", "female", "any"].contains(&text)
        && !text.starts_with("set ")
        && !text.contains(" to ")
    {
        Some(format!("{text} of kind {n}"))
    } else {
        None
    }
}

fn main() {
    let sheet = match sheets::parse("example", library::example()) {
        Ok(sheet) => sheet,
        Err(error) => {
            eprintln!("{error}");
            return;
        }
    };
    let (small, large) = (grown(2_000), grown(50_000));
    let positions: Vec<&str> = small.vehicles["furrow-10"].positions.iter().map(|p| p.id.as_str()).collect();
    let clone = best(200, || drop(black_box(sheet.clone())));
    let one = best(50, || drop(black_box(assess(&sheet, "wishes", &small))));
    let one_large = best(10, || drop(black_box(assess(&sheet, "wishes", &large))));
    let mut swept = 0;
    let sweep = best(2, || {
        swept = positions.iter().map(|p| black_box(offers(&sheet, "wishes", &small, p)).len()).sum();
    });
    println!("positions {}, joints {}", positions.len(), small.vehicles["furrow-10"].joints.len());
    println!(
        "one assessment          {one:?}, {:.0} clones of the sheet",
        one.as_secs_f64() / clone.as_secs_f64()
    );
    println!(
        "the same, 50,000 parts  {one_large:?}, ratio {:.2}",
        one_large.as_secs_f64() / one.as_secs_f64()
    );
    println!(
        "sweep over {swept} routes   {sweep:?}, {:.1} assessments",
        sweep.as_secs_f64() / one.as_secs_f64()
    );
}
