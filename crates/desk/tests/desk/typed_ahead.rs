//! What is typed faster than frames are drawn: every key arrives where it was meant to.

use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::library::Reversible;
use knockon_core::sheet::Route;

use crate::help::*;

/// A key going down and up, as the window hands it over.
fn keystroke(events: &mut Vec<Event>, key: Key, modifiers: Modifiers, text: Option<String>) {
    let going = |pressed| Event::Key { key, physical_key: None, pressed, repeat: false, modifiers };
    events.push(going(true));
    events.extend(text.map(Event::Text));
    events.push(going(false));
}

/// Keys that write nothing.
fn keys(events: &mut Vec<Event>, of: &[(Modifiers, Key)]) {
    for (modifiers, key) in of {
        keystroke(events, *key, *modifiers, None);
    }
}

/// Keys that write.
fn text(events: &mut Vec<Event>, written: &str) {
    for c in written.chars() {
        let key = Key::from_name(&c.to_string().to_uppercase()).unwrap_or(Key::Comma);
        keystroke(events, key, Modifiers::NONE, Some(c.to_string()));
    }
}

/// All of it in the input of one frame, as after a frame that took long.
fn at_once(desk: &mut Desk, events: Vec<Event>) {
    desk.input_mut().events.extend(events);
    // each key that leads elsewhere takes its own frame
    desk.run_steps(60);
    settle(desk);
}

const NONE: Modifiers = Modifiers::NONE;
const CTRL: Modifiers = Modifiers::COMMAND;

#[test]
fn a_path_typed_before_the_dialog_is_drawn_is_taken() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = converted(Some(folder.path().join("home")));
    let file = folder.path().join("quick.json");
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::S)]);
    text(&mut events, &file.display().to_string());
    keys(&mut events, &[(NONE, Key::Enter)]);
    at_once(&mut desk, events);
    assert!(file.exists(), "{:?}", desk.state().message());
    assert!(knockon_store::sheets::open(&file).unwrap() == *desk.state().sheet());
}

#[test]
fn a_place_a_route_and_the_save_after_it_are_taken_in_their_order() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = board(Some(folder.path().join("home")));
    let offer = conversion(&mut desk);
    let at = desk.state().offered().iter().position(|o| *o == offer).unwrap();
    let file = folder.path().join("truck.json");
    press(&mut desk, CTRL, Key::S);
    type_path(&mut desk, &file, "Save");
    press(&mut desk, NONE, Key::Escape);
    let place = desk.state().assessment().positions.iter().find(|p| p.id == offer.position).unwrap();
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::K)]);
    text(&mut events, &place.name.clone());
    keys(&mut events, &[(NONE, Key::Enter)]);
    keystroke(&mut events, DIGITS[at], NONE, Some((at + 1).to_string()));
    // where a step asks, no has the keyboard and yes is one Tab further
    if offer.reversible != Reversible::Yes {
        keys(&mut events, &[(NONE, Key::Tab), (NONE, Key::Enter)]);
    }
    keys(&mut events, &[(CTRL, Key::S)]);
    at_once(&mut desk, events);
    let written = knockon_store::sheets::open(&file).unwrap();
    let choice = &written.plans[&written.plan].routes[&offer.position];
    assert_eq!((choice.route, &choice.part), (Route::Convert, &offer.part));
}

#[test]
fn every_key_counts_once() {
    let mut desk = board(None);
    let before = desk.state().sheet().clone();
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    press(&mut desk, NONE, Key::Num1);
    let all = desk.state().sheet().clone();
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::Z), (CTRL, Key::Z)]);
    at_once(&mut desk, events);
    assert!(*desk.state().sheet() == before);
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::Y), (CTRL, Key::Y)]);
    at_once(&mut desk, events);
    assert!(*desk.state().sheet() == all);
    // two steps down the board are two rows
    let steps = [(NONE, Key::ArrowDown), (NONE, Key::ArrowDown), (NONE, Key::Enter)];
    press(&mut desk, NONE, Key::Escape);
    for (modifiers, key) in steps {
        press(&mut desk, modifiers, key);
    }
    let slow = desk.state().selected();
    press(&mut desk, NONE, Key::ArrowUp);
    press(&mut desk, NONE, Key::ArrowUp);
    press(&mut desk, NONE, Key::Escape);
    let mut events = Vec::new();
    keys(&mut events, &steps);
    at_once(&mut desk, events);
    assert_eq!(desk.state().selected(), slow);
}

#[test]
fn what_follows_the_slash_is_looked_for() {
    let mut desk = board(None);
    let mut events = Vec::new();
    keystroke(&mut events, Key::Slash, NONE, Some("/".to_owned()));
    text(&mut events, "carb");
    at_once(&mut desk, events);
    let field = desk.get_by_role_and_label(egui::accesskit::Role::TextInput, "Find");
    assert_eq!(field.value().as_deref(), Some("carb"));
}

#[test]
fn a_part_of_ones_own_is_saved_with_all_that_was_typed() {
    let mut desk = board(None);
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::K)]);
    text(&mut events, "carburettor");
    keys(&mut events, &[(NONE, Key::Enter), (CTRL, Key::K)]);
    text(&mut events, "add my own part");
    keys(&mut events, &[(NONE, Key::Enter)]);
    text(&mut events, "from the shed");
    keys(&mut events, &[(NONE, Key::Tab)]);
    text(&mut events, "45");
    keys(&mut events, &[(NONE, Key::Enter)]);
    at_once(&mut desk, events);
    let parts = &desk.state().sheet().parts;
    let part = parts.values().find(|p| p.name == "from the shed").expect("in the sheet");
    assert_eq!(part.price.as_ref().map(ToString::to_string).as_deref(), Some("45.00 USD"));
}

#[test]
fn what_follows_an_opened_file_is_done_to_its_sheet() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = board(Some(folder.path().join("home")));
    let file = folder.path().join("other.json");
    let mut other = desk.state().sheet().clone();
    other.name = "Other".to_owned();
    knockon_store::sheets::save(&file, &other).unwrap();
    let mut events = Vec::new();
    keys(&mut events, &[(CTRL, Key::O)]);
    text(&mut events, &file.display().to_string());
    keys(&mut events, &[(NONE, Key::Enter), (CTRL, Key::K)]);
    text(&mut events, "coil");
    keys(&mut events, &[(NONE, Key::Enter)]);
    at_once(&mut desk, events);
    assert_eq!(desk.state().sheet().name, "Other", "{:?}", desk.state().message());
    assert_eq!(
        desk.state().selected().as_deref(),
        Some("coil"),
        "the place is open on the sheet that was read"
    );
}

#[test]
fn an_enter_typed_before_the_question_is_seen_is_no_yes() {
    let mut desk = board(None);
    let places: Vec<String> = desk.state().assessment().positions.iter().map(|p| p.name.clone()).collect();
    let asks = |o: &knockon_core::assessment::Offer| o.reversible != Reversible::Yes && !o.current;
    let at = places.iter().find_map(|name| {
        go_to(&mut desk, name);
        desk.state().offered().iter().take(9).position(asks)
    });
    let at = at.expect("the example has a step that asks");
    let before = desk.state().sheet().clone();
    let mut events = Vec::new();
    keystroke(&mut events, DIGITS[at], NONE, Some((at + 1).to_string()));
    keys(&mut events, &[(NONE, Key::Enter)]);
    at_once(&mut desk, events);
    assert_eq!(*desk.state().sheet(), before);
}
