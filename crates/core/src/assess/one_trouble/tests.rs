//! Clashes that the same changes clear are one trouble; one change that clears a single one of them, and they are two.

use serde_json::{Value as Json, json};

use super::super::least::{Least, merge};
use crate::assessment::Assessment;
use crate::sheet::Verdict;

/// Keys of each trouble.
fn troubles(a: &Assessment) -> Vec<Vec<String>> {
    let keys = |one: Vec<&crate::assessment::Clash>| one.iter().map(|clash| clash.key.to_string()).collect();
    a.troubles().into_iter().map(keys).collect()
}

/// A gearbox whose bell face and input shaft both differ from the engine's.
fn gearbox(more: Json) -> Least {
    let ends = |class: &str, face: &str, shaft: &str| json!({"class": class, "ports": {"face": face, "shaft": shaft}});
    let mut library = json!({
        "classes": {"engine": {"decided": "owner"}, "gearbox": {"decided": "owner"}},
        "parts": {
            "old-engine": ends("engine", "wide", "thick"), "old-gearbox": ends("gearbox", "wide", "thick"),
            "new-gearbox": ends("gearbox", "narrow", "thin"), "other-gearbox": ends("gearbox", "wide", "thick"),
        },
        "vehicle": {
            "positions": {"engine": "old-engine", "gearbox": "old-gearbox"},
            "joints": {"face": ["engine.face", "gearbox.face"], "shaft": ["engine.shaft", "gearbox.shaft"]},
        },
    });
    merge(&mut library, more);
    Least::new(library).convert("gearbox", "new-gearbox")
}

#[test]
fn what_every_change_clears_together_is_one_trouble() {
    let a = gearbox(json!({})).assess();
    assert_eq!(troubles(&a), [["joint:face", "joint:shaft"]]);
    assert_eq!(a.clashes[0].one_with, [a.clashes[1].key.clone()]);
    assert_eq!(a.clashes[1].one_with, [a.clashes[0].key.clone()]);
}

#[test]
fn a_change_that_clears_one_of_them_makes_them_two() {
    let half = json!({"class": "gearbox", "ports": {"face": "wide", "shaft": "thin"}, "price": "900.00 USD"});
    let a = gearbox(json!({"parts": {"half-gearbox": half}})).assess();
    assert_eq!(troubles(&a), [["joint:face"], ["joint:shaft"]]);
    assert!(a.clashes.iter().all(|clash| clash.one_with.is_empty()));
}

/// What nothing clears is not one trouble with all else that nothing clears.
#[test]
fn what_nothing_clears_stands_by_itself() {
    let none_else = json!({"parts": {"other-gearbox": {"price": null}, "old-engine": {"price": null}}});
    let a = gearbox(none_else).survey("gearbox", Verdict::Stop).assess();
    assert_eq!(troubles(&a), [["joint:face"], ["joint:shaft"]]);
}
