//! What holds on every page: names for a screen reader, targets that can be hit, nothing past the edge of the window.

use egui::accesskit::Role;
use egui::{Key, Modifiers, Rect, vec2};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;

/// Things to press or to write in.
const CONTROLS: [Role; 6] = [
    Role::Button,
    Role::TextInput,
    Role::MultilineTextInput,
    Role::ComboBox,
    Role::RadioButton,
    Role::CheckBox,
];
/// WCAG 2.2 asks for 24; the desk wants 28.
const TARGET: f32 = 28.0;

fn check(desk: &Desk, page: &str, width: f32, height: f32) {
    let window = Rect::from_min_size(egui::Pos2::ZERO, vec2(width, height));
    let mut seen = 0;
    for node in desk.query_all_by(|n| CONTROLS.contains(&n.role())) {
        let inner = node.accesskit_node();
        let name = inner.label().unwrap_or_default();
        let rect = node.rect();
        assert!(!name.trim().is_empty(), "{page}: a control without a name at {rect:?}");
        assert!(rect.height() >= TARGET - 0.6, "{page}: {name} is {} high", rect.height());
        // what is scrolled away may lie above or below, never beside
        let beside = rect.left() < window.left() - 0.5 || rect.right() > window.right() + 0.5;
        assert!(!beside, "{page} at {width}: {name} reaches past the edge: {rect:?}");
        seen += 1;
    }
    assert!(seen > 3, "{page}: {seen} controls");
}

#[test]
fn every_page_at_every_size() {
    for (width, height) in [(1366.0, 768.0), (1000.0, 620.0), (1920.0, 1080.0)] {
        let mut desk = start(None, None);
        desk.set_size(vec2(width, height));
        settle(&mut desk);
        check(&desk, "start page", width, height);
        desk.get_by_label_contains("Back to ").click();
        settle(&mut desk);
        check(&desk, "board", width, height);
        go_to(&mut desk, "Carburettor");
        check(&desk, "position", width, height);
        let companion = desk.state().assessment().companions.first().map(|c| c.name.clone());
        go_to(&mut desk, &companion.expect("a companion"));
        check(&desk, "companion", width, height);
        press(&mut desk, Modifiers::COMMAND, Key::Num2);
        check(&desk, "buy list", width, height);
        press(&mut desk, Modifiers::COMMAND, Key::Num8);
        check(&desk, "money", width, height);
        press(&mut desk, Modifiers::COMMAND, Key::P);
        check(&desk, "print or save", width, height);
        press(&mut desk, Modifiers::NONE, Key::Escape);
        press(&mut desk, Modifiers::COMMAND, Key::Num3);
        for card in crate::fitup::CARDS {
            click(&mut desk, card);
            check(&desk, card, width, height);
        }
        press(&mut desk, Modifiers::COMMAND, Key::K);
        check(&desk, "palette", width, height);
        go_to_typed(&mut desk, "my parts");
        check(&desk, "my parts", width, height);
        press(&mut desk, Modifiers::COMMAND, Key::Num1);
        go_to(&mut desk, "Carburettor");
        click(&mut desk, "Add my own part here…");
        check(&desk, "part form", width, height);
        press(&mut desk, Modifiers::COMMAND, Key::N);
        check(&desk, "new sheet", width, height);
        press(&mut desk, Modifiers::NONE, Key::Escape);
        press(&mut desk, Modifiers::COMMAND, Key::S);
        check(&desk, "path", width, height);
    }
}
