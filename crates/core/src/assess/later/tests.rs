//! What is opened asks for something to be done again later; one thing stands once, with all that asks for it.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions, later};
use crate::explain::because;
use crate::sheet::{Route, Verdict};

/// Wheels that sit on hubs, and a belt; what is opened there is tightened again.
fn cart(extra: Json) -> Least {
    let mut library = json!({
        "classes": {"wheels": {}, "hubs": {}, "belt": {}, "nuts": {"free": true}, "grease": {"free": true}},
        "port_types": {"seat": {
            "opened": [{"class": "nuts"}],
            "later": [{"what": "tighten the wheel nuts again", "after": ["100 miles", "50 miles"], "why": "paint settles"}],
        }},
        "openings": {
            "hub-off": {"classes": ["hubs"], "wants": [{"class": "grease"}],
                "later": [{"what": "tighten the wheel nuts again", "after": ["50 miles", "2 weeks"]}]},
            "belt-off": {"classes": ["belt"], "later": [{"what": "look at the belt tension", "after": ["20 min"]}]},
        },
        "parts": {
            "old-wheels": {"class": "wheels", "ports": {"seat": {"type": "seat"}}},
            "old-hubs": {"class": "hubs", "ports": {"seat": {"type": "seat"}}},
            "old-belt": {"class": "belt"}, "nut": {"class": "nuts"}, "tub": {"class": "grease"},
        },
        "vehicle": {
            "positions": {"wheels": {"as_found": "old-wheels"}, "hubs": {"as_found": "old-hubs"}, "belt": {"as_found": "old-belt"}},
            "joints": {"wheel-seat": {"ends": [{"at": "wheels", "port": "seat"}, {"at": "hubs", "port": "seat"}]}},
        },
    });
    for (table, entries) in extra.as_object().into_iter().flatten() {
        for (id, entry) in entries.as_object().into_iter().flatten() {
            library[table][id] = entry.clone();
        }
    }
    Least::new(library)
}

#[test]
fn what_is_shut_asks_for_nothing() {
    assert!(later(&cart(json!({})).assess()).is_empty());
}

#[test]
fn an_opened_joint_asks_with_what_it_wants_new() {
    let a = cart(json!({})).choose("wheels", Route::Renew).assess();
    assert_eq!(
        later(&a),
        ["after 50 miles and 100 miles: tighten the wheel nuts again [wheels] with joint:wheel-seat:nuts"]
    );
    let told = because(&a, a.later[0].reason, crate::showing::Measure::Inch);
    assert_eq!(
        told[0],
        "wheel-seat is open: tighten the wheel nuts again after 50 miles and 100 miles: paint settles"
    );
    assert!(told[1].contains("you chose to renew"), "{told:?}");
}

#[test]
fn one_thing_stands_once_with_all_that_asks_for_it() {
    let a = cart(json!({})).choose("wheels", Route::Renew).choose("hubs", Route::Clean).assess();
    let [nuts] = &later(&a)[..] else { panic!("{:?}", later(&a)) };
    assert_eq!(
        nuts,
        "after 50 miles, 100 miles and 2 weeks: tighten the wheel nuts again [hubs wheels] with \
         joint:wheel-seat:nuts apart:hub-off:grease"
    );
    let told = because(&a, a.later[0].reason, crate::showing::Measure::Metric);
    assert!(told.iter().filter(|s| s.contains("you chose")).count() == 2, "{told:?}");
}

#[test]
fn it_stands_in_the_order_in_which_it_is_done() {
    let a = cart(json!({})).choose("belt", Route::Renew).choose("wheels", Route::Renew).assess();
    let what: Vec<&str> = a.later.iter().map(|l| l.what.as_str()).collect();
    // distances before times before days
    assert_eq!(what, ["tighten the wheel nuts again", "look at the belt tension"]);
    let quantity = &a.later[1].after[0];
    assert_eq!((quantity.text.as_str(), quantity.si), ("20 min", 1200.0));
}

#[test]
fn what_only_advice_opens_is_only_advised_and_not_asked_where_it_is_left_out() {
    let worn = cart(json!({})).survey("belt", Verdict::Renew);
    let a = worn.assess();
    assert_eq!(companions(&a), ["survey:belt: 1 old-belt (advised)"]);
    assert_eq!(later(&a), ["after 20 min: look at the belt tension [belt] (advised) with survey:belt"]);
    assert!(later(&worn.waive("survey:belt").assess()).is_empty());
}

/// A bridge makes two contacts of one joint; the second may be of another type, which asks for itself.
#[test]
fn every_contact_of_a_bridged_joint_asks() {
    let size = |mm: &str| json!({"type": "rim", "fields": {"size": mm}});
    let a = Least::new(json!({
        "classes": {"wheels": {}, "hubs": {}, "ring": {"free": true}},
        "port_types": {
            "rim": {"fields": {"size": {"kind": "length", "rule": "equal"}}, "later": [{"what": "look at the rim", "after": ["10 km"]}]},
            "cone": {"fields": {"size": {"kind": "length", "rule": "equal"}}, "later": [{"what": "look at the cone", "after": ["5 km"]}]},
        },
        "parts": {
            "old-wheels": {"class": "wheels", "ports": {"seat": size("10 mm")}},
            "new-wheels": {"class": "wheels", "ports": {"seat": size("20 mm")}},
            "old-hubs": {"class": "hubs", "ports": {"seat": size("10 mm")}},
            "ring-a": {"class": "ring", "bridges": ["in", "out"], "ports": {
                "in": size("20 mm"), "out": {"type": "cone", "fields": {"size": "5 mm"}}}},
            "ring-b": {"class": "ring", "bridges": ["in", "out"], "ports": {
                "in": {"type": "cone", "fields": {"size": "5 mm"}}, "out": size("10 mm")}},
        },
        "vehicle": {
            "positions": {"wheels": {"as_found": "old-wheels"}, "hubs": {"as_found": "old-hubs"}},
            "joints": {"wheel-seat": {"ends": [{"at": "wheels", "port": "seat"}, {"at": "hubs", "port": "seat"}]}},
        },
    }))
    .convert("wheels", "new-wheels")
    .assess();
    assert_eq!(
        later(&a),
        [
            "after 5 km: look at the cone [wheels] with bridge:wheel-seat:0 bridge:wheel-seat:1",
            "after 10 km: look at the rim [wheels] with bridge:wheel-seat:0 bridge:wheel-seat:1",
        ]
    );
}

#[test]
fn a_distance_is_shown_in_the_system_that_is_read() {
    use crate::showing::Measure;
    let a = cart(json!({})).choose("wheels", Route::Renew).assess();
    assert_eq!(a.later[0].when(Measure::Metric), "after 80.5 km and 161 km");
    assert!(because(&a, a.later[0].reason, Measure::Metric)[0].contains("after 80.5 km and 161 km"));
    assert_eq!(a.later[0].when(Measure::Inch), "after 50 miles and 100 miles");
}
