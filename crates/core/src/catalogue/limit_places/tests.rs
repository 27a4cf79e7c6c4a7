//! A limit runs once for each set of places that belong together.

use serde_json::{Value as Json, json};

use crate::assess::least::{Least, clashes, open};
use crate::sheet::Route;

/// Dampers and springs, front and rear: a damper must open as far as its own spring wants.
fn axles(places: Json) -> Least {
    let damper = |opens: &str| json!({"class": "damper", "figures": {"opens": opens}, "ports": {"eye": {"type": "eye"}}});
    let spring = |wants: &str| json!({"class": "spring", "figures": {"wants": wants}, "ports": {"seat": {"type": "eye"}}});
    Least::new(json!({
        "classes": ["damper", "spring"],
        "figures": {"opens": {"kind": "length"}, "wants": {"kind": "length"}, "rating": {"kind": "mass"}},
        "port_types": {"eye": {}},
        "limits": {"damper-open": {"calc": "at-least", "inputs": {
            "have": {"class": "damper", "figure": "opens"}, "want": {"class": "spring", "figure": "wants"},
        }}},
        "parts": {
            "short": damper("380 mm"), "long": damper("480 mm"),
            "low": spring("360 mm"), "high": spring("450 mm"),
        },
        "vehicle": places,
    }))
}

/// Front and rear by their words.
fn by_words() -> Least {
    axles(json!({"positions": {
        "front-damper": {"class": "damper", "where": "front", "as_found": "short"},
        "front-spring": {"class": "spring", "where": "front", "as_found": "low"},
        "rear-damper": {"class": "damper", "where": "rear", "as_found": "short"},
        "rear-spring": {"class": "spring", "where": "rear", "as_found": "low"},
    }}))
}

#[test]
fn high_springs_at_the_rear_want_long_dampers_at_the_rear_only() {
    let kept = |least: Least| least.choose("front-damper", Route::Keep).choose("rear-damper", Route::Keep);
    let a = kept(by_words()).convert("rear-spring", "high").assess();
    assert_eq!(clashes(&a), ["limit:damper-open@rear-damper+rear-spring"]);
    assert_eq!(a.clashes[0].name, "damper-open, rear-damper and rear-spring");
    let a = kept(by_words()).convert("rear-spring", "high").convert("front-spring", "high").assess();
    assert_eq!(clashes(&a).len(), 2);
}

/// Where joints tie the places, the joints say what belongs together, whatever the words.
#[test]
fn what_meets_at_a_joint_belongs_together() {
    let eye = |damper: &str, spring: &str| json!({"ends": [{"at": damper, "port": "eye"}, {"at": spring, "port": "seat"}]});
    let a = axles(json!({
        "positions": {
            "damper-1": {"class": "damper", "where": "front", "as_found": "short"},
            "damper-2": {"class": "damper", "where": "rear", "as_found": "short"},
            "spring-1": {"class": "spring", "as_found": "low"},
            "spring-2": {"class": "spring", "as_found": "low"},
        },
        "joints": {"one": eye("damper-1", "spring-2"), "other": eye("damper-2", "spring-1")},
    }));
    let a = a.convert("spring-2", "high").choose("damper-1", Route::Keep).assess();
    assert_eq!(clashes(&a), ["limit:damper-open@damper-1+spring-2"]);
}

/// One place of each class: the limit runs once, and its key says no place.
#[test]
fn a_limit_that_runs_once_says_no_place() {
    let a = axles(json!({"positions": {
        "damper": {"as_found": "short"}, "spring": {"as_found": "low"},
    }}));
    let a = a.convert("spring", "high").choose("damper", Route::Keep).assess();
    assert_eq!(
        (clashes(&a), a.clashes[0].name.as_str()),
        (vec!["limit:damper-open".to_owned()], "damper-open")
    );
}

/// Front brakes against rear brakes: a limit that says where, twice and differently, is about both.
#[test]
fn a_limit_may_be_about_two_places_of_one_class() {
    let least = Least::new(json!({
        "classes": ["brake"],
        "figures": {"gain": {"kind": "ratio"}},
        "limits": {"front-before-rear": {"calc": "at-least", "inputs": {
            "have": {"class": "brake", "where": "front", "figure": "gain"},
            "want": {"class": "brake", "where": "rear", "figure": "gain"},
        }}},
        "parts": {
            "small": {"class": "brake", "figures": {"gain": "3"}}, "large": {"class": "brake", "figures": {"gain": "5"}},
        },
        "vehicle": {"positions": {
            "front-brakes": {"class": "brake", "where": "front", "as_found": "small"},
            "rear-brakes": {"class": "brake", "where": "rear", "as_found": "small"},
        }},
    }));
    let a = least.clone().convert("rear-brakes", "large").choose("front-brakes", Route::Keep).assess();
    assert_eq!(clashes(&a), ["limit:front-before-rear"]);
    assert_eq!(clashes(&least.convert("front-brakes", "large").assess()), [""; 0]);
}

/// A figure that the part does not have is the place's own: what an axle may carry.
#[test]
fn a_place_has_figures_of_its_own() {
    let least = Least::new(json!({
        "classes": ["tyre"],
        "figures": {"carries": {"kind": "mass"}, "rating": {"kind": "mass"}},
        "limits": {"tyre-load": {"calc": "at-least", "inputs": {
            "have": {"class": "tyre", "figure": "carries"}, "want": {"class": "tyre", "figure": "rating"},
        }}},
        "parts": {"light": {"class": "tyre", "figures": {"carries": "600 kg"}}, "old": {"class": "tyre", "figures": {"carries": "900 kg"}}},
        "vehicle": {"positions": {
            "front-tyres": {"class": "tyre", "where": "front", "as_found": "old", "figures": {"rating": "550 kg"}},
            "rear-tyres": {"class": "tyre", "where": "rear", "as_found": "old", "figures": {"rating": "unknown: on the plate"}},
        }},
    }));
    let both = least.convert("front-tyres", "light").convert("rear-tyres", "light");
    let a = both.assess();
    assert_eq!((clashes(&a), open(&a)), (vec![], vec!["limit:tyre-load@rear-tyres".to_owned()]));
    assert_eq!(a.to_measure[0].wanted[0].key, "rating@rear-tyres");
    assert_eq!(
        clashes(&both.measured("rating@rear-tyres", "700 kg").assess()),
        ["limit:tyre-load@rear-tyres"]
    );
}

/// Where a place says nothing, everything is tried with everything, up to a bound that is told.
#[test]
fn a_vehicle_that_says_nothing_of_many_places_is_told() {
    let mut positions = serde_json::Map::new();
    for n in 0..20 {
        positions.insert(format!("damper-{n}"), json!({"class": "damper", "as_found": "short"}));
        positions.insert(format!("spring-{n}"), json!({"class": "spring", "as_found": "low"}));
    }
    let least = axles(json!({ "positions": positions }));
    let (_, faults) = crate::Catalogue::new(least.catalogue.files.clone());
    let told = faults.iter().find(|f| f.path == "limits.damper-open").map(|f| f.message.as_str());
    assert!(told.is_some_and(|m| m.contains("more than 256 sets of places")), "{faults:?}");
}
