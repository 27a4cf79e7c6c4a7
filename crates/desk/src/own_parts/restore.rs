//! Keeps the parts being typed on disk, and takes them in again.

use knockon_store::disk::plain;
use knockon_store::put::{own_file, read_own};

use crate::app::App;
use crate::app::work::{Done, What};
use crate::own_parts::kept::{Typed, file};
use crate::own_parts::shelf::Shelf;

impl App {
    /// Takes in what the last session left; called once.
    pub(crate) fn read_drafts(&mut self) {
        self.kept.file = self.home.as_deref().and_then(file);
        let text = self.kept.file.as_ref().and_then(|(file, _)| read_own(file));
        self.kept.elsewhere = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        self.place_drafts();
    }

    /// Gives what was kept its place, where the vehicle that is open has one.
    pub(crate) fn place_drafts(&mut self) {
        let shelf = Shelf::new(self.catalogue(), self.document.sheet());
        let (mut placed, mut elsewhere) = (Vec::new(), Vec::new());
        for typed in &self.kept.elsewhere {
            match typed.draft(&shelf) {
                Some(pair) => placed.push(pair),
                None => elsewhere.push(typed.clone()),
            }
        }
        for (target, draft) in placed {
            self.view.parts.drafts.entry(target).or_insert(draft);
        }
        self.kept.elsewhere = elsewhere;
    }

    /// Writes what is being typed, where that has changed.
    pub(crate) fn keep_drafts(&mut self) {
        // what is typed while they are written is written next
        if self.kept.written == self.view.parts.drafts || self.kept.writing {
            return;
        }
        self.kept.written.clone_from(&self.view.parts.drafts);
        let Some((file, _)) = &self.kept.file else { return };
        let typed = self.kept.written.values().map(Typed::of);
        let all: Vec<Typed> = typed.chain(self.kept.elsewhere.iter().cloned()).collect();
        let file = file.clone();
        let text = if all.is_empty() { None } else { serde_json::to_string(&all).ok() };
        self.kept.writing = true;
        self.work.file(What::Shown, move || {
            let done = match text {
                Some(text) => own_file(&file, &text),
                None => match std::fs::remove_file(&file) {
                    Err(e) if e.kind() != std::io::ErrorKind::NotFound => {
                        Err(format!("{}: cannot be taken away: {}", file.display(), plain(&e)))
                    }
                    _ => Ok(()),
                },
            };
            Done::Kept(done.err())
        });
    }
}
