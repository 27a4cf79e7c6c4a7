//! Two windows at once, and files that others write: nobody's work is lost without a word.

use egui::{Key, Modifiers};
use knockon_store::sheets;

use crate::help::*;

const CTRL: Modifiers = Modifiers::COMMAND;

fn message(desk: &Desk) -> String {
    desk.state().message().unwrap_or_default().to_owned()
}

/// Changes the sheet of a desk; tells what it is then.
fn change(desk: &mut Desk) -> knockon_core::Sheet {
    let offer = conversion(desk);
    take(desk, &offer);
    desk.state().sheet().clone()
}

#[test]
fn a_sheet_that_is_open_elsewhere_is_saved_under_another_name_only() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let file = folder.path().join("truck.json");
    sheets::save(&file, board(None).state().sheet()).unwrap();
    let on_disk = sheets::open(&file).unwrap();

    let mut first = start(Some(file.clone()), Some(home.clone()));
    let firsts = change(&mut first);
    let mut second = start(Some(file.clone()), Some(home));
    assert!(message(&second).contains("open in another window"), "{}", message(&second));
    assert_eq!(*second.state().sheet(), on_disk, "what the first has not saved is not the second's");
    press(&mut second, Modifiers::NONE, Key::Num1);
    let seconds = change(&mut second);
    press(&mut second, CTRL, Key::S);
    assert!(message(&second).contains("save under another name"), "{}", message(&second));
    assert_eq!(sheets::open(&file).unwrap(), on_disk);
    let other = folder.path().join("other.json");
    // the dialog for the other name is open
    type_path(&mut second, &other, "Save");
    assert_eq!(sheets::open(&other).unwrap().plans, seconds.plans);
    // the first goes on as if nothing had been
    press(&mut first, CTRL, Key::S);
    settle(&mut first);
    assert_eq!(sheets::open(&file).unwrap(), firsts);
    drop((first, second));
    let again = start(Some(file), Some(folder.path().join("home")));
    assert!(!message(&again).contains("another window"), "{}", message(&again));
}

#[test]
fn a_file_that_another_program_has_written_is_asked_about() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("truck.json");
    let mut other = board(None).state().sheet().clone();
    sheets::save(&file, &other).unwrap();
    let mut desk = start(Some(file.clone()), Some(folder.path().join("home")));
    change(&mut desk);
    other.name = "Written by somebody else".to_owned();
    sheets::save(&file, &other).unwrap();
    let asked = "The file was changed by another program since it was opened";
    press(&mut desk, CTRL, Key::S);
    assert!(has(&desk, asked));
    click(&mut desk, "Cancel");
    assert_eq!(sheets::open(&file).unwrap(), other);
    press(&mut desk, CTRL, Key::S);
    click(&mut desk, "Replace it");
    assert_eq!(sheets::open(&file).unwrap(), *desk.state().sheet());
    assert_eq!(sheets::open(&folder.path().join("truck.json.bak")).unwrap(), other);
    // from now on it is this window's again
    press(&mut desk, CTRL, Key::Z);
    press(&mut desk, CTRL, Key::S);
    assert!(!has(&desk, asked));
    assert_eq!(sheets::open(&file).unwrap(), *desk.state().sheet());
}

#[test]
fn two_windows_without_a_file_both_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut first = board(Some(home.clone()));
    let firsts = change(&mut first);
    let mut second = start(None, Some(home.clone()));
    assert_ne!(*second.state().sheet(), firsts, "the first still has its own");
    press(&mut second, Modifiers::NONE, Key::Num2);
    let seconds = change(&mut second);
    drop((first, second));

    let one = start(None, Some(home.clone()));
    let two = start(None, Some(home));
    let back = [one.state().sheet().clone(), two.state().sheet().clone()];
    assert!(back.contains(&firsts) && back.contains(&seconds));
}

#[test]
fn a_file_opened_again_is_not_open_elsewhere() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("truck.json");
    sheets::save(&file, board(None).state().sheet()).unwrap();
    let mut desk = start(Some(file.clone()), Some(folder.path().join("home")));
    press(&mut desk, CTRL, Key::O);
    type_path(&mut desk, &file, "Open");
    assert!(!message(&desk).contains("another window"), "{}", message(&desk));
    assert_eq!(desk.state().sheet().name, sheets::open(&file).unwrap().name);
}

#[test]
fn what_was_changed_in_a_second_window_is_not_lost_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let file = folder.path().join("truck.json");
    sheets::save(&file, board(None).state().sheet()).unwrap();
    let first = start(Some(file.clone()), Some(home.clone()));
    let mut second = start(Some(file), Some(home.clone()));
    press(&mut second, Modifiers::NONE, Key::Num1);
    let changed = change(&mut second);
    drop((second, first));
    let again = start(None, Some(home));
    assert_eq!(*again.state().sheet(), changed, "{}", message(&again));
}
