//! The open sheet: its history, its file and its journal.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::{Edit, EditError, Sheet, apply};
use knockon_store::sheets::{self, Stamp};

use crate::claim::{self, Claim};
use crate::{diff, photo_paths, words};

/// The open sheet.
pub struct Document {
    sheet: Arc<Sheet>,
    saved: Arc<Sheet>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    revision: u64,
    /// Its file, once it has one.
    pub path: Option<PathBuf>,
    /// What tells whether somebody else has written the file since.
    pub stamp: Option<Stamp>,
    record: Record,
    /// The record is this window's alone.
    claim: Option<Arc<Claim>>,
    /// Another window has the file.
    elsewhere: bool,
}

/// A step of the history. Its number has no limit, so each is kept small: as edits, wherever they lead back exactly.
enum Step {
    /// Lead to the sheet on the other side of the step.
    Edits(Vec<Edit>),
    /// That sheet.
    Whole(Arc<Sheet>),
}

impl Step {
    /// What leads from one sheet to another.
    fn new(from: &Sheet, to: &Arc<Sheet>) -> Self {
        let edits = diff::edits(from, to);
        match walked(from, &edits) {
            Some(there) if there == **to => Self::Edits(edits),
            _ => Self::Whole(Arc::clone(to)),
        }
    }

    /// The same step of a sheet that has gone to another file.
    fn moved(&mut self, from: Option<&Path>, to: &Path) {
        match self {
            Self::Edits(edits) => {
                for edit in edits {
                    if let Edit::Photos { paths, .. } = edit {
                        paths.iter_mut().for_each(|text| *text = photo_paths::moved(text, from, to));
                    }
                }
            }
            Self::Whole(sheet) => *sheet = Arc::new(photo_paths::all_moved(sheet, from, to)),
        }
    }

    /// The sheet on the other side.
    fn taken(&self, from: &Sheet) -> Option<Arc<Sheet>> {
        match self {
            Self::Edits(edits) => walked(from, edits).map(Arc::new),
            Self::Whole(sheet) => Some(Arc::clone(sheet)),
        }
    }
}

/// A sheet with all of these edits; `None` where one does not apply.
fn walked(from: &Sheet, edits: &[Edit]) -> Option<Sheet> {
    let mut next = from.clone();
    edits.iter().all(|edit| apply(&mut next, edit).is_ok()).then_some(next)
}

/// Where edits are recorded until the sheet is saved.
enum Record {
    /// Edit by edit beside the sheet's file.
    Journal(PathBuf),
    /// A sheet that has no file yet: the whole of it.
    Whole(PathBuf),
    /// Nowhere: there is no folder to write to.
    Nowhere,
}

impl Document {
    /// A sheet from a file, or one that has none yet; `home` takes the record of the latter.
    pub fn new(sheet: Sheet, path: Option<PathBuf>, home: Option<&Path>, revision: u64) -> Self {
        let sheet = Arc::new(sheet);
        let claim = path.as_deref().and_then(|path| Claim::on(&beside(path), home));
        let elsewhere = path.is_some() && claim.is_none();
        let (record, claim) = match (path.as_deref(), home) {
            (Some(path), _) if !elsewhere => (Record::Journal(beside(path)), claim.map(Arc::new)),
            // what is changed here is kept as of a sheet without a file
            (_, Some(home)) => match claim::first(home, "unsaved", false) {
                Some((file, claim)) => (Record::Whole(file), Some(Arc::new(claim))),
                None => (Record::Nowhere, None),
            },
            (_, None) => (Record::Nowhere, None),
        };
        let stamp = None;
        let (saved, undo, redo) = (Arc::clone(&sheet), Vec::new(), Vec::new());
        Self { saved, sheet, undo, redo, revision, path, stamp, record, claim, elsewhere }
    }

    /// What keeps other windows out of its record.
    pub fn claim(&self) -> Option<&Arc<Claim>> {
        self.claim.as_ref()
    }

    /// Another window has the file of this sheet: here it can be looked at, and saved under another name.
    pub fn elsewhere(&self) -> bool {
        self.elsewhere
    }

