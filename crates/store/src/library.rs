//! The library on disk: every `.json` of a folder, each fault with file, line, path and the way out.

use std::path::Path;

use include_dir::{Dir, include_dir};
use knockon_core::Catalogue;
use knockon_core::catalogue::Fault;
use knockon_core::library::LibraryFile;

use crate::place::line_of;

static SHIPPED: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/../../assets/library");
static EXAMPLE: &str = include_str!("../../../examples/furrow-10.json");

/// A fault or warning with its line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Complete sentence with file, line and path.
    pub text: String,
    /// Only a warning: the library can be used.
    pub warning: bool,
}

/// Loads every `.json` of a folder, in name order.
///
/// # Errors
/// The faults and warnings, where at least one is a fault.
pub fn load(dir: &Path) -> Result<(Catalogue, Vec<Problem>), Vec<Problem>> {
    let fault = |text: String| Problem { text, warning: false };
    let entries = std::fs::read_dir(dir).map_err(|e| {
        vec![fault(format!(
            "{}: cannot read this folder ({e}); name the folder that holds the library's .json files",
            dir.display()
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
        match std::fs::read_to_string(&path) {
            Ok(text) => texts.push((path.display().to_string(), text)),
            Err(e) => problems.push(fault(format!("{}: cannot be read ({e})", path.display()))),
        }
    }
    let (catalogue, found) = read(&texts);
    problems.extend(found);
    if problems.iter().any(|p| !p.warning) { Err(problems) } else { Ok((catalogue, problems)) }
}

/// Reads library files from text; pairs of file name and content.
#[must_use]
pub fn read(texts: &[(String, String)]) -> (Catalogue, Vec<Problem>) {
    let mut files = Vec::new();
    let mut problems = Vec::new();
    for (name, text) in texts {
        let mut de = serde_json::Deserializer::from_str(text);
        match serde_path_to_error::deserialize::<_, LibraryFile>(&mut de) {
            Ok(file) => files.push((name.clone(), file)),
            Err(e) => problems.push(Problem { text: parse_text(name, &e), warning: false }),
        }
    }
    let (catalogue, faults) = Catalogue::new(files);
    problems.extend(faults.iter().map(|f| place(f, texts)));
    (catalogue, problems)
}

/// A parse error with file, line, path and what was expected.
pub(crate) fn parse_text(name: &str, e: &serde_path_to_error::Error<serde_json::Error>) -> String {
    let path = e.path().to_string();
    let inner = e.inner();
    let message = inner.to_string();
    // serde_json puts the place at the end; we put it in front
    let message = message.split(" at line ").next().unwrap_or("");
    if inner.is_eof() {
        return format!("{name}:{}: the file ends before it is complete", inner.line());
    }
    let hint = unknown_field_hint(message);
    // an error of the text itself has no place among the fields
    let at = if path == "?" || path == "." { String::new() } else { format!("at {path}: ") };
    format!("{name}:{}: {at}{message}{hint}; correct the file and open it again", inner.line())
}

fn unknown_field_hint(message: &str) -> String {
    let mut ticks = message.split('`').skip(1).step_by(2);
    let (Some(word), true) = (ticks.next(), message.starts_with("unknown")) else { return String::new() };
    ticks
        .map(|known| (strsim::jaro_winkler(word, known), known))
        .filter(|(score, _)| *score > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map_or_else(String::new, |(_, known)| format!("; did you mean `{known}`?"))
}

fn place(fault: &Fault, texts: &[(String, String)]) -> Problem {
    let line = texts.iter().find(|(n, _)| *n == fault.file).and_then(|(_, text)| line_of(text, &fault.path));
    let line = line.map_or_else(String::new, |l| format!(":{l}"));
    let word = if fault.warning { "warning: " } else { "" };
    Problem {
        text: format!("{}{line}: {word}at {}: {}", fault.file, fault.path, fault.message),
        warning: fault.warning,
    }
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
    read(&texts).0
}

/// The example pickup sheet shipped inside the program, as JSON text.
#[must_use]
pub fn example() -> &'static str {
    EXAMPLE
}
