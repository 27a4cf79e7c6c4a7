//! The keyboard alone, and what is said without being asked for: the focus comes into sight, goes back, walks lists and parts
//! of the window. What is wanted follows the web's guidelines WCAG 2.2: 2.1.1 keyboard, 2.4.3 order of focus, 2.4.7 and
//! 2.4.11 focus that is seen, 4.1.3 what is said of a change.

use egui::accesskit::{Live, Role};
use egui::{Key, Modifiers, Rect, pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::sheet::LineState;

use crate::help::*;

const NONE: Modifiers = Modifiers::NONE;

/// Name and place of what has the keyboard.
pub fn focused(desk: &Desk) -> Option<(String, Rect)> {
    desk.query_all_by(|n| n.is_focused() && n.role() != Role::Window)
        .map(|n| (n.accesskit_node().label().unwrap_or_default(), n.rect()))
        .next()
}

fn name(desk: &Desk) -> String {
    focused(desk).map(|(name, _)| name).unwrap_or_default()
}

/// What a screen reader was told last.
pub fn said(desk: &Desk) -> String {
    let live = desk.query_all_by(|n| n.live() != Live::Off).last();
    live.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

fn window() -> Rect {
    Rect::from_min_size(pos2(0.0, 0.0), vec2(1366.0, 768.0))
}

/// Everything that was the focus is in the window, from Tab to Tab.
#[test]
fn tab_leads_round_and_is_always_in_sight() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    let first = name(&desk);
    let mut seen = Vec::new();
    for _ in 0..120 {
        press(&mut desk, NONE, Key::Tab);
        let (name, rect) = focused(&desk).expect("something has the keyboard");
        assert!(window().expand(1.0).contains_rect(rect), "{name} is out of sight at {rect:?}");
        if name == first {
            break;
        }
        seen.push(name);
    }
    assert!(seen.len() > 30 && seen.len() < 120, "round in {} stops", seen.len());
    // the board is one of them, and the bar comes before the figures at the foot
    let at =
        |part: &str| seen.iter().position(|n| n.contains(part)).unwrap_or_else(|| panic!("{part}: {seen:?}"));
    assert!(at("File") < at("Plan: ") && at("Plan: ") < at("Light or dark"), "{seen:?}");
    assert!(at("spent") < at("File"), "after the last comes the first: {seen:?}");
    // and back
    press(&mut desk, Modifiers::SHIFT, Key::Tab);
    assert_eq!(Some(&name(&desk)), seen.last());
}

#[test]
fn the_board_scrolls_to_what_arrows_and_a_reader_lead_to() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    press(&mut desk, NONE, Key::End);
    let (last, rect) = focused(&desk).expect("the last row");
    assert!(window().contains_rect(rect), "{last}: {rect:?}");
    press(&mut desk, NONE, Key::Home);
    let (first, rect) = focused(&desk).expect("the first row");
    assert!(first != last && window().contains_rect(rect), "{first}: {rect:?}");
    // a reader asks for a row that is scrolled away
    let far = |desk: &Desk| {
        let rows = desk.query_all_by_role(Role::Button).filter(|n| n.rect().top() > 2_000.0);
        rows.filter_map(|n| n.accesskit_node().label()).next()
    };
    let label = far(&desk).expect("a row far down");
    desk.get_by_role_and_label(Role::Button, &label).focus();
    settle(&mut desk);
    let (now, rect) = focused(&desk).expect("that row");
    assert!(now == label && window().contains_rect(rect), "{now}: {rect:?}");
    // down and up lead to other rows and back
    press(&mut desk, NONE, Key::ArrowUp);
    assert_ne!(name(&desk), label);
    press(&mut desk, NONE, Key::ArrowDown);
    assert_eq!(name(&desk), label);
}

