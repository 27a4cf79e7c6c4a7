//! Keys of companions: what says yes, leaves out or picks another part refers to.

use std::fmt;
use std::str::FromStr;

use super::mark::{Marked, OF_KEYS, unmarked};
use super::{KeyError, KeyOf, is_its_text};

/// Names a companion by what asks for it, not by its part: another part in its stead has the same key.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CompanionKey {
    /// A part put into a joint whose ports do not agree: `bridge:JOINT:N`.
    Bridge {
        /// Joint id.
        joint: String,
        /// Which of a chain, from 0 at the joint's first end.
        n: u32,
    },
    /// Closes a port that nothing hangs on any more: `cap:JOINT`.
    Cap {
        /// Joint id.
        joint: String,
    },
    /// Goes into a place nobody chose for: `position:POSITION`.
    Fill {
        /// Position id.
        position: String,
    },
    /// Supplies what a part needs: `need:POSITION:PART:NEED`.
    Need {
        /// Id of the position whose choice caused it; `None` where there is none, written as `-`.
        cause: Option<String>,
        /// Id of the part that asks.
        asker: String,
        /// Need id.
        need: String,
    },
    /// Renewed because a joint is opened: `joint:JOINT:CLASS`, and `joint:JOINT:CLASS:N` for each further one.
    Seal {
        /// Joint id.
        joint: String,
        /// Class id.
        class: String,
        /// Which of several of a class, from 0.
        n: u32,
    },
    /// Wanted because something is apart, with no place of its own: `apart:OPENING:CLASS`, and
    /// `apart:OPENING@WHERE+WHERE:CLASS` where the vehicle has the opening at several spots.
    Apart {
        /// Opening id.
        opening: String,
        /// The words on where that is; none where the vehicle has the opening once.
        at: Vec<String>,
        /// Class id.
        class: String,
    },
    /// Renewed in its place because something beside it is apart: `beside:POSITION`.
    Beside {
        /// Position id.
        position: String,
    },
    /// Fluid of opened circuits: `fluid:CLASS`, and `fluid:CLASS:N` for each further container.
    Fluid {
        /// Class id.
        class: String,
        /// Which of several containers, from 0.
        n: u32,
    },
    /// The survey condemned what is kept: `survey:POSITION`.
    Survey {
        /// Position id.
        position: String,
    },
    /// What is kept is over its age: `age:POSITION`.
    Age {
        /// Position id.
        position: String,
    },
}

const FORMS: &[&str] = &[
    "bridge:JOINT:NUMBER",
    "cap:JOINT",
    "position:POSITION",
    "need:POSITION:PART:NEED (\"-\" for no position)",
    "joint:JOINT:CLASS or joint:JOINT:CLASS:NUMBER",
    "apart:OPENING:CLASS or apart:OPENING@WHERE+WHERE:CLASS",
    "beside:POSITION",
    "fluid:CLASS or fluid:CLASS:NUMBER",
    "survey:POSITION",
    "age:POSITION",
];

impl CompanionKey {
    /// The position that it is about and nothing else; `None`: it is about a joint, an opening, a need, a fluid.
    #[must_use]
    pub fn position(&self) -> Option<&str> {
        match self {
            Self::Fill { position }
            | Self::Survey { position }
            | Self::Age { position }
            | Self::Beside { position } => Some(position),
            Self::Cap { .. }
            | Self::Bridge { .. }
            | Self::Seal { .. }
            | Self::Need { .. }
            | Self::Apart { .. }
            | Self::Fluid { .. } => None,
        }
    }

    /// Of what goes into a place nobody chose for.
    pub fn fill(position: impl Into<String>) -> Self {
        Self::Fill { position: position.into() }
    }

    /// Of what is renewed in its place because something beside it is apart.
    pub fn beside(position: impl Into<String>) -> Self {
        Self::Beside { position: position.into() }
    }

    /// Of what the survey condemned.
    pub fn survey(position: impl Into<String>) -> Self {
        Self::Survey { position: position.into() }
    }

