//! Two ports that meet must be of one type, not both give or both take, and agree in every field by its rule.

use serde_json::{Value as Json, json};

use crate::assess::least::{Least, answer, open};
use crate::assessment::{Answer, Assessment};

/// A pump is put where a carburettor is; their ports meet, the pump gives and the carburettor takes.
fn meeting(port_types: Json, pump: Json, carburettor: Json) -> Assessment {
    Least::new(json!({
        "port_types": port_types,
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": pump}},
            "old-carburettor": {"class": "carburettor", "ports": {"inlet": carburettor}},
        },
        "vehicle": {
            "positions": {"carburettor": "old-carburettor", "pump": null},
            "joints": {"fuel": ["pump.outlet", "carburettor.inlet"]},
        },
    }))
    .convert("pump", "new-pump")
    .assess()
}

/// What becomes of the joint where the two differ in one field; a field of `null` is left out.
fn field(rule: &Json, gives: impl Into<Json>, takes: impl Into<Json>) -> Answer {
    let port = |role: &str, value: Json| {
        let fields = if value.is_null() { json!({}) } else { json!({ "it": value }) };
        json!({"type": "fuel", "role": role, "fields": fields})
    };
    let types = json!({"fuel": {"fields": {"it": rule}}});
    let a = meeting(types, port("give", gives.into()), port("take", takes.into()));
    answer(&a, "joint:fuel").expect("looked at")
}

/// Wheel nuts for studs of 7/16 in, left hand, on studs of 1/2 in, right hand.
#[test]
fn the_field_that_every_port_has_is_told_before_one_that_may_be_left_out() {
    let stud = json!({"stud": {"fields": {
        "hand": {"name": "hand", "kind": "word", "rule": "equal", "optional": true, "says": "it shears: {one} {one-value}, {other} {other-value}"},
        "thread": {"name": "thread", "kind": "thread", "rule": "equal", "says": "the nut does not go on: {one} {one-value}, {other} {other-value}"},
    }}});
    let port = |fields: Json| json!({"type": "stud", "fields": fields});
    let told = |nut: Json| {
        let a = meeting(stud.clone(), port(json!({"hand": "right", "thread": "1/2-20"})), port(nut));
        crate::explain::because(&a, a.clashes[0].reason, crate::showing::Measure::Metric).join(" | ")
    };
    for (nut, says) in [
        (json!({"hand": "left", "thread": "7/16-20"}), "the nut does not go on"),
        (json!({"thread": "7/16-20"}), "the nut does not go on"),
        (json!({"hand": "left", "thread": "1/2-20"}), "it shears"),
    ] {
        let told = told(nut);
        assert!(told.contains(says), "{says}: {told}");
    }
}

#[test]
fn equal_allows_the_difference_within() {
    let bore = json!({"kind": "length", "rule": "equal", "within": "0.5 mm"});
    assert_eq!(field(&bore, "8 mm", "8.5 mm"), Answer::Holds);
    assert_eq!(field(&bore, "8 mm", "8.6 mm"), Answer::Broken);
}

#[test]
fn equal_words_and_threads_are_the_same() {
    let thread = json!({"kind": "thread", "rule": "equal"});
    assert_eq!(field(&thread, "M10x1.25", "M10x1.25"), Answer::Holds);
    assert_eq!(field(&thread, "M10x1.25", "M10x1.5"), Answer::Broken);
}

#[test]
fn mates_wants_opposite_words() {
    let end = json!({"kind": "word", "rule": "mates", "words": [["male", "female"]]});
    assert_eq!(field(&end, "male", "female"), Answer::Holds);
    assert_eq!(field(&end, "male", "male"), Answer::Broken);
}

#[test]
fn class_wants_the_same_word_or_two_that_go_together() {
    let size = json!({"kind": "word", "rule": "class", "words": [["5/16", "8-mm"]]});
    assert_eq!(field(&size, "3/8", "3/8"), Answer::Holds);
    assert_eq!(field(&size, "5/16", "8-mm"), Answer::Holds);
    assert_eq!(field(&size, "5/16", "3/8"), Answer::Broken);
}

#[test]
fn inside_wants_the_window_that_gives_in_the_window_that_takes() {
    let pressure = json!({"kind": "pressure", "rule": "inside"});
    assert_eq!(field(&pressure, "3 to 4 psi", "2 to 4 psi"), Answer::Holds);
    assert_eq!(field(&pressure, "2 to 4 psi", "3 to 4 psi"), Answer::Broken);
}

