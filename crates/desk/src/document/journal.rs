//! Where changes and half-typed text are kept until the sheet is saved, and how they come back.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use knockon_core::{Edit, Sheet};
use knockon_store::claim::{self, Claim, Owner};
use knockon_store::digest::Digest;
use knockon_store::disk::{Disk, Machine};
use knockon_store::journal::{Line, Mark, keep_unread};
use knockon_store::sheets;
use knockon_store::syncing::Syncing;
use knockon_store::unsaved::{Found, Record, journal_of};
use serde_json::Value as Json;

use crate::document::diff;

/// Wakes the desk when there is something to tell.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// What is kept of one sheet.
pub struct Keeping {
    place: Place,
    /// The sheet as it is in the file the journal goes with.
    base: Arc<Sheet>,
    /// What stands in fields that have not been left, as it was written last.
    typed: Json,
    /// The journal is this window's alone.
    claim: Option<Arc<Claim>>,
    /// Who else has the file.
    elsewhere: Option<Box<Owner>>,
    syncing: Syncing,
    wake: Wake,
    /// What is to be told.
    notes: Vec<String>,
    /// What has been told: a disk that is full is so at every key.
    told: BTreeSet<String>,
}

enum Place {
    /// Beside the sheet's file.
    Beside(Record),
    /// A sheet without a file has one in the user's own folder, once something is changed.
    Own(PathBuf, Record),
    /// There is no folder to write to.
    Nowhere,
}

fn machine() -> Arc<dyn Disk> {
    Arc::new(Machine)
}

impl Keeping {
    /// Of a sheet as it was read from its file, which had this digest; or of one that has none.
    pub fn new(
        sheet: &Arc<Sheet>,
        path: Option<&Path>,
        known: Option<Digest>,
        home: Option<&Path>,
        wake: Wake,
    ) -> Self {
        let call = Arc::clone(&wake);
        let mut out = Self {
            place: Place::Nowhere,
            base: Arc::clone(sheet),
            typed: Json::Null,
            claim: None,
            elsewhere: None,
            syncing: Syncing::new(machine(), move || call()),
            wake,
            notes: Vec::new(),
            told: BTreeSet::new(),
        };
        match path.map(|path| (path, Claim::on(path, home))) {
            Some((path, Ok(claim))) => {
                out.notes.extend(claim.note.as_ref().map(|note| format!("{note}.")));
                out.claim = Some(Arc::new(claim));
                out.place = Place::Beside(Record::new(machine(), path, home, known));
                return out;
            }
            Some((_, Err(owner))) => out.elsewhere = Some(owner),
            None => {}
        }
        // what is changed here is kept as of a sheet without a file
        if let Some((file, claim)) = home.and_then(|home| claim::first(home, "unsaved", false)) {
            out.own(file, claim);
        }
        out
    }

    fn own(&mut self, file: PathBuf, claim: Claim) {
        let record = Record::new(machine(), &file, None, sheets::digest(&Machine, &file));
        (self.place, self.claim) = (Place::Own(file, record), Some(Arc::new(claim)));
    }

    /// What keeps other windows out.
    pub fn claim(&self) -> Option<&Arc<Claim>> {
        self.claim.as_ref()
    }

    /// Who else has the file.
    pub fn elsewhere(&self) -> Option<&Owner> {
        self.elsewhere.as_deref()
    }

    /// What has to be told since it was asked last.
    pub fn notes(&mut self) -> Vec<String> {
        self.notes.extend(self.syncing.trouble());
        let new = std::mem::take(&mut self.notes).into_iter();
        new.filter(|note| self.told.insert(note.clone())).collect()
    }

    /// Keeps changes that lead to this sheet.
    pub fn edits(&mut self, edits: &[Edit], sheet: &Sheet) {
        let lines: Vec<Line> = edits.iter().cloned().map(Line::Edit).collect();
        if !lines.is_empty() {
            self.add(&lines, sheet);
        }
    }

    /// Keeps what stands in fields that have not been left, where that has changed.
    pub fn typed(&mut self, typed: &Json, sheet: &Sheet) {
        if *typed != self.typed {
            self.typed = typed.clone();
            self.add(&[Line::Typed(typed.clone())], sheet);
        }
    }

    fn add(&mut self, lines: &[Line], sheet: &Sheet) {
        let whole = {
            let (base, typed) = (Arc::clone(&self.base), self.typed.clone());
            move || whole(&base, sheet, &typed)
        };
        let added = match &mut self.place {
            Place::Nowhere => return,
            Place::Beside(record) => record.add(lines, &whole),
            Place::Own(file, record) => {
                if !file.exists()
                    && let Err(why) = sheets::save(file, &self.base)
                {
                    Err(why)
                } else {
                    record.add(lines, &whole)
                }
            }
        };
        match added {
            Ok(added) => {
                self.notes.extend(added.note.clone());
                self.syncing.soon(added);
            }
            Err(why) => self.notes.push(format!(
                "{why}. What you change is kept nowhere until you save the sheet: save it now, under another name if need \
                 be."
            )),
        }
    }