    /// The sheet as it stands.
    pub fn sheet(&self) -> &Arc<Sheet> {
        &self.sheet
    }

    /// Grows with every change of the sheet.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// What rests on this revision is worked out again, though the sheet is the same.
    pub fn look_again(&mut self) {
        self.revision += 1;
    }

    /// Somebody else has written the file since it was read or written here.
    pub fn changed_on_disk(&self) -> bool {
        let now = self.path.as_deref().and_then(sheets::stamp);
        // a file that is gone is no work of anybody's that could be lost
        now.is_some() && self.stamp.is_some() && now != self.stamp
    }

    /// There is something to save.
    pub fn dirty(&self) -> bool {
        !Arc::ptr_eq(&self.sheet, &self.saved) && self.sheet != self.saved
    }

    /// A step can be taken back.
    pub fn can_undo(&self) -> bool {
        !self.undo.is_empty()
    }

    /// A step can be taken again.
    pub fn can_redo(&self) -> bool {
        !self.redo.is_empty()
    }

    /// Applies edits as one step. What went wrong with the journal is told, but does not stop the edit.
    ///
    /// # Errors
    /// An edit cannot be applied: the sheet is unchanged.
    pub fn edit(&mut self, edits: &[Edit]) -> Result<Option<String>, EditError> {
        let mut next = (*self.sheet).clone();
        for edit in edits {
            apply(&mut next, edit)?;
        }
        if next == *self.sheet {
            return Ok(None);
        }
        self.take(Arc::new(next));
        Ok(self.write_journal(edits))
    }

    /// Puts another sheet in, as one step.
    fn take(&mut self, next: Arc<Sheet>) {
        self.undo.push(Step::new(&next, &self.sheet));
        self.redo.clear();
        self.sheet = next;
        self.revision += 1;
    }

    /// Takes the last step back; tells trouble with the journal.
    pub fn undo(&mut self) -> Option<String> {
        let before = self.undo.pop()?.taken(&self.sheet)?;
        self.redo.push(Step::new(&before, &self.sheet));
        self.go_to(before)
    }

    /// Takes the last undone step again; tells trouble with the journal.
    pub fn redo(&mut self) -> Option<String> {
        let after = self.redo.pop()?.taken(&self.sheet)?;
        self.undo.push(Step::new(&after, &self.sheet));
        self.go_to(after)
    }

    fn go_to(&mut self, sheet: Arc<Sheet>) -> Option<String> {
        let edits = diff::edits(&self.sheet, &sheet);
        self.sheet = sheet;
        self.revision += 1;
        self.write_journal(&edits)
    }

    fn write_journal(&self, edits: &[Edit]) -> Option<String> {
        match &self.record {
            Record::Nowhere => None,
            Record::Journal(journal) => edits
                .iter()
                .find_map(|edit| sheets::journal_append(journal, edit).err().map(|e| e.to_string())),
            Record::Whole(file) => {
                let folder = file.parent().map_or(Ok(()), std::fs::create_dir_all);
                // not the careful way of saving: this runs with every edit and only bridges a crash
                let next = file.with_extension("next");
                folder
                    .and_then(|()| serde_json::to_string(&*self.sheet).map_err(std::io::Error::other))
                    .and_then(|text| std::fs::write(&next, text))
                    .and_then(|()| std::fs::rename(&next, file))
                    .err()
                    .map(|why| {
                        format!(
                            "Changes cannot be kept in {}: {why}. Save the sheet to be safe.",
                            file.display()
                        )
                    })
            }
        }
    }

    /// Takes in what a crash or a closed window left behind, as one step that can be taken back.
    pub fn restore(&mut self) -> Option<String> {
        // of windows without a file there may have been several
        if let Record::Whole(file) = &self.record
            && self.path.is_none()
            && let Some(home) = file.parent()
            && let Some((left, claim)) = claim::first(home, "unsaved", true)
        {
            (self.record, self.claim) = (Record::Whole(left), Some(Arc::new(claim)));
        }
        let (next, what) = match &self.record {
            Record::Journal(journal) if journal.exists() => {
                let edits = match sheets::journal_read(journal) {
                    Ok(edits) => edits,
                    Err(why) => return Some(why.to_string()),
                };
                let mut next = (*self.sheet).clone();
                let n = edits.iter().filter(|edit| apply(&mut next, edit).is_ok()).count();
                (next, words::count(n, "change", "changes"))
            }
            Record::Whole(file) if file.exists() => (sheets::open(file).ok()?, "The changes".to_owned()),
            _ => return None,
        };
        if next == *self.sheet {
            return None;
        }
        self.take(Arc::new(next));
        Some(format!(
            "{what} of the last session had not been saved and are back. Undo takes them off, save keeps them."
        ))
    }

