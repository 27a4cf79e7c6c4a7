//! One-way steps ask once, in place; the keyboard stays.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::assessment::Offer;
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
        // yes: the button has the keyboard
        press_number(&mut desk, &offer);
        assert!(desk.get_by_label(YES).is_focused());
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert!(!has(&desk, title));
        assert_eq!(chosen(&desk, &offer), offer.part);
        // once is enough
        press(&mut desk, Modifiers::COMMAND, Key::Z);
        assert_eq!(*desk.state().sheet(), before);
        press_number(&mut desk, &offer);
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
