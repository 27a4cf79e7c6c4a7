//! A vehicle of one's own, from "new" to the first companion, counted in keys and clicks.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::sheet::Route;

use crate::help::*;

/// A click on a control by the beginning of its name.
fn click_on(desk: &mut Desk, role: Role, name: &str) {
    let node = desk.query_all_by_role(role).find(|n| {
        use egui_kittest::kittest::NodeT;
        n.accesskit_node().label().unwrap_or_default().starts_with(name)
    });
    node.unwrap_or_else(|| panic!("no {role:?} \"{name}\"")).click_accesskit();
    settle(desk);
}

/// The page of the vehicle, for a van that begins with nothing: so many keys and clicks.
fn van(desk: &mut Desk) -> usize {
    press(desk, Modifiers::COMMAND, Key::N);
    click_on(desk, Role::RadioButton, "A blank sheet");
    desk.get_by_role_and_label(Role::TextInput, "Name of the sheet").type_text("1949 van");
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().sheet().described.name, "1949 van");
    assert!(has(desk, "What your vehicle has"), "the page of the vehicle comes first");
    1 + 1 + "1949 van".len() + 1
}

#[test]
fn a_van_nobody_foresaw_has_its_first_companion_within_sixty_keys_and_clicks() {
    let mut desk = board(None);
    let mut cost = van(&mut desk);
    for system in ["Fuel and mixture: tick", "Charging and starting: tick", "Ignition: tick"] {
        click_on(&mut desk, Role::Button, system);
        cost += 1;
    }
    let a = desk.state().assessment().clone();
    assert!(a.positions.len() > 15, "{}", a.positions.len());
    assert!(a.companions.is_empty() && a.clashes.is_empty() && a.problems.is_empty(), "{:?}", a.problems);
    // the charge comes from something else from now on
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    press(&mut desk, Modifiers::ALT, Key::E);
    cost += 1;
    let generator =
        a.positions.iter().find(|p| p.name.to_lowercase().contains("generator")).expect("a generator");
    go_to(&mut desk, &generator.name);
    // Ctrl+K, the name, Enter
    cost += 2 + generator.name.len();
    let offers = desk.state().offered();
    let brings = |o: &&knockon_core::assessment::Offer| {
        o.route == Route::Convert && (!o.companions_added.is_empty() || o.to_measure > 0)
    };
    let offer = offers.iter().find(brings).unwrap_or_else(|| panic!("nothing on offer: {offers:?}")).clone();
    let edit = knockon_core::Edit::Choose {
        plan: desk.state().sheet().plan.clone(),
        position: generator.id.clone(),
        choice: Some(knockon_core::sheet::Choice { route: offer.route, part: offer.part.clone() }),
    };
    let mut sheet = desk.state().sheet().clone();
    knockon_core::apply(&mut sheet, &edit).expect("a choice");
    cost += 1;
    let catalogue = knockon_store::library::shipped();
    let a = knockon_core::assess(&sheet, &sheet.plan, &catalogue);
    assert!(!a.companions.is_empty(), "{offer:?}");
    assert!(cost < 60, "{cost} keys and clicks");
}

#[test]
fn a_second_tank_and_a_second_shaft_come_and_go() {
    let mut desk = board(None);
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::Num6);
    for (place, second) in [("Fuel tank", "Second fuel tank"), ("Propeller shaft", "Second propeller shaft")]
    {
        desk.get_by_role_and_label(Role::TextInput, "Find a place of the vehicle").focus();
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        desk.get_by_role_and_label(Role::TextInput, "Find a place of the vehicle").type_text(place);
        settle(&mut desk);
        click_on(&mut desk, Role::Button, place);
        click_on(&mut desk, Role::Button, "Another like this");
        let named = |p: &knockon_core::assessment::PositionView| p.name == second;
        assert!(desk.state().assessment().positions.iter().any(named), "{second}");
        assert!(has(&desk, "Could meet, as on other vehicles"), "{second}");
    }
    assert!(desk.state().assessment().problems.is_empty(), "{:?}", desk.state().assessment().problems);
    click_on(&mut desk, Role::CheckBox, "Second propeller shaft is there");
    // out of the field, which has an undo of its own
    press(&mut desk, Modifiers::NONE, Key::Escape);
    for _ in 0..3 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn a_place_is_called_otherwise_and_numbers_that_are_none_are_told() {
    let mut desk = board(None);
    van(&mut desk);
    click_on(&mut desk, Role::CheckBox, "Fuel tank is there");
    for (field, text) in
        [("Name of the place", "Seat tank"), ("Where the place is", "front"), ("How many sit there", "2")]
    {
        desk.get_by_role_and_label(Role::TextInput, field).focus();
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
        settle(&mut desk);
        press(&mut desk, Modifiers::NONE, Key::Enter);
    }
    let sheet = desk.state().sheet().clone();
    let place = sheet.described.positions["fuel-tank"].clone().expect("it is there");
    assert_eq!((place.name.as_str(), place.qty), ("Seat tank", 2));
    assert_eq!(String::from(place.whereabouts), "front");
    desk.get_by_role_and_label(Role::TextInput, "How many sit there").focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "How many sit there").type_text("x");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(has(&desk, "Expected a whole number from 1 to 1000, found "), "beside its field");
    // it stays there to be put right, and counts for nothing
    let field = desk.get_by_role_and_label(Role::TextInput, "How many sit there");
    assert!(field.value().is_some_and(|value| value.contains('x')));
    assert_eq!(*desk.state().sheet(), sheet);
    // what is known of it is typed in: its ports with their fields
    click_on(&mut desk, Role::Button, "Type in what I know of it");
    assert!(has(&desk, "Change a part for: Seat tank"));
}
