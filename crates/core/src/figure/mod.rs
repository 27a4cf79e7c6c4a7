//! The figures a person can ask for: each with its inputs, formula and source, and the function that works it out.
//!
//! The engineering stands in the figures crate. Here each calculation gets the words of the trade, reads its inputs as
//! text with units and gives its results back ready to be shown. Command line and desk offer the same list.

mod brakes;
mod charging;
mod cooling;
mod driveline;
mod engine;
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
mod tyre;
mod wheel;
mod workshop;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

pub use input::{Input, Takes};
pub use output::{Amount, Output};

pub(crate) use given::{Given, Values};
use input::nearest;
use knockon_figures::FigureError;
pub(crate) use read::Typed;

use crate::quantity::echo;

/// What a figure belongs to, in the order they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Group {
    Tyre,
    Gearing,
    Wheel,
    WheelOverBrake,
    TyreInBody,
    Brakes,
    Fuel,
    Charging,
    Cooling,
    Springs,
    Driveline,
    Steering,
    Engine,
    Fasteners,
    Identity,
    Fluids,
    Workshop,
}

impl Group {
    /// Every group, in order.
    pub const ALL: [Self; 17] = [
        Self::Tyre,
        Self::Gearing,
        Self::Wheel,
        Self::WheelOverBrake,
        Self::TyreInBody,
        Self::Brakes,
        Self::Fuel,
        Self::Charging,
        Self::Cooling,
        Self::Springs,
        Self::Driveline,
        Self::Steering,
        Self::Engine,
        Self::Fasteners,
        Self::Identity,
        Self::Fluids,
        Self::Workshop,
    ];

    /// The words over its list.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Tyre => "Tyre",
            Self::Gearing => "Gearing",
            Self::Wheel => "Wheel",
            Self::WheelOverBrake => "Wheel over brake",
            Self::TyreInBody => "Tyre in the body",
            Self::Brakes => "Brakes",
            Self::Fuel => "Fuel",
            Self::Charging => "Charging and wiring",
            Self::Cooling => "Cooling",
            Self::Springs => "Springs, lift and dampers",
            Self::Driveline => "Driveline",
            Self::Steering => "Steering after a lift",
            Self::Engine => "Engine",
            Self::Fasteners => "Fasteners",
            Self::Identity => "Identity",
            Self::Fluids => "Fluids",
            Self::Workshop => "Workshop",
        }
    }
}

/// A figure a person can ask for.
#[derive(Clone, Copy, Debug)]
pub struct Figure {
    /// Word or words of the trade with hyphens: `tap-drill`.
    pub id: &'static str,
    /// What people call it besides its name, and how they ask for it: for the search.
    pub called: &'static [&'static str],
    /// What it belongs to.
    pub group: Group,
    /// For a heading.
    pub name: &'static str,
    /// One line: what it tells.
    pub meaning: &'static str,
    /// What it takes.
    pub inputs: &'static [Input],
    /// As text.
    pub formula: &'static str,
    /// Where the formula or the table comes from.
    pub source: &'static str,
    /// What to mind where work by it can hurt somebody.
    pub cautions: &'static [&'static str],
    /// Values from outside that it is held to, as far as their digits go:
    /// `"thread=M10x1.5 -> drill: 8.5 mm; ISO 2306"`.
    pub cases: &'static [&'static str],
    /// Which result rises or falls with which input: `"bore -> displacement: rises"`.
    pub moves: &'static [&'static str],
    work: fn(&Given<'_>) -> Worked,
}

/// What an entry says nothing of.
const FIGURE: Figure = Figure {
    id: "",
    called: &[],
    group: Group::Tyre,
    name: "",
    meaning: "",
    inputs: &[],
    formula: "",
    source: "",
    cautions: &[],
    cases: &[],
    moves: &[],
    work: |_| Ok(Vec::new()),
};

/// What the function of a figure gives.
pub(crate) type Worked = Result<Vec<Output>, Trouble>;

/// Why a figure cannot be worked out, before the example is added.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// In words.
    Words(String),
    /// A number that the formula refuses, told as it was typed.
    Number(FigureError),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Words(words) => f.write_str(words),
            Self::Number(error) => error.fmt(f),
        }
    }
}

impl From<FigureError> for Trouble {
    fn from(error: FigureError) -> Self {
        Self::Number(error)
    }
}

impl From<knockon_figures::tyres::TyreCodeError> for Trouble {
    fn from(error: knockon_figures::tyres::TyreCodeError) -> Self {
        Self::Words(error.to_string())
    }
}

/// What is wrong with the inputs of a figure; the text always holds an example.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FigureInputError {
    /// An input that has no default was not given.
    #[error("{figure}: {input} is missing; wanted: {wanted}, for example {input}=\"{example}\"")]
    Missing {
        /// Id of the figure.
        figure: &'static str,
        /// The input.
        input: &'static str,
        /// Its meaning.
        wanted: &'static str,
        /// A good value.
        example: &'static str,
    },
    /// There is no such input.
    #[error("{figure}: there is no input \"{given}\"{}; it takes {}, for example {example}", meant(.nearest), .known.join(", "))]
    Unknown {
        /// Id of the figure.
        figure: &'static str,
        /// As given.
        given: String,
        /// The nearest input there is.
        nearest: Option<&'static str>,
        /// All inputs.
        known: Vec<&'static str>,
        /// Good values for all that must be given.
        example: String,
    },
    /// The text of an input cannot be read.
    #[error("{figure}: {input}: {why}; wanted: {wanted}, for example {input}=\"{example}\"")]
    Unreadable {
        /// Id of the figure.
        figure: &'static str,
        /// The input.
        input: &'static str,
        /// What is wrong with it.
        why: String,
        /// Its meaning.
        wanted: &'static str,
        /// A good value.
        example: &'static str,
    },
    /// The values were read, and no figure can be worked out from them.
    #[error("{figure}: {why}; for example {example}")]
    Refused {
        /// Id of the figure.
        figure: &'static str,
        /// What was found and what was expected.
        why: String,
        /// Good values for all that must be given.
        example: String,
    },
}

/// There is no figure of this name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("there is no figure \"{given}\"{}; \"knockon figure\" lists them, \"knockon figure tyre code=31x10.50R15LT\" works one out", meant(.nearest))]
pub struct UnknownFigure {
    /// As given.
    pub given: String,
    /// The nearest there is.
    pub nearest: Option<&'static str>,
}

fn meant(nearest: &Option<&'static str>) -> String {
    nearest.map_or_else(String::new, |n| format!("; did you mean \"{n}\"?"))
}

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

    /// Whether words are its name or id as a person writes them: "Tap drill", "TAP-DRILL".
    #[must_use]
    pub fn is_called(&self, words: &str) -> bool {
        let plain = |text: &str| text.to_lowercase().replace('-', " ");
        plain(words) == plain(self.id) || plain(words) == plain(self.name)
    }

    /// Good values for all that must be given, as they stand on the command line.
    #[must_use]
    pub fn example(&self) -> String {
        let needed = self.inputs.iter().filter(|i| i.default.is_none());
        needed.map(ToString::to_string).collect::<Vec<_>>().join(" ")
    }

    /// The example of every input, or its default.
    #[must_use]
    pub fn examples(&self) -> BTreeMap<String, String> {
        self.inputs.iter().map(|i| (i.name.to_owned(), i.example.to_owned())).collect()
    }

    fn input(&self, name: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|i| i.name == name)
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.id, self.meaning)
    }
}
