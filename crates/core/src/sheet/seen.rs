//! What a sheet keeps of a survey: readings over time, what was seen besides, limits of the maker, what is put off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Verdict;
use crate::library::{Bounds, Extra};
use crate::schema;

/// What was read at one inspection of a place.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Reading {
    /// Inspection id.
    pub of: String,
    /// A quantity, words for what was seen, or both with a semicolon between: "0.9 mm; torn boot".
    pub value: String,
    /// Which of several alike: "left", "cylinder 3".
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub which: String,
    /// With what it was read, where it was another tool than the inspection names.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub tool: String,
    /// On which day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// Initials of who read it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub by: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What was seen at a place besides all inspections.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Seen {
    /// In a sentence.
    pub what: String,
    /// How bad it is.
    pub verdict: Verdict,
    /// On which day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// Initials of who saw it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub by: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What the maker says of one inspection of a place; it goes before the library.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OwnBounds {
    /// Good between these.
    pub good: Bounds,
    /// To be watched between these; absent: there is nothing between good and bad.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watch: Option<Bounds>,
    /// To be renewed between these; outside of them it stops the vehicle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub renew: Option<Bounds>,
    /// Where it is written: "stamped on the drum", "maker's manual, page 112".
    pub source: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// What is put off, and why.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PutOff {
    /// The reason, in words.
    pub reason: String,
    /// On which day it was put off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// That the vehicle is not driven on the road.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NotDriven {
    /// Since which day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub since: Option<String>,
    /// Initials of who says so.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub by: String,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}
