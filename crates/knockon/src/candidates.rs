//! `knockon candidates`: vehicles that are for sale, side by side.

use knockon_core::candidate::{Candidate, candidate};
use knockon_core::library::Stage;
use knockon_core::meant::{nearest, then};
use knockon_report::candidate::{Named, json, text};

use crate::commands::{Done, Wanted, open};
use crate::terminal::{say, say_json};

/// So many are held against each other at once.
pub const MOST_CANDIDATES: usize = 8;

/// A stage as it is typed.
pub fn stage(text: &str) -> Result<Stage, String> {
    let is_meant = |stage: &Stage| stage.word().eq_ignore_ascii_case(text.trim());
    Stage::ALL.into_iter().find(is_meant).ok_or_else(|| {
        let near = nearest(text, Stage::ALL.iter().map(|stage| stage.word()));
        format!("no stage \"{text}\"{}", then(near, "expected sound, seen, stretched or bare"))
    })
}

/// Prints what each comes to.
pub fn candidates(wanted: &[Wanted], upto: Stage, as_json: bool) -> Done {
    let mut all: Vec<(String, Candidate)> = Vec::new();
    for wanted in wanted {
        let opened = open(wanted)?;
        opened.complain();
        // `open` has told of a vehicle that the library does not know
        let found = candidate(&opened.sheet, &opened.catalogue, upto).unwrap_or_default();
        all.push((opened.sheet.name, found));
    }
    let named: Vec<Named<'_>> = all.iter().map(|(name, is)| Named { name, is }).collect();
    if as_json { say_json(&json(&named, upto)) } else { say(&text(&named, upto)) }
}
