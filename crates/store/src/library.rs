//! The files of a library: read, checked and put together, each fault with file, line, path and the way out.

use std::path::Path;

use include_dir::{Dir, include_dir};
use knockon_core::Catalogue;
use knockon_core::catalogue::{Fault, Layered};
use knockon_core::layers::{Layer, Replaced};
use knockon_core::library::{LibraryFile, Part, Written};
use knockon_core::showing::count;
use sha2::{Digest as _, Sha256};

use crate::digest::Digest;
use crate::folder;
use crate::libraries::{self, Wanted};
use crate::place::lines_of;
use crate::reading::{self, Read};

static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/../../assets/library");
static EXAMPLE: &str = include_str!("../../../examples/furrow-10.json");
static FURTHER: [&str; 4] = [
    include_str!("../../../examples/scree-82.json"),
    include_str!("../../../examples/larksong-1600.json"),
    include_str!("../../../examples/larksong-kept-original.json"),
    include_str!("../../../examples/furrow-in-boxes.json"),
];

/// How much a problem matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// The library cannot be used.
    Fault,
    /// It can be used, and something in it is odd.
    Warning,
    /// Only said to understand the others.
    Note,
}

/// A fault or warning with its line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file it is in, as the text calls it; empty where it is in none.
    pub file: String,
    /// Complete sentence with file, line and path.
    pub text: String,
    /// How much it matters.
    pub weight: Weight,
}

pub(crate) fn fault(file: &str, text: String) -> Problem {
    Problem { file: file.to_owned(), text, weight: Weight::Fault }
}

/// Loads a library by itself: every `.json` of a folder and of the folders in it.
///
/// # Errors
/// The faults and warnings, where at least one is a fault.
pub fn load(dir: &Path) -> Result<(Catalogue, Vec<Problem>), Vec<Problem>> {
    let wanted = Wanted { base: Some(dir.to_owned()), ..Wanted::default() };
    let loaded = libraries::load(&wanted);
    let any = loaded.faults().next().is_some();
    if any { Err(loaded.problems) } else { Ok((loaded.catalogue, loaded.problems)) }
}

/// Reads library files from text; pairs of file name and content.
#[must_use]
pub fn read(texts: &[(String, String)]) -> (Catalogue, Vec<Problem>) {
    let Parsed { files, missing, problems } = parsed(texts);
    let checked = checked(vec![files], texts, missing, problems);
    (checked.catalogue, checked.problems)
}

/// Texts as files of a library.
pub(crate) struct Parsed {
    pub files: Layer<Written<Part>>,
    /// Texts that are none.
    pub missing: usize,
    pub problems: Vec<Problem>,
}

pub(crate) fn parsed(texts: &[(String, String)]) -> Parsed {
    let mut out = Parsed { files: Layer::new(), missing: 0, problems: Vec::new() };
    for (name, text) in texts {
        let Read { thing, wrong, .. } = reading::read::<LibraryFile<Written<Part>>>(name, text, "file");
        out.missing += usize::from(thing.is_none());
        out.files.extend(thing.map(|file| (name.clone(), file)));
        out.problems.extend(wrong.into_iter().map(|text| fault(name, text)));
    }
    out
}

/// What came of files.
pub(crate) struct Checked {
    pub catalogue: Catalogue,
    pub problems: Vec<Problem>,
    pub replaced: Vec<Replaced>,
}

/// Checks the files of libraries, the lowest first, and puts them together. `missing`: how many more there would be, whose
/// `problems` are told.
pub(crate) fn checked(
    layers: Vec<Layer<Written<Part>>>,
    texts: &[(String, String)],
    missing: usize,
    mut problems: Vec<Problem>,
) -> Checked {
    let Layered { catalogue, mut faults, replaced, first } = Catalogue::layered(layers);
    let all = faults.len();
    let first = if missing == 0 { first } else { 0 };
    // what a file or part would have held is missing all over the others
    let from = match (missing, first) {
        (0, 0) => None,
        (0, _) => Some(("in the rest", "the parts named above")),
        (1, _) => Some(("in the other files", "this file")),
        _ => Some(("in the other files", "these files")),
    };
    if from.is_some() {
        faults.truncate(first);
    }
    problems.extend(placed(&faults, texts));
    if let Some((rest, these)) = from.filter(|_| all > first) {
        let text = format!(
            "{} {rest} not listed: most come of what {these} would hold; mend that first",
            count(all - first, "further problem is", "further problems are")
        );
        problems.push(Problem { file: String::new(), text, weight: Weight::Note });
    }
    Checked { catalogue, problems, replaced }
}

/// Each fault with its line; one walk through each file.
fn placed(faults: &[Fault], texts: &[(String, String)]) -> Vec<Problem> {
    let mut lines: Vec<Option<usize>> = vec![None; faults.len()];
    for (name, text) in texts {
        let (at, paths): (Vec<usize>, Vec<&str>) = faults
            .iter()
            .enumerate()
            .filter(|(_, f)| f.file == *name)
            .map(|(at, f)| (at, f.path.as_str()))
            .unzip();
        if !paths.is_empty() {
            for (at, line) in at.into_iter().zip(lines_of(text, &paths)) {
                lines[at] = line;
            }
        }
    }
    let one = |(fault, line): (&Fault, Option<usize>)| {
        let line = line.map_or_else(String::new, |l| format!(":{l}"));
        let (word, weight) = if fault.warning { ("warning: ", Weight::Warning) } else { ("", Weight::Fault) };
        let text = format!("{}{line}: {word}at {}: {}", fault.file, fault.path, fault.message);
        Problem { file: fault.file.clone(), text, weight }
    };
    faults.iter().zip(lines).map(one).collect()
}

/// The files of the library shipped inside the program: the path of each below its folder, and its text.
#[must_use]
pub fn shipped_texts() -> Vec<(String, String)> {
    let is_json = |path: &Path| path.extension().is_some_and(|x| x == "json");
    let mut folders = vec![&SHIPPED];
    let mut texts = Vec::new();
    while let Some(folder) = folders.pop() {
        folders.extend(folder.dirs());
        let files = folder.files().filter(|f| is_json(f.path()));
        texts.extend(
            files.filter_map(|f| Some((f.path().display().to_string(), f.contents_utf8()?.to_owned()))),
        );
    }
    texts.sort();
    texts
}

/// What tells one state of these files from another.
pub(crate) fn digest_of(texts: &[(String, String)]) -> Digest {
    let mut sum = Sha256::new();
    texts.iter().for_each(|(name, text)| folder::mark(&mut sum, name, text));
    Digest::from(sum)
}

/// The library shipped inside the program.
#[must_use]
pub fn shipped() -> Catalogue {
    // a test holds that nothing is wrong with them
    let read = |(name, text): (String, String)| Some((name, serde_json::from_str(&text).ok()?));
    Catalogue::layered(vec![shipped_texts().into_iter().filter_map(read).collect()]).catalogue
}

/// The example pickup sheet shipped inside the program, as JSON text.
#[must_use]
pub fn example() -> &'static str {
    EXAMPLE
}

/// Further example sheets shipped inside the program, as JSON text.
#[must_use]
pub fn further_examples() -> [&'static str; 4] {
    FURTHER
}

#[cfg(test)]
#[path = "library_tests.rs"]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
