//! `assess`: what a plan drags in. A pure function of sheet, plan and library.
//!
//! One pass looks at everything: joints, surplus, needs, pools, limits, what is opened, fluids, survey. Where a
//! pass finds that a position nobody chose for must get a part (a fill) or that a part has lost its job, it is
//! noted and the pass is run again on that state. Fills and lost jobs only grow and are bounded by the number of
//! positions, so it ends.

mod agree;
mod bench;
mod bridges;
mod fills;
mod joints;
mod limits;
mod needs;
mod offers;
mod opened;
mod pools;
mod surplus;
mod view;

pub(crate) use bench::Bench;
pub use offers::offers;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::sheet::Sheet;

/// Assesses one plan of a sheet. A vehicle, plan or part that the library does not know is named in
/// [`Assessment::problems`]; nothing is guessed for it.
#[must_use]
pub fn assess(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Assessment {
    let grown;
    let catalogue = if sheet.parts.is_empty() {
        catalogue
    } else {
        grown = catalogue.with_parts(&sheet.parts);
        &grown.0
    };
    let Some(plan_entry) = sheet.plans.get(plan) else {
        return Assessment {
            problems: vec![format!("there is no plan \"{plan}\" in this sheet")],
            ..Assessment::default()
        };
    };
    match Bench::new(sheet, plan_entry, catalogue, true) {
        Ok(mut bench) => {
            bench.run();
            view::assessment(bench, plan)
        }
        Err(problem) => Assessment { problems: vec![problem], ..Assessment::default() },
    }
}
