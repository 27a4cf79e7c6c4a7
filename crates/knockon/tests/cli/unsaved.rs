//! What a window has not saved is told and counted in where it is wanted; and no text of a file reaches a terminal raw.

use std::fs;

use knockon_core::Edit;
use knockon_core::sheet::{Choice, Route};
use knockon_store::disk::Machine;
use knockon_store::journal::{Head, Line, Writer};
use knockon_store::sheets;

use super::{knockon, prints, refused};

#[test]
fn a_journal_with_newer_changes_is_told_and_can_be_counted_in() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("truck.json");
    let file = path.to_str().unwrap();
    fs::write(&path, knockon_store::library::example()).unwrap();
    let assess = ["assess", file, "--plan", "sound", "--on", "2026-03-01"];
    let before = prints(&assess);
    let mut writer = Writer::new(folder.path().join("truck.json.journal"), Head::default(), None);
    let choice = Some(Choice { route: Route::LeaveOff, part: None });
    let edit = Edit::Choose { plan: "sound".into(), position: "fan".into(), choice };
    writer.add(&Machine, &[Line::Edit(edit)]).unwrap();
    let output = knockon(&assess);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("truck.json: not counted in: 1 change from a window")
            && said.contains("--with-unsaved"),
        "{said}"
    );
    assert_eq!((output.status.code(), String::from_utf8(output.stdout).unwrap()), (Some(0), before.clone()));
    for command in [&assess[..], &["buy", file], &["whatif", file, "--position", "fan", "--route", "renew"]] {
        let with = knockon(&[command, &["--with-unsaved"]].concat());
        assert_eq!((with.status.code(), String::from_utf8(with.stderr).unwrap().as_str()), (Some(0), ""));
        assert!(!String::from_utf8(knockon(command).stderr).unwrap().is_empty(), "{command:?}");
    }
    assert_ne!(prints(&[&assess[..], &["--with-unsaved"]].concat()), before);
    // it is only looked at
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    // what is in the file already is nothing new
    let mut sheet = sheets::open(&path).unwrap();
    let choice = Choice { route: Route::LeaveOff, part: None };
    sheet.plans.get_mut("sound").unwrap().routes.insert("fan".into(), choice);
    sheets::save(&path, &sheet).unwrap();
    prints(&assess);
}

#[test]
fn control_characters_are_shown_and_not_sent() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("truck\u{1b}]0;owned\u{7}.json");
    let file = path.to_str().unwrap();
    let evil = "\\u001b[2J\\u0007\\u009b31m\\u202egnp";
    let text = knockon_store::library::example().replacen("Sound first", evil, 1).replacen(
        "\"tank\": {",
        "\"t\\u001b[8mnk\": {",
        1,
    );
    fs::write(&path, text).unwrap();
    let obeyed = |text: &[u8]| {
        let text = String::from_utf8(text.to_vec()).unwrap();
        text.chars().find(|c| c.is_control() && *c != '\n' || *c == '\u{202e}')
    };
    for rest in [&["--plan", "sound"][..], &["--plan", "sound", "--json"], &["--plan", "nosuch\u{1b}[2J"]] {
        for command in ["assess", "buy"] {
            if command == "buy" && rest.contains(&"--json") {
                continue;
            }
            let output = knockon(&[&[command, file], rest].concat());
            assert_eq!((obeyed(&output.stdout), obeyed(&output.stderr)), (None, None), "{command} {rest:?}");
        }
    }
    assert!(refused(1, &["assess", file, "--plan", "x"]).contains("<1B>]0;owned<07>"));
    for wrong in [&["assess", "--nosuch\u{1b}[2J"][..], &["whatev\u{1b}[2J", "a", "b"]] {
        assert_eq!(obeyed(refused(2, wrong).as_bytes()), None, "{wrong:?}");
    }
    let output = knockon(&["library", "check", folder.path().join("\u{1b}c").to_str().unwrap()]);
    assert_eq!((obeyed(&output.stdout), obeyed(&output.stderr)), (None, None));
    assert!(refused(1, &["figure", "tyre", "code=\u{1b}[2J"]).contains("<1B>[2J"));
}

#[test]
fn where_no_window_can_be_opened_it_fails_and_prints_the_assessment() {
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_knockon"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .output()
        .unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(said.contains("no display") && !said.contains("os error"), "{said}");
    assert!(String::from_utf8(output.stdout).unwrap().contains("Barn pickup"));
}
