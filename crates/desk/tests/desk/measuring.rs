//! What an open check wants is typed in its card and decides it.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use knockon_core::key::{CheckKey, FactKey};
use knockon_core::sheet::Route;

use crate::help::*;

/// The third plan of the example, at a place with an open check: its key, the place, and the first value wanted.
fn open_check() -> (Desk, CheckKey, String) {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num3);
    let a = desk.state().assessment();
    let open = a.to_measure.iter().find(|m| m.wanted.len() == 1).expect("a check that one value decides");
    let place = a.positions.iter().find(|p| p.id == open.positions[0]).expect("its place").name.clone();
    let (key, name) = (open.key.clone(), open.wanted[0].name.clone());
    go_to(&mut desk, &place);
    (desk, key, name)
}

fn is_open(desk: &Desk, key: &CheckKey) -> bool {
    desk.state().assessment().to_measure.iter().any(|m| m.key == *key)
}

fn type_into(desk: &mut Desk, field: &str, text: &str) {
    let first = |desk: &Desk| desk.get_all_by_label(field).next().is_some();
    assert!(first(desk), "{field}");
    desk.get_all_by_label(field).next().unwrap().scroll_to_me();
    settle(desk);
    desk.get_all_by_label(field).next().unwrap().click();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_all_by_label(field).next().unwrap().type_text(text);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

#[test]
fn a_value_that_is_measured_decides_its_check_and_can_be_taken_back() {
    let (mut desk, key, name) = open_check();
    let field = format!("Measured: {name}");
    let before = desk.state().sheet().clone();
    // what cannot be read stays where it is, with the reason
    type_into(&mut desk, &field, "twelve");
    assert_eq!(*desk.state().sheet(), before);
    assert!(desk.query_all_by_label_contains("xpected").next().is_some());
    type_into(&mut desk, &field, "12 mm");
    assert_eq!(desk.state().sheet().facts.len(), before.facts.len() + 1);
    assert!(!is_open(&desk, &key), "{name} was all that was wanted");
    assert!(has(&desk, "Measured here"));
    click(&mut desk, &format!("Take back {name}"));
    assert_eq!(*desk.state().sheet(), before);
    assert!(is_open(&desk, &key));
}

/// What cannot be read keeps the keyboard: typed again at once, the value goes into the field and no key takes a route.
#[test]
fn a_value_that_is_refused_keeps_the_keyboard() {
    let (mut desk, key, name) = open_check();
    let field = format!("Measured: {name}");
    let before = desk.state().sheet().clone();
    type_into(&mut desk, &field, "twelve");
    assert!(desk.get_all_by_label(&field).next().unwrap().is_focused());
    assert!(desk.query_all_by_label_contains("xpected").next().is_some(), "the reason stands by it");
    press(&mut desk, Modifiers::NONE, Key::Num1);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    assert_eq!(desk.state().sheet().plans, before.plans);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_all_by_label(&field).next().unwrap().type_text("12 mm");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(!is_open(&desk, &key), "{name} was all that was wanted");
    assert!(!desk.get_all_by_label(&field).next().unwrap().is_focused());
}

/// The first plan of the example with another carburettor on the pump as found, in a file. The carburettor is one of the
/// owner's own where its flange is not known.
fn on_the_old_pump(folder: &std::path::Path, own: bool) -> Desk {
    let mut sheet =
        knockon_store::sheets::parse("the example", knockon_store::library::example()).expect("the example");
    sheet.plan = "sound".to_owned();
    if own {
        let library = knockon_store::library::shipped();
        let mut own = (*library.part("one-barrel-large").expect("a carburettor").part).clone();
        own.name = "Carburettor from the shed".to_owned();
        let fields = &mut own.ports.get_mut("flange").expect("a flange").fields;
        fields.insert("pattern".to_owned(), "unknown: lay a rule over the studs".into());
        sheet.parts.insert("shed-carburettor".to_owned(), knockon_core::library::Written::whole(own));
    }
    let routes = &mut sheet.plans.get_mut("sound").expect("the plan").routes;
    routes.remove("fuel-pump");
    let part = Some(if own { "shed-carburettor" } else { "two-barrel-small" }.to_owned());
    routes.insert("carburettor".to_owned(), knockon_core::sheet::Choice { route: Route::Convert, part });
    let file = folder.join("truck.json");
    knockon_store::sheets::save(&file, &sheet).expect("it is saved");
    let mut desk = start(Some(file), Some(folder.join("home")));
    go_to(&mut desk, if own { "Carburettor" } else { "Fuel pump" });
    desk
}

const FLOW: &str = "flow.flow@furrow-fuel-pump";

#[test]
fn a_value_measured_at_a_joint_decides_it_and_outlives_undo_save_and_the_window() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = on_the_old_pump(folder.path(), false);
    let before = desk.state().sheet().clone();
    assert!(is_open(&desk, &CheckKey::joint("fuel-flow")));
    assert!(has(&desk, "Pump fuel into a can"));
    type_into(&mut desk, "Measured: flow", "forty");
    assert_eq!(*desk.state().sheet(), before);
    type_into(&mut desk, "Measured: flow", "40 L/h");
    assert_eq!(desk.state().sheet().facts[FLOW], "40 L/h");
    assert!(!is_open(&desk, &CheckKey::joint("fuel-flow")) && has(&desk, "Measured here"));

    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
    assert!(is_open(&desk, &CheckKey::joint("fuel-flow")));
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    assert!(!is_open(&desk, &CheckKey::joint("fuel-flow")));
    press(&mut desk, Modifiers::COMMAND, Key::S);
    drop(desk);

    let file = folder.path().join("truck.json");
    let mut desk = start(Some(file), Some(folder.path().join("home")));
    assert_eq!(desk.state().sheet().facts[FLOW], "40 L/h");
    assert!(!is_open(&desk, &CheckKey::joint("fuel-flow")));
    // too weak: which pump goes in is the owner's to decide, and he is told that this one does not do
    go_to(&mut desk, "Fuel pump");
    type_into(&mut desk, "Measured: flow", "20 L/h");
    let pump = |desk: &Desk| {
        let a = desk.state().assessment();
        a.positions.iter().find(|p| p.id == "fuel-pump").and_then(|p| p.fitted.clone()).expect("a pump").0
    };
    let flow = CheckKey::joint("fuel-flow");
    assert!(desk.state().assessment().clashes.iter().any(|c| c.key == flow));
    desk.get_by_label("Take back flow").scroll_to_me();
    settle(&mut desk);
    click(&mut desk, "Take back flow");
    assert_eq!(desk.state().sheet().facts, before.facts);
    assert!(is_open(&desk, &CheckKey::joint("fuel-flow")));
    assert_eq!(pump(&desk), "furrow-fuel-pump");
}

