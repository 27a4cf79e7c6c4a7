//! Nothing typed is lost and nothing else is touched: torn journals, two users, folders that go, links, other programs.

use std::fs;
use std::path::{Path, PathBuf};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_store::sheets;

use crate::help::*;

const CTRL: Modifiers = Modifiers::COMMAND;

/// A sheet in a folder, open on a desk with settings beside it.
pub struct Bench {
    pub folder: tempfile::TempDir,
    pub file: PathBuf,
    pub home: PathBuf,
}

impl Bench {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("sheets");
        fs::create_dir(&at).unwrap();
        let (file, home) = (at.join("truck.json"), folder.path().join("home"));
        let example = sheets::parse("example", knockon_store::library::example()).unwrap();
        sheets::save(&file, &example).unwrap();
        Self { folder, file, home }
    }

    pub fn open(&self) -> Desk {
        start(Some(self.file.clone()), Some(self.home.clone()))
    }

    fn beside(&self, suffix: &str) -> PathBuf {
        PathBuf::from(format!("{}{suffix}", self.file.display()))
    }

    fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.file.parent().unwrap()).unwrap();
        let mut names: Vec<_> =
            entries.map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

/// Types a note at a place and leaves the field.
fn note(desk: &mut Desk, place: &str, text: &str) {
    type_note(desk, place, text);
    press(desk, Modifiers::NONE, Key::Escape);
}

fn type_note(desk: &mut Desk, place: &str, text: &str) {
    go_to(desk, place);
    if !has(desk, &format!("Notes on {place}")) {
        unfold(desk, "Notes");
    }
    type_into(desk, Role::MultilineTextInput, &format!("Notes on {place}"), text);
}

pub fn type_into(desk: &mut Desk, role: Role, label: &str, text: &str) {
    desk.get_by_role_and_label(role, label).scroll_to_me();
    settle(desk);
    desk.get_by_role_and_label(role, label).focus();
    settle(desk);
    press(desk, CTRL, Key::A);
    desk.get_by_role_and_label(role, label).type_text(text);
    desk.run_steps(2);
}

fn unread(desk: &Desk) -> String {
    desk.state().unread().join("\n")
}

#[test]
fn what_stands_in_a_field_outlives_a_crash_in_the_next_moment() {
    let bench = Bench::new();
    let mut desk = bench.open();
    type_note(&mut desk, "Carburettor", "shaft bush worn");
    drop(desk);
    assert_eq!(sheets::open(&bench.file).unwrap().notes.get("carburettor"), None, "the file is left alone");
    let mut desk = bench.open();
    assert_eq!(desk.state().sheet().notes["carburettor"], "shaft bush worn");
    assert!(desk.state().message().is_some_and(|m| m.contains("being typed is back")));
    // it is a step like any other
    press(&mut desk, CTRL, Key::Z);
    assert_eq!(desk.state().sheet().notes.get("carburettor"), None);

    // a price and a supplier
    press(&mut desk, CTRL, Key::Num2);
    let line = desk.state().assessment().buy.iter().find(|l| l.waived.is_none()).unwrap().clone();
    type_into(&mut desk, Role::TextInput, &format!("Price each of {}", line.name), "12.34");
    drop(desk);
    let mut desk = bench.open();
    let paid = |desk: &Desk| desk.state().sheet().lines[&line.part].paid.clone().unwrap().to_string();
    assert!(paid(&desk).starts_with("12.34 "));
    press(&mut desk, CTRL, Key::Num2);
    type_into(&mut desk, Role::TextInput, &format!("Supplier of {}", line.name), "Mill Yard");
    drop(desk);
    let desk = bench.open();
    assert_eq!(desk.state().sheet().lines[&line.part].supplier, "Mill Yard");
    assert!(paid(&desk).starts_with("12.34 "), "what came back before is still there");
}

#[test]
fn what_cannot_be_read_comes_back_into_its_field() {
    let bench = Bench::new();
    let mut desk = bench.open();
    go_to(&mut desk, "Carburettor");
    unfold(&mut desk, "Photos");
    type_into(&mut desk, Role::TextInput, "Path of a photo of Carburettor", "/nowhere/a.jp");
    drop(desk);
    let mut desk = bench.open();
    let field = desk.get_by_role_and_label(Role::TextInput, "Path of a photo of Carburettor");
    assert_eq!(field.value().as_deref(), Some("/nowhere/a.jp"));
    press(&mut desk, CTRL, Key::Num2);
    let name = desk.state().assessment().buy.iter().find(|l| l.waived.is_none()).unwrap().name.clone();
    let label = format!("Price each of {name}");
    type_into(&mut desk, Role::TextInput, &label, "12.3.4");
    drop(desk);
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num2);
    assert_eq!(desk.get_by_role_and_label(Role::TextInput, &label).value().as_deref(), Some("12.3.4"));
}

