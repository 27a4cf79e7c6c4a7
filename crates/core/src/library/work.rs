//! The work of the trade as data: operations that jobs are made of, rules of their order, checks before and on the road.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::schema;
use crate::sheet::Route;

use super::Table;

/// What a job is.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum JobKind {
    /// Take something off, drain it, raise the vehicle: what makes way.
    #[default]
    Remove,
    /// Clean.
    Clean,
    /// Rebuild on the bench.
    Rebuild,
    /// Another shop does it.
    SendOut,
    /// Put on.
    Fit,
    /// Join lines, wires, rods.
    Connect,
    /// Fill with fluid.
    Fill,
    /// Bleed of air.
    Bleed,
    /// Adjust.
    Set,
    /// Measure or look.
    Check,
}

impl JobKind {
    /// As written in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Remove => "remove",
            Self::Clean => "clean",
            Self::Rebuild => "rebuild",
            Self::SendOut => "send-out",
            Self::Fit => "fit",
            Self::Connect => "connect",
            Self::Fill => "fill",
            Self::Bleed => "bleed",
            Self::Set => "set",
            Self::Check => "check",
        }
    }

    /// Parts go on in it: it takes the lines of its places.
    #[must_use]
    pub fn takes_lines(self) -> bool {
        !matches!(self, Self::Remove | Self::Clean | Self::Check)
    }
}

/// One operation of the workshop.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Operation {
    /// As shown: "fuel tank out".
    pub name: String,
    /// What it is.
    pub kind: JobKind,
    /// Classes whose change asks for it: a place that is worked on, or something bought for one. None: only others ask for it.
    #[serde(rename = "for")]
    pub whom: Vec<String>,
    /// Only these routes ask for it. Empty: all but keep.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub routes: Vec<Route>,
    /// It is there only on a vehicle with a place of one of these classes. Empty: those of `for`, and where there are none it
    /// is there on every vehicle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub at: Vec<String>,
    /// It is there only on a vehicle that is built so: one of these words is among the `built` of the vehicle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub built: Vec<String>,
    /// Done for each of its places by itself: front and rear, left and right.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub each: bool,
    /// Operations before it, each by its id: "tank-drained"; one of several: "front-raised | rear-raised"; one that orders only
    /// and is not asked for: "exhaust-off?".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
    /// The same on vehicles that are built so, by the word.
    #[serde(skip_serializing_if = "Table::is_empty")]
    pub after_built: Table<Vec<String>>,
    /// The operation that closes what this one opens; whatever wants this one open comes before it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub closed_by: Option<String>,
    /// Hours of somebody who does it for the first time at home: at least, likely, at most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours: Option<[f64; 3]>,
    /// Weeks for which it is away, at another shop: at least, at most. Absent: not known; it is asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weeks: Option<[f64; 2]>,
    /// The skill that one of those who do it must have: "welding". Empty: anybody's.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub skill: String,
    /// What there is one of in a workshop and it takes for itself: "pit", "press", "hoist", "bench".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub places: Vec<String>,
    /// Where one stands: "under the front". What is done in one place is done one after the other.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub area: String,
    /// How many people it takes; one where nothing is said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub people: Option<u32>,
    /// Tools.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tools: Vec<String>,
    /// What somebody looks at and ticks before it is begun: "engine cold".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub ticks: Vec<String>,
    /// What to mind, in a sentence.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Caution ids.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// The card that tells how it is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub card: Option<String>,
    /// Where its hours come from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// A rule of the order: where both are in the plan, all on the left come before all on the right. It asks for nothing.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct OrderRule {
    /// Operations and checks that come first.
    pub before: Vec<String>,
    /// Operations and checks that come after them.
    pub after: Vec<String>,
    /// Why, in a few words.
    pub why: String,
}

/// When a check can be done.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Phase {
    /// The vehicle stands and nothing is on.
    #[default]
    Static,
    /// The electrics are on.
    Powered,
    /// The engine runs.
    Running,
    /// It is driven.
    Rolling,
    /// It is given over.
    Handover,
}

impl Phase {
    /// As written in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Static => "static",
            Self::Powered => "powered",
            Self::Running => "running",
            Self::Rolling => "rolling",
            Self::Handover => "handover",
        }
    }

    /// All of them, in their order.
    pub const ALL: [Self; 5] = [Self::Static, Self::Powered, Self::Running, Self::Rolling, Self::Handover];

    /// As checks of it are headed.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            Self::Static => "Standing, nothing on",
            Self::Powered => "Electrics on",
            Self::Running => "Engine running",
            Self::Rolling => "On the road",
            Self::Handover => "At handing over",
        }
    }

    /// It must be signed before the first metre of road.
    #[must_use]
    pub fn is_before_the_road(self) -> bool {
        self < Self::Rolling
    }
}

/// What the hours of somebody who does it for the first time at home are against those of a workshop.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct FirstTime {
    /// So many times a workshop's: at least, at most.
    pub of_workshop: [f64; 2],
    /// Where that comes from, as of a file.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// A check of what was opened, before the vehicle is driven or while it is driven the first miles.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Check {
    /// As shown: "fuel leak test".
    pub name: String,
    /// When it can be done.
    pub phase: Phase,
    /// Classes whose change asks for it: a place that is worked on, or something bought for one.
    #[serde(rename = "for", skip_serializing_if = "Vec::is_empty")]
    pub whom: Vec<String>,
    /// Operations that ask for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub by: Vec<String>,
    /// Asked for by whatever is done.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub always: bool,
    /// It is there only on a vehicle with a place of one of these classes. Empty: on every vehicle.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub at: Vec<String>,
    /// Checks before it, by id; they ask for nothing.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<String>,
    /// How it is done.
    pub method: String,
    /// What passes.
    pub pass: String,
    /// What is read, where it is one figure with its limits: "at least 50 mm", "15 to 40 psi", "at most 30 mA". A reading
    /// outside does not pass.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub limit: String,
    /// What to do where it does not.
    pub fail: String,
    /// Caution ids.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// The card that tells how it is done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub card: Option<String>,
    /// Where its figures come from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}

/// How something is done, step by step: what to read at the bench before the tool is in the hand. It replaces no manual.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Card {
    /// As shown: "Bleed the brakes".
    pub name: String,
    /// When it is wanted, as a clause: "after a brake circuit was opened".
    pub when: String,
    /// Caution ids: they are read first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<String>,
    /// Tools.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub tools: Vec<String>,
    /// What is done, one act each, in order.
    pub steps: Vec<String>,
    /// What may be seen, and what it means and asks for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub wrong: Vec<[String; 2]>,
    /// How one knows that it is done.
    pub done: String,
    /// What is left to the maker's manual, local law or a licensed practice.
    pub manual: String,
    /// Where its figures come from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}
