//! A joint that comes apart wants what its port type lists; an opening wants what is in reach; a circuit wants its fluid.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions};
use crate::sheet::Route;

/// A pump of so many bolts on an engine; this is wanted when they come apart.
fn pump(opened: Json, gaskets: Json, joint: Json) -> Vec<String> {
    let flange = |bolts: &str| json!({"type": "flange", "fields": {"bolts": bolts}});
    let mut library = json!({
        "free": ["gasket"],
        "port_types": {"flange": {
            "fields": {"bolts": {"kind": "word", "rule": "equal"}}, "opened": opened,
        }},
        "parts": gaskets,
        "vehicle": {
            "positions": {"engine": "old-engine", "pump": "old-pump"},
            "joints": {"foot": joint},
        },
    });
    library["parts"]["old-engine"] = json!({"class": "engine", "ports": {"pad": flange("two")}});
    library["parts"]["old-pump"] = json!({"class": "pump", "ports": {"foot": flange("two")}});
    companions(&Least::new(library).choose("pump", Route::Rebuild).assess())
}

#[test]
fn a_joint_that_comes_apart_wants_what_its_type_lists() {
    let paper = || json!({"paper-gasket": "gasket"});
    let foot = || json!(["pump.foot", "engine.pad"]);
    assert_eq!(pump(json!(["gasket"]), paper(), foot()), ["joint:foot:gasket: 1 paper-gasket"]);
    assert!(pump(json!([]), paper(), foot()).is_empty());
}

#[test]
fn so_many_for_each_of_so_many_joints() {
    let two = json!([{"class": "gasket", "qty": 2}]);
    let three = json!({"ends": ["pump.foot", "engine.pad"], "qty": 3});
    assert_eq!(pump(two, json!({"paper-gasket": "gasket"}), three), ["joint:foot:gasket: 6 paper-gasket"]);
}

#[test]
fn what_is_only_advised_is_an_advised_companion() {
    let advised = json!([{"class": "gasket", "level": "advised"}]);
    assert_eq!(
        pump(advised, json!({"paper-gasket": "gasket"}), json!(["pump.foot", "engine.pad"])),
        ["joint:foot:gasket: 1 paper-gasket (advised)"]
    );
}

#[test]
fn the_cheapest_that_suits_the_contact() {
    let gasket = |bolts: &str, price: &str| {
        let port = json!({"type": "flange", "fields": {"bolts": bolts}});
        json!({"class": "gasket", "ports": {"face": port}, "price": price})
    };
    let gaskets = json!({
        "cheap-gasket": gasket("two", "3.00 USD"), "dear-gasket": gasket("two", "4.00 USD"),
        "three-bolt-gasket": gasket("three", "2.00 USD"),
    });
    assert_eq!(
        pump(json!(["gasket"]), gaskets, json!(["pump.foot", "engine.pad"])),
        ["joint:foot:gasket: 1 cheap-gasket"]
    );
}

#[test]
fn a_bridge_makes_two_contacts_of_one_each_with_its_own_seal() {
    let flange = |bolts: &str| json!({"type": "flange", "fields": {"bolts": bolts}});
    let gasket = |bolts: &str| json!({"class": "gasket", "ports": {"face": flange(bolts)}});
    let a = Least::new(json!({
        "free": ["gasket", "plate"],
        "port_types": {"flange": {"fields": {"bolts": {"kind": "word", "rule": "class"}}, "opened": ["gasket"]}},
        "parts": {
            "adapter-plate": {
                "class": "plate", "bridges": ["one", "other"],
                "ports": {"one": flange("two"), "other": flange("three")},
            },
            "new-pump": {"class": "pump", "ports": {"foot": flange("two")}},
            "old-engine": {"class": "engine", "ports": {"pad": flange("three")}},
            "three-bolt-gasket": gasket("three"), "two-bolt-gasket": gasket("two"),
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "pump": null},
            "joints": {"foot": ["pump.foot", "engine.pad"]},
        },
    }))
    .convert("pump", "new-pump")
    .assess();
    assert_eq!(
        companions(&a),
        [
            "bridge:foot:0: 1 adapter-plate",
            "joint:foot:gasket: 1 two-bolt-gasket",
            "joint:foot:gasket:1: 1 three-bolt-gasket",
        ]
    );
}

#[test]
fn a_seal_out_of_the_box_goes_before_a_cheaper_one() {
    let pump = Least::new(json!({
        "free": ["gasket"],
        "port_types": {"flange": {"opened": ["gasket"]}},
        "parts": {
            "copper-gasket": {"class": "gasket", "price": "20.00 USD"},
            "new-pump": {"class": "pump", "ports": {"foot": "flange"}},
            "old-engine": {"class": "engine", "ports": {"pad": "flange"}},
            "paper-gasket": "gasket",
            "pump-kit": {"class": "pump", "ports": {"foot": "flange"}, "contents": ["copper-gasket"]},
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "pump": null},
            "joints": {"foot": ["pump.foot", "engine.pad"]},
        },
    }));
    let bought = pump.convert("pump", "new-pump");
    assert_eq!(companions(&bought.assess()), ["joint:foot:gasket: 1 paper-gasket"]);
    // also where the one that is bought was found before
    let boxed = bought.convert("pump", "pump-kit");
    assert_eq!(companions(&boxed.assess()), ["joint:foot:gasket: 1 copper-gasket (1 in a box)"]);
}

