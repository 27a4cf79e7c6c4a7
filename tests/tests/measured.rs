//! What is measured on the vehicle answers what was open, and only there.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::key::{CheckKey, FactKey};
use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_core::value::Kind;
use knockon_core::{Edit, Sheet, apply, assess};
use knockon_store::{library, sheets};

fn example() -> Sheet {
    sheets::parse("example", library::example()).expect("the example opens")
}

fn open(sheet: &Sheet, plan: &str) -> BTreeSet<CheckKey> {
    assess(sheet, plan, &library::shipped()).to_measure.into_iter().map(|m| m.key).collect()
}

fn measure(sheet: &mut Sheet, key: &FactKey, value: &str) {
    let value = Some(serde_json::Value::String(value.to_owned()));
    apply(sheet, &Edit::SetFact { figure: key.clone(), value }).expect("a fact is always taken");
}

#[test]
fn every_open_check_of_the_example_asks_for_values_and_is_decided_by_them() {
    let library = library::shipped();
    let mut n = 0;
    for plan in ["wishes", "worked-out", "sound"] {
        let mut sheet = example();
        // a value may show that another has to be known as well
        for _ in 0..4 {
            let a = assess(&sheet, plan, &library);
            for wanted in a.to_measure.iter().flat_map(|m| {
                assert!(!m.wanted.is_empty(), "{}: {}", m.key, m.what.say(Measure::Metric));
                &m.wanted
            }) {
                assert!(names(&wanted.key, &library), "{}", wanted.key);
                let value = match wanted.kind {
                    Kind::Dimension(Dimension::Angle) => "2 deg",
                    _ => "40 mm",
                };
                measure(&mut sheet, &wanted.key, value);
                n += 1;
            }
        }
        assert_eq!(open(&sheet, plan), BTreeSet::new(), "{plan}");
        let a = assess(&sheet, plan, &library);
        assert_eq!(a.measured.len(), sheet.facts.len());
        assert!(a.measured.iter().any(|m| !m.positions.is_empty()) || sheet.facts.is_empty());
        assert!(a.problems.is_empty(), "{:?}", a.problems);
    }
    assert!(n > 5);
}

/// Whether a key names a figure, and a part where it names one.
fn names(key: &FactKey, library: &knockon_core::Catalogue) -> bool {
    let has_part = |part: &str| library.part_names.get(part).is_some();
    match key {
        FactKey::Vehicle { figure } => library.figure_names.get(figure).is_some(),
        FactKey::Part { figure, part } => library.figure_names.get(figure).is_some() && has_part(part),
        FactKey::Port { .. } => false,
    }
}

/// A figure of a part is measured on that part: another in its place has its own.
#[test]
fn what_is_measured_on_a_part_goes_with_the_part() {
    let library = library::shipped();
    let mut sheet = example();
    let plan = "worked-out";
    let a = assess(&sheet, plan, &library);
    let limit =
        a.checks.iter().find(|c| c.key == CheckKey::limit("tyre-load-rear")).expect("the tyres are checked");
    assert_eq!(limit.answer, knockon_core::assessment::Answer::Holds);
    let tyre = |a: &knockon_core::Assessment| {
        a.positions.iter().find(|p| p.id == "tyres").and_then(|p| p.fitted.clone()).expect("tyres").0
    };
    let fitted = tyre(&a);
    let key = FactKey::Part { figure: "tyre-capacity".to_owned(), part: fitted.clone() };
    measure(&mut sheet, &key, "450 kg");
    let a = assess(&sheet, plan, &library);
    assert!(a.clashes.iter().any(|c| c.key == CheckKey::limit("tyre-load-rear")), "an old tyre carries less");
    // other tyres are not those that were measured
    let class =
        library.vehicles["furrow-10"].positions.values().find(|p| p.id == "tyres").expect("a place").class;
    let others = library.by_class[class].iter();
    let other = others.map(|p| library.part_names.id(*p)).find(|id| *id != fitted && id.contains("225"));
    let other = other.expect("the library has other tyres").to_owned();
    let choice = Some(Choice { route: Route::Convert, part: Some(other.clone()) });
    let edit = Edit::Choose { plan: plan.to_owned(), position: "tyres".to_owned(), choice };
    apply(&mut sheet, &edit).expect("the plan is there");
    let a = assess(&sheet, plan, &library);
    assert_eq!(tyre(&a), other);
    assert!(!a.clashes.iter().any(|c| c.key == CheckKey::limit("tyre-load-rear")));
}

#[test]
fn a_key_nobody_knows_is_told_and_changes_nothing() {
    let library = library::shipped();
    let mut sheet = example();
    let before = assess(&sheet, "sound", &library);
    for text in ["wheel-offset@no-such-part", "no-such-figure"] {
        measure(&mut sheet, &text.parse().expect("a key"), "40 mm");
    }
    let after = assess(&sheet, "sound", &library);
    assert_eq!(
        (after.clashes, after.companions, after.to_measure),
        (before.clashes, before.companions, before.to_measure)
    );
    assert_eq!(after.problems.len(), 2, "{:?}", after.problems);
}
