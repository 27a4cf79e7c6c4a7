//! The walk round the vehicle, for a terminal, on paper, and for another program.

use serde_json::Value;

use crate::{prints, refused};

const EXAMPLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");

#[test]
fn the_walk_says_what_was_read_what_is_open_and_what_is_proposed() {
    let text = prints(&["survey", EXAMPLE, "--no-own", "--units", "metric"]);
    for says in [
        "to be known before the first road",
        "On your back, under the front (lying)",
        "[watch] Steering box, steering free play at the rim: 45 mm",
        "good to 25 mm; watch to 50 mm; else stop (box, rim of 400 mm)",
        "[STOP!] Brake pipes, water in the brake fluid: 4.2 %",
        "Proposed (",
        "replaces no inspection",
    ] {
        assert!(text.contains(says), "{says}\n{text}");
    }
    let all: Value = serde_json::from_str(&prints(&["survey", EXAMPLE, "--no-own", "--json"])).unwrap();
    let lines = all["inspections"].as_array().unwrap();
    assert!(lines.len() > 90, "{}", lines.len());
    let battery = lines.iter().find(|line| line["inspection"] == "battery-rest").unwrap();
    assert_eq!(battery["verdict"], "renew");
    assert_eq!(battery["history"].as_array().unwrap().len(), 3);
    let unread = lines.iter().filter(|line| line["value"] == "");
    assert!(unread.clone().count() > 50 && unread.clone().all(|line| line["verdict"].is_null()));
}

#[test]
fn the_printed_sheet_has_every_inspection_its_limits_and_a_place_to_write() {
    let text = prints(&["survey", EXAMPLE, "--no-own", "--sheet", "--units", "metric"]);
    let all: Value = serde_json::from_str(&prints(&["survey", EXAMPLE, "--no-own", "--json"])).unwrap();
    for line in all["inspections"].as_array().unwrap() {
        let head = format!("{}: {}", line["place"].as_str().unwrap(), line["name"].as_str().unwrap());
        let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(joined.contains(&head), "{head}");
    }
    assert!(text.contains("read ______________ mm") && text.contains("Day ____________"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 80 || line.contains("replaces no inspection")));
    let said = refused(2, &["survey", EXAMPLE, "--sheet", "--json"]);
    assert!(said.contains("cannot be used with"), "{said}");
}
