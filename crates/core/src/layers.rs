//! Libraries on top of each other: an id of an upper one replaces the same id of those below.
//!
//! A vehicle is no single entry: its positions, joints, circuits, facts and what it gives and offers are laid over each
//! other one by one, so that a library can add a place to a vehicle of another.

use std::collections::HashMap;

use crate::library::{LibraryFile, Part, Table};

/// Calls a macro with the tables of a file whose entries are replaced by their ids.
macro_rules! with_tables {
    ($then:ident) => {
        $then!(
            systems,
            classes,
            figures,
            needs,
            pools,
            port_types,
            limits,
            openings,
            cautions,
            operations,
            orders,
            checks,
            cards,
            inspections,
            zones,
            stages,
            aims,
            patterns,
            parts,
            drawings
        )
    };
}

/// The files of one library, each with its name.
pub type Layer<P = Part> = Vec<(String, LibraryFile<P>)>;

/// An entry that another of the same id replaces.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Replaced {
    /// Its path: `parts.pump-small`, `vehicles.mill-van.positions.heater`.
    pub path: String,
    /// The file it stands in.
    pub file: String,
    /// The file with the one that counts.
    pub by: String,
}

/// Lays libraries on top of each other, the lowest first: the files of all of them without what is replaced, which is
/// named. Within one library nothing replaces anything: an id that stands twice in it is left for the check to tell.
#[must_use]
pub fn stacked<P>(layers: Vec<Layer<P>>) -> (Layer<P>, Vec<Replaced>) {
    let mut all = Layer::new();
    let mut replaced = Vec::new();
    for layer in layers {
        let upper = Ids::of(&layer);
        for (name, file) in &mut all {
            upper.take_out_of(name, file, &mut replaced);
        }
        all.extend(layer);
    }
    replaced.sort();
    (all, replaced)
}

/// What a library has, by path, and in which file.
struct Ids<'a>(HashMap<String, &'a str>);

impl<'a> Ids<'a> {
    fn of<P>(layer: &'a Layer<P>) -> Self {
        let mut ids = HashMap::new();
        for (name, file) in layer {
            if file.prices_hold.is_some() {
                ids.insert("prices_hold".to_owned(), name.as_str());
            }
            if file.first_time.is_some() {
                ids.insert("first_time".to_owned(), name.as_str());
            }
            each_table(file, &mut |table, id| {
                ids.insert(format!("{table}.{id}"), name.as_str());
            });
        }
        Self(ids)
    }

    fn take_out_of<P>(&self, name: &str, file: &mut LibraryFile<P>, replaced: &mut Vec<Replaced>) {
        let mut told = |path: &str| {
            let by = self.0.get(path);
            replaced.extend(by.map(|by| Replaced {
                path: path.to_owned(),
                file: name.to_owned(),
                by: (*by).to_owned(),
            }));
            by.is_some()
        };
        if file.prices_hold.is_some() && told("prices_hold") {
            file.prices_hold = None;
        }
        if file.first_time.is_some() && told("first_time") {
            file.first_time = None;
        }
        macro_rules! tables {
            ($($table:ident),*) => { $(thin(&mut file.$table, stringify!($table), &mut told);)* };
        }
        with_tables!(tables);
        for (id, vehicle) in &mut file.vehicles {
            macro_rules! pieces {
                ($($table:ident),*) => {
                    $(thin(&mut vehicle.$table, &format!("vehicles.{id}.{}", stringify!($table)), &mut told);)*
                };
            }
            pieces!(positions, joints, circuits, facts, gives, offers);
        }
    }
}

fn thin<T>(table: &mut Table<T>, path: &str, replaced: &mut impl FnMut(&str) -> bool) {
    table.retain(|id, _| !replaced(&format!("{path}.{id}")));
}

