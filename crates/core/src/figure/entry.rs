//! What a figure is: its words, what it takes, what it rests on, and the function that works it out.

use std::collections::BTreeMap;
use std::fmt;

use super::given::Given;
use super::input::Input;
use super::output::Output;
use super::trouble::Trouble;

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
    pub(super) work: fn(&Given<'_>) -> Worked,
}

/// What an entry says nothing of.
pub(super) const FIGURE: Figure = Figure {
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

impl Figure {
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

    pub(super) fn input(&self, name: &str) -> Option<&'static Input> {
        self.inputs.iter().find(|i| i.name == name)
    }
}

impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.id, self.meaning)
    }
}
