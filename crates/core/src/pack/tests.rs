//! A friend gets a sheet of a vehicle that only its owner's library has.

use serde_json::{Value as Json, json};

use super::{library_file, pack};
use crate::strangers::strangers;
use crate::{Catalogue, Sheet, assess};

fn base() -> Json {
    json!({
        "format": 1,
        "systems": {"fuel": {"name": "Fuel"}},
        "classes": {
            "tank": {"name": "Fuel tank", "decided": "owner"}, "pump": {"name": "Fuel pump", "decided": "owner"},
            "hose": {"name": "Hose", "free": true}
        },
        "port_types": {"barb": {"name": "hose end", "fields": {"bore": {"name": "bore", "kind": "length", "rule": "equal"}}}},
        "parts": {
            "tank-a": {"name": "Tank A", "class": "tank", "ports": {"outlet": {"type": "barb", "role": "give", "fields": {"bore": "8 mm"}}}},
            "pump-a": {"name": "Pump A", "class": "pump", "ports": {"inlet": {"type": "barb", "role": "take", "fields": {"bore": "8 mm"}}}}
        },
        "vehicles": {
            "van": {"name": "Van", "positions": {
                "tank": {"name": "Tank", "system": "fuel", "class": "tank", "as_found": "tank-a"},
                "pump": {"name": "Pump", "system": "fuel", "class": "pump", "as_found": "pump-a"}
            }},
            "blank": {"name": "Blank", "beginning": true}
        }
    })
}

/// The owner's own library: a tractor, a class that only it has, a pump, a reducer.
fn own() -> Json {
    json!({
        "format": 1,
        "classes": {"strainer": {"name": "Strainer", "decided": "owner"}},
        "figures": {"bowl": {"name": "bowl", "kind": "volume"}},
        "parts": {
            "strainer-a": {"name": "Strainer A", "class": "strainer", "figures": {"bowl": "0.2 L"}},
            "pump-b": {"name": "Pump B", "class": "pump", "price": "40 USD", "hours": 1.0,
                       "ports": {"inlet": {"type": "barb", "role": "take", "fields": {"bore": "6 mm"}}}},
            "reducer": {"name": "Reducer", "class": "hose", "price": "3 USD", "bridges": ["big", "small"], "ports": {
                "big": {"type": "barb", "role": "take", "fields": {"bore": "8 mm"}},
                "small": {"type": "barb", "role": "give", "fields": {"bore": "6 mm"}}
            }}
        },
        "vehicles": {"tractor": {
            "name": "Tractor", "facts": {"bowl": "0.2 L"},
            "positions": {
                "tank": {"name": "Tank", "system": "fuel", "class": "tank", "as_found": "tank-a"},
                "strainer": {"name": "Strainer", "system": "fuel", "class": "strainer", "as_found": "strainer-a"},
                "pump": {"name": "Pump", "system": "fuel", "class": "pump", "as_found": "pump-a"}
            },
            "joints": {"tank-to-pump": {"name": "Tank to pump", "ends": [
                {"at": "tank", "port": "outlet"}, {"at": "pump", "port": "inlet"}
            ]}}
        }}
    })
}

fn catalogue(files: &[Json]) -> Catalogue {
    let files = files.iter().enumerate();
    let files = files.map(|(n, file)| (format!("{n}.json"), serde_json::from_value(file.clone()).unwrap()));
    let (catalogue, faults) = Catalogue::new(files.collect());
    let faults: Vec<_> = faults.iter().filter(|fault| !fault.warning).collect();
    assert!(faults.is_empty(), "{faults:?}");
    catalogue
}

fn sheet() -> Sheet {
    serde_json::from_value(json!({
        "format": 1, "name": "Red tractor", "vehicle": "tractor", "plan": "p",
        "plans": {"p": {"name": "P", "routes": {"pump": {"route": "convert", "part": "pump-b"}}}},
        "described": {"name": "The red one", "positions": {"strainer": {
            "name": "Glass bowl", "system": "fuel", "class": "strainer", "as_found": "strainer-a"
        }}}
    }))
    .unwrap()
}

