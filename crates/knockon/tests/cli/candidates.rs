//! Vehicles that are for sale, side by side on the command line.

use serde_json::Value;

use crate::{prints, refused};

const BARN: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/for-sale/dry-barn.json");
const DRIVES: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/for-sale/runs-and-drives.json");
const ON: &str = "2026-03-01";

#[test]
fn each_is_told_with_its_range_and_the_cheapest_is_named() {
    let text = prints(&["candidates", BARN, DRIVES, "--on", ON]);
    for told in [
        "In all: 5115.90 to 10015.00 USD",
        "Papers: a number or a name does not agree",
        "20 of 43 looked at",
        "Cheapest by what is known: Dry barn, 5115.90 USD",
        "Cheapest if all that nobody looked at is bad: Runs and drives, 9852.20 USD",
    ] {
        assert!(text.contains(told), "{told}\n{text}");
    }
    let json = prints(&["candidates", BARN, DRIVES, "--on", ON, "--stage", "seen", "--json"]);
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["stage"], "seen");
    let of = |n: usize| json["candidates"][n].clone();
    assert_eq!((of(0)["name"].clone(), of(0)["papers"].clone()), ("Dry barn".into(), "agree".into()));
    let open = of(0)["open"].as_array().unwrap().clone();
    assert!(open.iter().any(|q| q["position"] == "speedometer"), "instruments belong to what is seen");
    assert_eq!(of(1)["put_right"][0]["position"], "short-engine");
}

#[test]
fn a_stage_that_is_none_says_which_there_are() {
    let told = refused(2, &["candidates", BARN, "--stage", "sounds"]);
    assert!(told.contains("did you mean \"Sound\""), "{told}");
}
