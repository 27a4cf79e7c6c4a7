//! What the find field and the palette find: one search over everything of the plan, taken apart when somebody asks.

pub mod deeds;
pub mod found_list;
pub mod leads;

use std::collections::BTreeSet;
use std::sync::{Arc, Weak};

use knockon_core::assessment::Assessment;
use knockon_core::find::{Finder, Found, OnOffer, What};
use knockon_core::library::{Part, Table, Written};
use knockon_core::{Catalogue, Sheet};

use crate::app::selection::Spot;

/// What a search goes by.
pub struct Source<'a> {
    pub revision: u64,
    pub sheet: &'a Sheet,
    pub a: &'a Assessment,
    pub catalogue: &'a Arc<Catalogue>,
}

/// The parts of a library and of a sheet, taken apart: kept, for that takes most of the tenth of a second by which a first
/// search of the example is slower than none, without optimisation.
#[derive(Clone, Debug)]
struct Parts {
    of: (Weak<Catalogue>, Table<Written<Part>>),
    index: Arc<OnOffer>,
}

/// The search, and what was found last.
#[derive(Clone, Debug, Default)]
pub struct Search {
    parts: Option<Parts>,
    finder: Option<(u64, Finder)>,
    asked: Option<(u64, String)>,
    /// What answers, the best first.
    pub found: Vec<Found>,
    /// Rows of the board that answer.
    pub hits: BTreeSet<Spot>,
    /// Which of what was found the keyboard is on.
    pub at: usize,
    /// The list under the find field is open.
    pub open: bool,
    /// A part on offer that is to come into view: position and part.
    pub offer: Option<(String, String)>,
}

impl Search {
    /// Looks for what is asked now, unless that was done.
    pub fn look(&mut self, of: &Source<'_>, query: &str) {
        let query = query.trim();
        if self.asked.as_ref().is_some_and(|(revision, asked)| *revision == of.revision && asked == query) {
            return;
        }
        self.asked = Some((of.revision, query.to_owned()));
        self.at = 0;
        self.found = if query.is_empty() { Vec::new() } else { self.finder(of).find(query) };
        self.hits = self.found.iter().filter_map(spot).collect();
    }

    fn finder(&mut self, of: &Source<'_>) -> &Finder {
        if self.finder.as_ref().is_none_or(|(revision, _)| *revision != of.revision) {
            self.finder = None;
        }
        let parts = &mut self.parts;
        &self.finder.get_or_insert_with(|| (of.revision, made(parts, of))).1
    }
}

fn made(parts: &mut Option<Parts>, of: &Source<'_>) -> Finder {
    let catalogue = of.catalogue.for_sheet(of.sheet);
    let is_same = |parts: &Parts| {
        Weak::ptr_eq(&parts.of.0, &Arc::downgrade(of.catalogue)) && parts.of.1 == of.sheet.parts
    };
    let known = parts.take().filter(is_same).unwrap_or_else(|| Parts {
        of: (Arc::downgrade(of.catalogue), of.sheet.parts.clone()),
        index: Arc::new(OnOffer::new(&catalogue)),
    });
    let index = Arc::clone(&known.index);
    *parts = Some(known);
    Finder::new(of.sheet, of.a, &catalogue, index)
}

/// The row of the board that shows it.
pub fn spot(found: &Found) -> Option<Spot> {
    match &found.what {
        What::Companion(key) => Some(Spot::Companion(key.clone())),
        What::Place { id, .. } | What::Note(id) => Some(Spot::Position(id.clone())),
        What::Clash(_) | What::ToMeasure(_) => found.positions.first().cloned().map(Spot::Position),
        What::Plan(_) | What::Figure(_) | What::List(_) => None,
    }
}
