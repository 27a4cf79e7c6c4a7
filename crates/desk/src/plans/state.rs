//! What the page of the plans keeps.

use std::sync::Arc;

use knockon_core::Sheet;

use crate::look::typed::Fields;
use crate::plans::told::SideBySide;

/// So many plans stand beside the one that is worked on.
pub const BESIDE: usize = 2;

/// What is held side by side: of a revision, these plans.
pub type Of = (u64, Vec<String>);

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct PlansState {
    /// The plans that stand beside the one that is worked on, by id, as they were chosen; gaps are filled from the sheet.
    pub others: Vec<String>,
    /// What was worked out last, and of what.
    pub beside: Option<(Of, Arc<SideBySide>)>,
    /// What is being worked out, or was: revision, and the plans.
    pub of: Option<Of>,
    /// It was given up.
    pub stopped: bool,
    /// What is being typed into its fields.
    pub fields: Fields,
}

impl PlansState {
    /// What stands on the page is of the sheet as it is: what it offers can be done.
    pub fn is_fresh(&self) -> bool {
        !self.stopped && self.of.is_some() && self.of.as_ref() == self.beside.as_ref().map(|(of, _)| of)
    }

    /// The plans shown, in the order of the sheet: the one that is worked on and so many others as there is room for.
    pub fn shown(&self, sheet: &Sheet) -> Vec<String> {
        let is_other = |id: &&String| **id != sheet.plan;
        let chosen = self.others.iter().filter(is_other).filter(|id| sheet.plans.contains_key(*id));
        let rest = sheet.plans.keys().filter(is_other).filter(|id| !self.others.contains(id));
        let others: Vec<&String> = chosen.chain(rest).take(BESIDE).collect();
        let is_shown = |id: &&String| **id == sheet.plan || others.contains(id);
        sheet.plans.keys().filter(is_shown).cloned().collect()
    }

    /// Puts another plan where one stands.
    pub fn exchange(&mut self, sheet: &Sheet, old: &str, new: &str) {
        let shown = self.shown(sheet).into_iter().filter(|id| *id != sheet.plan);
        self.others = shown.map(|id| if id == old { new.to_owned() } else { id }).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::PlansState;
    use knockon_core::Sheet;
    use knockon_core::sheet::Plan;

    fn sheet(plans: &[&str], on: &str) -> Sheet {
        let plans = plans.iter().map(|id| ((*id).to_owned(), Plan::default())).collect();
        Sheet { plans, plan: on.to_owned(), ..Sheet::default() }
    }

    #[test]
    fn the_plan_that_is_worked_on_is_always_shown_and_never_twice() {
        let four = sheet(&["a", "b", "c", "d"], "c");
        let mut state = PlansState::default();
        assert_eq!(state.shown(&four), ["a", "b", "c"]);
        state.exchange(&four, "a", "d");
        assert_eq!(state.shown(&four), ["b", "c", "d"]);
        // one stands on what was beside it
        assert_eq!(state.shown(&sheet(&["a", "b", "c", "d"], "d")), ["a", "b", "d"]);
        assert_eq!(state.shown(&sheet(&["c"], "c")), ["c"]);
    }
}
