//! The library browser finds what people type, by word, by port and by number; a port against a walk over the files themselves.

use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fs;
use std::path::Path;

use knockon_core::library_search::places::places;
use knockon_core::library_search::{Hit, LibrarySearch};
use knockon_core::showing::Measure;
use knockon_core::{Catalogue, Sheet, assess};
use serde_json::Value as Json;

fn ids(catalogue: &Catalogue, hits: &[Hit]) -> BTreeSet<String> {
    hits.iter().map(|hit| catalogue.part_names.id(hit.part).to_owned()).collect()
}

fn set(question: &Json, name: &str) -> Option<BTreeSet<String>> {
    let list = question[name].as_array()?;
    Some(list.iter().filter_map(Json::as_str).map(str::to_owned).collect())
}

/// What is wrong with an answer; nothing where it is right.
fn wrong(catalogue: &Catalogue, search: &LibrarySearch, question: &Json, asked: &str) -> Vec<String> {
    let answer = search.find(catalogue, asked);
    let (hits, open) = (ids(catalogue, &answer.hits), ids(catalogue, &answer.open));
    let mut out = Vec::new();
    let mut tell = |what: &str, list: Vec<&String>| {
        if !list.is_empty() {
            out.push(format!("{asked}: {what} {list:?}; {}", answer.understood.say()));
        }
    };
    if let Some(all) = set(question, "all") {
        tell("misses", all.difference(&hits).collect());
        tell("has besides", hits.difference(&all).collect());
    }
    if let Some(has) = set(question, "has") {
        tell("misses", has.difference(&hits).collect());
    }
    if let Some(lacks) = set(question, "lacks") {
        tell("has besides", lacks.intersection(&hits).collect());
    }
    if let Some(wanted) = set(question, "open") {
        tell("does not say that it does not know", wanted.difference(&open).collect());
        tell("says it does not know", open.difference(&wanted).collect());
    }
    if let Some(class) = question["first_class"].as_str() {
        let first = answer.hits.first().and_then(|hit| catalogue.parts.get(hit.part));
        let found = first.map_or("", |part| catalogue.class_names.id(part.class));
        if found != class {
            out.push(format!("{asked}: first is a {found}, wanted a {class}"));
        }
    }
    out
}

#[test]
fn what_people_type_is_found() -> Result<(), Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("questions/library.json");
    let json: Json = serde_json::from_str(&fs::read_to_string(path)?)?;
    let questions = json["questions"].as_array().ok_or("no questions")?;
    assert!(questions.len() >= 40);
    let catalogue = knockon_store::library::shipped();
    let search = LibrarySearch::new(&catalogue);
    let mut all = Vec::new();
    for question in questions {
        for asked in question["asked"].as_array().into_iter().flatten().filter_map(Json::as_str) {
            all.extend(wrong(&catalogue, &search, question, asked));
        }
    }
    assert!(all.is_empty(), "{all:#?}");
    Ok(())
}

/// A word is laid over another, objects word by word.
fn laid(under: &Json, over: &Json) -> Json {
    match (under, over) {
        (Json::Object(a), Json::Object(b)) => {
            let mut out = a.clone();
            for (word, value) in b {
                let both = out.get(word).map_or_else(|| value.clone(), |own| laid(own, value));
                out.insert(word.clone(), both);
            }
            Json::Object(out)
        }
        _ => over.clone(),
    }
}

/// The parts of the files in full, read as JSON and by nothing of the program: patterns, families, ports of classes.
fn walked() -> Result<BTreeMap<String, Json>, Box<dyn Error>> {
    fn files(folder: &Path, out: &mut Vec<Json>) -> Result<(), Box<dyn Error>> {
        for entry in fs::read_dir(folder)? {
            let path = entry?.path();
            if path.is_dir() {
                files(&path, out)?;
            } else if path.extension().is_some_and(|end| end == "json") {
                out.push(serde_json::from_str(&fs::read_to_string(path)?)?);
            }
        }
        Ok(())
    }
    let mut all = Vec::new();
    files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../assets/library"), &mut all)?;
    let table = |name: &str| -> BTreeMap<String, Json> {
        let tables = all.iter().filter_map(|file| file[name].as_object());
        tables.flat_map(|table| table.iter().map(|(id, value)| (id.clone(), value.clone()))).collect()
    };
    let (patterns, classes, mut parts) = (table("patterns"), table("classes"), table("parts"));
    for family in table("families").values() {
        let columns: Vec<&str> =
            family["columns"].as_array().into_iter().flatten().filter_map(Json::as_str).collect();
        for (id, row) in family["rows"].as_object().into_iter().flatten() {
            let mut part = serde_json::json!({"like": family["like"]});
            for (column, value) in columns.iter().zip(row.as_array().into_iter().flatten()) {
                for path in column.split(' ').filter(|_| !value.is_null()) {
                    let mut one = value.clone();
                    for word in path.rsplit('.') {
                        one = serde_json::json!({word: one});
                    }
                    part = laid(&part, &one);
                }
            }
            parts.insert(id.clone(), part);
        }
    }
    fn full(part: &Json, patterns: &BTreeMap<String, Json>) -> Json {
        let mut out = serde_json::json!({});
        for like in part["like"].as_str().unwrap_or_default().split(' ').filter(|like| !like.is_empty()) {
            out = laid(&out, &full(&patterns[like], patterns));
        }
        laid(&out, part)
    }
    for part in parts.values_mut() {
        let mut whole = full(part, &patterns);
        let class = whole["class"].as_str().unwrap_or_default().to_owned();
        if let Some(ports) = whole.get_mut("ports").and_then(Json::as_object_mut) {
            for (name, port) in ports.iter_mut() {
                *port =
                    laid(&classes.get(&class).map_or(Json::Null, |class| class["ports"][name].clone()), port);
            }
        }
        *part = whole;
    }
    Ok(parts)
}

