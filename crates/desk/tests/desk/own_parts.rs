//! Parts of the user's own: typed, checked, saved, chosen, changed, taken out.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::sheet::{Choice, Route};

use crate::help::*;

const PLACE: &str = "Carburettor";

fn form(desk: &mut Desk) {
    go_to(desk, PLACE);
    click(desk, "Add my own part here…");
}

fn put(desk: &mut Desk, field: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, field).focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
    settle(desk);
}

fn saved(desk: &mut Desk) -> String {
    form(desk);
    put(desk, "Name of the part", "Carburettor from the shed");
    put(desk, "Price of the part", "45");
    put(desk, "Hours to fit the part", "1.5");
    put(desk, "Supplier of the part", "a neighbour");
    press(desk, Modifiers::NONE, Key::Enter);
    desk.state().sheet().parts.keys().next().expect("saved").clone()
}

#[test]
fn a_saved_part_stands_among_the_routes_of_its_place_and_undo_takes_it_out() {
    let mut desk = board(None);
    let before = desk.state().sheet().clone();
    let id = saved(&mut desk);
    let part = &desk.state().sheet().parts[&id];
    assert_eq!((part.name.as_str(), part.class.as_str()), ("Carburettor from the shed", "carburettor"));
    assert_eq!(part.price.as_ref().map(ToString::to_string), Some("45.00 USD".to_owned()));
    assert_eq!((part.hours, part.supplier.as_str()), (Some(1.5), "a neighbour"));
    assert!(!part.ports.is_empty(), "ports come from the part as found");
    // back on the board, at its place, on offer
    assert_eq!(desk.state().selected(), Some("carburettor".to_owned()));
    let offer = desk.state().offered().into_iter().find(|o| o.part.as_ref() == Some(&id)).expect("on offer");
    assert_eq!(offer.route, Route::Convert);
    assert!(has(&desk, "Convert to Carburettor from the shed"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
    assert!(!has(&desk, "Convert to Carburettor from the shed"));
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    assert!(has(&desk, "Convert to Carburettor from the shed"));
}

#[test]
fn what_cannot_be_read_says_so_in_its_place_and_is_never_lost() {
    let mut desk = board(None);
    form(&mut desk);
    assert!(has(&desk, "A new part for: Carburettor"));
    put(&mut desk, "Name of the part", "From the shed");
    put(&mut desk, "Price of the part", "ten");
    assert!(has(&desk, "\"ten\" is no price: expected an amount such as 412.50"));
    let bore = "neck outside diameter of air-horn";
    let bore = if has(&desk, bore) { bore.to_owned() } else { first_size(&desk) };
    put(&mut desk, &bore, "3.5 psi");
    assert!(has(&desk, "Expected a length"), "{bore}");
    // it cannot be saved as it stands, by Enter or by the button
    press(&mut desk, Modifiers::NONE, Key::Enter);
    click(&mut desk, "Save the part");
    assert!(desk.state().sheet().parts.is_empty());
    // away and back: everything is still there
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    form(&mut desk);
    assert_eq!(value(&desk, &bore), "3.5 psi");
    assert_eq!(value(&desk, "Price of the part"), "ten");
    put(&mut desk, "Price of the part", "10");
    put(&mut desk, &bore, "2-5/8 in");
    assert!(has(&desk, "= 66.7 mm"));
    click(&mut desk, "Save the part");
    let part = desk.state().sheet().parts.values().next().expect("saved").clone();
    assert!(part.ports.values().any(|p| p.fields.values().any(|v| v.as_str() == Some("2-5/8 in"))));
}

fn value(desk: &Desk, field: &str) -> String {
    desk.get_by_role_and_label(Role::TextInput, field).value().unwrap_or_default()
}

/// The first field of a port that holds millimetres.
fn first_size(desk: &Desk) -> String {
    desk.query_all_by_role(Role::TextInput)
        .find(|n| n.value().is_some_and(|v| v.ends_with(" mm")))
        .and_then(|n| n.accesskit_node().label())
        .expect("a size")
}

#[test]
fn a_part_can_be_changed_and_taken_out_of_the_plans_that_use_it() {
    let mut desk = board(None);
    let id = saved(&mut desk);
    let offer = desk.state().offered().into_iter().find(|o| o.part.as_ref() == Some(&id)).expect("on offer");
    desk.get_by_label_contains("Convert to Carburettor from the shed").scroll_to_me();
    settle(&mut desk);
    desk.get_by_label_contains("Convert to Carburettor from the shed").click();
    settle(&mut desk);
    let plan = desk.state().sheet().plan.clone();
    let choice = Choice { route: Route::Convert, part: offer.part.clone() };
    assert_eq!(desk.state().sheet().plans[&plan].routes["carburettor"], choice);
    // from the palette to the page, to the part
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "my parts");
    desk.get_by(|n| {
        n.role() == Role::Button && n.label().is_some_and(|l| l.starts_with("Carburettor from the shed"))
    })
    .click();
    settle(&mut desk);
    put(&mut desk, "Price of the part", "60 EUR");
    click(&mut desk, "Save the part");
    assert_eq!(
        desk.state().sheet().parts[&id].price.as_ref().map(ToString::to_string),
        Some("60.00 EUR".to_owned())
    );
    assert_eq!(desk.state().sheet().parts.len(), 1);
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "my parts");
    desk.get_by(|n| {
        n.role() == Role::Button && n.label().is_some_and(|l| l.starts_with("Carburettor from the shed"))
    })
    .click();
    settle(&mut desk);
    click(&mut desk, "Take it out of the sheet");
    assert!(desk.state().sheet().parts.is_empty());
    assert!(!desk.state().sheet().plans[&plan].routes.contains_key("carburettor"));
    assert!(desk.state().assessment().problems.is_empty());
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.state().sheet().plans[&plan].routes["carburettor"], choice);
}

