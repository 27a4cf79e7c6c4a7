//! What would clear all that does not fit is told where it is asked for, in words and as JSON.

use serde_json::Value as Json;

use super::prints;

const WISHES: [&str; 6] =
    ["assess", "../../examples/furrow-10.json", "--plan", "wishes", "--on", "2026-03-01"];

#[test]
fn the_changes_that_clear_all_of_it_are_told_where_they_are_asked_for() {
    let plain = prints(&WISHES);
    assert!(!plain.contains("What would clear it together"));
    let told = prints(&[&WISHES[..], &["--cures"]].concat());
    // the last word stands below both
    let last = plain.lines().last().unwrap();
    let sets = told.strip_prefix(plain.trim_end().trim_end_matches(last)).unwrap_or_default();
    assert!(sets.ends_with(&format!("\n\n{last}\n")), "{sets}");
    assert!(sets.contains("What would clear it together (3)\n  1. 7 changes, +"), "{sets}");
    assert!(sets.contains("Fan: Electric fan, 12 in slim"), "{sets}");
    assert!(sets.contains("Points or module: keep what was found  (gives up what you chose)"), "{sets}");
}

#[test]
fn json_has_the_sets_as_a_list() {
    let read = |more: &[&str]| -> Json {
        serde_json::from_str(&prints(&[&WISHES[..], &["--json"], more].concat())).unwrap()
    };
    assert!(read(&[]).get("cures").is_none());
    let cures = read(&["--cures"])["cures"].clone();
    assert_eq!(cures.as_array().map(Vec::len), Some(3));
    assert_eq!(cures[0]["changes"].as_array().map(Vec::len), Some(7));
    assert_eq!(
        cures[0]["changes"][6],
        serde_json::json!({"position": "tyres", "route": "convert", "part": "tyre-215-75-15"})
    );
    assert_eq!(
        (&cures[0]["left"], &cures[0]["gives_up"]),
        (&serde_json::json!([]), &serde_json::json!(["ignition-trigger"]))
    );
}

#[test]
fn where_everything_fits_there_is_nothing_to_tell() {
    let sound = ["assess", "../../examples/furrow-10.json", "--plan", "worked-out", "--on", "2026-03-01"];
    assert_eq!(prints(&sound), prints(&[&sound[..], &["--cures"]].concat()));
}
