//! `knockon report`, `budget` and `orders`: files by their endings, what is refused, what is written over.

use std::fs;

use super::{prints, refused};

const SHEET: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/furrow-10.json");

#[test]
fn a_report_is_written_as_its_ending_says() {
    let folder = tempfile::tempdir().unwrap();
    for (kind, ending, begins) in [
        ("buy-list", "pdf", "%PDF"),
        ("jobs", "html", "<!DOCTYPE"),
        ("tags", "XLSX", "PK"),
        ("measure", "csv", "\u{feff}done"),
    ] {
        let out = folder.path().join(format!("{kind}.{ending}"));
        let path = out.to_str().unwrap();
        let said = prints(&["report", kind, SHEET, "--out", path, "--on", "2026-03-01"]);
        assert!(said.contains("written to"), "{said}");
        assert!(fs::read(&out).unwrap().starts_with(begins.as_bytes()), "{kind}");
        // again: a page replaces the page, and a workbook or a list may hold somebody's work
        if ending == "XLSX" || ending == "csv" {
            fs::write(&out, [fs::read(&out).unwrap(), b"\r\n,,\r\nask Ann\r\n".to_vec()].concat()).unwrap();
            let kept = fs::read(&out).unwrap();
            let why = refused(1, &["report", kind, SHEET, "--out", path]);
            assert_eq!(fs::read(&out).unwrap(), kept);
            assert!(
                why.contains("you may have worked in it") && why.contains("--replace writes over it"),
                "{why}"
            );
            prints(&["report", kind, SHEET, "--out", path, "--replace"]);
        } else {
            prints(&["report", kind, SHEET, "--out", path]);
        }
    }
    // a letter that speaks of the program, and a report that somebody has written on
    let other = folder.path().join("letter.pdf");
    let mine = fs::read(folder.path().join("buy-list.pdf")).unwrap();
    for kept in [b"%PDF-1.4 a letter on Knockon".to_vec(), [mine, b"% ask Ann\n".to_vec()].concat()] {
        fs::write(&other, &kept).unwrap();
        let why = refused(1, &["report", "jobs", SHEET, "--out", other.to_str().unwrap()]);
        assert!(why.contains("holds something else") && why.contains("--replace writes over it"), "{why}");
        assert_eq!(fs::read(&other).unwrap(), kept);
    }
}

#[test]
fn what_cannot_be_written_says_what_can() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("list.xls");
    let why = refused(1, &["report", "buy-list", SHEET, "--out", out.to_str().unwrap()]);
    assert!(why.contains("nothing is written as \"xls\"; did you mean \"xlsx\"?"), "{why}");
    let why = refused(2, &["report", "buylist", SHEET, "--out", "x.pdf"]);
    assert!(why.contains("there is no report \"buylist\"; did you mean \"buy-list\"?"), "{why}");
    let why = refused(1, &["report", "compare", SHEET, "--out", "x.pdf"]);
    assert!(why.contains("--against: expected the plan") && why.contains("sound"), "{why}");
    let why = refused(1, &["report", "jobs", SHEET, "--against", "sound", "--out", "x.pdf"]);
    assert!(why.contains("--against goes with compare"), "{why}");
    let sheet = folder.path().join("sheet.csv");
    fs::copy(SHEET, &sheet).unwrap();
    let path = sheet.to_str().unwrap();
    let why = refused(1, &["report", "jobs", path, "--out", path]);
    assert!(why.contains("this is the sheet itself"), "{why}");
}

#[test]
fn a_budget_and_orders_are_told() {
    let said = prints(&["budget", SHEET, "--plan", "worked-out", "--on", "2026-03-01"]);
    for part in ["Budget: 15000.00 USD", "In the end: ", "with 15 % of what is to come kept back", "in all"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let json: serde_json::Value = serde_json::from_str(&prints(&[
        "budget",
        SHEET,
        "--plan",
        "worked-out",
        "--json",
        "--on",
        "2026-03-01",
    ]))
    .unwrap();
    let assessed: serde_json::Value = serde_json::from_str(&prints(&[
        "assess",
        SHEET,
        "--plan",
        "worked-out",
        "--json",
        "--on",
        "2026-03-01",
    ]))
    .unwrap();
    assert_eq!(json["forecast"], assessed["totals"]["to_come"]);
    let said = prints(&["orders", SHEET, "--on", "2026-03-01"]);
    assert!(said.contains("As the lines name their suppliers") && said.contains("shipping"), "{said}");
}
