//! What has been changed and typed in a sheet and is not saved: kept in a journal, and taken in again.
//!
//! The journal lies beside the sheet. Where that folder does not take it, another one lies in the user's own; it holds
//! all changes since the sheet was saved, whatever the one beside the sheet has. What cannot be read whole is never
//! deleted.

use std::hash::{BuildHasher as _, Hasher as _, RandomState};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::{Sheet, apply};
use serde_json::Value as Json;

use crate::digest::Digest;
use crate::disk::{Disk, Kind, beside, folder};
use crate::journal::{self, Head, Line, Mark, Writer};
use crate::put::sync_names;
use crate::sheets::{SheetError, digest, real};

/// What was found of changes that were not saved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// The sheet with them.
    pub sheet: Sheet,
    /// How many there are.
    pub changes: usize,
    /// What stood in fields that had not been left.
    pub typed: Option<Json>,
    /// The file has been written by others since they were made.
    pub on_another: bool,
    /// What the user has to know: complete sentences, each with its file.
    pub notes: Vec<String>,
}

/// The journal beside a sheet.
#[must_use]
pub fn journal_of(disk: &dyn Disk, sheet: &Path) -> PathBuf {
    beside(&real(disk, sheet), ".journal")
}

/// The journal in the user's own folder, for a sheet whose folder takes none.
fn spare_of(disk: &dyn Disk, sheet: &Path, home: &Path) -> PathBuf {
    let name = Digest::of(real(disk, sheet).as_os_str().as_encoded_bytes()).to_string();
    home.join("journals").join(format!("{}.journal", &name[..16]))
}

/// Looks at what was not saved of a sheet as it was read from its file, and changes nothing.
#[must_use]
pub fn look(disk: &dyn Disk, path: &Path, home: Option<&Path>, sheet: &Sheet) -> Found {
    gather(disk, &real(disk, path), &journals_of(disk, path, home), sheet).0
}

/// Where journals of a sheet may lie: beside it, and in the user's own folder.
#[must_use]
pub fn journals_of(disk: &dyn Disk, path: &Path, home: Option<&Path>) -> Vec<PathBuf> {
    let mut places = vec![journal_of(disk, path)];
    places.extend(home.map(|home| spare_of(disk, path, home)));
    places
}

/// What is to be done so that what was written outlives a power cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Added {
    /// The file to sync.
    pub file: PathBuf,
    /// It was begun: its folder is to be synced too.
    pub begun: bool,
    /// What the user has to know, told once: a complete sentence.
    pub note: Option<String>,
}

/// The journal of an open sheet.
pub struct Record {
    disk: Arc<dyn Disk>,
    /// Writes where the journal is now.
    writer: Writer,
    /// The file of the sheet, through all links.
    sheet: PathBuf,
    beside: PathBuf,
    spare: Option<PathBuf>,
    /// What lies beside the sheet could not be read and could not be kept under another name: it is left alone.
    blocked: bool,
    /// The sheet lay in its folder: where it does not any more, another folder may be there in its place.
    was_there: bool,
}

impl Record {
    /// Of a sheet whose file has this digest.
    #[must_use]
    pub fn new(disk: Arc<dyn Disk>, sheet: &Path, home: Option<&Path>, base: Option<Digest>) -> Self {
        let beside = journal_of(&*disk, sheet);
        let spare = home.map(|home| spare_of(&*disk, sheet, home));
        let like = disk.look(&real(&*disk, sheet)).ok().flatten().filter(|l| l.kind == Kind::File);
        let head = Head {
            journal: 1,
            base: base.map(|base| base.to_string()).unwrap_or_default(),
            sheet: sheet.display().to_string(),
        };
        let writer = Writer::new(beside.clone(), head, like.as_ref());
        let sheet = real(&*disk, sheet);
        Self { disk, writer, sheet, beside, spare, blocked: false, was_there: like.is_some() }
    }

