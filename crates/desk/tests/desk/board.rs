//! The board and its keys.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;
use knockon_core::showing::Measure;

#[test]
fn the_start_page_shows_every_plan_of_the_example_with_its_sentence() {
    let desk = start(None, None);
    for plan in desk.state().sheet().plans.values() {
        assert!(has(&desk, &format!("Look at this plan: {}", plan.name)), "{}", plan.name);
        assert!(!plan.about.is_empty() && has(&desk, &plan.about), "{}", plan.name);
    }
}

#[test]
fn the_board_lists_every_position() {
    let desk = board(None);
    let a = desk.state().assessment();
    assert!(!a.positions.is_empty());
    for p in &a.positions {
        assert!(has(&desk, &p.name), "{}", p.name);
    }
    for (_, name) in a.systems.iter().filter(|(id, _)| a.positions.iter().any(|p| p.system == *id)) {
        assert!(has(&desk, &format!("{name}, unfolded")), "{name}");
    }
}

#[test]
fn idle_frames_assess_nothing() {
    let (mut desk, _) = converted(None);
    let before = desk.state().assessed();
    desk.run_steps(50);
    assert_eq!(desk.state().assessed(), before);
    let change = desk.state().sheet().plans.keys().count();
    assert!(change > 0 && before >= 2);
}

#[test]
fn arrows_walk_the_board_row_by_row_and_enter_opens() {
    let mut desk = board(None);
    let places: Vec<String> = desk.state().assessment().positions.iter().map(|p| p.id.clone()).collect();
    let mut seen = Vec::new();
    for _ in 0..6 {
        press(&mut desk, Modifiers::NONE, Key::ArrowDown);
        press(&mut desk, Modifiers::NONE, Key::Enter);
        seen.push(desk.state().selected().expect("something is open"));
    }
    let mut once = seen.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), seen.len(), "{seen:?}");
    assert!(places.contains(&seen[0]), "{seen:?}");
}

#[test]
fn on_a_small_screen_every_figure_of_the_strip_stands_inside_the_window_and_apart() {
    for (width, height) in [(1000.0, 620.0), (960.0, 560.0), (700.0, 600.0)] {
        let mut desk = board(None);
        desk.set_size(egui::vec2(width, height));
        desk.run_steps(3);
        let words = [
            "spent",
            "on order",
            "to come",
            "companions open",
            "to measure",
            "cautions",
            "off the vehicle",
            "lines fitted",
        ];
        let mut seen: Vec<egui::Rect> = Vec::new();
        for word in words {
            let rect = desk
                .get_by(|n| n.role() == Role::Button && n.label().is_some_and(|l| l.ends_with(word)))
                .rect();
            assert!(
                rect.left() >= 0.0 && rect.right() <= width && rect.bottom() <= height,
                "{word}: {rect:?}"
            );
            assert!(rect.height() >= 28.0, "{word}: {rect:?}");
            assert!(seen.iter().all(|other| !other.shrink(0.5).intersects(rect)), "{word}: {rect:?}");
            seen.push(rect);
        }
    }
}

#[test]
fn enter_in_the_find_field_and_in_the_palette_opens_what_is_called_that() {
    for (typed, opens) in [("wheels", "Wheels"), ("coil", "Coil"), ("propeller", "Propeller shaft")] {
        let mut desk = board(None);
        let place = |desk: &Desk| {
            let a = desk.state().assessment();
            let open = desk.state().selected();
            a.positions.iter().find(|p| Some(&p.id) == open.as_ref()).map(|p| p.name.clone())
        };
        press(&mut desk, Modifiers::COMMAND, Key::F);
        desk.get_by_role_and_label(Role::TextInput, "Find").type_text(typed);
        settle(&mut desk);
        press(&mut desk, Modifiers::NONE, Key::Enter);
        assert_eq!(place(&desk).as_deref(), Some(opens), "find {typed}");
        press(&mut desk, Modifiers::NONE, Key::Escape);
        go_to(&mut desk, typed);
        assert_eq!(place(&desk).as_deref(), Some(opens), "palette {typed}");
    }
}

