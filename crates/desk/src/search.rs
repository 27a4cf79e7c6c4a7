//! What the find field and the palette find: one search over everything of the plan, taken apart when somebody asks.

use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock, Weak};

use knockon_core::assessment::Assessment;
use knockon_core::figure::search::words as dictionary;
use knockon_core::find::{Finder, Found, List, OnOffer, What, route_of};
use knockon_core::library::{Part, Table, Written};
use knockon_core::sheet::LineState;
use knockon_core::{Catalogue, Edit, Sheet};
use knockon_search::{Entry, Index};
use serde::Deserialize;

use crate::commands::Command;
use crate::fitup::Card;
use crate::view::{Action, Behind, Page, Spot};

/// What a search goes by.
pub struct Source<'a> {
    pub revision: u64,
    pub sheet: &'a Sheet,
    pub a: &'a Assessment,
    pub catalogue: &'a Arc<Catalogue>,
}

/// The parts of a library and of a sheet, taken apart.
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
fn spot(found: &Found) -> Option<Spot> {
    match &found.what {
        What::Companion(key) => Some(Spot::Companion(key.clone())),
        What::Place { id, .. } | What::Note(id) => Some(Spot::Position(id.clone())),
        What::Clash(_) | What::ToMeasure(_) => found.positions.first().cloned().map(Spot::Position),
        What::Plan(_) | What::Figure(_) | What::List(_) => None,
    }
}

/// What is done to get there.
pub fn lead(found: &Found) -> Vec<Action> {
    let to = |spot: Option<Spot>| Action::Select(spot);
    match &found.what {
        What::Plan(id) => vec![Action::Edit(vec![Edit::SwitchPlan { plan: id.clone() }])],
        What::ToMeasure(_) if found.positions.is_empty() => vec![Action::Behind(Some(Behind::Measure))],
        What::Clash(_) if found.positions.is_empty() => vec![Action::Behind(Some(Behind::Clashes))],
        What::List(list) => to_list(*list),
        What::Figure(id) => vec![Action::FitUp(Card::Figure(id))],
        What::Place { .. } => match route_of(found) {
            Some((position, _, part)) => {
                vec![to(spot(found)), Action::Offer { position: position.to_owned(), part: part.to_owned() }]
            }
            None => vec![to(spot(found))],
        },
        What::Companion(_) | What::Note(_) | What::Clash(_) | What::ToMeasure(_) => vec![to(spot(found))],
    }
}

fn to_list(list: List) -> Vec<Action> {
    let behind = |which| vec![Action::Behind(Some(which))];
    match list {
        List::Clashes => behind(Behind::Clashes),
        List::ToMeasure => behind(Behind::Measure),
        List::Money => behind(Behind::ToCome),
        List::Later => behind(Behind::Later),
        List::Cautions => behind(Behind::Cautions),
        List::Buying => vec![Action::Lines(None)],
        List::OnOrder => vec![Action::Lines(Some(LineState::OnOrder))],
        List::InHand => vec![Action::Lines(Some(LineState::InHand))],
    }
}

/// Whether a page shows what is found as a list of its own.
pub fn is_on(page: Page) -> bool {
    matches!(page, Page::Board | Page::FitUp | Page::Parts)
}

/// What stands to the right of it, and below its name where a part is on offer.
pub fn beside(found: &Found) -> String {
    match route_of(found) {
        Some(_) => match &found.what {
            What::Place { offers, .. } => {
                let first = offers.first().map_or("", |(_, name)| name.as_str());
                match offers.len() {
                    0 | 1 => format!("on offer: {first}"),
                    n => format!("on offer: {first}, and {} more", n - 1),
                }
            }
            _ => String::new(),
        },
        None => found.beside.clone(),
    }
}

/// What people call commands and drawings besides their labels.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Names {
    #[serde(rename = "about")]
    _about: String,
    names: Table<Vec<String>>,
}

/// A command, or a drawing of the fit-up page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    Do(Command),
    FitUp(Card),
}

impl Deed {
    /// As shown.
    pub fn label(self) -> String {
        match self {
            Self::Do(command) => command.label().to_owned(),
            Self::FitUp(card) => format!("Fit-up: {}", card.name()),
        }
    }

    /// All of them, in palette order.
    pub fn all() -> impl Iterator<Item = Self> {
        let commands = Command::ALL.into_iter().filter(|c| *c != Command::Palette).map(Self::Do);
        commands.chain(Card::ALL.into_iter().map(Self::FitUp))
    }
}

static DEEDS: LazyLock<Index<Deed>> = LazyLock::new(|| {
    let text = include_str!("../../../assets/search/commands.json");
    // a test holds that it reads
    let names: Names = serde_json::from_str(text).unwrap_or_default();
    let entry = |deed: Deed| {
        let label = deed.label();
        let others = names.names.get(&label).into_iter().flatten();
        others.fold(Entry::new(deed, label.as_str(), ""), |entry, name| entry.called(name.as_str()))
    };
    Index::new(dictionary(), Deed::all().map(entry).collect())
});

/// Commands and drawings that answer, with how well.
pub fn deeds(query: &str) -> Vec<(Deed, f64)> {
    DEEDS.find(query).into_iter().map(|hit| (hit.key, hit.score)).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_found_by_what_people_call_it() {
        for (asked, wanted) in [
            ("print", Command::ExportBuyList),
            ("csv", Command::ExportBuyList),
            ("night mode", Command::LightDark),
            ("millimetres", Command::InchMetric),
            ("back", Command::Undo),
            ("quit", Command::Close),
            ("compare plans", Command::CopyPlan),
            ("clear clashes", Command::ClearAll),
            ("shopping list", Command::Buying),
            ("save as", Command::SaveAs),
            ("new sheet", Command::New),
        ] {
            assert_eq!(deeds(asked).first().map(|(deed, _)| *deed), Some(Deed::Do(wanted)), "{asked}");
        }
    }

    #[test]
    fn the_other_names_are_of_commands_there_are() {
        let names: Names =
            serde_json::from_str(include_str!("../../../assets/search/commands.json")).unwrap();
        let labels: Vec<String> = Deed::all().map(Deed::label).collect();
        assert!(names.names.len() > 10);
        for label in names.names.keys() {
            assert!(labels.contains(label), "{label}");
        }
        for label in labels {
            assert_eq!(deeds(&label).first().map(|(deed, _)| deed.label()), Some(label.clone()), "{label}");
        }
    }
}
