//! A vehicle of one's own with the least example of each: a van with a tank, a pump and a carburettor.

use serde_json::{Value as Json, json};

use super::place::{New, Sits, added, taken_out};
use super::usual::usual;
use crate::strangers::strangers;
use crate::{Catalogue, Edit, Sheet, apply, assess};

/// A van whose tank feeds a pump by a hose, and a bare vehicle.
fn library() -> Catalogue {
    let barb = |role: &str, bore: &str| json!({"type": "hose", "role": role, "fields": {"bore": bore}});
    let file = json!({
        "format": 1,
        "systems": {"fuel": {"name": "Fuel"}},
        "classes": {
            "tank": {"name": "Fuel tank", "decided": "owner"}, "pump": {"name": "Fuel pump", "decided": "owner"}, "petrol": {"name": "Petrol", "free": true}
        },
        "port_types": {"hose": {"name": "hose end", "fields": {"bore": {"name": "bore", "kind": "length", "rule": "equal"}}}},
        "parts": {
            "tank-a": {"name": "Tank A", "class": "tank", "ports": {"outlet": barb("give", "8 mm")}},
            "pump-a": {"name": "Pump A", "class": "pump", "ports": {"inlet": barb("take", "8 mm")}},
            "pump-b": {"name": "Pump B", "class": "pump", "price": "40 USD", "ports": {"inlet": barb("take", "6 mm")}},
            "petrol-can": {"name": "Petrol", "class": "petrol", "price": "2 USD"}
        },
        "vehicles": {
            "van": {
                "name": "Van",
                "positions": {
                    "tank": {"name": "Tank", "system": "fuel", "class": "tank", "as_found": "tank-a"},
                    "pump": {"name": "Pump", "system": "fuel", "class": "pump", "as_found": "pump-a"}
                },
                "joints": {"tank-to-pump": {"name": "Tank to pump", "ends": [
                    {"at": "tank", "port": "outlet"}, {"at": "pump", "port": "inlet"}
                ]}},
                "circuits": {"fuel": {"name": "Fuel", "fluid": "petrol", "capacity": "40 L", "positions": ["tank", "pump"]}}
            },
            "blank": {"name": "Blank"}
        }
    });
    let (catalogue, faults) =
        Catalogue::new(vec![("a.json".to_owned(), serde_json::from_value(file).unwrap())]);
    let faults: Vec<_> = faults.iter().filter(|fault| !fault.warning).collect();
    assert!(faults.is_empty(), "{faults:?}");
    catalogue
}

fn sheet(vehicle: &str, described: Json) -> Sheet {
    let text = json!({
        "format": 1, "name": "mine", "vehicle": vehicle, "plan": "p", "plans": {"p": {"name": "P"}},
        "described": described
    });
    serde_json::from_value(text).unwrap()
}

fn places(sheet: &Sheet, catalogue: &Catalogue) -> Vec<String> {
    assess(sheet, "p", catalogue).positions.into_iter().map(|p| p.id).collect()
}

fn new(name: &str, class: &str) -> New {
    New { name: name.into(), class: class.into(), system: "fuel".into(), qty: 1, ..New::default() }
}

fn done(sheet: &mut Sheet, edits: &[Edit]) {
    for edit in edits {
        assert_eq!(apply(sheet, edit), Ok(()));
    }
}

#[test]
fn a_place_that_is_not_there_takes_its_joints_with_it() {
    let catalogue = library();
    let mine = sheet("van", json!({"name": "My van, 1949", "positions": {"pump": null}}));
    assert_eq!(places(&mine, &catalogue), ["tank"]);
    let grown = catalogue.for_sheet(&mine);
    let van = &grown.vehicles["van"];
    assert_eq!(van.name, "My van, 1949");
    assert!(van.joints.is_empty());
    assert_eq!(van.circuits.values().map(|c| c.positions.len()).collect::<Vec<_>>(), [1]);
    assert_eq!(strangers(&mine, "p", &catalogue), []);
    // another sheet has the van as it was
    assert_eq!(
        places(&sheet("van", json!({})), &catalogue),
        ["tank", "pump"].map(String::from).into_iter().rev().collect::<Vec<_>>()
    );
}

