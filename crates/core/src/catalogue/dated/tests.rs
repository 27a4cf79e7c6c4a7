//! What is wrong with a date or a time of the library is told with its path and what was expected.

use serde_json::{Value as Json, json};

use super::super::Catalogue;
use crate::library::LibraryFile;

/// What is told of these files, as "file: path: message".
fn told(files: &[(&str, Json)]) -> Vec<String> {
    let read = |(name, json): &(&str, Json)| {
        let file: LibraryFile = serde_json::from_value(json.clone()).unwrap();
        ((*name).to_owned(), file)
    };
    let (_, faults) = Catalogue::new(files.iter().map(read).collect());
    let errors = faults.into_iter().filter(|f| !f.warning);
    errors.map(|f| format!("{}: {}: {}", f.file, f.path, f.message)).collect()
}

#[test]
fn dates_and_times_that_are_none() {
    let file = json!({
        "format": 1, "priced": "last spring", "prices_hold": "a year",
        "classes": {"hose": {"name": "hose", "lasts": {"time": "ten years"}}},
        "openings": {"off": {"name": "off", "classes": ["hose"], "later": [
            {"what": "look again", "after": ["50 mm", "3 psi", "soon", "50 miles"]},
            {"what": " ", "after": []},
        ]}},
    });
    let told = told(&[("a", file)]);
    let starts = [
        "a: classes.hose.lasts.time: expected a time such as \"10 years\"",
        "a: openings.off.later[0].after[0]: expected a distance driven or a time, such as \"50 miles\"",
        "a: openings.off.later[0].after[1]: expected a distance driven or a time",
        "a: openings.off.later[0].after[2]: expected a number with a unit",
        "a: openings.off.later[1].after: expected a distance or a time",
        "a: openings.off.later[1].what: expected what is to be done again",
        "a: priced: expected a year, a month or a day",
        "a: prices_hold: expected a time such as",
    ];
    assert_eq!(told.len(), starts.len(), "{told:#?}");
    for (told, start) in told.iter().zip(starts) {
        assert!(told.starts_with(start), "{told}");
    }
}

#[test]
fn what_hours_are_against_a_workshops_is_said_once_and_rises() {
    let file =
        |of: Json| json!({"format": 1, "first_time": {"of_workshop": of, "source": "common practice"}});
    assert_eq!(told(&[("a", file(json!([1.5, 2.5])))]), Vec::<String>::new());
    let twice = told(&[("a", file(json!([1.5, 2.5]))), ("b", file(json!([1, 2])))]);
    assert_eq!(
        twice,
        ["b: first_time: what hours are against a workshop's stands in a already; say it once for all files"]
    );
    for wrong in [json!([2.5, 1.5]), json!([0, 1]), json!([1, 1000])] {
        let told = told(&[("a", file(wrong))]);
        assert!(
            told.len() == 1 && told[0].starts_with("a: first_time.of_workshop: expected how many times"),
            "{told:?}"
        );
    }
}

#[test]
fn how_long_prices_hold_is_said_once() {
    let file = || json!({"format": 1, "priced": "2026", "prices_hold": "1 year"});
    let told = told(&[("a", file()), ("b", file())]);
    assert_eq!(told, ["b: prices_hold: how long prices hold stands in a already; say it once for all files"]);
}
