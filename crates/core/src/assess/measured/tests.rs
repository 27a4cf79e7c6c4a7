//! An open limit says which figures to measure: those not known, else those that could be known more closely; and the sheet's
//! own are told with the places they are for.

use serde_json::json;

use super::super::least::{Least, answer};
use crate::assessment::Answer;

/// Springs on a vehicle: what they lift, and what it allows.
fn springs(lift: &str, most: &str) -> Least {
    Least::new(json!({
        "figures": {
            "lift": {"kind": "length", "measure": "rule, to 5 mm"},
            "most-lift": {"kind": "length", "measure": "rule, to 5 mm"},
        },
        "limits": {"shaft": {"calc": "at-most", "inputs": {
            "have": {"class": "springs", "figure": "lift"}, "most": {"fact": "most-lift"},
        }}},
        "parts": {"new-springs": {"class": "springs", "figures": {"lift": lift}}},
        "vehicle": {"positions": {"springs": null}, "facts": {"most-lift": most}},
    }))
    .convert("springs", "new-springs")
}

fn wanted(least: &Least) -> Vec<String> {
    let a = least.assess();
    a.to_measure.iter().flat_map(|open| &open.wanted).map(|w| w.key.to_string()).collect()
}

#[test]
fn what_is_not_known_is_wanted_and_what_is_known_loosely_is_not() {
    assert_eq!(wanted(&springs("unknown", "100 mm ±20 mm")), ["lift@new-springs"]);
    assert_eq!(wanted(&springs("90 mm ±5 mm", "unknown")), ["most-lift"]);
}

#[test]
fn where_all_is_known_what_could_be_known_more_closely_is_wanted() {
    assert_eq!(wanted(&springs("90 mm", "100 mm ±20 mm")), ["most-lift"]);
    assert!(wanted(&springs("80 mm", "100 mm ±20 mm")).is_empty());
}

#[test]
fn what_was_measured_decides_it_and_is_told_with_its_places() {
    let a = springs("unknown", "100 mm").measured("lift@new-springs", "90 mm").assess();
    assert_eq!(answer(&a, "limit:shaft"), Some(Answer::Holds));
    assert_eq!(a.measured[0].key, "lift@new-springs");
    assert_eq!(a.measured[0].positions, ["springs"]);
}
