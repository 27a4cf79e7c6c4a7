//! Sheets: saving, opening, what a closed window leaves behind, settings.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

#[test]
fn what_is_saved_comes_back_and_the_list_is_exported() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, offer) = converted(Some(folder.path().join("home")));
    let sheet = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &sheet, "Save");
    assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")), "{:?}", desk.state().message());
    let list = folder.path().join("list.csv");
    press(&mut desk, Modifiers::COMMAND, Key::E);
    type_path(&mut desk, &list, "Export");
    let csv = std::fs::read_to_string(&list).unwrap();
    let a = desk.state().assessment();
    assert_eq!(csv.lines().count(), a.buy.len() + a.boxes.len() + 1);
    let written = desk.state().sheet().clone();
    drop(desk);

    let desk = start(Some(sheet), None);
    assert_eq!(*desk.state().sheet(), written);
    assert!(desk.state().sheet().plans[&written.plan].routes.contains_key(&offer.position));
}

#[test]
fn opening_what_is_open_keeps_the_history() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = converted(Some(folder.path().join("home")));
    let sheet = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &sheet, "Save");
    let saved = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    let undone = desk.state().sheet().clone();
    assert_ne!(undone, saved);
    let again = |desk: &mut Desk| {
        desk.get_by_label("File").click();
        settle(desk);
        desk.get_by_label_contains("Recent").click();
        settle(desk);
        desk.get_by_role_and_label(Role::Button, "truck.json").click();
        settle(desk);
    };
    again(&mut desk);
    assert!(desk.state().message().is_some_and(|m| m.contains("is open already")));
    assert_eq!(*desk.state().sheet(), undone);
    press(&mut desk, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert_eq!(*desk.state().sheet(), saved, "the step can still be taken again");
    // what another program wrote is read
    let text = std::fs::read_to_string(&sheet).unwrap();
    std::fs::write(&sheet, text.replace("\"name\"", " \"name\"")).unwrap();
    again(&mut desk);
    assert!(!desk.state().message().is_some_and(|m| m.contains("is open already")));
}

#[test]
fn a_broken_file_leaves_the_old_sheet_open() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.json");
    std::fs::write(&broken, "{ \"format\": 1, ").unwrap();
    let (mut desk, _) = converted(None);
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::O);
    type_path(&mut desk, &broken, "Open");
    assert_eq!(*desk.state().sheet(), before);
    let message = desk.state().message().expect("says what is wrong");
    assert!(message.contains("broken.json") && message.contains(". The sheet that was open"), "{message}");
}

#[test]
fn changes_of_a_closed_window_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let (desk, _) = converted(Some(home.clone()));
    let changed = desk.state().sheet().clone();
    drop(desk);
    let mut desk = start(None, Some(home.clone()));
    assert_eq!(*desk.state().sheet(), changed);
    // the same with a file: the journal beside it
    let file = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &file, "Save");
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    let changed = desk.state().sheet().clone();
    drop(desk);
    let desk = start(Some(file), Some(home));
    assert_eq!(*desk.state().sheet(), changed);
}

#[test]
fn light_and_dark_are_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut desk = board(Some(home.clone()));
    desk.get_by_label("Light or dark").click();
    settle(&mut desk);
    drop(desk);
    let desk = start(None, Some(home));
    assert_eq!(desk.ctx.theme(), egui::Theme::Dark);
}

#[test]
fn a_new_sheet_has_its_vehicle_and_name_and_nothing_chosen() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = converted(Some(folder.path().join("home")));
    let vehicle = knockon_store::library::shipped()
        .vehicles
        .into_iter()
        .find(|(_, v)| !v.beginning)
        .expect("a vehicle");
    press(&mut desk, Modifiers::COMMAND, Key::N);
    desk.get_by_role_and_label(Role::RadioButton, &vehicle.1.name).click();
    settle(&mut desk);
    let field = desk.get_by_role_and_label(Role::TextInput, "Name of the sheet");
    assert_eq!(field.value(), Some(vehicle.1.name.clone()));
    field.focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "Name of the sheet").type_text("The orchard truck");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let sheet = desk.state().sheet().clone();
    assert_eq!((sheet.name.as_str(), &sheet.vehicle), ("The orchard truck", &vehicle.0));
    assert_eq!(sheet.plans.len(), 1);
    assert!(sheet.plans[&sheet.plan].routes.is_empty() && sheet.notes.is_empty() && sheet.survey.is_empty());
    assert_eq!(desk.state().assessment().positions.len(), vehicle.1.positions.len());
    assert!(desk.state().assessment().companions.is_empty() && desk.state().assessment().problems.is_empty());
    // what was changed before without a file has been put aside, and that is told
    assert!(
        desk.state().message().is_some_and(|m| m.contains("recent files")),
        "{:?}",
        desk.state().message()
    );
    // Escape begins nothing
    press(&mut desk, Modifiers::COMMAND, Key::N);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_eq!(*desk.state().sheet(), sheet);
    assert!(!has(&desk, "Begin the sheet"));
}

#[test]
fn a_typed_path_is_taken_as_it_is_meant() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = converted(Some(folder.path().join("home")));
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &folder.path().join("truck"), "Save");
    // the ending by which a system knows its file type
    let saved = folder.path().join("truck.knockon.json");
    assert!(saved.exists() && desk.state().message().is_some_and(|m| m.contains("truck.knockon.json")));
    // the name with its ending is there already: it is not replaced unasked
    let other = folder.path().join("other.knockon.json");
    std::fs::write(&other, "mine").unwrap();
    press(&mut desk, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
    type_path(&mut desk, &folder.path().join("other"), "Save");
    assert!(has(&desk, "There is a file of that name"));
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "mine");
    press(&mut desk, Modifiers::NONE, Key::Escape);
    // half of the ending is the whole, and another that somebody wants is left to him
    for (typed, name) in [("half.knockon", "half.knockon.json"), ("plain.json", "plain.json")] {
        press(&mut desk, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
        type_path(&mut desk, &folder.path().join(typed), "Save");
        assert!(folder.path().join(name).exists(), "{typed}");
    }
}

#[test]
fn a_save_right_before_the_end_is_still_written() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let (mut desk, _) = converted(Some(home.clone()));
    let file = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &file, "Save");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::S);
    desk.step();
    eframe::App::on_exit(desk.state_mut(), None);
    assert!(knockon_store::sheets::open(&file).unwrap() == *desk.state().sheet());
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().map(|f| f.unwrap().file_name()).collect();
    assert!(!left.iter().any(|f| f.to_string_lossy().ends_with(".journal")), "{left:?}");
}