#[test]
fn a_second_tank_is_one_more_place_and_hangs_on_nothing_that_is_taken() {
    let catalogue = library();
    let mut mine = sheet("van", json!({}));
    let (id, edits) = added(&mine, &catalogue, &new("Second tank", "tank")).unwrap();
    done(&mut mine, &edits);
    assert_eq!(id, "second-tank");
    assert_eq!(places(&mine, &catalogue), ["pump", "second-tank", "tank"]);
    let grown = catalogue.for_sheet(&mine);
    let van = &grown.vehicles["van"];
    // the pump's inlet has its tank: whether the second goes there as well is for its owner to say
    assert_eq!(van.joints.len(), 1);
    let at = van.position_ix["second-tank"];
    let proposals = super::joining::proposals(&grown, van, at);
    assert_eq!(proposals.len(), 1);
    assert_eq!(proposals[0].taken, ["tank-to-pump"]);
    assert_eq!(proposals[0].joint.name, "Second tank to pump");
    // it opens the circuit that tanks open
    assert_eq!(van.circuits.values().next().unwrap().positions.len(), 3);
    assert_eq!(strangers(&mine, "p", &catalogue), []);
    // and all of it goes again
    let out = taken_out(&mine, &catalogue, "second-tank");
    done(&mut mine, &out);
    assert_eq!(places(&mine, &catalogue), ["pump", "tank"]);
    assert!(mine.parts.is_empty() && mine.described.is_empty());
    assert_eq!(strangers(&mine, "p", &catalogue), []);
}

#[test]
fn places_ticked_on_a_blank_vehicle_meet_as_they_do_on_others() {
    let catalogue = library();
    let mut mine = sheet("blank", json!({}));
    assert_eq!(usual(&catalogue).iter().map(|u| u.class.as_str()).collect::<Vec<_>>(), ["pump", "tank"]);
    for (name, class) in [("Tank", "tank"), ("Lift pump", "pump")] {
        let (_, edits) = added(&mine, &catalogue, &new(name, class)).unwrap();
        done(&mut mine, &edits);
    }
    assert_eq!(places(&mine, &catalogue), ["lift-pump", "tank"]);
    let grown = catalogue.for_sheet(&mine);
    assert_eq!(
        grown.vehicles["blank"].joints.values().map(|j| j.name.as_str()).collect::<Vec<_>>(),
        ["Tank to lift pump"]
    );
    assert_eq!(strangers(&mine, "p", &catalogue), []);
    // as found it stands, and asks nothing
    let a = assess(&mine, "p", &catalogue);
    assert!(a.clashes.is_empty() && a.to_measure.is_empty() && a.companions.is_empty(), "{a:?}");
    // what is not known of the tank is asked once something new is to hang on it
    let choose = json!({"edit": "choose", "plan": "p", "position": "lift-pump", "choice": {"route": "convert", "part": "pump-b"}});
    done(&mut mine, &[serde_json::from_value(choose).unwrap()]);
    let a = assess(&mine, "p", &catalogue);
    assert!(a.clashes.is_empty(), "{:?}", a.clashes);
    assert_eq!(a.to_measure.len(), 1, "{:?}", a.to_measure);
}

#[test]
fn a_place_keeps_a_part_of_the_library_or_nothing() {
    let catalogue = library();
    let mut mine = sheet("blank", json!({}));
    let with = |sits| New { sits, ..new("Tank", "tank") };
    let (_, edits) = added(&mine, &catalogue, &with(Sits::Part("tank-a".into()))).unwrap();
    done(&mut mine, &edits);
    let (_, edits) = added(&mine, &catalogue, &with(Sits::Nothing)).unwrap();
    done(&mut mine, &edits);
    let found = |id: &str| mine.described.positions[id].as_ref().unwrap().as_found.clone();
    assert_eq!((found("tank"), found("tank-2")), (Some("tank-a".into()), None));
    assert!(mine.parts.is_empty());
    assert!(added(&mine, &catalogue, &new("Boiler", "boiler")).is_none());
}

