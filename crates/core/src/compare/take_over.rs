//! What another plan decides at a place, taken over into the plan one stands on.

use std::collections::BTreeSet;

use super::brought_by;
use crate::assessment::Assessment;
use crate::edit::Edit;
use crate::key::CompanionKey;
use crate::sheet::Sheet;

/// The edits that bring what the other plan decides at a place into the first: its choice, and of what that choice brings in
/// either plan which part was picked and what is left out. Empty where both decide alike, or where a plan is not there.
/// `position`: as in a cause; of what belongs to the plan as a whole nothing can be taken over.
#[must_use]
pub fn take_over(sheet: &Sheet, from: &Assessment, to: &Assessment, position: Option<&str>) -> Vec<Edit> {
    let (Some(position), Some(mine), Some(other)) =
        (position, sheet.plans.get(&from.plan), sheet.plans.get(&to.plan))
    else {
        return Vec::new();
    };
    let plan = || from.plan.clone();
    let mut edits = Vec::new();
    let choice = other.routes.get(position).cloned();
    if mine.routes.get(position).cloned().unwrap_or_default() != choice.clone().unwrap_or_default() {
        edits.push(Edit::Choose { plan: plan(), position: position.to_owned(), choice });
    }
    for key in brought(from, position).union(&brought(to, position)).copied() {
        let part = other.picks.get(key);
        if mine.picks.get(key) != part {
            edits.push(Edit::Pick { plan: plan(), key: key.clone(), part: part.cloned() });
        }
        let reason = other.waived.get(key);
        if mine.waived.get(key) != reason {
            edits.push(Edit::Waive { plan: plan(), key: key.clone(), reason: reason.cloned() });
        }
    }
    edits
}

/// Keys of the companions that the choice at a place brings, those that are left out among them.
fn brought<'a>(a: &'a Assessment, position: &str) -> BTreeSet<&'a CompanionKey> {
    let mine = a.companions.iter().filter(|c| brought_by(a, c).as_deref() == Some(position));
    mine.map(|c| &c.key).collect()
}