    /// Where changes are kept now.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.writer.path()
    }

    /// Adds changes. `whole` gives all there are since the sheet was saved, should they have to be written elsewhere, or
    /// together.
    ///
    /// # Errors
    /// They can be kept nowhere.
    pub fn add(&mut self, lines: &[Line], whole: &dyn Fn() -> Vec<Line>) -> Result<Added, SheetError> {
        let here = if self.has_gone() {
            Err(SheetError::Wrong(format!(
                "{}: there is no such file or folder any more; was its disk or network folder taken away?",
                self.sheet.display()
            )))
        } else if self.blocked && self.writer.path() == self.beside {
            Err(SheetError::Wrong(format!(
                "{}: this journal could not be read and is left as it is",
                self.beside.display()
            )))
        } else {
            self.writer.add(&*self.disk, lines)
        };
        let why = match here {
            Ok(begun) => {
                if self.writer.is_long() {
                    // the lines are there: that they could not be put together costs only room
                    let _ = self.writer.put_together(&*self.disk, &whole());
                }
                return Ok(Added { file: self.writer.path().to_owned(), begun, note: None });
            }
            Err(why) => why,
        };
        let Some(spare) = self.spare.clone().filter(|spare| spare != self.writer.path()) else {
            return Err(why);
        };
        let mut writer = self.writer.clone();
        writer.go_to(spare.clone());
        let made = self.disk.make_folder(folder(&spare)).is_ok();
        if !made || writer.put_together(&*self.disk, &whole()).is_err() {
            return Err(why);
        }
        self.writer = writer;
        let note = format!(
            "{why}. What you change is kept in {} instead, and comes back when the sheet is opened here again; save the \
             sheet under another name to be safe on every machine.",
            spare.display()
        );
        Ok(Added { file: spare, begun: true, note: Some(note) })
    }

    /// The sheet is not where it was, and there is another place for its journal: behind a network folder that was taken
    /// away an empty one comes up, and a journal in that would not be found again.
    fn has_gone(&self) -> bool {
        let is_beside = self.writer.path() == self.beside && self.spare.is_some();
        self.was_there && is_beside && matches!(self.disk.look(&self.sheet), Ok(None))
    }

    /// Puts all changes there are since the sheet was saved in place of what was written before.
    ///
    /// # Errors
    /// They can be kept nowhere; what was written stays.
    pub fn put_together(&mut self, lines: &[Line]) -> Result<(), SheetError> {
        if self.blocked && self.writer.path() == self.beside {
            return self.add(lines, &|| lines.to_vec()).map(|_| ());
        }
        self.writer.put_together(&*self.disk, lines)
    }

    /// The sheet is going to be saved as it is now. What comes of it is said to [`crate::sheets::save_on`].
    ///
    /// # Errors
    /// That cannot be written into the journal. The sheet can be saved all the same; should the power fail just then, the
    /// last changes may have to be made again.
    pub fn saving(&mut self) -> Result<Option<Mark>, SheetError> {
        let id = RandomState::new().build_hasher().finish();
        let places = std::iter::once(&self.beside).filter(|_| !self.blocked).chain(&self.spare);
        let there =
            |path: &&PathBuf| matches!(self.disk.look(path), Ok(Some(looked)) if looked.kind == Kind::File);
        let journals: Vec<PathBuf> = places.filter(there).cloned().collect();
        // also the one that is not written any more: what it holds is in the sheet as well
        for journal in &journals {
            let mut writer = self.writer.clone();
            writer.go_to(journal.clone());
            writer.add(&*self.disk, &[Line::Saving(id)])?;
        }
        Ok((!journals.is_empty()).then_some(Mark { journals, id }))
    }

    /// The sheet has been written, safe from a power cut: nothing of what is kept here is needed any more, and what
    /// comes next is kept beside the sheet again. What could not be taken away is told.
    pub fn saved(&mut self, base: Digest) -> Option<String> {
        let mut trouble = None;
        for path in [Some(&self.beside).filter(|_| !self.blocked), self.spare.as_ref()].into_iter().flatten()
        {
            if !matches!(self.disk.look(path), Ok(Some(_))) {
                continue;
            }
            let mut writer = self.writer.clone();
            writer.go_to(path.clone());
            // the next save syncs the folder of the sheet, and nothing else ever syncs that of the other: one that came
            // back after a later save would take that back
            let gone = writer.drop_file(&*self.disk).and_then(|()| {
                let sync = self.spare.as_ref().filter(|spare| *spare == path).map(|spare| folder(spare));
                sync.map_or(Ok(()), |folder| sync_names(&*self.disk, folder)).map_err(|source| SheetError::Io {
                    path: path.display().to_string(),
                    what: "the disk did not confirm that this journal, which is not needed any more, is gone",
                    source,
                })
            });
            trouble = trouble.or(gone.err().map(|why| format!("{why}.")));
        }
        self.writer.go_to(self.beside.clone());
        self.writer.rebase(base.to_string());
        self.was_there = matches!(self.disk.look(&self.sheet), Ok(Some(_)));
        trouble
    }

    /// Takes in what was not saved of a sheet as it was read from its file. What could not be read is kept under another
    /// name. Where nothing of the changes is missing in the sheet, nothing is told of them.
    pub fn restore(&mut self, sheet: &Sheet) -> Found {
        let disk = Arc::clone(&self.disk);
        let places: Vec<PathBuf> = std::iter::once(&self.beside).chain(&self.spare).cloned().collect();
        let (mut found, unread) = gather(&*disk, &self.sheet, &places, sheet);
        for path in &unread {
            match journal::keep_unread(&*disk, path) {
                Ok(kept) => found.notes.push(format!(
                    "{}: a part of this journal could not be read, or does not go with the sheet; what could be is \
                     back. The journal as it was is kept as {}.",
                    path.display(),
                    kept.display()
                )),
                Err(why) => {
                    self.blocked |= *path == self.beside;
                    found.notes.push(format!(
                        "{why}. It stays where it is; what you change from now on is kept elsewhere."
                    ));
                }
            }
        }
        // lines with checksums behind lines without would make those unreadable
        if let (Ok(Some(old)), false) = (journal::read(&*disk, &self.beside), self.blocked)
            && old.old
        {
            let lines: Vec<Line> = old.edits.into_iter().map(Line::Edit).collect();
            if let Err(why) = self.writer.put_together(&*disk, &lines) {
                self.blocked = true;
                found.notes.push(format!("{why}. What you change from now on is kept elsewhere."));
            }
        }
        // who wrote on in the other one goes on there
        if let Some(spare) = self.spare.clone().filter(|spare| matches!(disk.look(spare), Ok(Some(_)))) {
            self.writer.go_to(spare);
        }
        found
    }
}

