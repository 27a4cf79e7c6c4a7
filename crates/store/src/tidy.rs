//! Puts the files of a library into one layout: the words of each thing in the order of its type, on one line what is
//! short, else a line for each entry. What a file means stays as it is, to the letter.

mod layout;
mod order;
#[cfg(test)]
mod tests;

use std::path::Path;

use knockon_core::library::{LibraryFile, Part, Written};
use serde_json::Value as Json;

use crate::disk::{Disk, LARGEST, plain};
use crate::folder;
use crate::put::put;
use crate::reading::{self, Read};
use crate::text::{read_plain, without_mark};

/// What came of tidying a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tidied {
    /// How many files it has.
    pub files: usize,
    /// Those that were put into the layout, or would be.
    pub changed: Vec<String>,
    /// Complete sentences on files that are left as they are: each has a fault, or could not be read or written.
    pub faults: Vec<String>,
}

/// Puts every file of a library's folder into the layout. A file is written whole or not at all; one with a fault is left
/// as it is. `write`: else it is only looked what would change.
///
/// # Errors
/// A sentence: it is no folder, or cannot be read.
pub fn tidy(disk: &dyn Disk, dir: &Path, write: bool) -> Result<Tidied, String> {
    let paths = folder::paths(dir)?;
    let mut out = Tidied { files: paths.found.len(), ..Tidied::default() };
    out.faults.extend(paths.refused.into_iter().map(|(_, why)| why));
    for path in paths.found {
        match one(disk, &path, write) {
            Ok(true) => out.changed.push(path.display().to_string()),
            Ok(false) => {}
            Err(faults) => out.faults.extend(faults),
        }
    }
    Ok(out)
}

/// Tidies a file; whether that changed it.
fn one(disk: &dyn Disk, path: &Path, write: bool) -> Result<bool, Vec<String>> {
    let name = path.display().to_string();
    let refused = |e| vec![format!("{name}: cannot be read: {}; check the path", plain(&e))];
    let bytes = disk.read(path, LARGEST).map_err(refused)?;
    let text = read_plain(path).map_err(|why| vec![why])?;
    let tidy = text_of(&name, &text)?;
    if bytes == tidy.as_bytes() {
        return Ok(false);
    }
    if write {
        // what an editor saved meanwhile is not written over
        if disk.read(path, LARGEST).map_err(refused)? != bytes {
            return Err(vec![format!(
                "{name}: this file has changed meanwhile and is left as it is; try again"
            )]);
        }
        put(disk, path, tidy.as_bytes())
            .map_err(|(path, what, e)| vec![format!("{}: {what}: {}", path.display(), plain(&e))])?;
    }
    Ok(true)
}

/// The text of a file in the layout.
///
/// # Errors
/// What is wrong with it: complete sentences with file and line.
pub fn text_of(name: &str, text: &str) -> Result<String, Vec<String>> {
    let Read { wrong, .. } = reading::read::<LibraryFile<Written<Part>>>(name, text, "file");
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let text = without_mark(text);
    let tidy = layout::parsed(text).map(|mut whole| {
        order::order(&mut whole);
        layout::written(&whole)
    });
    let read = |text: &str| serde_json::from_str::<Json>(text).ok();
    match tidy {
        Some(tidy) if read(&tidy) == read(text) => Ok(tidy),
        _ => Err(vec![format!("{name}: this file cannot be laid out as it means, and is left as it is")]),
    }
}
