//! The open sheet: its history, its file, and what keeps its changes.

pub mod diff;
pub mod files;
pub mod half_written;
pub mod journal;
pub mod new_plan;
pub mod other_sheet;
pub mod photo_paths;
pub mod photo_steps;
pub mod reopen;
pub mod step_name;
pub mod typed;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::{Edit, EditError, Sheet, apply};
use knockon_store::claim::{Claim, Owner};
use knockon_store::digest::Digest;
use knockon_store::journal::Mark;
use knockon_store::sheets::{self, Saved, Stamp};
use serde_json::Value as Json;

use crate::document::journal::{Keeping, Wake};
use crate::wording;

/// A sheet's file as it was read or written last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OnDisk {
    /// What tells at a glance whether somebody else has written it since.
    pub stamp: Option<Stamp>,
    /// What tells for sure.
    pub digest: Option<Digest>,
}

/// The open sheet.
pub struct Document {
    sheet: Arc<Sheet>,
    saved: Arc<Sheet>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    revision: u64,
    /// Its file, once it has one.
    pub path: Option<PathBuf>,
    /// That file as it was read or written last.
    pub on_disk: OnDisk,
    keeping: Keeping,
}

/// What came back of a session before.
pub struct Back {
    /// What is told of it.
    pub text: Option<String>,
    /// What stood in fields that had not been left.
    pub typed: Option<Json>,
}

/// A step of the history. Its number has no limit, so each is kept small: as edits, wherever they lead back exactly.
struct Step {
    /// What was done, as it is told.
    name: String,
    other: Other,
}

/// The sheet on the other side of a step.
enum Other {
    /// These lead to it.
    Edits(Vec<Edit>),
    /// This.
    Whole(Arc<Sheet>),
}

impl Step {
    /// What leads from one sheet to another.
    fn new(name: String, from: &Sheet, to: &Arc<Sheet>) -> Self {
        let edits = diff::edits(from, to);
        let other = match walked(from, &edits) {
            Some(there) if there == **to => Other::Edits(edits),
            _ => Other::Whole(Arc::clone(to)),
        };
        Self { name, other }
    }

    /// The same step of a sheet that has gone to another file.
    fn moved(&mut self, from: Option<&Path>, to: &Path) {
        match &mut self.other {
            Other::Edits(edits) => {
                for edit in edits {
                    if let Edit::Photos { paths, .. } = edit {
                        paths.iter_mut().for_each(|text| *text = photo_paths::moved(text, from, to));
                    }
                }
            }
            Other::Whole(sheet) => *sheet = Arc::new(photo_paths::all_moved(sheet, from, to)),
        }
    }

    /// The sheet on the other side.
    fn taken(&self, from: &Sheet) -> Option<Arc<Sheet>> {
        match &self.other {
            Other::Edits(edits) => walked(from, edits).map(Arc::new),
            Other::Whole(sheet) => Some(Arc::clone(sheet)),
        }
    }
}

/// A sheet with all of these edits; `None` where one does not apply.
fn walked(from: &Sheet, edits: &[Edit]) -> Option<Sheet> {
    let mut next = from.clone();
    edits.iter().all(|edit| apply(&mut next, edit).is_ok()).then_some(next)
}

impl Document {
    /// A sheet from a file, or one that has none yet; `home` takes the record of the latter.
    pub fn new(
        sheet: Sheet,
        path: Option<PathBuf>,
        on_disk: OnDisk,
        home: Option<&Path>,
        revision: u64,
        wake: Wake,
    ) -> Self {
        let sheet = Arc::new(sheet);
        let keeping = Keeping::new(&sheet, path.as_deref(), on_disk.digest, home, wake);
        let (saved, undo, redo) = (Arc::clone(&sheet), Vec::new(), Vec::new());
        Self { saved, sheet, undo, redo, revision, path, on_disk, keeping }
    }

    /// What keeps other windows out of its record.
    pub fn claim(&self) -> Option<&Arc<Claim>> {
        self.keeping.claim()
    }

    /// Another window has the file of this sheet: here it can be looked at, and saved under another name.
    pub fn elsewhere(&self) -> Option<&Owner> {
        self.keeping.elsewhere()
    }

    /// What has to be told of the journal since it was asked last.
    pub fn notes(&mut self) -> Vec<String> {
        self.keeping.notes()
    }

    /// What wakes the desk.
    pub fn wake(&self) -> Wake {
        self.keeping.wake()
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
        now.is_some() && self.on_disk.stamp.is_some() && now != self.on_disk.stamp
    }

    /// The file was there, and is not any more, though its folder is: another folder may have come up in its place.
    pub fn gone_from_disk(&self) -> bool {
        let Some(path) = self.path.as_deref().filter(|_| self.on_disk.stamp.is_some()) else { return false };
        sheets::stamp(path).is_none() && path.parent().is_some_and(std::path::Path::is_dir)
    }

    /// There is something to save.
    pub fn dirty(&self) -> bool {
        !Arc::ptr_eq(&self.sheet, &self.saved) && self.sheet != self.saved
    }

    /// What was done, the oldest first, and what was taken back of it, the next to be done again first.
    pub fn history(&self) -> (Vec<&str>, Vec<&str>) {
        let done = self.undo.iter().map(|step| step.name.as_str()).collect();
        (done, self.redo.iter().rev().map(|step| step.name.as_str()).collect())
    }