/// What the find field is asked, where Enter leads, and the part on offer that is then under the keyboard.
#[test]
fn the_find_field_knows_other_names_and_brings_what_is_on_offer_into_view() {
    for (typed, opens, offer) in [
        ("alternator", "Generator", Some("lternator")),
        ("disc brake", "Front brakes", Some("disc")),
        ("carburetor", "Carburettor", None),
        ("tire", "Tyres", None),
        ("muffler", "Exhaust", None),
    ] {
        let mut desk = board(None);
        let rows = |desk: &Desk| {
            let places = desk.state().assessment().positions.iter().filter(|p| has(desk, &p.name)).count();
            assert_eq!(places, desk.state().assessment().positions.len(), "{typed}");
        };
        rows(&desk);
        press(&mut desk, Modifiers::COMMAND, Key::F);
        desk.get_by_role_and_label(Role::TextInput, "Find").type_text(typed);
        settle(&mut desk);
        // the board keeps its rows, and the list says what was found
        rows(&desk);
        let lines = desk.query_all_by_role(Role::ListBoxOption).filter_map(|n| n.accesskit_node().label());
        assert!(lines.into_iter().any(|line| line.starts_with(opens)), "{typed}");
        assert!(offer.is_none() || has(&desk, "on offer: "), "{typed}");
        press(&mut desk, Modifiers::NONE, Key::Enter);
        settle(&mut desk);
        let open = desk.state().selected();
        let a = desk.state().assessment();
        let place = a.positions.iter().find(|p| Some(&p.id) == open.as_ref()).map(|p| p.name.as_str());
        assert_eq!(place, Some(opens), "{typed}");
        if let Some(word) = offer {
            let under = desk.query_all_by_role(Role::RadioButton).find(|n| n.accesskit_node().is_focused());
            let label = under.and_then(|n| n.accesskit_node().label());
            assert!(label.as_ref().is_some_and(|l| l.contains(word)), "{typed}: {label:?}");
        }
    }
}

#[test]
fn a_list_that_is_asked_for_opens() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text("on order");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(has(&desk, "on order") && desk.query_all_by_label_contains("Price each").next().is_none());
    // Escape leaves the field as if nothing had been asked
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    let before = desk.state().selected();
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text("brake");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_eq!(desk.get_by_role_and_label(Role::TextInput, "Find").value().as_deref(), Some(""));
    assert_eq!(desk.state().selected(), before);
}

#[test]
fn the_arrows_walk_what_was_found() {
    let mut desk = board(None);
    let mut opened = Vec::new();
    for downs in 0..2 {
        press(&mut desk, Modifiers::COMMAND, Key::F);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        desk.get_by_role_and_label(Role::TextInput, "Find").type_text("brake");
        settle(&mut desk);
        (0..downs).for_each(|_| press(&mut desk, Modifiers::NONE, Key::ArrowDown));
        press(&mut desk, Modifiers::NONE, Key::Enter);
        opened.push(desk.state().selected());
    }
    assert!(opened[0] != opened[1], "{opened:?}");
}

#[test]
fn a_companion_is_heard_with_its_whole_reason() {
    let desk = board(None);
    let a = desk.state().assessment();
    let c = a.companions.iter().find(|c| c.waived.is_none()).expect("a companion");
    let half = knockon_core::explain::half_line(a, c.reason, Measure::Inch);
    assert!(!half.is_empty() && has(&desk, &half), "{half}");
}

#[test]
fn a_message_comes_and_goes_and_nothing_moves() {
    let folder = tempfile::tempdir().unwrap();
    let other = folder.path().join("list.txt");
    std::fs::write(&other, "nothing").unwrap();
    let mut desk = board(None);
    go_to(&mut desk, "Carburettor");
    let places = |desk: &Desk| {
        let all = desk.query_all_by_role(Role::Button).chain(desk.query_all_by_role(Role::TextInput));
        let named = all.filter_map(|n| Some((n.accesskit_node().label()?, n.rect())));
        named.filter(|(label, _)| label != "Dismiss").map(|(l, r)| format!("{l} {r:?}")).collect::<Vec<_>>()
    };
    let before = places(&desk);
    assert!(before.len() > 20);
    press(&mut desk, Modifiers::COMMAND, Key::O);
    type_path(&mut desk, &other, "Open");
    assert!(desk.state().message().is_some() && has(&desk, "Dismiss"));
    assert_eq!(places(&desk), before);
    desk.get_by_label("Dismiss").click();
    settle(&mut desk);
    assert_eq!(desk.state().message(), None);
    assert_eq!(places(&desk), before);
}
