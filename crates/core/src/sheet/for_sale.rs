//! What is asked for a vehicle that was looked at before it was bought, and what came of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::Extra;
use crate::money::Money;
use crate::schema;

/// What is known of the papers of a vehicle.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Papers {
    /// Nobody has asked, or seen them.
    #[default]
    NotSeen,
    /// Seen, and they agree with the vehicle and with whoever sells it.
    Agree,
    /// Seen, and a number or a name does not agree.
    Disagree,
    /// There are none.
    Lost,
}

impl Papers {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::NotSeen, Self::Agree, Self::Disagree, Self::Lost];

    /// The words on screen.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NotSeen => "not seen",
            Self::Agree => "agree",
            Self::Disagree => "do not agree",
            Self::Lost => "there are none",
        }
    }
}

/// A vehicle that is for sale, or was when it was looked at.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ForSale {
    /// What is asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub asked: Option<Money>,
    /// Where it stands, and who sells it.
    #[serde(rename = "where", default, skip_serializing_if = "String::is_empty")]
    pub place: String,
    /// On which day it was looked at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<schema::Dated>")]
    pub on: Option<String>,
    /// Its papers.
    #[serde(default, skip_serializing_if = "is_not_seen")]
    pub papers: Papers,
    /// What it was bought for. Absent: it is not bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bought: Option<Money>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
fn is_not_seen(papers: &Papers) -> bool {
    *papers == Papers::NotSeen
}
