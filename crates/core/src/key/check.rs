//! Keys of checks: of what clashes, of what is to be measured, of all that was looked at.

use std::fmt;
use std::str::FromStr;

use super::companion::{id_at, need_of, write_id_at, write_need};
use super::mark::{Marked, OF_KEYS, unmarked};
use super::{KeyError, KeyOf, is_its_text};

/// Names what was checked. A clash, something to measure and a check that holds have the same key for the same thing.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CheckKey {
    /// Ports that meet: `joint:JOINT`.
    Joint {
        /// Joint id.
        joint: String,
    },
    /// A figure that must hold: `limit:LIMIT`, and `limit:LIMIT@POSITION+POSITION` where it holds for each of several
    /// places or pairs of places.
    Limit {
        /// Limit id.
        limit: String,
        /// Ids of the positions that it is about here; empty where the vehicle has the limit once.
        at: Vec<String>,
    },
    /// What a part needs and nothing supplies: `need:POSITION:PART:NEED`.
    Need {
        /// Id of the position whose choice caused it; `None` where there is none, written as `-`.
        cause: Option<String>,
        /// Id of the part that asks.
        asker: String,
        /// Need id.
        need: String,
    },
    /// How old the part of a place is: `age:POSITION`.
    Age {
        /// Position id.
        position: String,
    },
    /// How old the fluid of a circuit is: `fluid-age:CIRCUIT`.
    FluidAge {
        /// Circuit id.
        circuit: String,
    },
    /// A port that its part cannot do without, where no joint of the vehicle says what it meets: `port:POSITION:PORT`.
    Port {
        /// Position id.
        position: String,
        /// Port name.
        port: String,
    },
    /// Something shared and added up: `pool:POOL`.
    Pool {
        /// Pool id.
        pool: String,
    },
}

const FORMS: &[&str] = &[
    "joint:JOINT",
    "limit:LIMIT or limit:LIMIT@POSITION+POSITION",
    "need:POSITION:PART:NEED (\"-\" for no position)",
    "pool:POOL",
    "age:POSITION",
    "fluid-age:CIRCUIT",
    "port:POSITION:PORT",
];

impl CheckKey {
    /// Of ports that meet.
    pub fn joint(joint: impl Into<String>) -> Self {
        Self::Joint { joint: joint.into() }
    }

    /// Of a limit that the vehicle has once.
    pub fn limit(limit: impl Into<String>) -> Self {
        Self::Limit { limit: limit.into(), at: Vec::new() }
    }

    /// Of a pool.
    pub fn pool(pool: impl Into<String>) -> Self {
        Self::Pool { pool: pool.into() }
    }

    fn read(text: &str) -> Option<Self> {
        let pieces: Vec<&str> = text.split(':').collect();
        Some(match pieces[..] {
            ["joint", joint] => Self::Joint { joint: unmarked(joint)? },
            ["limit", limit] => {
                let (limit, at) = id_at(limit)?;
                Self::Limit { limit, at }
            }
            ["need", cause, asker, need] => {
                let (cause, asker, need) = need_of(cause, asker, need)?;
                Self::Need { cause, asker, need }
            }
            ["pool", pool] => Self::Pool { pool: unmarked(pool)? },
            ["age", position] => Self::Age { position: unmarked(position)? },
            ["port", position, port] => Self::Port { position: unmarked(position)?, port: unmarked(port)? },
            ["fluid-age", circuit] => Self::FluidAge { circuit: unmarked(circuit)? },
            _ => return None,
        })
    }
}

impl fmt::Display for CheckKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let id = |id| Marked(id, OF_KEYS);
        match self {
            Self::Joint { joint } => write!(f, "joint:{}", id(joint)),
            Self::Limit { limit, at } => {
                f.write_str("limit:")?;
                write_id_at(f, limit, at)
            }
            Self::Need { cause, asker, need } => write_need(f, cause.as_deref(), asker, need),
            Self::Pool { pool } => write!(f, "pool:{}", id(pool)),
            Self::Age { position } => write!(f, "age:{}", id(position)),
            Self::Port { position, port } => write!(f, "port:{}:{}", id(position), id(port)),
            Self::FluidAge { circuit } => write!(f, "fluid-age:{}", id(circuit)),
        }
    }
}

impl FromStr for CheckKey {
    type Err = KeyError;

    fn from_str(text: &str) -> Result<Self, KeyError> {
        let key = Self::read(text).filter(|key| is_its_text(key, text));
        key.ok_or_else(|| KeyError::new(text, KeyOf::Check, FORMS))
    }
}
