//! Fields that have not been left yet: what stands in them is part of the work.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

/// A saved sheet, with the keyboard in the notes of a place: its id, and the file.
fn noting(folder: &std::path::Path) -> (Desk, String, std::path::PathBuf) {
    let mut desk = board(Some(folder.join("home")));
    let file = folder.join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &file, "Save");
    let place = desk.state().assessment().positions.iter().find(|p| p.id == "carburettor").unwrap();
    let (id, name) = (place.id.clone(), place.name.clone());
    go_to(&mut desk, &name);
    let label = format!("Notes on {name}");
    unfold(&mut desk, "Notes");
    desk.get_by_role_and_label(Role::MultilineTextInput, &label).scroll_to_me();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::MultilineTextInput, &label).focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::MultilineTextInput, &label).type_text("shaft bush worn");
    settle(&mut desk);
    (desk, id, file)
}

#[test]
fn a_note_is_saved_while_it_is_still_being_written() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, id, file) = noting(folder.path());
    press(&mut desk, Modifiers::COMMAND, Key::S);
    assert_eq!(knockon_store::sheets::open(&file).unwrap().notes[&id], "shaft bush worn");
    assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")));
}

#[test]
fn a_note_outlives_a_crash_after_a_pause() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, id, file) = noting(folder.path());
    // two seconds without a key
    desk.run_steps(140);
    assert_eq!(desk.state().sheet().notes[&id], "shaft bush worn");
    drop(desk);
    let desk = start(Some(file), Some(folder.path().join("home")));
    assert_eq!(desk.state().sheet().notes[&id], "shaft bush worn");
}

#[test]
fn undo_in_a_field_takes_back_what_was_typed_there_and_leaves_the_sheet_alone() {
    let (mut desk, offer) = converted(None);
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text("carb");
    settle(&mut desk);
    // the field keeps a step of its own once the typing has paused
    desk.run_steps(140);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().sheet() == before, "{} is still chosen", offer.name);
    assert_ne!(desk.get_by_role_and_label(Role::TextInput, "Find").value().as_deref(), Some("carb"));
    // out of the field it takes back the choice
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().sheet() != before);
}

#[test]
fn a_price_still_being_typed_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = board(Some(folder.path().join("home")));
    let file = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &file, "Save");
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let line = desk.state().assessment().buy.iter().find(|l| l.waived.is_none()).unwrap().clone();
    let label = format!("Price each of {}", line.name);
    desk.get_by_role_and_label(Role::TextInput, &label).focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, &label).type_text("12.34");
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    let paid = knockon_store::sheets::open(&file).unwrap().lines[&line.part].paid.clone();
    assert_eq!(paid.map(|m| m.amount.to_string()).as_deref(), Some("12.34"));
}
