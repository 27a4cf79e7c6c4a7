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

/// A tank whose outlet of this size must be closed where the pump is left off, and a plug of that one.
fn outlet(outlet: &str, plug: &str) -> Least {
    let port = |size: &str, alone: &str| json!({"type": "outlet", "alone": alone, "fields": {"size": size}});
    Least::new(json!({
        "free": ["plug"],
        "port_types": {"outlet": {"fields": {"size": {"kind": "word", "rule": "class"}}}},
        "parts": {
            "brass-plug": {"class": "plug", "ports": {"cap": port(plug, "fine")}},
            "old-pump": {"class": "pump", "ports": {"inlet": port(outlet, "fine")}},
            "old-tank": {"class": "tank", "ports": {"outlet": port(outlet, "cap")}},
        },
        "vehicle": {
            "positions": {"pump": "old-pump", "tank": "old-tank"},
            "joints": {"fuel": ["tank.outlet", "pump.inlet"]},
        },
    }))
    .choose("pump", Route::LeaveOff)
}

#[test]
fn cap_wants_a_part_of_a_free_class_with_a_matching_port_of_that_name() {
    assert_eq!(companions(&outlet("5/16", "5/16").assess()), ["cap:fuel: 1 brass-plug"]);
    assert_eq!(clashes(&outlet("5/16", "3/8").assess()), ["joint:fuel"]);
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
