//! The survey: what is inspected on a vehicle, what was read, and what that says.
//!
//! In words. Every place with a part of a class that an inspection is *for* has that inspection ([`walk`]); the walk goes by
//! zones in their order. Of what was read the newest reading counts, for each of several alike by itself, and the worst of
//! them ([`readings`]). A quantity is held to the bounds of the maker where the sheet has them, else to those of the first
//! case that holds, else to those of the inspection ([`bounds`]). What was measured and what was seen are known each by
//! itself: who measures takes back nothing that was seen. Nearer to an end of a band than the tool reads, it is
//! undecided ([`judge`]). What is not measured is never good. What the survey says of a place as a whole is the worse of what
//! a person says and of all that was read and seen there ([`verdicts`]).

mod around;
mod bounds;
mod judge;
mod readings;
mod verdicts;
mod walk;

use std::collections::{BTreeMap, BTreeSet};

use crate::catalogue::{Catalogue, ReadAs};
use crate::date::{Date, Dated};
use crate::identity::Told;
use crate::library::{LookedAtWith, Posture, Stage};
use crate::phrase::Phrase;
use crate::sheet::{Direction, Identity, NotDriven, PutOff, Reading, Route, Seen, Verdict};
use crate::units::Dimension;

pub use judge::Outcome;
pub(crate) use verdicts::verdicts;
pub use walk::survey;

/// What somebody typed as a reading, as a sheet holds it: words whole, a bare number with its unit.
///
/// # Errors
/// A sentence with what was expected.
pub fn typed(catalogue: &Catalogue, inspection: &str, text: &str) -> Result<String, String> {
    let known = catalogue.inspections.get(inspection);
    let entry = known.ok_or_else(|| format!("the library has no inspection \"{inspection}\""))?;
    match entry.read {
        ReadAs::Made(_) => Dated::parse(text).map(|dated| dated.text).map_err(|why| why.to_string()),
        ReadAs::Quantity(..) | ReadAs::Look => readings::taken(entry, text).map(|taken| taken.text()),
    }
}

/// One inspection of one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Inspection id.
    pub inspection: String,
    /// Position id.
    pub position: String,
    /// Zone id.
    pub zone: String,
    /// The inspection as shown.
    pub name: String,
    /// The place as shown.
    pub place: String,
    /// How it is measured.
    pub method: Phrase,
    /// With what.
    pub tool: String,
    /// What is read: a quantity of this dimension; `None`: a day, or words alone.
    pub dimension: Option<Dimension>,
    /// The day on which what is there was made is read.
    pub is_date: bool,
    /// The unit that a bare number is taken in; empty for a plain number.
    pub unit: String,
    /// Between which values it is what, in words; empty where there are no bounds.
    pub limits: Phrase,
    /// Who says so, where it is not the library.
    pub whose: String,
    /// What can be seen, each with its verdict.
    pub words: Vec<(String, Verdict)>,
    /// What it comes to.
    pub outcome: Outcome,
    /// What counts: the newest reading of each of several alike. For a date: none.
    pub latest: Vec<Reading>,
    /// The value that counts as written, all of several alike: "left 2 mm, right 0.5 mm". Empty: nothing is read.
    pub value: String,
    /// Readings of it that have a day and a quantity, in the order of their days.
    pub history: Vec<Point>,
    /// Something that can be read or seen there stops the vehicle.
    pub stop: bool,
    /// The stage that wants it.
    pub stage: Stage,
    /// What is to be watched is measured again after so much, in words.
    pub again: Vec<String>,
    /// What a bad reading tells.
    pub tells: String,
    /// Caution ids.
    pub cautions: Vec<String>,
    /// What is proposed: something is outside its bounds, and the plan keeps what is there.
    pub proposes: Option<Route>,
    /// The route it proposes where something is outside its bounds, and the library knows that work.
    pub route: Route,
    /// It is put off, and may be.
    pub put_off: Option<PutOff>,
    /// Its part is off the vehicle when it is measured: it waits for that.
    pub at_the_bench: bool,
    /// Another inspection that may stand for it was done.
    pub answered: bool,
    /// The plan keeps what is there as it is.
    pub stays: bool,
    /// What of it is open still and may be worse than what it comes to: the other side cannot be read.
    pub rest: Option<Outcome>,
    /// How it is done at a vehicle that is for sale; `None`: it is not.
    pub quick: Option<Quick>,
    /// Where its bounds come from.
    pub source: String,
}

/// How something is looked at on a vehicle that is for sale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quick {
    /// Place in that walk, low first.
    pub order: u32,
    /// How long it takes, in s.
    pub seconds: f64,
    /// With what.
    pub with: LookedAtWith,
}

/// A reading with its day.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// The first day it can be of.
    pub on: Date,
    /// What was read, SI.
    pub si: f64,
    /// Which of several alike.
    pub which: String,
}

