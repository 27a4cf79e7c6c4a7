//! A desk without a window: it edits, syncs, saves and comes back as the real one does, and knows what it was promised.

use std::path::Path;
use std::sync::Arc;

use knockon_core::sheet::Plan;
use knockon_core::{Edit, Sheet, apply};
use knockon_store::digest::Digest;
use knockon_store::disk::Disk;
use knockon_store::journal::Line;
use knockon_store::sheets::{self, save_on};
use knockon_store::unsaved::{Added, Record};

use crate::sim::Sim;

pub const FILE: &str = "/s/truck.json";
pub const HOME: &str = "/h";

/// What is edited, and what was promised of it.
pub struct Desk {
    pub disk: Arc<Sim>,
    pub sheet: Sheet,
    record: Record,
    known: Option<Digest>,
    since_saved: Vec<Edit>,
    unsynced: Vec<(u32, Added)>,
    /// The number of the last edit.
    pub last: u32,
    /// The last edit that was promised to outlive a power cut, and all before it.
    pub promised: u32,
    /// What was told of changes that are kept elsewhere.
    pub notes: Vec<String>,
    /// The folder of the sheet takes nothing.
    pub locked: bool,
    /// What was told since it was asked last.
    pub told: Vec<String>,
    /// Every content its file was ever to have.
    pub versions: Vec<Sheet>,
}

/// Edit number `n`: a note of its own, and the name of the sheet.
pub fn edits(n: u32) -> Vec<Edit> {
    let note = Edit::Note { position: format!("p{n}"), text: format!("note {n}") };
    if n.is_multiple_of(3) { vec![note, Edit::Rename { name: format!("n{n}") }] } else { vec![note] }
}

/// Whether a sheet has all edits up to a number: each note, and a name at least as new.
pub fn has_all(sheet: &Sheet, promised: u32) -> Result<(), String> {
    for n in 1..=promised {
        let note = sheet.notes.get(&format!("p{n}"));
        if note.map(String::as_str) != Some(&format!("note {n}")) {
            return Err(format!("edit {n} of {promised} is lost: {note:?}"));
        }
    }
    let name: u32 = sheet.name.trim_start_matches('n').parse().map_err(|_| format!("name {}", sheet.name))?;
    if name < promised / 3 * 3 { Err(format!("name {name} is older than edit {promised}")) } else { Ok(()) }
}

impl Desk {
    pub fn new() -> Self {
        let mut sheet =
            Sheet { format: 1, name: "n0".into(), vehicle: "v".into(), plan: "p".into(), ..Sheet::default() };
        sheet.plans.insert("p".into(), Plan { name: "P".into(), ..Plan::default() });
        let disk = Arc::new(Sim::default());
        let saved = save_on(&*disk, Path::new(FILE), &sheet, None, None).unwrap();
        let record = Self::record(&disk, Some(saved.digest));
        Self {
            disk,
            versions: vec![sheet.clone()],
            sheet,
            record,
            known: Some(saved.digest),
            since_saved: Vec::new(),
            unsynced: Vec::new(),
            last: 0,
            promised: 0,
            notes: Vec::new(),
            locked: false,
            told: Vec::new(),
        }
    }

    fn record(disk: &Arc<Sim>, known: Option<Digest>) -> Record {
        Record::new(Arc::clone(disk) as Arc<dyn Disk>, Path::new(FILE), Some(Path::new(HOME)), known)
    }

    pub fn edit(&mut self) {
        self.last += 1;
        let edits = edits(self.last);
        edits.iter().for_each(|edit| apply(&mut self.sheet, edit).unwrap());
        self.since_saved.extend(edits.iter().cloned());
        self.write(&edits);
    }

    fn write(&mut self, edits: &[Edit]) {
        let lines: Vec<Line> = edits.iter().cloned().map(Line::Edit).collect();
        let all = self.since_saved.clone();
        match self.record.add(&lines, &|| all.iter().cloned().map(Line::Edit).collect()) {
            Ok(added) => {
                self.notes.extend(added.note.clone());
                self.unsynced.push((self.last, added));
            }
            Err(why) => self.told.push(why.to_string()),
        }
    }

    /// As the syncing thread does it: files, then the folders of those that were begun.
    pub fn sync(&mut self) {
        let batch = std::mem::take(&mut self.unsynced);
        let mut well = true;
        for (_, added) in &batch {
            let begun = added.begun.then(|| added.file.parent().unwrap());
            let done =
                self.disk.sync(&added.file).and_then(|()| begun.map_or(Ok(()), |f| self.disk.sync_folder(f)));
            if let Err(e) = done {
                self.told.push(e.to_string());
                well = false;
            }
        }
        // what was not kept at all is told, and nothing after it is promised before a save
        if well && self.told.is_empty() {
            self.promised = batch.iter().map(|(n, _)| *n).fold(self.promised, u32::max);
        }
    }

    /// The folder of the sheet takes nothing any more, or takes everything again.
    pub fn lock(&mut self) {
        self.locked = !self.locked;
        self.disk.lock(self.locked.then_some(Path::new("/s")));
    }

    /// Saves, with an edit while the file is written where that is wanted.
    pub fn save(&mut self, meanwhile: bool) {
        if self.locked {
            match save_on(&*self.disk, Path::new(FILE), &self.sheet, self.known, None) {
                Err(why) => assert!(why.to_string().contains("does not allow it"), "{why}"),
                // there was nothing to write
                Ok(_) => assert_eq!(self.versions.last(), Some(&self.sheet)),
            }
            return;
        }
        let (written, upto) = (self.sheet.clone(), self.last);
        let mark = self.record.saving().unwrap_or_else(|why| {
            self.told.push(why.to_string());
            None
        });
        self.versions.push(written.clone());
        if meanwhile {
            self.edit();
        }
        match save_on(&*self.disk, Path::new(FILE), &written, self.known, mark.as_ref()) {
            Ok(saved) => {
                self.known = Some(saved.digest);
                self.told.extend(saved.notes.iter().cloned());
                if saved.safe {
                    self.promised = self.promised.max(upto);
                    self.since_saved = if meanwhile { edits(self.last) } else { Vec::new() };
                    self.unsynced.clear();
                    self.told.extend(self.record.saved(saved.digest));
                    let later = self.since_saved.clone();
                    if !later.is_empty() {
                        self.write(&later);
                    }
                }
            }
            Err(why) => self.told.push(why.to_string()),
        }
    }

    /// The program was killed, without a power cut, and is started again.
    pub fn come_back(&mut self) {
        let (read, _) = sheets::open_on(&*self.disk, Path::new(FILE)).unwrap();
        self.known = sheets::digest(&*self.disk, Path::new(FILE));
        self.record = Self::record(&self.disk, self.known);
        let found = self.record.restore(&read);
        has_all(&found.sheet, self.last).unwrap();
        self.since_saved = (1..=self.last).flat_map(edits).collect();
        self.sheet = found.sheet;
    }
}
