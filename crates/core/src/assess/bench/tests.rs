//! Companions have ports and needs of their own, so it runs until nothing new is found; what comes later waits until what
//! stands before it is settled.

use serde_json::json;

use super::super::least::{Least, clashes, companions};
use crate::sheet::Route;

/// A pump of another size: the hose behind it follows, and the filter behind the hose. There is room for the pump and no
/// filter of the old kind.
fn pump() -> Least {
    let hose = |size: &str, needs: &[&str]| json!({"class": "hose", "ports": {"front": size, "rear": size}, "needs": needs});
    Least::new(json!({
        "free": ["clip"],
        "pools": {"room": "count"},
        "parts": {
            "hose-clip": {"class": "clip", "offers": ["grip"]},
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}, "takes": {"room": "1"}},
            "old-filter": {"class": "filter", "ports": {"outlet": "3/8"}, "takes": {"room": "1"}},
            "old-hose": hose("3/8", &[]),
            "small-filter": {"class": "filter", "ports": {"outlet": "5/16"}},
            "small-hose": hose("5/16", &["grip"]),
        },
        "vehicle": {
            "positions": {"filter": "old-filter", "hose": "old-hose", "pump": null},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["hose.rear", "filter.outlet"]},
            "gives": {"room": "1"},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn what_a_joint_brings_is_looked_at_in_its_turn_with_its_joints_and_needs() {
    assert_eq!(
        companions(&pump().assess()),
        [
            "position:filter: 1 small-filter",
            "position:hose: 1 small-hose",
            "need:pump:small-hose:grip: 1 hose-clip",
        ]
    );
}

#[test]
fn a_pool_waits_for_the_joints() {
    // before the filter gave way there was no room
    assert!(clashes(&pump().assess()).is_empty());
    assert_eq!(clashes(&pump().choose("filter", Route::Keep).choose("hose", Route::Keep).assess()).len(), 2);
}
