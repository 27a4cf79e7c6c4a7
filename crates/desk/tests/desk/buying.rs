//! The buy list and the lists behind the figures.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;

use crate::help::*;

#[test]
fn the_buy_list_takes_supplier_and_state() {
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let line = desk.state().assessment().buy.first().expect("something to buy").clone();
    let field = format!("Supplier of {}", line.name);
    desk.get_by_role_and_label(Role::TextInput, &field).click();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, &field).type_text("the parts counter");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(desk.state().sheet().lines[&line.part].supplier, "the parts counter");
}

#[test]
fn every_figure_opens_the_list_behind_it() {
    let (mut desk, _) = converted(None);
    for (figure, title) in
        [("companions open", "Companions that want an answer"), ("to come", "To come: still to buy")]
    {
        desk.get_by_label_contains(figure).click();
        settle(&mut desk);
        assert!(has(&desk, title), "{title}");
    }
    desk.get_by_label("Close the list").click();
    settle(&mut desk);
    assert!(!has(&desk, "To come: still to buy"));
}
