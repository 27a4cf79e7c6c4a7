//! Places that vehicles usually have: what one of one's own is asked for, most usual first.

use std::collections::BTreeMap;

use crate::catalogue::{Catalogue, ClassId};
use crate::whereabouts::Whereabouts;

/// A place that vehicles of the library have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Usual {
    /// The class it takes.
    pub class: String,
    /// Where it is, where some vehicle has several of the class.
    pub whereabouts: Whereabouts,
    /// What most of them call it.
    pub name: String,
    /// The system it belongs to.
    pub system: String,
    /// How many alike most of them have there.
    pub qty: u32,
    /// The vehicles that have it, by name.
    pub on: Vec<String>,
    /// How many of these are particular vehicles, no beginnings.
    pub vehicles: usize,
}

/// The places of all vehicles of the library, one for each class and whereabouts, by system; within one the most usual
/// first. What a class is called alike on all decides nothing: a place is known by its class.
#[must_use]
pub fn usual(catalogue: &Catalogue) -> Vec<Usual> {
    type Seen<'a> = (BTreeMap<(&'a str, &'a str, u32), usize>, Vec<String>, usize);
    let mut seen: BTreeMap<(ClassId, &Whereabouts), Seen<'_>> = BTreeMap::new();
    for vehicle in catalogue.vehicles.values() {
        for place in vehicle.positions.values() {
            let (words, on, particular) = seen.entry((place.class, &place.whereabouts)).or_default();
            *words.entry((place.name.as_str(), place.system.as_str(), place.qty)).or_default() += 1;
            if on.last() != Some(&vehicle.name) {
                on.push(vehicle.name.clone());
                *particular += usize::from(!vehicle.beginning);
            }
        }
    }
    let order = |system: &str| catalogue.systems.iter().position(|(id, _)| id == system);
    let mut all: Vec<Usual> = seen
        .into_iter()
        .filter_map(|((class, whereabouts), (words, on, vehicles))| {
            // the first of those told most often
            let most = words.values().copied().max()?;
            let ((name, system, qty), _) = words.into_iter().find(|(_, n)| *n == most)?;
            Some(Usual {
                class: catalogue.class_names.id(class).to_owned(),
                whereabouts: whereabouts.clone(),
                name: name.to_owned(),
                system: system.to_owned(),
                qty,
                on,
                vehicles,
            })
        })
        .collect();
    let rank = |u: &Usual| (order(&u.system), std::cmp::Reverse((u.vehicles, u.on.len())));
    all.sort_by(|a, b| rank(a).cmp(&rank(b)).then_with(|| (&a.name, &a.class).cmp(&(&b.name, &b.class))));
    all
}

/// Those of some places that more than half of the particular vehicles have, but for one: what is ticked at once.
#[must_use]
pub fn most_have(catalogue: &Catalogue, but: &str, usual: &[Usual]) -> Vec<Usual> {
    let all = catalogue.vehicles.iter().filter(|(id, vehicle)| !vehicle.beginning && *id != but).count();
    usual.iter().filter(|usual| usual.vehicles * 2 > all).cloned().collect()
}
