//! Where a restoration goes: one of four ways, for what use, by when, for whom, for how much, and what is held to.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::Extra;
use crate::money::Money;
use crate::schema;

/// One of the four ways a restoration can go.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Original parts rebuilt, period finishes.
    KeepAsBuilt,
    /// Looks and feels old, with what bolts on and off again.
    #[default]
    SympatheticDriver,
    /// Something else is made of it.
    Custom,
    /// It is sold on.
    PassItOn,
}

impl Way {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::KeepAsBuilt, Self::SympatheticDriver, Self::Custom, Self::PassItOn];

    /// The words on screen.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::KeepAsBuilt => "keep as built",
            Self::SympatheticDriver => "sympathetic driver",
            Self::Custom => "custom",
            Self::PassItOn => "pass it on",
        }
    }
}

/// A direction, with the day and the reason it was taken.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Direction {
    /// The way.
    pub way: Way,
    /// What it is used for, in a sentence.
    #[serde(rename = "use", default, skip_serializing_if = "String::is_empty")]
    pub what_for: String,
    /// By when it is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub deadline: Option<String>,
    /// Who drives it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub drivers: String,
    /// How much it may come to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget: Option<Money>,
    /// What the plan is held to, by the ids of aims.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub aims: Vec<String>,
    /// On which day it was taken.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// Why.
    pub reason: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}
