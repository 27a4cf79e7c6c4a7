//! Print or save: what is on the screen is proposed, every paper is written in every format, nothing is written over unasked,
//! and it goes by the keyboard alone.

use std::path::Path;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};

use crate::help::*;

const NONE: Modifiers = Modifiers::NONE;

/// The example as a file in a folder of its own, past the start page.
fn opened(folder: &Path) -> Desk {
    let file = folder.join("truck.json");
    std::fs::write(&file, knockon_store::library::example()).unwrap();
    start(Some(file), Some(folder.join("home")))
}

fn ask(desk: &mut Desk) {
    press(desk, Modifiers::COMMAND, Key::P);
}

fn paper(desk: &Desk) -> String {
    let list = desk.query_all_by(|n| {
        n.role() == Role::ComboBox && n.label().is_some_and(|label| label.starts_with("Paper: "))
    });
    let label = list.map(|n| n.accesskit_node().label().unwrap_or_default()).next();
    label.expect("the dialog").trim_start_matches("Paper: ").to_owned()
}

fn path(desk: &Desk) -> String {
    desk.get_by_role_and_label(Role::TextInput, "Path of the file").value().unwrap_or_default()
}

#[test]
fn the_page_proposes_its_paper_and_enter_writes_it_beside_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    for (keys, wanted, file) in [
        (Key::Num1, "Build book", "barn-pickup-book.pdf"),
        (Key::Num2, "Buy list", "barn-pickup-buy-list.pdf"),
        (Key::Num8, "Buy list", "barn-pickup-buy-list.pdf"),
        (Key::Num4, "Job list", "barn-pickup-jobs.pdf"),
        (Key::Num7, "Walk-round sheet", "barn-pickup-walk-round.pdf"),
    ] {
        press(&mut desk, Modifiers::COMMAND, keys);
        ask(&mut desk);
        assert_eq!(paper(&desk), wanted);
        assert_eq!(Path::new(&path(&desk)), folder.path().join(file));
        press(&mut desk, NONE, Key::Escape);
    }
    // on the checks it is those
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    click(&mut desk, "before the road");
    ask(&mut desk);
    assert_eq!(paper(&desk), "Commissioning sheets");
    // by the keyboard alone: the path has it, Enter writes
    press(&mut desk, NONE, Key::Enter);
    let out = folder.path().join("barn-pickup-commissioning.pdf");
    assert_eq!(
        desk.state().message(),
        Some(format!("Commissioning sheets is in {}.", out.display()).as_str())
    );
    assert!(std::fs::read(&out).unwrap().starts_with(b"%PDF-1.7"));
}

#[test]
fn what_stands_beside_the_board_is_proposed_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    let a = desk.state().assessment();
    let (open, off) = (a.totals.to_measure, a.surplus.len());
    for (figure, wanted) in [
        (format!("{open} to measure"), "Measuring list"),
        (format!("{off} off the vehicle"), "Tags for what comes off"),
    ] {
        desk.get_by_role_and_label(Role::Button, &figure).click();
        settle(&mut desk);
        ask(&mut desk);
        assert_eq!(paper(&desk), wanted);
        press(&mut desk, NONE, Key::Escape);
    }
}

#[test]
fn each_format_is_written_as_what_it_is_and_the_path_follows() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    for (format, ending, begins) in [
        ("HTML", "html", "<!DOCTYPE html>".as_bytes()),
        ("XLSX", "xlsx", b"PK\x03\x04"),
        ("CSV", "csv", "\u{feff}zone,done,look at".as_bytes()),
        ("PDF", "pdf", b"%PDF-1.7"),
    ] {
        ask(&mut desk);
        click(&mut desk, &format!("Format: {format}"));
        let out = folder.path().join(format!("barn-pickup-walk-round.{ending}"));
        assert_eq!(Path::new(&path(&desk)), out);
        let pages = desk.get_by_role_and_label(Role::RadioButton, "Pages: A4");
        assert_eq!(pages.accesskit_node().is_disabled(), format != "PDF");
        desk.get_by_role_and_label(Role::Button, "Save").click();
        settle(&mut desk);
        assert!(std::fs::read(&out).unwrap().starts_with(begins), "{format}");
        assert!(desk.state().message().is_some_and(|m| m.contains("Walk-round sheet is in")));
    }
    // an ending says the format, and one that says none gets one
    for (name, written) in [("for ann.csv", "for ann.csv"), ("plan v1.2", "plan v1.2.csv")] {
        ask(&mut desk);
        type_path(&mut desk, &folder.path().join(name), "Save");
        assert!(
            std::fs::read(folder.path().join(written)).unwrap().starts_with("\u{feff}".as_bytes()),
            "{name}"
        );
    }
}

