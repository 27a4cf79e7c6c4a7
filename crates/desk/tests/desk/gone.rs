//! A sheet that is not where it was though its folder is: behind a network folder that was taken away an empty one comes up.

use std::fs;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use knockon_store::sheets;

use crate::help::*;
use crate::trust::{Bench, type_into};

const CTRL: Modifiers = Modifiers::COMMAND;

#[test]
fn what_is_changed_and_saved_does_not_go_into_the_folder_that_came_up() {
    let bench = Bench::new();
    let mut desk = bench.open();
    let (at, away) = (bench.file.parent().unwrap().to_owned(), bench.folder.path().join("away"));
    fs::rename(&at, &away).unwrap();
    fs::create_dir(&at).unwrap();
    go_to(&mut desk, "Carburettor");
    type_into(&mut desk, Role::TextInput, "What was seen of Carburettor", "spindle loose");
    let told = desk.state().unread().join("\n");
    assert!(told.contains("no such file or folder") && told.contains("journals"), "{told}");
    press(&mut desk, CTRL, Key::S);
    assert!(has(&desk, "The file is not there any more"));
    click(&mut desk, "Cancel");
    assert_eq!(fs::read_dir(&at).unwrap().count(), 0, "nothing lies there");
    drop(desk);
    // it is back
    fs::remove_dir(&at).unwrap();
    fs::rename(&away, &at).unwrap();
    let mut desk = bench.open();
    assert_eq!(desk.state().sheet().survey["carburettor"].note, "spindle loose");
    press(&mut desk, CTRL, Key::S);
    assert_eq!(sheets::open(&bench.file).unwrap().survey["carburettor"].note, "spindle loose");
}

#[test]
fn a_file_that_was_taken_away_can_be_saved_anew_where_that_is_agreed() {
    let bench = Bench::new();
    let mut desk = bench.open();
    fs::remove_file(&bench.file).unwrap();
    go_to(&mut desk, "Carburettor");
    type_into(&mut desk, Role::TextInput, "What was seen of Carburettor", "spindle loose");
    press(&mut desk, CTRL, Key::S);
    assert!(!bench.file.exists());
    click(&mut desk, "Save it here anew");
    assert_eq!(sheets::open(&bench.file).unwrap().survey["carburettor"].note, "spindle loose");
    // and is an ordinary file again
    press(&mut desk, CTRL, Key::S);
    assert!(!has(&desk, "The file is not there any more"));
}
