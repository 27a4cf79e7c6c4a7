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

/// What a box brings is not kept, and what is done to what stays is named as work.
#[test]
fn what_a_box_brings_and_what_work_is_are_called_so() {
    let said = prints(&["compare", FILE, "sound", "wishes", "--on", ON]);
    let block = |place: &str| {
        let from = said.find(&format!("h  {place}\n")).unwrap_or_else(|| panic!("no {place} in {said}"));
        let (mut lines, deep) = (said[from..].lines(), " ".repeat(30));
        let head = lines.next().into_iter();
        head.chain(lines.take_while(|line| line.starts_with(&deep))).collect::<Vec<_>>().join("\n") + "\n"
    };
    let disc = block("Clutch disc");
    assert!(
        disc.contains("26 splines of 1-1/8 in, which comes along\n") && !disc.contains("keep "),
        "{disc}"
    );
    let told = said.lines().filter(|line| line.contains("from the box of the ")).count();
    assert!(told > 0, "what lies in a box says in which: {said}");
    // the rebuild that is spared is one thing, with its money and its hours
    let gearbox = block("Gearbox");
    assert!(gearbox.contains("spares: Rebuild: Gearbox, three-speed"), "{gearbox}");
    let spared: Vec<&str> = said.lines().map(str::trim).collect();
    for bare in ["Gearbox", "Steering box", "Carburettor", "King pins"] {
        let is_bare =
            |line: &&str| line.split([';', ':']).any(|name| name.trim() == bare) && line.contains("spares");
        assert!(!spared.iter().any(is_bare), "{bare} is a place, and not what is spared");
    }
}

#[test]
fn a_plan_that_is_not_there_is_told_with_those_that_are() {
    let said = refused(1, &["compare", FILE, "wishes", "worked-ouch"]);
    assert!(said.contains("worked-ouch") && said.contains("worked-out"), "{said}");
}
