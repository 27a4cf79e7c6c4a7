//! A pump on an engine that came together, and what lies between: one end answers for both.

use serde_json::json;

use super::super::least::{Least, open};
use crate::sheet::Route;
use crate::showing::Measure;

/// The flanges of an engine, of the pump on it and of another pump.
fn engine(pad: &str, foot: &str, new: &str, rule: &str) -> Least {
    let flange = |bolts: &str| json!({"type": "flange", "fields": {"bolts": bolts}});
    let gasket = |bolts: &str, price: &str| json!({"class": "gasket", "ports": {"face": flange(bolts)}, "price": price});
    let mut bolts = json!({"kind": "word", "rule": rule});
    if rule == "class" {
        bolts["words"] = json!([["two", "three"]]);
    }
    Least::new(json!({
        "free": ["gasket"],
        "port_types": {"flange": {"fields": {"bolts": bolts}, "opened": ["gasket"]}},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"foot": flange(new)}},
            "old-engine": {"class": "engine", "ports": {"pad": flange(pad)}},
            "old-pump": {"class": "pump", "ports": {"foot": flange(foot)}},
            "three-bolt-gasket": gasket("three", "3.00 USD"),
            "two-bolt-gasket": gasket("two", "2.00 USD"),
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "pump": "old-pump"},
            "joints": {"foot": ["pump.foot", "engine.pad"]},
        },
    }))
}

/// What is asked for, with what does instead.
fn asked(least: &Least) -> Vec<String> {
    let a = least.assess();
    let wanted = a.to_measure.iter().flat_map(|open: &crate::assessment::ToMeasure| &open.wanted);
    wanted
        .map(|w| match &w.instead {
            Some(other) => format!("{} or {}", w.key, other.key),
            None => w.key.to_string(),
        })
        .collect()
}

fn gaskets(least: &Least) -> Vec<String> {
    least.assess().companions.iter().map(|c| c.name.clone()).collect()
}

const FOOT: &str = "foot.bolts@old-pump";
const PAD: &str = "pad.bolts@old-engine";

#[test]
fn of_two_ends_that_came_together_one_is_asked_for_and_decides_it() {
    let least = engine("unknown: count them", "unknown", "three", "equal").choose("pump", Route::Rebuild);
    assert_eq!(asked(&least), [format!("{FOOT} or {PAD}")]);
    let a = least.assess();
    assert_eq!(a.to_measure[0].what.say(Measure::Metric), "bolts of the pump or of the engine");
    for end in [FOOT, PAD] {
        let known = least.clone().measured(end, "three");
        assert!(open(&known.assess()).is_empty(), "{end}");
        assert_eq!(gaskets(&known), ["three-bolt-gasket"], "{end}");
    }
}

#[test]
fn what_stays_is_asked_for_before_what_is_replaced() {
    let least = engine("unknown", "unknown", "three", "equal").choose("pump", Route::Renew);
    assert_eq!(asked(&least), [format!("{PAD} or {FOOT}")]);
}

#[test]
fn one_end_that_is_known_is_enough() {
    assert!(asked(&engine("three", "unknown", "three", "equal").choose("pump", Route::Rebuild)).is_empty());
    // what suits anything says nothing of the other
    assert_eq!(asked(&engine("any", "unknown", "three", "equal").choose("pump", Route::Rebuild)), [FOOT]);
}

#[test]
fn ends_that_did_not_come_together_or_need_not_be_equal_are_both_asked_for() {
    let changed = engine("unknown", "unknown", "unknown", "equal").convert("pump", "new-pump");
    assert_eq!(asked(&changed), ["foot.bolts@new-pump", PAD]);
    let alike = engine("unknown", "unknown", "three", "class").choose("pump", Route::Rebuild);
    assert_eq!(asked(&alike), [FOOT, PAD]);
}
