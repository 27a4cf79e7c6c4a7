//! A sheet gets another plan, which begins as the one that is open; plans are named and taken out, and undo brings them back.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::sheet::{Choice, Route};

use crate::help::*;

/// Takes a command out of the palette.
fn command(desk: &mut Desk, label: &str) {
    go_to(desk, label);
}

fn name(desk: &mut Desk, text: &str) {
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "Name").type_text(text);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

fn plan_names(desk: &Desk) -> Vec<String> {
    desk.state().sheet().plans.values().map(|p| p.name.clone()).collect()
}

fn open_plan(desk: &Desk) -> String {
    let sheet = desk.state().sheet();
    sheet.plans[&sheet.plan].name.clone()
}

#[test]
fn another_plan_begins_as_the_one_that_is_open() {
    let (mut desk, offer) = converted(None);
    let first = desk.state().sheet().clone();
    command(&mut desk, "Another plan like this");
    name(&mut desk, "The cheap way");
    let sheet = desk.state().sheet().clone();
    assert_eq!(open_plan(&desk), "The cheap way");
    assert_eq!(sheet.plans.len(), first.plans.len() + 1);
    assert_eq!(sheet.plans[&sheet.plan].routes, first.plans[&first.plan].routes);
    assert_eq!(desk.state().assessment().plan, sheet.plan);

    // what is chosen now leaves the first plan as it is
    let positions = &desk.state().assessment().positions;
    let place = positions.iter().find(|p| p.id == offer.position).unwrap().name.clone();
    go_to(&mut desk, &place);
    press(&mut desk, Modifiers::NONE, Key::Num1);
    say_yes(&mut desk);
    let sheet = desk.state().sheet().clone();
    let kept = |c: Option<&Choice>| c.is_none_or(|c| c.route == Route::Keep);
    assert!(kept(sheet.plans[&sheet.plan].routes.get(&offer.position)));
    assert_eq!(sheet.plans[&first.plan].routes, first.plans[&first.plan].routes);

    for _ in 0..2 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*desk.state().sheet(), first);
}

#[test]
fn a_plan_is_renamed_and_taken_out_and_the_last_one_stays() {
    let mut desk = board(None);
    let (first, names) = (desk.state().sheet().clone(), plan_names(&board(None)));
    command(&mut desk, "Rename this plan");
    name(&mut desk, "Mine");
    assert_eq!((open_plan(&desk).as_str(), plan_names(&desk).len()), ("Mine", names.len()));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), first);
    for left in (1..names.len()).rev() {
        command(&mut desk, "Take this plan out");
        assert_eq!(desk.state().sheet().plans.len(), left);
        assert!(desk.state().message().is_some_and(|m| m.contains("Undo brings it back")));
    }
    command(&mut desk, "Take this plan out");
    assert_eq!(desk.state().sheet().plans.len(), 1);
    assert!(
        desk.state().message().is_some_and(|m| m.contains("cannot be done")),
        "{:?}",
        desk.state().message()
    );
    for _ in 1..names.len() {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*desk.state().sheet(), first);
}

#[test]
fn the_sheet_gets_another_name_and_none_is_no_name() {
    let mut desk = board(None);
    command(&mut desk, "Rename this sheet");
    name(&mut desk, "The orchard truck");
    assert_eq!(desk.state().sheet().name, "The orchard truck");
    command(&mut desk, "Rename this sheet");
    name(&mut desk, " ");
    assert_eq!(desk.state().sheet().name, "The orchard truck");
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "Its file keeps its name."));
}
