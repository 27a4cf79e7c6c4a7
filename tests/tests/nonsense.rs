//! Whatever stands in a file or a field, it is read or refused in words: no reader ends the program.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use knockon_core::date::Dated;
use knockon_core::money;
use knockon_core::quantity::Quantity;
use knockon_core::units::Dimension;
use knockon_core::value::{Kind, Value};
use knockon_core::{Edit, Money, Sheet};
use knockon_figures::{fasteners, tyres};
use knockon_store::journal::Journal;
use knockon_store::{library, sheets};
use knockon_tests::cases::cases;
use knockon_tests::spoil::each;

/// Inputs for each target.
const EACH: u32 = 10_000;

fn seeds(texts: &[&str]) -> Vec<Vec<u8>> {
    texts.iter().map(|text| text.as_bytes().to_vec()).collect()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// A message is a sentence that says something, on which nothing of the program's inside shows.
fn told(message: &str) {
    assert!(message.len() > 5 && !message.contains("os error") && !message.contains("panicked"), "{message}");
}

/// A small sheet with everything in it that a sheet can have.
const SHEET: &str = r#"{"format": 1, "name": "Half-ton", "vehicle": "furrow-10", "plan": "p", "about": "One.",
 "survey": {"tank": {"verdict": "stop", "note": "weeps"}}, "facts": {"rim-width": "5.5 in", "idle-speed": "unknown: dwell meter"},
 "as_found": {"fan": null, "carburettor": "one-barrel"}, "made": {"tyres": "1981-04"},
 "parts": {"own-hose": {"name": "Hose", "class": "hose", "hours": 2, "price": "12.505 USD", "ports": {"a": {"type": "fuel.hose", "fields": {"bore": "3/8 in"}}}}},
 "plans": {"p": {"name": "P", "routes": {"tank": {"route": "convert", "part": "tank-rails-68"}}, "picks": {"need:a:b:c": "x"},
 "accepted": ["beside:hub", "fluid:oil:1"], "waived": {"cap:j": "no"}}},
 "lines": {"pump": {"state": "in-hand", "paid": "40 USD", "came_back": {"core": "5 USD"}, "supplier": "Mill Yard", "fitted": "2026-03-01"}},
 "notes": {"tank": "a\nb \u00e9"}, "photos": {"tank": ["a.jpg"]}, "later": {"x": [1.50]}}"#;

#[test]
fn sheets_are_read_or_refused_and_what_is_read_is_written_the_same() {
    let seeds = seeds(&[SHEET, SHEET, "{\"format\":1}"]);
    let mut read = 0;
    each("sheet", &seeds, cases(EACH), |bytes| match sheets::parse("a.json", &text(bytes)) {
        Ok(sheet) => {
            read += 1;
            let again = serde_json::to_string(&sheet).unwrap();
            assert_eq!(sheets::parse("again", &again).unwrap(), sheet, "{again}");
        }
        Err(why) => told(&why.to_string()),
    });
    assert!(read > 100, "only {read} could be read");
}

#[test]
fn a_sheet_saved_over_anything_is_that_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.json");
    let sheet = sheets::parse("seed", SHEET).unwrap();
    let other = Sheet { name: "Other".into(), notes: [("fan".into(), "n".into())].into(), ..sheet.clone() };
    each("save", &seeds(&[SHEET]), cases(EACH / 20), |bytes| {
        std::fs::write(&path, bytes).unwrap();
        sheets::save(&path, &other).unwrap();
        assert_eq!(sheets::open(&path).unwrap(), other);
        assert_eq!(std::fs::read(folder.path().join("a.json.bak")).unwrap(), bytes);
    });
}

#[test]
fn libraries_are_read_or_refused() {
    let mut pieces = Vec::new();
    for (_, whole) in library::shipped_texts() {
        pieces.push(whole.as_bytes()[..whole.len().min(4000)].to_vec());
    }
    let small = r#"{"format": 1, "about": "A", "classes": {"hose": {"name": "Hose", "free": true, "bridges": true}},
 "port_types": {"fuel.hose": {"name": "hose", "fields": {"bore": {"name": "bore", "kind": "length", "rule": "equal", "within": "0.2 mm", "why": "leaks"}}}},
 "parts": {"hose-a": {"name": "Hose", "class": "hose", "bridges": ["a", "b"], "price": "3 USD", "ports": {"a": {"type": "fuel.hose", "fields": {"bore": "3/8 in"}}, "b": {"type": "fuel.hose", "fields": {"bore": ["8 mm", "any"]}}}}},
 "limits": {"l": {"name": "l", "calc": "at-most", "inputs": {"have": {"fact": "x"}, "most": {"value": "100 mm"}}, "why": "w", "source": "measured"}},
 "vehicles": {"v": {"name": "V", "positions": {"p": {"name": "P", "system": "s", "class": "hose", "as_found": "hose-a"}}, "joints": {"j": {"name": "j", "ends": [{"at": "p", "port": "a"}, {"at": "p", "port": "b"}]}}}},
 "systems": {"s": {"name": "S"}}}"#;
    pieces.push(small.as_bytes().to_vec());
    pieces.push(small.as_bytes().to_vec());
    each("library", &pieces, cases(EACH), |bytes| {
        let (_, problems) = library::read(&[("a.json".to_owned(), text(bytes))]);
        problems.iter().for_each(|problem| told(&problem.text));
    });
}

