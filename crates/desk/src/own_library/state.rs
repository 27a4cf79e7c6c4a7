//! What the page of the owner's library keeps, and what is asked of it.

use std::sync::Arc;

use knockon_store::meeting::{Both, Change, Way, Would};
use knockon_store::taking::Look;

/// What is changed in each plan of a sheet: its name, and sentences. Plans that stay as they are are not in it.
pub type Changes = Vec<(String, Vec<String>)>;

/// What came of looking at a file or folder.
#[derive(Debug)]
pub struct Seen {
    /// Its path as typed.
    pub from: String,
    /// The revision of the sheet its changes are of.
    pub revision: u64,
    /// What it brings.
    pub look: Look,
    /// What it changes in the sheet that is open.
    pub changes: Changes,
}

/// What is known of what was asked for.
#[derive(Clone, Debug, Default)]
pub enum Looked {
    /// Nothing was asked for.
    #[default]
    Nothing,
    /// It is being looked at: its path as typed.
    UnderWay(String),
    /// It cannot be taken in: its path as typed, and sentences on why.
    Not(String, String),
    /// It was looked at.
    Seen(Arc<Seen>),
}

/// What would come of a decision.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The change.
    pub would: Would,
    /// What it changes in the sheet that is open.
    pub changes: Changes,
}

/// What would come of each way to decide; `Err`: why it cannot be.
#[derive(Clone, Debug)]
pub struct Outcomes {
    /// Taking theirs.
    pub theirs: Result<Outcome, String>,
    /// Both; `None`: only one of them can be there.
    pub both: Option<Result<Outcome, String>>,
}

impl Outcomes {
    /// What would come of a way.
    pub fn of(&self, way: Way) -> Option<&Result<Outcome, String>> {
        match way {
            Way::Theirs => Some(&self.theirs),
            Way::Both => self.both.as_ref(),
        }
    }
}

/// Of which library, revision and entry something is.
pub type Of = (usize, u64, String);

/// State of the page.
#[derive(Clone, Debug, Default)]
pub struct OwnLibrary {
    /// The path of a file or folder, as typed.
    pub path: String,
    /// The field of the path is to take the keyboard.
    pub focus: bool,
    /// What came of looking at it.
    pub looked: Looked,
    /// What both have, once that is known.
    pub both: Option<Vec<Both>>,
    /// The library that is of, or is being worked out for.
    pub both_of: Option<usize>,
    /// The entry that is open, by its path.
    pub at: Option<String>,
    /// What would come of deciding it; `None` while it is worked out.
    pub outcomes: Option<(Of, Option<Arc<Outcomes>>)>,
    /// What was changed in this session, the last at the end: what the entry is called, and the change.
    pub done: Vec<(String, Change)>,
}

impl OwnLibrary {
    /// The entry that is open.
    pub fn open(&self) -> Option<&Both> {
        let at = self.at.as_ref()?;
        self.both.iter().flatten().find(|both| both.path == *at)
    }

    /// What would come of deciding the entry that is open.
    pub fn outcomes(&self) -> Option<&Outcomes> {
        let (of, found) = self.outcomes.as_ref()?;
        found.as_deref().filter(|_| Some(&of.2) == self.at.as_ref())
    }

    /// Closes one thing: the open entry, else what was looked at. Whether there was one.
    pub fn step_back(&mut self) -> bool {
        if self.at.take().is_some() {
            return true;
        }
        !matches!(std::mem::take(&mut self.looked), Looked::Nothing)
    }
}

/// What is asked of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// Look at what lies under this path.
    Look(String),
    /// Take in what was looked at.
    Take,
    /// Leave what was looked at.
    Leave,
    /// Open an entry that both have, or none.
    Show(Option<String>),
    /// The open entry stays as the owner has it.
    Keep,
    /// It is to be decided again.
    Ask,
    /// Decide the open entry otherwise.
    Decide(Way),
    /// Take the last change back.
    Back,
}
