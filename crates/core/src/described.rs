//! A vehicle of one's own: how it is otherwise than the vehicle of the library that it is described from.
//!
//! A sheet names a vehicle of the library, a particular one or one that is only a beginning, and says what is otherwise:
//! places that are there or are not, ports that meet, circuits. It is judged as the same vehicle written in a library is.

pub mod id;
pub mod joining;
pub mod place;
pub mod unknown;
pub mod usual;
pub mod whole;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::library::{Circuit, Extra, Joint, LibraryFile, Position, Table, Vehicle};
use crate::schema;

/// How a vehicle is otherwise than the library has it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default)]
pub struct Described {
    /// What it is called. Empty: as in the library.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub name: String,
    /// One sentence on it. Empty: as in the library.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub about: String,
    /// Places by id: one that is added or otherwise; null: this vehicle has none such.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub positions: BTreeMap<String, Option<Position>>,
    /// Ports that meet, the same way.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub joints: BTreeMap<String, Option<Joint>>,
    /// Fluid circuits, the same way.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub circuits: BTreeMap<String, Option<Circuit>>,
    /// What the bare vehicle gives to pools, by pool id; null: nothing.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(with = "BTreeMap<String, Option<schema::Quantity>>")]
    pub gives: BTreeMap<String, Option<String>>,
    /// What the bare vehicle supplies, by need id; null: not that.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(with = "BTreeMap<String, Option<schema::Needed>>")]
    pub offers: BTreeMap<String, Option<String>>,
    /// Words on how it is built, all of them; absent: as in the library.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub built: Option<Vec<String>>,
    /// Words of a newer program.
    #[serde(flatten)]
    pub extra: Extra,
}

/// Whether something of a vehicle is as the library has it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Differs<T> {
    /// It is.
    #[default]
    Library,
    /// This vehicle has none such.
    Nothing,
    /// It is this.
    Own(Box<T>),
}

impl<T: Clone> Differs<T> {
    /// What a table of a [`Described`] says of an id.
    #[must_use]
    pub fn of(entry: Option<&Option<T>>) -> Self {
        match entry {
            None => Self::Library,
            Some(None) => Self::Nothing,
            Some(Some(own)) => Self::Own(Box::new(own.clone())),
        }
    }

    /// The entry of the table; `None`: there is none.
    pub(crate) fn entry(&self) -> Option<Option<T>> {
        match self {
            Self::Library => None,
            Self::Nothing => Some(None),
            Self::Own(own) => Some(Some((**own).clone())),
        }
    }
}

impl Described {
    /// Nothing is otherwise, as far as this program reads.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self { extra: self.extra.clone(), ..Self::default() }
    }

    /// Nothing stands in it at all.
    pub(crate) fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// Takes out of some files what is otherwise on a vehicle of theirs, and gives the rest as a piece of it. A joint that
    /// loses an end goes on with those it keeps, as long as there are two; a circuit goes on with the places it keeps.
    pub(crate) fn laid_over(&self, vehicle: &str, files: &mut [(String, LibraryFile)]) -> Vehicle {
        let pieces = || files.iter().filter_map(|(_, file)| file.vehicles.get(vehicle));
        let named = pieces().find(|piece| !piece.name.is_empty());
        let (name, about) = named.map(|piece| (piece.name.clone(), piece.about.clone())).unwrap_or_default();
        let or = |own: &String, library: String| if own.trim().is_empty() { library } else { own.clone() };
        let mut own = Vehicle {
            name: or(&self.name, name),
            about: or(&self.about, about),
            positions: there(&self.positions),
            joints: there(&self.joints),
            circuits: there(&self.circuits),
            gives: there(&self.gives),
            offers: there(&self.offers),
            built: self.built.clone().unwrap_or_default(),
            ..Vehicle::default()
        };
        let gone = |place: &str| matches!(self.positions.get(place), Some(None));
        for piece in files.iter_mut().filter_map(|(_, file)| file.vehicles.get_mut(vehicle)) {
            piece.positions.retain(|id, _| !self.positions.contains_key(id));
            piece.joints.retain(|id, _| !self.joints.contains_key(id));
            piece.circuits.retain(|id, _| !self.circuits.contains_key(id));
            piece.gives.retain(|id, _| !self.gives.contains_key(id));
            piece.offers.retain(|id, _| !self.offers.contains_key(id));
            if self.built.is_some() {
                piece.built.clear();
            }
            without(piece, &gone);
        }
        without(&mut own, &gone);
        own
    }
}

/// Takes places that are not there out of joints and circuits.
fn without(piece: &mut Vehicle, gone: &impl Fn(&str) -> bool) {
    for joint in piece.joints.values_mut() {
        joint.ends.retain(|end| !gone(&end.at));
    }
    piece.joints.retain(|_, joint| joint.ends.len() >= 2);
    for circuit in piece.circuits.values_mut() {
        circuit.positions.retain(|place| !gone(place));
    }
    piece.circuits.retain(|_, circuit| !circuit.positions.is_empty());
}

fn there<T: Clone>(table: &BTreeMap<String, Option<T>>) -> Table<T> {
    table.iter().filter_map(|(id, own)| Some((id.clone(), own.clone()?))).collect()
}

#[cfg(test)]
#[path = "described/tests.rs"]
mod tests;