#[test]
fn a_seen_word_a_date_and_a_reason_come_back_too() {
    let bench = Bench::new();
    let mut desk = bench.open();
    go_to(&mut desk, "Carburettor");
    type_into(&mut desk, Role::TextInput, "What was seen of Carburettor", "spindle loose");
    drop(desk);
    let mut desk = bench.open();
    assert_eq!(desk.state().sheet().survey["carburettor"].note, "spindle loose");
    go_to(&mut desk, "Carburettor");
    let label = "When was it made, of Carburettor";
    type_into(&mut desk, Role::TextInput, label, "1957");
    drop(desk);
    let desk = bench.open();
    assert_eq!(desk.state().sheet().made.get("carburettor").map(String::as_str), Some("1957"));
}

#[test]
fn a_name_being_given_comes_back_into_its_dialog() {
    let bench = Bench::new();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::K);
    go_to_typed(&mut desk, "Rename this sheet");
    let label = "Name";
    desk.get_by_role_and_label(Role::TextInput, label).type_text("The orchard");
    desk.run_steps(2);
    drop(desk);
    let mut desk = bench.open();
    assert_eq!(desk.get_by_role_and_label(Role::TextInput, label).value().as_deref(), Some("The orchard"));
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().sheet().name, "The orchard");
}

#[test]
fn changes_on_a_file_that_was_written_since_are_told() {
    let bench = Bench::new();
    let mut desk = bench.open();
    note(&mut desk, "Carburettor", "mine");
    drop(desk);
    let mut other = sheets::open(&bench.file).unwrap();
    other.name = "Written elsewhere".into();
    sheets::save(&bench.file, &other).unwrap();
    let desk = bench.open();
    let message = desk.state().message().unwrap_or_default().to_owned();
    assert!(
        message.contains("1 change that had not been saved is back") && message.contains("truck.json"),
        "{message}"
    );
    assert!(message.contains("written by another program since"), "{message}");
    let sheet = desk.state().sheet();
    assert_eq!((sheet.name.as_str(), sheet.notes["carburettor"].as_str()), ("Written elsewhere", "mine"));
}

#[test]
fn a_sheet_saved_over_another_keeps_what_was_never_saved_of_that() {
    let bench = Bench::new();
    let mut desk = bench.open();
    note(&mut desk, "Carburettor", "never saved");
    drop(desk);
    // on a desk that does not know the other sheet
    let mut desk = board(Some(bench.folder.path().join("other home")));
    press(&mut desk, CTRL, Key::S);
    type_path(&mut desk, &bench.file, "Save");
    click(&mut desk, "Replace it");
    assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")), "{:?}", desk.state().message());
    let told = unread(&desk);
    assert!(told.contains("never saved") && told.contains("truck.json.journal-unread-1"), "{told}");
    assert!(fs::read_to_string(bench.beside(".journal-unread-1")).unwrap().contains("never saved"));
    drop(desk);
    assert_eq!(bench.open().state().sheet().notes.get("carburettor"), None);
}

#[test]
fn one_changed_letter_of_a_journal_costs_one_change_and_is_told_until_it_is_read() {
    let bench = Bench::new();
    let mut desk = bench.open();
    for (place, text) in [("Carburettor", "one"), ("Radiator", "two"), ("Fan", "three")] {
        note(&mut desk, place, text);
    }
    drop(desk);
    let journal = bench.beside(".journal");
    let mut bytes = fs::read(&journal).unwrap();
    let at = bytes.windows(3).rposition(|w| w == b"two").unwrap();
    bytes[at] = 0xFF;
    fs::write(&journal, &bytes).unwrap();

    let mut desk = bench.open();
    let notes = desk.state().sheet().notes.clone();
    assert_eq!((notes["carburettor"].as_str(), notes["fan"].as_str()), ("one", "three"));
    assert!(!notes.contains_key("radiator"));
    let told = unread(&desk);
    assert!(told.contains("could not be read") && told.contains("truck.json.journal-unread-1"), "{told}");
    assert_eq!(fs::read(bench.beside(".journal-unread-1")).unwrap(), bytes);
    // whatever else is said, it stays; and no save takes the unread one away
    press(&mut desk, CTRL, Key::S);
    assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")), "{:?}", desk.state().message());
    assert!(has(&desk, "truck.json.journal-unread-1"));
    click(&mut desk, "I have read this");
    assert_eq!(unread(&desk), "");
    assert_eq!(
        bench.names(),
        ["truck.json", "truck.json.bak", "truck.json.journal-unread-1", "truck.json.lock"]
    );
}

