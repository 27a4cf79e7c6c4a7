//! What the page of the survey keeps: where the keyboard is, what is typed, and what cannot be read of it.

use knockon_core::sheet::{Route, Verdict};
use knockon_core::survey::{Line, Outcome, Survey};

use crate::look::typed::Fields;
use crate::survey::for_sale::state::SaleState;

/// Names a line: position and inspection.
pub type At = (String, String);

/// What of the survey stands on the page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shown {
    /// The walk round the vehicle.
    #[default]
    Walk,
    /// What the vehicle is.
    WhatItIs,
    /// What it would come to, before it is bought.
    BeforeBuying,
}

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct WalkState {
    /// The line the keyboard is on, or was on last.
    pub at: Option<At>,
    /// The line whose field takes the keyboard in the next frame.
    pub to: Option<At>,
    /// What is typed, and at which line.
    pub typed: Option<(At, String)>,
    /// What of it cannot be read, and at which line.
    pub wrong: Option<(At, String)>,
    /// The line that was read last.
    pub last: Option<At>,
    /// Initials of who reads.
    pub by: String,
    /// A reason to put the line off, as it is typed.
    pub reason: String,
    /// What was seen besides, as it is typed, and how bad it is.
    pub seen: (String, Verdict),
    /// What stands there.
    pub shown: Shown,
    /// A vehicle that is for sale.
    pub sale: SaleState,
    /// What is being typed into its fields.
    pub fields: Fields,
}

/// How a line reads at a glance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// It has a verdict.
    Verdict(Verdict),
    /// It is to be measured better.
    Undecided,
    /// It is to be measured.
    Open,
    /// Something else stands for it, or it waits.
    Waits,
}

impl Reads {
    /// Of a line.
    pub fn of(line: &Line) -> Self {
        match line.outcome {
            Outcome::Verdict(verdict) => Self::Verdict(verdict),
            Outcome::Undecided { .. } => Self::Undecided,
            _ if line.is_open() => Self::Open,
            _ => Self::Waits,
        }
    }
}

/// The name of a line.
pub fn name(line: &Line) -> At {
    (line.position.clone(), line.inspection.clone())
}

impl WalkState {
    /// The line of a name.
    pub fn find<'a>(found: &'a Survey, at: &At) -> Option<&'a Line> {
        found.lines.iter().find(|line| line.position == at.0 && line.inspection == at.1)
    }

    /// The line the keyboard is on; where it was on none, the first that is open.
    pub fn here<'a>(&self, found: &'a Survey) -> Option<&'a Line> {
        let at = self.at.as_ref().and_then(|at| Self::find(found, at));
        at.or_else(|| found.open().next()).or_else(|| found.lines.first())
    }

    /// What one key takes: what the line proposes that the keyboard is on, else the one that was read last.
    pub fn proposed<'a>(&self, found: &'a Survey) -> Option<(&'a Line, Route)> {
        let lines = [self.at.as_ref(), self.last.as_ref()].into_iter().flatten();
        lines.filter_map(|at| Self::find(found, at)).find_map(|line| Some((line, line.proposes?)))
    }

    /// The name of the line so many lines away; of those that are open alone, where they are wanted.
    pub fn away(&self, found: &Survey, from: &At, down: bool, open: bool) -> Option<At> {
        let at = found.lines.iter().position(|line| name(line) == *from)?;
        let is_wanted = |line: &&Line| !open || line.is_open();
        let next = if down {
            found.lines[at + 1..].iter().find(is_wanted)
        } else {
            found.lines[..at].iter().rev().find(is_wanted)
        };
        next.map(name)
    }
}
