//! The library on disk: every `.json` of a folder, each fault with file, line, path and the way out.

use std::path::Path;

use include_dir::{Dir, include_dir};
use knockon_core::Catalogue;
use knockon_core::catalogue::Fault;
use knockon_core::library::LibraryFile;
use knockon_core::showing::count;

use crate::disk::plain;
use crate::place::lines_of;
use crate::reading::{self, Read};
use crate::text::read_text;

static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/../../assets/library");
static EXAMPLE: &str = include_str!("../../../examples/furrow-10.json");

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
    /// Complete sentence with file, line and path.
    pub text: String,
    /// How much it matters.
    pub weight: Weight,
}

fn fault(text: String) -> Problem {
    Problem { text, weight: Weight::Fault }
}

/// Loads every `.json` of a folder, in name order.
///
/// # Errors
/// The faults and warnings, where at least one is a fault.
pub fn load(dir: &Path) -> Result<(Catalogue, Vec<Problem>), Vec<Problem>> {
    if dir.is_file() {
        let told = format!(
            "{}: this is a file; name the folder that holds the library's .json files",
            dir.display()
        );
        return Err(vec![fault(told)]);
    }
    let entries = std::fs::read_dir(dir).map_err(|e| {
        vec![fault(format!(
            "{}: cannot read this folder: {}; name the folder that holds the library's .json files",
            dir.display(),
            plain(&e)
        ))]
    })?;
    let mut paths: Vec<_> = entries
        .filter_map(|e| e.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|x| x == "json"))
        .collect();
    paths.sort();
    if paths.is_empty() {
        return Err(vec![fault(format!("{}: there is no .json file in this folder", dir.display()))]);
    }
    let mut texts = Vec::new();
    let mut problems = Vec::new();
    for path in paths {
        match read_text(&path) {
            Ok(text) => texts.push((path.display().to_string(), text)),
            Err(why) => problems.push(fault(why)),
        }
    }
    let (catalogue, problems) = built(&texts, problems);
    let any = problems.iter().any(|p| p.weight == Weight::Fault);
    if any { Err(problems) } else { Ok((catalogue, problems)) }
}

/// Reads library files from text; pairs of file name and content.
#[must_use]
pub fn read(texts: &[(String, String)]) -> (Catalogue, Vec<Problem>) {
    built(texts, Vec::new())
}

/// `unread`: faults of files without a text.
fn built(texts: &[(String, String)], unread: Vec<Problem>) -> (Catalogue, Vec<Problem>) {
    let mut files = Vec::new();
    let (mut missing, mut problems) = (unread.len(), unread);
    for (name, text) in texts {
        let Read { thing, wrong, .. } = reading::read::<LibraryFile>(name, text, "file");
        missing += usize::from(thing.is_none());
        files.extend(thing.map(|file| (name.clone(), file)));
        problems.extend(wrong.into_iter().map(fault));
    }
    let (catalogue, faults) = Catalogue::new(files);
    if missing == 0 {
        problems.extend(placed(&faults, texts));
        return (catalogue, problems);
    }
    // what a file would have held is missing all over the others
    if !faults.is_empty() {
        let these = if missing == 1 { "this file" } else { "these files" };
        let text = format!(
            "{} in the other files not listed: most come of what {these} would hold; mend that first",
            count(faults.len(), "further problem is", "further problems are")
        );
        problems.push(Problem { text, weight: Weight::Note });
    }
    (catalogue, problems)
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
        Problem { text: format!("{}{line}: {word}at {}: {}", fault.file, fault.path, fault.message), weight }
    };
    faults.iter().zip(lines).map(one).collect()
}

/// The library shipped inside the program.
#[must_use]
pub fn shipped() -> Catalogue {
    let mut texts: Vec<(String, String)> = SHIPPED
        .files()
        .filter(|f| f.path().extension().is_some_and(|x| x == "json"))
        .filter_map(|f| Some((f.path().display().to_string(), f.contents_utf8()?.to_owned())))
        .collect();
    texts.sort();
    // a test holds that nothing is wrong with them
    let read = |(name, text): (String, String)| Some((name, serde_json::from_str(&text).ok()?));
    Catalogue::new(texts.into_iter().filter_map(read).collect()).0
}

/// The example pickup sheet shipped inside the program, as JSON text.
#[must_use]
pub fn example() -> &'static str {
    EXAMPLE
}

#[cfg(test)]
#[path = "library_tests.rs"]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