#[test]
fn what_is_packed_is_judged_alike_without_the_library_it_was_made_with() {
    let (here, there) = (catalogue(&[base(), own()]), catalogue(&[base()]));
    let packed = pack(&sheet(), &here, &there).unwrap();
    assert_eq!(packed.differs, Vec::<String>::new());
    let mut brings = packed.brings.clone();
    brings.sort();
    assert_eq!(
        brings,
        [
            "the class Strainer",
            "the figure bowl",
            "the part Pump B",
            "the part Reducer",
            "the part Strainer A",
            "the vehicle The red one"
        ]
    );
    assert_eq!(packed.sheet.vehicle, "blank");
    assert_eq!(strangers(&packed.sheet, "p", &there), []);
    // through a file, as a friend gets it
    let text = serde_json::to_string(&packed.sheet).unwrap();
    let got: Sheet = serde_json::from_str(&text).unwrap();
    let (mine, his) = (assess(&sheet(), "p", &here), assess(&got, "p", &there));
    assert_eq!(mine.companions.iter().map(|c| &c.part).collect::<Vec<_>>(), ["reducer"]);
    let told = |a: &crate::Assessment| -> Vec<_> {
        a.companions.iter().map(|c| (c.key.to_string(), c.part.clone())).collect()
    };
    assert_eq!(told(&mine), told(&his));
    assert_eq!(mine.totals.money, his.totals.money);
    // what is packed twice stays as it is
    assert_eq!(pack(&packed.sheet, &there, &there).unwrap().sheet, packed.sheet);
}

#[test]
fn a_sheet_of_the_shipped_library_brings_nothing() {
    let there = catalogue(&[base()]);
    let sheet: Sheet = serde_json::from_value(json!({
        "format": 1, "name": "Van", "vehicle": "van", "plan": "p", "plans": {"p": {"name": "P"}}
    }))
    .unwrap();
    let packed = pack(&sheet, &there, &there).unwrap();
    assert_eq!((packed.sheet, packed.brings, packed.differs), (sheet, vec![], vec![]));
    let unknown = Sheet { vehicle: "boat".into(), ..Sheet::default() };
    assert_eq!(pack(&unknown, &there, &there), None);
}

#[test]
fn what_a_sheet_describes_becomes_a_vehicle_that_others_begin_from() {
    let here = catalogue(&[base(), own()]);
    let (id, file) = library_file(&sheet(), &here).unwrap();
    assert_eq!(id, "the-red-one");
    // laid on the same libraries it is a vehicle as good as any
    let files = vec![
        ("0.json".to_owned(), serde_json::from_value(base()).unwrap()),
        ("1.json".to_owned(), serde_json::from_value(own()).unwrap()),
        ("2.json".to_owned(), file),
    ];
    let (with, faults) = Catalogue::new(files);
    assert_eq!(faults.iter().filter(|fault| !fault.warning).count(), 0, "{faults:?}");
    let mine = Sheet { vehicle: id, described: Default::default(), ..sheet() };
    let names = |a: crate::Assessment| a.positions.into_iter().map(|p| p.name).collect::<Vec<_>>();
    assert_eq!(names(assess(&mine, "p", &with)), names(assess(&sheet(), "p", &here)));
    assert_eq!(with.vehicles["the-red-one"].name, "The red one");
}

#[test]
fn what_another_library_changes_is_told_by_name() {
    use super::otherwise::changes;
    use crate::showing::Measure;
    let read = |parts: Json| {
        let mut file = base();
        for (id, part) in parts.as_object().unwrap() {
            file["parts"][id] = part.clone();
        }
        file["vehicles"]["van"]["joints"] = json!({"tank-to-pump": {"name": "Tank to pump", "ends": [
            {"at": "tank", "port": "outlet"}, {"at": "pump", "port": "inlet"}]}});
        Catalogue::new(vec![("a.json".to_owned(), serde_json::from_value(file).unwrap())]).0
    };
    let sheet: Sheet =
        serde_json::from_value(json!({"format": 1, "name": "Ours", "vehicle": "van", "plan": "p",
        "plans": {"p": {"name": "P", "routes": {"pump": {"route": "convert", "part": "pump-c"}}}}}))
        .unwrap();
    let part = |bore: &str, price: &str, name: &str| {
        json!({"pump-c": {"name": name, "class": "pump", "price": price, "hours": 1.0,
            "ports": {"inlet": {"type": "barb", "role": "take", "fields": {"bore": bore}}}}})
    };
    let was = assess(&sheet, "p", &read(part("8 mm", "40 USD", "Pump C")));
    let is = assess(&sheet, "p", &read(part("6 mm", "45 USD", "Better pump")));
    let told = changes(&was, &is, Measure::Metric);
    assert!(told.contains(&"Pump: Better pump instead of Pump C".to_owned()), "{told:?}");
    assert!(told.contains(&"Does not fit: Tank to pump".to_owned()), "{told:?}");
    assert!(told.contains(&"Money: 45.00 USD instead of 40.00 USD".to_owned()), "{told:?}");
    assert!(changes(&is, &was, Measure::Metric).contains(&"Fits again: Tank to pump".to_owned()));
    assert!(changes(&was, &was, Measure::Metric).is_empty());
}
