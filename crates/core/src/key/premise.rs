//! Premises: what a finding rests on in the end.

use std::fmt;
use std::str::FromStr;

use super::mark::{Marked, OF_KEYS, unmarked};
use super::{FactKey, KeyError, KeyOf, is_its_text};

/// A word of the sheet, or a part of the vehicle as found, that a finding rests on: a leaf of its derivation.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Premise {
    /// What the owner chose at a place: `chosen:POSITION`.
    Chosen {
        /// Position id.
        position: String,
    },
    /// The part that sat in a place when the vehicle came in: `as-found:POSITION`.
    AsFound {
        /// Position id.
        position: String,
    },
    /// What the survey says of a place: `survey:POSITION`.
    Survey {
        /// Position id.
        position: String,
    },
    /// A value measured on this vehicle: `measured:` and its key.
    Measured {
        /// The key of the fact in the sheet.
        fact: FactKey,
    },
}

const FORMS: &[&str] = &[
    "chosen:POSITION",
    "as-found:POSITION",
    "survey:POSITION",
    "measured: with FIGURE, FIGURE@PART or PORT.FIELD@PART",
];

impl Premise {
    /// The place it is about; `None` for a measured value.
    #[must_use]
    pub fn position(&self) -> Option<&str> {
        match self {
            Self::Chosen { position } | Self::AsFound { position } | Self::Survey { position } => {
                Some(position)
            }
            Self::Measured { .. } => None,
        }
    }

    fn read(text: &str) -> Option<Self> {
        let (word, rest) = text.split_once(':')?;
        Some(match word {
            "chosen" => Self::Chosen { position: unmarked(rest)? },
            "as-found" => Self::AsFound { position: unmarked(rest)? },
            "survey" => Self::Survey { position: unmarked(rest)? },
            "measured" => Self::Measured { fact: rest.parse().ok()? },
            _ => return None,
        })
    }
}

impl fmt::Display for Premise {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let id = |id| Marked(id, OF_KEYS);
        match self {
            Self::Chosen { position } => write!(f, "chosen:{}", id(position)),
            Self::AsFound { position } => write!(f, "as-found:{}", id(position)),
            Self::Survey { position } => write!(f, "survey:{}", id(position)),
            Self::Measured { fact } => write!(f, "measured:{fact}"),
        }
    }
}

impl FromStr for Premise {
    type Err = KeyError;

    fn from_str(text: &str) -> Result<Self, KeyError> {
        let key = Self::read(text).filter(|key| is_its_text(key, text));
        key.ok_or_else(|| KeyError::new(text, KeyOf::Premise, FORMS))
    }
}