/// While the hub is off, grease is wanted, which has no place of its own.
fn hub() -> Least {
    Least::new(json!({
        "free": ["grease"],
        "openings": {"hub-off": {"classes": ["hub"], "wants": ["grease"]}},
        "parts": {"bearing-grease": "grease", "old-hub": "hub", "old-pump": "pump"},
        "vehicle": {"positions": {"hub": "old-hub", "pump": "old-pump"}},
    }))
}

#[test]
fn an_opening_wants_what_it_lists_while_its_place_is_apart() {
    assert_eq!(
        companions(&hub().choose("hub", Route::Clean).assess()),
        ["apart:hub-off:grease: 1 bearing-grease"]
    );
    assert!(companions(&hub().choose("hub", Route::Keep).assess()).is_empty());
    assert!(companions(&hub().choose("pump", Route::Clean).assess()).is_empty());
}

/// A radiator and a heater in two circuits of one fluid, sold in tins.
fn coolant(radiator: &str, heater: &str, tins: Json) -> Least {
    let circuit =
        |capacity: &str, at: &[&str]| json!({"fluid": "coolant", "capacity": capacity, "positions": at});
    let mut parts = tins;
    parts["old-heater"] = json!("heater");
    parts["old-hose"] = json!("hose");
    parts["old-radiator"] = json!("radiator");
    Least::new(json!({
        "free": ["coolant"],
        "figures": {"container": "volume"},
        "parts": parts,
        "vehicle": {
            "positions": {"heater": "old-heater", "hose": "old-hose", "radiator": "old-radiator"},
            "circuits": {"back": circuit(heater, &["heater"]), "front": circuit(radiator, &["hose", "radiator"])},
        },
    }))
}

fn tin(volume: &str, price: &str) -> Json {
    json!({"class": "coolant", "figures": {"container": volume}, "price": price})
}

fn five_litres() -> Json {
    json!({"tin-of-5": tin("5 L", "10.00 USD")})
}

#[test]
fn work_at_one_of_its_places_opens_a_circuit_which_wants_its_fluid_by_the_tin() {
    let drained = |litres: &str| {
        companions(&coolant(litres, "2 L", five_litres()).choose("hose", Route::Renew).assess())
    };
    assert_eq!(drained("5 L"), ["fluid:coolant: 1 tin-of-5"]);
    assert_eq!(drained("5.1 L"), ["fluid:coolant: 2 tin-of-5"]);
    assert!(
        companions(&coolant("5 L", "2 L", five_litres()).choose("hose", Route::Keep).assess()).is_empty()
    );
}

#[test]
fn circuits_of_one_fluid_are_filled_from_the_same_tins() {
    let both = |radiator: &str, heater: &str| {
        let least = coolant(radiator, heater, five_litres());
        companions(&least.choose("hose", Route::Renew).choose("heater", Route::Renew).assess())
    };
    assert_eq!(both("3 L", "2 L"), ["fluid:coolant: 1 tin-of-5"]);
    assert_eq!(both("4 L", "4 L"), ["fluid:coolant: 2 tin-of-5"]);
}

#[test]
fn of_two_tins_the_size_that_fills_it_cheapest() {
    let tins = |small: &str| json!({"tin-of-1": tin("1 L", small), "tin-of-5": tin("5 L", "10.00 USD")});
    let drained =
        |small: &str| companions(&coolant("3 L", "2 L", tins(small)).choose("hose", Route::Renew).assess());
    assert_eq!(drained("3.00 USD"), ["fluid:coolant: 3 tin-of-1"]);
    assert_eq!(drained("3.50 USD"), ["fluid:coolant: 1 tin-of-5"]);
}

#[test]
fn what_a_fitted_part_holds_is_filled_too() {
    let mut tins = five_litres();
    tins["oil-cooler"] = json!({"class": "hose", "holds": {"front": "1 L"}});
    let cooler = coolant("5 L", "2 L", tins).convert("hose", "oil-cooler");
    assert_eq!(companions(&cooler.assess()), ["fluid:coolant: 2 tin-of-5"]);
}

#[test]
fn what_is_left_off_lets_a_circuit_run_out_as_long_as_something_of_it_stays() {
    let off = coolant("5 L", "2 L", five_litres()).choose("hose", Route::LeaveOff);
    assert_eq!(companions(&off.assess()), ["fluid:coolant: 1 tin-of-5"]);
    assert!(companions(&off.choose("radiator", Route::LeaveOff).assess()).is_empty());
}