#[test]
fn another_user_is_kept_out_and_takes_nobody_s_changes_for_a_crash() {
    let bench = Bench::new();
    let mut first = bench.open();
    note(&mut first, "Carburettor", "mine");
    let journal = fs::read(bench.beside(".journal")).unwrap();
    let other = bench.folder.path().join("other home");
    let mut second = start(Some(bench.file.clone()), Some(other));
    assert!(second.state().message().is_some_and(|m| m.contains("is open in another window")));
    assert_eq!(second.state().sheet().notes.get("carburettor"), None);
    press(&mut second, CTRL, Key::S);
    assert!(second.state().message().is_some_and(|m| m.contains("save under another name")));
    drop(second);
    assert_eq!(fs::read(bench.beside(".journal")).unwrap(), journal);
    drop(first);
    assert_eq!(bench.open().state().sheet().notes["carburettor"], "mine");
}

#[test]
fn where_the_folder_takes_no_journal_the_settings_folder_does() {
    let bench = Bench::new();
    // nothing can be appended to a folder, whoever asks
    fs::create_dir(bench.beside(".journal")).unwrap();
    let mut desk = bench.open();
    note(&mut desk, "Carburettor", "kept");
    note(&mut desk, "Fan", "too");
    let told = unread(&desk);
    assert!(told.contains("truck.json.journal") && told.contains("journals"), "{told}");
    drop(desk);
    let mut desk = bench.open();
    assert_eq!(desk.state().sheet().notes["carburettor"], "kept");
    assert_eq!(desk.state().sheet().notes["fan"], "too");
    press(&mut desk, CTRL, Key::S);
    assert_eq!(sheets::open(&bench.file).unwrap().notes["fan"], "too");
    assert_eq!(fs::read_dir(bench.home.join("journals")).unwrap().count(), 0);
}

#[test]
fn a_folder_that_has_gone_is_told_and_never_made_anew() {
    let bench = Bench::new();
    let mut desk = bench.open();
    let (at, away) = (bench.file.parent().unwrap().to_owned(), bench.folder.path().join("away"));
    fs::rename(&at, &away).unwrap();
    note(&mut desk, "Carburettor", "kept");
    assert!(!at.exists(), "made anew in silence");
    let told = unread(&desk);
    assert!(told.contains("no such file or folder") && told.contains("journals"), "{told}");
    press(&mut desk, CTRL, Key::S);
    let message = desk.state().message().unwrap_or_default().to_owned();
    assert!(message.contains("is the folder still there?"), "{message}");
    assert!(!at.exists());
    drop(desk);
    // the stick is back
    fs::rename(&away, &at).unwrap();
    assert_eq!(bench.open().state().sheet().notes["carburettor"], "kept");
}

#[test]
fn a_file_written_by_another_program_with_the_same_length_and_time_is_asked_about() {
    let bench = Bench::new();
    let mut desk = bench.open();
    note(&mut desk, "Carburettor", "mine");
    let time = fs::metadata(&bench.file).unwrap().modified().unwrap();
    let text = fs::read_to_string(&bench.file).unwrap().replace("hay and milk", "milk and hay");
    fs::write(&bench.file, &text).unwrap();
    fs::File::options().append(true).open(&bench.file).unwrap().set_modified(time).unwrap();
    press(&mut desk, CTRL, Key::S);
    let asked = "The file was changed by another program since it was opened";
    assert!(has(&desk, asked));
    assert_eq!(fs::read_to_string(&bench.file).unwrap(), text);
    click(&mut desk, "Replace it");
    assert_eq!(sheets::open(&bench.file).unwrap().notes["carburettor"], "mine");
    assert_eq!(fs::read_to_string(bench.beside(".bak")).unwrap(), text);
}