    /// The sheet has been written: `written` is what is on disk now, its photos as they lie from there.
    pub fn saved(&mut self, path: PathBuf, written: Arc<Sheet>, claim: Option<Arc<Claim>>) {
        self.drop_record();
        (self.claim, self.elsewhere) = (claim.or(self.claim.take()), false);
        if self.path.as_ref() != Some(&path) {
            let from = self.path.clone();
            let here = photo_paths::all_moved(&self.sheet, from.as_deref(), &path);
            if here != *self.sheet {
                self.sheet = Arc::new(here);
                self.revision += 1;
            }
            for step in self.undo.iter_mut().chain(&mut self.redo) {
                step.moved(from.as_deref(), &path);
            }
        }
        self.record = Record::Journal(beside(&path));
        self.drop_record();
        self.path = Some(path);
        // what was changed while the file was written
        let later = diff::edits(&written, &self.sheet);
        let _ = self.write_journal(&later);
        self.saved = written;
    }

    /// Gives its file up for other windows, or for the document that comes next.
    pub fn let_go(&mut self) {
        (self.record, self.claim) = (Record::Nowhere, None);
    }

    /// Another sheet takes this one's place: changes of a sheet without a file are put into a file of their own.
    pub fn set_aside(&self) -> Option<PathBuf> {
        let Record::Whole(file) = &self.record else { return None };
        if !self.dirty() {
            self.drop_record();
            return None;
        }
        let free =
            (1..1000).map(|n| file.with_file_name(format!("unsaved-{n}.json"))).find(|p| !p.exists())?;
        std::fs::rename(file, &free).ok().map(|()| free)
    }

    fn drop_record(&self) {
        if let Record::Journal(file) | Record::Whole(file) = &self.record {
            let _ = std::fs::remove_file(file);
        }
    }
}

/// The journal beside a sheet.
pub fn beside(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".journal");
    PathBuf::from(name)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::Document;
    use knockon_core::sheet::{Choice, LineState, Plan, Route};
    use knockon_core::{Edit, Sheet};

    #[test]
    fn undo_and_redo_have_no_limit_and_lead_through_the_same_sheets() {
        let mut sheet = Sheet { plan: "a".into(), ..Sheet::default() };
        sheet.plans.insert("a".into(), Plan::default());
        let mut document = Document::new(sheet, None, None, 1);
        let mut seen = vec![document.sheet().clone()];
        for n in 0..3_000_u32 {
            let edit = match n % 4 {
                0 => Edit::Note { position: format!("p{}", n % 7), text: format!("note {n}") },
                1 => Edit::SetLine {
                    part: format!("x{}", n % 5),
                    state: LineState::ALL[(n as usize / 4) % LineState::ALL.len()],
                },
                2 => Edit::Choose {
                    plan: "a".into(),
                    position: format!("p{}", n % 9),
                    choice: (n % 3 != 0).then(|| Choice { route: Route::Convert, part: Some(n.to_string()) }),
                },
                _ => Edit::Rename { name: n.to_string() },
            };
            document.edit(&[edit]).unwrap();
            if *document.sheet() != seen[seen.len() - 1] {
                seen.push(document.sheet().clone());
            }
        }
        assert!(seen.len() > 2_000);
        for before in seen.iter().rev().skip(1) {
            assert_eq!(document.undo(), None);
            assert_eq!(document.sheet(), before);
        }
        assert!(!document.can_undo() && !document.dirty());
        for after in seen.iter().skip(1) {
            document.redo();
            assert_eq!(document.sheet(), after);
        }
        assert!(!document.can_redo());
    }
}
