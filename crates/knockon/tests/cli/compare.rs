//! Two plans side by side on the command line.

use serde_json::Value;

use crate::{prints, refused};

const FILE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");
const ON: &str = "2026-03-01";

/// "430.00" in cents.
fn cents(text: &str) -> i64 {
    text.replace('.', "").parse().unwrap()
}

#[test]
fn the_causes_in_json_add_up_to_the_difference_of_the_two_assessments() {
    let said = prints(&["compare", FILE, "wishes", "worked-out", "--on", ON, "--json"]);
    let json: Value = serde_json::from_str(&said).unwrap();
    let causes = json["causes"].as_array().unwrap();
    let sum: i64 = causes.iter().map(|cause| cents(cause["money"].as_str().unwrap())).sum();
    assert_eq!(sum, cents(json["money"].as_str().unwrap()));
    let total = |plan: &str| {
        let said = prints(&["assess", FILE, "--plan", plan, "--on", ON, "--json"]);
        let json: Value = serde_json::from_str(&said).unwrap();
        let of = |name: &str| cents(json["totals"][name].as_str().unwrap());
        of("spent") + of("committed") + of("to_come")
    };
    assert_eq!(sum, total("worked-out") - total("wishes"));
    let what = |cause: &Value| cause["what"].as_str().unwrap().to_owned();
    assert!(causes.iter().map(what).any(|what| what.starts_with("Generator: ")), "{said}");
}

#[test]
fn the_text_ends_with_the_sum_and_a_plan_can_be_named() {
    let said = prints(&["compare", FILE, "wishes", "After the clashes", "--on", ON]);
    assert!(said.starts_with("From \"Owner's first choices\" to \"After the clashes\": "), "{said}");
    assert!(said.contains("Does not fit: 8, then 0") && said.trim_end().ends_with("in all"), "{said}");
    let same = prints(&["compare", FILE, "wishes", "wishes", "--on", ON]);
    assert!(same.contains("Nothing differs"), "{same}");
}

#[test]
fn a_plan_that_is_not_there_is_told_with_those_that_are() {
    let said = refused(1, &["compare", FILE, "wishes", "worked-ouch"]);
    assert!(said.contains("worked-ouch") && said.contains("worked-out"), "{said}");
}
