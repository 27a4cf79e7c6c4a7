//! What the vehicle says it is: numbers and dates, each with its evidence and how far it is trusted, and what the counter shows.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::Extra;
use crate::schema;

/// How far something is trusted.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Trust {
    /// Seen, whole, and nothing speaks against it.
    Sure,
    /// Seen, but not whole or not where it should be.
    #[default]
    Likely,
    /// Told, or worked on.
    Doubtful,
}

impl Trust {
    /// The word on screen.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sure => "sure",
            Self::Likely => "likely",
            Self::Doubtful => "doubtful",
        }
    }
}

/// A number, a date or a code on the vehicle or in its papers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mark {
    /// Where it stands: "chassis plate", "casting date of the block".
    pub what: String,
    /// What it is of: all marks of one thing with a number have the same: "chassis", "engine".
    pub of: String,
    /// As it stands there.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// The day it tells, as far as it does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub dated: Option<String>,
    /// What shows it: a note, the path of a photo.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub evidence: String,
    /// How far it is trusted.
    #[serde(default)]
    pub trust: Trust,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What a piece of wear lets one believe of the whole distance.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Wear {
    /// What is worn, and how: "pedal pads through to the steel".
    pub what: String,
    /// At least so far.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub least: Option<String>,
    /// At most so far.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub most: Option<String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What the vehicle says it is.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Identity {
    /// When the vehicle was built, as far as that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub built: Option<String>,
    /// Numbers and dates.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub marks: Vec<Mark>,
    /// What the counter shows: "41000 miles".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Quantity>")]
    pub counter: Option<String>,
    /// Whole figures of the counter. Absent: five.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub digits: Option<u32>,
    /// Wear found, for the whole distance.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wear: Vec<Wear>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}
