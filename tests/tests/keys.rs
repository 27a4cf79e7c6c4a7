//! What the trade expects of the roadster and the leaf-sprung 4x4, line by line, in `keys/`: common practice, worked out by hand
//! before the library was asked. A line that the model cannot say names why.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeMap;

use knockon_core::sheet::{Choice, Route};
use knockon_core::showing::Measure;
use knockon_core::{Sheet, assess};
use knockon_store::library;
use knockon_tests::examples::example;
use serde::Deserialize;
use serde_json::Value as Json;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Key {
    #[allow(dead_code, reason = "for who reads the file")]
    about: String,
    rows: Vec<Row>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(default, deny_unknown_fields)]
struct Row {
    id: String,
    what: String,
    plan: String,
    with: BTreeMap<String, String>,
    without: Vec<String>,
    companion: Option<String>,
    part: Option<String>,
    qty: Option<u32>,
    clash: Option<String>,
    limit: Option<String>,
    surplus: Option<String>,
    measure: Option<String>,
    none: Option<String>,
    says: Vec<String>,
    not_said: Option<String>,
}

/// The sheet with the routes of some places taken out and others converted.
fn changed(sheet: &Sheet, row: &Row) -> Sheet {
    let mut sheet = sheet.clone();
    let plan = sheet.plans.get_mut(&row.plan).unwrap_or_else(|| panic!("{}: no plan {}", row.id, row.plan));
    for place in &row.without {
        assert!(plan.routes.remove(place).is_some(), "{}: nothing is chosen at {place}", row.id);
    }
    for (place, part) in &row.with {
        plan.routes.insert(place.clone(), Choice { route: Route::Convert, part: Some(part.clone()) });
    }
    sheet
}

/// What is wrong with a row; `None`: it holds.
fn wrong(row: &Row, json: &Json) -> Option<String> {
    let list = |name: &str| json[name].as_array().cloned().unwrap_or_default();
    let of = |name: &str, key: &str| list(name).into_iter().find(|entry| entry["key"] == key);
    let says = |entry: Json| {
        let text = entry.to_string();
        let missing = row.says.iter().find(|piece| !text.contains(piece.as_str()));
        missing.map(|piece| format!("\"{piece}\" is not said: {text}"))
    };
    if let Some(key) = &row.companion {
        let Some(c) = of("companions", key) else { return Some(format!("no companion {key}")) };
        if row.part.as_ref().is_some_and(|part| c["part"] != part.as_str()) {
            return Some(format!("{key} is {}", c["part"]));
        }
        if row.qty.is_some_and(|qty| c["qty"] != qty) {
            return Some(format!("{key}: {} of it", c["qty"]));
        }
        return says(c);
    }
    if let Some(key) = &row.clash {
        return of("clashes", key).map_or_else(|| Some(format!("no clash {key}")), says);
    }
    if let Some(key) = &row.limit {
        let tables = json.as_object().into_iter().flatten().filter_map(|(_, table)| table.as_array());
        let all: Vec<&Json> = tables.flatten().filter(|entry| entry["key"] == key.as_str()).collect();
        let found = all.iter().any(|entry| says((*entry).clone()).is_none());
        return (!found).then(|| format!("{key} does not say {:?}: {all:?}", row.says));
    }
    if let Some(part) = &row.surplus {
        let found = list("surplus").iter().any(|entry| entry["part"] == part.as_str());
        return (!found).then(|| format!("{part} is no surplus"));
    }
    if let Some(key) = &row.measure {
        return of("to_measure", key).map_or_else(|| Some(format!("{key} is not to be measured")), says);
    }
    if let Some(not) = &row.none {
        let mut all = list("companions").into_iter();
        let found = all.find(|c| c["key"] == not.as_str() || c["part"] == not.as_str());
        return found.map(|c| format!("{not} is there: {}", c["key"]));
    }
    Some("it says nothing".to_owned())
}

fn holds(vehicle: &str, text: &str) {
    let key: Key = serde_json::from_str(text).expect("a key");
    let sheet = example(vehicle);
    let catalogue = library::shipped();
    let (mut bad, mut open, mut known) = (Vec::new(), 0, BTreeMap::new());
    for row in &key.rows {
        if row.not_said.is_some() {
            open += 1;
            continue;
        }
        let of = (row.plan.clone(), row.with.clone(), row.without.clone());
        let json = known.entry(of).or_insert_with(|| {
            let a = assess(&changed(&sheet, row), &row.plan, &catalogue);
            knockon_report::json::assessment(&a, Measure::Metric)
        });
        bad.extend(wrong(row, json).map(|why| format!("{} {}: {why}", row.id, row.what)));
    }
    assert!(bad.is_empty(), "{} of {}:\n{}", bad.len(), key.rows.len(), bad.join("\n"));
    assert!(open * 5 < key.rows.len(), "{open} of {} cannot be said", key.rows.len());
}

#[test]
fn the_roadster_answers_its_key() {
    holds("larksong-1600", include_str!("../keys/larksong-1600.json"));
}

#[test]
fn the_leaf_sprung_4x4_answers_what_was_worked_out_by_hand() {
    holds("scree-82", include_str!("../keys/scree-82.json"));
}
