//! The assessment of the sheet as it stands: worked out once for every change, never on an idle frame.

use std::sync::Arc;

use knockon_core::change::{Idle, idle};
use knockon_core::showing::{Measure, whole};
use knockon_core::{Assessment, Catalogue, Sheet, assess};

/// The last assessment and what it is of.
#[derive(Default)]
pub struct Cache {
    of: Option<u64>,
    assessment: Arc<Assessment>,
    shown: Option<(Measure, Arc<Assessment>)>,
    /// What is bought though the plan does not want it.
    pub idle: Arc<Vec<Idle>>,
    /// How many times the sheet was assessed.
    pub assessed: u64,
}

impl Cache {
    /// The assessment of this revision. The revision covers the plan: switching is an edit.
    pub fn get(&mut self, revision: u64, sheet: &Sheet, catalogue: &Catalogue) -> Arc<Assessment> {
        if self.of != Some(revision) {
            self.assessment = Arc::new(assess(sheet, &sheet.plan, catalogue));
            self.idle = Arc::new(idle(sheet, catalogue, &self.assessment));
            self.shown = None;
            self.of = Some(revision);
            self.assessed += 1;
        }
        Arc::clone(&self.assessment)
    }

    /// The same for the eye: its sentences in the system the user reads.
    pub fn shown(&mut self, measure: Measure) -> Arc<Assessment> {
        match &self.shown {
            Some((of, shown)) if *of == measure => Arc::clone(shown),
            _ => {
                let shown = Arc::new(whole(&self.assessment, measure));
                self.shown = Some((measure, Arc::clone(&shown)));
                shown
            }
        }
    }
}