#[test]
fn what_is_wrong_in_it_is_told_where_it_stands() {
    let mine =
        sheet("van", json!({"positions": {"tank-2": {"name": "Tank", "system": "fuel", "class": "tnak"}}}));
    let told = strangers(&mine, "p", &library());
    assert_eq!(
        told.iter().map(|s| s.path.as_str()).collect::<Vec<_>>(),
        ["described.positions.tank-2.class"]
    );
}

#[test]
fn a_place_that_is_cleared_and_ticked_again_is_as_the_library_has_it() {
    let catalogue = library();
    let bare = sheet("van", json!({}));
    let mut mine = bare.clone();
    done(&mut mine, &taken_out(&bare, &catalogue, "tank"));
    let (id, edits) = added(&mine, &catalogue, &new("Tank", "tank")).unwrap();
    done(&mut mine, &edits);
    assert_eq!((id.as_str(), &mine), ("tank", &bare));
    // one more beside it is another place
    let (id, _) = added(&mine, &catalogue, &new("Tank", "tank")).unwrap();
    assert_eq!(id, "tank-2");
}

#[test]
fn what_is_said_of_a_place_goes_with_it_and_no_later_one_inherits_it() {
    let catalogue = library();
    let bare = sheet("van", json!({}));
    let mut mine = bare.clone();
    let (id, edits) = added(&mine, &catalogue, &new("Second tank", "tank")).unwrap();
    done(&mut mine, &edits);
    let part = mine.described.positions[&id].as_ref().unwrap().as_found.clone().unwrap();
    let more = json!([
        {"edit": "made", "position": id, "made": "1950"},
        {"edit": "survey", "position": id, "finding": {"verdict": "stop", "note": "holes"}},
        {"edit": "readings", "position": id, "readings": [{"of": "rust", "value": "2 mm"}]},
        {"edit": "seen", "position": id, "seen": [{"what": "a hole", "verdict": "stop"}]},
        {"edit": "choose", "plan": "p", "position": id, "choice": {"route": "renew"}},
        {"edit": "accept", "plan": "p", "key": format!("position:{id}"), "yes": true},
        {"edit": "set-fact", "figure": format!("outlet.bore@{part}"), "value": "8 mm"}
    ]);
    let more: Vec<Edit> = serde_json::from_value(more).unwrap();
    done(&mut mine, &more);
    let out = taken_out(&mine, &catalogue, &id);
    done(&mut mine, &out);
    assert_eq!(mine, bare);
    // what is found a second time not to be known leaves nothing of the first behind
    for _ in 0..2 {
        let edits = super::place::not_looked_at(&mine, &catalogue, "tank").unwrap();
        done(&mut mine, &edits);
    }
    assert_eq!(mine.parts.len(), 1, "{:?}", mine.parts.keys());
}

#[test]
fn a_joint_of_three_goes_on_without_the_place_that_goes() {
    let catalogue = library();
    let mut mine = sheet("van", json!({}));
    let (id, edits) = added(&mine, &catalogue, &new("Second tank", "tank")).unwrap();
    done(&mut mine, &edits);
    let ends = [("tank", "outlet"), ("pump", "inlet"), (id.as_str(), "outlet")];
    let ends: Vec<Json> = ends.iter().map(|(at, port)| json!({"at": at, "port": port})).collect();
    let joint = json!({"edit": "joint", "joint": "tee", "meets": {"own": {"name": "Tee", "ends": ends}}});
    done(&mut mine, &[serde_json::from_value(joint).unwrap()]);
    assert_eq!(strangers(&mine, "p", &catalogue), []);
    let out = taken_out(&mine, &catalogue, &id);
    done(&mut mine, &out);
    // the rest of it is what the library has
    assert!(mine.described.is_empty(), "{:?}", mine.described);
    assert_eq!(strangers(&mine, "p", &catalogue), []);
}
