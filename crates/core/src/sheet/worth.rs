//! What the vehicle is worth, by the owner's own figures.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::Extra;
use crate::money::Money;

/// What somebody would pay for it, as the owner sees it; nothing here comes from a library.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Worth {
    /// Sold whole, as it stands today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub as_it_stands: Option<Money>,
    /// Sold in parts, today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_parts: Option<Money>,
    /// Once a plan is done, by plan id.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub done: BTreeMap<String, Money>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}
