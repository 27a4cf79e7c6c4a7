//! Parts being typed: the state of the page of the user's own parts, and what is asked of it.

use std::collections::BTreeMap;

use crate::own_parts::draft::Draft;

/// State of the page.
#[derive(Clone, Debug, Default)]
pub struct Parts {
    /// What is being typed, by the place or part it is for; kept until it is saved or thrown away.
    pub drafts: BTreeMap<Target, Draft>,
    /// The one shown.
    pub at: Option<Target>,
    /// Just opened: the name takes the keyboard.
    pub fresh: bool,
}

/// What a draft is for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Target {
    /// A new part for a position.
    Place(String),
    /// A part that has been saved, by id.
    Part(String),
}

/// What is asked of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Show a form, begun where it is new.
    Form(Target),
    /// Save the part that is shown.
    Save,
    /// Throw away what was typed in the form that is shown.
    Drop,
    /// Take a saved part out of the sheet, and out of the plans that use it.
    Remove(String),
}
