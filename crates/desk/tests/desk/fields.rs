//! What stands in fields that belong to no line of the sheet comes back too, and no field reaches into another sheet.

use std::path::PathBuf;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::Sheet;
use knockon_store::sheets;

use crate::help::*;
use crate::photos::drop_files;
use crate::trust::{Bench, type_into};

const CTRL: Modifiers = Modifiers::COMMAND;

fn value(desk: &Desk, label: &str) -> String {
    desk.get_by_role_and_label(Role::TextInput, label).value().unwrap_or_default()
}

#[test]
fn what_was_written_in_on_the_fit_up_page_comes_back() {
    let bench = Bench::new();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num3);
    type_into(&mut desk, Role::TextInput, "New tyre", "31x10.50R15LT");
    click(&mut desk, "Brake share");
    type_into(&mut desk, Role::TextInput, "Weight on the front at rest", "4o %");
    drop(desk);
    assert!(!sheets::open(&bench.file).unwrap().extra.contains_key("fitup"), "the sheet is left alone");
    let mut desk = bench.open();
    assert!(
        desk.state().message().is_some_and(|m| m.contains("fit-up page")),
        "{:?}",
        desk.state().message()
    );
    press(&mut desk, CTRL, Key::Num3);
    click(&mut desk, "Tyre, old and new");
    assert_eq!(value(&desk, "New tyre"), "31x10.50R15LT");
    assert!(has(&desk, "Written in by you"));
    click(&mut desk, "Brake share");
    assert_eq!(value(&desk, "Weight on the front at rest"), "4o %");
    click(&mut desk, "Back to the start");
    drop(desk);
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num3);
    click(&mut desk, "Brake share");
    assert_ne!(value(&desk, "Weight on the front at rest"), "4o %");
}

#[test]
fn before_the_page_is_shown_again_nothing_of_it_is_lost_either() {
    let bench = Bench::new();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num3);
    type_into(&mut desk, Role::TextInput, "New tyre", "31x10.50R15LT");
    drop(desk);
    for _ in 0..2 {
        let mut desk = bench.open();
        go_to(&mut desk, "Carburettor");
    }
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num3);
    assert_eq!(value(&desk, "New tyre"), "31x10.50R15LT");
}

#[test]
fn the_name_of_a_sheet_not_begun_yet_comes_back() {
    let bench = Bench::new();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::N);
    desk.get_by_role_and_label(Role::TextInput, "Name of the sheet").type_text("The one in the orchard");
    desk.run_steps(2);
    drop(desk);
    let desk = bench.open();
    assert_eq!(value(&desk, "Name of the sheet"), "The one in the orchard");
}

#[test]
fn a_field_that_is_half_typed_reaches_into_no_other_sheet() {
    let bench = Bench::new();
    let other = bench.folder.path().join("other.json");
    let sheet = Sheet { name: "The other".into(), ..sheets::open(&bench.file).unwrap() };
    sheets::save(&other, &sheet).unwrap();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num2);
    let line = desk.state().assessment().buy.iter().find(|l| l.waived.is_none()).unwrap().clone();
    type_into(&mut desk, Role::TextInput, &format!("Price each of {}", line.name), "12.34");
    drop_files(&mut desk, &[&other]);
    assert_eq!(desk.state().sheet().name, "The other");
    press(&mut desk, CTRL, Key::Num1);
    press(&mut desk, CTRL, Key::S);
    let paid = |path: &PathBuf| {
        let lines = sheets::open(path).unwrap().lines;
        lines.get(&line.part).and_then(|l| l.paid.clone()).map(|paid| paid.to_string())
    };
    assert_eq!(paid(&other), sheet.lines.get(&line.part).and_then(|l| l.paid.clone()).map(|p| p.to_string()));
    drop(desk);
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::S);
    assert!(paid(&bench.file).unwrap().starts_with("12.34 "));
}

#[test]
fn a_half_typed_field_of_a_sheet_without_a_file_goes_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let other = folder.path().join("other.json");
    let example = sheets::parse("example", knockon_store::library::example()).unwrap();
    sheets::save(&other, &example).unwrap();
    let home = folder.path().join("home");
    let mut desk = board(Some(home.clone()));
    go_to(&mut desk, "Carburettor");
    type_into(&mut desk, Role::TextInput, "What was seen of Carburettor", "spindle loose");
    drop_files(&mut desk, &[&other]);
    let told = desk.state().message().unwrap_or_default().to_owned();
    assert!(told.contains("unsaved-"), "{told}");
    let aside = std::fs::read_dir(home).unwrap().map(|e| e.unwrap().path());
    let aside = aside.filter(|p| p.file_name().is_some_and(|n| n.to_string_lossy().starts_with("unsaved-")));
    let aside = aside.filter(|p| p.extension().is_some_and(|e| e == "json"));
    let notes: Vec<String> =
        aside.map(|p| sheets::open(&p).unwrap().survey["carburettor"].note.clone()).collect();
    assert_eq!(notes, ["spindle loose"]);
}

