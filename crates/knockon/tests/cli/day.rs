//! The day a plan is looked at on.

use std::fs;

use super::{prints, refused};

#[test]
fn the_day_decides_what_is_old_and_a_day_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("truck.json");
    let file = file.to_str().unwrap();
    let mut sheet: serde_json::Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    // nothing is worked on, and nobody has looked
    sheet["plans"]["sound"]["routes"] = serde_json::json!({});
    for looked in ["survey", "readings", "seen"] {
        sheet[looked] = serde_json::json!({});
    }
    sheet["made"]["coolant-hoses"] = "2018".into();
    fs::write(file, sheet.to_string()).unwrap();
    let sound = |on: &str| prints(&["assess", file, "--plan", "sound", "--on", on]);
    let early = sound("2026-03-01");
    assert!(early.contains("by 2028-01-01: new coolant hoses"), "{early}");
    assert!(!early.contains("may hold no longer"));
    let late = sound("2029-01-01");
    assert!(late.contains("of 2018, at least 10 years old, where 10 years is its time"), "{late}");
    assert!(late.contains("rest on prices of 2026-01 or later that may hold no longer"), "{late}");
    let json = prints(&["assess", file, "--plan", "sound", "--on", "2026-03-01", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let due = json["later"].as_array().unwrap().iter().find(|l| l["due"] == "2028-01-01").unwrap();
    assert_eq!((&due["overdue"], &due["positions"][0]), (&false.into(), &"coolant-hoses".into()));
    assert_eq!(json["totals"]["old_prices"], 0);
    assert!(prints(&["buy", file, "--on", "2029-01-01"]).contains("may hold no longer"));
    let what = ["whatif", file, "--position", "tyres", "--route", "keep", "--on", "2026-03-01"];
    assert!(prints(&what).contains("keep"));
    for (on, why) in [
        ("2026", "expected a day as year, month and day, such as \"2026-03-01\", found \"2026\""),
        ("2026-02-30", "the calendar has no \"2026-02-30\""),
        ("tomorrow", "expected a day"),
    ] {
        for command in [&["assess"][..], &["buy"], &["whatif", "--position", "tyres", "--route", "keep"]] {
            let all: Vec<&str> = command.iter().copied().chain([file, "--on", on]).collect();
            let said = refused(2, &all);
            assert!(said.contains(why) && said.contains("--on"), "{said}");
        }
    }
}

#[test]
fn a_date_of_the_sheet_that_is_none_is_told_by_file_and_line() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("truck.json");
    let file = file.to_str().unwrap();
    let text = knockon_store::library::example().replacen("\"tyres\": \"1981\"", "\"tyres\": \"81\"", 1);
    fs::write(file, &text).unwrap();
    let line = text.lines().position(|l| l.contains("\"tyres\": \"81\"")).unwrap() + 1;
    let told = prints(&["assess", file, "--on", "2026-03-01"]);
    let expected = format!("truck.json:{line}: at made.tyres: expected a year, a month or a day");
    assert!(told.contains(&expected), "{told}");
}
