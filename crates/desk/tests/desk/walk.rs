//! Every control of every view, as a screen reader meets it: it has a name, takes the keyboard, comes into sight when it does
//! and when it is asked to, and does something where that is harmless.

use std::collections::BTreeSet;

use egui::accesskit::{Action, Role};
use egui::{Key, Modifiers, Rect, pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;
use crate::keyboard::focused;

const ROLES: [Role; 7] = [
    Role::Button,
    Role::TextInput,
    Role::MultilineTextInput,
    Role::ComboBox,
    Role::RadioButton,
    Role::CheckBox,
    Role::Slider,
];

/// The controls that can be used now, by role and name; of those that are alike, one.
fn controls(desk: &Desk) -> BTreeSet<(String, String)> {
    let can = |role: Role, disabled: bool| ROLES.contains(&role) && !disabled;
    desk.query_all_by(|n| can(n.role(), n.is_disabled()) && !n.is_hidden())
        .map(|n| {
            let inner = n.accesskit_node();
            (format!("{:?}", inner.role()), inner.label().unwrap_or_default())
        })
        .collect()
}

fn find<'d>(desk: &'d Desk, one: &(String, String)) -> Option<egui_kittest::Node<'d>> {
    let (role, label) = one.clone();
    let is_it = move |n: &egui_kittest::kittest::AccessKitNode<'_>| {
        format!("{:?}", n.role()) == role
            && n.label().unwrap_or_default() == label
            && !n.is_disabled()
            && !n.is_hidden()
    };
    desk.query_all_by(is_it).next()
}

fn in_window(rect: Rect) -> bool {
    // what is higher than its part of the window fills it
    let window = Rect::from_min_size(pos2(0.0, 0.0), vec2(1366.0, 768.0)).expand(1.0);
    window.contains_rect(rect) || rect.height() > 400.0 && window.intersects(rect)
}

/// Walks them all; how many there were.
fn walk(desk: &mut Desk, view: &str) -> usize {
    let all = controls(desk);
    assert!(all.len() > 1, "{view}: {all:?}");
    for (i, one) in all.iter().enumerate() {
        let (role, label) = one;
        assert!(!label.trim().is_empty(), "{view}: a {role} without a name");
        // what it stands in may have changed with the one before
        let Some(node) = find(desk, one) else { continue };
        assert!(
            node.accesskit_node().data().supports_action(Action::Focus),
            "{view}: {label} does not take the keyboard"
        );
        if i % 4 == 0 {
            node.scroll_to_me();
            desk.run_steps(4);
            let rect = find(desk, one).map(|n| n.rect()).expect("it is still there");
            assert!(in_window(rect), "{view}: {label} is not scrolled to: {rect:?}");
        }
        if let Some(node) = find(desk, one) {
            node.focus();
        }
        desk.run_steps(4);
        let (name, rect) = focused(desk).unwrap_or_else(|| panic!("{view}: {label} loses the keyboard"));
        assert_eq!(name, *label, "{view}");
        assert!(in_window(rect), "{view}: {label} has the keyboard out of sight: {rect:?}");
    }
    all.len()
}

/// Folds, opens lists and sorts, each there and back: the view is as before.
fn press_harmless(desk: &mut Desk, view: &str) -> usize {
    let mut pressed = 0;
    for one in controls(desk) {
        let (role, label) = &one;
        let folds = label.ends_with("folded");
        if !(folds || role == "ComboBox") {
            continue;
        }
        let Some(node) = find(desk, &one) else { continue };
        node.focus();
        desk.run_steps(4);
        press(desk, Modifiers::NONE, Key::Enter);
        pressed += 1;
        if folds {
            let other = if label.ends_with("unfolded") { "folded" } else { "unfolded" };
            let (name, _) = focused(desk).unwrap_or_else(|| panic!("{view}: {label} loses the keyboard"));
            assert!(name.ends_with(other) && name != *label, "{view}: {label} became {name}");
            press(desk, Modifiers::NONE, Key::Enter);
        } else {
            let entries = desk.query_all_by(|n| n.role() == Role::ListBox && !n.is_hidden()).count();
            assert!(entries > 0, "{view}: {label} opens no list");
            press(desk, Modifiers::NONE, Key::Escape);
        }
        let (name, _) = focused(desk).unwrap_or_else(|| panic!("{view}: {label} drops the keyboard"));
        assert_eq!(name, *label, "{view}");
    }
    pressed
}

