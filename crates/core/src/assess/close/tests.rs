//! A limit or pool that holds says what is left where that is no more than the library says; its figures alone where it is
//! always told.

use serde_json::{Value as Json, json};

use super::super::least::Least;
use crate::assessment::Assessment;
use crate::showing::Measure;

/// A lever of some length that wants so much room; it holds closely within 10 mm, or as said.
fn lever(length: &str, more: Json) -> Assessment {
    let mut limit = json!({"calc": "at-least", "close": "10 mm", "inputs": {
        "have": {"class": "lever", "figure": "length"}, "want": {"value": "100 mm"},
    }});
    super::super::least::merge(&mut limit, more);
    Least::new(json!({
        "figures": {"length": "length"},
        "limits": {"room": limit},
        "parts": {"new-lever": {"class": "lever", "figures": {"length": length}}},
        "vehicle": {"positions": {"lever": null}},
    }))
    .convert("lever", "new-lever")
    .assess()
}

/// What is told, as `key: left`.
fn told(a: &Assessment) -> Vec<String> {
    a.close.iter().map(|c| format!("{}: {}", c.key, c.left.say(Measure::Metric))).collect()
}

#[test]
fn what_is_left_is_said_where_little_is() {
    assert_eq!(told(&lever("104 mm", json!({}))), ["limit:room: clears by 4 mm"]);
    assert_eq!(told(&lever("110 mm", json!({}))), Vec::<String>::new());
    // broken it is a clash
    assert!(told(&lever("99 mm", json!({}))).is_empty());
    // the library does not look
    assert!(told(&lever("104 mm", json!({"close": null}))).is_empty());
}

#[test]
fn a_tolerance_is_taken_at_its_worse_end() {
    assert_eq!(told(&lever("104 mm ±1 mm", json!({}))), ["limit:room: clears by 3 mm"]);
}

#[test]
fn any_always_tells_the_figures() {
    let a = lever("500 mm", json!({"close": "any"}));
    assert_eq!(told(&a), ["limit:room: "]);
    assert!(
        crate::explain::because(&a, a.close[0].reason, Measure::Metric)[0].contains("500 mm"),
        "{:?}",
        a.reasons
    );
}

#[test]
fn what_the_plan_does_not_reach_is_not_told() {
    let mut least = Least::new(json!({
        "figures": {"length": "length"},
        "limits": {"room": {"calc": "at-least", "close": "any", "inputs": {
            "have": {"class": "lever", "figure": "length"}, "want": {"value": "100 mm"},
        }}},
        "parts": {"old-lever": {"class": "lever", "figures": {"length": "104 mm"}}},
        "vehicle": {"positions": {"lever": "old-lever"}},
    }));
    least.plan();
    assert!(told(&least.assess()).is_empty());
}

/// A bonnet over a cleaner of some height, with a margin of 20 mm.
fn bonnet(height: &str) -> Vec<String> {
    let a = Least::new(json!({
        "pools": {"bonnet": {"kind": "length", "margin": "20 mm", "close": "10 mm"}},
        "parts": {"tall": {"class": "cleaner", "takes": {"bonnet": height}}},
        "vehicle": {"positions": {"cleaner": null}, "gives": {"bonnet": "120 mm"}},
    }))
    .convert("cleaner", "tall")
    .assess();
    told(&a)
}

#[test]
fn a_pool_says_what_is_left_beyond_its_margin() {
    assert_eq!(bonnet("96 mm"), ["pool:bonnet: clears by 4 mm"]);
    assert_eq!(bonnet("89 mm"), Vec::<String>::new());
}
