//! One-way steps ask once, in place; the keyboard stays.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::assessment::Offer;
use knockon_core::key::CompanionKey;
use knockon_core::library::Reversible;

use crate::help::*;

const YES: &str = "Choose it all the same";
const NO: &str = "Leave it as it is";

/// Opens a place of the example whose offers hold a one-way step.
fn one_way(desk: &mut Desk, kind: Reversible) -> Offer {
    let places: Vec<String> = desk.state().assessment().positions.iter().map(|p| p.name.clone()).collect();
    for name in places {
        go_to(desk, &name);
        let found = desk.state().offered().into_iter().take(9).find(|o| o.reversible == kind && !o.current);
        if let Some(offer) = found {
            return offer;
        }
    }
    panic!("the example has no one-way step");
}

fn chosen(desk: &Desk, offer: &Offer) -> Option<String> {
    let sheet = desk.state().sheet();
    sheet.plans[&sheet.plan].routes.get(&offer.position).and_then(|c| c.part.clone())
}

fn press_number(desk: &mut Desk, offer: &Offer) {
    let at = desk.state().offered().iter().position(|o| o == offer).expect("on offer");
    press(desk, Modifiers::NONE, DIGITS[at]);
}

#[test]
fn a_step_that_cannot_be_undone_asks_and_the_keyboard_answers() {
    for (kind, title) in [
        (Reversible::No, "This cannot be undone"),
        (Reversible::Partly, "This can be undone only with repair"),
    ] {
        let mut desk = board(None);
        let offer = one_way(&mut desk, kind);
        let before = desk.state().sheet().clone();
        press_number(&mut desk, &offer);
        assert!(has(&desk, title) && has(&desk, &offer.name));
        assert_eq!(*desk.state().sheet(), before, "nothing happens before the answer");
        // no: with Escape, and nothing is changed
        press(&mut desk, Modifiers::NONE, Key::Escape);
        assert!(!has(&desk, title));
        assert_eq!(*desk.state().sheet(), before);
        assert_eq!(desk.state().selected(), Some(offer.position.clone()));
        // Enter alone is a no: it may have been typed before the question was seen
        press_number(&mut desk, &offer);
        assert!(desk.get_by_label(NO).is_focused());
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert!(!has(&desk, title));
        assert_eq!(*desk.state().sheet(), before);
        // yes: one Tab further
        press_number(&mut desk, &offer);
        press(&mut desk, Modifiers::NONE, Key::Tab);
        assert!(desk.get_by_label(YES).is_focused());
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert!(!has(&desk, title));
        assert_eq!(chosen(&desk, &offer), offer.part);
        // what was taken back is asked for again; to take it again is no new step
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(*desk.state().sheet(), before);
        press_number(&mut desk, &offer);
        assert!(has(&desk, title));
        press(&mut desk, Modifiers::NONE, Key::Escape);
        press(&mut desk, Modifiers::COMMAND, Key::Y);
        assert!(!has(&desk, title));
        assert_eq!(chosen(&desk, &offer), offer.part);
    }
}

