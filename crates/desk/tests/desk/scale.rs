//! At 100, 150 and 200 % on a screen of 1366 by 768: no part of the window lies over another, no control over another, and
//! none is cut off at its side. WCAG 2.2, 1.4.4: text up to 200 % without loss; 1.4.10: no scrolling in two directions.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;

const CONTROLS: [Role; 6] = [
    Role::Button,
    Role::TextInput,
    Role::MultilineTextInput,
    Role::ComboBox,
    Role::RadioButton,
    Role::CheckBox,
];

fn parts(desk: &Desk) -> Vec<(String, Rect)> {
    desk.query_all_by(|n| n.role() == Role::Region && !n.is_hidden())
        .map(|n| (n.accesskit_node().label().unwrap_or_default(), n.rect()))
        .collect()
}

/// Controls by the part of the window they are in.
fn controls(desk: &Desk) -> Vec<(String, String, Rect)> {
    let mut all = Vec::new();
    for n in desk.query_all_by(|n| CONTROLS.contains(&n.role()) && !n.is_hidden()) {
        let node = n.accesskit_node();
        let mut up = node.parent();
        while let Some(parent) = up {
            if parent.role() == Role::Region {
                all.push((parent.label().unwrap_or_default(), node.label().unwrap_or_default(), n.rect()));
                break;
            }
            up = parent.parent();
        }
    }
    all
}

fn overlap(a: Rect, b: Rect) -> bool {
    let both = a.intersect(b);
    both.width() > 1.5 && both.height() > 1.5
}

fn check(desk: &Desk, view: &str, width: f32) {
    let parts = parts(desk);
    assert!(parts.len() >= 2, "{view} at {width}: {parts:?}");
    for (i, (name, rect)) in parts.iter().enumerate() {
        assert!(
            rect.left() >= -0.5 && rect.right() <= width + 0.5,
            "{view} at {width}: {name} is cut: {rect:?}"
        );
        for (other, next) in &parts[i + 1..] {
            assert!(!overlap(*rect, *next), "{view} at {width}: {name} {rect:?} and {other} {next:?}");
        }
        if ["Board", "Buying", "Money", "Plans", "Jobs", "Fit-up", "Panel"].contains(&name.as_str()) {
            assert!(
                rect.width() > 320.0 && rect.height() > 110.0,
                "{view} at {width}: {name} is a sliver: {rect:?}"
            );
        }
    }
    let all = controls(desk);
    assert!(all.len() > 8, "{view}: {}", all.len());
    for (i, (part, name, rect)) in all.iter().enumerate() {
        assert!(
            rect.left() >= -0.5 && rect.right() <= width + 0.5,
            "{view} at {width}: {name} is cut off at its side: {rect:?}"
        );
        for (other_part, other, next) in &all[i + 1..] {
            let is_over = part == other_part && overlap(*rect, *next);
            assert!(!is_over, "{view} at {width}: {name} {rect:?} lies over {other} {next:?}");
        }
    }
}

#[test]
fn nothing_overlaps_or_is_cut_at_any_scale() {
    for scale in [1.0, 1.5, 2.0] {
        let size = vec2(1366.0, 768.0) / scale;
        let mut desk = start(None, None);
        desk.set_size(size);
        settle(&mut desk);
        check(&desk, "start page", size.x);
        desk.get_by_label_contains("Back to ").click_accesskit();
        settle(&mut desk);
        for (key, view) in [(Key::S, "systems"), (Key::P, "places"), (Key::E, "everything")] {
            press(&mut desk, Modifiers::ALT, key);
            check(&desk, view, size.x);
        }
        go_to(&mut desk, "Front brakes");
        check(&desk, "place", size.x);
        let companion = desk.state().assessment().companions.first().map(|c| c.name.clone());
        go_to(&mut desk, &companion.expect("a companion"));
        check(&desk, "companion", size.x);
        press(&mut desk, Modifiers::COMMAND, Key::Num2);
        check(&desk, "buy list", size.x);
        press(&mut desk, Modifiers::COMMAND, Key::Num4);
        check(&desk, "jobs", size.x);
        press(&mut desk, Modifiers::COMMAND, Key::Num8);
        check(&desk, "money", size.x);
        press(&mut desk, Modifiers::COMMAND, Key::Num9);
        check(&desk, "plans", size.x);
        press(&mut desk, Modifiers::COMMAND, Key::Num3);
        check(&desk, "fit-up", size.x);
        for (key, view) in [(Key::Num5, "library"), (Key::Num6, "vehicle"), (Key::Num7, "survey")] {
            press(&mut desk, Modifiers::COMMAND, key);
            check(&desk, view, size.x);
        }
        go_to(&mut desk, "my library");
        check(&desk, "my library", size.x);
        press(&mut desk, Modifiers::NONE, Key::F1);
        check(&desk, "how it works", size.x);
    }
}

/// A small window on a small screen: one bar to scroll each page, no page under another bar, and the way to the pages keeps
/// its name.
#[test]
fn a_small_window_scrolls_once_and_shows_where_the_other_pages_are() {
    let size = vec2(700.0, 500.0);
    let mut desk = start(None, None);
    desk.set_size(size);
    desk.get_by_label_contains("Back to ").click_accesskit();
    settle(&mut desk);
    assert!(button(&desk, "More pages").is_some());
    for (key, name) in [(Key::Num7, "Survey"), (Key::Num9, "Plans"), (Key::Num5, "Library")] {
        press(&mut desk, Modifiers::COMMAND, key);
        check(&desk, name, size.x);
        assert!(has(&desk, &format!("More pages: {name}")), "{name}");
        // the whole window stands in it: no bar beside that of the page
        let strip = parts(&desk).into_iter().find(|(part, _)| part == "Figures of the plan").unwrap().1;
        assert!(strip.bottom() <= size.y + 0.5, "{name}: {strip:?}");
    }
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    // what is read beside a line stands below it, and lies over no field
    let fields: Vec<Rect> = desk.query_all_by_role(Role::TextInput).map(|n| n.rect()).collect();
    let told = desk.get_by_label("How").rect();
    assert!(fields.iter().all(|field| !overlap(*field, told)), "{told:?}");
    assert!(told.left() < size.x / 2.0, "it has the whole width: {told:?}");
}