#[test]
fn what_closes_gives_the_keyboard_back() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    let row = name(&desk);
    // dialogs, by their keys
    for (modifiers, key) in [
        (Modifiers::COMMAND, Key::K),
        (Modifiers::COMMAND, Key::S),
        (Modifiers::COMMAND, Key::N),
        (Modifiers::COMMAND, Key::H),
        (NONE, Key::Questionmark),
    ] {
        press(&mut desk, modifiers, key);
        assert!(desk.query_all_by(|n| n.is_modal()).next().is_some(), "{key:?} opens a dialog");
        press(&mut desk, NONE, Key::Escape);
        assert_eq!(name(&desk), row, "{key:?}");
    }
    // a list: opened, left, and chosen from
    desk.get_by_label_contains("Plan: ").focus();
    settle(&mut desk);
    for key in [Key::Escape, Key::Enter] {
        press(&mut desk, NONE, Key::Enter);
        press(&mut desk, NONE, Key::ArrowDown);
        assert!(!name(&desk).starts_with("Plan: "), "an entry has it");
        press(&mut desk, NONE, key);
        settle(&mut desk);
        assert!(name(&desk).starts_with("Plan: "), "after {key:?}: {}", name(&desk));
    }
    // a menu, and the dialog it opens
    desk.get_by_label("File").focus();
    settle(&mut desk);
    press(&mut desk, NONE, Key::Enter);
    press(&mut desk, NONE, Key::ArrowDown);
    assert!(name(&desk).starts_with("New sheet…"), "{}", name(&desk));
    press(&mut desk, NONE, Key::Enter);
    press(&mut desk, NONE, Key::Escape);
    assert_eq!(name(&desk), "File");
    // the menu of a row, by its key; the plan is another now
    go_to(&mut desk, "Front brakes");
    let row = name(&desk);
    press(&mut desk, NONE, Key::Menu);
    assert!(has(&desk, "On order"));
    press(&mut desk, NONE, Key::Escape);
    assert_eq!(name(&desk), row);
}

#[test]
fn a_dialog_covers_the_page_for_readers_too() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    let dialog = desk.get_by(|n| n.is_modal());
    assert_eq!(dialog.accesskit_node().label().as_deref(), Some("Save the sheet"));
    let units = desk.get_by_label_contains("Inch or metric: ");
    let before = units.accesskit_node().label();
    assert!(units.accesskit_node().is_hidden());
    // pressed all the same: nothing happens
    units.click_accesskit();
    settle(&mut desk);
    press(&mut desk, NONE, Key::Escape);
    let units = desk.get_by_label_contains("Inch or metric: ");
    assert!(units.accesskit_node().label() == before && !units.accesskit_node().is_hidden());
    units.click_accesskit();
    settle(&mut desk);
    let after = desk.get_by_label_contains("Inch or metric: ").accesskit_node().label();
    assert_ne!(after, before, "without a dialog it works");
}

#[test]
fn f6_leads_through_the_parts_of_the_window() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    let row = name(&desk);
    let panel = 1366.0 * 0.42;
    press(&mut desk, NONE, Key::F6);
    assert!(
        focused(&desk).is_some_and(|(_, rect)| rect.left() > panel),
        "into the panel: {:?}",
        focused(&desk)
    );
    // Escape leads back to the row, and leaves the place open
    press(&mut desk, NONE, Key::Escape);
    assert_eq!(name(&desk), row);
    assert!(desk.state().selected().is_some());
    // Enter on the open row leads into it as well
    press(&mut desk, NONE, Key::Enter);
    assert!(focused(&desk).is_some_and(|(_, rect)| rect.left() > panel), "{:?}", focused(&desk));
    press(&mut desk, NONE, Key::F6);
    assert!(focused(&desk).is_some_and(|(_, rect)| rect.top() > 690.0), "the figures: {:?}", focused(&desk));
    press(&mut desk, NONE, Key::F6);
    assert!(focused(&desk).is_some_and(|(_, rect)| rect.bottom() < 50.0), "the bar: {:?}", focused(&desk));
    press(&mut desk, Modifiers::SHIFT, Key::F6);
    press(&mut desk, Modifiers::SHIFT, Key::F6);
    press(&mut desk, Modifiers::SHIFT, Key::F6);
    assert_eq!(name(&desk), row, "back where it was on the board");
}

