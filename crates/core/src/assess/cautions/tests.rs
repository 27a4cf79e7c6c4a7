//! What can hurt somebody: the cautions of what is worked on and of companions, what the survey stopped until it is cured, and
//! what is left out though people depend on it.

use serde_json::json;

use super::super::least::{Least, clashes};
use crate::assessment::Assessment;
use crate::sheet::{LineState, Route, Verdict};

/// Brakes with a hose that people depend on.
fn brakes() -> Least {
    Least::new(json!({
        "cautions": {
            "dust": {"danger": "the dust harms the lungs", "guard": "wet it"},
            "fluid": {"danger": "the fluid harms the eyes", "guard": "wear glasses"},
            "renew": {"danger": "it is worn out", "guard": "renew it"},
            "stop": {"danger": "it may fail on the road", "guard": "do not drive"},
        },
        "parts": {
            "brake-hose": {
                "class": "hose", "ports": {"end": "5/16"}, "safety": true, "cautions": ["fluid"],
            },
            "new-brakes": {"class": "brakes", "ports": {"inlet": "5/16"}},
            "odd-brakes": {"class": "brakes", "ports": {"inlet": "1/4"}},
            "old-brakes": {"class": "brakes", "cautions": ["dust"]},
            "old-hose": {"class": "hose", "ports": {"end": "3/8"}},
        },
        "vehicle": {
            "positions": {"brakes": "old-brakes", "hose": "old-hose"},
            "joints": {"line": ["brakes.inlet", "hose.end"]},
        },
    }))
}

/// Each caution as `id: places; companions`.
fn notes(a: &Assessment) -> Vec<String> {
    let told = |n: &crate::assessment::CautionNote| {
        let companions: Vec<String> = n.companions.iter().map(ToString::to_string).collect();
        format!("{}: {}; {}", n.id, n.positions.join(" "), companions.join(" "))
    };
    a.cautions.iter().map(told).collect()
}

#[test]
fn what_is_worked_on_calls_for_its_cautions_and_what_is_left_alone_does_not() {
    assert_eq!(notes(&brakes().choose("brakes", Route::Clean).assess()), ["dust: brakes; "]);
    assert!(notes(&brakes().choose("brakes", Route::Keep).assess()).is_empty());
}

#[test]
fn a_companion_calls_for_its_cautions_where_it_goes_in() {
    let a = brakes().convert("brakes", "new-brakes").assess();
    assert_eq!(notes(&a), ["dust: brakes; ", "fluid: hose; position:hose"]);
}

#[test]
fn what_the_survey_stopped_stands_until_it_is_fitted() {
    let stopped = || brakes().survey("brakes", Verdict::Stop);
    let stop = "stop: brakes; survey:brakes".to_owned();
    assert!(notes(&stopped().assess()).contains(&stop));
    assert!(notes(&stopped().line("old-brakes", LineState::InHand).assess()).contains(&stop));
    assert!(!notes(&stopped().line("old-brakes", LineState::Fitted).assess()).contains(&stop));
    assert!(!notes(&brakes().survey("brakes", Verdict::Renew).assess()).contains(&stop));
}

#[test]
fn what_is_outside_its_limit_stands_until_it_is_fitted_where_people_depend_on_it() {
    let hose = |part| brakes().found("hose", Some(part)).survey("hose", Verdict::Renew);
    let said = |least: Least| notes(&least.assess()).contains(&"renew: hose; survey:hose".to_owned());
    assert!(said(hose("brake-hose")));
    assert!(said(hose("brake-hose").waive("survey:hose")));
    assert!(!said(hose("brake-hose").line("brake-hose", LineState::Fitted)));
    assert!(!said(hose("old-hose")));
    let a = hose("brake-hose").waive("survey:hose").assess();
    assert_eq!(a.companions[0].danger.as_deref(), Some("it is worn out"));
}

