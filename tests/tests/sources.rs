//! Every number of the shipped library says where it comes from, and what an assessment rests on can be traced to it.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::assess;
use knockon_core::library::{LibraryFile, Part, Table, Written};
use knockon_core::showing::Measure;
use knockon_core::source::{Source, SourceKind};
use knockon_core::sources::{SpecTable, each_spec, in_file};
use knockon_report::{json, sources};
use knockon_store::{library, sheets};
use knockon_tests::schemas::{json as read, json_files, root};
use serde_json::Value as Json;

#[test]
fn no_number_of_the_library_is_without_a_source() {
    let sources = library::shipped().sources();
    let without: Vec<String> = sources.without.iter().map(|(file, spec)| format!("{file}: {spec}")).collect();
    assert_eq!(without, Vec::<String>::new());
    let all: usize = sources.counts.iter().sum();
    assert!(all > 2000, "{all} numbers");
}

/// What is made up makes the demonstration, and never what holds for every vehicle: a limit, what a kind of connection
/// allows, how long something lasts.
#[test]
fn nothing_that_holds_for_every_vehicle_is_invented() {
    let mut wrong = Vec::new();
    let shipped = library::shipped();
    for path in json_files(&root().join("assets/library")).unwrap() {
        let file: LibraryFile<Written<Part>> = serde_json::from_value(read(&path).unwrap()).unwrap();
        let (_, file) = file.with_parts::<Part>(Table::new());
        each_spec(&shipped, &file, |spec| {
            let source = in_file(&file, &spec).and_then(|text| Source::parse(text).ok());
            let is_invented = source.is_none_or(|source| source.kind == SourceKind::Invented);
            if is_invented && spec.table != SpecTable::Vehicles {
                wrong.push(spec.to_string());
            }
        });
    }
    assert_eq!(wrong, Vec::<String>::new());
}

#[test]
fn what_an_assessment_rests_on_is_traced_to_its_source() {
    let sheet = sheets::parse("the example", library::example()).unwrap();
    let shipped = library::shipped();
    let catalogue = shipped.for_sheet(&sheet);
    let (mut kinds, mut read) = (BTreeSet::new(), 0);
    for plan in sheet.plans.keys() {
        let a = assess(&sheet, plan, &shipped);
        let all = json::assessment(&a, Measure::Metric);
        let told = sources::json(&a, &catalogue);
        for table in ["companions", "clashes", "unmet", "close", "surplus", "to_measure", "later"] {
            for finding in all[table].as_array().unwrap() {
                for key in finding["rests_on"].as_array().unwrap() {
                    let of = &told[key.as_str().unwrap()];
                    assert!(of["source"].is_string(), "{plan}: {key} of {}: {of}", finding["key"]);
                    kinds.insert(of["kind"].as_str().unwrap().to_owned());
                    read += 1;
                }
            }
        }
        // a limit reads something at the least: itself
        let limits = |table: &str| -> Vec<Json> {
            let of = all[table].as_array().unwrap().iter();
            of.filter(|f| f["key"].as_str().unwrap().starts_with("limit:")).cloned().collect()
        };
        for finding in limits("clashes").into_iter().chain(limits("to_measure")) {
            let own = finding["rests_on"]
                .as_array()
                .unwrap()
                .iter()
                .any(|key| key.as_str().unwrap().starts_with("limits."));
            assert!(own, "{plan}: {}", finding["key"]);
        }
    }
    assert!(read > 100, "{read}");
    assert!(kinds.contains("common practice") && kinds.contains("from memory"), "{kinds:?}");
}
