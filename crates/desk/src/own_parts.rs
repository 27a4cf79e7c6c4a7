//! Begins, saves and takes out the user's own parts.

pub mod draft;
pub mod field;
pub mod form;
pub mod kept;
pub mod page;
pub mod restore;
pub mod shelf;
pub mod state;

use knockon_core::Edit;
use knockon_core::catalogue::Brought;
use knockon_core::library::Written;

use crate::app::App;
use crate::app::view::{Action, Page, Spot};
use crate::own_parts::draft::Draft;
use crate::own_parts::page::currency;
use crate::own_parts::shelf::Shelf;
use crate::own_parts::state::{Step, Target};
use crate::wording;

impl App {
    /// Does what the page of the user's own parts asks for.
    pub(crate) fn own_parts(&mut self, ctx: &egui::Context, step: Step) {
        match step {
            Step::Form(target) => self.form(target),
            Step::Save => self.save_part(ctx),
            Step::Drop => {
                if let Some(at) = self.view.parts.at.take() {
                    self.view.parts.drafts.remove(&at);
                }
            }
            Step::Remove(id) => self.remove_part(&id),
        }
    }

    fn form(&mut self, target: Target) {
        if !self.view.parts.drafts.contains_key(&target) {
            let sheet = self.document.sheet();
            let shelf = Shelf::new(self.catalogue(), sheet);
            let draft = match &target {
                Target::Place(id) => {
                    let here = self.assessment.positions.iter().find(|p| p.id == *id);
                    let found = here.and_then(|p| p.as_found.as_ref()).map(|(part, _)| part.as_str());
                    Draft::new(&shelf, id, found)
                }
                Target::Part(id) => Draft::of(&shelf, id),
            };
            let Some(draft) = draft else {
                self.trouble("This sheet's vehicle has no place for that part.".to_owned());
                return;
            };
            self.view.parts.drafts.insert(target.clone(), draft);
        }
        self.view.parts.at = Some(target);
        self.view.parts.fresh = true;
        self.view.page = Page::Parts;
    }

    fn save_part(&mut self, ctx: &egui::Context) {
        let Some(at) = self.view.parts.at.clone() else { return };
        let Some(draft) = self.view.parts.drafts.get(&at) else { return };
        let position = draft.position.clone();
        let shelf = Shelf::new(self.catalogue(), self.document.sheet());
        let Some((id, part)) = draft.build(&shelf, currency(&self.assessment)) else { return };
        // the whole of it once more, as the library reads it
        let parts = std::iter::once((id.clone(), Written::whole(part.clone()))).collect();
        let own = Brought { parts, ..Brought::of(self.document.sheet()) };
        let here = format!("parts.{id}");
        let fault = self
            .catalogue()
            .with_brought(&own)
            .1
            .into_iter()
            .find(|f| !f.warning && f.path.starts_with(&here));
        if let Some(fault) = fault {
            self.trouble(format!("The part is not saved: {}.", fault.message));
            return;
        }
        let name = part.name.clone();
        let place = wording::place(&self.assessment, &position).to_owned();
        self.edit(&[Edit::PutPart { id, part: Some(Box::new(Written::whole(part))) }]);
        self.view.parts.drafts.remove(&at);
        self.view.parts.at = None;
        self.perform(ctx, Action::Select(Some(Spot::Position(position))));
        self.tell(format!("{name} is in the sheet, among the routes of: {place}."));
    }

    fn remove_part(&mut self, id: &str) {
        let sheet = self.document.sheet();
        let mut edits = Vec::new();
        for (plan, content) in &sheet.plans {
            let uses = content.routes.iter().filter(|(_, c)| c.part.as_deref() == Some(id));
            edits.extend(uses.map(|(position, _)| Edit::Choose {
                plan: plan.clone(),
                position: position.clone(),
                choice: None,
            }));
            let picks = content.picks.iter().filter(|(_, part)| *part == id);
            edits.extend(picks.map(|(key, _)| Edit::Pick {
                plan: plan.clone(),
                key: key.clone(),
                part: None,
            }));
        }
        let used = edits.len();
        edits.push(Edit::PutPart { id: id.to_owned(), part: None });
        let parts = self.catalogue().parts_of(sheet);
        let name = parts.get(id).map_or_else(|| id.to_owned(), |p| p.name.clone());
        self.edit(&edits);
        let target = Target::Part(id.to_owned());
        self.view.parts.drafts.remove(&target);
        if self.view.parts.at.as_ref() == Some(&target) {
            self.view.parts.at = None;
        }
        let plans = if used > 0 { " The choices that used it go back to keep." } else { "" };
        self.tell(format!("{name} is out of the sheet.{plans} Undo brings it back."));
    }
}