/// Saved with the keyboard still in the field: what can be read is kept, half a value stays where it is.
#[test]
fn a_value_still_being_typed_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = on_the_old_pump(folder.path(), false);
    let file = folder.path().join("truck.json");
    let facts = || knockon_store::sheets::open(&file).unwrap().facts;
    let field = "Measured: flow";
    desk.get_by_label(field).scroll_to_me();
    settle(&mut desk);
    desk.get_by_label(field).click();
    settle(&mut desk);
    for (text, saved) in [("40 L", None), ("/h", Some("40 L/h"))] {
        desk.get_by_label(field).type_text(text);
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::S);
        assert_eq!(facts().get(FLOW).and_then(|v| v.as_str()), saved);
    }
    assert!(!is_open(&desk, &CheckKey::joint("fuel-flow")));
}

/// A word is one click, where the library knows it.
#[test]
fn a_word_that_the_library_knows_is_clicked() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = on_the_old_pump(folder.path(), true);
    let a = desk.state().assessment();
    let key: FactKey = "flange.pattern@shed-carburettor".parse().unwrap();
    let asked = a.to_measure.iter().find(|m| m.wanted.iter().any(|w| w.key == key)).expect("its flange");
    let (check, wanted) = (asked.key.clone(), asked.wanted.iter().find(|w| w.key == key).cloned().unwrap());
    assert!(wanted.words.iter().any(|w| w == "2-stud, 2-11/16 in centres"), "{wanted:?}");
    let button = format!("Measured: {}: 2-stud, 2-11/16 in centres", wanted.name);
    desk.get_by_label(&button).scroll_to_me();
    settle(&mut desk);
    click(&mut desk, &button);
    assert_eq!(desk.state().sheet().facts[&key.to_string()], "2-stud, 2-11/16 in centres");
    assert!(!is_open(&desk, &check));
}

/// Who types a figure where a measurement is asked means the measurement: no route is taken by it.
#[test]
fn figures_typed_where_a_measurement_is_asked_go_into_its_field() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    let n = desk.state().assessment().totals.to_measure;
    desk.get_by_role_and_label(Role::Button, &format!("{n} to measure")).click();
    settle(&mut desk);
    let check = desk.state().assessment().to_measure[0].clone();
    let a = desk.state().assessment();
    let title = a.checks.iter().find(|c| c.reason == Some(check.reason)).expect("a check").name.clone();
    button(&desk, &title).expect("its entry").click();
    settle(&mut desk);
    let field = format!("Measured: {}", check.wanted[0].name);
    assert!(desk.query_all_by_label(&field).any(|n| n.is_focused()), "the field has the keyboard");
    // elsewhere in the panel a figure leads there, and takes nothing
    press(&mut desk, Modifiers::NONE, Key::Tab);
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::NONE, Key::Num2);
    assert!(*desk.state().sheet() == before);
    assert!(desk.query_all_by_label(&field).any(|n| n.is_focused()));
}
