//! `assess`: what a plan drags in. A pure function of sheet, plan and library.
//!
//! One pass looks at everything: joints, surplus, needs, pools, limits, what is opened, fluids, survey. Where a
//! pass finds that a position nobody chose for must get a part (a fill) or that a part has lost its job, it is
//! noted and the pass is run again on that state. Fills and lost jobs only grow and are bounded by the number of
//! positions, so it ends.

mod ages;
mod alternatives;
mod around;
mod bench;
mod boxes;
mod buy;
mod cautions;
mod containers;
mod either;
mod fills;
mod ground;
mod joints;
mod keys;
mod knock_on;
mod laid;
mod later;
#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may stop")]
pub(crate) mod least;
mod limit_inputs;
mod limits;
mod loose;
mod measured;
mod memory;
mod needs;
mod offers;
mod once;
mod opened;
mod outcomes;
mod pools;
mod port_values;
mod premises;
mod proportion;
mod raised;
mod reach;
mod remedies;
mod renewals;
#[cfg(test)]
mod said;
mod settle;
mod shortlist;
mod sums;
mod surplus;
mod unmet;
mod view;

pub use alternatives::{alternatives, ports};
use bench::Bench;
use ground::Ground;
pub use offers::{offers, sweep};
pub use outcomes::{left_to_the_plan, outcomes};

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::sheet::Sheet;

/// Assesses one plan of a sheet. A vehicle, plan or part that the library does not know is named in
/// [`Assessment::problems`]; nothing is guessed for it.
#[must_use]
pub fn assess(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Assessment {
    let catalogue = catalogue.for_sheet(sheet);
    let problem = |text: String| Assessment { problems: vec![text], ..Assessment::default() };
    let Some(entry) = sheet.plans.get(plan) else {
        return problem(format!("there is no plan \"{plan}\" in this sheet"));
    };
    let ground = match Ground::new(sheet, entry, &catalogue) {
        Ok(ground) => ground,
        Err(text) => return problem(text),
    };
    let mut bench = Bench::new(&ground, true);
    bench.run();
    view::assessment(bench, plan)
}
