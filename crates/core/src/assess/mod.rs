//! `assess`: what a plan drags in. A pure function of sheet, plan and library.
//!
//! Two steps. *Derive* looks at one state of the vehicle, with parts in the places nobody chose for: joints, what lost its
//! job, needs, pools, limits, what is opened, fluids, survey. It decides nothing. *Decide* says which parts those are: the
//! best by the written order (`order.rs`). What was decided is derived once more in words.

mod ages;
mod alternatives;
mod bench;
mod boxes;
mod branch;
mod buy;
mod cautions;
mod containers;
mod decide;
mod drag;
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
mod open_places;
mod opened;
mod order;
mod outcomes;
mod pools;
mod port_values;
mod premises;
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
mod terms;
mod unmet;
mod view;
mod why;

pub use alternatives::{alternatives, ports};
use bench::Bench;
use ground::Ground;
pub use offers::{offers, sweep};
pub use outcomes::{left_to_the_plan, outcomes};

use std::collections::BTreeMap;

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
    let mut bench = Bench::new(&ground, false);
    let proved = bench.decide();
    let decisions = bench.decisions();
    let mut out = told(&ground, plan, &decisions, proved);
    out.problems.extend((!proved).then(|| NOT_PROVED.to_owned()));
    out
}

/// What follows from a plan where the engine decides nothing by itself and these parts, by position, go into places nobody
/// chose for. What is no place or part of the library is left out.
#[must_use]
pub fn derive(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    decisions: &BTreeMap<String, String>,
) -> Assessment {
    let catalogue = catalogue.for_sheet(sheet);
    let problem = |text: String| Assessment { problems: vec![text], ..Assessment::default() };
    let Some(entry) = sheet.plans.get(plan) else {
        return problem(format!("there is no plan \"{plan}\" in this sheet"));
    };
    let ground = match Ground::new(sheet, entry, &catalogue) {
        Ok(ground) => ground,
        Err(text) => return problem(text),
    };
    let numbered = decisions.iter().filter_map(|(pos, part)| {
        Some((ground.v.position_ix.get(pos).copied()?, catalogue.part_names.get(part)?))
    });
    let decisions = numbered.collect();
    told(&ground, plan, &decisions, false)
}

fn told(ground: &Ground<'_>, plan: &str, decisions: &decide::Decisions, proved: bool) -> Assessment {
    let mut bench = Bench::new(ground, true);
    bench.tell(decisions);
    let out = view::assessment(bench, plan);
    Assessment { proved, ..out }
}

/// Said where the search for the best parts was cut off.
const NOT_PROVED: &str = "so many places hang together that not every choice of parts for them was tried: what goes in there is the best \
                          that was found; choose some of them yourself to have the rest settled";
