//! Finds what a person means in a plan, by words in any order and by whatever name they know it: places with what sits
//! there and what is on offer for them, companions, clashes, what is to be measured, notes, plans, figures, lists.
//!
//! What is on offer rests on the library alone and is taken apart once ([`OnOffer`]); the rest is of one assessment
//! ([`Finder`]).

use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use knockon_search::{Dictionary, Entry, Hit, Index};
use serde::Deserialize;

use crate::assessment::{Assessment, PositionView};
use crate::catalogue::{Catalogue, PartEntry, PartId};
use crate::figure;
use crate::key::{CheckKey, CompanionKey};
use crate::library::Table;
use crate::sheet::{Route, Sheet};
use crate::showing::Measure;

/// Most that is told of one query.
pub const MOST: usize = 40;
/// Parts on offer told at one place.
const MOST_OFFERS: usize = 6;
/// An offer is told where it answers at least this share as well as the best answer at its place.
const OFFER_AS_GOOD: f64 = 0.8;
/// A figure has many names: where a thing of the plan answers nearly as well, that is meant.
const OF_FIGURES: f64 = 0.7;
/// Longest query that is read, in characters.
const LONGEST: usize = 200;

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// A place, by its name, what sits there, or what is on offer for it.
    Place {
        /// Position id.
        id: String,
        /// Parts on offer there that answer, the best first: id and name.
        offers: Vec<(String, String)>,
    },
    /// A companion.
    Companion(CompanionKey),
    /// Something that does not fit.
    Clash(CheckKey),
    /// Something to be measured.
    ToMeasure(CheckKey),
    /// A note on a place, or what the survey said there: position id.
    Note(String),
    /// Another plan: id.
    Plan(String),
    /// A figure of the trade: id.
    Figure(&'static str),
    /// A list of the plan.
    List(List),
}

/// A list of a plan that is asked for by what stands in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum List {
    /// What does not fit.
    Clashes,
    /// What is to be measured.
    ToMeasure,
    /// The sums of money.
    Money,
    /// Everything to buy.
    Buying,
    /// What is on order.
    OnOrder,
    /// What is in hand.
    InHand,
    /// What falls due later.
    Later,
    /// Dangers and their guards.
    Cautions,
}

impl List {
    /// As shown.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Clashes => "What does not fit",
            Self::ToMeasure => "What is to be measured",
            Self::Money => "The sums",
            Self::Buying => "The buy list",
            Self::OnOrder => "What is on order",
            Self::InHand => "What is in hand",
            Self::Later => "To do later",
            Self::Cautions => "Cautions",
        }
    }

    /// As written in files and for other programs.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Clashes => "clashes",
            Self::ToMeasure => "to-measure",
            Self::Money => "money",
            Self::Buying => "buying",
            Self::OnOrder => "on-order",
            Self::InHand => "in-hand",
            Self::Later => "later",
            Self::Cautions => "cautions",
        }
    }
}

/// A thing that answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// What it is.
    pub what: What,
    /// As shown.
    pub name: String,
    /// What it is, in a word or two, or where.
    pub beside: String,
    /// Positions it has to do with; the first is where it shows.
    pub positions: Vec<String>,
    /// How well it answers; see [`Hit::score`].
    pub score: f64,
}

/// What people call things besides their names.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Names {
    #[serde(rename = "about")]
    _about: String,
    /// Other names of the places and parts of a class, by class id.
    classes: BTreeMap<String, Vec<String>>,
    /// What is asked for where a list is meant.
    lists: BTreeMap<List, Vec<String>>,
}

static NAMES: LazyLock<Names> = LazyLock::new(|| {
    // a test holds that it reads
    serde_json::from_str(include_str!("../../../assets/search/things.json")).unwrap_or_default()
});

fn with_names<K>(entry: Entry<K>, names: Option<&Vec<String>>) -> Entry<K> {
    names.into_iter().flatten().fold(entry, |entry, name| entry.called(name.as_str()))
}

/// What people call the places and parts of a class besides its name.
pub(crate) fn other_names(class: &str) -> &'static [String] {
    NAMES.classes.get(class).map_or(&[], Vec::as_slice)
}

/// The parts of a library, taken apart for a search.
#[derive(Clone, Debug)]
pub struct OnOffer(Index<PartId>);

impl OnOffer {
    /// Takes the parts of a library apart.
    #[must_use]
    pub fn new(catalogue: &Catalogue) -> Self {
        let entry = |(id, part): (PartId, &PartEntry)| {
            let class = catalogue.classes.get(part.class).map_or("", |class| class.name.as_str());
            let entry = Entry::new(id, part.part.name.as_str(), values(catalogue, part)).called(class);
            with_names(entry, NAMES.classes.get(catalogue.class_names.id(part.class)))
        };
        Self(Index::new(dictionary(), catalogue.parts.iter().map(entry).collect()))
    }
}

fn dictionary() -> Dictionary {
    figure::search::words()
}

