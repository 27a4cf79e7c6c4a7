//! What answers a query in the least plan.

use super::*;
use crate::assess::least::{Least, PLAN};
use serde_json::json;

fn finder() -> Finder {
    let plan = Least::new(json!({
        "classes": {"generator": {"decided": "owner"}, "cleaner": {"decided": "owner"}},
        "parts": {
            "dynamo-22": {"class": "generator", "name": "Dynamo, 22 A"},
            "alternator-65": {"class": "generator", "name": "Alternator, 65 A", "price": "140.00 USD"},
            "old-cleaner": {"class": "cleaner", "name": "Oil bath"},
        },
        "vehicle": {"positions": {"generator": "dynamo-22", "cleaner": "old-cleaner"}},
    }));
    let mut sheet = plan.sheet.clone();
    sheet.notes.insert("cleaner".to_owned(), "felt eaten by mice".to_owned());
    let a = crate::assess(&sheet, PLAN, &plan.catalogue);
    Finder::new(&sheet, &a, &plan.catalogue, Arc::new(OnOffer::new(&plan.catalogue)))
}

#[test]
fn what_is_on_offer_is_found_at_its_place_with_its_route() {
    let found = finder().find("alternators");
    assert_eq!(route_of(&found[0]), Some(("generator", Route::Convert, "alternator-65")), "{found:?}");
    // what sits there is no offer
    let found = finder().find("dynamo 22");
    assert!(matches!(&found[0].what, What::Place { id, .. } if id == "generator"), "{found:?}");
    assert_eq!(route_of(&found[0]), None);
}

#[test]
fn who_asks_for_a_place_by_its_name_is_led_to_no_offer() {
    let found = finder().find("Generator");
    assert!(matches!(&found[0].what, What::Place { id, .. } if id == "generator"), "{found:?}");
    assert_eq!(route_of(&found[0]), None);
}

#[test]
fn a_note_is_found_by_its_words() {
    let found = finder().find("mice");
    assert_eq!(
        (&found[0].what, found[0].name.as_str()),
        (&What::Note("cleaner".to_owned()), "felt eaten by mice")
    );
}

#[test]
fn nothing_is_found_where_nothing_is_called_that() {
    for query in ["", "xyzzy", "the of", &"é".repeat(10_000)] {
        assert!(finder().find(query).is_empty());
    }
}

#[test]
fn the_other_names_read_and_every_list_has_some() {
    let names: Names =
        serde_json::from_str(include_str!("../../../../assets/search/things.json")).expect("reads");
    assert_eq!(names.lists.len(), 8);
    assert!(names.lists.values().chain(names.classes.values()).all(|others| !others.is_empty()));
}