#[test]
fn every_control_of_the_board_and_its_panel() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::ALT, Key::S);
    assert!(walk(&mut desk, "systems") > 20);
    press(&mut desk, Modifiers::ALT, Key::P);
    assert!(walk(&mut desk, "places") > 40);
    go_to(&mut desk, "Front brakes");
    assert!(walk(&mut desk, "place") > 40);
    let companion = desk.state().assessment().companions.first().map(|c| c.name.clone());
    go_to(&mut desk, &companion.expect("a companion"));
    walk(&mut desk, "companion");
    for figure in
        ["spent", "to come", "companions open", "to measure", "cautions", "off the vehicle", "lines fitted"]
    {
        desk.query_all_by_label_contains(figure).last().expect("a figure of the strip").click_accesskit();
        settle(&mut desk);
        walk(&mut desk, figure);
    }
}

#[test]
fn every_control_of_the_other_pages() {
    let mut desk = start(None, None);
    walk(&mut desk, "start page");
    press(&mut desk, Modifiers::NONE, Key::Num2);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    assert!(walk(&mut desk, "buy list") > 30);
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    walk(&mut desk, "jobs");
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    assert!(walk(&mut desk, "money") > 40);
    press(&mut desk, Modifiers::COMMAND, Key::Num9);
    assert!(walk(&mut desk, "plans") > 20);
    press(&mut desk, Modifiers::COMMAND, Key::Num3);
    for card in crate::fitup::CARDS {
        click(&mut desk, card);
        walk(&mut desk, card);
    }
    go_to(&mut desk, "my library");
    walk(&mut desk, "my library");
    go_to(&mut desk, "my parts");
    walk(&mut desk, "my parts");
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    go_to(&mut desk, "Carburettor");
    click(&mut desk, "Add my own part here…");
    walk(&mut desk, "part form");
}

#[test]
fn every_control_of_the_pages_of_the_vehicle() {
    let mut desk = board(None);
    for (key, view, least) in
        [(Key::Num5, "library", 5), (Key::Num6, "vehicle", 20), (Key::Num7, "survey", 40)]
    {
        press(&mut desk, Modifiers::COMMAND, key);
        let n = walk(&mut desk, view);
        assert!(n > least, "{view}: {n}");
    }
    click(&mut desk, "what it is");
    assert!(walk(&mut desk, "what it is") > 15);
    press(&mut desk, Modifiers::NONE, Key::F1);
    walk(&mut desk, "how it works");
}

#[test]
fn every_control_of_the_dialogs() {
    let mut desk = board(None);
    for (key, least) in [(Key::N, 4), (Key::S, 4), (Key::O, 3), (Key::E, 3), (Key::P, 10), (Key::H, 2)] {
        press(&mut desk, Modifiers::COMMAND, key);
        let n = walk(&mut desk, &format!("dialog of {key:?}"));
        assert!(n >= least && n < 40, "{key:?}: {n}: only what is in it");
        press(&mut desk, Modifiers::NONE, Key::Escape);
    }
    go_to(&mut desk, "rename this plan");
    assert_eq!(walk(&mut desk, "naming"), 3);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    go_to(&mut desk, "where it goes");
    assert!(walk(&mut desk, "direction") > 12);
}

#[test]
fn what_folds_or_opens_is_there_and_back_by_enter() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::ALT, Key::P);
    go_to(&mut desk, "Front brakes");
    assert!(press_harmless(&mut desk, "board") > 15);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    assert!(press_harmless(&mut desk, "buy list") > 8);
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    assert!(press_harmless(&mut desk, "money") > 8);
}