/// What a part's ports say, for whoever looks for a size.
fn values(catalogue: &Catalogue, part: &PartEntry) -> String {
    let texts = part.ports.iter().flat_map(|port| {
        let port_type = catalogue.port_types.get(port.port_type);
        let name = port_type.map(|of| of.name.clone());
        name.into_iter().chain(port.values.iter().flatten().map(crate::value::Value::text))
    });
    texts.collect::<Vec<_>>().join(" ")
}

/// Everything of an assessment that can be found.
#[derive(Clone, Debug)]
pub struct Finder {
    on_offer: Arc<OnOffer>,
    index: Index<usize>,
    things: Vec<Found>,
    /// Positions by class number and part, for what is on offer: where a part could go and does not sit.
    places: BTreeMap<PartId, Vec<String>>,
    /// Name of each place, and what sits there.
    names: BTreeMap<String, (String, String)>,
    parts: BTreeMap<PartId, (String, String)>,
}

impl Finder {
    /// Takes an assessment of a plan apart. `on_offer`: of the same library.
    #[must_use]
    pub fn new(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue, on_offer: Arc<OnOffer>) -> Self {
        let mut of = Gathered { entries: Vec::new(), things: Vec::new() };
        places(&mut of, sheet, a, catalogue);
        findings(&mut of, a);
        remarks(&mut of, sheet, a);
        lists(&mut of);
        let (places, parts) = offers(sheet, a, catalogue);
        let names = a.positions.iter().map(|p| (p.id.clone(), (p.name.clone(), fitted(p)))).collect();
        let index = Index::new(dictionary(), of.entries);
        Self { on_offer, index, things: of.things, places, names, parts }
    }

    /// What answers a query, the best first, [`MOST`] at most.
    #[must_use]
    pub fn find(&self, query: &str) -> Vec<Found> {
        let query: String = query.chars().take(LONGEST).collect();
        let mut found: Vec<Found> = Vec::new();
        for Hit { key, score } in self.index.find(&query) {
            if let Some(thing) = self.things.get(key) {
                found.push(Found { score, ..thing.clone() });
            }
        }
        self.add_offers(&query, &mut found);
        for figure in figure::search::hits(&query) {
            found.push(Found {
                what: What::Figure(figure.key.id),
                name: figure.key.name.to_owned(),
                beside: "figure".to_owned(),
                positions: Vec::new(),
                score: figure.score * OF_FIGURES,
            });
        }
        found.sort_by(|a, b| b.score.total_cmp(&a.score));
        let best = found.first().map_or(0.0, |f| f.score);
        found.retain(|f| f.score >= best * 0.5);
        found.truncate(MOST);
        found
    }

    /// What is on offer is found at its place.
    fn add_offers(&self, query: &str, found: &mut Vec<Found>) {
        let mut at: BTreeMap<&String, Vec<(PartId, f64)>> = BTreeMap::new();
        for hit in self.on_offer.0.find(query) {
            for place in self.places.get(&hit.key).into_iter().flatten() {
                at.entry(place).or_default().push((hit.key, hit.score));
            }
        }
        for (place, parts) in at {
            let best = parts.first().map_or(0.0, |(_, score)| *score);
            let is_here = |f: &Found| matches!(&f.what, What::Place { id, .. } if id == place);
            let here = match found.iter().position(is_here) {
                Some(here) => here,
                None => {
                    let (name, beside) = self.names.get(place).cloned().unwrap_or_default();
                    found.push(Found {
                        what: What::Place { id: place.clone(), offers: Vec::new() },
                        name,
                        beside,
                        positions: vec![place.clone()],
                        score: 0.0,
                    });
                    found.len() - 1
                }
            };
            let Some(thing) = found.get_mut(here) else { continue };
            // who asks for a place by its name wants the place
            if thing.name.to_lowercase().contains(&query.trim().to_lowercase()) {
                continue;
            }
            let as_good = thing.score.max(best) * OFFER_AS_GOOD;
            thing.score = thing.score.max(best);
            if let What::Place { offers, .. } = &mut thing.what {
                let good = parts.iter().filter(|(_, score)| *score >= as_good).take(MOST_OFFERS);
                offers.extend(good.filter_map(|(part, _)| self.parts.get(part).cloned()));
            }
        }
    }
}

/// Where each part of the library could go and does not sit, and what it is called.
type Offered = (BTreeMap<PartId, Vec<String>>, BTreeMap<PartId, (String, String)>);

fn offers(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) -> Offered {
    let (mut places, mut parts): Offered = Offered::default();
    let Some(vehicle) = catalogue.vehicles.get(&sheet.vehicle) else { return (places, parts) };
    let fitted: Table<&str> =
        a.positions.iter().filter_map(|p| Some((p.id.clone(), p.fitted.as_ref()?.0.as_str()))).collect();
    for position in vehicle.positions.values() {
        for part in catalogue.by_class.get(position.class).into_iter().flatten() {
            let Some(entry) = catalogue.parts.get(*part) else { continue };
            let id = catalogue.part_names.id(*part);
            // what nobody sells is what was found
            if entry.part.price.is_none() || fitted.get(&position.id) == Some(&id) {
                continue;
            }
            places.entry(*part).or_default().push(position.id.clone());
            parts.entry(*part).or_insert_with(|| (id.to_owned(), entry.part.name.clone()));
        }
    }
    (places, parts)
}