    fn read(text: &str) -> Option<Self> {
        let pieces: Vec<&str> = text.split(':').collect();
        Some(match pieces[..] {
            ["bridge", joint, n] => Self::Bridge { joint: unmarked(joint)?, n: n.parse().ok()? },
            ["cap", joint] => Self::Cap { joint: unmarked(joint)? },
            ["position", position] => Self::Fill { position: unmarked(position)? },
            ["need", cause, asker, need] => {
                let (cause, asker, need) = need_of(cause, asker, need)?;
                Self::Need { cause, asker, need }
            }
            ["joint", joint, class] => Self::Seal { joint: unmarked(joint)?, class: unmarked(class)?, n: 0 },
            ["joint", joint, class, n] => {
                Self::Seal { joint: unmarked(joint)?, class: unmarked(class)?, n: n.parse().ok()? }
            }
            ["apart", opening, class] => {
                let (opening, at) = id_at(opening)?;
                Self::Apart { opening, at, class: unmarked(class)? }
            }
            ["beside", position] => Self::Beside { position: unmarked(position)? },
            ["fluid", class] => Self::Fluid { class: unmarked(class)?, n: 0 },
            ["fluid", class, n] => Self::Fluid { class: unmarked(class)?, n: n.parse().ok()? },
            ["survey", position] => Self::Survey { position: unmarked(position)? },
            ["age", position] => Self::Age { position: unmarked(position)? },
            _ => return None,
        })
    }
}

impl fmt::Display for CompanionKey {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let id = |id| Marked(id, OF_KEYS);
        match self {
            Self::Bridge { joint, n } => write!(f, "bridge:{}:{n}", id(joint)),
            Self::Cap { joint } => write!(f, "cap:{}", id(joint)),
            Self::Fill { position } => write!(f, "position:{}", id(position)),
            Self::Need { cause, asker, need } => write_need(f, cause.as_deref(), asker, need),
            Self::Seal { joint, class, n: 0 } => write!(f, "joint:{}:{}", id(joint), id(class)),
            Self::Seal { joint, class, n } => write!(f, "joint:{}:{}:{n}", id(joint), id(class)),
            Self::Apart { opening, at, class } => {
                f.write_str("apart:")?;
                write_id_at(f, opening, at)?;
                write!(f, ":{}", id(class))
            }
            Self::Beside { position } => write!(f, "beside:{}", id(position)),
            Self::Fluid { class, n: 0 } => write!(f, "fluid:{}", id(class)),
            Self::Fluid { class, n } => write!(f, "fluid:{}:{n}", id(class)),
            Self::Survey { position } => write!(f, "survey:{}", id(position)),
            Self::Age { position } => write!(f, "age:{}", id(position)),
        }
    }
}

impl FromStr for CompanionKey {
    type Err = KeyError;

    fn from_str(text: &str) -> Result<Self, KeyError> {
        let key = Self::read(text).filter(|key| is_its_text(key, text));
        key.ok_or_else(|| KeyError::new(text, KeyOf::Companion, FORMS))
    }
}

/// An id with what tells it from others of that id: `ID`, `ID@WORD+WORD`.
pub(super) fn write_id_at(f: &mut fmt::Formatter<'_>, id: &str, at: &[String]) -> fmt::Result {
    write!(f, "{}", Marked(id, OF_KEYS))?;
    for (n, word) in at.iter().enumerate() {
        write!(f, "{}{}", if n == 0 { '@' } else { '+' }, Marked(word, OF_KEYS))?;
    }
    Ok(())
}

/// What such a text names.
pub(super) fn id_at(text: &str) -> Option<(String, Vec<String>)> {
    let (id, words) = text.split_once('@').map_or((text, None), |(id, words)| (id, Some(words)));
    let at = words.into_iter().flat_map(|words| words.split('+')).map(unmarked);
    Some((unmarked(id)?, at.collect::<Option<_>>()?))
}

/// What stands for no position in the key of a need.
const NO_CAUSE: &str = "-";

/// A need as it stands in a key: `need:POSITION:PART:NEED`.
pub(super) fn write_need(
    f: &mut fmt::Formatter<'_>,
    cause: Option<&str>,
    asker: &str,
    need: &str,
) -> fmt::Result {
    match cause {
        None => write!(f, "need:{NO_CAUSE}")?,
        // a position of that id is no "none"
        Some(NO_CAUSE) => f.write_str("need:%2D")?,
        Some(cause) => write!(f, "need:{}", Marked(cause, OF_KEYS))?,
    }
    write!(f, ":{}:{}", Marked(asker, OF_KEYS), Marked(need, OF_KEYS))
}

/// What such a key names.
pub(super) fn need_of(cause: &str, asker: &str, need: &str) -> Option<(Option<String>, String, String)> {
    let cause = if cause == NO_CAUSE { None } else { Some(unmarked(cause)?) };
    Some((cause, unmarked(asker)?, unmarked(need)?))
}