#[test]
fn the_mouse_answers_and_going_elsewhere_is_a_no() {
    let mut desk = board(None);
    let offer = one_way(&mut desk, Reversible::Partly);
    let before = desk.state().sheet().clone();
    press_number(&mut desk, &offer);
    desk.get_by_label(NO).click();
    settle(&mut desk);
    assert!(!has(&desk, YES));
    press_number(&mut desk, &offer);
    let other =
        desk.state().assessment().positions.iter().find(|p| p.id != offer.position).map(|p| p.name.clone());
    go_to(&mut desk, &other.expect("another place"));
    assert!(!has(&desk, YES));
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn what_can_be_undone_happens_at_once() {
    let mut desk = board(None);
    let offer = one_way(&mut desk, Reversible::Yes);
    press_number(&mut desk, &offer);
    assert!(!has(&desk, YES));
    assert_eq!(chosen(&desk, &offer), offer.part);
}

/// A companion still to decide whose part is of this kind: key, part and name.
fn one_way_companion(desk: &Desk, kind: Reversible) -> (CompanionKey, String, String) {
    let library = knockon_store::library::shipped();
    let a = desk.state().assessment();
    let kind_of = |id: &str| library.part(id).map(|e| e.part.reversible);
    let mut all = a.companions.iter().filter(|c| !c.in_kit && !c.accepted && c.waived.is_none());
    let c = all.find(|c| kind_of(&c.part) == Some(kind)).expect("a companion of this kind");
    (c.key.clone(), c.part.clone(), c.name.clone())
}

/// On the board with the second plan of the example, which has more to decide.
fn wide_board() -> Desk {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    desk
}

fn accepted(desk: &Desk, key: &CompanionKey) -> bool {
    let sheet = desk.state().sheet();
    sheet.plans[&sheet.plan].accepted.contains(key)
}

#[test]
fn a_companion_that_cannot_be_undone_asks_by_mouse_and_by_key() {
    for (kind, title) in [
        (Reversible::No, "This cannot be undone"),
        (Reversible::Partly, "This can be undone only with repair"),
    ] {
        let mut desk = wide_board();
        let (key, _, name) = one_way_companion(&desk, kind);
        let before = desk.state().sheet().clone();
        go_to(&mut desk, &name);
        assert_eq!(desk.state().selected(), Some(key.to_string()), "{name}");
        click(&mut desk, "Accept");
        assert!(has(&desk, title), "{name}: {kind:?}");
        assert_eq!(*desk.state().sheet(), before, "nothing happens before the answer");
        press(&mut desk, Modifiers::NONE, Key::Escape);
        assert!(!has(&desk, title));
        assert_eq!(*desk.state().sheet(), before);
        // the space bar on the row asks as well
        let at = crate::keyboard::focused(&desk);
        press(&mut desk, Modifiers::NONE, Key::Space);
        assert!(has(&desk, title), "the keyboard is at {at:?}");
        assert!(desk.get_by_label(NO).is_focused());
        say_yes(&mut desk);
        assert!(!has(&desk, title) && accepted(&desk, &key));
        // taking the yes back never asks, and once is enough
        press(&mut desk, Modifiers::NONE, Key::Space);
        assert!(!has(&desk, title) && !accepted(&desk, &key));
        press(&mut desk, Modifiers::NONE, Key::Space);
        assert!(!has(&desk, title) && accepted(&desk, &key));
    }
}

#[test]
fn a_companion_that_can_be_undone_is_accepted_at_once() {
    let mut desk = wide_board();
    let (key, _, name) = one_way_companion(&desk, Reversible::Yes);
    go_to(&mut desk, &name);
    assert_eq!(desk.state().selected(), Some(key.to_string()));
    click(&mut desk, "Accept");
    assert!(!has(&desk, YES) && accepted(&desk, &key));
}

#[test]
fn picking_another_part_that_cannot_be_undone_asks() {
    let mut desk = wide_board();
    let library = knockon_store::library::shipped();
    let sheet = desk.state().sheet().clone();
    let one_way = |part: &str| library.part(part).is_some_and(|e| e.part.reversible != Reversible::Yes);
    let found = desk.state().assessment().companions.iter().find_map(|c| {
        let others = knockon_core::alternatives(&sheet, &sheet.plan, &library, &c.key);
        others.into_iter().find(|o| one_way(&o.part)).map(|o| (c.key.clone(), c.name.clone(), o))
    });
    let (key, name, other) = found.expect("the example has such a part to pick");
    go_to(&mut desk, &name);
    assert_eq!(desk.state().selected(), Some(key.to_string()));
    let pick = |desk: &mut Desk| {
        let row = desk.get_all_by_label_contains(&other.name).last().expect("it is on offer");
        row.scroll_to_me();
        settle(desk);
        desk.get_all_by_label_contains(&other.name).last().expect("it is on offer").click();
        settle(desk);
    };
    pick(&mut desk);
    assert!(has(&desk, YES), "{}", other.name);
    assert_eq!(*desk.state().sheet(), sheet);
    desk.get_by_label(YES).click();
    settle(&mut desk);
    assert_eq!(desk.state().sheet().plans[&sheet.plan].picks[&key], other.part);
}

/// A yes holds for what was done with it: what was taken back is asked for again.
#[test]
fn what_was_taken_back_is_asked_for_again() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    searched(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert!(has(&desk, "Choose it all the same"));
    say_yes(&mut desk);
    searched(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    searched(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert!(has(&desk, "Choose it all the same"));
}
