//! The schemas of files, the files they are held to, and the reader's own answer to them.

use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value as Json;

/// The folder of the project.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The `.json` files of a folder and of those in it, in order.
///
/// # Errors
/// The folder cannot be read.
pub fn json_files(folder: &Path) -> std::io::Result<Vec<PathBuf>> {
    let (mut found, mut open) = (Vec::new(), vec![folder.to_owned()]);
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
                found.push(path);
            }
        }
    }
    found.sort();
    Ok(found)
}

/// A JSON file.
///
/// # Errors
/// It cannot be read, or is no JSON.
pub fn json(path: &Path) -> std::io::Result<Json> {
    Ok(serde_json::from_str(&fs::read_to_string(path)?)?)
}
