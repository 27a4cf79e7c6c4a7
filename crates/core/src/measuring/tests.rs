//! A value that several checks want is one line with all of them; what a check only tells in words is a line by itself.

use serde_json::{Value as Json, json};

use super::{Asks, lines};
use crate::assess::least::Least;
use crate::showing::Measure;

/// Springs that nobody measured, under two limits, on a vehicle with tyres of a date that nobody reads.
fn springs(figures: Json) -> Least {
    let at_most = |figure: &str, most: &str| json!({"calc": "at-most", "inputs": {"have": {"class": "springs", "figure": figure}, "most": {"value": most}}});
    Least::new(json!({
        "classes": {"tyre": {"lasts": {"time": "6 years", "why": "rubber hardens", "safety": true}}},
        "figures": {
            "lift": {"kind": "length", "measure": "rule, to 5 mm"},
            "travel": {"kind": "length", "measure": "jack, to 5 mm"},
        },
        "limits": {
            "shaft": at_most("lift", "100 mm"),
            "hose": at_most("lift", "90 mm"),
            "stop": at_most("travel", "150 mm"),
        },
        "parts": {"new-springs": {"class": "springs", "figures": figures}, "old-tyre": "tyre"},
        "vehicle": {"positions": {"springs": null, "tyre": "old-tyre"}},
    }))
    .convert("springs", "new-springs")
}

/// Each line: what it asks for, and the checks that want it.
fn told(least: &Least) -> Vec<(String, Vec<String>)> {
    let a = least.assess();
    let asks = |asks: &Asks<'_>| match asks {
        Asks::Value(wanted) => wanted.key.to_string(),
        Asks::Words(_) => "in words".to_owned(),
    };
    let told = lines(&a);
    told.iter()
        .map(|line| (asks(&line.asks), line.checks.iter().map(|check| check.key.to_string()).collect()))
        .collect()
}

fn line(asks: &str, checks: &[&str]) -> (String, Vec<String>) {
    (asks.to_owned(), checks.iter().map(|check| (*check).to_owned()).collect())
}

#[test]
fn a_value_that_two_checks_want_is_one_line() {
    let tyre = line("in words", &["age:tyre"]);
    assert_eq!(
        told(&springs(json!({"lift": "unknown", "travel": "unknown"}))),
        [
            line("lift@new-springs", &["limit:hose", "limit:shaft"]),
            line("travel@new-springs", &["limit:stop"]),
            tyre.clone(),
        ]
    );
    // measured, it is asked for no more
    let least = springs(json!({"lift": "unknown", "travel": "100 mm"}));
    assert_eq!(told(&least.clone().measured("lift@new-springs", "80 mm")), [tyre]);
    let a = least.assess();
    let all = lines(&a);
    assert_eq!((all[0].positions(), all[0].places()), (vec!["springs"], vec!["springs"]));
    assert_eq!(all[0].decides(&a, Measure::Metric), ["hose", "shaft"]);
}

#[test]
fn of_a_value_known_too_loosely_each_check_says_how_closely_it_wants_it() {
    let least = springs(json!({"lift": "95 mm ±10 mm", "travel": "100 mm"}));
    let a = least.assess();
    let all = lines(&a);
    let [lift, _] = all.as_slice() else { panic!("{all:?}") };
    let said = lift.decides(&a, Measure::Metric);
    let ends: Vec<bool> = [("hose", "±5 mm"), ("shaft", "±5 mm")]
        .iter()
        .zip(&said)
        .map(|((name, to), said)| said.starts_with(name) && said.contains(to))
        .collect();
    assert_eq!(ends, [true, true], "{said:?}");
}

/// A pump and a plate on one pad of an engine: the gasket of the pump can be told by its foot or by the pad, the plate by the
/// pad alone.
#[test]
fn what_may_be_measured_elsewhere_is_measured_where_it_must_be_measured_anyway() {
    let flange = |bolts: &str| json!({"type": "flange", "fields": {"bolts": bolts}});
    let of = |class: &str, port: &str, bolts: &str| json!({"class": class, "ports": {port: flange(bolts)}});
    let least = Least::new(json!({
        "free": ["gasket"],
        "port_types": {"flange": {"fields": {"bolts": {"kind": "word", "rule": "equal"}}, "opened": ["gasket"]}},
        "parts": {
            "new-gasket": of("gasket", "face", "three"), "new-plate": of("plate", "face", "three"),
            "old-engine": of("engine", "pad", "unknown"), "old-pump": of("pump", "foot", "unknown"),
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "plate": null, "pump": "old-pump"},
            "joints": {"foot": ["pump.foot", "engine.pad"], "plate": ["plate.face", "engine.pad"]},
        },
    }))
    .choose("pump", crate::sheet::Route::Rebuild);
    assert_eq!(told(&least), [line("foot.bolts@old-pump", &["joint:foot"])]);
    assert_eq!(
        told(&least.convert("plate", "new-plate")),
        [line("pad.bolts@old-engine", &["joint:foot", "joint:plate"])]
    );
}
