//! The schemas of library and sheet: current, met by every shipped file, and never stricter than the reader.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::fs;

use jsonschema::Validator;
use knockon_core::schemas;
use knockon_core::strangers::strangers;
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::generate::{self, Size};
use knockon_tests::mutate::mutated;
use knockon_tests::schemas::{json, json_files, root};
use serde_json::{Value as Json, json};

fn validators() -> [Validator; 2] {
    [schemas::library(), schemas::sheet()].map(|schema| jsonschema::draft202012::new(&schema).unwrap())
}

fn faults(validator: &Validator, instance: &Json) -> Vec<String> {
    validator.iter_errors(instance).map(|e| format!("{}: {e}", e.instance_path())).collect()
}

/// What the reader finds wrong with a library of one file.
fn refused(file: &Json) -> Vec<String> {
    let text = serde_json::to_string_pretty(file).unwrap();
    let (_, problems) = library::read(&[("a.json".to_owned(), text)]);
    let faults = problems.into_iter().filter(|p| p.weight == library::Weight::Fault);
    faults.map(|p| p.text).collect()
}

/// What the reader finds wrong with a sheet, or tells of it.
fn refused_sheet(sheet: &Json, library: &knockon_core::Catalogue) -> Vec<String> {
    match sheets::parse("a.json", &serde_json::to_string_pretty(sheet).unwrap()) {
        Err(why) => vec![why.to_string()],
        Ok(sheet) => strangers(&sheet, &sheet.plan, library).into_iter().map(|s| s.message).collect(),
    }
}

fn stored(name: &str) -> Json {
    json(&root().join("tests/formats/1").join(name)).unwrap()
}

fn one_of_each() -> knockon_core::Catalogue {
    let file = serde_json::to_string(&stored("library.json")).unwrap();
    library::read(&[("library.json".to_owned(), file)]).0
}

/// The stored schemas are those of the types. `INSTA_UPDATE=always` writes them anew.
#[test]
fn the_stored_schemas_are_current() {
    for (name, schema) in [("library", schemas::library()), ("sheet", schemas::sheet())] {
        let path = root().join(format!("assets/schema/{name}.schema.json"));
        let text = serde_json::to_string_pretty(&schema).unwrap() + "\n";
        if std::env::var("INSTA_UPDATE").is_ok_and(|update| update == "always") {
            fs::write(&path, &text).unwrap();
        }
        let stored = fs::read_to_string(&path).unwrap_or_default();
        assert!(
            stored == text,
            "{} is not that of the types; write it anew with INSTA_UPDATE=always and read the diff",
            path.display()
        );
    }
}

#[test]
fn every_word_of_the_schemas_is_described() {
    fn look(path: &str, schema: &Json, out: &mut Vec<String>) {
        let Some(table) = schema.as_object() else { return };
        for (name, inner) in table.get("properties").and_then(Json::as_object).into_iter().flatten() {
            let is_said =
                inner.get("description").is_some_and(|text| text.as_str().is_some_and(|t| t.len() > 3));
            if !is_said {
                out.push(format!("{path}.{name}"));
            }
        }
        for (name, inner) in table {
            look(&format!("{path}.{name}"), inner, out);
        }
    }
    let mut out = Vec::new();
    look("library", &schemas::library(), &mut out);
    look("sheet", &schemas::sheet(), &mut out);
    assert_eq!(out, Vec::<String>::new());
}

#[test]
fn every_shipped_file_validates() {
    let [library, sheet] = validators();
    let mut wrong = Vec::new();
    let mut held = |validator: &Validator, folder: &str, least: usize| {
        let files = json_files(&root().join(folder)).unwrap();
        assert!(files.len() >= least, "{folder}: {} files", files.len());
        for path in files {
            let faults = faults(validator, &json(&path).unwrap());
            wrong.extend(faults.into_iter().map(|fault| format!("{}: {fault}", path.display())));
        }
    };
    held(&library, "assets/library", 10);
    held(&sheet, "examples", 1);
    assert_eq!(wrong, Vec::<String>::new());
}