#[test]
fn the_buy_list_is_walked_whole_by_arrows_and_is_one_stop() {
    let mut desk = start(None, None);
    press(&mut desk, NONE, Key::Num2);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let a = desk.state().assessment();
    let rows = a.with_boxes(&a.buy.iter().collect::<Vec<_>>()).len();
    let (first, last) = (a.buy[0].name.clone(), a.buy.len());
    assert!(rows >= last);
    press(&mut desk, NONE, Key::ArrowDown);
    assert!(name(&desk).starts_with(&first), "{}", name(&desk));
    let mut seen = vec![name(&desk)];
    for _ in 1..rows {
        press(&mut desk, NONE, Key::ArrowDown);
        let (name, rect) = focused(&desk).expect("a row");
        assert!(window().contains_rect(rect), "{name}: {rect:?}");
        seen.push(name);
    }
    let end = name(&desk);
    press(&mut desk, NONE, Key::ArrowDown);
    assert_eq!(name(&desk), end, "the end is the end");
    press(&mut desk, NONE, Key::Home);
    assert_eq!(Some(&name(&desk)), seen.first());
    press(&mut desk, NONE, Key::PageDown);
    assert_eq!(name(&desk), seen[10]);
    press(&mut desk, NONE, Key::End);
    assert_eq!(name(&desk), end);
    press(&mut desk, NONE, Key::Home);
    // along the line, and down its column
    for part in ["Price each of ", "Supplier of ", "State of "] {
        press(&mut desk, NONE, Key::ArrowRight);
        assert!(name(&desk).starts_with(part), "{}", name(&desk));
    }
    press(&mut desk, NONE, Key::ArrowDown);
    assert!(name(&desk).starts_with("State of ") && !name(&desk).contains(&first), "{}", name(&desk));
    press(&mut desk, NONE, Key::ArrowLeft);
    assert!(name(&desk).starts_with("Supplier of "), "{}", name(&desk));
    // what is typed replaces what stood there, and Enter leads to the name
    desk.get_by(|n| n.is_focused() && n.role() == Role::TextInput).type_text("Yard sale");
    settle(&mut desk);
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(desk.state().assessment().buy[1].supplier, "Yard sale");
    assert_eq!(name(&desk), seen[1]);
    // one stop: the next Tab is out of the table, the one back in it again
    press(&mut desk, NONE, Key::Tab);
    let out = name(&desk);
    assert!(!out.starts_with("Price each") && !seen.contains(&out), "{out}");
    press(&mut desk, Modifiers::SHIFT, Key::Tab);
    assert_eq!(name(&desk), seen[1]);
}

#[test]
fn ctrl_k_has_the_keyboard_says_what_it_finds_and_walks_it() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::K);
    assert_eq!(name(&desk), "Command or place");
    desk.get_by_role_and_label(Role::TextInput, "Command or place").type_text("carburetor");
    settle(&mut desk);
    assert!(said(&desk).contains(" found: ") && said(&desk).contains("Carburettor"), "{}", said(&desk));
    assert_eq!(name(&desk), "Command or place", "while one types the keyboard is in the field");
    press(&mut desk, NONE, Key::ArrowDown);
    let second = name(&desk);
    assert_ne!(second, "Command or place", "a reader is told the line");
    press(&mut desk, NONE, Key::ArrowUp);
    assert_ne!(name(&desk), second);
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(desk.state().selected().as_deref(), Some("carburettor"));
}

#[test]
fn what_happens_is_said() {
    let home = tempfile::tempdir().unwrap();
    let mut desk = board(Some(home.path().to_owned()));
    // routes of a place, sums of a change
    go_to(&mut desk, "Front brakes");
    assert!(said(&desk).contains(" routes. F6 leads to them."), "{}", said(&desk));
    let offer = desk.state().offered().into_iter().find(|o| !o.current && !o.companions_added.is_empty());
    take(&mut desk, &offer.expect("a conversion"));
    assert!(said(&desk).contains(" to come"), "{}", said(&desk));
    // saved, and what cannot be
    press(&mut desk, Modifiers::COMMAND, Key::S);
    let file = home.path().join("truck.json");
    type_path(&mut desk, &file, "Save");
    assert!(said(&desk).contains("truck.json"), "{}", said(&desk));
    press(&mut desk, Modifiers::COMMAND, Key::O);
    type_path(&mut desk, &home.path().join("nothing.json"), "Open");
    let told = said(&desk);
    assert!(told.contains("nothing.json"), "{told}");
    assert!(desk.query_all_by(|n| n.live() == Live::Assertive).next().is_some(), "it interrupts");
    press(&mut desk, Modifiers::COMMAND, Key::E);
    type_path(&mut desk, &home.path().join("list.csv"), "Export");
    assert!(said(&desk).contains("list.csv"), "{}", said(&desk));
    // a plan that goes, another page
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "take this plan out");
    assert!(said(&desk).contains("is out of the sheet"), "{}", said(&desk));
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    assert!(said(&desk).starts_with("Buying, "), "{}", said(&desk));
}

#[test]
fn a_digit_is_for_the_routes_alone_and_each_says_its_own() {
    let mut desk = board(None);
    go_to(&mut desk, "Cooling fan");
    let routes: Vec<String> = desk
        .query_all_by_role(Role::RadioButton)
        .filter_map(|n| n.accesskit_node().label())
        .filter(|l| !l.starts_with("Show "))
        .collect();
    let offers = desk.state().offered();
    for (i, (label, offer)) in routes.iter().zip(&offers).enumerate() {
        assert_eq!(label.ends_with(&format!(", key {}", i + 1)), !offer.current && i < 9, "{label}");
    }
    let before = desk.state().sheet().clone();
    desk.get_by_label("Light or dark").focus();
    settle(&mut desk);
    for key in DIGITS {
        press(&mut desk, NONE, key);
    }
    assert_eq!(*desk.state().sheet(), before, "another control has the keyboard");
    // from the row of the board
    go_to(&mut desk, "Cooling fan");
    let other = offers.iter().position(|o| !o.current).expect("another route");
    press(&mut desk, NONE, DIGITS[other]);
    say_yes(&mut desk);
    assert_ne!(*desk.state().sheet(), before);
}

