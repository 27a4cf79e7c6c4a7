//! A vehicle as a whole, from the pieces that files have of it, and how one is otherwise than another.

use std::collections::BTreeMap;

use super::Described;
use crate::catalogue::Catalogue;
use crate::library::{Table, Vehicle};

/// All that the files of a library say of a vehicle, as one piece. `None`: it is in none of them.
#[must_use]
pub fn whole(catalogue: &Catalogue, id: &str) -> Option<Vehicle> {
    let mut pieces = catalogue.files.iter().filter_map(|(_, file)| file.vehicles.get(id)).peekable();
    pieces.peek()?;
    let mut all = Vehicle::default();
    for piece in pieces {
        if !piece.name.is_empty() {
            all.name.clone_from(&piece.name);
            all.about.clone_from(&piece.about);
        }
        if !piece.source.is_empty() {
            all.source.clone_from(&piece.source);
        }
        all.beginning |= piece.beginning;
        all.built.extend(piece.built.iter().cloned());
        macro_rules! tables {
            ($($table:ident),*) => { $(all.$table.extend(piece.$table.clone());)* };
        }
        tables!(positions, joints, circuits, facts, gives, offers, sources);
    }
    Some(all)
}

/// How a vehicle is otherwise than another: laid over that one it gives this one, but for its facts.
#[must_use]
pub fn difference(from: &Vehicle, to: &Vehicle) -> Described {
    Described {
        name: if from.name == to.name { String::new() } else { to.name.clone() },
        about: if from.about == to.about { String::new() } else { to.about.clone() },
        positions: changed(&from.positions, &to.positions),
        joints: changed(&from.joints, &to.joints),
        circuits: changed(&from.circuits, &to.circuits),
        gives: changed(&from.gives, &to.gives),
        offers: changed(&from.offers, &to.offers),
        built: (from.built != to.built).then(|| to.built.clone()),
        ..Described::default()
    }
}

fn changed<T: Clone + PartialEq>(from: &Table<T>, to: &Table<T>) -> BTreeMap<String, Option<T>> {
    let new = to.iter().filter(|(id, own)| from.get(*id) != Some(own));
    let gone = from.keys().filter(|id| !to.contains_key(*id));
    new.map(|(id, own)| (id.clone(), Some(own.clone()))).chain(gone.map(|id| (id.clone(), None))).collect()
}