#[test]
fn what_is_left_out_though_people_depend_on_it_says_what_can_happen() {
    let a = brakes().convert("brakes", "new-brakes").assess();
    assert_eq!(a.companions[0].danger, None);
    let a = brakes().convert("brakes", "new-brakes").waive("position:hose").assess();
    assert_eq!(a.companions[0].danger.as_deref(), Some("People depend on this part"));
}

/// A valve that is left out is not told by what its fluid does to the eyes of whoever fits it.
#[test]
fn what_can_happen_is_what_goes_wrong_without_it_and_not_what_harms_whoever_fits_it() {
    let fuse = |why: &str| {
        let least = Least::new(json!({
            "free": ["fuse", "valve"],
            "cautions": {"fluid": {"danger": "the fluid harms the eyes", "guard": "wear glasses"}},
            "needs": {"fuse": {"name": "a fuse", "kind": "present", "why": why}},
            "port_types": {"pipe": {"fields": {
                "held": {"name": "pressure", "kind": "pressure", "rule": "at-most", "says": "the brakes drag: {giver gives} {given}, {taker takes} {wanted}"},
            }}},
            "parts": {
                "disc-brakes": {"class": "brakes", "needs": ["fuse"],
                    "ports": {"in": {"type": "pipe", "role": "take", "fields": {"held": "2 psi"}}}},
                "own-fuse": {"class": "fuse", "offers": ["fuse"], "safety": true, "cautions": ["fluid"]},
                "old-master": {"class": "master",
                    "ports": {"out": {"type": "pipe", "role": "give", "fields": {"held": "10 psi"}}}},
                "held-valve": {"class": "valve", "safety": true, "cautions": ["fluid"], "bridges": ["in", "out"],
                    "ports": {
                        "in": {"type": "pipe", "role": "take", "fields": {"held": "12 psi"}},
                        "out": {"type": "pipe", "role": "give", "fields": {"held": "1 psi"}},
                    }},
            },
            "vehicle": {
                "positions": {"brakes": null, "master": "old-master"},
                "joints": {"line": ["brakes.in", "master.out"]},
            },
        }));
        let least = least.convert("brakes", "disc-brakes").waive("bridge:line:0");
        least.waive("need:brakes:disc-brakes:fuse").assess()
    };
    let told = |a: &Assessment| -> Vec<String> {
        a.companions.iter().filter_map(|c| Some(format!("{}: {}", c.part, c.danger.as_ref()?))).collect()
    };
    assert_eq!(told(&fuse("the wire burns")), ["held-valve: The brakes drag", "own-fuse: The wire burns"]);
    assert_eq!(told(&fuse("")), ["held-valve: The brakes drag", "own-fuse: People depend on this part"]);
}

#[test]
fn a_required_companion_that_is_left_out_is_told_at_the_place_that_goes_without() {
    let left_out = |least: Least| {
        let a = least.convert("brakes", "new-brakes").assess();
        a.positions.iter().find(|p| p.id == "hose").map(|p| p.left_out.clone()).unwrap_or_default()
    };
    assert_eq!(left_out(brakes().waive("position:hose")), ["position:hose"]);
    assert!(left_out(brakes()).is_empty());
}

#[test]
fn a_clash_at_a_part_that_people_depend_on_is_a_danger() {
    let is_danger = |hose: &str| {
        let kept = brakes().found("hose", Some(hose)).choose("hose", Route::Keep);
        let a = kept.convert("brakes", "odd-brakes").assess();
        assert_eq!(clashes(&a), ["joint:line"]);
        a.clashes[0].safety
    };
    assert!(is_danger("brake-hose"));
    assert!(!is_danger("old-hose"));
}

#[test]
fn what_comes_off_is_worked_on_whatever_takes_its_place() {
    assert_eq!(notes(&brakes().choose("brakes", Route::LeaveOff).assess())[..1], ["dust: brakes; "]);
    // the new brakes have no dust of their own
    assert_eq!(notes(&brakes().convert("brakes", "new-brakes").assess())[..1], ["dust: brakes; "]);
    assert!(!notes(&brakes().assess()).iter().any(|note| note.starts_with("dust")));
}
