//! Which places are meant where a kit, an opening or a need speaks of a class that the vehicle has several places for.

use serde_json::{Value as Json, json};

use crate::assess::least::{Least, companions, fitted};

/// A lift kit, and a vehicle with dampers front and rear.
fn dampers(contents: Json, front: Json, rear: Json) -> Least {
    Least::new(json!({
        "classes": ["springs", "damper"],
        "parts": {
            "old-springs": {"class": "springs", "price": null},
            "old-damper": {"class": "damper", "price": null},
            "front-damper-long": {"class": "damper"},
            "rear-damper-long": {"class": "damper"},
            "lift-kit": {"class": "springs", "contents": contents},
        },
        "vehicle": {"positions": {
            "springs": {"as_found": "old-springs"}, "front-damper": front, "rear-damper": rear,
        }},
    }))
}

fn place(words: &str) -> Json {
    json!({"class": "damper", "where": words, "qty": 2, "as_found": "old-damper"})
}

fn both(least: &Least) -> [Option<String>; 2] {
    let a = least.assess();
    ["front-damper", "rear-damper"].map(|pos| fitted(&a, pos))
}

#[test]
fn a_kit_says_which_of_its_contents_goes_to_which_place() {
    let contents = json!([
        {"part": "front-damper-long", "where": "front", "qty": 2},
        {"part": "rear-damper-long", "where": "rear", "qty": 2},
    ]);
    let least = dampers(contents, place("front"), place("rear")).convert("springs", "lift-kit");
    assert_eq!(both(&least), [Some("front-damper-long".into()), Some("rear-damper-long".into())]);
}

/// Four of one damper go to both places; of two nobody knows which place is meant, and they stay in the box.
#[test]
fn a_content_without_words_fills_all_places_or_none() {
    let kit = |qty: u32| {
        let contents = json!([{"part": "front-damper-long", "qty": qty}]);
        both(&dampers(contents, place("front"), place("rear")).convert("springs", "lift-kit"))
    };
    assert_eq!(kit(4), [Some("front-damper-long".into()), Some("front-damper-long".into())]);
    assert_eq!(kit(2), [Some("old-damper".into()), Some("old-damper".into())]);
}

/// A kit that is fitted at the front brings front dampers where it says nothing.
#[test]
fn what_says_nothing_means_the_places_that_go_with_its_own() {
    let mut least = dampers(json!([{"part": "front-damper-long", "qty": 2}]), place("front"), place("rear"));
    let mut file = least.catalogue.files[0].1.clone();
    for vehicle in file.vehicles.values_mut() {
        vehicle
            .positions
            .values_mut()
            .filter(|p| p.class == "springs")
            .for_each(|p| p.whereabouts = "front".into());
    }
    least.catalogue = crate::Catalogue::new(vec![("least".to_owned(), file)]).0;
    let least = least.convert("springs", "lift-kit");
    assert_eq!(both(&least), [Some("front-damper-long".into()), Some("old-damper".into())]);
}

/// Hubs front and rear, one opening for both: what is beside the hub that is apart is renewed, and the grease is asked for
/// at each spot.
#[test]
fn an_opening_opens_at_each_spot_by_itself() {
    let hubs = Least::new(json!({
        "classes": {"hub": {}, "seal": {}, "grease": {"free": true}},
        "openings": {"hub-off": {"classes": ["hub"], "wants": [{"class": "seal"}, {"class": "grease"}]}},
        "parts": {
            "old-hub": {"class": "hub"}, "new-hub": {"class": "hub"}, "hub-seal": {"class": "seal"}, "tub": {"class": "grease"},
        },
        "vehicle": {"positions": {
            "front-hub": {"class": "hub", "where": "front", "as_found": "old-hub"},
            "front-seal": {"class": "seal", "where": "front", "as_found": "hub-seal"},
            "rear-hub": {"class": "hub", "where": "rear", "as_found": "old-hub"},
            "rear-seal": {"class": "seal", "where": "rear", "as_found": "hub-seal"},
        }},
    }));
    let rear = hubs.clone().convert("rear-hub", "new-hub").assess();
    assert_eq!(companions(&rear), ["apart:hub-off@rear:grease: 1 tub", "beside:rear-seal: 1 hub-seal"]);
    let all = hubs.convert("rear-hub", "new-hub").convert("front-hub", "new-hub").assess();
    assert_eq!(all.companions.len(), 4);
}

/// Two carburettors want a choke each: the one at the front is none for the rear.
#[test]
fn a_need_is_met_at_the_place_that_goes_with_the_asker() {
    let carburettors = Least::new(json!({
        "classes": ["carburettor", "choke"],
        "needs": {"choke": {"kind": "present"}},
        "parts": {
            "old": {"class": "carburettor", "price": null},
            "new": {"class": "carburettor", "needs": {"choke": "present"}},
            "cable": {"class": "choke", "offers": {"choke": "present"}},
        },
        "vehicle": {"positions": {
            "front-carburettor": {"class": "carburettor", "where": "front", "as_found": "old"},
            "front-choke": {"class": "choke", "where": "front", "as_found": "cable"},
            "rear-carburettor": {"class": "carburettor", "where": "rear", "as_found": "old"},
            "rear-choke": {"class": "choke", "where": "rear"},
        }},
    }));
    let front = carburettors.clone().convert("front-carburettor", "new").assess();
    assert_eq!(companions(&front), [""; 0]);
    let rear = carburettors.convert("rear-carburettor", "new").assess();
    assert_eq!(companions(&rear), ["position:rear-choke: 1 cable"]);
}
