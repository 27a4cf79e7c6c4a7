//! The figures a person can ask for: each with its inputs, formula and source, and the function that works it out.
//!
//! The engineering stands in the figures crate. Here each calculation gets the words of the trade, reads its inputs as
//! text with units and gives its results back ready to be shown. Command line and desk offer the same list.

mod brakes;
mod charging;
mod cooling;
mod driveline;
mod engine;
mod entry;
mod error;
mod fasteners;
mod fluids;
mod fuel;
mod gearing;
mod given;
mod identity;
mod input;
mod lining;
mod output;
mod read;
pub mod search;
mod springs;
mod starting;
mod steering;
mod stopping;
mod trouble;
mod tyre;
mod wheel;
mod workshop;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::sync::LazyLock;

pub use entry::{Figure, Group};
pub use error::{FigureInputError, UnknownFigure};
pub use input::{Input, Takes};
pub use output::{Amount, Output};

use entry::Worked;
pub(crate) use given::{Given, Values};
use input::nearest;
pub(crate) use read::Typed;

use crate::quantity::echo;

static ALL: LazyLock<Vec<Figure>> = LazyLock::new(|| {
    let mut all = [
        tyre::FIGURES,
        gearing::FIGURES,
        wheel::FIGURES,
        brakes::FIGURES,
        stopping::FIGURES,
        lining::FIGURES,
        fuel::FIGURES,
        charging::FIGURES,
        starting::FIGURES,
        cooling::FIGURES,
        springs::FIGURES,
        driveline::FIGURES,
        steering::FIGURES,
        engine::FIGURES,
        fasteners::FIGURES,
        identity::FIGURES,
        fluids::FIGURES,
        workshop::FIGURES,
    ]
    .concat();
    all.sort_by_key(|f| f.group);
    all
});

/// Every figure, by group.
#[must_use]
pub fn all() -> &'static [Figure] {
    &ALL
}

/// The figure of an id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Figure> {
    ALL.iter().find(|f| f.id == id)
}

/// The figure of an id as a person wrote it.
///
/// # Errors
/// [`UnknownFigure`] with the nearest there is.
pub fn named(id: &str) -> Result<&'static Figure, UnknownFigure> {
    find(id).ok_or_else(|| UnknownFigure { given: echo(id), nearest: nearest(id, ALL.iter().map(|f| f.id)) })
}

impl Figure {
    /// Works the figure out from inputs by name, each as a person writes it: `"12.25 in"`, `"3.5 psi"`, `"4.11"`.
    ///
    /// Inputs with a default may be left out. The value of every result is finite.
    ///
    /// # Errors
    /// [`FigureInputError`] for an input that is missing, not known, not to be read or out of its range.
    pub fn run(&self, inputs: &BTreeMap<String, String>) -> Result<Vec<Output>, FigureInputError> {
        let refused =
            |why: String| FigureInputError::Refused { figure: self.id, why, example: self.example() };
        let given = Typed::read(self, inputs)?;
        let results = (self.work)(&given).map_err(|trouble| refused(given.told(trouble)))?;
        match results.iter().find(|r| matches!(r.value, Amount::Number(x) if !x.is_finite())) {
            Some(endless) => Err(refused(format!("{} comes to no number", endless.name))),
            None => Ok(results),
        }
    }

    /// Works the figure out from inputs of any kind.
    pub(crate) fn work(&self, given: &Given<'_>) -> Worked {
        (self.work)(given)
    }

    /// The inputs as they are taken: a bare number with the unit it is read in, a decimal comma as a point.
    ///
    /// # Errors
    /// [`FigureInputError`] for an input that is missing, not known or not to be read.
    pub fn taken(
        &self,
        inputs: &BTreeMap<String, String>,
    ) -> Result<BTreeMap<String, String>, FigureInputError> {
        let given = Typed::read(self, inputs)?;
        Ok(inputs.keys().map(|name| (name.clone(), given.text(name).to_owned())).collect())
    }
}
