//! The vehicle above the board: systems with their state, folding, and the way to a system.

use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::Companion;

use crate::help::*;

/// The drawing is there, not folded away.
fn shown(desk: &Desk) -> bool {
    desk.query_by_label("Fold the vehicle away").is_some()
}

#[test]
fn every_system_stands_beside_the_vehicle_with_its_state() {
    let (desk, _) = converted(None);
    let a = desk.state().assessment();
    let open = |c: &&Companion| !(c.accepted || c.in_kit || c.waived.is_some());
    for (id, name) in a.systems.iter().filter(|(id, _)| a.positions.iter().any(|p| p.system == *id)) {
        let here: Vec<_> = a.positions.iter().filter(|p| p.system == *id).collect();
        let clash = here.iter().any(|p| !p.clashes.is_empty());
        let measure = here.iter().any(|p| !p.to_measure.is_empty());
        let open =
            a.companions.iter().filter(open).any(|c| here.iter().any(|p| p.companions.contains(&c.key)));
        let word = match (clash, measure, open) {
            (true, ..) => "not fit",
            (false, true, _) => "to measure",
            (false, false, true) => "to decide",
            _ => "nothing is unresolved",
        };
        let short = name.split([' ', ',']).next().unwrap_or(name);
        let short = if short == "Clutch" { "Gearbox" } else { short };
        let lead = format!("{short} on the vehicle: ");
        let node = desk.get_by_label_contains(&lead);
        assert!(node.rect().height() >= 28.0, "{name}");
        let label = node.accesskit_node().label().unwrap_or_default();
        assert!(label.contains(word), "{label}: {word}");
    }
}

#[test]
fn a_click_on_a_system_brings_it_up_and_the_keyboard_to_its_first_row() {
    let mut desk = board(None);
    let a = desk.state().assessment();
    let first = a.positions.iter().find(|p| p.system == "brakes").expect("brakes").clone();
    // folded away before, it is unfolded
    press(&mut desk, Modifiers::COMMAND, Key::L);
    assert!(!has(&desk, "Brakes, unfolded"));
    desk.get_by_label_contains("Brakes on the vehicle: ").click();
    settle(&mut desk);
    let head = desk.get_by_label_contains("Brakes, unfolded").rect();
    assert!(head.top() > 0.0 && head.bottom() < 714.0, "{head:?}");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().selected(), Some(first.id));
}

#[test]
fn the_drawing_itself_can_be_clicked() {
    let mut desk = board(None);
    let first =
        desk.state().assessment().positions.iter().find(|p| p.system == "wheels").map(|p| p.id.clone());
    let drawing = desk.get_by_role(egui::accesskit::Role::Image).rect();
    // the foot of the front tyre
    let at = drawing.left_bottom() + vec2(860.0, -30.0) * (drawing.height() / 1800.0);
    desk.hover_at(at);
    desk.step();
    desk.drag_at(at);
    desk.drop_at(at);
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().selected(), first);
}

#[test]
fn it_folds_away_and_that_is_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut desk = board(Some(home.clone()));
    assert!(shown(&desk));
    desk.get_by_label("Fold the vehicle away").click();
    settle(&mut desk);
    assert!(!shown(&desk));
    drop(desk);
    let mut desk = start(None, Some(home));
    assert!(!shown(&desk));
    desk.get_by_label("Show or fold the vehicle").click();
    settle(&mut desk);
    assert!(shown(&desk));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "fold the vehicle");
    assert!(!shown(&desk));
}

#[test]
fn a_low_window_starts_without_it_and_nothing_leaves_the_window() {
    let mut desk = board(None);
    desk.set_size(vec2(1000.0, 620.0));
    desk.run_steps(3);
    assert!(!shown(&desk));
    desk.get_by_label("Show or fold the vehicle").click();
    settle(&mut desk);
    for node in desk.query_all_by_label_contains(" on the vehicle: ") {
        assert!(node.rect().right() <= 1000.0 && node.rect().left() >= 0.0, "{:?}", node.rect());
    }
}