/// What sits in a place.
fn fitted(p: &PositionView) -> String {
    p.fitted.as_ref().map_or_else(|| "empty".to_owned(), |(_, name)| name.clone())
}

struct Gathered {
    entries: Vec<Entry<usize>>,
    things: Vec<Found>,
}

impl Gathered {
    /// One thing, with what else is said of it; its name and other names are behind `entry`.
    fn add(
        &mut self,
        what: What,
        beside: String,
        positions: Vec<String>,
        entry: impl FnOnce(usize) -> Entry<usize>,
        name: &str,
    ) {
        self.entries.push(entry(self.things.len()));
        self.things.push(Found { what, name: name.to_owned(), beside, positions, score: 0.0 });
    }
}

fn places(of: &mut Gathered, sheet: &Sheet, a: &Assessment, catalogue: &Catalogue) {
    let vehicle = catalogue.vehicles.get(&sheet.vehicle);
    let system = |id: &str| a.systems.iter().find(|(of, _)| of == id).map_or("", |(_, name)| name.as_str());
    for p in &a.positions {
        let class = vehicle.and_then(|v| {
            let at = v.position_ix.get(&p.id)?;
            v.positions.get(*at).map(|entry| entry.class)
        });
        let class_name = class.and_then(|c| catalogue.classes.get(c)).map_or("", |c| c.name.as_str());
        let others = class.and_then(|c| NAMES.classes.get(catalogue.class_names.id(c)));
        let parts = p.fitted.iter().chain(&p.as_found).map(|(_, name)| name.as_str());
        let entry = |key| {
            let entry = Entry::new(key, p.name.as_str(), system(&p.system)).called(class_name);
            parts.fold(with_names(entry, others), |entry, part| entry.called(part))
        };
        let what = What::Place { id: p.id.clone(), offers: Vec::new() };
        of.add(what, fitted(p), vec![p.id.clone()], entry, &p.name);
    }
    let place = |id: &Option<String>| {
        let id = id.as_ref()?;
        a.positions.iter().find(|p| p.id == *id).map(|p| p.name.as_str())
    };
    for c in &a.companions {
        let with = place(&c.cause).unwrap_or_default();
        let beside = if with.is_empty() { "companion".to_owned() } else { format!("with {with}") };
        let positions = c.position.iter().chain(&c.cause).cloned().collect();
        let entry = |key| Entry::new(key, c.name.as_str(), format!("companion {with}"));
        of.add(What::Companion(c.key.clone()), beside, positions, entry, &c.name);
    }
}

fn findings(of: &mut Gathered, a: &Assessment) {
    let places = |ids: &[String]| {
        let names = a.positions.iter().filter(|p| ids.contains(&p.id)).map(|p| p.name.as_str());
        names.collect::<Vec<_>>().join(" ")
    };
    for clash in &a.clashes {
        let entry =
            |key| Entry::new(key, clash.name.as_str(), format!("does not fit {}", places(&clash.positions)));
        of.add(
            What::Clash(clash.key.clone()),
            "does not fit".to_owned(),
            clash.positions.clone(),
            entry,
            &clash.name,
        );
    }
    for open in &a.to_measure {
        let all = open.what.say(Measure::default());
        // how it is measured is told where it is asked for
        let name = all.split(" (").next().unwrap_or_default().to_owned();
        let entry =
            |key| Entry::new(key, name.as_str(), format!("to measure {all} {}", places(&open.positions)));
        of.add(
            What::ToMeasure(open.key.clone()),
            "to measure".to_owned(),
            open.positions.clone(),
            entry,
            &name,
        );
    }
}

fn remarks(of: &mut Gathered, sheet: &Sheet, a: &Assessment) {
    for p in &a.positions {
        let note = sheet.notes.get(&p.id).map(String::as_str);
        for text in note.into_iter().chain([p.verdict_note.as_str()]).filter(|text| !text.trim().is_empty()) {
            let beside = format!("written at {}", p.name);
            let entry = |key| Entry::new(key, text, p.name.as_str());
            of.add(What::Note(p.id.clone()), beside, vec![p.id.clone()], entry, text.trim());
        }
    }
    for (id, plan) in sheet.plans.iter().filter(|(id, _)| **id != sheet.plan) {
        let name = format!("Work on plan: {}", plan.name);
        let entry = |key| Entry::new(key, name.as_str(), "").called(plan.name.as_str());
        of.add(What::Plan(id.clone()), "plan".to_owned(), Vec::new(), entry, &name);
    }
}

fn lists(of: &mut Gathered) {
    for (list, names) in &NAMES.lists {
        let entry = |key| with_names(Entry::new(key, list.name(), ""), Some(names));
        of.add(What::List(*list), "list".to_owned(), Vec::new(), entry, list.name());
    }
}

/// The choice that a hit on offer leads to.
#[must_use]
pub fn route_of(found: &Found) -> Option<(&str, Route, &str)> {
    match &found.what {
        What::Place { id, offers } => {
            offers.first().map(|(part, _)| (id.as_str(), Route::Convert, part.as_str()))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
