//! How much of the board is told: a row a system, a line a place, or everything.

use serde::{Deserialize, Serialize};

use crate::app::commands::Command;

/// How much of the board is told.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Density {
    /// A row a system.
    #[default]
    Systems,
    /// A line a place, and one for all that its choice brings.
    Places,
    /// Every companion with its reason.
    Everything,
}

impl Density {
    /// From the least told to the most.
    pub const ALL: [Self; 3] = [Self::Systems, Self::Places, Self::Everything];

    /// As shown.
    pub fn word(self) -> &'static str {
        match self {
            Self::Systems => "systems",
            Self::Places => "places",
            Self::Everything => "everything",
        }
    }

    /// The command that shows it.
    pub fn command(self) -> Command {
        match self {
            Self::Systems => Command::Systems,
            Self::Places => Command::Places,
            Self::Everything => Command::Everything,
        }
    }
}