impl Line {
    /// It is still to be measured, or to be measured better.
    #[must_use]
    pub fn is_open(&self) -> bool {
        !self.at_the_bench && self.put_off.is_none() && self.is_unknown()
    }

    /// Nobody knows it well enough, whether it may wait or not.
    pub(crate) fn is_unknown(&self) -> bool {
        !self.answered && (self.outcome.is_open() || self.rest.is_some())
    }

    /// What may stop the vehicle and is not known well enough where the plan keeps what is there. Putting it off, or waiting
    /// until its part is off, makes nothing known.
    #[must_use]
    pub fn is_open_before_the_road(&self) -> bool {
        self.stop && self.stage == Stage::Sound && self.stays && self.is_unknown()
    }

    /// What it comes to, in words.
    #[must_use]
    pub fn says(&self) -> String {
        let rest = self.rest.iter().map(|rest| format!("; besides: {}", rest.words()));
        self.outcome.words() + &rest.collect::<String>()
    }

    /// Its verdict; `None` where there is none yet.
    #[must_use]
    pub fn verdict(&self) -> Option<Verdict> {
        match self.outcome {
            Outcome::Verdict(verdict) => Some(verdict),
            _ => None,
        }
    }
}

/// What the survey says of a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Position id.
    pub position: String,
    /// As shown.
    pub name: String,
    /// What a person says of it.
    pub said: Option<Verdict>,
    /// The worst of what was read and seen there; `None`: nothing was.
    pub read: Option<Verdict>,
    /// The worse of both.
    pub verdict: Verdict,
    /// A person says it is better than what was read there.
    pub disagrees: bool,
    /// What was seen besides.
    pub seen: Vec<Seen>,
}

/// Where one stands or lies.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WalkZone {
    /// Zone id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// How one is placed.
    pub posture: Posture,
    /// What is done before one begins.
    pub before: String,
    /// Caution ids.
    pub cautions: Vec<String>,
}

/// The survey of a vehicle.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Survey {
    /// The zones that have something to inspect, in the order in which they are walked.
    pub zones: Vec<WalkZone>,
    /// Inspections in the order in which they are done.
    pub lines: Vec<Line>,
    /// What is looked at only before buying, while it is for sale or where somebody looked, in the order of its walk.
    pub before_buying: Vec<Line>,
    /// Places of which something is said, in board order.
    pub places: Vec<Place>,
    /// What the vehicle says it is, and what is made of it; `None`: nobody has looked.
    pub identity: Option<(Identity, Told)>,
    /// Where it goes; `None`: nobody has said.
    pub direction: Option<Direction>,
    /// What its plans are held to, by name.
    pub aims: Vec<String>,
    /// How often the direction was changed.
    pub changed: usize,
    /// The vehicle is not driven on the road.
    pub not_driven: Option<NotDriven>,
    /// Cautions by id, in words: what can happen, and what to do.
    pub cautions: BTreeMap<String, String>,
    /// What of the sheet's survey nothing rests on, in words.
    pub problems: Vec<String>,
}

impl Survey {
    /// All that is looked at before buying, by what one has in the hand and then in the order of that walk.
    #[must_use]
    pub fn quick(&self) -> Vec<(&Line, Quick)> {
        let both = self.lines.iter().chain(&self.before_buying);
        let mut all: Vec<_> = both.filter_map(|line| Some((line, line.quick?))).collect();
        all.sort_by_key(|(_, quick)| (quick.with, quick.order));
        all
    }

    /// The inspections of a zone.
    pub fn of_zone<'a>(&'a self, zone: &'a str) -> impl Iterator<Item = &'a Line> {
        self.lines.iter().filter(move |line| line.zone == zone)
    }

    /// What is still to be measured, in the order of the walk.
    pub fn open(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.is_open())
    }

    /// What must be good or watched before the first road and is not measured, or not well enough.
    pub fn open_before_the_road(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.is_open_before_the_road())
    }

    /// What a line proposes.
    pub fn proposals(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| line.proposes.is_some())
    }

    /// The cautions of a zone and of all that is inspected in it, each once, in words.
    pub fn cautions_in<'a>(&'a self, zone: &'a WalkZone) -> impl Iterator<Item = &'a str> {
        let of_lines = self.of_zone(&zone.id).flat_map(|line| &line.cautions);
        let mut told = BTreeSet::new();
        let ids = zone.cautions.iter().chain(of_lines).filter(move |id| told.insert(id.as_str()));
        ids.filter_map(|id| self.cautions.get(id)).map(String::as_str)
    }

    /// Cautions in words.
    pub fn cautions_of<'a>(&'a self, ids: &'a [String]) -> impl Iterator<Item = &'a str> {
        ids.iter().filter_map(|id| self.cautions.get(id)).map(String::as_str)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]
mod tests;