    /// Applies edits as one step under a name, and keeps them.
    ///
    /// # Errors
    /// An edit cannot be applied: the sheet is unchanged.
    pub fn edit(&mut self, edits: &[Edit], name: String) -> Result<(), EditError> {
        let mut next = (*self.sheet).clone();
        for edit in edits {
            apply(&mut next, edit)?;
        }
        if next == *self.sheet {
            return Ok(());
        }
        self.take(Arc::new(next), name);
        self.keeping.edits(edits, &self.sheet);
        Ok(())
    }

    /// Keeps what stands in fields that have not been left.
    pub fn typed(&mut self, typed: &Json) {
        self.keeping.typed(typed, &self.sheet);
    }

    /// Puts another sheet in, as one step.
    fn take(&mut self, next: Arc<Sheet>, name: String) {
        self.undo.push(Step::new(name, &next, &self.sheet));
        self.redo.clear();
        self.sheet = next;
        self.revision += 1;
    }

    /// Takes the last step back.
    pub fn undo(&mut self) {
        let Some(step) = self.undo.pop() else { return };
        if let Some(before) = step.taken(&self.sheet) {
            self.redo.push(Step::new(step.name, &before, &self.sheet));
            self.go_to(before);
        }
    }

    /// Takes the last undone step again.
    pub fn redo(&mut self) {
        let Some(step) = self.redo.pop() else { return };
        if let Some(after) = step.taken(&self.sheet) {
            self.undo.push(Step::new(step.name, &after, &self.sheet));
            self.go_to(after);
        }
    }

    fn go_to(&mut self, sheet: Arc<Sheet>) {
        let edits = diff::edits(&self.sheet, &sheet);
        self.sheet = sheet;
        self.revision += 1;
        self.keeping.edits(&edits, &self.sheet);
    }

    /// Takes in what a crash or a closed window left behind, as one step that can be taken back.
    pub fn restore(&mut self) -> Option<Back> {
        let found = self.keeping.restore(&self.sheet, self.path.is_some())?;
        let changed = found.sheet != *self.sheet;
        let text = changed.then(|| {
            let what = match (self.path.as_deref(), found.changes) {
                (None, _) | (_, 0) => "What had been changed and not saved is".to_owned(),
                (_, 1) => "1 change that had not been saved is".to_owned(),
                (_, n) => format!("{} that had not been saved are", wording::count(n, "change", "changes")),
            };
            let of = self.path.as_deref().map(|path| format!(" in {}", path.display())).unwrap_or_default();
            let other = if found.on_another {
                " The file has been written by another program since: look whether they still go with it."
            } else {
                ""
            };
            format!("{what} back{of}.{other} Undo takes it off, save keeps it.")
        });
        if changed {
            self.take(Arc::new(found.sheet), "what came back".to_owned());
        }
        (text.is_some() || found.typed.is_some()).then_some(Back { text, typed: found.typed })
    }

    /// The sheet is going to be saved to a file as it is now; where in its journal.
    pub fn saving(&mut self, path: &Path) -> Option<Mark> {
        self.keeping.saving(path)
    }

    /// The sheet has been written: `written` is what is on disk now, its photos as they lie from there.
    pub fn saved(
        &mut self,
        path: PathBuf,
        written: Arc<Sheet>,
        saved: &Saved,
        claim: Option<Arc<Claim>>,
        home: Option<&Path>,
    ) {
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
        self.keeping.saved(&path, &written, saved, claim, home, &self.sheet);
        self.on_disk = OnDisk { stamp: sheets::stamp(&path), digest: Some(saved.digest) };
        self.path = Some(path);
        self.saved = written;
    }

    /// Gives its file up for other windows, or for the document that comes next.
    pub fn let_go(&mut self) {
        self.keeping.let_go();
    }

    /// Another sheet takes this one's place: changes of a sheet without a file are put into a file of their own.
    pub fn set_aside(&mut self) -> Option<PathBuf> {
        let dirty = self.dirty();
        self.keeping.set_aside(&self.sheet, dirty)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::{Document, OnDisk};
    use knockon_core::sheet::{Choice, LineState, Plan, Route};
    use knockon_core::{Edit, Sheet};

    #[test]
    fn undo_and_redo_have_no_limit_and_lead_through_the_same_sheets() {
        let mut sheet = Sheet { plan: "a".into(), ..Sheet::default() };
        sheet.plans.insert("a".into(), Plan::default());
        let mut document = Document::new(sheet, None, OnDisk::default(), None, 1, std::sync::Arc::new(|| {}));
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
            document.edit(&[edit], n.to_string()).unwrap();
            if *document.sheet() != seen[seen.len() - 1] {
                seen.push(document.sheet().clone());
            }
        }
        assert!(seen.len() > 2_000);
        for before in seen.iter().rev().skip(1) {
            document.undo();
            assert_eq!(document.sheet(), before);
        }
        assert!(document.history().0.is_empty() && !document.dirty());
        for after in seen.iter().skip(1) {
            document.redo();
            assert_eq!(document.sheet(), after);
        }
        assert!(document.history().1.is_empty());
    }
}