#[test]
fn saving_twice_keeps_the_version_before_the_change() {
    let bench = Bench::new();
    let first = fs::read(&bench.file).unwrap();
    let mut desk = bench.open();
    note(&mut desk, "Carburettor", "mine");
    for _ in 0..3 {
        press(&mut desk, CTRL, Key::S);
        assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")));
    }
    assert_eq!(fs::read(bench.beside(".bak")).unwrap(), first);
    // where it cannot be written, saving goes on and says so
    fs::remove_file(bench.beside(".bak")).unwrap();
    fs::create_dir_all(bench.beside(".bak").join("x")).unwrap();
    note(&mut desk, "Fan", "more");
    press(&mut desk, CTRL, Key::S);
    assert_eq!(sheets::open(&bench.file).unwrap().notes["fan"], "more");
    let told = unread(&desk);
    assert!(told.contains("truck.json.bak") && told.contains("could not be kept"), "{told}");
}

#[cfg(unix)]
#[test]
fn planted_links_are_not_followed_and_the_sheet_s_own_is() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let bench = Bench::new();
    let diary = bench.folder.path().join("diary");
    fs::write(&diary, "mine").unwrap();
    for suffix in [".new", ".bak", ".journal", ".lock"] {
        symlink(&diary, bench.beside(suffix)).unwrap();
    }
    fs::set_permissions(&bench.file, fs::Permissions::from_mode(0o600)).unwrap();
    // by a link of the user's own, from another folder
    let link = bench.folder.path().join("link.json");
    symlink(&bench.file, &link).unwrap();
    let mut desk = start(Some(link.clone()), Some(bench.home.clone()));
    note(&mut desk, "Carburettor", "mine");
    press(&mut desk, CTRL, Key::S);
    assert_eq!(sheets::open(&bench.file).unwrap().notes["carburettor"], "mine");
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink(), "still a link");
    assert_eq!(fs::read_to_string(&diary).unwrap(), "mine");
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    assert_eq!((mode(&bench.file), mode(&bench.beside(".bak"))), (0o600, 0o600));
    drop(desk);
    assert_eq!(fs::read_to_string(&diary).unwrap(), "mine");
}

#[cfg(unix)]
#[test]
fn a_picture_that_is_none_is_not_handed_to_the_viewer() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let bench = Bench::new();
    let at = bench.file.parent().unwrap().to_owned();
    let (viewer, seen) = (bench.folder.path().join("viewer"), bench.folder.path().join("seen"));
    fs::write(&viewer, format!("#!/bin/sh\necho \"$1\" > '{}'\n", seen.display())).unwrap();
    fs::set_permissions(&viewer, fs::Permissions::from_mode(0o755)).unwrap();
    fs::create_dir_all(&bench.home).unwrap();
    let settings = format!("{{\"viewer\": \"{}\", \"started\": true}}", viewer.display());
    fs::write(bench.home.join("config.json"), settings).unwrap();
    let run = at.join("run.desktop");
    fs::write(&run, "[Desktop Entry]\nExec=rm\n").unwrap();
    symlink(&run, at.join("link.jpg")).unwrap();
    fs::write(at.join("text.jpg"), "no picture").unwrap();
    let outside = bench.folder.path().join("outside.png");
    image::GrayImage::new(8, 8).save(&outside).unwrap();
    fs::copy(&outside, at.join("good.png")).unwrap();
    let pipe = at.join("pipe.jpg");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let mut sheet = sheets::open(&bench.file).unwrap();
    let paths = ["link.jpg", "text.jpg", "pipe.jpg", "../outside.png", "good.png"];
    sheet.photos.insert("carburettor".into(), paths.iter().map(|p| (*p).to_owned()).collect());
    sheets::save(&bench.file, &sheet).unwrap();
    let mut desk = bench.open();
    go_to(&mut desk, "Carburettor");
    for (name, why) in [
        ("link.jpg", "which does not end like a picture"),
        ("text.jpg", "there is none in it"),
        ("pipe.jpg", "no plain file"),
        ("outside.png", "outside the folder"),
    ] {
        let word = if name.starts_with("pipe") { "Missing" } else { "Open" };
        click(&mut desk, &format!("{word} photo {name}"));
        let message = desk.state().message().unwrap_or_default().to_owned();
        assert!(message.contains(why), "{name}: {message}");
        assert!(!seen.exists(), "{name}");
    }
    click(&mut desk, "Open photo good.png");
    // the viewer is a program of its own
    let begun = std::time::Instant::now();
    while !seen.exists() || fs::read_to_string(&seen).unwrap().is_empty() {
        assert!(begun.elapsed() < std::time::Duration::from_secs(30), "the viewer was not started");
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    assert!(fs::read_to_string(&seen).unwrap().trim().ends_with("good.png"));
}
