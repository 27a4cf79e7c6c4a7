//! What the library page keeps: the query, what answers it, the part that is open, and where that fits.

use std::sync::Arc;

use knockon_core::catalogue::PartId;
use knockon_core::library_search::beside::{Row, beside};
use knockon_core::library_search::fits::Fits;
use knockon_core::library_search::part_page::{PartPage, part_page};
use knockon_core::library_search::places::{PlaceHit, places};
use knockon_core::library_search::{Answer, Hit, LibrarySearch};
use knockon_core::showing::Measure;
use knockon_core::{Assessment, Catalogue};

/// A library, the sheet's own parts with it, taken apart for searches.
#[derive(Debug)]
pub struct Shelf {
    /// As it was when it was taken apart.
    pub catalogue: Arc<Catalogue>,
    /// The same taken apart.
    pub search: LibrarySearch,
}

/// A row of the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A system, with how many of its parts answer.
    System(String, usize),
    /// What follows may answer or not: how many.
    NotKnown(usize),
    /// A part: which of the answers it is, and whether something of it is not known.
    Part(usize, bool),
}

/// What the open part shows.
#[derive(Clone, Debug, Default)]
pub struct Open {
    /// Revision, measure and the ids it is of.
    of: Option<(u64, Measure, String, Option<String>)>,
    /// The part.
    pub page: Option<PartPage>,
    /// The one beside it.
    pub second: Option<PartPage>,
    /// The two, row by row.
    pub rows: Vec<Row>,
}

/// Where the open part fits: of which revision, part and measure; `None` while it is worked out.
pub type Tried = (u64, String, Measure, Option<Fits>);

/// What the page keeps.
#[derive(Clone, Debug, Default)]
pub struct LibraryState {
    /// As typed.
    pub query: String,
    /// The field is to take the keyboard.
    pub focus: bool,
    /// The library taken apart.
    pub shelf: Option<Arc<Shelf>>,
    /// The library that is being taken apart, by its address: another that comes back is old.
    pub awaited: Option<usize>,
    /// The revision, query and library the answer is of.
    asked: Option<(u64, String, usize)>,
    /// What answers.
    pub answer: Answer,
    /// Places of the plan where something sits that answers.
    pub places: Vec<PlaceHit>,
    /// The list.
    pub entries: Vec<Entry>,
    /// The part that is open, by id.
    pub part: Option<String>,
    /// The part beside it, by id.
    pub other: Option<String>,
    /// The next part that is clicked is laid beside the open one.
    pub picking: bool,
    /// What they show.
    pub open: Open,
    /// Where the open part fits.
    pub tried: Option<Tried>,
    /// The open row is to come into sight.
    pub reveal: bool,
}

impl LibraryState {
    /// The address of a library, by which one is told from another.
    pub fn address(catalogue: &Arc<Catalogue>) -> usize {
        Arc::as_ptr(catalogue).addr()
    }

    /// Looks for what is asked now, unless that was done.
    pub fn look(&mut self, revision: u64, a: &Assessment, vehicle: &str) {
        let Some(shelf) = self.shelf.clone() else { return };
        let of = (revision, self.query.clone(), Self::address(&shelf.catalogue));
        if self.asked.as_ref() == Some(&of) {
            return;
        }
        self.asked = Some(of);
        self.answer = shelf.search.find(&shelf.catalogue, &self.query);
        self.places = places(&shelf.catalogue, a, &self.answer);
        self.entries = entries(&shelf.catalogue, &self.answer, vehicle);
    }

    /// Takes up the pages of the open parts, unless that was done.
    pub fn open_pages(&mut self, revision: u64, measure: Measure) {
        let Some(part) = self.part.clone() else {
            self.open = Open::default();
            return;
        };
        let of = (revision, measure, part.clone(), self.other.clone());
        let Some(shelf) = self.shelf.as_ref().filter(|_| self.open.of.as_ref() != Some(&of)) else { return };
        let page = part_page(&shelf.catalogue, &part, measure);
        let second = self.other.as_ref().and_then(|id| part_page(&shelf.catalogue, id, measure));
        let rows = match (&page, &second) {
            (Some(page), Some(second)) => beside(page, second),
            _ => Vec::new(),
        };
        self.open = Open { of: Some(of), page, second, rows };
    }

