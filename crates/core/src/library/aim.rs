//! What an owner can hold a plan to, as data: only what can be undone, the look as it was, motorway speed, towing.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::schema;
use crate::sheet::Route;

/// What a plan can be held to. A route breaks it in one of the ways that it names.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Aim {
    /// As shown: "reversible only".
    pub name: String,
    /// Why one holds a plan to it, in a sentence.
    pub why: String,
    /// Broken by a part that goes in and cannot be wholly undone.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub reversible: bool,
    /// Broken by these routes at a place of these classes.
    #[serde(rename = "for", skip_serializing_if = "Vec::is_empty")]
    pub whom: Vec<String>,
    /// The routes that break it there.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub routes: Vec<Route>,
    /// Broken by what makes one of these limits not hold any more, by limit id.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub limits: Vec<String>,
    /// Where it comes from: a kind of source, and behind a colon what it is.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(with = "schema::Source")]
    pub source: String,
}
