//! What is cheap while something else is apart: the least examples.

use serde_json::{Value as Json, json};

use super::*;
use crate::assess::least::{Least, merge};
use crate::jobs::jobs;
use crate::sheet::Done;

/// A clutch behind a gearbox, a lamp, and the gearbox that is rebuilt. The gearbox takes 3 h out and 3 h in.
fn cart(more: Json) -> Least {
    let mut library = json!({
        "parts": {
            "box": {"class": "gearbox", "rebuild": {"price": "400.00 USD", "hours": 10}},
            "old-clutch": {"class": "clutch", "price": "80.00 USD", "hours": 1},
            "old-lamp": {"class": "lamp", "price": "20.00 USD", "hours": 1},
        },
        "vehicle": {"positions": {"gearbox": "box", "clutch": "old-clutch", "lamp": "old-lamp"}},
        "operations": {
            "box-out": {"kind": "remove", "for": ["gearbox"], "hours": [2, 3, 5], "closed_by": "box-in", "source": "common practice"},
            "box-in": {"kind": "fit", "for": ["gearbox"], "after": ["box-out"], "hours": [2, 3, 5], "source": "common practice"},
            "clutch-in": {"kind": "fit", "for": ["clutch"], "after": ["box-out"], "hours": [1, 1, 2], "source": "common practice"},
            "lamp-in": {"kind": "fit", "for": ["lamp"], "hours": [1, 1, 1], "source": "common practice"},
        },
    });
    merge(&mut library, more);
    Least::new(library)
}

fn found(least: &Least) -> Vec<Cheap> {
    let a = least.assess();
    while_apart(&least.sheet, &a, &jobs(&least.sheet, &a, &least.catalogue), &least.catalogue)
}

#[test]
fn what_lies_behind_an_open_place_is_told_with_the_hours_it_saves() {
    let all = found(&cart(json!({})).choose("gearbox", Route::Rebuild));
    assert_eq!(all.len(), 1, "{all:#?}");
    let clutch = &all[0];
    assert_eq!((clutch.position.as_str(), &clutch.take), ("clutch", &Taken::Route(Route::Renew)));
    // gearbox out and in again, 6 h, and the hour of the clutch itself
    assert_eq!((clutch.now, clutch.later, clutch.saves()), (1.0, 7.0, 6.0));
    assert_eq!(clutch.with, ["box-out", "box-in"]);
    assert_eq!(clutch.money, crate::money::typed("80.00 USD", "USD").unwrap());
    assert!(!clutch.is_open);
}

#[test]
fn nothing_is_told_where_nothing_is_opened_or_little_is_saved() {
    assert!(found(&cart(json!({}))).is_empty(), "the gearbox stays in");
    let quick =
        json!({"operations": {"box-out": {"hours": [0.1, 0.2, 0.4]}, "box-in": {"hours": [0.1, 0.2, 0.4]}}});
    assert!(found(&cart(quick).choose("gearbox", Route::Rebuild)).is_empty(), "24 minutes");
    let slow = json!({"parts": {"old-clutch": {"hours": 7}}});
    assert!(found(&cart(slow).choose("gearbox", Route::Rebuild)).is_empty(), "it takes 7 h and saves 6");
    let not_sold = json!({"parts": {"old-clutch": {"price": null}}});
    assert!(found(&cart(not_sold).choose("gearbox", Route::Rebuild)).is_empty(), "there is no route");
}

#[test]
fn what_was_found_good_or_is_in_the_plan_already_is_left_alone() {
    let good = cart(json!({})).choose("gearbox", Route::Rebuild).survey("clutch", Verdict::Good);
    assert!(found(&good).is_empty());
    let watched = cart(json!({})).choose("gearbox", Route::Rebuild).survey("clutch", Verdict::Watch);
    assert_eq!(found(&watched)[0].verdict, Some(Verdict::Watch));
    let both = cart(json!({})).choose("gearbox", Route::Rebuild).choose("clutch", Route::Renew);
    assert!(found(&both).is_empty());
}

#[test]
fn a_place_stands_open_from_its_opening_to_its_closing() {
    let mut least = cart(json!({})).choose("gearbox", Route::Rebuild);
    least.sheet.done.insert("box-out".into(), Done::default());
    let all = found(&least);
    assert!(all[0].is_open && all[0].with == ["box-out", "box-in"], "{all:#?}");
    least.sheet.done.insert("box-in".into(), Done::default());
    assert!(found(&least).is_empty(), "it is closed: the gearbox would have to come out again");
}

#[test]
fn what_is_advised_by_name_is_told_once_and_not_as_its_place_too() {
    let advised = json!({
        "parts": {"new-clutch": {"class": "clutch", "price": "70.00 USD", "hours": 1}},
        "openings": {"box-apart": {"name": "gearbox out", "classes": ["gearbox"], "wants": [{"class": "clutch", "level": "advised", "why": "it wears"}]}},
    });
    let good = cart(advised.clone()).choose("gearbox", Route::Rebuild).survey("clutch", Verdict::Good);
    assert!(found(&good).is_empty(), "what was found good is left alone, whoever advises it");
    let all = found(&cart(advised).choose("gearbox", Route::Rebuild));
    let names: Vec<&str> = all.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(all.len(), 1, "{names:?}");
}

#[test]
fn what_the_plan_brings_to_a_place_by_itself_is_not_told() {
    let wanted = json!({
        "parts": {"new-clutch": {"class": "clutch", "price": "70.00 USD", "hours": 1}},
        "openings": {"box-apart": {"name": "gearbox out", "classes": ["gearbox"], "wants": [{"class": "clutch", "level": "required", "why": "it is worn"}]}},
    });
    let least = cart(wanted).choose("gearbox", Route::Rebuild);
    assert!(
        least.assess().companions.iter().any(|c| c.position.as_deref() == Some("clutch")),
        "it is brought"
    );
    assert!(found(&least).is_empty());
}

/// The jobs that an advised part alone asks for are not saved: without it nobody does them.
#[test]
fn what_is_advised_saves_only_what_is_done_without_it() {
    let advised = json!({
        "parts": {"old-seal": {"class": "seal"}, "new-seal": {"class": "seal", "price": "9.00 USD", "hours": 1}},
        "vehicle": {"positions": {"seal": "old-seal"}},
        "openings": {"box-apart": {"name": "gearbox out", "classes": ["gearbox"], "wants": [{"class": "seal", "level": "advised", "why": "it hardens"}]}},
        "operations": {
            "flywheel-off": {"kind": "remove", "after": ["box-out"], "hours": [2, 2, 2], "closed_by": "flywheel-on", "source": "common practice"},
            "flywheel-on": {"kind": "fit", "after": ["flywheel-off"], "hours": [2, 2, 2], "source": "common practice"},
            "seal-in": {"kind": "fit", "for": ["seal"], "after": ["flywheel-off"], "hours": [1, 1, 1], "source": "common practice"},
        },
    });
    let all = found(&cart(advised).choose("gearbox", Route::Rebuild));
    let seal = all.iter().find(|one| one.position == "seal").unwrap();
    assert_eq!((seal.with.as_slice(), seal.saves()), (&["box-out".to_owned(), "box-in".to_owned()][..], 6.0));
    // the flywheel off and on, and the seal itself
    assert_eq!((seal.now, seal.later), (5.0, 11.0));
}
