//! A pump on an engine whose flange nobody has measured, and what lies between.

use serde_json::{Value as Json, json};

use super::super::least::{Least, open};
use crate::sheet::Route;

fn flange(bolts: &str) -> Json {
    json!({"type": "flange", "fields": {"bolts": bolts}})
}

fn engine(pad: &str) -> Least {
    let gasket = |bolts: &str, price: &str| json!({"class": "gasket", "ports": {"face": flange(bolts)}, "price": price});
    Least::new(json!({
        "free": ["gasket"],
        "port_types": {"flange": {"fields": {"bolts": {"kind": "word", "rule": "equal"}}, "opened": ["gasket"]}},
        "parts": {
            "old-engine": {"class": "engine", "ports": {"pad": flange(pad)}},
            "old-pump": {"class": "pump", "ports": {"foot": flange(pad)}},
            "new-pump": {"class": "pump", "ports": {"foot": flange("three")}, "price": "20.00 USD"},
            "two-bolt-gasket": gasket("two", "2.00 USD"),
            "three-bolt-gasket": gasket("three", "3.00 USD"),
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "pump": "old-pump"},
            "joints": {"foot": ["pump.foot", "engine.pad"]},
        },
    }))
}

/// Companions and lines as they are called, with a mark where they are measured first.
fn told(least: &Least) -> (Vec<String>, Vec<String>) {
    let a = least.assess();
    let mark = |name: &str, first: bool| format!("{name}{}", if first { " ?" } else { "" });
    (
        a.companions.iter().map(|c| mark(&c.name, c.measured_first)).collect(),
        a.buy.iter().map(|line| mark(&line.name, line.measured_first)).collect(),
    )
}

#[test]
fn what_lies_between_ends_that_nobody_measured_is_called_by_its_class() {
    let mut least = engine("unknown: count them").choose("pump", Route::Rebuild);
    // the two came together, and that says nothing of what lies between
    let a = least.assess();
    assert_eq!(open(&a), ["joint:foot"]);
    let wanted: Vec<String> = a.to_measure[0].wanted.iter().map(|w| w.key.to_string()).collect();
    assert_eq!(wanted, ["foot.bolts@old-pump"]);
    assert!(
        a.to_measure[0].what.say(crate::showing::Measure::Metric).contains("bolts of the"),
        "{:?}",
        a.to_measure[0].what
    );
    let (companions, lines) = told(&least);
    assert_eq!(companions, ["gasket, to be measured first ?"]);
    assert!(lines.contains(&"gasket, to be measured first ?".to_owned()), "{lines:?}");
    // what is bought is known
    let bought = engine("unknown: count them").choose("pump", Route::Rebuild).fitted("two-bolt-gasket", None);
    assert_eq!(told(&bought).0, ["two-bolt-gasket"]);
    // measured at one end, it is known which one it is
    least.sheet.facts.insert("pad.bolts@old-engine".to_owned(), json!("three"));
    let (companions, lines) = told(&least);
    assert_eq!(
        (companions.as_slice(), open(&least.assess()).len()),
        (["three-bolt-gasket".to_owned()].as_slice(), 0)
    );
    assert!(!lines.iter().any(|line| line.ends_with('?')), "{lines:?}");
}

#[test]
fn what_is_chosen_where_it_may_not_fit_is_measured_first() {
    let (_, lines) = told(&engine("unknown: count them").convert("pump", "new-pump"));
    assert!(lines.contains(&"new-pump ?".to_owned()), "{lines:?}");
    let (_, lines) = told(&engine("three").convert("pump", "new-pump"));
    assert!(lines.contains(&"new-pump".to_owned()), "{lines:?}");
}
