//! The assessment of the sheet as it stands: worked out once for every change, never on an idle frame.

use std::sync::Arc;

use knockon_core::change::{Idle, idle};
use knockon_core::{Assessment, Catalogue, Sheet, assess};

/// The last assessment and what it is of.
#[derive(Default)]
pub struct Cache {
    of: Option<u64>,
    assessment: Arc<Assessment>,
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
            self.of = Some(revision);
            self.assessed += 1;
        }
        Arc::clone(&self.assessment)
    }
}