fn each_table<P>(file: &LibraryFile<P>, see: &mut impl FnMut(&str, &str)) {
    macro_rules! tables {
        ($($table:ident),*) => { $(file.$table.keys().for_each(|id| see(stringify!($table), id));)* };
    }
    with_tables!(tables);
    for (id, vehicle) in &file.vehicles {
        macro_rules! pieces {
            ($($table:ident),*) => {
                $({
                    let path = format!("vehicles.{id}.{}", stringify!($table));
                    vehicle.$table.keys().for_each(|id| see(&path, id));
                })*
            };
        }
        pieces!(positions, joints, circuits, facts, gives, offers);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use super::{Layer, stacked};
    use crate::Catalogue;

    fn layer(name: &str, json: Json) -> Layer {
        vec![(name.to_owned(), serde_json::from_value(json).unwrap())]
    }

    fn base() -> Layer {
        layer(
            "base.json",
            json!({
                "format": 1,
                "prices_hold": "1 year",
                "first_time": {"of_workshop": [1.5, 2], "source": "common practice"},
                "systems": {"cab": {"name": "Cab"}},
                "classes": {"heater": {"name": "Heater", "decided": "owner"}},
                "parts": {
                    "heater-a": {"name": "Heater A", "class": "heater", "price": "10 USD"},
                    "heater-b": {"name": "Heater B", "class": "heater", "price": "20 USD"}
                },
                "vehicles": {"van": {"name": "Van", "positions": {
                    "heater": {"name": "Heater", "system": "cab", "class": "heater", "as_found": "heater-a"}
                }}}
            }),
        )
    }

    #[test]
    fn an_upper_id_replaces_a_lower_one_and_both_are_named() {
        let own = layer(
            "own.json",
            json!({"format": 1, "parts": {"heater-b": {"name": "Mine", "class": "heater", "price": "1 USD"}}}),
        );
        let (files, replaced) = stacked(vec![base(), own]);
        let (catalogue, faults) = Catalogue::new(files);
        assert_eq!(faults, []);
        assert_eq!(catalogue.part("heater-b").unwrap().part.name, "Mine");
        assert_eq!(catalogue.part("heater-a").unwrap().part.name, "Heater A");
        let [one] = &replaced[..] else { unreachable!("{replaced:?}") };
        assert_eq!(
            (one.path.as_str(), one.file.as_str(), one.by.as_str()),
            ("parts.heater-b", "base.json", "own.json")
        );
    }

    #[test]
    fn a_vehicle_is_laid_over_piece_by_piece() {
        let own = layer(
            "own.json",
            json!({"format": 1, "prices_hold": "2 years", "first_time": {"of_workshop": [1, 3], "source": "measured"}, "vehicles": {"van": {"positions": {
                "heater": {"name": "Heater", "system": "cab", "class": "heater"},
                "second": {"name": "Second heater", "system": "cab", "class": "heater"}
            }}}}),
        );
        let (files, replaced) = stacked(vec![base(), own]);
        let (catalogue, faults) = Catalogue::new(files);
        assert_eq!(faults, []);
        let van = &catalogue.vehicles["van"];
        assert_eq!((van.name.as_str(), van.positions.len()), ("Van", 2));
        assert!(van.positions.values().all(|p| p.as_found.is_none()));
        let paths: Vec<&str> = replaced.iter().map(|r| r.path.as_str()).collect();
        assert_eq!(paths, ["first_time", "prices_hold", "vehicles.van.positions.heater"]);
        assert_eq!(catalogue.prices_hold.unwrap().to_string(), "2 years");
        assert_eq!(catalogue.first_time, Some([1.0, 3.0]));
    }

    #[test]
    fn within_one_library_an_id_that_stands_twice_is_a_fault() {
        let mut own = base();
        own.extend(layer("more.json", json!({"format": 1, "classes": {"heater": {"name": "Again"}}})));
        let (files, replaced) = stacked(vec![own]);
        assert_eq!(replaced, []);
        assert!(Catalogue::new(files).1.iter().any(|f| f.path == "classes.heater"));
    }
}