#[test]
fn at_least_wants_that_what_gives_has_no_less() {
    let flow = json!({"kind": "length", "rule": "at-least"});
    assert_eq!(field(&flow, "9 mm", "8 mm"), Answer::Holds);
    assert_eq!(field(&flow, "7 mm", "8 mm"), Answer::Broken);
}

#[test]
fn at_most_wants_that_what_gives_has_no_more() {
    let pull = json!({"kind": "length", "rule": "at-most"});
    assert_eq!(field(&pull, "7 mm", "8 mm"), Answer::Holds);
    assert_eq!(field(&pull, "9 mm", "8 mm"), Answer::Broken);
}

#[test]
fn told_is_never_compared() {
    assert_eq!(field(&json!({"kind": "word", "rule": "told"}), "red", "blue"), Answer::Holds);
}

#[test]
fn what_can_be_set_holds_wherever_the_windows_overlap() {
    let pressure = json!({"kind": "pressure", "rule": "inside"});
    assert_eq!(field(&pressure, "set 2 to 4 psi", "3 to 3.5 psi"), Answer::Holds);
    assert_eq!(field(&pressure, "set 4 to 6 psi", "3 to 3.5 psi"), Answer::Broken);
}

#[test]
fn what_is_made_to_measure_holds() {
    assert_eq!(field(&json!({"kind": "length", "rule": "equal"}), "any", "8 mm"), Answer::Holds);
}

#[test]
fn of_several_one_must_do() {
    let size = json!({"kind": "word", "rule": "class"});
    assert_eq!(field(&size, json!(["5/16", "3/8"]), "3/8"), Answer::Holds);
    assert_eq!(field(&size, json!(["5/16", "1/4"]), "3/8"), Answer::Broken);
}

#[test]
fn an_unknown_value_leaves_it_open() {
    let bore = json!({"kind": "length", "rule": "equal"});
    assert_eq!(field(&bore, "unknown: calliper, to 0.1 mm", "8 mm"), Answer::ToMeasure);
}

#[test]
fn a_tolerance_leaves_it_open_where_its_ends_differ() {
    let bore = json!({"kind": "length", "rule": "at-least"});
    assert_eq!(field(&bore, "8.2 mm ±0.3 mm", "8 mm"), Answer::ToMeasure);
    assert_eq!(field(&bore, "8.2 mm ±0.2 mm", "8 mm"), Answer::Holds);
}

#[test]
fn an_optional_field_that_is_left_out_is_not_compared() {
    let colour = json!({"kind": "word", "rule": "class", "optional": true});
    assert_eq!(field(&colour, Json::Null, "blue"), Answer::Holds);
    assert_eq!(field(&colour, "red", "blue"), Answer::Broken);
}

#[test]
fn the_worst_field_decides() {
    let types = json!({"fuel": {"fields": {
        "bore": {"kind": "length", "rule": "equal"},
        "end": {"kind": "word", "rule": "class"},
    }}});
    let of = |end: &str| {
        let port = |bore: &str, end: &str| json!({"type": "fuel", "fields": {"bore": bore, "end": end}});
        meeting(types.clone(), port("8 mm", "barb"), port("unknown", end))
    };
    assert_eq!(open(&of("barb")), ["joint:fuel"]);
    assert_eq!(answer(&of("flare"), "joint:fuel"), Some(Answer::Broken));
}

#[test]
fn ports_of_two_types_do_not_meet() {
    let a = meeting(json!({}), json!("barb"), json!("barb"));
    assert_eq!(answer(&a, "joint:fuel"), Some(Answer::Holds));
    let a = meeting(json!({}), json!("barb"), json!("flare"));
    assert_eq!(answer(&a, "joint:fuel"), Some(Answer::Broken));
}

#[test]
fn two_that_give_do_not_meet() {
    let port = |role: &str| json!({"type": "fuel", "role": role});
    let a = meeting(json!({}), port("give"), port("take"));
    assert_eq!(answer(&a, "joint:fuel"), Some(Answer::Holds));
    let a = meeting(json!({}), port("give"), port("give"));
    assert_eq!(answer(&a, "joint:fuel"), Some(Answer::Broken));
}
