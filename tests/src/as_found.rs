//! The example's vehicle as it was found, with nothing surveyed and nothing chosen but what a test chooses.

use knockon_core::sheet::{Choice, Route, Sheet};

/// The sheet with its survey and the ages of its parts out of it, and in one plan these choices alone: a part to convert
/// to, or what was found to be kept. A plan that is not there stays away.
#[must_use]
pub fn as_found(mut sheet: Sheet, plan: &str, chosen: &[(&str, Option<&str>)]) -> Sheet {
    sheet.survey.clear();
    sheet.readings.clear();
    sheet.made.clear();
    let choice = |part: &Option<&str>| Choice {
        route: if part.is_some() { Route::Convert } else { Route::Keep },
        part: part.map(str::to_owned),
    };
    if let Some(plan) = sheet.plans.get_mut(plan) {
        plan.routes = chosen.iter().map(|(place, part)| ((*place).to_owned(), choice(part))).collect();
    }
    sheet
}
