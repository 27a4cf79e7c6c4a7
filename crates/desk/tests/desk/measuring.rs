//! What an open check wants is typed in its card and decides it.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

/// The third plan of the example, at a place with an open check: its key, the place, and the first value wanted.
fn open_check() -> (Desk, String, String) {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num3);
    let a = desk.state().assessment();
    let open = a.to_measure.iter().find(|m| m.wanted.len() == 1).expect("a check that one value decides");
    let place = a.positions.iter().find(|p| p.id == open.positions[0]).expect("its place").name.clone();
    let (key, name) = (open.key.clone(), open.wanted[0].name.clone());
    go_to(&mut desk, &place);
    (desk, key, name)
}

fn is_open(desk: &Desk, key: &str) -> bool {
    desk.state().assessment().to_measure.iter().any(|m| m.key == key)
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
