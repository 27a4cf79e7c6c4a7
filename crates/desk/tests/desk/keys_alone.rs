//! A day's work by keys alone: from opening to quitting, with the keys counted, and the focus in sight after each step.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, pos2, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::sheet::LineState;

use crate::help::*;
use crate::keyboard::focused;

const NONE: Modifiers = Modifiers::NONE;
const CTRL: Modifiers = Modifiers::COMMAND;

/// The desk and how many keys were pressed.
struct Hands {
    desk: Desk,
    keys: usize,
}

impl Hands {
    fn key(&mut self, modifiers: Modifiers, key: Key) {
        press(&mut self.desk, modifiers, key);
        self.keys += 1;
    }

    /// Text for whatever has the keyboard, a key a letter.
    fn text(&mut self, text: &str) {
        let field = self.desk.query_all_by(|n| n.is_focused() && n.role() == Role::TextInput).next();
        field.expect("a field has the keyboard").type_text(text);
        settle(&mut self.desk);
        self.keys += text.chars().count();
    }

    /// Ctrl+K, what is typed, Enter.
    fn by_name(&mut self, name: &str) {
        self.key(CTRL, Key::K);
        self.text(name);
        self.key(NONE, Key::Enter);
    }

    /// Something has the keyboard, and it is in sight.
    fn seen(&self, after: &str) {
        let (name, rect) =
            focused(&self.desk).unwrap_or_else(|| panic!("nothing has the keyboard after {after}"));
        let window = Rect::from_min_size(pos2(0.0, 0.0), vec2(1366.0, 768.0)).expand(1.0);
        assert!(window.contains_rect(rect), "after {after}: {name} is out of sight: {rect:?}");
    }
}

#[test]
fn a_days_work_takes_fewer_than_120_keys() {
    let home = tempfile::tempdir().expect("a folder");
    let desk = start(None, Some(home.path().to_owned()));
    let mut hands = Hands { desk, keys: 0 };
    // open a plan of the example
    hands.key(NONE, Key::Num2);
    assert!(hands.desk.state().page_is_board());
    // discs at the front
    hands.by_name("disc brake");
    assert_eq!(hands.desk.state().selected().as_deref(), Some("front-brakes"));
    hands.seen("disc brakes were found");
    let before = hands.desk.state().sheet().clone();
    hands.key(NONE, Key::Enter);
    if has(&hands.desk, "Choose it all the same") {
        hands.key(NONE, Key::Tab);
        hands.key(NONE, Key::Enter);
    }
    assert_ne!(*hands.desk.state().sheet(), before, "discs are chosen");
    hands.seen("discs were chosen");
    // clear what does not fit
    searched(&mut hands.desk);
    let clashes = hands.desk.state().assessment().totals.clashes;
    hands.key(CTRL, Key::Enter);
    if has(&hands.desk, "Choose it all the same") {
        hands.key(NONE, Key::Tab);
        hands.key(NONE, Key::Enter);
    }
    let left = hands.desk.state().assessment().totals.clashes;
    assert!(clashes > 0 && left < clashes, "{clashes} clashes became {left}");
    hands.seen("clashes were cleared");
    // a measurement
    let measured = hands.desk.state().sheet().facts.len();
    hands.key(CTRL, Key::M);
    hands.seen("asking for a measurement");
    let hint = hands
        .desk
        .query_all_by(|n| n.is_focused())
        .next()
        .and_then(|n| n.accesskit_node().placeholder().map(str::to_owned));
    let hint = hint.expect("an example stands in the field");
    let value = hint.trim_start_matches("such as ").split(", ").next().unwrap_or_default().to_owned();
    hands.text(&value);
    hands.key(NONE, Key::Enter);
    assert_eq!(hands.desk.state().sheet().facts.len(), measured + 1, "{value} was measured");
    hands.seen("a measurement was entered");
    // all that a choice brings
    let open = hands.desk.state().assessment().totals.companions_open;
    hands.by_name("front br");
    hands.by_name("accept what");
    assert!(hands.desk.state().assessment().totals.companions_open < open);
    hands.seen("companions were accepted");
    // twelve lines are ordered
    hands.key(CTRL, Key::Num2);
    hands.key(NONE, Key::Home);
    for _ in 0..11 {
        hands.key(Modifiers::SHIFT, Key::ArrowDown);
        hands.seen("a line more");
    }
    hands.key(NONE, Key::O);
    let ordered = hands.desk.state().sheet().lines.values().filter(|l| l.state == LineState::OnOrder).count();
    assert_eq!(ordered, 12);
    hands.seen("lines were ordered");
    // the buy list as a file: the path that is proposed
    hands.key(CTRL, Key::E);
    hands.seen("the dialog opened");
    let path = hands.desk.get_by(|n| n.is_focused()).accesskit_node().value().expect("a path is proposed");
    hands.key(NONE, Key::Enter);
    let was_there = hands.desk.query_all_by_label("Replace it").next().is_some();
    if was_there {
        hands.key(NONE, Key::Escape);
    }
    assert!(was_there || std::path::Path::new(&path).is_file(), "{path} was written");
    if !was_there {
        std::fs::remove_file(&path).expect("it was ours");
    }
    hands.seen("the export");
    // what it all comes to, and that on paper
    hands.key(CTRL, Key::Num8);
    assert!(has(&hands.desk, "In all, "));
    hands.key(CTRL, Key::P);
    hands.seen("the dialog for paper opened");
    hands.key(NONE, Key::Escape);
    // another plan
    let plans = hands.desk.state().sheet().plans.len();
    hands.by_name("another pl");
    hands.key(NONE, Key::Enter);
    assert_eq!(hands.desk.state().sheet().plans.len(), plans + 1);
    hands.seen("another plan");
    hands.key(CTRL, Key::Q);
    assert!(hands.keys < 120, "{} keys", hands.keys);
}
