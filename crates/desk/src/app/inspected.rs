//! What is read on the walk round the vehicle goes into the sheet; and the survey as it stands.

use std::sync::Arc;

use knockon_core::Edit;
use knockon_core::sheet::Reading;
use knockon_core::survey::{Survey, survey};

use crate::app::App;

impl App {
    /// The survey of the sheet as it stands, worked out once for every change.
    pub(crate) fn walk_round(&mut self) -> Arc<Survey> {
        let revision = self.document.revision();
        if let Some((of, found)) = &self.walk
            && *of == revision
        {
            return Arc::clone(found);
        }
        let sheet = self.document.sheet();
        let found = Arc::new(survey(sheet, &sheet.plan, &self.catalogue));
        self.walk = Some((revision, Arc::clone(&found)));
        found
    }

    /// A reading of today; one of the same thing on the same day by the same hand is mended by it.
    pub(super) fn inspected(
        &mut self,
        position: String,
        of: String,
        which: String,
        value: String,
        is_date: bool,
    ) {
        if is_date {
            self.edit(&[Edit::Made { position, made: Some(value) }]);
            return;
        }
        let on = Some((self.today)().to_string());
        let by = self.view.walk.by.trim().to_owned();
        let mut readings = self.document.sheet().readings.get(&position).cloned().unwrap_or_default();
        readings.retain(|r| !(r.of == of && r.which == which && r.on == on && r.by == by));
        readings.push(Reading { of, value, which, on, by, ..Reading::default() });
        self.edit(&[Edit::Readings { position, readings }]);
    }
}