/// What the journals of a sheet hold, and which of them could not be read whole. The first lies beside the sheet.
fn gather(disk: &dyn Disk, file: &Path, journals: &[PathBuf], sheet: &Sheet) -> (Found, Vec<PathBuf>) {
    let mut found = Found { sheet: sheet.clone(), ..Found::default() };
    let mut unread = Vec::new();
    for path in journals {
        let read = match journal::read(disk, path) {
            Ok(None) => continue,
            Ok(Some(read)) => read,
            Err(why) => {
                found.notes.push(format!("{why}."));
                unread.push(path.clone());
                continue;
            }
        };
        let before = found.sheet.clone();
        let now = digest(disk, file).map(|digest| digest.to_string());
        let saved = now.as_ref().and_then(|now| read.in_file(now));
        let edits = read.edits.get(saved.unwrap_or(0)..).unwrap_or_default();
        let applied = edits.iter().filter(|edit| apply(&mut found.sheet, edit).is_ok()).count();
        let refused = edits.len() - applied;
        let changed = before != found.sheet;
        let base = read.head.map(|head| head.base).filter(|base| !base.is_empty());
        if let (Some(base), Some(now), None) = (base, now, saved) {
            found.on_another |= changed && base != now;
        }
        if changed {
            // the one in the user's own folder holds all that the other has
            found.changes = applied.max(found.changes);
        }
        found.typed = read.typed.or(found.typed);
        // what a journal holds that is all in the sheet already was refused because it is done
        if read.lost > 0 || refused > 0 && changed {
            unread.push(path.clone());
        }
    }
    (found, unread)
}
