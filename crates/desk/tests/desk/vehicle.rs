//! The vehicle above the board: systems with their state, folding, and the way to a system.

use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::Companion;
use knockon_core::key::CompanionKey;
use knockon_core::sheet::LineState;

use crate::help::*;

/// The drawing is there, not folded away.
fn shown(desk: &Desk) -> bool {
    desk.query_by_label("Fold the vehicle away").is_some()
}

#[test]
fn the_states_beside_the_vehicle_add_up_to_the_strip() {
    let (mut desk, _) = converted(None);
    // an open place takes their room
    press(&mut desk, Modifiers::NONE, Key::Escape);
    let a = desk.state().assessment();
    let (mut clashes, mut measure, mut open) = (0, 0, 0);
    for (_, name) in a.systems.iter().filter(|(id, _)| a.positions.iter().any(|p| p.system == *id)) {
        let short = name.split([' ', ',']).next().unwrap_or(name);
        let short = if short == "Clutch" { "Gearbox" } else { short };
        let lead = format!("{short} on the vehicle: ");
        let node = desk.get_by_label_contains(&lead);
        assert!(node.rect().height() >= 28.0, "{name}");
        let label = node.accesskit_node().label().unwrap_or_default();
        let said = label.strip_prefix(&lead).expect("the lead").to_owned();
        for part in said.split(", ") {
            let n = || part.split(' ').next().and_then(|n| n.parse::<usize>().ok()).expect("a count");
            match part {
                "nothing is unresolved" => {}
                _ if part.ends_with("not fit") => clashes += n(),
                _ if part.ends_with("to measure") => measure += n(),
                _ if part.ends_with("to decide") => open += n(),
                _ => assert!(part.ends_with("to survey"), "{part}"),
            }
        }
    }
    // what belongs to the plan as a whole hangs on no system
    let whole = |key: &CompanionKey| !a.positions.iter().any(|p| p.companions.contains(key));
    let is_open =
        |c: &&Companion| !(c.accepted || c.in_kit || c.waived.is_some() || c.line != LineState::ToBuy);
    let loose = a.companions.iter().filter(is_open).filter(|c| whole(&c.key)).count();
    assert_eq!((clashes, measure), (a.totals.clashes, a.totals.to_measure));
    assert_eq!(open + loose, a.totals.companions_open);
    assert!(open > 0);
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
