//! Lists and pages on disk: one replaces one of its kind that was written before, and never a sheet or another file.

use std::fs::{self, File, OpenOptions};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;

use crate::disk::{LARGEST, Machine, plain};
use crate::put::put;
use crate::system::files::same_file;

/// By what a file that is there already is known as one of the same kind, which may be written over.
#[derive(Clone, Copy, Debug)]
pub enum Known<'a> {
    /// It begins with the same line.
    FirstLine,
    /// It has these bytes in it, which no other program writes.
    Mark(&'a [u8]),
    /// By nothing: somebody may have worked in it.
    Nothing,
    /// Whatever it is: who asked for it said so.
    Anything,
}

/// Writes a list with its heads in the first line, or a page whose first line says what it is. `sheet`: the file it was made
/// from.
///
/// # Errors
/// A sentence with the way out: the file is the sheet itself, holds something else than such a list, or cannot be
/// written. What was there is unharmed.
pub fn write(out: &Path, list: &str, sheet: Option<&Path>) -> Result<(), String> {
    write_bytes(out, list.as_bytes(), sheet, Known::FirstLine)
}

/// The same of any kind of file.
///
/// # Errors
/// As [`write`].
pub fn write_bytes(out: &Path, list: &[u8], sheet: Option<&Path>, known: Known<'_>) -> Result<(), String> {
    let name = out.display();
    if sheet.is_some_and(|sheet| same_file(sheet, out)) {
        return Err(format!(
            "{name}: this is the sheet itself; nothing was written, name another file for the list"
        ));
    }
    let refused = |e: &std::io::Error| {
        format!("{name}: cannot be written: {}; choose a folder you may write to", plain(e))
    };
    match fs::metadata(out) {
        Ok(meta) if meta.is_dir() => Err(format!("{name}: this is a folder; name the file to write in it")),
        // a device or pipe has nothing to lose, and is not to be replaced by a file
        Ok(meta) if !meta.is_file() => {
            let mut file = OpenOptions::new().write(true).open(out).map_err(|e| refused(&e))?;
            file.write_all(list).and_then(|()| file.flush()).map_err(|e| refused(&e))
        }
        Ok(meta) => {
            if meta.len() > 0 && !is_such(out, list, known).map_err(|e| refused(&e))? {
                let why = match known {
                    Known::Nothing => "and you may have worked in it",
                    _ => "and holds something else",
                };
                return Err(format!(
                    "{name}: this file is there already {why}; nothing was written, name another file or move that one away"
                ));
            }
            // where a link leads is replaced, not the link
            let target = fs::canonicalize(out).map_err(|e| refused(&e))?;
            put(&Machine, &target, list).map_err(|(.., e)| refused(&e))
        }
        Err(_) => put(&Machine, out, list).map_err(|(.., e)| refused(&e)),
    }
}

/// Whether a file is of the kind of the list: it begins with its heads, however a spreadsheet wrote them back, or has its mark.
fn is_such(path: &Path, list: &[u8], known: Known<'_>) -> std::io::Result<bool> {
    let mark = match known {
        Known::Anything => return Ok(true),
        Known::Nothing => return Ok(false),
        Known::Mark(mark) => mark,
        Known::FirstLine => b"",
    };
    if !mark.is_empty() {
        let mut there = Vec::new();
        File::open(path)?.take(LARGEST).read_to_end(&mut there)?;
        return Ok(there.windows(mark.len()).any(|bytes| bytes == mark));
    }
    let list = String::from_utf8_lossy(list.get(..4096.min(list.len())).unwrap_or(list));
    let plain = |line: &str| -> String {
        let line = line.trim_start_matches('\u{feff}').trim();
        line.chars().filter(|c| *c != '"').map(|c| if matches!(c, ';' | '\t') { ',' } else { c }).collect()
    };
    let mut first = Vec::new();
    BufReader::new(File::open(path)?).take(4096).read_until(b'\n', &mut first)?;
    Ok(plain(&String::from_utf8_lossy(&first)) == plain(list.lines().next().unwrap_or_default()))
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
            assert!(write(&out, LIST, None).unwrap_err().contains("holds something else"), "{other}");
            assert_eq!(fs::read_to_string(&out).unwrap(), other);
        }
        assert!(write(folder.path(), LIST, None).unwrap_err().contains("this is a folder"));
        assert!(write(&at("no/where.csv"), LIST, None).unwrap_err().contains("no such file or folder"));
    }

    #[test]
    fn what_may_hold_somebodys_work_is_written_over_only_when_asked() {
        let folder = tempfile::tempdir().unwrap();
        let out = folder.path().join("list.xlsx");
        write_bytes(&out, b"PK one", None, Known::Nothing).unwrap();
        let why = write_bytes(&out, b"PK two", None, Known::Nothing).unwrap_err();
        assert!(why.contains("you may have worked in it"), "{why}");
        assert_eq!(fs::read(&out).unwrap(), b"PK one");
        write_bytes(&out, b"PK two", None, Known::Anything).unwrap();
        assert_eq!(fs::read(&out).unwrap(), b"PK two");
        fs::write(&out, b"%PDF of somebody").unwrap();
        assert!(
            write_bytes(&out, b"%PDF mine", None, Known::Mark(b"mine"))
                .unwrap_err()
                .contains("something else")
        );
        fs::write(&out, b"%PDF mine, older").unwrap();
        write_bytes(&out, b"%PDF mine", None, Known::Mark(b"mine")).unwrap();
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
            assert!(write(path, LIST, Some(&sheet)).unwrap_err().contains("the sheet itself"), "{path:?}");
        }
        assert_eq!(fs::read_to_string(&sheet).unwrap(), "{}");
        assert!(write(Path::new("/dev/full"), LIST, None).unwrap_err().contains("the disk is full"));
    }
}
