//! What README, DEVELOPERS and the pages of the manual say is true: their examples load and run, their paths exist, their lists are whole.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use knockon_core::figure;
use knockon_core::units::Dimension;
use knockon_store::library;
use serde_json::Value as Json;

/// What is written for people: the two at the top and every page of the manual.
fn pages() -> Vec<String> {
    let manual = fs::read_dir(root().join("assets/manual")).unwrap();
    let manual = manual.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
    let mut pages: Vec<String> =
        manual.filter(|name| name.ends_with(".md")).map(|name| format!("assets/manual/{name}")).collect();
    pages.extend(["README.md".to_owned(), "DEVELOPERS.md".to_owned()]);
    pages.sort();
    pages
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn page(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap()
}

/// The blocks of a page in one language.
fn blocks<'a>(page: &'a str, language: &str) -> Vec<&'a str> {
    let start = format!("```{language}\n");
    page.split(start.as_str()).skip(1).map(|rest| rest.split("```").next().unwrap()).collect()
}

#[test]
fn the_examples_of_library_files_are_good_as_they_stand() {
    let page = page("assets/manual/library.md");
    let examples = blocks(&page, "json");
    let tables = ["parts", "patterns", "port_types", "limits", "operations", "inspections", "vehicles"];
    assert_eq!(examples.len(), tables.len(), "one example for each of {tables:?}");
    let mut texts = library::shipped_texts();
    for (table, example) in tables.iter().zip(examples) {
        // two of the examples are several tables
        let several = ["patterns", "operations"].contains(table);
        let inside = if several { example.to_owned() } else { format!("\"{table}\": {{{example}}}") };
        let file = format!("{{\"format\": 1, \"about\": \"An example.\", {inside}}}");
        texts.push((format!("example of {table}"), file));
    }
    texts.sort();
    let (catalogue, mut problems) = library::read(&texts);
    // the port type of the example is shown before a part or joint has it
    problems.retain(|p| !p.text.contains("port_types.cab.heater-cable: no joint of any vehicle"));
    assert_eq!(problems.iter().map(|p| p.text.as_str()).collect::<Vec<_>>(), Vec::<&str>::new());
    assert!(catalogue.vehicles.len() > 1);
}

#[test]
fn the_figures_of_the_examples_run() {
    let mut run = 0;
    for line in pages().iter().flat_map(|name| page(name).lines().map(str::to_owned).collect::<Vec<_>>()) {
        let Some(rest) = line.strip_prefix("knockon figure ") else { continue };
        if !rest.contains('=') {
            assert!(!figure::search::search(rest).is_empty(), "{line}");
            run += 1;
            continue;
        }
        let (id, mut rest) = rest.split_once(' ').unwrap();
        let mut given = BTreeMap::new();
        while !rest.is_empty() && !rest.starts_with("--") {
            let (word, after) = match rest.strip_prefix('"') {
                Some(quoted) => quoted.split_once('"').unwrap(),
                None => rest.split_once(' ').unwrap_or((rest, "")),
            };
            let (name, value) = word.split_once('=').unwrap();
            given.insert(name.to_owned(), value.to_owned());
            rest = after.trim_start();
        }
        figure::named(id).unwrap().run(&given).unwrap_or_else(|e| panic!("{line}: {e}"));
        run += 1;
    }
    assert!(run >= 2, "{run} examples of figures");
}

#[test]
fn every_path_exists() {
    let mut seen = 0;
    let mut missing = Vec::new();
    for name in pages() {
        let page = page(&name);
        let folder = Path::new(&name).parent().unwrap();
        for path in page.split('`').skip(1).step_by(2) {
            let begins =
                ["crates/", "assets/", "tests/", "examples/", ".ci/"].iter().any(|d| path.starts_with(d));
            if begins && !path.contains([' ', '*']) {
                seen += 1;
                if !root().join(path).exists() {
                    missing.push(format!("{name}: {path}"));
                }
            }
        }
        for target in page.split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            seen += 1;
            let (path, heading) = target.split_once('#').unwrap_or((target, ""));
            let path = if path.is_empty() { PathBuf::from(&name) } else { folder.join(path) };
            let there = fs::read_to_string(root().join(&path))
                .or_else(|_| fs::read(root().join(&path)).map(|_| String::new()));
            let has_heading = |text: &String| {
                text.lines()
                    .filter_map(|line| line.strip_prefix('#'))
                    .any(|line| line.trim_matches(['#', ' ']).to_lowercase().replace(' ', "-") == heading)
            };
            if !there.is_ok_and(|text| heading.is_empty() || has_heading(&text))
                && !root().join(&path).is_dir()
            {
                missing.push(format!("{name}: {target}"));
            }
        }
    }
    assert!(seen > 10 && missing.is_empty(), "{seen} seen, missing: {missing:?}");
}

#[test]
fn every_kind_table_and_test_is_told() {
    let library = page("assets/manual/library.md");
    let tests = page("assets/manual/contributing.md");
    let mut untold: Vec<String> = Vec::new();
    for (word, _) in Dimension::WORDS {
        if !library.contains(&format!("`{word}`")) {
            untold.push(format!("kind {word}"));
        }
    }
    let file = serde_json::to_value(<knockon_core::library::LibraryFile>::default()).unwrap();
    assert!(file.as_object().unwrap().values().filter(|v| v.is_object()).count() >= 11, "{file:#}");
    for table in
        file.as_object().unwrap().iter().filter(|(_, v)| matches!(v, Json::Object(_))).map(|(k, _)| k)
    {
        if !library.contains(&format!("`{table}`")) {
            untold.push(format!("table {table}"));
        }
    }
    for entry in fs::read_dir(root().join("tests/tests")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        if path.is_file() && !tests.contains(&format!("| `{name}` |")) {
            untold.push(format!("test {name}"));
        }
    }
    assert_eq!(untold, Vec::<String>::new());
}
