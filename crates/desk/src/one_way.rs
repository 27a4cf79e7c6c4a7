//! Steps that cannot be undone, or not without repair, and what is said of them.

use knockon_core::key::CompanionKey;
use knockon_core::library::{Part, Reversible};
use knockon_core::sheet::Choice;

use crate::spot::Spot;

/// Frames in which the question is brought into sight: the list above it may still change its height.
pub const FRESH: u8 = 4;

/// A step that is asked for where it cannot be undone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OneWay {
    /// A route at a position.
    Route(String, Choice),
    /// Yes to the part proposed for a companion: its key and the part.
    Accept(CompanionKey, String),
    /// Another part for a companion: its key and the part.
    Pick(CompanionKey, String),
}

impl OneWay {
    /// Where it is chosen.
    pub fn spot(&self) -> Spot {
        match self {
            Self::Route(position, _) => Spot::Position(position.clone()),
            Self::Accept(key, _) | Self::Pick(key, _) => Spot::Companion(key.clone()),
        }
    }

    /// What a yes is kept under: who took a part knowingly is not asked again when accepting it.
    pub fn agreed(&self) -> Self {
        match self {
            Self::Pick(key, part) => Self::Accept(key.clone(), part.clone()),
            other => other.clone(),
        }
    }
}

/// A step that cannot be undone, or not without repair, waiting for a yes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What was chosen.
    pub step: OneWay,
    /// What cannot be undone, in words.
    pub words: Vec<String>,
    /// The heading.
    pub title: &'static str,
    /// Where the choice was made, to go back to.
    pub from: Option<Spot>,
    /// Frames it is still brought into sight; in the first of them it takes the keyboard.
    pub fresh: u8,
}

/// What cannot be undone; `None` where everything can.
pub fn one_way(part: &Part) -> Option<(&'static str, Vec<String>)> {
    let (title, what) = match part.reversible {
        Reversible::Yes => return None,
        Reversible::Partly => (
            "This can be undone only with repair",
            "The part comes off again, but what is drilled, cut or machined to fit it stays until it is repaired.",
        ),
        Reversible::No => {
            ("This cannot be undone", "Once the work is done, this place cannot be put back as it was found.")
        }
    };
    // what the part itself says is worth more than a general word
    let mut words = vec![if part.undone.is_empty() { what.to_owned() } else { part.undone.clone() }];
    if part.made && !part.note.is_empty() {
        words.push(part.note.clone());
    }
    words.push("The choice itself can be taken back until the work is begun.".to_owned());
    Some((title, words))
}

#[cfg(test)]
mod tests {
    use super::one_way;
    use knockon_core::library::{Part, Reversible};

    #[test]
    fn only_one_way_parts_have_something_to_say() {
        let mut part = Part { name: "Floor cover".to_owned(), ..Part::default() };
        assert_eq!(one_way(&part), None);
        part.reversible = Reversible::Partly;
        assert!(one_way(&part).is_some_and(|(title, _)| title.contains("repair")));
        part.reversible = Reversible::No;
        part.made = true;
        part.note = "The hole stays.".to_owned();
        let said = one_way(&part);
        assert!(said.is_some_and(|(title, words)| title.contains("cannot") && words.contains(&part.note)));
        part.undone = "The floor is cut; keep the piece.".to_owned();
        let said = one_way(&part);
        assert!(said.is_some_and(|(_, words)| words.first() == Some(&part.undone) && words.len() == 3));
    }
}
