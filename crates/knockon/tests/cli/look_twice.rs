//! What to look at twice is listed by itself; from where on a line is dear or long is the reader's to say.

use serde_json::Value as Json;

use super::{prints, refused};

const PLAN: [&str; 6] =
    ["assess", "../../examples/furrow-10.json", "--plan", "worked-out", "--on", "2026-03-01"];

#[test]
fn what_cannot_be_undone_is_listed_and_dear_from_the_figure_given() {
    let plain = prints(&PLAN);
    let (_, list) = plain.split_once("Look twice before you say yes").unwrap();
    assert!(list.contains("can be undone with some repair: "), "{list}");
    assert!(!list.contains("dear: ") && !list.contains("long: "), "{list}");
    let told = prints(&[&PLAN[..], &["--dear", "150", "--long", "3"]].concat());
    let (_, list) = told.split_once("Look twice before you say yes").unwrap();
    assert!(list.contains("dear: ") && list.contains("long: "), "{list}");
}

#[test]
fn json_has_the_marks_with_the_companion_they_are_of() {
    let read: Json =
        serde_json::from_str(&prints(&[&PLAN[..], &["--dear", "150", "--json"]].concat())).unwrap();
    let keys: Vec<&Json> = read["companions"].as_array().unwrap().iter().map(|c| &c["key"]).collect();
    let marked = read["look_twice"].as_array().unwrap();
    assert!(!marked.is_empty());
    for of in marked {
        assert!(keys.contains(&&of["key"]), "{of}");
        assert!(of["marks"].as_array().is_some_and(|m| !m.is_empty()), "{of}");
    }
    assert!(marked.iter().any(|of| of["marks"][0]["kind"] == "dear"));
}

#[test]
fn a_figure_that_cannot_be_read_says_what_was_expected() {
    let said = refused(1, &[&PLAN[..], &["--dear", "lots"]].concat());
    assert!(said.contains("--dear: \"lots\" is no price: expected an amount such as 412.50"), "{said}");
    let said = refused(1, &[&PLAN[..], &["--long=-1"]].concat());
    assert!(said.contains("expected hours of 0 or more"), "{said}");
}
