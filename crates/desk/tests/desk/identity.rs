//! What the vehicle is: numbers, dates, counter and wear typed in, and what follows told beside them.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};
use knockon_core::sheet::Trust;

use crate::help::*;

fn page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    click(&mut desk, "what it is");
    desk
}

fn identity(desk: &Desk) -> knockon_core::sheet::Identity {
    desk.state().sheet().identity.clone().unwrap_or_default()
}

#[test]
fn a_number_that_differs_is_told_and_undo_takes_it_back() {
    let mut desk = page();
    let before = identity(&desk);
    assert!(has(&desk, "The numbers of each thing agree"));
    let n = before.marks.len() + 1;
    write(&mut desk, &format!("Where it stands, number {n}"), "casting date of the block");
    let mark = identity(&desk).marks.last().unwrap().clone();
    assert_eq!(
        (mark.what.as_str(), mark.of.as_str(), mark.trust),
        ("casting date of the block", "block", Trust::Likely)
    );
    // made after the vehicle was built
    write(&mut desk, &format!("The day it tells, number {n}"), "1964-03");
    assert!(has(&desk, "it was replaced"));
    // a day that is none stays in its field and says why
    write(&mut desk, &format!("The day it tells, number {n}"), "in spring");
    assert!(has(&desk, "in spring"));
    assert_eq!(identity(&desk).marks.last().unwrap().dated.as_deref(), Some("1964-03"));
    write(&mut desk, &format!("The day it tells, number {n}"), "1957-12");
    assert!(!has(&desk, "it was replaced"));
    write(&mut desk, "As it stands there, number 2", "F10-58-0471");
    assert!(has(&desk, "the numbers differ"));
    click(&mut desk, &format!("How far it is trusted, number {n}: likely"));
    assert_eq!(identity(&desk).marks.last().unwrap().trust, Trust::Doubtful);
    click(&mut desk, &format!("Take out: casting date of the block, number {n}"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(identity(&desk).marks.len(), n);
    for _ in 0..5 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(identity(&desk), before);
}

#[test]
fn the_counter_is_held_against_the_wear() {
    let mut desk = page();
    // five figures and wear of 120,000 to 160,000 miles: it went round once
    assert!(has(&desk, "Believed: 141,000 miles") && has(&desk, "The counter shows 41,000 miles."));
    write(&mut desk, "The counter shows", "41,000");
    assert_eq!(identity(&desk).counter.as_deref(), Some("41000 miles"));
    write(&mut desk, "At most, wear 2", "130000");
    assert!(has(&desk, "The wear fits none of what the counter can mean"));
    write(&mut desk, "At least, wear 1", "many");
    assert!(has(&desk, "Expected a distance such as 41000 miles"));
    write(&mut desk, "At least, wear 1", "150000");
    assert!(has(&desk, "The wear contradicts itself"));
    write(&mut desk, "Whole figures of the counter", "12");
    assert!(has(&desk, "Expected the whole figures of the counter"));
}

/// What stands in a field that has the keyboard, by its name.
fn focused(desk: &Desk) -> String {
    let node = desk.query_all_by_role(Role::TextInput).find(|n| n.is_focused());
    node.map_or_else(String::new, |n| n.accesskit_node().label().unwrap_or_default())
}

/// What is wrong with a field, as a reader says it; nothing where it can be read.
fn wrong(desk: &Desk, field: &str) -> String {
    let node = desk.get_by_role_and_label(Role::TextInput, field);
    node.accesskit_node().data().description().unwrap_or_default().to_owned()
}

#[test]
fn every_field_that_is_wrong_says_so_and_each_by_itself() {
    let mut desk = page();
    write(&mut desk, "Built", "in spring");
    write(&mut desk, "The counter shows", "many");
    write(&mut desk, "At least, wear 1", "more");
    for (field, typed) in
        [("Built", "in spring"), ("The counter shows", "many"), ("At least, wear 1", "more")]
    {
        assert!(wrong(&desk, field).contains(typed), "{field}: {}", wrong(&desk, field));
    }
    // each goes with its own cause
    write(&mut desk, "The counter shows", "41,000");
    assert_eq!(wrong(&desk, "The counter shows"), "");
    assert!(wrong(&desk, "Built").contains("in spring") && wrong(&desk, "At least, wear 1").contains("more"));
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    write(&mut desk, "Budget", "much");
    write(&mut desk, "Kept back, per cent", "some");
    assert!(wrong(&desk, "Budget").contains("much"));
    assert!(wrong(&desk, "Kept back, per cent").contains("some"));
}

#[test]
fn columns_have_heads_and_distances_have_their_thousands_parted() {
    let desk = page();
    for head in
        ["where it stands", "of what", "as it stands there", "the day it tells", "how far trusted", "at most"]
    {
        let heads = desk.query_all_by_role(Role::ColumnHeader);
        assert!(heads.into_iter().any(|n| n.accesskit_node().label().as_deref() == Some(head)), "{head}");
    }
    // each stands over its column
    let over = |head: &str, field: &str| {
        let left = desk.get_by_role_and_label(Role::ColumnHeader, head).rect().left();
        left - desk.get_by_role_and_label(Role::TextInput, field).rect().left()
    };
    assert!(over("as it stands there", "As it stands there, number 2").abs() < 1.0);
    assert!(over("what shows it", "What shows it, number 1").abs() < 1.0);
    assert!(over("at most", "At most, wear 1").abs() < 1.0);
    let counter = desk.get_by_role_and_label(Role::TextInput, "The counter shows");
    assert_eq!(counter.value().as_deref(), Some("41,000 miles"));
    assert_eq!(identity(&desk).counter.as_deref(), Some("41000 miles"));
}

#[test]
fn enter_leads_from_row_to_row() {
    let mut desk = page();
    let n = identity(&desk).marks.len() + 1;
    for (at, what) in [(n, "casting date of the block"), (n + 1, "axle tag"), (n + 2, "body plate")] {
        assert_eq!(identity(&desk).marks.len(), at - 1);
        write(&mut desk, &format!("Where it stands, number {at}"), what);
        assert_eq!(focused(&desk), format!("Where it stands, number {}", at + 1));
    }
    // where nothing is typed it stays, and where something is wrong as well
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(focused(&desk), format!("Where it stands, number {}", n + 3));
    write(&mut desk, &format!("The day it tells, number {n}"), "in spring");
    assert_eq!(focused(&desk), format!("The day it tells, number {n}"));
    let wears = identity(&desk).wear.len();
    write(&mut desk, &format!("What is worn, wear {}", wears + 1), "door hinges");
    assert_eq!(focused(&desk), format!("What is worn, wear {}", wears + 2));
}

/// A click takes in the field it leaves, and does what it was meant for: neither loses the other.
#[test]
fn a_number_typed_is_kept_by_the_click_that_leaves_it() {
    let mut desk = page();
    desk.get_by_role_and_label(Role::TextInput, "As it stands there, number 2").focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "As it stands there, number 2").type_text("F10-99");
    desk.run_steps(2);
    // with the pointer: an action of a reader would leave the keyboard where it is
    let at = desk.get_by_label("How far it is trusted, number 2: likely").rect().center();
    desk.hover_at(at);
    for pressed in [true, false] {
        let button = egui::PointerButton::Primary;
        desk.event(egui::Event::PointerButton { pos: at, button, pressed, modifiers: Modifiers::NONE });
    }
    settle(&mut desk);
    let mark = identity(&desk).marks[1].clone();
    assert_eq!((mark.text.as_str(), mark.trust), ("F10-99", Trust::Doubtful));
}
