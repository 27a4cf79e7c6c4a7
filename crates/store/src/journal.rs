//! The crash journal of a sheet: one line for each change since it was saved, each with a checksum of its own.
//!
//! A line is eight hexadecimal digits (CRC-32 of the rest), a blank, and JSON. The first line says what the journal is
//! of. A line that is torn, changed or not understood takes no other with it.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use knockon_core::Edit;
use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::disk::{Disk, Kind, LARGEST, Looked, folder};
use crate::put::{put, sync_names};
use crate::sheet_error::SheetError;

/// What the journal is of.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// The format's number: 1.
    pub journal: u32,
    /// Digest of the sheet's file that the changes were made on, as text; empty where it had none.
    #[serde(default)]
    pub base: String,
    /// The sheet's file.
    #[serde(default)]
    pub sheet: String,
}

/// A line of a journal.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// What it is of.
    Head(Head),
    /// A change of the sheet.
    Edit(Edit),
    /// What stands in fields that have not been left yet, all of them; whoever wrote it knows how to read it.
    Typed(Json),
    /// The sheet as it is here is being saved; a number of its own.
    Saving(u64),
    /// What was to be saved at that place has this digest, as text. Written before the file is put into place: whoever
    /// finds the file with this digest knows that the changes up to there are in it. To make them again would take back
    /// what came after them, where the end of the journal is lost.
    Wrote(u64, String),
}

#[derive(Serialize, Deserialize)]
struct TypedLine {
    typed: Json,
}

#[derive(Serialize, Deserialize)]
struct SavingLine {
    saving: u64,
}

#[derive(Serialize, Deserialize)]
struct WroteLine {
    wrote: u64,
    digest: String,
}

impl Line {
    /// The text of the line, with its end.
    fn text(&self) -> Result<String, serde_json::Error> {
        let json = match self {
            Self::Head(head) => serde_json::to_string(head)?,
            Self::Edit(edit) => serde_json::to_string(edit)?,
            Self::Typed(typed) => serde_json::to_string(&TypedLine { typed: typed.clone() })?,
            Self::Saving(saving) => serde_json::to_string(&SavingLine { saving: *saving })?,
            Self::Wrote(wrote, digest) => {
                serde_json::to_string(&WroteLine { wrote: *wrote, digest: digest.clone() })?
            }
        };
        let mut text = String::with_capacity(json.len() + 10);
        // writing to a string does not fail
        let _ = write!(text, "{:08x} {json}", crc32fast::hash(json.as_bytes()));
        text.push('\n');
        Ok(text)
    }

    /// The JSON of a line whose checksum holds.
    fn checked(line: &[u8]) -> Option<&[u8]> {
        let (sum, json) = line.split_at_checked(8)?;
        let sum = u32::from_str_radix(std::str::from_utf8(sum).ok()?, 16).ok()?;
        let json = json.strip_prefix(b" ")?;
        (crc32fast::hash(json) == sum).then_some(json)
    }

    /// A line without its end; `None` where it is torn, changed or not understood. `old`: of a journal from before lines
    /// had checksums.
    fn read(line: &[u8], old: bool) -> Option<Self> {
        let json = if old { line } else { Self::checked(line)? };
        let json: Json = serde_json::from_slice(json).ok()?;
        let has = |word: &str| json.get(word).is_some();
        if has("edit") {
            serde_json::from_value(json).ok().map(Self::Edit)
        } else if has("typed") {
            serde_json::from_value(json).ok().map(|TypedLine { typed }| Self::Typed(typed))
        } else if has("saving") {
            serde_json::from_value(json).ok().map(|SavingLine { saving }| Self::Saving(saving))
        } else if has("wrote") {
            serde_json::from_value(json).ok().map(|WroteLine { wrote, digest }| Self::Wrote(wrote, digest))
        } else {
            let head: Head = serde_json::from_value(json).ok()?;
            (head.journal == 1).then_some(Self::Head(head))
        }
    }
}

/// What a journal holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    /// What it is of, where it says so.
    pub head: Option<Head>,
    /// The changes, in order.
    pub edits: Vec<Edit>,
    /// What stood last in fields that had not been left; `None`: nothing.
    pub typed: Option<Json>,
    /// Where a save began: how many changes stand before it, and its number.
    pub saving: Vec<(usize, u64)>,
    /// Saves by their number, with the digest of what was to be in the file.
    pub wrote: Vec<(u64, String)>,
    /// Lines that could not be read.
    pub lost: usize,
    /// It is from before lines had checksums.
    pub old: bool,
}

