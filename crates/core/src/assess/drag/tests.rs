//! Of two parts the one goes in that costs less with all that its work drags in; what is open anyway is paid once. The box
//! on the left costs 10 and drags something in, the one on the right costs 20.

use serde_json::{Value as Json, json};

use super::super::least::{Least, two_ways};
use crate::sheet::{Route, Verdict};

const LEFT: [&str; 1] = ["left: left-box"];
const RIGHT: [&str; 1] = ["right: right-box"];

/// Something that costs so much hangs on the left place, and on the engine beside it.
fn drags(price: &str, how: impl Fn(&str) -> Json) -> Least {
    two_ways(how(price))
}

fn fluid(price: &str) -> Json {
    let circuit = json!({"fluid": "oil", "capacity": "5 L", "positions": ["engine", "left"]});
    json!({
        "free": ["oil"],
        "figures": {"container": "volume"},
        "parts": {"tin": {"class": "oil", "figures": {"container": "5 L"}, "price": price}},
        "vehicle": {"circuits": {"oil": circuit}},
    })
}

fn opening(price: &str) -> Json {
    json!({
        "free": ["grease"],
        "openings": {"cover": {"classes": ["engine", "left"], "wants": ["grease"]}},
        "parts": {"bearing-grease": {"class": "grease", "price": price}},
    })
}

/// What is renewed has its place.
fn renewal(price: &str) -> Json {
    json!({
        "openings": {"cover": {"classes": ["engine", "left"], "wants": ["seal"]}},
        "parts": {"old-seal": {"class": "seal", "price": price}},
        "vehicle": {"positions": {"seal": "old-seal"}},
    })
}

fn service(price: &str) -> Json {
    json!({
        "classes": {"tuning": {"service": true}},
        "openings": {"cover": {"classes": ["engine", "left"], "wants": ["tuning"]}},
        "parts": {"bench-tuning": {"class": "tuning", "price": price}},
    })
}

#[test]
fn what_its_work_drags_in_is_paid_with_a_part() {
    for how in [fluid, opening, renewal, service] {
        assert_eq!(drags("15.00 USD", how).decided(), RIGHT, "{}", how(""));
        assert_eq!(drags("5.00 USD", how).decided(), LEFT, "{}", how(""));
    }
}

#[test]
fn what_is_open_anyway_is_paid_once() {
    for how in [fluid, opening, renewal, service] {
        assert_eq!(drags("15.00 USD", how).choose("engine", Route::Rebuild).decided(), LEFT, "{}", how(""));
        assert_eq!(drags("15.00 USD", how).choose("engine", Route::Keep).decided(), RIGHT, "{}", how(""));
    }
}

/// The box on the left stands on a pad of the engine, and its foot wants a gasket.
fn gasket(price: &str) -> Json {
    json!({
        "free": ["gasket"],
        "port_types": {"flange": {"opened": ["gasket"]}},
        "parts": {
            "left-box": {"ports": {"foot": "flange"}},
            "old-engine": {"ports": {"pad": "flange"}},
            "old-left": {"class": "left", "ports": {"foot": "flange"}},
            "paper-gasket": {"class": "gasket", "price": price},
        },
        "vehicle": {"joints": {"foot": ["left.foot", "engine.pad"]}},
    })
}

#[test]
fn the_seals_of_its_joints_are_paid_with_a_part() {
    assert_eq!(drags("15.00 USD", gasket).decided(), RIGHT);
    assert_eq!(drags("5.00 USD", gasket).decided(), LEFT);
}

/// Two circuits of one fluid are filled from one tin.
#[test]
fn a_fluid_is_rounded_once_for_all_its_circuits() {
    let plan = |litres: &str| {
        let circuit = |at: &str| json!({"fluid": "oil", "capacity": litres, "positions": [at]});
        let mut library = fluid("15.00 USD");
        library["vehicle"]["circuits"] = json!({"cooler": circuit("left"), "sump": circuit("engine")});
        two_ways(library).choose("engine", Route::Rebuild).decided()
    };
    assert_eq!(plan("2.5 L"), LEFT);
    assert_eq!(plan("2.6 L"), RIGHT);
}

/// What the owner leaves out decides nothing.
#[test]
fn what_is_left_out_is_counted_all_the_same() {
    assert_eq!(drags("15.00 USD", fluid).waive("fluid:oil").decided(), RIGHT);
    assert_eq!(drags("15.00 USD", opening).waive("apart:cover:grease").decided(), RIGHT);
}

/// What beside it is renewed for its own sake is no cost of a part.
#[test]
fn what_is_renewed_anyway_is_paid_once() {
    assert_eq!(drags("15.00 USD", renewal).survey("seal", Verdict::Renew).decided(), LEFT);
    assert_eq!(drags("15.00 USD", renewal).survey("seal", Verdict::Good).decided(), RIGHT);
}

/// A worn box costs its renewal where it stays.
#[test]
fn what_is_condemned_is_paid_where_it_is_left() {
    let plan = |renewed: &str| {
        let more = json!({
            "parts": {"left-box": {"price": "25.00 USD"}, "old-left": {"class": "left", "price": renewed}},
            "vehicle": {"positions": {"left": "old-left"}},
        });
        two_ways(more).survey("left", Verdict::Renew).decided()
    };
    assert_eq!(plan("6.00 USD"), LEFT);
    assert_eq!(plan("4.00 USD"), RIGHT);
}

/// Two that go in together open it once, for 6.
#[test]
fn what_two_decisions_open_is_paid_once() {
    let plan = |right: &str| {
        let more = json!({
            "free": ["grease"],
            "openings": {"cover": {"classes": ["back", "left"], "wants": ["grease"]}},
            "parts": {
                "back-box": {"class": "back", "offers": ["earth"]},
                "bearing-grease": {"class": "grease", "price": "6.00 USD"},
                "left-box": {"offers": ["feed"]},
                "right-box": {"price": right},
            },
            "vehicle": {"positions": {"back": null}},
        });
        two_ways(more).decided()
    };
    assert_eq!(plan("27.00 USD"), ["back: back-box", "left: left-box"]);
    assert_eq!(plan("25.00 USD"), RIGHT);
}

/// Two openings ask for the same: a service is done once, anything else is wanted by each.
#[test]
fn a_service_that_another_opening_wants_is_paid_once() {
    let plan = |class: Json| {
        let more = json!({
            "classes": {"tuning": class},
            "openings": {
                "cover": {"classes": ["left"], "wants": ["tuning"]}, "sump": {"classes": ["engine"], "wants": ["tuning"]},
            },
            "parts": {"bench-tuning": {"class": "tuning", "price": "15.00 USD"}},
        });
        two_ways(more).choose("engine", Route::Rebuild).decided()
    };
    assert_eq!(plan(json!({"service": true})), LEFT);
    assert_eq!(plan(json!({"free": true})), RIGHT);
}
