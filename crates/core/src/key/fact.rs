//! Keys of measured values, as a sheet keeps them in `facts`.

use std::cmp::Ordering;
use std::fmt;
use std::str::FromStr;

use super::mark::{Marked, OF_FACTS, unmarked};
use super::{KeyError, KeyOf, is_its_text};

/// Names what was measured on this vehicle. Keys are in the order of their texts, as the table of a file is.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum FactKey {
    /// A figure of the vehicle: `FIGURE`.
    Vehicle {
        /// Figure id.
        figure: String,
    },
    /// A figure of a part, or of a place itself: `FIGURE@PART`.
    Part {
        /// Figure id.
        figure: String,
        /// Part id, or where no part has it, position id.
        part: String,
    },
    /// A field of a port of a part: `PORT.FIELD@PART`.
    Port {
        /// Port name.
        port: String,
        /// Field id of the port's type.
        field: String,
        /// Part id.
        part: String,
    },
}

const FORM: &str = "FIGURE, FIGURE@PART or PORT.FIELD@PART";

impl FactKey {
    /// The part it was measured on; `None` for the vehicle.
    #[must_use]
    pub fn part(&self) -> Option<&str> {
        match self {
            Self::Vehicle { .. } => None,
            Self::Part { part, .. } | Self::Port { part, .. } => Some(part),
        }
    }

    fn read(text: &str) -> Option<Self> {
        let (place, part) = text.split_once('@').map_or((text, None), |(place, part)| (place, Some(part)));
        let places: Vec<&str> = place.split('.').collect();
        Some(match (&places[..], part) {
            ([figure], None) => Self::Vehicle { figure: unmarked(figure)? },
            ([figure], Some(part)) => Self::Part { figure: unmarked(figure)?, part: unmarked(part)? },
            ([port, field], Some(part)) => {
                Self::Port { port: unmarked(port)?, field: unmarked(field)?, part: unmarked(part)? }
            }
            _ => return None,
        })
    }
}

impl fmt::Display for FactKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let word = |id| Marked(id, OF_FACTS);
        // nothing stands behind the part, so that a dot in it means nothing
        let of = |part| Marked(part, "@");
        match self {
            Self::Vehicle { figure } => write!(f, "{}", word(figure)),
            Self::Part { figure, part } => write!(f, "{}@{}", word(figure), of(part)),
            Self::Port { port, field, part } => write!(f, "{}.{}@{}", word(port), word(field), of(part)),
        }
    }
}

impl FromStr for FactKey {
    type Err = KeyError;

    fn from_str(text: &str) -> Result<Self, KeyError> {
        let key = Self::read(text).filter(|key| is_its_text(key, text));
        key.ok_or_else(|| KeyError::Form { found: text.to_owned(), of: KeyOf::Measured, form: FORM })
    }
}

impl Ord for FactKey {
    fn cmp(&self, other: &Self) -> Ordering {
        self.to_string().cmp(&other.to_string())
    }
}

impl PartialOrd for FactKey {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
