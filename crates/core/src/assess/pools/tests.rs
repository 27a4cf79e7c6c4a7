//! What is taken from a pool, with the margin, must not exceed what is given.

use serde_json::{Value as Json, json};

use super::super::least::{Least, answer, clashes, companions};
use crate::assessment::Answer;
use crate::sheet::Route;

/// A fuse block of so many circuits, of which a pump takes some.
fn circuits(pool: Json, given: &str, taken: &str) -> Option<Answer> {
    let a = Least::new(json!({
        "pools": {"circuits": pool},
        "parts": {"electric-pump": {"class": "pump", "takes": {"circuits": taken}}},
        "vehicle": {"positions": {"pump": null}, "gives": {"circuits": given}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    answer(&a, "pool:circuits")
}

#[test]
fn what_is_taken_must_not_exceed_what_is_given() {
    assert_eq!(circuits(json!("count"), "4", "4"), Some(Answer::Holds));
    assert_eq!(circuits(json!("count"), "4", "5"), Some(Answer::Broken));
}

#[test]
fn the_margin_must_stay_free() {
    let pool = || json!({"kind": "count", "margin": "1"});
    assert_eq!(circuits(pool(), "4", "3"), Some(Answer::Holds));
    assert_eq!(circuits(pool(), "4", "4"), Some(Answer::Broken));
}

#[test]
fn a_tolerance_leaves_it_open_where_its_ends_differ() {
    assert_eq!(circuits(json!("length"), "160 mm ±2 mm", "159 mm"), Some(Answer::ToMeasure));
    assert_eq!(circuits(json!("length"), "160 mm ±2 mm", "158 mm"), Some(Answer::Holds));
    assert_eq!(circuits(json!("length"), "160 mm ±2 mm", "163 mm"), Some(Answer::Broken));
}

#[test]
fn an_unknown_amount_leaves_it_open() {
    assert_eq!(circuits(json!("length"), "160 mm", "unknown: rule, to 1 mm"), Some(Answer::ToMeasure));
}

#[test]
fn where_nobody_knows_what_is_given_nothing_is_overdrawn() {
    assert_eq!(circuits(json!("length"), "unknown: rule, to 5 mm", "60 mm"), Some(Answer::ToMeasure));
}

#[test]
fn a_tally_has_no_verdict_of_its_own() {
    assert_eq!(circuits(json!({"kind": "count", "tally": true}), "4", "5"), None);
}

/// Two lamps alike that take, or give, one circuit each.
fn two_lamps(word: &str) -> (f64, f64) {
    let a = Least::new(json!({
        "pools": {"circuits": "count"},
        "parts": {"new-lamps": {"class": "lamps", word: {"circuits": "1"}}},
        "vehicle": {"positions": {"lamps": {"qty": 2}}},
    }))
    .convert("lamps", "new-lamps")
    .assess();
    (a.pools[0].given, a.pools[0].taken)
}

#[test]
fn several_alike_take_each_and_give_once() {
    assert_eq!(two_lamps("takes"), (0.0, 2.0));
    assert_eq!(two_lamps("gives"), (1.0, 0.0));
}

/// A fuse block was overdrawn before anything was done; the heater takes from it.
fn overdrawn(new_heater: Json) -> Least {
    Least::new(json!({
        "pools": {"circuits": "count"},
        "parts": {
            "new-heater": new_heater,
            "old-heater": {"class": "heater", "takes": {"circuits": "1"}},
            "old-lamps": {"class": "lamps", "takes": {"circuits": "5"}},
        },
        "vehicle": {"positions": {"heater": "old-heater", "lamps": "old-lamps"}, "gives": {"circuits": "4"}},
    }))
}

#[test]
fn a_pool_is_looked_at_when_what_gives_or_takes_changed() {
    let takes = json!({"class": "heater", "takes": {"circuits": "1"}});
    assert_eq!(clashes(&overdrawn(takes).convert("heater", "new-heater").assess()), ["pool:circuits"]);
    // who takes no more eases it
    assert!(clashes(&overdrawn(json!("heater")).convert("heater", "new-heater").assess()).is_empty());
    assert!(clashes(&overdrawn(json!("heater")).choose("heater", Route::LeaveOff).assess()).is_empty());
}

#[test]
fn a_pool_is_looked_at_when_who_gave_is_left_off() {
    let a = Least::new(json!({
        "pools": {"load": "current"},
        "parts": {
            "old-dynamo": {"class": "dynamo", "gives": {"load": "20 A"}},
            "old-lamps": {"class": "lamps", "takes": {"load": "15 A"}},
        },
        "vehicle": {"positions": {"dynamo": "old-dynamo", "lamps": "old-lamps"}},
    }))
    .choose("dynamo", Route::LeaveOff)
    .assess();
    assert_eq!(clashes(&a), ["pool:load"]);
}

/// A pump takes the last circuit; there are lamps that take fewer.
fn last_circuit() -> Least {
    Least::new(json!({
        "pools": {"circuits": "count"},
        "parts": {
            "electric-pump": {"class": "pump", "takes": {"circuits": "1"}},
            "old-lamps": {"class": "lamps", "takes": {"circuits": "4"}},
            "two-wire-lamps": {"class": "lamps", "takes": {"circuits": "3"}},
        },
        "vehicle": {"positions": {"lamps": "old-lamps", "pump": null}, "gives": {"circuits": "4"}},
    }))
    .convert("pump", "electric-pump")
}

#[test]
fn a_taker_nobody_chose_gives_way_to_the_cheapest_that_takes_less() {
    let a = last_circuit().assess();
    assert_eq!(companions(&a), ["position:lamps: 1 two-wire-lamps"]);
    assert!(clashes(&a).is_empty());
}

#[test]
fn where_all_takers_were_chosen_it_is_a_clash() {
    assert_eq!(clashes(&last_circuit().choose("lamps", Route::Keep).assess()), ["pool:circuits"]);
}

#[test]
fn companions_take_and_give_too() {
    let a = Least::new(json!({
        "free": ["relay"],
        "pools": {"circuits": "count"},
        "parts": {
            "electric-pump": {"class": "pump", "needs": ["feed"]},
            "small-relay": {"class": "relay", "offers": ["feed"], "takes": {"circuits": "1"}},
        },
        "vehicle": {"positions": {"pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    assert_eq!(clashes(&a), ["pool:circuits"]);
}
