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

/// Drops files on the window.
pub fn drop_files(desk: &mut Desk, paths: &[&Path]) {
    for path in paths {
        desk.input_mut().dropped_files.push(Arc::new(Dropped((*path).to_owned())));
    }
    settle(desk);
}

/// The first bytes of a picture.
const JPEG: &[u8] = &[0xFF, 0xD8, 0xFF, 0xE0, 0, 16, b'J', b'F', b'I', b'F', 0, 1];

fn photos(desk: &Desk) -> Vec<String> {
    desk.state().sheet().photos.get("carburettor").cloned().unwrap_or_default()
}

fn type_photo(desk: &mut Desk, path: &str) {
    let field = "Path of a photo of Carburettor";
    if !has(desk, field) {
        unfold(desk, "Photos");
    }
    desk.get_by_role_and_label(Role::TextInput, field).scroll_to_me();
    settle(desk);
    desk.get_by_role_and_label(Role::TextInput, field).focus();
    settle(desk);
    desk.get_by_role_and_label(Role::TextInput, field).type_text(path);
    settle(desk);
}

#[test]
fn a_photo_is_named_by_its_path_taken_off_and_brought_back() {
    let folder = tempfile::tempdir().unwrap();
    let photo = folder.path().join("throttle shaft.jpg");
    std::fs::write(&photo, JPEG).unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    type_photo(&mut desk, &photo.display().to_string());
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(photos(&desk), [photo.display().to_string()]);
    assert!(has(&desk, "Open photo throttle shaft.jpg"));
    click(&mut desk, "Take photo throttle shaft.jpg off");
    assert!(photos(&desk).is_empty());
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(photos(&desk).len(), 1);
}

#[test]
fn what_is_no_picture_is_told_at_once_and_not_named() {
    let folder = tempfile::tempdir().unwrap();
    let text = folder.path().join("notes.jpg");
    std::fs::write(&text, "not a picture at all").unwrap();
    std::fs::write(folder.path().join("notes.txt"), "nor this").unwrap();
    std::fs::write(folder.path().join("empty.png"), "").unwrap();
    std::fs::create_dir(folder.path().join("folder.jpg")).unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    for (name, why) in [
        ("gone.jpg", "there is no file"),
        ("notes.jpg", "there is none in it"),
        ("empty.png", "there is none in it"),
        ("notes.txt", "does not end like a picture"),
        ("folder.jpg", "cannot be read"),
    ] {
        type_photo(&mut desk, &folder.path().join(name).display().to_string());
        click(&mut desk, "Add the photo");
        let message = desk.state().message().unwrap_or_default().to_owned();
        assert!(message.contains(why) && message.contains(name), "{message}");
        assert!(photos(&desk).is_empty());
        // what was typed is still there to be put right
        press(&mut desk, Modifiers::COMMAND, Key::A);
        let field = "Path of a photo of Carburettor";
        assert!(desk.get_by_role_and_label(Role::TextInput, field).value().is_some_and(|v| v.contains(name)));
        desk.get_by_role_and_label(Role::TextInput, field).focus();
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        press(&mut desk, Modifiers::NONE, Key::Delete);
    }
    drop_files(&mut desk, &[&text]);
    assert!(photos(&desk).is_empty());
}

#[test]
fn a_photo_that_is_gone_is_shown_as_missing_with_its_path() {
    let folder = tempfile::tempdir().unwrap();
    let photo = folder.path().join("jet.jpg");
    std::fs::write(&photo, JPEG).unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    drop_files(&mut desk, &[&photo]);
    let missing = format!("Missing: there is no file {}", photo.display());
    assert!(has(&desk, "Open photo jet.jpg") && !has(&desk, &missing));
    std::fs::remove_file(&photo).unwrap();
    press(&mut desk, Modifiers::NONE, Key::Escape);
    go_to(&mut desk, "Carburettor");
    assert!(has(&desk, "Missing photo jet.jpg") && has(&desk, &missing));
}

#[test]
fn a_photo_that_is_added_moves_nothing_above_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    type_photo(&mut desk, "x");
    let place = |desk: &Desk| {
        desk.get_by_role_and_label(Role::TextInput, "Path of a photo of Carburettor").rect().top()
    };
    let before = place(&desk);
    for name in ["a.jpg", "b.jpg", "c.jpg"] {
        let photo = folder.path().join(name);
        std::fs::write(&photo, JPEG).unwrap();
        desk.input_mut().dropped_files.push(Arc::new(Dropped(photo)));
        // frame by frame, also while offers are worked out anew
        for _ in 0..6 {
            desk.step();
            assert_eq!(place(&desk), before, "{name}");
        }
        settle(&mut desk);
        assert_eq!(place(&desk), before, "{name}");
    }
    assert_eq!(photos(&desk).len(), 3);
}

#[test]
fn a_photo_opens_with_a_viewer_or_its_path_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let photo = folder.path().join("jet.png");
    let seen = folder.path().join("seen");
    std::fs::create_dir_all(&home).unwrap();
    image::GrayImage::new(8, 8).save(&photo).unwrap();
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
    assert!(has(&desk, "Missing photo jet.png"));
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
    std::fs::write(&a, JPEG).unwrap();
    std::fs::write(&b, JPEG).unwrap();
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
    std::fs::write(&a, [JPEG, b"jet"].concat()).unwrap();
    std::fs::write(&b, [JPEG, b"float"].concat()).unwrap();
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
    assert!(read(0).ends_with(b"jet") && read(1).ends_with(b"float"));
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
