//! Money that came back for a line of the buying record, told by what it came back for and never by a sign.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What money came back for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CameBack {
    /// The price, or some of it: a part that went back, one short, a price that was put right.
    Refund,
    /// The deposit that a rebuilt part is sold with until the old one, its core, is handed in.
    Core,
}

impl CameBack {
    /// Both, in the order shown.
    pub const ALL: [Self; 2] = [Self::Refund, Self::Core];

    /// Its word in files.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Refund => "refund",
            Self::Core => "core",
        }
    }

    /// What it is, on screen and in reports.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Refund => "refunded",
            Self::Core => "core deposit returned",
        }
    }
}