#[test]
fn pools_are_rows_that_come_and_go() {
    let mut desk = board(None);
    form(&mut desk);
    click(&mut desk, "Add what the part gives or takes");
    // the list is longer than what is in sight
    desk.get_all_by_label("electrical load at idle").last().expect("in the list").scroll_to_me();
    settle(&mut desk);
    desk.get_all_by_label("electrical load at idle").last().expect("in the list").click();
    settle(&mut desk);
    put(&mut desk, "electrical load at idle of the part", "2 mm");
    assert!(has(&desk, "Expected a current"));
    put(&mut desk, "electrical load at idle of the part", "2 A");
    put(&mut desk, "Name of the part", "Carburettor with a heated choke");
    put(&mut desk, "Price of the part", "0");
    click(&mut desk, "Save the part");
    let part = desk.state().sheet().parts.values().next().expect("saved").clone();
    assert_eq!(part.takes["idle-load"], "2 A");
}

#[test]
fn what_is_typed_outlives_the_window_until_it_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let mut desk = board(Some(home.clone()));
    form(&mut desk);
    put(&mut desk, "Name of the part", "Half a carburettor");
    let size = first_size(&desk);
    put(&mut desk, &size, "66 mmm");
    drop(desk);
    let mut desk = start(None, Some(home.clone()));
    assert!(desk.state().sheet().parts.is_empty());
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "my parts");
    desk.get_by_label_contains("Half a carburettor").click();
    settle(&mut desk);
    assert_eq!(value(&desk, &size), "66 mmm");
    put(&mut desk, &size, "66 mm");
    put(&mut desk, "Price of the part", "5");
    click(&mut desk, "Save the part");
    assert_eq!(desk.state().sheet().parts.len(), 1);
    drop(desk);
    let mut desk = start(None, Some(home));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "my parts");
    assert!(!has(&desk, "Begun, not saved"));
}
