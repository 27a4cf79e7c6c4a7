//! Fields that have not been left yet: what stands in them is taken in before a command, after a pause and at the end.

use egui::Context;
use knockon_core::Edit;
use knockon_core::sheet::Finding;

use crate::app::App;
use crate::panel::made;
use crate::panel::measuring;

/// A note is taken in when nothing was typed for so long, in seconds.
const PAUSE: f64 = 1.5;

impl App {
    /// Takes in whatever has been typed into the sheet's own fields.
    pub(crate) fn take_typed(&mut self) {
        self.take_note();
        self.take_finding();
        self.take_made();
        self.take_measured();
        self.take_budget();
        self.take_identity();
        self.take_for_sale();
        self.take_worth();
        self.take_vehicle();
        if let Some((part, supplier)) = self.view.buying.draft.take() {
            self.edit(&[Edit::SetSupplier { part, supplier }]);
        }
        if let Some((part, text)) = self.view.buying.paid.take() {
            let line = self.assessment.buy.iter().find(|l| l.part == part);
            let currency = line.and_then(|l| l.price.as_ref()).map(|m| m.currency.clone());
            self.paid(part, &text, currency);
        }
    }

    /// Takes in a note that is being written once its writer pauses; the field keeps the keyboard.
    pub(crate) fn note_pause(&mut self, ctx: &Context) {
        let Some((position, text)) = &self.view.note else {
            self.pause = None;
            return;
        };
        let now = ctx.input(|i| i.time);
        let same = self.pause.as_ref().filter(|(p, was, _)| p == position && was == text);
        let since = same.map_or(now, |(_, _, since)| *since);
        if same.is_none() {
            self.pause = Some((position.clone(), text.clone(), now));
        }
        let left = PAUSE - (now - since);
        if left <= 0.0 {
            self.take_note();
        } else {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(left + 0.05));
        }
    }

    fn take_finding(&mut self) {
        let Some((position, note)) = self.view.survey.take() else { return };
        let now = self.document.sheet().survey.get(&position);
        if let Some(finding) = now.filter(|f| f.note != note).map(|f| Finding { note, ..f.clone() }) {
            self.edit(&[Edit::Survey { position, finding: Some(finding) }]);
        }
    }

    /// A date that is none stays in its field.
    fn take_made(&mut self) {
        let Some((position, text)) = self.view.made.clone() else { return };
        if let Ok(made) = made::read(&text) {
            self.view.made = None;
            if self.document.sheet().made.get(&position) != made.as_ref() {
                self.edit(&[Edit::Made { position, made }]);
            }
        }
    }

    /// What cannot be read stays in its field.
    fn take_measured(&mut self) {
        let read = measuring::read(&self.assessment, &self.view.measuring);
        for (key, edit) in read {
            self.view.measuring.remove(&key);
            self.edit(&[edit]);
        }
    }

    fn take_note(&mut self) {
        let Some((position, text)) = self.view.note.clone() else { return };
        let stored = self.document.sheet().notes.get(&position).map_or("", String::as_str);
        if text != stored {
            self.edit(&[Edit::Note { position, text }]);
        }
    }
}