    /// Closes one thing: picking, the second part, the part, the query; whether there was one.
    pub fn step_back(&mut self) -> bool {
        if std::mem::take(&mut self.picking) || self.other.take().is_some() || self.part.take().is_some() {
            return true;
        }
        !std::mem::take(&mut self.query).is_empty()
    }

    /// The part of a row.
    pub fn hit(&self, entry: &Entry) -> Option<&Hit> {
        match entry {
            Entry::Part(at, false) => self.answer.hits.get(*at),
            Entry::Part(at, true) => self.answer.open.get(*at),
            _ => None,
        }
    }

    /// The id of the part of a row.
    pub fn id(&self, entry: &Entry) -> Option<String> {
        let shelf = self.shelf.as_ref()?;
        self.hit(entry).map(|hit| shelf.catalogue.part_names.id(hit.part).to_owned())
    }

    /// A part was clicked or walked to.
    pub fn take(&mut self, id: String) {
        if self.picking && self.part.as_ref() != Some(&id) {
            self.other = Some(id);
        } else if self.part.as_ref() != Some(&id) {
            self.part = Some(id);
            self.other = None;
        } else {
            // what was stopped is tried again
            self.tried = None;
        }
        self.picking = false;
    }

    /// So many parts down the list, or up where it is less than nothing.
    pub fn step(&mut self, down: isize) {
        let parts: Vec<String> = self.entries.iter().filter_map(|entry| self.id(entry)).collect();
        let at = self.part.as_ref().and_then(|part| parts.iter().position(|id| id == part));
        let to = match at {
            None => 0,
            Some(at) => at.saturating_add_signed(down).min(parts.len().saturating_sub(1)),
        };
        if let Some(id) = parts.get(to).cloned() {
            self.picking = false;
            self.take(id);
            self.reveal = true;
        }
    }
}

/// The list: by system, the best answer's system first; what is not known of behind the rest.
fn entries(catalogue: &Catalogue, answer: &Answer, vehicle: &str) -> Vec<Entry> {
    let mut out = grouped(catalogue, &answer.hits, answer.all, false, vehicle);
    if !answer.open.is_empty() {
        out.push(Entry::NotKnown(answer.open.len()));
        out.extend(grouped(catalogue, &answer.open, answer.all, true, vehicle));
    }
    out
}

fn grouped(catalogue: &Catalogue, hits: &[Hit], all: bool, open: bool, vehicle: &str) -> Vec<Entry> {
    const LOOSE: &str = "Used loose, or no place on any vehicle";
    let name = |part: PartId| {
        let class = catalogue.parts.get(part).map(|part| part.class);
        let system = class.and_then(|class| catalogue.system_of(class, Some(vehicle)));
        system.map_or(LOOSE, |(_, name)| name)
    };
    let mut of_class: std::collections::HashMap<_, &str> = std::collections::HashMap::new();
    let mut groups: Vec<(&str, Vec<usize>)> = Vec::new();
    for (at, hit) in hits.iter().enumerate() {
        let class = catalogue.parts.get(hit.part).map(|part| part.class);
        let system = *of_class.entry(class).or_insert_with(|| name(hit.part));
        match groups.iter_mut().find(|(of, _)| *of == system) {
            Some((_, list)) => list.push(at),
            None => groups.push((system, vec![at])),
        }
    }
    if all {
        // a shelf that is walked along stands in the order of the board
        let place = |system: &str| {
            catalogue.systems.iter().position(|(_, name)| name == system).unwrap_or(usize::MAX)
        };
        groups.sort_by_key(|(system, _)| place(system));
    }
    let rows = groups.into_iter().flat_map(|(system, list)| {
        let head = Entry::System(system.to_owned(), list.len());
        std::iter::once(head).chain(list.into_iter().map(move |at| Entry::Part(at, open)))
    });
    rows.collect()
}
