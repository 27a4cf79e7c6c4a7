//! What this vehicle was found with may differ from what the library has for its kind.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};
use knockon_core::library::Reversible;
use knockon_core::sheet::Route;

use crate::help::*;

const PLACE: &str = "Generator";

fn pick(desk: &mut Desk, words: &str) {
    let list = format!("As found, {PLACE}: ");
    desk.get_by_label_contains(&list).scroll_to_me();
    settle(desk);
    desk.get_by_label_contains(&list).click();
    settle(desk);
    let all = desk.get_all_by_label_contains(words).filter_map(|n| n.accesskit_node().label());
    let label = all.into_iter().find(|l| l.starts_with(words)).expect("it is in the list");
    desk.get_by_label(&label).scroll_to_me();
    settle(desk);
    desk.get_by_label(&label).click();
    settle(desk);
}

fn found(desk: &Desk) -> Option<String> {
    let place = desk.state().assessment().positions.iter().find(|p| p.name == PLACE).expect("a place");
    place.as_found.as_ref().map(|(id, _)| id.clone())
}

#[test]
fn another_part_or_nothing_was_found_and_that_can_be_taken_back() {
    let mut desk = board(None);
    go_to(&mut desk, PLACE);
    let before = desk.state().sheet().clone();
    let library = found(&desk).expect("the library has one");
    pick(&mut desk, "Nothing was there");
    assert_eq!(found(&desk), None);
    pick(&mut desk, "As the library has it");
    assert_eq!(found(&desk), Some(library.clone()));
    assert_eq!(*desk.state().sheet(), before);
    let other = "Alternator, 65 A, three-wire";
    pick(&mut desk, other);
    let now = found(&desk).expect("an alternator");
    assert!(now != library && now.starts_with("alternator-"), "{now}");
    // what is kept here is that part
    let place =
        desk.state().assessment().positions.iter().find(|p| p.name == PLACE).expect("a place").id.clone();
    let keep =
        desk.state().offered().into_iter().find(|o| o.route == Route::Keep).expect("keeping is on offer");
    let mut sheet = desk.state().sheet().clone();
    sheet.plans.get_mut(&sheet.plan.clone()).expect("the plan").routes.remove(&place);
    let kept = knockon_core::assess(&sheet, &sheet.plan, &knockon_store::library::shipped());
    let fitted =
        kept.positions.iter().find(|p| p.id == place).and_then(|p| p.fitted.clone()).map(|(id, _)| id);
    assert_eq!((fitted, keep.reversible), (Some(now), Reversible::Yes));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn two_keys_walk_what_is_unresolved_and_are_letters_where_one_types() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    let places: Vec<String> =
        desk.state().assessment().clashes.iter().map(|c| c.positions[0].clone()).collect();
    press(&mut desk, Modifiers::NONE, Key::J);
    assert_eq!(desk.state().selected().as_ref(), places.first());
    let second = places.iter().find(|place| **place != places[0]);
    press(&mut desk, Modifiers::NONE, Key::J);
    assert_eq!(desk.state().selected().as_ref(), second);
    press(&mut desk, Modifiers::NONE, Key::K);
    assert_eq!(desk.state().selected().as_ref(), places.first());
    press(&mut desk, Modifiers::COMMAND, Key::F);
    press(&mut desk, Modifiers::NONE, Key::J);
    assert_eq!(desk.state().selected().as_ref(), places.first(), "somebody types");
}
