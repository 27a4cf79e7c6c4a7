//! Steps that cannot be undone, or not without repair, and what is said of them.

use knockon_core::Edit;
use knockon_core::key::CompanionKey;
use knockon_core::library::{Part, Reversible};
use knockon_core::sheet::Choice;

use crate::app::selection::Spot;
use crate::cures::set::Choices;

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
    /// Several routes at once, and where they are offered together.
    Together(Choices, Place),
    /// What another plan decides at a place: all of it.
    Over(Over),
}

/// What another plan decides at a place, to be brought over into the plan that is open.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Over {
    /// The place.
    pub position: String,
    /// The plan it is brought into.
    pub plan: String,
    /// Its choice; `None`: both choose alike.
    pub choice: Option<Option<Choice>>,
    /// Which part is picked for a companion.
    pub picks: Vec<(CompanionKey, Option<String>)>,
    /// What is left out, and why.
    pub waived: Vec<(CompanionKey, Option<String>)>,
}

impl Over {
    /// Of the edits that bring it over.
    pub fn of(position: &str, plan: &str, edits: Vec<Edit>) -> Self {
        let mut over = Self { position: position.to_owned(), plan: plan.to_owned(), ..Self::default() };
        for edit in edits {
            match edit {
                Edit::Choose { choice, .. } => over.choice = Some(choice),
                Edit::Pick { key, part, .. } => over.picks.push((key, part)),
                Edit::Waive { key, reason, .. } => over.waived.push((key, reason)),
                _ => {}
            }
        }
        over
    }

    /// The edits that bring it over, as one step.
    pub fn edits(&self) -> Vec<Edit> {
        let plan = || self.plan.clone();
        let choice = self.choice.clone().map(|choice| Edit::Choose {
            plan: plan(),
            position: self.position.clone(),
            choice,
        });
        let picks = self.picks.iter().cloned().map(|(key, part)| Edit::Pick { plan: plan(), key, part });
        let waived =
            self.waived.iter().cloned().map(|(key, reason)| Edit::Waive { plan: plan(), key, reason });
        choice.into_iter().chain(picks).chain(waived).collect()
    }

    /// The steps of it that may have to be asked for first.
    pub fn steps(&self) -> Vec<OneWay> {
        let route = self.choice.clone().flatten().map(|choice| OneWay::Route(self.position.clone(), choice));
        let picks =
            self.picks.iter().filter_map(|(key, part)| Some(OneWay::Pick(key.clone(), part.clone()?)));
        route.into_iter().chain(picks).collect()
    }
}

/// Where changes are offered that clear clashes together: a question about them is asked there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The line above the board.
    Line,
    /// The list of what does not fit.
    List,
    /// The panel of a place.
    Panel,
}

impl OneWay {
    /// Where it is chosen; `None`: not at one spot.
    pub fn spot(&self) -> Option<Spot> {
        match self {
            Self::Route(position, _) => Some(Spot::Position(position.clone())),
            Self::Over(over) => Some(Spot::Position(over.position.clone())),
            Self::Accept(key, _) | Self::Pick(key, _) => Some(Spot::Companion(key.clone())),
            Self::Together(..) => None,
        }
    }

    /// What a yes is kept under: who took a part knowingly is not asked again when accepting it, nor for one of several
    /// routes.
    pub fn agreed(&self) -> Vec<Self> {
        match self {
            Self::Pick(key, part) => vec![Self::Accept(key.clone(), part.clone())],
            Self::Together(choices, _) => {
                choices.iter().map(|(place, choice)| Self::Route(place.clone(), choice.clone())).collect()
            }
            Self::Over(over) => over.steps().iter().flat_map(Self::agreed).collect(),
            other => vec![other.clone()],
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
    let (title, mut words) = said(part)?;
    words.push("The choice itself can be taken back until the work is begun.".to_owned());
    Some((title, words))
}

/// What cannot be undone of several parts, each with the name of its place; `None` where everything can.
pub fn one_ways(parts: &[(&str, &Part)]) -> Option<(&'static str, Vec<String>)> {
    let told: Vec<_> = parts.iter().filter_map(|(place, part)| Some((*place, part, said(part)?))).collect();
    // the harder word stands for all
    let (.., (title, _)) = told.iter().max_by_key(|(_, part, _)| part.reversible == Reversible::No)?;
    let all = told.iter().map(|(place, _, (_, words))| format!("{place}: {}", words.join(" ")));
    let last = "The choices themselves can be taken back until the work is begun.".to_owned();
    Some((title, all.chain([last]).collect()))
}

fn said(part: &Part) -> Option<(&'static str, Vec<String>)> {
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
    Some((title, words))
}

#[cfg(test)]
mod tests {
    use super::{one_way, one_ways};
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
        // several are one question, with the harder word and each by its place
        let plain = Part::default();
        let drilled =
            Part { reversible: Reversible::Partly, undone: "The holes stay.".into(), ..Part::default() };
        assert_eq!(one_ways(&[("Fan", &plain)]), None);
        let Some((title, words)) = one_ways(&[("Fan", &plain), ("Floor", &part), ("Dash", &drilled)]) else {
            panic!("there is something to ask")
        };
        assert_eq!(title, "This cannot be undone");
        assert_eq!(words[0], "Floor: The floor is cut; keep the piece. The hole stays.");
        assert_eq!((words[1].as_str(), words.len()), ("Dash: The holes stay.", 3));
    }
}
