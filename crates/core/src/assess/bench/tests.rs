//! Companions have ports and needs of their own, so it runs until nothing new is found; what comes later waits until what
//! stands before it is settled.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions, fitted};

#[test]
fn what_a_joint_brings_is_looked_at_in_its_turn_with_its_joints_and_needs() {
    let hose = |size: &str, needs: &[&str]| json!({"class": "hose", "ports": {"front": size, "rear": size}, "needs": needs});
    let a = Least::new(json!({
        "free": ["clip"],
        "parts": {
            "hose-clip": {"class": "clip", "offers": ["grip"]},
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-filter": {"class": "filter", "ports": {"outlet": "3/8"}},
            "old-hose": hose("3/8", &[]),
            "small-filter": {"class": "filter", "ports": {"outlet": "5/16"}},
            "small-hose": hose("5/16", &["grip"]),
        },
        "vehicle": {
            "positions": {"filter": "old-filter", "hose": "old-hose", "pump": null},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["hose.rear", "filter.outlet"]},
        },
    }))
    .convert("pump", "new-pump")
    .assess();
    assert_eq!(
        companions(&a),
        [
            "position:filter: 1 small-filter",
            "position:hose: 1 small-hose",
            "need:hose:small-hose:grip: 1 hose-clip",
        ]
    );
}

/// An alternator takes the circuit of a regulator, which may lose its job with the dynamo. Nobody chose the lamps.
fn alternator(regulator_alone: &str) -> Vec<String> {
    let takes = |class: &str, circuits: &str| json!({"class": class, "takes": {"circuits": circuits}});
    let mut regulator: Json = takes("regulator", "1");
    regulator["ports"] = json!({"field": {"type": "field", "alone": regulator_alone}});
    let a = Least::new(json!({
        "pools": {"circuits": "count"},
        "parts": {
            "alternator": takes("dynamo", "1"),
            "old-dynamo": {"class": "dynamo", "ports": {"field": "field"}},
            "old-lamps": takes("lamps", "3"), "small-lamps": takes("lamps", "2"),
            "old-regulator": regulator,
        },
        "vehicle": {
            "positions": {"dynamo": "old-dynamo", "lamps": "old-lamps", "regulator": "old-regulator"},
            "joints": {"field-wire": ["dynamo.field", "regulator.field"]},
            "gives": {"circuits": "4"},
        },
    }))
    .convert("dynamo", "alternator")
    .assess();
    assert_eq!(fitted(&a, "regulator").is_none(), regulator_alone == "surplus");
    companions(&a)
}

#[test]
fn a_pool_waits_until_it_is_settled_what_lost_its_job() {
    assert!(alternator("surplus").is_empty());
    assert_eq!(alternator("fine"), ["position:lamps: 1 small-lamps"]);
}
