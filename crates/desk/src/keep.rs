//! Keeps the parts being typed on disk, and takes them in again.

use crate::app::App;
use crate::kept_drafts::{Typed, file};
use crate::shelf::Shelf;

impl App {
    /// Takes in what the last session left; called once.
    pub(crate) fn read_drafts(&mut self) {
        self.kept.file = self.home.as_deref().and_then(file);
        let text = self.kept.file.as_ref().and_then(|(file, _)| std::fs::read_to_string(file).ok());
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
        if self.kept.written == self.view.parts.drafts {
            return;
        }
        self.kept.written.clone_from(&self.view.parts.drafts);
        let Some((file, _)) = &self.kept.file else { return };
        let typed = self.kept.written.values().map(Typed::of);
        let all: Vec<Typed> = typed.chain(self.kept.elsewhere.iter().cloned()).collect();
        let written = if all.is_empty() {
            std::fs::remove_file(file).or_else(|e| match e.kind() {
                std::io::ErrorKind::NotFound => Ok(()),
                _ => Err(e),
            })
        } else {
            let folder = file.parent().map_or(Ok(()), std::fs::create_dir_all);
            folder
                .and_then(|()| serde_json::to_string(&all).map_err(std::io::Error::other))
                .and_then(|text| std::fs::write(file, text))
        };
        if let Err(why) = written {
            self.trouble(format!(
                "What is typed cannot be kept in {}: {why}. Save the part to be safe.",
                file.display()
            ));
        }
    }
}
