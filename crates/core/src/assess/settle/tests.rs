//! Routes say what sits in a place and what is taken apart; a kit fills the places of what is in its box.

use serde_json::json;

use super::super::least::{Least, companions, fitted, shelf};
use crate::sheet::Route;

/// A pump: that it was taken apart shows by the gasket.
fn pump() -> Least {
    Least::new(json!({
        "free": ["gasket"],
        "openings": {"pump-off": {"classes": ["pump"], "wants": ["gasket"]}},
        "parts": {"new-pump": "pump", "old-pump": "pump", "paper-gasket": "gasket"},
        "vehicle": {"positions": {"pump": "old-pump"}},
    }))
}

const GASKET: &str = "apart:pump-off:gasket: 1 paper-gasket";

/// What sits there in the end, what is wanted with it, and what goes to the shelf.
fn is(least: &Least, pump: Option<&str>, wanted: &[&str], on_shelf: &[&str]) {
    let a = least.assess();
    assert_eq!(fitted(&a, "pump").as_deref(), pump);
    assert_eq!(companions(&a), wanted);
    assert_eq!(shelf(&a), on_shelf);
}

#[test]
fn keep_leaves_the_part_and_opens_nothing() {
    is(&pump().choose("pump", Route::Keep), Some("old-pump"), &[], &[]);
}

#[test]
fn clean_rebuild_and_renew_leave_the_part_and_open_its_place() {
    for route in [Route::Clean, Route::Rebuild, Route::Renew] {
        is(&pump().choose("pump", route), Some("old-pump"), &[GASKET], &[]);
    }
}

#[test]
fn convert_puts_in_another_part_and_opens_its_place() {
    is(&pump().convert("pump", "new-pump"), Some("new-pump"), &[GASKET], &["pump"]);
}

#[test]
fn convert_to_what_was_found_changes_nothing_and_opens_its_place() {
    is(&pump().convert("pump", "old-pump"), Some("old-pump"), &[GASKET], &[]);
}

#[test]
fn leave_off_empties_the_place_and_opens_nothing() {
    is(&pump().choose("pump", Route::LeaveOff), None, &[], &["pump"]);
}

/// A carburettor whose box holds a hose, and with which the air cleaner goes.
fn carburettor() -> Least {
    Least::new(json!({
        "parts": {
            "old-hose": "hose",
            "new-hose": "hose",
            "paper-cleaner": "air-cleaner",
            "old-carburettor": "carburettor",
            "carburettor-kit": {"class": "carburettor", "contents": ["new-hose"], "leaves_empty": ["air-cleaner"]},
        },
        "vehicle": {"positions": {
            "air-cleaner": "paper-cleaner", "carburettor": "old-carburettor", "hose": "old-hose",
        }},
    }))
}

#[test]
fn a_kit_puts_each_content_into_the_place_of_its_class_and_is_no_companion() {
    let a = carburettor().convert("carburettor", "carburettor-kit").assess();
    assert_eq!(fitted(&a, "hose").as_deref(), Some("new-hose"));
    assert!(companions(&a).is_empty());
}

#[test]
fn without_the_kit_nothing_is_unpacked() {
    let a = carburettor().choose("carburettor", Route::Renew).assess();
    assert_eq!(fitted(&a, "hose").as_deref(), Some("old-hose"));
    assert_eq!(fitted(&a, "air-cleaner").as_deref(), Some("paper-cleaner"));
}

#[test]
fn what_the_owner_says_of_a_place_goes_before_the_content_of_a_kit() {
    let kept = carburettor().convert("carburettor", "carburettor-kit").choose("hose", Route::Keep);
    assert_eq!(fitted(&kept.assess(), "hose").as_deref(), Some("old-hose"));
}

#[test]
fn leaves_empty_empties_the_places_of_these_classes() {
    let kit = carburettor().convert("carburettor", "carburettor-kit");
    assert_eq!(fitted(&kit.assess(), "air-cleaner"), None);
    let kept = kit.choose("air-cleaner", Route::Keep);
    assert_eq!(fitted(&kept.assess(), "air-cleaner").as_deref(), Some("paper-cleaner"));
}

