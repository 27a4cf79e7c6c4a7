//! Another sheet takes the place of the one that is open.

use std::path::PathBuf;

use knockon_core::Sheet;

use crate::app::App;
use crate::app::view::Page;
use crate::dialogs::open::Dialog;
use crate::document::{Document, OnDisk};
use crate::fitup::FitUp;
use crate::jobs::state::JobsState;
use crate::money::state::MoneyState;
use crate::plans::state::PlansState;
use crate::survey::state::WalkState;
use crate::vehicle::state::VehicleState;

impl App {
    /// Puts another sheet on the desk.
    pub(crate) fn put(&mut self, sheet: Sheet, path: Option<PathBuf>, on_disk: OnDisk) {
        // what stands in a field belongs to the sheet that was open
        self.take_typed();
        self.keep_typed();
        let revision = self.document.revision() + 1;
        if let Some(aside) = self.document.set_aside() {
            self.tell(format!(
                "The sheet before had changes and no file; it is in {} and among the recent files.",
                aside.display()
            ));
            self.config.remember(&aside);
            self.config.store(self.home.as_deref());
        }
        if let Some(path) = &path {
            self.config.remember(path);
            self.config.store(self.home.as_deref());
        }
        if self.document.path.is_some() {
            // its journal has them, and they come back with it
            self.view.fitup = FitUp::with(self.view.fitup.card, Vec::new());
        }
        // the same file may be opened again
        self.document.let_go();
        let wake = self.document.wake();
        self.document = Document::new(sheet, path, on_disk, self.home.as_deref(), revision, wake);
        self.view.selected = None;
        self.view.cursor = None;
        self.view.behind = None;
        self.view.waive = None;
        self.view.ask = None;
        (self.view.note, self.view.survey, self.view.made) = (None, None, None);
        self.view.measuring.clear();
        self.view.photo = None;
        self.view.small.forget();
        (self.view.buying.draft, self.view.buying.paid) = (None, None);
        self.view.money = MoneyState::default();
        self.view.vehicle = VehicleState::default();
        self.view.plans = PlansState::default();
        // who reads, and for how long one works, are the same
        let by = std::mem::take(&mut self.view.walk.by);
        self.view.walk = WalkState { by, ..WalkState::default() };
        let hours = std::mem::take(&mut self.view.jobs.hours);
        self.view.jobs = JobsState { hours, ..JobsState::default() };
        let is_of_it = |dialog: &mut Dialog| {
            matches!(dialog, Dialog::Direction(_) | Dialog::Name(_) | Dialog::CameBack(_))
        };
        self.view.dialog.take_if(is_of_it);
        self.place_drafts();
        self.view.page = Page::Board;
    }
}
