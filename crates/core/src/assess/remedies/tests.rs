//! A clash names the parts that would clear it, for each kind of clash; what the survey condemned is no way out. (For two
//! ends that disagree and for limits it is shown beside those rules.)

use serde_json::{Value as Json, json};

use super::super::least::{Least, merge, remedies};
use crate::sheet::{Route, Verdict};

/// Only what fits there as well is named: a fuse box that offers the feed. Fuse boxes are the owner's to choose.
#[test]
fn for_a_need_parts_that_offer_it_where_they_fit() {
    let a = Least::new(json!({
        "classes": {"fuses": {"decided": "owner"}},
        "parts": {
            "electric-pump": {"class": "pump", "needs": ["feed"]},
            "modern-fuses": {"class": "fuses", "offers": ["feed"]},
            "old-fuses": "fuses",
            "plain-fuses": "fuses",
        },
        "vehicle": {"positions": {"fuses": "old-fuses", "pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    assert_eq!(remedies(&a), ["fit modern-fuses as fuses"]);
}

#[test]
fn for_a_pool_parts_that_take_less_where_the_plan_changed_something() {
    let takes = |class: &str, n: &str| json!({"class": class, "takes": {"circuits": n}});
    let a = Least::new(json!({
        "pools": {"circuits": "count"},
        "parts": {
            "large-pump": takes("pump", "3"), "small-pump": takes("pump", "1"),
            "old-lamps": takes("lamps", "3"), "small-lamps": takes("lamps", "1"),
        },
        "vehicle": {"positions": {"lamps": "old-lamps", "pump": null}, "gives": {"circuits": "4"}},
    }))
    .convert("pump", "large-pump")
    .choose("lamps", Route::Keep)
    .assess();
    assert_eq!(remedies(&a), ["fit small-pump as pump"]);
}

/// A gauge that must have a drive, kept, and a new dynamo that has none, chosen.
fn gauge(others: Json) -> Least {
    let mut parts = others;
    parts["old-gauge"] =
        json!({"class": "gauge", "ports": {"drive": {"type": "drive", "alone": "required"}}});
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
    .choose("gauge", Route::Keep)
}

#[test]
fn for_a_port_left_alone_what_serves_it_or_does_without() {
    let a = gauge(json!({"electric-gauge": "gauge"})).assess();
    assert_eq!(remedies(&a), ["keep old-dynamo as dynamo", "fit electric-gauge as gauge"]);
}

#[test]
fn what_the_survey_condemned_is_no_way_out() {
    let a = gauge(json!({"electric-gauge": "gauge"})).survey("dynamo", Verdict::Stop).assess();
    assert_eq!(remedies(&a), ["fit electric-gauge as gauge"]);
    let a = gauge(json!({})).survey("dynamo", Verdict::Stop).assess();
    assert!(remedies(&a)[0].starts_with("only old-dynamo would"), "{:?}", remedies(&a));
}

#[test]
fn where_nothing_clears_it_that_is_said() {
    let a = Least::new(json!({
        "parts": {"electric-pump": {"class": "pump", "needs": ["feed"]}},
        "vehicle": {"positions": {"pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    assert!(remedies(&a)[0].starts_with("no part of the library supplies it"), "{:?}", remedies(&a));
}

/// A shaft whose slip was measured too short, and another, longer than there is room for, of which it was not measured.
fn slip(other: &str) -> Least {
    let shaft = |length: &str| {
        json!({
            "class": "shaft", "figures": {"slip": "unknown: push it in, to 1 mm"}, "takes": {"length": length},
        })
    };
    Least::new(json!({
        "classes": {"shaft": {"decided": "owner"}},
        "figures": {"slip": "length"},
        "pools": {"length": "length"},
        "limits": {"slip": {"calc": "at-least", "inputs": {
            "have": {"class": "shaft", "figure": "slip"}, "want": {"value": "20 mm"},
        }}},
        "parts": {"new-shaft": shaft("1247 mm"), "other-shaft": shaft(other)},
        "vehicle": {"positions": {"shaft": null}, "gives": {"length": "1290 mm"}},
    }))
    .convert("shaft", "new-shaft")
    .measured("slip@new-shaft", "10 mm")
}

#[test]
fn what_is_not_measured_and_fails_by_itself_is_no_way_out() {
    let ways = |length: &str| remedies(&slip(length).assess()).len();
    assert_eq!(ways("1232 mm"), 2, "the other shaft, and 10 mm more");
    assert_eq!(ways("1300 mm"), 1, "10 mm more");
}

/// A fan that would clear a pool joins its hub as it is, or by a ring and for less; and the cheapest is what another vehicle
/// came with.
#[test]
fn what_joins_as_it_is_goes_before_what_needs_something_between_and_what_another_vehicle_came_with_comes_last()
 {
    let fan = |pilot: &str, depth: &str, price: &str| {
        json!({"class": "fan", "price": price, "takes": {"depth": depth},
            "ports": {"pilot": {"type": "pilot", "fields": {"size": pilot}}}})
    };
    let least = |found_elsewhere: bool| {
        let mut library = json!({
            "free": ["ring"],
            "pools": {"depth": "length"},
            "port_types": {"pilot": {"fields": {"size": {"kind": "length", "rule": "equal"}}}},
            "parts": {
                "deep-fan": fan("16 mm", "90 mm", "50.00 USD"),
                "flat-large-fan": fan("20 mm", "60 mm", "30.00 USD"),
                "flat-small-fan": fan("16 mm", "60 mm", "70.00 USD"),
                "flat-other-fan": fan("16 mm", "60 mm", "80.00 USD"),
                "old-hub": {"class": "hub", "ports": {"pilot": {"type": "pilot", "fields": {"size": "16 mm"}}}},
                "ring-16-20": {"class": "ring", "bridges": ["a", "b"], "ports": {
                    "a": {"type": "pilot", "fields": {"size": "16 mm"}},
                    "b": {"type": "pilot", "fields": {"size": "20 mm"}},
                }},
            },
            "vehicle": {
                "positions": {"fan": null, "hub": "old-hub"},
                "joints": {"fan-on-hub": ["fan.pilot", "hub.pilot"]},
                "gives": {"depth": "80 mm"},
            },
        });
        if found_elsewhere {
            merge(
                &mut library,
                json!({"vehicles": {"van": {"name": "Van", "positions": {
                    "fan": {"name": "fan", "system": "all", "class": "fan", "as_found": "flat-small-fan"}
                }}}}),
            );
        }
        remedies(&Least::new(library).convert("fan", "deep-fan").assess())
    };
    assert_eq!(least(false), ["fit flat-small-fan as fan", "fit flat-other-fan as fan"]);
    assert_eq!(least(true), ["fit flat-other-fan as fan", "fit flat-large-fan as fan"]);
}