/// A conversion whose box holds a carburettor with which the air cleaner goes; it holds nothing itself.
fn conversion() -> Least {
    Least::new(json!({
        "parts": {
            "paper-cleaner": "air-cleaner",
            "old-carburettor": "carburettor",
            "sport-carburettor": {"class": "carburettor", "leaves_empty": ["air-cleaner"]},
            "old-manifold": "manifold",
            "sport-manifold": {"class": "manifold", "contents": ["sport-carburettor"]},
        },
        "vehicle": {"positions": {
            "air-cleaner": "paper-cleaner", "carburettor": "old-carburettor", "manifold": "old-manifold",
        }},
    }))
    .convert("manifold", "sport-manifold")
}

#[test]
fn what_comes_in_a_box_leaves_empty_what_it_leaves_empty_by_itself() {
    assert_eq!(fitted(&conversion().assess(), "air-cleaner"), None);
}

#[test]
fn what_does_not_get_into_its_place_leaves_nothing_empty() {
    let kept = conversion().choose("carburettor", Route::Keep).assess();
    assert_eq!(fitted(&kept, "air-cleaner").as_deref(), Some("paper-cleaner"));
    let chosen = conversion().convert("carburettor", "sport-carburettor").assess();
    assert_eq!(fitted(&chosen, "air-cleaner"), None);
}

/// A pump that needs a filter. The vehicle has no place for one; a box may hold it.
fn filter(contents: &[&str]) -> Least {
    Least::new(json!({
        "free": ["filter"],
        "parts": {
            "paper-filter": {"class": "filter", "offers": ["clean-fuel"]},
            "pump-kit": {"class": "pump", "needs": ["clean-fuel"], "contents": contents},
        },
        "vehicle": {"positions": {"pump": null}},
    }))
    .convert("pump", "pump-kit")
}

#[test]
fn a_content_without_a_place_lies_in_the_box_and_serves_at_no_cost() {
    let a = filter(&["paper-filter"]).assess();
    assert_eq!(companions(&a), ["need:pump:pump-kit:clean-fuel: 1 paper-filter (1 in a box)"]);
    assert_eq!(a.totals.money.to_come.text("USD"), "10.00 USD");
    assert!(a.buy.iter().all(|line| line.qty > 0));
}

#[test]
fn what_is_not_in_the_box_is_bought() {
    let a = filter(&[]).assess();
    assert_eq!(companions(&a), ["need:pump:pump-kit:clean-fuel: 1 paper-filter"]);
    assert_eq!(a.totals.money.to_come.text("USD"), "20.00 USD");
}

#[test]
fn a_box_in_the_box_is_unpacked_too() {
    let a = Least::new(json!({
        "parts": {
            "new-hose": "hose",
            "hose-set": {"class": "set", "contents": ["new-hose"]},
            "pump-kit": {"class": "pump", "contents": ["hose-set"]},
        },
        "vehicle": {"positions": {"hose": null, "pump": null}},
    }))
    .convert("pump", "pump-kit")
    .assess();
    assert_eq!(fitted(&a, "hose").as_deref(), Some("new-hose"));
}

#[test]
fn a_kit_that_a_joint_brings_is_unpacked_too() {
    let a = Least::new(json!({
        "parts": {
            "hose-kit": {"class": "hose", "ports": {"end": "5/16"}, "contents": ["new-filter"]},
            "new-filter": "filter",
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-hose": {"class": "hose", "ports": {"end": "3/8"}},
        },
        "vehicle": {
            "positions": {"filter": null, "hose": "old-hose", "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
    .assess();
    assert_eq!(companions(&a), ["position:hose: 1 hose-kit"]);
    assert_eq!(fitted(&a, "filter").as_deref(), Some("new-filter"));
}
