//! A port left alone says by `alone` what that means: `fine`; `cap`, it wants a part that closes it; `required`, its part
//! does not work so. (`surplus`, its part has lost its job, is shown beside the rule for that.)

use serde_json::Value as Json;

use super::{Least, Route, clashes, companions, fitted, json};

/// A gauge is driven by the dynamo; the new dynamo has no drive. The port at the gauge says what that means.
fn gauge(alone: &str, others: Json) -> Least {
    let mut parts = others;
    parts["old-gauge"] = json!({"class": "gauge", "ports": {"drive": {"type": "drive", "alone": alone}}});
    parts["old-dynamo"] = json!({"class": "dynamo", "ports": {"drive": "drive"}});
    parts["new-dynamo"] = json!("dynamo");
    Least::new(json!({
        "free": ["plug"],
        "parts": parts,
        "vehicle": {
            "positions": {"dynamo": "old-dynamo", "gauge": "old-gauge"},
            "joints": {"drive": ["gauge.drive", "dynamo.drive"]},
        },
    }))
    .convert("dynamo", "new-dynamo")
}

#[test]
fn fine_may_stay_open() {
    let a = gauge("fine", json!({})).assess();
    assert!(clashes(&a).is_empty() && companions(&a).is_empty());
}

#[test]
fn cap_wants_a_part_with_a_matching_port_of_that_name() {
    let plug = |kind: &str| json!({"drive-plug": {"class": "plug", "ports": {"cap": kind}}});
    assert_eq!(companions(&gauge("cap", plug("drive")).assess()), ["cap:drive: 1 drive-plug"]);
    assert_eq!(clashes(&gauge("cap", plug("flare")).assess()), ["joint:drive"]);
}

#[test]
fn required_is_a_clash_where_nothing_can_be_exchanged() {
    assert_eq!(clashes(&gauge("required", json!({})).assess()), ["joint:drive"]);
}

#[test]
fn required_exchanges_a_part_nobody_chose_for_one_that_does_without() {
    let others = || json!({"electric-gauge": "gauge"});
    assert_eq!(companions(&gauge("required", others()).assess()), ["position:gauge: 1 electric-gauge"]);
    let kept = gauge("required", others()).choose("gauge", Route::Keep);
    assert_eq!(clashes(&kept.assess()), ["joint:drive"]);
}

/// A pump that does not work without a hose, and an empty place for one.
fn pump_without_hose(hose: &str) -> Least {
    Least::new(json!({
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": {"type": "barb", "alone": "required"}}},
            "rubber-hose": {"class": "hose", "ports": {"end": hose}},
        },
        "vehicle": {
            "positions": {"hose": null, "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn required_fills_an_empty_place_with_what_closes_the_joint() {
    let a = pump_without_hose("barb").assess();
    assert_eq!(companions(&a), ["position:hose: 1 rubber-hose"]);
    assert_eq!(fitted(&a, "hose").as_deref(), Some("rubber-hose"));
    assert_eq!(clashes(&pump_without_hose("flare").assess()), ["joint:fuel"]);
}

#[test]
fn a_place_that_the_owner_leaves_empty_is_not_filled() {
    let empty = pump_without_hose("barb").choose("hose", Route::Keep);
    assert_eq!(clashes(&empty.assess()), ["joint:fuel"]);
}
