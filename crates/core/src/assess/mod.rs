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
mod close;
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
mod measure_first;
mod measured;
mod memory;
mod needs;
mod not_joined;
mod of_use;
mod offers;
mod once;
mod one_end;
mod one_trouble;
mod open_places;
mod opened;
mod order;
mod outcomes;
mod pools;
mod port_value;
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
mod specs;
mod spent;
mod sums;
mod surplus;
mod terms;
mod trial;
mod unmet;
mod view;
mod ways;
mod why;

pub use alternatives::{alternatives, ports};
use bench::Bench;
use ground::Ground;
pub use offers::{offers, offers_while};
pub use outcomes::{left_to_the_plan, outcomes};
pub use specs::Read;
pub(crate) use trial::{Changes, Check, Said, Trial, Ways, on_trial};

use std::collections::BTreeMap;

use crate::assessment::Assessment;
use crate::catalogue::Catalogue;
use crate::sheet::Sheet;

/// Assesses one plan of a sheet. A vehicle, plan or part that the library does not know is named in
/// [`Assessment::problems`]; nothing is guessed for it.
#[must_use]
pub fn assess(sheet: &Sheet, plan: &str, catalogue: &Catalogue) -> Assessment {
    on_ground(sheet, plan, catalogue, |ground| {
        let mut bench = Bench::new(ground, false);
        let proved = bench.decide();
        let mut out = told(ground, plan, &bench.decisions(), proved);
        out.problems.extend((!proved).then(|| NOT_PROVED.to_owned()));
        out
    })
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
    on_ground(sheet, plan, catalogue, |ground| {
        let numbered = decisions.iter().filter_map(|(pos, part)| {
            Some((ground.v.position_ix.get(pos).copied()?, ground.cat.part_names.get(part)?))
        });
        told(ground, plan, &numbered.collect(), false)
    })
}

/// Works on a plan of a sheet, or says why there is nothing to work on.
fn on_ground(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    work: impl FnOnce(&Ground<'_>) -> Assessment,
) -> Assessment {
    let catalogue = catalogue.for_sheet(sheet);
    let ground = match sheet.plans.get(plan) {
        Some(entry) => Ground::new(sheet, entry, &catalogue),
        None => Err(format!("there is no plan \"{plan}\" in this sheet")),
    };
    match ground {
        Ok(ground) => work(&ground),
        Err(text) => Assessment { problems: vec![text], ..Assessment::default() },
    }
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