impl Journal {
    /// Reads the content of a journal.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        let mut out = Self::default();
        let lines = || bytes.split(|b| *b == b'\n').filter(|line| !line.trim_ascii().is_empty());
        // one line with a checksum, and all must have one: else a torn one might pass for an old one
        let old = !lines().any(|line| Line::checked(line).is_some());
        out.old = old && lines().next().is_some();
        for line in lines() {
            match Line::read(line, old) {
                Some(Line::Head(head)) => out.head = Some(head),
                Some(Line::Edit(edit)) => out.edits.push(edit),
                Some(Line::Saving(id)) => out.saving.push((out.edits.len(), id)),
                Some(Line::Wrote(id, digest)) => out.wrote.push((id, digest)),
                Some(Line::Typed(typed)) => out.typed = Some(typed).filter(|typed| !typed.is_null()),
                None => out.lost += 1,
            }
        }
        out
    }

    /// How many of the changes are known to be in a file of this digest.
    #[must_use]
    pub fn in_file(&self, digest: &str) -> Option<usize> {
        let saved = |id: &u64| self.wrote.iter().any(|(wrote, of)| wrote == id && of == digest);
        self.saving.iter().rev().find(|(_, id)| saved(id)).map(|(changes, _)| *changes)
    }
}

/// Where in the journals of a sheet a save began.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// The journals.
    pub journals: Vec<PathBuf>,
    /// The number of the save.
    pub id: u64,
}

impl Mark {
    /// Says in the journals what is about to be put into place of the sheet's file, safe from a power cut.
    ///
    /// # Errors
    /// It cannot be written.
    pub(crate) fn wrote(&self, disk: &dyn Disk, digest: &str) -> Result<(), SheetError> {
        self.journals.iter().try_for_each(|journal| {
            let what = "that the sheet is saved cannot be written into this journal";
            let wrong = |source| SheetError::Io { path: journal.display().to_string(), what, source };
            let line = Line::Wrote(self.id, digest.to_owned());
            let text = line.text().map_err(|e| wrong(std::io::Error::other(e)))?;
            let wrote =
                disk.append(journal, format!("\n{text}").as_bytes(), None).and_then(|_| disk.sync(journal));
            match wrote {
                // a save before this one has come back, and its journal is gone with all that was in it
                Err(e) if e.kind() == std::io::ErrorKind::NotFound => Ok(()),
                wrote => wrote.map_err(wrong),
            }
        })
    }
}

/// Reads a journal; `None`: there is none.
///
/// # Errors
/// There is one, and it is no plain file of at most 64 MB that can be read.
pub fn read(disk: &dyn Disk, path: &Path) -> Result<Option<Journal>, SheetError> {
    let what = "the journal of what was not saved cannot be read; it is left as it is";
    let wrong = |source| SheetError::Io { path: path.display().to_string(), what, source };
    match disk.look(path) {
        Ok(None) => Ok(None),
        Ok(Some(_)) => disk.read(path, LARGEST).map(|bytes| Some(Journal::of(&bytes))).map_err(wrong),
        Err(e) if e.kind() == std::io::ErrorKind::NotADirectory => Ok(None),
        Err(e) => Err(wrong(e)),
    }
}

/// How many bytes of lines lie on the disk before they are put together anew.
const LONG: u64 = 1024 * 1024;

/// Writes the journal of one sheet.
#[derive(Clone, Debug)]
pub struct Writer {
    path: PathBuf,
    head: Head,
    /// Who may read the sheet may read its journal, and nobody else.
    mode: Option<u32>,
    /// Bytes written since it was begun or put together.
    long: u64,
    /// When it is put together next, in bytes.
    limit: u64,
}

impl Writer {
    /// Of a sheet that is like this.
    #[must_use]
    pub fn new(path: PathBuf, head: Head, like: Option<&Looked>) -> Self {
        let mode = like.and_then(|like| like.mode).map(|mode| mode & 0o666 | 0o600);
        let head = Head { journal: 1, ..head };
        Self { path, head, mode, long: 0, limit: LONG }
    }

