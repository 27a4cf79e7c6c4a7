//! A port type says its mismatch in its own sentence; a library without one stays readable.

use serde_json::{Value as Json, json};

use super::{End, faults, other_kind, told};
use crate::agree::Field;
use crate::library::{FieldDef, Role};
use crate::showing::Measure;
use crate::value::{Kind, Value};

fn field(json: Json) -> Field {
    let def: FieldDef = serde_json::from_value(json).unwrap();
    let kind = Kind::from_word(&def.kind).unwrap();
    let within = def.within.as_deref().map_or(0.0, |text| crate::quantity::Quantity::parse(text).unwrap().si);
    ("size".to_owned(), def, kind, within)
}

fn say(field: &Field, [one, other]: [(&str, Role, &str); 2], measure: Measure) -> String {
    let value = |text: &str| Value::read_text(text, field.2).unwrap();
    let values = (value(one.2), value(other.2));
    let one = End { name: one.0, role: one.1, value: Some(&values.0) };
    let other = End { name: other.0, role: other.1, value: Some(&values.1) };
    told(field, one, other).say(measure)
}

fn pressure() -> Field {
    field(json!({"name": "pressure", "kind": "pressure", "rule": "inside", "says": {
        "over": "the engine floods: {giver gives} {given}, {taker takes} {wanted}",
        "under": "the engine starves: {giver gives} {given}, {taker wants} {wanted}",
    }}))
}

#[test]
fn too_much_and_too_little_each_have_a_sentence() {
    let ends = |given: &'static str| {
        [("Carburettor, two-barrel", Role::Take, "2.5 to 3.5 psi"), ("Fuel pump, 5 to 7", Role::Give, given)]
    };
    assert_eq!(
        say(&pressure(), ends("5 to 7 psi"), Measure::Inch),
        "the engine floods: the fuel pump gives 5 to 7 psi, the carburettor takes 2.5 to 3.5 psi"
    );
    assert_eq!(
        say(&pressure(), ends("1 to 2 psi"), Measure::Inch),
        "the engine starves: the fuel pump gives 1 to 2 psi, the carburettor wants 2.5 to 3.5 psi"
    );
    assert!(say(&pressure(), ends("5 to 7 psi"), Measure::Metric).contains("gives 34.5 to 48.3 kPa"));
}

#[test]
fn verbs_and_counts_go_with_their_names() {
    let barrels = field(json!({"name": "barrels", "kind": "count", "rule": "equal",
        "says": "the throats do not meet: {one has} {one-value barrel}, {other has} {other-value barrel}"}));
    assert_eq!(
        say(
            &barrels,
            [("Carburettors, pair", Role::Plain, "1"), ("Intake manifold", Role::Plain, "2")],
            Measure::Inch
        ),
        "the throats do not meet: the carburettors have 1 barrel, the intake manifold has 2 barrels"
    );
}

#[test]
fn both_ends_of_one_kind_say_what_goes_between() {
    let end = field(
        json!({"name": "end", "kind": "word", "rule": "mates", "words": [["male", "female"]], "says": {
            "male": "both ends are barbs, so a hose joins them: {one} and {other}",
            "female": "both ends are hoses, so a joiner goes between them: {one} and {other}",
        }}),
    );
    let both = |word: &'static str| [("Tank", Role::Plain, word), ("Feed line", Role::Plain, word)];
    assert_eq!(
        say(&end, both("male"), Measure::Inch),
        "both ends are barbs, so a hose joins them: the tank and the feed line"
    );
    assert!(say(&end, both("female"), Measure::Inch).starts_with("both ends are hoses"));
}

#[test]
fn a_fit_is_told_finely_and_a_clearance_as_on_a_tape() {
    let of = |within: Option<&str>| {
        field(json!({"name": "bore", "kind": "length", "rule": "equal", "within": within,
            "says": "it is loose: {one is} {one-value}, {other} {other-value}"}))
    };
    let ends = [("Shaft", Role::Plain, "27 mm"), ("Hub", Role::Plain, "27.5 mm")];
    assert_eq!(
        say(&of(Some("0.05 mm")), ends, Measure::Inch),
        "it is loose: the shaft is 1.063 in, the hub 1.083 in"
    );
    // finer than a sixteenth only because the two would read alike
    assert_eq!(
        say(&of(Some("3 mm")), ends, Measure::Inch),
        "it is loose: the shaft is 1-1/16 in, the hub 1-3/32 in"
    );
}

#[test]
fn without_a_sentence_it_stays_readable() {
    let plain = |rule: &str, why: &str| {
        field(json!({"name": "metal left", "kind": "ratio", "rule": rule, "why": why}))
    };
    let ends = [("Cab corners", Role::Give, "62 %"), ("Seat belts", Role::Take, "80 %")];
    assert_eq!(
        say(&plain("at-least", "the anchor tears out"), ends, Measure::Inch),
        "the anchor tears out: the cab corners give 62 %, the seat belts want at least 80 % (metal left)"
    );
    assert_eq!(
        say(&plain("equal", ""), ends, Measure::Inch),
        "metal left is 62 % on the cab corners, 80 % on the seat belts"
    );
    assert_eq!(
        other_kind(("Fuel line", "hose end"), ("Carburettor", "pipe thread")).say(Measure::Inch),
        "the two do not go together: the fuel line has a hose end, the carburettor a pipe thread"
    );
}

#[test]
fn the_check_knows_every_hole_and_asks_for_every_sentence() {
    let wrong = |json: Json| -> Vec<(bool, String)> {
        faults(&field(json))
            .into_iter()
            .map(|(is_error, at, message)| (is_error, format!("{at}: {message}")))
            .collect()
    };
    let says = |says: Json| json!({"name": "n", "kind": "pressure", "rule": "inside", "says": says});
    let good = "too much: {giver gives} {given}, {taker takes} {wanted}, within {25 mm}";
    assert_eq!(wrong(says(json!(good))), []);
    assert_eq!(wrong(says(json!({"over": good, "under": good}))), []);
    for (json, is_error, told) in [
        (json!({"name": "n", "kind": "pressure", "rule": "inside"}), false, "nothing says what happens"),
        (says(json!({"over": good})), true, "no sentence for \"under\""),
        (says(json!({"over": good, "under": good, "male": good})), true, "\"male\" is no way"),
        (says(json!("{givr gives} {given}, {taker takes} {wanted}")), true, "did you mean \"{giver}\"?"),
        (says(json!("{giver gives} {given}, {taker takes} {wanted")), true, "a brace stands alone"),
        (says(json!("it does not fit: {given}")), false, "names of both ends"),
        (json!({"name": "n", "kind": "word", "rule": "told", "says": good}), true, "never compared"),
        (
            json!({"name": "n", "kind": "word", "rule": "equal", "says": {"male": good}}),
            true,
            "expected one sentence",
        ),
    ] {
        let found = wrong(json.clone());
        assert!(found.iter().any(|(e, text)| *e == is_error && text.contains(told)), "{json}: {found:?}");
    }
}
