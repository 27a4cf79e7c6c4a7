//! When something was made is typed where it is looked at; what falls due is told there; and a night changes the day.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::key::CompanionKey;
use knockon_core::sheet::LineState;

use crate::help::*;

const PLACE: &str = "Coolant hoses";
const FIELD: &str = "When was it made, of Coolant hoses";

fn type_date(desk: &mut Desk, date: &str) {
    desk.get_by_label(FIELD).click();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_label(FIELD).type_text(date);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

/// A sheet on which nothing is worked on and nobody has looked.
fn untouched(folder: &std::path::Path) -> Desk {
    let mut sheet: serde_json::Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    sheet["plan"] = "sound".into();
    sheet["plans"]["sound"]["routes"] = serde_json::json!({});
    for looked in ["survey", "readings", "seen"] {
        sheet[looked] = serde_json::json!({});
    }
    let file = folder.join("truck.json");
    std::fs::write(&file, sheet.to_string()).unwrap();
    let mut desk = start(Some(file), Some(folder.join("home")));
    go_to(&mut desk, PLACE);
    desk
}

#[test]
fn a_date_is_given_told_and_taken_back() {
    let mut desk = board(None);
    go_to(&mut desk, PLACE);
    let before = desk.state().sheet().clone();
    type_date(&mut desk, "the seventies");
    assert!(has(&desk, "Expected a year, a month or a day"));
    assert_eq!(desk.state().sheet().made, before.made);
    type_date(&mut desk, "2019-05");
    assert_eq!(desk.state().sheet().made["coolant-hoses"], "2019-05");
    assert!(has(&desk, "Lasts 10 years"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn a_night_goes_by_and_what_was_due_is_over() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = untouched(folder.path());
    type_date(&mut desk, "2019-05");
    let due = |desk: &Desk| desk.state().assessment().later.iter().any(|l| l.what == "new coolant hoses");
    let hoses = CompanionKey::Age { position: "coolant-hoses".to_owned() };
    let old = |desk: &Desk| desk.state().assessment().companions.iter().any(|c| c.key == hoses);
    assert!((due(&desk), old(&desk)) == (true, false), "{:?}", desk.state().assessment().later);
    assert!(has(&desk, "By 2029-05-01: new coolant hoses"));
    TODAY.set("2029-06-01");
    settle(&mut desk);
    assert!((due(&desk), old(&desk)) == (false, true));
    assert!(has(&desk, "old prices, from 2026-01"));
}

#[test]
fn what_is_marked_as_fitted_was_fitted_today() {
    let (mut desk, offer) = converted(None);
    let part = companion_of(&desk, &offer);
    let rows = desk.state().sheet().lines.len();
    go_to(&mut desk, &part.name);
    desk.get_by_label(&format!("State of {}: to buy", part.name)).click();
    settle(&mut desk);
    desk.get_by_label(LineState::Fitted.word()).click();
    settle(&mut desk);
    let line = &desk.state().sheet().lines[&part.part];
    assert_eq!((line.state, line.fitted.as_deref()), (LineState::Fitted, Some("2026-03-01")));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.state().sheet().lines.len(), rows);
}
