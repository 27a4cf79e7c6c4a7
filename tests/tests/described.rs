//! A vehicle that a sheet describes is judged as the same vehicle written in a library.

#![allow(clippy::unwrap_used, reason = "a test may stop")]

use knockon_core::described::place::{New, added, taken_out};
use knockon_core::described::usual::usual;
use knockon_core::pack::pack;
use knockon_core::strangers::strangers;
use knockon_core::{Catalogue, Sheet, apply, assess};
use knockon_store::library;
use knockon_tests::examples::each_example;
use serde_json::{Value as Json, json};

/// The files of the shipped library with a change of one vehicle, made by hand in their text.
fn rewritten(vehicle: &str, change: &dyn Fn(&mut Json)) -> Catalogue {
    let texts: Vec<(String, String)> = library::shipped_texts()
        .into_iter()
        .map(|(name, text)| {
            let mut file: Json = serde_json::from_str(&text).unwrap();
            if let Some(piece) = file.get_mut("vehicles").and_then(|all| all.get_mut(vehicle)) {
                change(piece);
            }
            (name, file.to_string())
        })
        .collect();
    library::read(&texts).0
}

/// Takes places out of a piece of a vehicle, with the ends of joints and what circuits open.
fn without(piece: &mut Json, gone: &[String]) {
    let is_gone = |at: &Json| gone.iter().any(|id| at == id);
    if let Some(all) = piece.get_mut("positions").and_then(Json::as_object_mut) {
        all.retain(|id, _| !gone.contains(id));
    }
    if let Some(all) = piece.get_mut("joints").and_then(Json::as_object_mut) {
        for joint in all.values_mut() {
            joint["ends"].as_array_mut().unwrap().retain(|end| !is_gone(&end["at"]));
        }
        all.retain(|_, joint| joint["ends"].as_array().unwrap().len() > 1);
    }
    if let Some(all) = piece.get_mut("circuits").and_then(Json::as_object_mut) {
        for circuit in all.values_mut() {
            circuit["positions"].as_array_mut().unwrap().retain(|at| !is_gone(at));
        }
        all.retain(|_, circuit| !circuit["positions"].as_array().unwrap().is_empty());
    }
}

#[test]
fn places_taken_out_in_a_sheet_are_as_if_the_library_never_had_them() {
    let catalogue = library::shipped();
    for (name, sheet) in each_example() {
        let places: Vec<String> =
            catalogue.vehicles[&sheet.vehicle].positions.values().map(|p| p.id.clone()).collect();
        let mut rng = fastrand::Rng::with_seed(7);
        for _ in 0..3 {
            let gone: Vec<String> = places.iter().filter(|_| rng.u8(0..8) == 0).cloned().collect();
            let mut mine: Sheet = sheet.clone();
            for place in &gone {
                mine.described.positions.insert(place.clone(), None);
            }
            let written = rewritten(&sheet.vehicle, &|piece| without(piece, &gone));
            for plan in sheet.plans.keys() {
                let (here, there) = (assess(&mine, plan, &catalogue), assess(&sheet, plan, &written));
                assert_eq!(here.totals, there.totals, "{name}, {plan}, without {gone:?}");
                assert_eq!(here.companions, there.companions, "{name}, {plan}, without {gone:?}");
                assert_eq!(here.clashes, there.clashes, "{name}, {plan}, without {gone:?}");
                assert_eq!(here.to_measure, there.to_measure, "{name}, {plan}, without {gone:?}");
            }
        }
    }
}

#[test]
fn every_place_that_others_have_can_be_ticked_on_a_blank_vehicle_and_cleared_again() {
    let catalogue = library::shipped();
    let text =
        json!({"format": 1, "name": "van", "vehicle": "blank", "plan": "p", "plans": {"p": {"name": "P"}}});
    let bare: Sheet = serde_json::from_value(text).unwrap();
    let mut mine = bare.clone();
    let mut ids = Vec::new();
    // one of four, others each time: all at once would take minutes
    for usual in usual(&catalogue).into_iter().step_by(4) {
        let new = New {
            name: usual.name,
            class: usual.class,
            system: usual.system,
            whereabouts: usual.whereabouts,
            qty: usual.qty,
            ..New::default()
        };
        let (id, edits) = added(&mine, &catalogue, &new).unwrap();
        edits.iter().for_each(|edit| apply(&mut mine, edit).unwrap());
        ids.push(id);
    }
    assert!(ids.len() > 40, "{}", ids.len());
    assert_eq!(strangers(&mine, "p", &catalogue), []);
    let a = assess(&mine, "p", &catalogue);
    assert_eq!(a.positions.len(), ids.len());
    // nothing is chosen, and nothing is asked
    assert!(a.companions.is_empty() && a.clashes.is_empty() && a.to_measure.is_empty(), "{:?}", a.clashes);
    // a friend who has the same library needs nothing more
    let packed = pack(&mine, &catalogue, &catalogue).unwrap();
    assert_eq!((packed.brings.len(), packed.differs), (1, vec![]));
    for id in ids {
        for edit in taken_out(&mine, &catalogue, &id) {
            apply(&mut mine, &edit).unwrap();
        }
    }
    assert_eq!(mine, bare);
}
