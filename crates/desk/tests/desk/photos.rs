//! Photos by path, files dropped on the window, and file choosers.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|e| e.to_string())
    }
}

fn drop_files(desk: &mut Desk, paths: &[&Path]) {
    for path in paths {
        desk.input_mut().dropped_files.push(Arc::new(Dropped((*path).to_owned())));
    }
    settle(desk);
}

fn photos(desk: &Desk) -> Vec<String> {
    desk.state().sheet().photos.get("carburettor").cloned().unwrap_or_default()
}

fn type_photo(desk: &mut Desk, path: &str) {
    let field = "Path of a photo of Carburettor";
    desk.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
    settle(desk);
    desk.get_by_role_and_label(Role::TextInput, field).focus();
    settle(desk);
    desk.get_by_role_and_label(Role::TextInput, field).type_text(path);
    settle(desk);
}

#[test]
fn a_photo_is_named_by_its_path_taken_off_and_brought_back() {
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    type_photo(&mut desk, "/photos/throttle shaft.jpg");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(photos(&desk), ["/photos/throttle shaft.jpg"]);
    assert!(has(&desk, "Open photo throttle shaft.jpg"));
    type_photo(&mut desk, "/photos/notes.txt");
    click(&mut desk, "Add the photo");
    assert_eq!(photos(&desk).len(), 1);
    assert!(desk.state().message().is_some_and(|m| m.contains("notes.txt")), "{:?}", desk.state().message());
    click(&mut desk, "Take photo throttle shaft.jpg off");
    assert!(photos(&desk).is_empty());
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(photos(&desk).len(), 1);
}

#[test]
fn a_photo_opens_with_a_viewer_or_its_path_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let photo = folder.path().join("jet.png");
    let seen = folder.path().join("seen");
    std::fs::create_dir_all(&home).unwrap();
    std::fs::write(&photo, b"not looked into").unwrap();
    let viewer = folder.path().join("viewer");
    let settings = |command: &Path| format!("{{\"viewer\": \"{}\", \"started\": true}}", command.display());
    std::fs::write(home.join("config.json"), settings(&viewer)).unwrap();
    let mut desk = start(None, Some(home));
    go_to(&mut desk, "Carburettor");
    drop_files(&mut desk, &[&photo]);
    assert_eq!(photos(&desk), [photo.display().to_string()]);
    // no such viewer: the path is told
    click(&mut desk, "Open photo jet.png");
    assert!(desk.state().message().is_some_and(|m| m.contains("jet.png")), "{:?}", desk.state().message());
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        std::fs::write(&viewer, format!("#!/bin/sh\necho \"$1\" > '{}'\n", seen.display())).unwrap();
        std::fs::set_permissions(&viewer, std::fs::Permissions::from_mode(0o755)).unwrap();
        desk.get_by_label("Dismiss").click();
        settle(&mut desk);
        click(&mut desk, "Open photo jet.png");
        assert_eq!(desk.state().message(), None);
        assert!(std::fs::read_to_string(&seen).unwrap().trim().ends_with("jet.png"));
    }
    // a photo that is gone says so
    std::fs::remove_file(&photo).unwrap();
    click(&mut desk, "Open photo jet.png");
    assert!(
        desk.state().message().is_some_and(|m| m.contains("There is no file")),
        "{:?}",
        desk.state().message()
    );
}

#[test]
fn what_is_dropped_goes_where_it_belongs() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("truck.json");
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &sheet, "Save");
    let written = desk.state().sheet().clone();
    // photos beside the sheet are kept relative to it, several as one step
    go_to(&mut desk, "Carburettor");
    let (a, b) = (folder.path().join("a.jpg"), folder.path().join("b.JPG"));
    drop_files(&mut desk, &[&a, &b]);
    assert_eq!(photos(&desk), ["a.jpg", "b.JPG"]);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), written);
    // nothing is selected: the photo has no place, and that is told
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_eq!(desk.state().selected(), None);
    drop_files(&mut desk, &[&a]);
    assert_eq!(*desk.state().sheet(), written);
    assert!(desk.state().message().is_some_and(|m| m.contains("belongs to a position")));
    // a sheet opens
    let mut desk = board(None);
    drop_files(&mut desk, &[&sheet]);
    assert_eq!(*desk.state().sheet(), written);
    // something else leaves the sheet open
    let other = folder.path().join("list.csv");
    std::fs::write(&other, "item,qty\n").unwrap();
    drop_files(&mut desk, &[&other]);
    assert_eq!(*desk.state().sheet(), written);
    assert!(desk.state().message().is_some_and(|m| m.contains("list.csv")), "{:?}", desk.state().message());
}

#[test]
fn the_file_chooser_does_not_hold_the_frame_and_the_typed_path_works_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("truck.json");
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    desk.get_by_label("Browse…").click();
    let begun = Instant::now();
    for _ in 0..4 {
        desk.step();
    }
    assert!(begun.elapsed() < Duration::from_secs(5), "the chooser held the frame: {:?}", begun.elapsed());
    assert!(has(&desk, "Save the sheet"), "the dialog is still there");
    // whatever the chooser does, the field takes a path
    desk.get_by_role_and_label(Role::TextInput, "Path of the file").focus();
    desk.run_steps(2);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::A);
    desk.run_steps(2);
    desk.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(&sheet.display().to_string());
    desk.run_steps(2);
    desk.get_by_role_and_label(Role::Button, "Save").click();
    let begun = Instant::now();
    while !sheet.exists() && begun.elapsed() < Duration::from_secs(20) {
        desk.run_steps(2);
        std::thread::sleep(Duration::from_millis(5));
    }
    assert!(sheet.exists());
}

#[test]
fn a_sheet_saved_into_another_folder_still_finds_its_photos() {
    let folder = tempfile::tempdir().unwrap();
    let (one, two) = (folder.path().join("one"), folder.path().join("two"));
    std::fs::create_dir_all(one.join("photos")).unwrap();
    std::fs::create_dir_all(&two).unwrap();
    let (a, b) = (one.join("photos/a.jpg"), two.join("b.png"));
    std::fs::write(&a, b"jet").unwrap();
    std::fs::write(&b, b"float").unwrap();
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &one.join("truck.json"), "Save");
    go_to(&mut desk, "Carburettor");
    drop_files(&mut desk, &[&a]);
    drop_files(&mut desk, &[&b]);
    assert_eq!(photos(&desk), ["photos/a.jpg".to_owned(), b.display().to_string()]);
    press(&mut desk, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
    let saved = two.join("truck.json");
    type_path(&mut desk, &saved, "Save");
    // on disk and on the desk: each path leads from the new place to the same picture
    let on_disk = knockon_store::sheets::open(&saved).unwrap();
    assert_eq!(on_disk, *desk.state().sheet());
    let read = |n: usize| std::fs::read(two.join(&on_disk.photos["carburettor"][n])).unwrap();
    assert_eq!((read(0), read(1)), (b"jet".to_vec(), b"float".to_vec()));
    assert_eq!(on_disk.photos["carburettor"][1], "b.png", "inside the new folder it moves with the sheet");
    // the old sheet still has its own way there
    let old = knockon_store::sheets::open(&one.join("truck.json")).unwrap();
    assert!(old.photos.is_empty() || one.join(&old.photos["carburettor"][0]).exists());
    // and what is taken back and taken again leads there as well
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(photos(&desk), [a.display().to_string()]);
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    assert_eq!(*desk.state().sheet(), on_disk);
}
