//! The assessment of the sheet as it stands: worked out once for every change, never on an idle frame.

use std::sync::Arc;

use crate::board::sums::{Sum, sums};

use knockon_core::budget::{Spending, budget};
use knockon_core::explain;
use knockon_core::reason::ReasonId;
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue, Sheet, assess};

/// The last assessment and what it is of.
#[derive(Default)]
pub struct Cache {
    of: Option<u64>,
    assessment: Arc<Assessment>,
    sums: Arc<Vec<Sum>>,
    spending: Arc<Spending>,
    /// How many times the sheet was assessed.
    pub assessed: u64,
}

impl Cache {
    /// The assessment of this revision. The revision covers the plan: switching is an edit.
    pub fn get(&mut self, revision: u64, sheet: &Sheet, catalogue: &Catalogue) -> Arc<Assessment> {
        if self.of != Some(revision) {
            self.assessment = Arc::new(assess(sheet, &sheet.plan, catalogue));
            self.sums = Arc::new(sums(&self.assessment));
            self.spending = Arc::new(budget(sheet, &self.assessment, &catalogue.for_sheet(sheet)));
            self.of = Some(revision);
            self.assessed += 1;
        }
        Arc::clone(&self.assessment)
    }

    /// The same with the units the user reads.
    pub fn told(&self, measure: Measure) -> Told {
        Told {
            assessment: Arc::clone(&self.assessment),
            sums: Arc::clone(&self.sums),
            spending: Arc::clone(&self.spending),
            measure,
        }
    }
}

/// An assessment and who reads it.
#[derive(Clone)]
pub struct Told {
    assessment: Arc<Assessment>,
    /// What each system comes to, the worst first.
    pub sums: Arc<Vec<Sum>>,
    /// The plan against what may be spent on it.
    pub spending: Arc<Spending>,
    /// The units its sentences are told in.
    pub measure: Measure,
}

impl Told {
    /// An assessment for a reader.
    #[cfg(test)]
    pub fn new(assessment: Assessment, measure: Measure) -> Self {
        Self {
            sums: Arc::new(sums(&assessment)),
            assessment: Arc::new(assessment),
            spending: Arc::default(),
            measure,
        }
    }

    /// Half a line on what happens or on what made something necessary.
    pub fn half_line(&self, reason: ReasonId) -> String {
        explain::half_line(self, reason, self.measure)
    }
}

impl std::ops::Deref for Told {
    type Target = Assessment;

    fn deref(&self) -> &Assessment {
        &self.assessment
    }
}
