//! What the vehicle is: numbers, dates, counter and wear typed in, and what follows told beside them.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
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
    assert!(has(&desk, "Believed: 141000 miles"));
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