/// The whole library with one of its files spoilt; twelve here, a thousand with `KNOCKON_CASES=84`.
#[test]
fn a_whole_library_with_a_spoilt_file_is_refused_in_words() {
    let texts = library::shipped_texts();
    let mut random = fastrand::Rng::with_seed(1);
    for _ in 0..cases(12) {
        let mut texts = texts.clone();
        let at = random.usize(..texts.len());
        let mut bytes = texts[at].1.clone().into_bytes();
        for _ in 0..random.usize(1..4) {
            let at = random.usize(..bytes.len());
            match random.u8(0..3) {
                0 => bytes[at] = random.u8(..),
                1 => drop(bytes.drain(at..(at + 40).min(bytes.len()))),
                _ => drop(bytes.splice(at..at, *b"\"x\": [1],")),
            }
        }
        texts[at].1 = text(&bytes);
        let (_, problems) = library::read(&texts);
        problems.iter().for_each(|problem| told(&problem.text));
    }
}

#[test]
fn a_spoilt_line_of_a_journal_takes_no_other_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let edit = |n: u32| Edit::Note { position: format!("p{n}"), text: format!("note {n}") };
    let path = folder.path().join("j");
    let mut writer =
        knockon_store::journal::Writer::new(path.clone(), knockon_store::journal::Head::default(), None);
    let lines: Vec<_> = (0..20).map(|n| knockon_store::journal::Line::Edit(edit(n))).collect();
    writer.add(&knockon_store::disk::Machine, &lines).unwrap();
    let whole = std::fs::read(&path).unwrap();
    let all: Vec<Edit> = (0..20).map(edit).collect();
    assert_eq!(Journal::of(&whole).edits, all);
    each("journal", std::slice::from_ref(&whole), cases(EACH), |bytes| {
        let read = Journal::of(bytes);
        // what is read was written: no change is made up, but of a journal as old as from before there were checksums
        let old = read.head.is_none() && read.edits.len() < 2;
        assert!(old || read.edits.iter().all(|edit| all.contains(edit)), "{read:?}");
        // and between whole lines, spoilt ones cost only themselves
        let around = [&whole[..], b"\n", bytes, b"\n", &whole[..]].concat();
        let read = Journal::of(&around);
        assert!(read.edits.starts_with(&all) && read.edits.ends_with(&all));
        assert!(read.edits.iter().all(|edit| all.contains(edit)), "{read:?}");
    });
}

#[test]
fn amounts_are_read_or_refused() {
    let seeds = seeds(&["12.50", "$1,234.50", "95,50 EUR", "9 eur", "412.50 USD", "1.234,50", "0.005", "-5"]);
    each("price", &seeds, cases(EACH), |bytes| {
        let typed = text(bytes);
        match money::typed(&typed, "USD") {
            Ok(Some(money)) => assert_eq!(money.to_string().parse::<Money>().unwrap(), money, "{typed}"),
            Ok(None) => {}
            Err(why) => told(&why.to_string()),
        }
        if let Ok(money) = typed.parse::<Money>() {
            assert_eq!(money.to_string().parse::<Money>().unwrap(), money, "{typed}");
        }
    });
}

#[test]
fn values_threads_and_dates_are_read_or_refused() {
    let seeds = seeds(&[
        "12.25 in",
        "3/8 in",
        "1-1/8 in",
        "2.5 mm",
        "18 AWG",
        "71 °C",
        "3°",
        "30 N·m",
        "7.02 in ±0.06 in",
        "4 to 7 psi",
        "set 1.5 to 4 psi",
        "27",
        "3/8-24",
        "M10x1.25",
        "1/8-27 NPTF",
        "male",
        "any",
        "unknown: calliper, to 0.5 mm",
        "1300 rpm: 17 A",
        "-90 mm: 207 mm; -80 mm: 176 mm",
        "1966-05-17",
        "10 years",
    ]);
    let kinds = [
        Kind::Dimension(Dimension::Length),
        Kind::Dimension(Dimension::Pressure),
        Kind::Dimension(Dimension::Temperature),
        Kind::Word,
        Kind::Thread,
        Kind::Curve,
        Kind::Outline,
    ];
    each("value", &seeds, cases(EACH), |bytes| {
        let typed = text(bytes);
        for kind in kinds {
            if let Err(why) = Value::read_text(&typed, kind) {
                told(&why);
            }
            let list: Vec<serde_json::Value> = typed.split(';').map(Into::into).collect();
            if let Err(why) = Value::read(&serde_json::Value::Array(list), kind) {
                told(&why);
            }
        }
        if let Err(why) = Quantity::parse(&typed) {
            told(&why.to_string());
        }
        if let Err(why) = Dated::parse(&typed) {
            told(&why.to_string());
        }
    });
    each("thread", &seeds, cases(EACH), |bytes| {
        let typed = text(bytes);
        let _ = fasteners::tables::find(&typed);
        if let Err(why) = fasteners::drill::drill_millimetres(&typed) {
            told(&why.to_string());
        }
        if let Err(why) = fasteners::insert::insert_drill(&typed) {
            told(&why.to_string());
        }
    });
}

#[test]
fn tyres_are_read_or_refused() {
    let seeds = seeds(&[
        "215/75R15",
        "31x10.50R15LT",
        "6.70-15",
        "7.50R16",
        "P205/70R14 95H",
        "185R14C 102/100Q",
        "LR78-15",
    ]);
    each("tyre", &seeds, cases(EACH), |bytes| {
        if let Err(why) = tyres::parse(&text(bytes)) {
            told(&why.to_string());
        }
    });
}
