//! What the page of a vehicle that is for sale keeps.

use std::path::PathBuf;
use std::sync::Arc;

use knockon_core::candidate::Candidate;
use knockon_core::library::Stage;

use crate::look::typed::Fields;
use crate::survey::state::At;

/// So many other sheets are held against the one that is open.
pub const MOST: usize = 4;

/// What is worked out: of a revision, up to a stage, with these sheets beside it.
pub type Asked = (u64, Stage, Vec<PathBuf>);

/// A sheet that is held against the one that is open.
#[derive(Clone, Debug)]
pub struct Other {
    /// Its file.
    pub path: PathBuf,
    /// Up to which stage it was weighed, and by which library.
    pub by: (Stage, usize),
    /// Its name and what it comes to, or why it cannot be read.
    pub is: Result<(String, Candidate), String>,
}

/// What was worked out.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// The vehicle of the open sheet.
    pub own: Candidate,
    /// The others, in the order they were taken in.
    pub others: Vec<Other>,
}

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct SaleState {
    /// What is being typed into its fields.
    pub fields: Fields,
    /// How far it is brought.
    pub upto: Stage,
    /// The files held against it.
    pub paths: Vec<PathBuf>,
    /// What was worked out last, and of what.
    pub told: Option<(Asked, Arc<Weighed>)>,
    /// What is being worked out, or was.
    pub of: Option<Asked>,
    /// It was given up.
    pub stopped: bool,
    /// The look the keyboard is on.
    pub at: Option<At>,
    /// The look is to be brought into view.
    pub to_view: bool,
}

impl SaleState {
    /// Takes in a file to be held against the open sheet; one that is there already stays where it is.
    pub fn take_in(&mut self, path: PathBuf) {
        if !self.paths.contains(&path) {
            self.paths.push(path);
            let over = self.paths.len().saturating_sub(MOST);
            self.paths.drain(..over);
        }
    }
}
