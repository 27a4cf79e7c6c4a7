//! The vehicle above the board: systems with their state, folding, and the way to a system.

use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;

use crate::help::*;

/// The drawing is there, not folded away.
fn shown(desk: &Desk) -> bool {
    desk.query_by_label("Fold the vehicle away").is_some()
}

#[test]
fn the_start_page_leads_to_the_other_vehicles() {
    for text in knockon_store::library::further_examples() {
        let sheet = knockon_store::sheets::parse("an example", text).expect("it opens");
        let mut desk = start(None, None);
        click(&mut desk, &sheet.name);
        assert_eq!(desk.state().sheet(), &sheet);
        assert!(desk.state().page_is_board());
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
    press(&mut desk, Modifiers::ALT, Key::S);
    button(&desk, "Brakes").expect("its row").click();
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
    let mut seen = 0;
    for node in
        desk.query_all_by_label_contains("Show ").chain(desk.query_all_by_label_contains("Only what is: "))
    {
        assert!(node.rect().right() <= 1000.0 && node.rect().left() >= 0.0, "{:?}", node.rect());
        seen += 1;
    }
    assert!(seen > 3);
}
