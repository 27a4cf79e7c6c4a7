//! An open joint says which values at its ports to measure: those not known, else those with a tolerance; what was measured
//! decides it either way.

use serde_json::json;

use super::super::least::{Least, answer};
use crate::assessment::Answer;

/// A new pump on a hose whose bores are known so well.
fn hose(outlet: &str, bore: &str) -> Least {
    let port = |mm: &str| json!({"type": "hose-end", "fields": {"bore": mm}});
    Least::new(json!({
        "port_types": {"hose-end": {"fields": {"bore": {"kind": "length", "rule": "equal", "within": "0.5 mm"}}}},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": port(outlet)}},
            "old-hose": {"class": "hose", "ports": {"end": port(bore)}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
}

fn wanted(least: &Least) -> Vec<String> {
    let a = least.assess();
    a.to_measure.iter().flat_map(|open| &open.wanted).map(|w| w.key.to_string()).collect()
}

#[test]
fn what_is_not_known_is_wanted_and_what_is_known_loosely_is_not() {
    assert_eq!(wanted(&hose("8 mm ±1 mm", "unknown: calliper, to 0.1 mm")), ["end.bore@old-hose"]);
}

#[test]
fn where_all_is_known_what_has_a_tolerance_is_wanted() {
    assert_eq!(wanted(&hose("8 mm ±1 mm", "8 mm")), ["outlet.bore@new-pump"]);
    assert!(wanted(&hose("8 mm ±0.4 mm", "8 mm")).is_empty());
}

#[test]
fn what_was_measured_decides_the_joint_either_way() {
    let open = hose("8 mm", "unknown: calliper, to 0.1 mm");
    let small = open.clone().measured("end.bore@old-hose", "8.2 mm").assess();
    assert_eq!(answer(&small, "joint:fuel"), Some(Answer::Holds));
    let large = open.measured("end.bore@old-hose", "9 mm").assess();
    assert_eq!(answer(&large, "joint:fuel"), Some(Answer::Broken));
    assert_eq!(large.measured[0].positions, ["hose", "pump"]);
}