    /// Takes in what a crash or a closed window left behind of this sheet; with it the sheet that was kept in a file of
    /// the program's own, where there is one.
    pub fn restore(&mut self, sheet: &Arc<Sheet>, has_file: bool) -> Option<Found> {
        // of windows without a file there may have been several
        if let Place::Own(file, _) = &self.place
            && !has_file
            && let Some(home) = file.parent()
            && let Some((left, claim)) = claim::first(home, "unsaved", true)
        {
            self.own(left, claim);
        }
        let mut found = match &mut self.place {
            Place::Nowhere => return None,
            Place::Beside(record) => record.restore(sheet),
            Place::Own(file, _) if !file.exists() => return None,
            Place::Own(file, record) => match sheets::open(file) {
                Ok(kept) => {
                    self.base = Arc::new(kept);
                    record.restore(&self.base)
                }
                Err(why) => {
                    let kept = keep_unread(&Machine, file).ok().filter(|_| Machine.remove(file).is_ok());
                    let where_to = kept.map_or_else(
                        || "stays where it is".to_owned(),
                        |kept| format!("is kept as {}", kept.display()),
                    );
                    self.notes.push(format!(
                        "{why}. It holds what was not saved of a sheet without a file; it {where_to}."
                    ));
                    if file.exists() {
                        self.place = Place::Nowhere;
                    }
                    return None;
                }
            },
        };
        self.notes.append(&mut found.notes);
        self.typed = found.typed.clone().unwrap_or_default();
        Some(found)
    }

    /// The sheet is going to be saved as it is now; where in the journal.
    pub fn saving(&mut self, path: &Path) -> Option<Mark> {
        let Place::Beside(record) = &mut self.place else { return None };
        if !self.claim.as_ref().is_some_and(|claim| claim.is_on(path)) {
            return None;
        }
        match record.saving() {
            Ok(mark) => mark,
            Err(why) => {
                self.notes.push(format!(
                    "{why}; should the power fail right now, look through the sheet afterwards."
                ));
                None
            }
        }
    }

    /// The sheet has been written to a file, as `written`; what has been changed since is kept anew. `claim`: on that
    /// file, where it is another than before.
    pub fn saved(
        &mut self,
        path: &Path,
        written: &Arc<Sheet>,
        saved: &sheets::Saved,
        claim: Option<Arc<Claim>>,
        home: Option<&Path>,
        sheet: &Sheet,
    ) {
        let same = claim.is_none() && matches!(self.place, Place::Beside(_));
        if !saved.safe && same {
            // what it was made from may come back with a power cut: the journal stays
            return;
        }
        if same {
            if let Place::Beside(record) = &mut self.place {
                self.notes.extend(record.saved(saved.digest));
            }
        } else {
            if saved.safe {
                self.drop_record();
            }
            self.stranger(path);
            self.place = Place::Beside(Record::new(machine(), path, home, Some(saved.digest)));
            (self.claim, self.elsewhere) = (claim.or(self.claim.take()), None);
        }
        self.base = Arc::clone(written);
        let later = diff::edits(written, sheet);
        self.edits(&later, sheet);
        if !self.typed.is_null() {
            self.add(&[Line::Typed(self.typed.clone())], sheet);
        }
    }

    /// A journal that lies beside a file which is replaced by another sheet is somebody's work: it is kept.
    fn stranger(&mut self, path: &Path) {
        let journal = journal_of(&Machine, path);
        if matches!(Machine.look(&journal), Ok(Some(_)))
            && let Ok(kept) = keep_unread(&Machine, &journal)
            && Machine.remove(&journal).is_ok()
        {
            self.notes.push(format!(
                "{}: the file that was there had changes that were never saved; they are kept as {}.",
                path.display(),
                kept.display()
            ));
        }
    }

    /// Another sheet takes this one's place: changes of a sheet without a file are put into a file of their own.
    pub fn set_aside(&mut self, sheet: &Sheet, changed: bool) -> Option<PathBuf> {
        let Place::Own(file, _) = &self.place else { return None };
        if !changed {
            self.drop_record();
            return None;
        }
        let free =
            (1..1000).map(|n| file.with_file_name(format!("unsaved-{n}.json"))).find(|p| !p.exists())?;
        sheets::save(&free, sheet).ok()?;
        self.drop_record();
        Some(free)
    }

    /// Takes away what is kept: nothing of it is wanted any more.
    pub fn drop_record(&mut self) {
        match &mut self.place {
            Place::Nowhere => {}
            Place::Beside(record) => self.notes.extend(record.saved(Digest::of(b""))),
            Place::Own(file, record) => {
                self.notes.extend(record.saved(Digest::of(b"")));
                if file.exists()
                    && let Err(e) = std::fs::remove_file(&file)
                {
                    let why = knockon_store::disk::plain(&e);
                    self.notes
                        .push(format!("{}: cannot be taken away: {why}; delete it by hand.", file.display()));
                }
            }
        }
    }

    /// Gives the file up for other windows, or for the document that comes next.
    pub fn let_go(&mut self) {
        (self.place, self.claim) = (Place::Nowhere, None);
    }

    /// What wakes the desk.
    pub fn wake(&self) -> Wake {
        Arc::clone(&self.wake)
    }
}

/// All there is to keep of a sheet since it was as in its file.
fn whole(base: &Sheet, sheet: &Sheet, typed: &Json) -> Vec<Line> {
    let mut lines: Vec<Line> = diff::edits(base, sheet).into_iter().map(Line::Edit).collect();
    if !typed.is_null() {
        lines.push(Line::Typed(typed.clone()));
    }
    lines
}