    /// Its file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Adds lines; the folder is never made. Whether the file was begun with them.
    ///
    /// # Errors
    /// They cannot be written. Where something of them was, it counts for nothing: a line counts whole.
    pub fn add(&mut self, disk: &dyn Disk, lines: &[Line]) -> Result<bool, SheetError> {
        let begins = !matches!(disk.look(&self.path), Ok(Some(_)));
        let mut text = String::new();
        if begins {
            text.push_str(&self.text(&[Line::Head(self.head.clone())])?);
        } else {
            // what a crash or a full disk has cut off takes nothing else with it
            text.push('\n');
        }
        text.push_str(&self.text(lines)?);
        let made = disk.append(&self.path, text.as_bytes(), self.mode).map_err(|e| self.unwritten(e))?;
        self.long += text.len() as u64;
        Ok(made)
    }

    /// It has grown so long that it is worth while to put it together.
    #[must_use]
    pub fn is_long(&self) -> bool {
        self.long > self.limit
    }

    /// Puts these lines in place of all there are: whole or not at all, and safe from a power cut.
    ///
    /// # Errors
    /// They cannot be written; what was there stays.
    pub fn put_together(&mut self, disk: &dyn Disk, lines: &[Line]) -> Result<(), SheetError> {
        let mut text = self.text(&[Line::Head(self.head.clone())])?;
        text.push_str(&self.text(lines)?);
        put(disk, &self.path, text.as_bytes()).map_err(|(path, what, source)| SheetError::Io {
            path: path.display().to_string(),
            what,
            source,
        })?;
        self.long = text.len() as u64;
        self.limit = LONG.max(self.long * 2);
        Ok(())
    }

    /// Takes the journal away: all that is in it is in the sheet.
    ///
    /// # Errors
    /// The system refuses.
    pub fn drop_file(&mut self, disk: &dyn Disk) -> Result<(), SheetError> {
        self.long = 0;
        match disk.remove(&self.path) {
            Err(e) if e.kind() != std::io::ErrorKind::NotFound => Err(SheetError::Io {
                path: self.path.display().to_string(),
                what: "this journal is not needed any more and cannot be taken away; delete it by hand",
                source: e,
            }),
            _ => Ok(()),
        }
    }

    /// Writes under another name from now on.
    pub fn go_to(&mut self, path: PathBuf) {
        self.path = path;
        self.long = 0;
    }

    /// What the sheet is now, for the next lines.
    pub fn rebase(&mut self, base: String) {
        self.head.base = base;
    }

    fn text(&self, lines: &[Line]) -> Result<String, SheetError> {
        let texts = lines.iter().map(Line::text).collect::<Result<String, _>>();
        texts.map_err(|e| {
            SheetError::Wrong(format!("{}: a change cannot be written ({e})", self.path.display()))
        })
    }

    fn unwritten(&self, source: std::io::Error) -> SheetError {
        SheetError::Io {
            path: self.path.display().to_string(),
            what: "changes cannot be kept here until they are saved",
            source,
        }
    }
}

/// Keeps a journal that could not be read whole under another name, beside it, and says which. It is there twice then:
/// whoever goes on writes the other one.
///
/// # Errors
/// It cannot be copied.
pub fn keep_unread(disk: &dyn Disk, path: &Path) -> Result<PathBuf, SheetError> {
    let what = "this journal could not be read whole and cannot be kept under another name";
    let wrong = |source| SheetError::Io { path: path.display().to_string(), what, source };
    let bytes = disk.read(path, LARGEST).map_err(wrong)?;
    let mode = disk.look(path).ok().flatten().and_then(|looked| looked.mode);
    for n in 1..1000_u32 {
        let mut name = path.as_os_str().to_owned();
        name.push(format!("-unread-{n}"));
        let to = PathBuf::from(name);
        match disk.look(&to).map_err(wrong)? {
            // kept before: the program ended before it was read
            Some(there)
                if there.kind == Kind::File
                    && disk.read(&to, LARGEST).is_ok_and(|kept| has_lost(&kept, &bytes)) =>
            {
                return Ok(to);
            }
            Some(_) => {}
            None => {
                disk.append(&to, &bytes, mode).map_err(wrong)?;
                disk.sync(&to).and_then(|()| sync_names(disk, folder(&to))).map_err(wrong)?;
                return Ok(to);
            }
        }
    }
    Err(wrong(std::io::ErrorKind::AlreadyExists.into()))
}

/// Whether a journal that was kept has all that cannot be read in another.
fn has_lost(kept: &[u8], journal: &[u8]) -> bool {
    journal.starts_with(kept) && Journal::of(kept).lost == Journal::of(journal).lost
}
