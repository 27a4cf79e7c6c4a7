//! Lists and pages on disk: one replaces one that this program wrote and nobody has touched, and never a sheet or another file.

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::{Path, PathBuf};

use knockon_core::seal;

use crate::digest::Digest;
use crate::disk::{LARGEST, Machine, plain};
use crate::put::put;
use crate::system::files::same_file;

/// By what a file that is there already is known as one that may be written over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// It begins with the same line: for who has been asked already whether it may be replaced.
    FirstLine,
    /// By its seal: this program wrote it, and not a byte of it has changed since.
    Seal,
    /// By nothing, for there is no room for a seal in it: somebody may have worked in it.
    Nothing,
    /// Whatever it is: who asked for it said so.
    Anything,
}

/// Why a list or a page was not written. What was there is unharmed.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotWritten {
    /// The file is the sheet itself.
    #[error("{}: this is the sheet itself; nothing was written, name another file for the list", .0.display())]
    TheSheet(PathBuf),
    /// There is a folder.
    #[error("{}: this is a folder; name the file to write in it", .0.display())]
    Folder(PathBuf),
    /// There is a file that this program did not write, or that was changed since.
    #[error(
        "{}: this file is there already and holds something else; nothing was written, name another file or move that one away",
        .0.display()
    )]
    SomethingElse(PathBuf),
    /// There is a file of a kind that people work in.
    #[error(
        "{}: this file is there already and you may have worked in it; nothing was written, name another file or move that one \
         away",
        .0.display()
    )]
    MayBeWork(PathBuf),
    /// It cannot be written.
    #[error("{}: cannot be written: {why}; choose a folder you may write to", .path.display())]
    Disk {
        /// The file.
        path: PathBuf,
        /// What the system says, in words.
        why: String,
    },
}

impl NotWritten {
    /// A file stands in the way, which may be written over where somebody says so.
    #[must_use]
    pub fn is_in_the_way(&self) -> bool {
        matches!(self, Self::SomethingElse(_) | Self::MayBeWork(_))
    }
}

/// Writes a list with its heads in the first line, or a page whose first line says what it is. `sheet`: the file it was made
/// from.
///
/// # Errors
/// [`NotWritten`]: the file is the sheet itself, holds something else than such a list, or cannot be written.
pub fn write(out: &Path, list: &str, sheet: Option<&Path>) -> Result<(), NotWritten> {
    write_bytes(out, list.as_bytes(), sheet, Known::FirstLine)
}

/// The same of any kind of file; where it has the place of a seal that is filled in.
///
/// # Errors
/// As [`write`].
pub fn write_bytes(out: &Path, list: &[u8], sheet: Option<&Path>, known: Known) -> Result<(), NotWritten> {
    let path = || out.to_owned();
    if sheet.is_some_and(|sheet| same_file(sheet, out)) {
        return Err(NotWritten::TheSheet(path()));
    }
    let list = &sealed(list);
    let refused = |e: &std::io::Error| NotWritten::Disk { path: path(), why: plain(e).to_string() };
    match fs::metadata(out) {
        Ok(meta) if meta.is_dir() => Err(NotWritten::Folder(path())),
        // a device or pipe has nothing to lose, and is not to be replaced by a file
        Ok(meta) if !meta.is_file() => {
            let mut file = OpenOptions::new().write(true).open(out).map_err(|e| refused(&e))?;
            file.write_all(list).and_then(|()| file.flush()).map_err(|e| refused(&e))
        }
        Ok(meta) => {
            if meta.len() > 0 && !is_such(out, list, known).map_err(|e| refused(&e))? {
                return Err(match known {
                    Known::Nothing => NotWritten::MayBeWork(path()),
                    _ => NotWritten::SomethingElse(path()),
                });
            }
            // where a link leads is replaced, not the link
            let target = fs::canonicalize(out).map_err(|e| refused(&e))?;
            put(&Machine, &target, list).map_err(|(.., e)| refused(&e))
        }
        Err(_) => put(&Machine, out, list).map_err(|(.., e)| refused(&e)),
    }
}

/// Whether a file may be replaced by a list.
fn is_such(path: &Path, list: &[u8], known: Known) -> std::io::Result<bool> {
    match known {
        Known::Anything => return Ok(true),
        Known::FirstLine => {}
        Known::Seal | Known::Nothing => {
            let mut there = Vec::new();
            File::open(path)?.take(LARGEST).read_to_end(&mut there)?;
            // where nothing changes nothing is lost
            return Ok(there == list || (known == Known::Seal && is_sealed(&there)));
        }
    }
    let list = String::from_utf8_lossy(list.get(..4096.min(list.len())).unwrap_or(list));
    let plain = |line: &str| -> String {
        let line = line.trim_start_matches('\u{feff}').trim();
        line.chars().filter(|c| *c != '"').map(|c| if matches!(c, ';' | '\t') { ',' } else { c }).collect()
    };
    let mut first = Vec::new();
    BufReader::new(File::open(path)?).take(4096).read_until(b'\n', &mut first)?;
    let heads = plain(list.lines().next().unwrap_or_default());
    // a list of nothing has no heads that it could be known by
    Ok(!heads.is_empty() && plain(&String::from_utf8_lossy(&first)) == heads)
}

/// With the seal filled in, wherever it stands.
fn sealed(list: &[u8]) -> Vec<u8> {
    replaced(list, seal::PLACE.as_bytes(), seal_of(list).as_bytes())
}

/// The seal of bytes in which its place is not filled in.
fn seal_of(bytes: &[u8]) -> String {
    let digest = Digest::of(bytes).to_string();
    format!("{}{}", seal::BEFORE, digest.get(..seal::DIGITS).unwrap_or(&digest))
}

