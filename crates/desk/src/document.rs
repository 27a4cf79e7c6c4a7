//! The open sheet: its history, its file and its journal.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::{Edit, EditError, Sheet, apply};
use knockon_store::sheets;

use crate::diff;

/// How many steps can be taken back.
const STEPS: usize = 500;

/// The open sheet.
pub struct Document {
    sheet: Arc<Sheet>,
    saved: Arc<Sheet>,
    undo: Vec<Arc<Sheet>>,
    redo: Vec<Arc<Sheet>>,
    revision: u64,
    /// Its file, once it has one.
    pub path: Option<PathBuf>,
    record: Record,
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
        let record = match (path.as_deref(), home) {
            (Some(path), _) => Record::Journal(beside(path)),
            (None, Some(home)) => Record::Whole(home.join("unsaved.json")),
            (None, None) => Record::Nowhere,
        };
        Self { saved: Arc::clone(&sheet), sheet, undo: Vec::new(), redo: Vec::new(), revision, path, record }
    }

    /// The sheet as it stands.
    pub fn sheet(&self) -> &Arc<Sheet> {
        &self.sheet
    }

    /// Grows with every change of the sheet.
    pub fn revision(&self) -> u64 {
        self.revision
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
        self.undo.push(Arc::clone(&self.sheet));
        if self.undo.len() > STEPS {
            self.undo.remove(0);
        }
        self.redo.clear();
        self.sheet = Arc::new(next);
        self.revision += 1;
        Ok(self.write_journal(edits))
    }

    /// Takes the last step back; says whether there was one, and trouble with the journal.
    pub fn undo(&mut self) -> Option<String> {
        let before = self.undo.pop()?;
        self.redo.push(Arc::clone(&self.sheet));
        self.go_to(before)
    }

    /// Takes the last undone step again.
    pub fn redo(&mut self) -> Option<String> {
        let after = self.redo.pop()?;
        self.undo.push(Arc::clone(&self.sheet));
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
        let (next, what) = match &self.record {
            Record::Journal(journal) if journal.exists() => {
                let edits = match sheets::journal_read(journal) {
                    Ok(edits) => edits,
                    Err(why) => return Some(why.to_string()),
                };
                let mut next = (*self.sheet).clone();
                let n = edits.iter().filter(|edit| apply(&mut next, edit).is_ok()).count();
                (next, if n == 1 { "1 change".to_owned() } else { format!("{n} changes") })
            }
            Record::Whole(file) if file.exists() => (sheets::open(file).ok()?, "The changes".to_owned()),
            _ => return None,
        };
        if next == *self.sheet {
            return None;
        }
        self.undo.push(Arc::clone(&self.sheet));
        self.sheet = Arc::new(next);
        self.revision += 1;
        Some(format!(
            "{what} of the last session had not been saved and are back. Undo takes them off, save keeps them."
        ))
    }

    /// The sheet has been written: `written` is what is on disk now.
    pub fn saved(&mut self, path: PathBuf, written: Arc<Sheet>) {
        self.drop_record();
        self.record = Record::Journal(beside(&path));
        self.drop_record();
        self.path = Some(path);
        // what was changed while the file was written
        let later = diff::edits(&written, &self.sheet);
        let _ = self.write_journal(&later);
        self.saved = written;
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
