//! How long it takes to read a library: 10,000 and 50,000 parts as files in a folder, and the one of the program.

use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::time::{Duration, Instant};

use knockon_core::library::LibraryFile;
use knockon_store::libraries::{Wanted, load};
use knockon_tests::generate::{Size, generate};

/// The one of the program.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

/// What is wanted of a release build on a laptop of ten years ago with nothing else to do.
const WANTED: [(usize, Duration); 2] =
    [(10_000, Duration::from_millis(300)), (50_000, Duration::from_millis(1_000))];
/// Parts in one file: about what a person keeps in one.
const IN_A_FILE: usize = 500;

/// The fastest of several runs: the one least disturbed by the machine.
fn best(runs: u32, mut work: impl FnMut()) -> Duration {
    let run = |_| {
        let start = Instant::now();
        work();
        start.elapsed()
    };
    (0..runs).map(run).min().unwrap_or_default()
}

/// Writes a generated library as files of so many parts; how many bytes.
fn write(folder: &Path, parts: usize) -> std::io::Result<usize> {
    let size = Size {
        positions: 150,
        joints: 190,
        parts,
        family: parts,
        choices: 20,
        types: 24,
        doubt: 5,
        twins: 0,
    };
    let (mut file, _) = generate(1, size);
    let mut all = std::mem::take(&mut file.parts).into_iter().peekable();
    let mut bytes = 0;
    let mut put = |name: String, file: &LibraryFile| {
        let text = serde_json::to_string_pretty(file)?;
        bytes += text.len();
        fs::write(folder.join(name), text)
    };
    put("words.json".to_owned(), &file)?;
    for n in 0.. {
        if all.peek().is_none() {
            break;
        }
        let parts = all.by_ref().take(IN_A_FILE).collect();
        put(format!("parts-{n}.json"), &LibraryFile { format: 1, parts, ..LibraryFile::default() })?;
    }
    Ok(bytes)
}

fn main() -> std::io::Result<()> {
    let shipped = Wanted::default();
    println!("shipped: {:.1?}", best(5, || drop(black_box(load(&shipped)))));
    for (parts, wanted) in WANTED {
        let folder = tempfile::tempdir()?;
        let bytes = write(folder.path(), parts)?;
        let read = Wanted { base: Some(folder.path().to_owned()), ..Wanted::default() };
        let loaded = load(&read);
        let faults: Vec<_> = loaded.faults().take(3).collect();
        assert!(faults.is_empty() && loaded.catalogue.parts.len() * 10 >= parts * 9, "{faults:?}");
        let took = best(3, || drop(black_box(load(&read))));
        println!("{parts} parts, {} MB: {took:.1?}, wanted {wanted:.1?}", bytes / 1_000_000);
    }
    Ok(())
}