/// Whether a file has the seal of what else is in it.
fn is_sealed(there: &[u8]) -> bool {
    let long = seal::PLACE.len();
    let is_seal = |bytes: &&[u8]| {
        let digits = bytes.strip_prefix(seal::BEFORE.as_bytes());
        digits.is_some_and(|digits| digits.iter().all(u8::is_ascii_hexdigit))
    };
    // somebody may have written of a seal in a note: each is tried
    let found: BTreeSet<&[u8]> = there.windows(long).filter(is_seal).take(1000).collect();
    let place = seal::PLACE.as_bytes();
    found.into_iter().take(16).any(|one| seal_of(&replaced(there, one, place)).as_bytes() == one)
}

/// With other bytes, as many, wherever some stand.
fn replaced(bytes: &[u8], what: &[u8], with: &[u8]) -> Vec<u8> {
    let mut out = bytes.to_vec();
    let mut at = 0;
    while let Some(next) = out.get(at..).and_then(|rest| rest.windows(what.len()).position(|w| w == what)) {
        at += next;
        if let Some(place) = out.get_mut(at..at + with.len()) {
            place.copy_from_slice(with);
        }
        at += what.len();
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    const LIST: &str = "item,part id\r\nHose,hose\r\n";

    #[test]
    fn a_list_replaces_a_list_and_nothing_else() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let out = at("buy.csv");
        write(&out, LIST, None).unwrap();
        fs::write(&out, "\u{feff}\"item\";\"part id\"\n").unwrap();
        write(&out, LIST, None).unwrap();
        assert_eq!(fs::read_to_string(&out).unwrap(), LIST);
        assert!(!at("buy.csv.new").exists());
        for other in ["{\"format\": 1}\n", "item\n", "item,part id,more\n", "\u{0}\u{1}"] {
            fs::write(&out, other).unwrap();
            assert_eq!(write(&out, LIST, None), Err(NotWritten::SomethingElse(out.clone())), "{other}");
            assert_eq!(fs::read_to_string(&out).unwrap(), other);
        }
        let why = |path: &Path| write(path, LIST, None).unwrap_err().to_string();
        assert!(why(folder.path()).contains("this is a folder"));
        assert!(why(&at("no/where.csv")).contains("no such file or folder"));
    }

    #[test]
    fn a_list_of_nothing_replaces_no_file_that_begins_with_a_blank_line() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("buy.csv");
        for kept in ["\nmy own list\n", ",,\n1,2,3\n", "\u{feff}\r\nname\r\n"] {
            for list in ["", "\u{feff}", "\u{feff}\r\n"] {
                fs::write(&out, kept).unwrap();
                assert!(write(&out, list, None).is_err(), "{kept:?} by {list:?}");
                assert_eq!(fs::read_to_string(&out).unwrap(), kept);
            }
        }
    }

    #[test]
    fn a_page_replaces_one_that_this_program_wrote_and_that_nobody_touched() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("jobs.html");
        let page = |text: &str| format!("<p>{text}</p><!-- {} -->\n", seal::PLACE).into_bytes();
        let put = |text: &str| write_bytes(&out, &page(text), None, Known::Seal);
        put("one").unwrap();
        put("two").unwrap();
        let written = fs::read_to_string(&out).unwrap();
        assert!(
            written.contains("<p>two</p><!-- knockon-seal-") && !written.contains(seal::PLACE),
            "{written}"
        );
        // with a word of somebody's, with a page that only speaks of the program, with a seal of another page
        let other = written.replace("two", "two, but ask Ann");
        for kept in
            [other.as_str(), "<p>Knockon</p>", "<p>knockon-seal-0123456789abcdef0123456789abcdef</p>", ""]
        {
            fs::write(&out, kept).unwrap();
            let is_written = put("three").is_ok();
            assert_eq!(is_written, kept.is_empty(), "{kept}");
            if !is_written {
                assert_eq!(fs::read_to_string(&out).unwrap(), kept);
            }
        }
        // who writes of a seal in a note does not lock the page
        put("see knockon-seal-0123456789abcdef0123456789abcdef").unwrap();
        put("four").unwrap();
    }

    #[test]
    fn what_may_hold_somebodys_work_is_written_over_only_when_asked() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("list.xlsx");
        write_bytes(&out, b"PK one", None, Known::Nothing).unwrap();
        write_bytes(&out, b"PK one", None, Known::Nothing).unwrap();
        let why = write_bytes(&out, b"PK two", None, Known::Nothing).unwrap_err();
        assert!(why.to_string().contains("you may have worked in it") && why.is_in_the_way(), "{why}");
        assert_eq!(fs::read(&out).unwrap(), b"PK one");
        write_bytes(&out, b"PK two", None, Known::Anything).unwrap();
        assert_eq!(fs::read(&out).unwrap(), b"PK two");
    }

    #[cfg(unix)]
    #[test]
    fn the_sheet_is_known_by_every_path() {
        let folder = tempfile::tempdir().unwrap();
        let sheet = folder.path().join("a.json");
        fs::write(&sheet, "{}").unwrap();
        let (hard, soft) = (folder.path().join("hard"), folder.path().join("soft"));
        fs::hard_link(&sheet, &hard).unwrap();
        std::os::unix::fs::symlink(&sheet, &soft).unwrap();
        for path in [&sheet, &hard, &soft, &folder.path().join("./a.json")] {
            assert_eq!(write(path, LIST, Some(&sheet)), Err(NotWritten::TheSheet(path.clone())));
        }
        assert_eq!(fs::read_to_string(&sheet).unwrap(), "{}");
        let why = write(Path::new("/dev/full"), LIST, None).unwrap_err().to_string();
        assert!(why.contains("the disk is full"), "{why}");
    }
}