/// Whether a port ends in a 3/8-24 inverted flare: SAE J512 names so the 45° double flare of brake and fuel pipes, which the
/// library writes as the flare "45 double" of a brake pipe and the seat "inverted flare" of a fuel pipe.
fn is_it(port: &Json) -> bool {
    let has = |field: &str, wanted: &str| match &port["fields"][field] {
        Json::String(text) => text == wanted,
        Json::Array(list) => list.iter().any(|one| one == wanted),
        _ => false,
    };
    has("thread", "3/8-24") && (has("flare", "45 double") || has("seat", "inverted flare"))
}

const ASKED: &str = "ends in 3/8-24 inverted flare";

#[test]
fn a_port_is_found_wherever_the_files_have_it() -> Result<(), Box<dyn Error>> {
    let parts = walked()?;
    let ports = |part: &Json| -> Vec<String> {
        let ports = part["ports"].as_object().into_iter().flatten();
        ports.filter(|(_, port)| is_it(port)).map(|(name, _)| name.replace('-', " ")).collect()
    };
    let wanted: BTreeSet<String> =
        parts.iter().filter(|(_, part)| !ports(part).is_empty()).map(|(id, _)| id.clone()).collect();
    let catalogue = knockon_store::library::shipped();
    let search = LibrarySearch::new(&catalogue);
    let answer = search.find(&catalogue, ASKED);
    assert!(wanted.len() > 20 && answer.by_port);
    assert_eq!(ids(&catalogue, &answer.hits), wanted);
    // why: each of these ports and no other
    for hit in &answer.hits {
        let why = search.why(&catalogue, &answer, hit, Measure::Inch);
        let named: BTreeSet<String> =
            why.iter().filter_map(|line| Some(line.split_once(',')?.0.to_owned())).collect();
        let id = catalogue.part_names.id(hit.part);
        assert_eq!(named, ports(&parts[id]).into_iter().collect(), "{id}: {why:?}");
    }
    Ok(())
}

/// Every sheet of the examples, and its places by what sits there.
#[test]
fn every_place_of_a_vehicle_that_has_such_a_port_is_told() -> Result<(), Box<dyn Error>> {
    let parts = walked()?;
    let catalogue = knockon_store::library::shipped();
    let search = LibrarySearch::new(&catalogue);
    let answer = search.find(&catalogue, ASKED);
    let mut all = 0;
    let mut texts = vec![knockon_store::library::example()];
    texts.extend(knockon_store::library::further_examples());
    for text in texts {
        let sheet: Sheet = knockon_store::sheets::parse("an example", text)?;
        for plan in sheet.plans.keys() {
            let a = assess(&sheet, plan, &catalogue);
            let told: BTreeSet<(String, BTreeSet<String>)> = places(&catalogue, &a, &answer)
                .into_iter()
                .map(|place| (place.position, place.ports.into_iter().collect()))
                .collect();
            let wanted: BTreeSet<(String, BTreeSet<String>)> = a
                .positions
                .iter()
                .filter_map(|place| {
                    let part = &parts[&place.fitted.as_ref()?.0];
                    let ports = part["ports"].as_object()?.iter().filter(|(_, port)| is_it(port));
                    let ports: BTreeSet<String> = ports.map(|(name, _)| name.replace('-', " ")).collect();
                    (!ports.is_empty()).then(|| (place.id.clone(), ports))
                })
                .collect();
            all += wanted.len();
            assert_eq!(told, wanted, "{plan}");
        }
    }
    assert!(all > 5, "{all}");
    Ok(())
}

#[test]
fn nonsense_is_answered_and_says_what_was_understood() {
    let catalogue = knockon_store::library::shipped();
    let search = LibrarySearch::new(&catalogue);
    let pieces = [
        "under",
        "over",
        "between",
        "and",
        "to",
        "-",
        "3/8-24",
        "3/8",
        "M14",
        "470 mm",
        "mm",
        "$",
        "$-5",
        "1e999",
        "NaN",
        "−3",
        "\"",
        "''",
        "°",
        "½",
        "ends in",
        "ends",
        "radiator",
        "qwertz",
        "<=",
        ">",
        "±",
        "5 gal",
        "1,234",
        "0/0",
        "9999999999999999 mm",
        "é",
        "😀",
        "or more",
        "USD",
        "no more than",
        "\u{0}",
        "1-",
        "-1 in",
        "#10-32",
        "M",
        "x",
        "9/16-18 NPTF",
        "by",
        "the",
        "%",
        "120 %",
        "price",
    ];
    let mut random = fastrand::Rng::with_seed(18);
    for n in 0..400 {
        let count = random.usize(0..9);
        let glue = if random.bool() { " " } else { "" };
        let query: Vec<&str> = (0..count).map(|_| pieces[random.usize(0..pieces.len())]).collect();
        let query = query.join(if n % 3 == 0 { glue } else { " " });
        let answer = search.find(&catalogue, &query);
        let said = answer.understood.say();
        assert!(said.ends_with('.') && said.len() > 5, "{query:?}: {said}");
        for hit in answer.hits.iter().chain(&answer.open).take(5) {
            for line in search.why(&catalogue, &answer, hit, Measure::Metric) {
                assert!(!line.is_empty() && !line.contains("NaN"), "{query:?}: {line}");
            }
        }
    }
}