#[test]
fn headings_states_and_troubles_are_told() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    let headings: Vec<(String, Option<usize>)> = desk
        .query_all_by_role(Role::Heading)
        .map(|n| (n.accesskit_node().label().unwrap_or_default(), n.accesskit_node().level()))
        .collect();
    assert!(headings.iter().any(|(text, level)| text == "Front brakes" && *level == Some(2)), "{headings:?}");
    assert!(
        headings.iter().any(|(text, level)| text == "What to do here" && *level == Some(3)),
        "{headings:?}"
    );
    // a system of the board folds and says so, by its name and its state
    let brakes = desk
        .query_all_by_role(Role::Button)
        .find(|n| n.accesskit_node().label().is_some_and(|l| l.starts_with("Brakes, unfolded")));
    assert_eq!(brakes.expect("the brakes").accesskit_node().data().is_expanded(), Some(true));
    // columns that sort
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    desk.get_by_label("Sort by total").click();
    settle(&mut desk);
    let sorted = desk.get_by_label("Sort by total, sorted upwards");
    assert!(sorted.accesskit_node().data().sort_direction().is_some());
    // a figure that cannot be read: the field says so
    press(&mut desk, Modifiers::COMMAND, Key::Num3);
    let field =
        desk.query_all_by_role(Role::TextInput).find(|n| n.rect().left() > 20.0 && n.rect().top() > 120.0);
    let label = field.and_then(|n| n.accesskit_node().label()).expect("a field of the drawing");
    desk.get_by_role_and_label(Role::TextInput, &label).focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, &label).type_text("nonsense");
    settle(&mut desk);
    let field = desk.get_by_role_and_label(Role::TextInput, &label);
    let data = field.accesskit_node().data().clone();
    assert!(data.invalid().is_some() && data.error_message().is_some(), "{label}");
    assert!(data.description().is_some_and(|text| !text.is_empty()));
}

#[test]
fn what_is_selected_is_done_by_name() {
    let mut desk = board(None);
    go_to(&mut desk, "Front brakes");
    let open = desk.state().assessment().totals.companions_open;
    go_to(&mut desk, "accept what is selected");
    assert!(desk.state().assessment().totals.companions_open < open, "{}", said(&desk));
    go_to(&mut desk, "Front brakes");
    go_to(&mut desk, "mark as on order");
    let place =
        desk.state().assessment().positions.iter().find(|p| p.name == "Front brakes").cloned().expect("it");
    let part = place.fitted.expect("a part").0;
    assert_eq!(desk.state().sheet().lines[&part].state, LineState::OnOrder);
    for (typed, field) in [("note", "Notes on "), ("photo", "Path of a photo of ")] {
        go_to(&mut desk, "Front brakes");
        go_to(&mut desk, typed);
        assert!(name(&desk).starts_with(field), "{typed}: {}", name(&desk));
    }
    go_to(&mut desk, "measure");
    assert!(name(&desk).starts_with("Measured: "), "{}", name(&desk));
    go_to(&mut desk, "cautions");
    assert!(has(&desk, "Close the list"));
    let size = desk.ctx.zoom_factor();
    go_to(&mut desk, "zoom");
    assert!(desk.ctx.zoom_factor() > size);
    press(&mut desk, Modifiers::COMMAND, Key::Num0);
    assert!((desk.ctx.zoom_factor() - size).abs() < 0.01);
    go_to(&mut desk, "big hands");
    assert!((desk.ctx.zoom_factor() - 1.5).abs() < 0.01);
    go_to(&mut desk, "reduced motion");
    assert!(desk.ctx.global_style().animation_time.abs() < f32::EPSILON);
}

/// A hint that the pointer rests on goes when a dialog opens over what it is of.
#[test]
fn no_hint_lies_over_the_palette() {
    let mut desk = board(None);
    let at = desk.get_by_label_contains("Inch or metric").rect().center();
    desk.hover_at(at);
    desk.run_steps(60);
    assert!(has(&desk, "Quantities are shown in"));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    assert!(has(&desk, "Command or place") && !has(&desk, "Quantities are shown in"));
    // what the pointer reaches again says what it says
    press(&mut desk, Modifiers::NONE, Key::Escape);
    desk.hover_at(at + egui::vec2(1.0, 0.0));
    desk.run_steps(60);
    assert!(has(&desk, "Quantities are shown in"));
}
