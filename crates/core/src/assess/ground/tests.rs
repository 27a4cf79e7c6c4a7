//! What the sheet says goes before what the library says of the vehicle; what cannot be is told, and nothing is guessed.

use serde_json::json;

use super::super::least::{Least, answer, fitted};
use crate::assessment::Answer;

/// A hose and a pump of which the sheet may say something else.
fn cart() -> Least {
    Least::new(json!({
        "parts": {"short-hose": "hose", "long-hose": "hose", "hand-pump": "pump"},
        "vehicle": {"positions": {"hose": "short-hose", "pump": "hand-pump"}},
    }))
}

#[test]
fn as_found_in_the_sheet_goes_before_the_library() {
    assert_eq!(fitted(&cart().assess(), "hose").as_deref(), Some("short-hose"));
    assert_eq!(
        fitted(&cart().found("hose", Some("long-hose")).assess(), "hose").as_deref(),
        Some("long-hose")
    );
    assert_eq!(fitted(&cart().found("hose", None).assess(), "hose"), None);
}

#[test]
fn a_part_of_another_class_is_not_taken_as_found() {
    let a = cart().found("hose", Some("hand-pump")).assess_anyway();
    assert_eq!(fitted(&a, "hose"), None);
    assert_eq!(a.problems.len(), 1);
}

#[test]
fn a_part_of_another_class_is_not_chosen_and_the_place_is_left_as_found() {
    let a = cart().convert("hose", "hand-pump").assess_anyway();
    assert_eq!(fitted(&a, "hose").as_deref(), Some("short-hose"));
    assert_eq!(a.problems.len(), 1);
}

/// Springs that may lift 100 mm on this vehicle, and the lift as measured on it.
fn lift(measured: &str, value: &str) -> Option<Answer> {
    let springs = Least::new(json!({
        "figures": {"lift": "length", "most-lift": "length"},
        "limits": {"shaft": {"calc": "at-most", "inputs": {
            "have": {"class": "springs", "figure": "lift"}, "most": {"fact": "most-lift"},
        }}},
        "parts": {"long-springs": {"class": "springs", "figures": {"lift": "90 mm"}}},
        "vehicle": {"positions": {"springs": null}, "facts": {"most-lift": "100 mm"}},
    }));
    answer(&springs.convert("springs", "long-springs").measured(measured, value).assess(), "limit:shaft")
}

#[test]
fn what_was_measured_goes_before_the_library_by_vehicle_and_by_part() {
    assert_eq!(lift("most-lift", "100 mm"), Some(Answer::Holds));
    assert_eq!(lift("most-lift", "80 mm"), Some(Answer::Broken));
    assert_eq!(lift("lift@long-springs", "110 mm"), Some(Answer::Broken));
}
