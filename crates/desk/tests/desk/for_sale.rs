//! A vehicle that is for sale: looked at by clicks and by numbers, held against another, bought.

use std::path::{Path, PathBuf};

use egui::{Key, Modifiers};
use knockon_core::sheet::Papers;

use crate::help::*;

/// A copy of a sheet of the examples, on the page: what is not saved is kept beside the file.
fn page(folder: &Path, name: &str) -> Desk {
    let file = folder.join("mine.json");
    std::fs::copy(example(name), &file).unwrap();
    let mut desk = start(Some(file), None);
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    click(&mut desk, "before buying");
    desk
}

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../examples/for-sale/{name}.json"))
}

fn read(desk: &Desk, position: &str) -> Vec<(String, String)> {
    let all = desk.state().sheet().readings.get(position).cloned().unwrap_or_default();
    all.into_iter().map(|reading| (reading.of, reading.value)).collect()
}

#[test]
fn a_look_is_answered_by_a_click_and_by_a_number_and_the_range_narrows() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = page(folder.path(), "dry-barn");
    assert!(has(&desk, "$5,115.90 to $10,015.00"));
    assert!(has(&desk, "20 of 43 looked at"));
    assert!(has(&desk, "Missing (1)"));
    // one that may stand at something bad
    click(&mut desk, "Clutch disc, clutch: slips, renew");
    assert!(read(&desk, "clutch-disc").contains(&("sale-clutch".into(), "slips".into())));
    assert!(has(&desk, "21 of 43 looked at"));
    // the keyboard is on it: a number answers otherwise on the same day, and leads on
    press(&mut desk, Modifiers::NONE, Key::Num1);
    assert_eq!(read(&desk, "clutch-disc"), [("sale-clutch".into(), "bites and holds".into())]);
    assert!(
        has(&desk, "$5,115.90 to ") && !has(&desk, "$10,015.00"),
        "what is good narrows the range from above"
    );
    press(&mut desk, Modifiers::NONE, Key::Num1);
    assert_eq!(read(&desk, "gearbox"), [("gearbox-noise".into(), "silent".into())]);
    // two steps back and nothing was looked at
    for _ in 0..3 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(read(&desk, "clutch-disc"), []);
    assert!(has(&desk, "20 of 43 looked at"));
}

#[test]
fn another_sheet_is_held_against_it_and_put_away() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = page(folder.path(), "dry-barn");
    click(&mut desk, "Hold another sheet against it…");
    type_path(&mut desk, &example("runs-and-drives"), "Take in");
    assert!(has(&desk, "Runs and drives"));
    assert!(has(&desk, "$3,083.50 dearer than this one"));
    // what is no sheet says why
    click(&mut desk, "Hold another sheet against it…");
    type_path(&mut desk, Path::new("/nowhere/at-all.json"), "Take in");
    assert!(has(&desk, "at-all.json"));
    click(&mut desk, "Put away: at-all.json");
    click(&mut desk, "Put away: Runs and drives");
    assert!(!has(&desk, "dearer than this one"));
}

#[test]
fn what_is_asked_is_typed_and_what_was_found_stays_when_it_is_bought() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    click(&mut desk, "before buying");
    assert!(desk.state().sheet().for_sale.is_none());
    click(&mut desk, "Look at it as for sale");
    let sale = |desk: &Desk| desk.state().sheet().for_sale.clone().unwrap_or_default();
    assert_eq!(sale(&desk).on.as_deref(), Some("2026-03-01"));
    write(&mut desk, "Asked for it", "a lot");
    assert!(has(&desk, "a lot"));
    assert_eq!(sale(&desk).asked, None);
    write(&mut desk, "Asked for it", "3200");
    assert_eq!(sale(&desk).asked.map(|m| m.to_string()).as_deref(), Some("3200.00 USD"));
    click(&mut desk, "Papers: not seen");
    click(&mut desk, "agree");
    assert_eq!(sale(&desk).papers, Papers::Agree);
    let found = desk.state().sheet().survey.clone();
    write(&mut desk, "Bought for", "2900");
    assert_eq!(sale(&desk).bought.map(|m| m.to_string()).as_deref(), Some("2900.00 USD"));
    assert!(has(&desk, "It is bought"));
    assert_eq!(desk.state().sheet().survey, found);
    assert!(!has(&desk, "Front springs: stance"));
}