#[test]
fn what_the_vehicle_is_and_where_it_goes_come_back_half_typed() {
    let bench = Bench::new();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num7);
    click(&mut desk, "what it is");
    type_into(&mut desk, Role::TextInput, "Built", "in the spring or so");
    drop(desk);
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num7);
    click(&mut desk, "what it is");
    assert_eq!(value(&desk, "Built"), "in the spring or so");
    // what can be read is taken in with the save, though the field was not left
    type_into(&mut desk, Role::TextInput, "Built", "1957-11");
    press(&mut desk, CTRL, Key::S);
    let identity = sheets::open(&bench.file).unwrap().identity.unwrap();
    assert_eq!(identity.built.as_deref(), Some("1957-11"));
    go_to(&mut desk, "Where it goes");
    type_into(&mut desk, Role::TextInput, "Why it is said anew", "half a rea");
    drop(desk);
    let desk = bench.open();
    assert_eq!(value(&desk, "Why it is said anew"), "half a rea");
}

#[test]
fn what_cannot_be_read_yet_reaches_into_no_other_sheet() {
    let bench = Bench::new();
    let other = bench.folder.path().join("other.json");
    let sheet = Sheet { name: "The other".into(), ..sheets::open(&bench.file).unwrap() };
    sheets::save(&other, &sheet).unwrap();
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num7);
    click(&mut desk, "what it is");
    type_into(&mut desk, Role::TextInput, "Built", "in the spring or so");
    press(&mut desk, CTRL, Key::Num8);
    type_into(&mut desk, Role::TextInput, "Budget", "lots");
    drop_files(&mut desk, &[&other]);
    assert_eq!(desk.state().sheet().name, "The other");
    press(&mut desk, CTRL, Key::Num8);
    assert_ne!(value(&desk, "Budget"), "lots");
    press(&mut desk, CTRL, Key::Num7);
    click(&mut desk, "what it is");
    assert_ne!(value(&desk, "Built"), "in the spring or so");
    drop(desk);
    // the sheet it belongs to has it still
    let mut desk = bench.open();
    press(&mut desk, CTRL, Key::Num8);
    assert_eq!(value(&desk, "Budget"), "lots");
}

#[test]
fn what_is_half_typed_of_the_vehicle_comes_back_and_reaches_into_no_other_sheet() {
    let bench = Bench::new();
    let other = bench.folder.path().join("other.json");
    let sheet = Sheet { name: "The other".into(), ..sheets::open(&bench.file).unwrap() };
    sheets::save(&other, &sheet).unwrap();
    let tank = |desk: &mut Desk| {
        press(desk, CTRL, Key::Num6);
        type_into(desk, Role::TextInput, "Find a place of the vehicle", "fuel tank");
        let is_it = |n: &egui_kittest::Node<'_>| {
            use egui_kittest::kittest::NodeT;
            n.accesskit_node().label().unwrap_or_default().starts_with("Fuel tank")
        };
        desk.query_all_by_role(Role::Button).find(is_it).unwrap().click_accesskit();
        settle(desk);
    };
    let mut desk = bench.open();
    tank(&mut desk);
    type_into(&mut desk, Role::TextInput, "How many sit there", "a few");
    type_into(&mut desk, Role::TextInput, "Name of the vehicle", "The pickup of the mi");
    drop(desk);
    let mut desk = bench.open();
    // what can be taken is in the sheet, the rest in its field, and the place of it is open
    assert_eq!(desk.state().sheet().described.name, "The pickup of the mi");
    press(&mut desk, CTRL, Key::Num6);
    assert_eq!(value(&desk, "How many sit there"), "a few");
    assert!(has(&desk, "Expected a whole number from 1 to 1000, found \"a few\"."));
    drop_files(&mut desk, &[&other]);
    assert_eq!(desk.state().sheet().name, "The other");
    tank(&mut desk);
    assert_eq!(value(&desk, "How many sit there"), "1");
    assert_eq!(desk.state().sheet().described.name, sheet.described.name);
}