/// The size of the first page, in points: `/MediaBox [0 0 612 792]`, ISO 32000-1, 7.7.3.3.
fn media_box(path: &Path) -> String {
    let text = String::from_utf8_lossy(&std::fs::read(path).unwrap()).into_owned();
    let from = text.find("/MediaBox").expect("a page");
    text[from..].split(']').next().unwrap_or_default().to_owned()
}

#[test]
fn pages_are_of_the_size_that_was_chosen() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    for (size, points) in [("A4", "841.89"), ("Letter", "792")] {
        ask(&mut desk);
        click(&mut desk, &format!("Pages: {size}"));
        let out = folder.path().join(format!("{size}.pdf"));
        type_path(&mut desk, &out, "Save");
        assert!(media_box(&out).contains(points), "{size}: {}", media_box(&out));
    }
}

#[test]
fn nothing_is_written_over_unasked_and_never_the_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    let letter = folder.path().join("letter.pdf");
    std::fs::write(&letter, "a letter").unwrap();
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    ask(&mut desk);
    type_path(&mut desk, &letter, "Save");
    assert!(has(&desk, "There is a file of that name"));
    press(&mut desk, NONE, Key::Escape);
    assert_eq!(std::fs::read(&letter).unwrap(), b"a letter");
    ask(&mut desk);
    type_path(&mut desk, &letter, "Save");
    click(&mut desk, "Replace it");
    assert!(std::fs::read(&letter).unwrap().starts_with(b"%PDF"));
    // the sheet itself, whatever it is called
    let sheet = folder.path().join("sheet.csv");
    std::fs::hard_link(folder.path().join("truck.json"), &sheet).unwrap();
    let before = std::fs::read(&sheet).unwrap();
    ask(&mut desk);
    type_path(&mut desk, &sheet, "Save");
    click(&mut desk, "Replace it");
    assert!(desk.state().message().is_some_and(|m| m.contains("this is the sheet itself")));
    assert_eq!(std::fs::read(&sheet).unwrap(), before);
    // what cannot be written says what to do
    ask(&mut desk);
    type_path(&mut desk, &folder.path().join("no").join("list.pdf"), "Save");
    let message = desk.state().message().unwrap_or_default();
    assert!(message.contains("choose a folder you may write to"), "{message}");
}

#[test]
fn two_plans_are_held_against_each_other_and_one_alone_says_what_is_missing() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = opened(folder.path());
    let choose = |desk: &mut Desk| {
        ask(desk);
        let now = format!("Paper: {}", paper(desk));
        desk.get_by_role_and_label(Role::ComboBox, &now).click();
        settle(desk);
        desk.get_by_label("Two plans side by side").click();
        settle(desk);
    };
    choose(&mut desk);
    assert!(has(&desk, "Held against"));
    let out = folder.path().join("plans.csv");
    type_path(&mut desk, &out, "Save");
    let text = std::fs::read_to_string(&out).unwrap();
    assert!(text.lines().count() > 5, "{text}");
    // one plan alone
    let text = r#"{"format": 1, "name": "Barn", "vehicle": "furrow-10", "plan": "one", "plans": {"one": {"name": "One"}}}"#;
    let file = folder.path().join("barn.json");
    std::fs::write(&file, text).unwrap();
    let mut desk = start(Some(file), Some(folder.path().join("other home")));
    choose(&mut desk);
    assert!(has(&desk, "This sheet has one plan"));
    assert!(desk.get_by_role_and_label(Role::Button, "Save").accesskit_node().is_disabled());
}

#[test]
fn the_book_has_the_photos_and_says_which_are_not_in_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut sheet: serde_json::Value = serde_json::from_str(knockon_store::library::example()).unwrap();
    sheet["photos"] = serde_json::json!({"tank": ["seam.png", "gone.png"]});
    let photo = image::RgbImage::from_pixel(40, 30, image::Rgb([200, 60, 20]));
    photo.save(folder.path().join("seam.png")).unwrap();
    let file = folder.path().join("truck.json");
    std::fs::write(&file, sheet.to_string()).unwrap();
    let mut desk = start(Some(file), Some(folder.path().join("home")));
    ask(&mut desk);
    click(&mut desk, "Format: HTML");
    press(&mut desk, NONE, Key::Escape);
    ask(&mut desk);
    let out = folder.path().join("book.html");
    type_path(&mut desk, &out, "Save");
    let message = desk.state().message().unwrap_or_default().to_owned();
    assert!(
        message.contains("1 photo is not in it: there is no file") && message.contains("gone.png"),
        "{message}"
    );
    let html = std::fs::read_to_string(&out).unwrap();
    assert!(html.contains("Photo: seam") && html.contains("data:image/jpeg;base64,"));
}
