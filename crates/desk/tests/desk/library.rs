//! The library page: found by port and number, tried on the vehicle, two parts side by side, and the way to the board.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};

use crate::help::*;

fn library_page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num5);
    settle(&mut desk);
    desk
}

fn ask(desk: &mut Desk, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, "Find in the library").focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "Find in the library").type_text(text);
    settle(desk);
}

/// Lines of the list that are drawn, by how they begin.
fn lines(desk: &Desk, lead: &str) -> Vec<String> {
    let all = desk.query_all_by_role(Role::Button).filter_map(|n| n.accesskit_node().label());
    all.filter(|label| label.starts_with(lead)).collect()
}

#[test]
fn all_parts_stand_there_and_only_those_in_sight_are_drawn() {
    let desk = library_page();
    let count = knockon_store::library::shipped().parts.len();
    assert!(has(&desk, &format!("{count} parts")));
    // 768 points hold 25 lines of 30
    let drawn = desk.query_all_by_role(Role::Button).count();
    assert!((20..90).contains(&drawn), "{drawn}");
}

#[test]
fn a_number_finds_says_why_and_what_is_not_known() {
    let mut desk = library_page();
    ask(&mut desk, "carburettor between 200 and 350 cfm");
    assert!(has(&desk, "6 parts, 9 more not known"));
    assert!(
        lines(&desk, "Carburettor, two-barrel downdraft, manual choke, Carburettor")
            .iter()
            .any(|l| l.contains("255 cfm"))
    );
    assert!(has(&desk, "May answer"));
    // in the units of the reader, once they are others
    press(&mut desk, Modifiers::NONE, Key::Escape);
    ask(&mut desk, "qwertz");
    assert!(has(&desk, "passed over") && has(&desk, "No part answers"));
}

#[test]
fn a_part_is_tried_on_the_vehicle_and_leads_to_its_place() {
    let mut desk = library_page();
    ask(&mut desk, "alternator 100 A three-wire");
    let before = desk.state().sheet().clone();
    let line =
        lines(&desk, "Alternator, 100 A, three-wire, internal regulator, with narrow pulley").remove(0);
    desk.get_by_label(&line).click();
    settle(&mut desk);
    assert!(has(&desk, "Where it fits") && has(&desk, "Takes the place of: "));
    assert!(has(&desk, "Generator: "));
    click(&mut desk, "Show Generator on the board");
    settle(&mut desk);
    assert!(desk.state().page_is_board());
    assert_eq!(desk.state().selected().as_deref(), Some("generator"));
    // looking changes nothing
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn two_parts_stand_side_by_side_and_escape_closes_one_thing_at_a_time() {
    let mut desk = library_page();
    ask(&mut desk, "alternator");
    let of = |desk: &Desk, lead: &str| lines(desk, lead).remove(0);
    let first = of(&desk, "Alternator, 65 A, three-wire");
    desk.get_by_label(&first).click();
    settle(&mut desk);
    click(&mut desk, "Lay another beside it…");
    let second = of(&desk, "Alternator, 140 A, three-wire");
    desk.get_by_label(&second).click();
    settle(&mut desk);
    assert!(has(&desk, "Two parts side by side") && has(&desk, "rated output (differs)"));
    assert!(has(&desk, "65 A") && has(&desk, "140 A"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "Two parts side by side") && has(&desk, "Where it fits"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "Where it fits"));
}

#[test]
fn arrows_walk_the_list_from_the_field() {
    let mut desk = library_page();
    ask(&mut desk, "ends in 3/8-24 inverted flare");
    assert!(has(&desk, "On this vehicle:"));
    press(&mut desk, Modifiers::NONE, Key::ArrowDown);
    settle(&mut desk);
    assert!(has(&desk, "Where it fits"));
    let first = desk.query_all_by_role(Role::Button).filter_map(|n| n.accesskit_node().label()).count();
    press(&mut desk, Modifiers::NONE, Key::ArrowDown);
    settle(&mut desk);
    assert!(first > 0 && has(&desk, "Where it fits"));
}
