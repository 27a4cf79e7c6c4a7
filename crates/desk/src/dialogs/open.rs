//! The dialog that is open, and what has been answered in it so far.

use knockon_core::sheet::Way;
use serde::{Deserialize, Serialize};

use crate::app::work::Purpose;

/// What has been answered so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewSheet {
    /// As typed.
    pub name: String,
    /// Vehicle id.
    pub vehicle: String,
    /// The name is the vehicle's until somebody types another.
    pub own_name: bool,
    /// Not drawn yet: the name takes the keyboard.
    pub fresh: bool,
}

/// Why a file would be replaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// It was there before.
    Exists,
    /// Somebody else has written it since it was opened here.
    Changed,
    /// It was there and is not any more: nothing would be replaced, but this may be another folder.
    Gone,
}

/// What is named.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Of {
    /// Another plan, which begins as the one that is open.
    Copy,
    /// The plan that is open.
    Plan,
    /// The sheet.
    Sheet,
}

/// A name being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Naming {
    /// Of what.
    pub of: Of,
    /// As typed.
    pub name: String,
    /// Not drawn yet: the field takes the keyboard.
    pub fresh: bool,
}

/// Money that came back for a line of the buying record, being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Returned {
    /// Part id of the line.
    pub part: String,
    /// Refunded, as typed.
    pub refund: String,
    /// Core deposit returned, as typed.
    pub core: String,
    /// Not drawn yet: the first field takes the keyboard.
    pub fresh: bool,
}

/// Where it goes, being said.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Directing {
    /// One of the four; `None`: not chosen yet.
    pub way: Option<Way>,
    /// What for, as typed.
    pub what_for: String,
    /// Wanted by when, as typed.
    pub deadline: String,
    /// Who drives, as typed.
    pub drivers: String,
    /// For how much, as typed.
    pub budget: String,
    /// What the plan is held to, by the ids of aims.
    pub aims: Vec<String>,
    /// Why, as typed.
    pub reason: String,
    /// Not drawn yet: the way takes the keyboard.
    #[serde(skip)]
    pub fresh: bool,
}

/// A dialog that is open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Dialog {
    /// A path is wanted.
    Path {
        /// What for.
        purpose: Purpose,
        /// As typed.
        text: String,
        /// Not drawn yet: the field takes the keyboard.
        fresh: bool,
    },
    /// A new sheet is begun.
    New(NewSheet),
    /// A plan or the sheet gets a name.
    Name(Naming),
    /// Money came back.
    CameBack(Returned),
    /// Where it goes is said.
    Direction(Directing),
    /// A file would be replaced.
    Replace {
        /// What for.
        purpose: Purpose,
        /// The file.
        path: String,
        /// Why this is asked.
        why: Why,
    },
    /// What was done.
    History,
    /// The keys of the view.
    Keys,
    /// All commands.
    Palette {
        /// As typed.
        text: String,
        /// The entry Enter takes.
        at: usize,
        /// Not drawn yet.
        fresh: bool,
    },
}
