//! The files of a library's folder: found and read within bounds. A folder may come from a stranger: nothing outside it
//! is read, links are not followed, and what is no plain file is never opened.

use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest as _, Sha256};

use crate::digest::Digest;
use crate::disk::{Disk as _, Kind, Machine, plain};
use crate::text::read_plain;

/// How deep folders may lie in each other.
const DEEPEST: usize = 8;
/// Most files of one library, counted before any is read.
const MOST_FILES: usize = 10_000;
/// Most names looked at in one library, whatever they are of.
const MOST_NAMES: usize = 100_000;
/// Most bytes of all files of one library.
const MOST_BYTES: usize = 256 * 1024 * 1024;

/// What a folder holds.
#[derive(Clone, Debug, Default)]
pub(crate) struct Folder {
    /// Name for messages, and text, in the order of the names.
    pub texts: Vec<(String, String)>,
    /// What could not be read: its path, and a complete sentence with it.
    pub unread: Vec<(String, String)>,
    /// What tells one state of the folder from another: of every path below it and its content.
    pub digest: Option<Digest>,
}

/// Reads every `.json` of a folder and of the folders in it; names that begin with a dot are left alone.
///
/// # Errors
/// A sentence: it is no folder, or cannot be read.
pub(crate) fn read(dir: &Path) -> Result<Folder, String> {
    let paths = paths(dir)?;
    let mut out = Folder { unread: paths.refused, ..Folder::default() };
    let mut sum = Sha256::new();
    let mut bytes = 0_usize;
    for path in paths.found {
        let name = path.display().to_string();
        match read_plain(&path) {
            Ok(text) => {
                bytes += text.len();
                if bytes > MOST_BYTES {
                    let most = MOST_BYTES / 1024 / 1024;
                    let told = format!(
                        "{name}: the files of a library are at most {most} MB together; from here on none was read"
                    );
                    out.unread.push((name, told));
                    break;
                }
                let below = path.strip_prefix(dir).unwrap_or(&path).to_string_lossy().into_owned();
                mark(&mut sum, &below, &text);
                out.texts.push((name, text));
            }
            Err(why) => out.unread.push((name, why)),
        }
    }
    out.digest = Some(Digest::from(sum));
    Ok(out)
}

/// Adds a file to the digest of its library.
pub(crate) fn mark(sum: &mut Sha256, below: &str, text: &str) {
    // no two lists of names and contents read alike: a length stands before each
    for piece in [below, text] {
        sum.update((piece.len() as u64).to_le_bytes());
        sum.update(piece.as_bytes());
    }
}

/// What lies in a folder.
#[derive(Default)]
pub(crate) struct Paths {
    /// Files to read, in order.
    pub found: Vec<PathBuf>,
    /// What is not read though it reads like a file of the library: its path, and why.
    pub refused: Vec<(String, String)>,
}

/// The names of a folder, none of them opened.
///
/// # Errors
/// A sentence: it is no folder, or cannot be read.
pub(crate) fn paths(dir: &Path) -> Result<Paths, String> {
    if dir.is_file() {
        return Err(format!(
            "{}: this is a file; name the folder that holds the library's .json files",
            dir.display()
        ));
    }
    let mut out = Paths::default();
    let mut names = 0;
    let mut folders = vec![(dir.to_owned(), 0)];
    while let Some((folder, depth)) = folders.pop() {
        let entries = match fs::read_dir(&folder) {
            Ok(entries) => entries,
            Err(e) => {
                let told = format!(
                    "{}: cannot read this folder: {}; name the folder that holds the library's .json files",
                    folder.display(),
                    plain(&e)
                );
                if depth == 0 {
                    return Err(told);
                }
                out.refused.push((folder.display().to_string(), told));
                continue;
            }
        };
        for entry in entries.filter_map(Result::ok) {
            names += 1;
            if names > MOST_NAMES || out.found.len() > MOST_FILES {
                return Err(format!(
                    "{}: a library has at most {MOST_FILES} files, among {MOST_NAMES} names; name the folder that \
                     holds its .json files",
                    dir.display()
                ));
            }
            if entry.file_name().to_string_lossy().starts_with('.') {
                continue;
            }
            let path = entry.path();
            let name = path.display().to_string();
            let is_json = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json"));
            match Machine.look(&path).ok().flatten().map(|looked| looked.kind) {
                Some(Kind::Folder) if depth == DEEPEST => {
                    let told = format!(
                        "{name}: this folder lies too deep; a library has folders to a depth of {DEEPEST}"
                    );
                    out.refused.push((name, told));
                }
                Some(Kind::Folder) => folders.push((path, depth + 1)),
                Some(Kind::Link) if is_json || path.is_dir() => {
                    let told = format!(
                        "{name}: this is a link, and none is followed in a library: put what it leads to here in its \
                         place"
                    );
                    out.refused.push((name, told));
                }
                Some(Kind::File | Kind::Other) if is_json => out.found.push(path),
                _ => {}
            }
        }
    }
    out.found.sort();
    out.refused.sort();
    Ok(out)
}
