//! A stored file of each format is read, and what is of none is refused with the way out.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::fs;

use knockon_core::Sheet;
use knockon_core::strangers::strangers;
use knockon_store::{FORMAT, library, sheets};
use knockon_tests::schemas::root;

fn stored(format: u32, name: &str) -> String {
    fs::read_to_string(root().join(format!("tests/formats/{format}/{name}"))).unwrap()
}

#[test]
fn a_stored_file_of_each_format_is_read_without_a_problem() {
    for format in 1..=FORMAT {
        let texts = [("library.json".to_owned(), stored(format, "library.json"))];
        let (catalogue, problems) = library::read(&texts);
        assert_eq!(problems, [], "format {format}");
        assert_eq!(catalogue.parts.len(), 14, "format {format}");
        let sheet = sheets::parse("sheet.json", &stored(format, "sheet.json")).unwrap();
        assert_eq!(sheet.format, FORMAT);
        assert_eq!(strangers(&sheet, &sheet.plan, &catalogue), [], "format {format}");
    }
}

/// The files have each word that there is: what a format can say is what is kept readable.
#[test]
fn the_stored_files_have_every_table() {
    let sheet: serde_json::Value = serde_json::from_str(&stored(FORMAT, "sheet.json")).unwrap();
    let library: serde_json::Value = serde_json::from_str(&stored(FORMAT, "library.json")).unwrap();
    let wanted = |schema: &serde_json::Value| -> Vec<String> {
        schema["properties"].as_object().unwrap().keys().cloned().collect()
    };
    let missing = |file: &serde_json::Value, schema: &serde_json::Value| -> Vec<String> {
        wanted(schema).into_iter().filter(|word| file.get(word).is_none()).collect()
    };
    assert_eq!(missing(&library, &knockon_core::schemas::library()), Vec::<String>::new());
    assert_eq!(missing(&sheet, &knockon_core::schemas::sheet()), Vec::<String>::new());
}

#[test]
fn a_newer_format_is_refused_with_the_way_out() {
    let newer = FORMAT + 1;
    let text = |name| stored(FORMAT, name).replace("\"format\": 1", &format!("\"format\": {newer}"));
    let told = |kind: &str| {
        format!("this {kind} has format {newer}; this program reads format {FORMAT}: take a newer program")
    };
    let why = sheets::parse("a.json", &text("sheet.json")).unwrap_err().to_string();
    assert_eq!(why, format!("a.json:3: at format: {}", told("sheet")));
    let (catalogue, problems) = library::read(&[("a.json".to_owned(), text("library.json"))]);
    assert_eq!(problems[0].text, format!("a.json:3: at format: {}", told("file")));
    assert_eq!((problems.len(), catalogue.parts.len()), (1, 0));
}

#[test]
fn the_schema_of_a_sheet_stays_its_first_word() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    fs::write(&path, stored(FORMAT, "sheet.json")).unwrap();
    let mut sheet = sheets::open(&path).unwrap();
    sheet.notes.insert("pump".to_owned(), "hums".to_owned());
    sheets::save(&path, &sheet).unwrap();
    let first = |path| fs::read_to_string(path).unwrap().lines().nth(1).unwrap().to_owned();
    let said = "  \"$schema\": \"../../../assets/schema/sheet.schema.json\",";
    assert_eq!(first(&path), said);
    // and in a file of its own
    let other = folder.path().join("b.json");
    sheets::save(&other, &sheet).unwrap();
    assert_eq!(first(&other), said);
    assert_eq!(sheets::open(&other).unwrap(), sheet);
    // one that comes later stands first as well
    let bare = Sheet { schema: None, ..sheet.clone() };
    let third = folder.path().join("c.json");
    sheets::save(&third, &bare).unwrap();
    sheets::save(&third, &sheet).unwrap();
    assert_eq!(first(&third), said);
}