/// Twenty mistakes that a person makes, each refused by the schema as by the reader.
#[test]
fn what_is_written_wrong_is_refused_by_schema_and_reader() {
    let [validator, _] = validators();
    let whole = stored("library.json");
    assert_eq!(faults(&validator, &whole), Vec::<String>::new());
    assert_eq!(refused(&whole), Vec::<String>::new());
    let mistakes: &[(&str, &str, Json)] = &[
        ("a word misspelt", "/parts/pump-electric/pirce", json!("3 USD")),
        ("a table misspelt", "/prats", json!({})),
        ("a field misspelt", "/port_types/fuel.pressure/fields/bore/witin", json!("1 mm")),
        ("no ends", "/vehicles/mill-van/joints/tank-to-pump/ends", Json::Null),
        ("no name", "/classes/pump/name", Json::Null),
        ("a price without its currency", "/parts/pump-electric/price", json!("95.50")),
        ("a price as a number", "/parts/pump-electric/price", json!(95.5)),
        ("hours as text", "/parts/pump-electric/hours", json!("1.5")),
        ("true in quotes", "/parts/pump-electric/safety", json!("true")),
        ("half a part", "/vehicles/mill-van/positions/tank/qty", json!(0.5)),
        ("less than nothing", "/vehicles/mill-van/positions/tank/qty", json!(-1)),
        ("no such rule", "/port_types/fuel.pressure/fields/bore/rule", json!("at-mos")),
        ("no such role", "/parts/pump-electric/ports/out/role", json!("giver")),
        ("no such kind", "/figures/lift/kind", json!("lenght")),
        ("no such calculation", "/limits/lift-most/calc", json!("at-mots")),
        ("a bridge of one port", "/parts/regulator-small/bridges", json!(["in"])),
        ("a list for an object", "/parts/pump-electric/ports", json!([])),
        ("an object for a word", "/parts/pump-electric/reversible", json!({"partly": null})),
        ("no date", "/priced", json!("March 2026")),
        ("no time of the calendar", "/prices_hold", json!("one year")),
        ("a format that is a word", "/format", json!("1")),
        ("a newer format", "/format", json!(2)),
        ("an input of nothing", "/limits/lift-most/inputs/have", json!({})),
        ("a value that is true or false", "/parts/damper-front/figures/stroke", json!(true)),
        ("words that are no pairs", "/port_types/fuel.thread/fields/gender/words", json!(["male", "female"])),
    ];
    for (what, path, value) in mistakes {
        let mut file = whole.clone();
        let (above, word) = path.rsplit_once('/').unwrap();
        let table = file.pointer_mut(above).unwrap().as_object_mut().unwrap();
        if value.is_null() {
            table.remove(word).unwrap();
        } else {
            table.insert(word.to_owned(), value.clone());
        }
        assert!(!faults(&validator, &file).is_empty(), "the schema takes {what}");
        assert!(!refused(&file).is_empty(), "the reader takes {what}");
    }
}

/// What a schema cannot know: each is valid, and the reader refuses it.
#[test]
fn the_reader_knows_more_than_the_schema() {
    let [validator, _] = validators();
    let whole = stored("library.json");
    let beyond: &[(&str, &str, Json)] = &[
        ("a class that is not there", "/parts/pump-electric/class", json!("pumps")),
        ("a class that nothing says", "/parts/pump-electric", json!({"name": "Pump", "price": "1 USD"})),
        ("a quantity of another dimension", "/parts/damper-front/figures/stroke", json!("150 kg")),
        ("a decimal comma", "/parts/damper-front/figures/stroke", json!("45,5 mm")),
        ("a unit that is none", "/parts/damper-front/figures/stroke", json!("150 mmm")),
        ("no such month", "/priced", json!("2026-13")),
        ("more hours than anybody has", "/parts/pump-electric/hours", json!(1e9)),
        ("a thread without its pitch", "/parts/plug-brass/ports/cap/fields/thread", json!("M22")),
        ("inputs of another calculation", "/limits/lift-most/inputs", json!({"have": {"value": "1 mm"}})),
    ];
    for (what, path, value) in beyond {
        let mut file = whole.clone();
        *file.pointer_mut(path).unwrap() = value.clone();
        assert_eq!(faults(&validator, &file), Vec::<String>::new(), "{what}");
        assert!(!refused(&file).is_empty(), "the reader takes {what}");
    }
}

const SMALL: Size =
    Size { positions: 8, joints: 9, parts: 40, family: 40, choices: 3, types: 4, doubt: 20, twins: 30 };

/// What the reader takes, its schema takes: files with one place changed at random.
#[test]
fn no_schema_refuses_what_the_reader_takes() {
    let [library, sheet] = validators();
    let mut random = fastrand::Rng::with_seed(1);
    let (whole, own, catalogue) = (stored("library.json"), stored("sheet.json"), one_of_each());
    assert_eq!(refused_sheet(&own, &catalogue), Vec::<String>::new());
    // both take it, both refuse it, only the reader refuses it
    let mut counts = [0_u32; 3];
    let mut count = |taken: bool, wrong: &[String], done: &str| {
        match (taken, wrong.is_empty()) {
            (true, true) => counts[0] += 1,
            (false, false) => counts[1] += 1,
            (false, true) => counts[2] += 1,
            (true, false) => panic!("the reader takes it, the schema does not: {done}\n{}", wrong.join("\n")),
        };
    };
    for case in 0..cases(1200) {
        let of_library = case % 2 == 0;
        let (file, done) = mutated(&mut random, if of_library { &whole } else { &own });
        let taken = if of_library { refused(&file) } else { refused_sheet(&file, &catalogue) }.is_empty();
        count(taken, &faults(if of_library { &library } else { &sheet }, &file), &done);
    }
    assert!(counts.iter().all(|n| *n > 50), "{counts:?}");
    for seed in 0..cases(20) {
        let (file, sheet_of) = generate::generate(u64::from(seed), SMALL);
        assert_eq!(faults(&library, &serde_json::to_value(file).unwrap()), Vec::<String>::new(), "{seed}");
        assert_eq!(faults(&sheet, &serde_json::to_value(sheet_of).unwrap()), Vec::<String>::new(), "{seed}");
    }
}
