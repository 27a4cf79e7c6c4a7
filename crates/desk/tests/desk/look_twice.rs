//! What to look at twice stands in the panel and is said of its row; from where on a line is dear is the reader's to set.

use egui::accesskit::Role;
use egui_kittest::kittest::Queryable;
use knockon_core::assessment::Companion;
use knockon_core::library::Reversible;

use crate::help::*;

/// Opens the first companion of the example's plan for which this holds.
fn opened(desk: &mut Desk, is_it: impl Fn(&Companion) -> bool) -> Companion {
    let found = desk.state().assessment().companions.iter().find(|c| c.waived.is_none() && is_it(c)).cloned();
    let found = found.expect("the example has one");
    go_to(desk, &found.name);
    found
}

#[test]
fn what_cannot_be_put_back_without_repair_is_said_with_what_is_lost() {
    let mut desk = board(None);
    let found = opened(&mut desk, |c| c.reversible == Reversible::Partly && !c.undone.is_empty());
    let lost = found.undone.trim_end_matches('.');
    assert!(has(&desk, "Look twice") && has(&desk, &format!("Can be undone with some repair: {lost}")));
    assert!(has(&desk, "look twice: can be undone with some repair"), "said of its row as well");
}

#[test]
fn dear_is_from_the_figure_that_is_typed_and_stays_for_the_next_start() {
    let home = tempfile::tempdir().expect("a folder");
    let mut desk = board(Some(home.path().to_owned()));
    let dear = |c: &Companion| c.cost().is_some_and(|m| m.amount > 50.into());
    let found = opened(&mut desk, dear);
    assert!(!has(&desk, "Dear: "));
    click(&mut desk, "What counts as dear or long");
    let field = |desk: &mut Desk, text: &str| {
        let line = desk.get_by_role_and_label(Role::TextInput, "A line is dear from");
        line.focus();
        line.type_text(text);
        settle(desk);
        press(desk, egui::Modifiers::NONE, egui::Key::Enter);
    };
    field(&mut desk, "lots");
    assert!(has(&desk, "\"lots\" is no price: expected an amount"));
    field(&mut desk, "50");
    assert!(has(&desk, "Dear: "));
    drop(desk);
    let mut desk = start(None, Some(home.path().to_owned()));
    go_to(&mut desk, &found.name);
    assert!(has(&desk, "Dear: "), "kept for all sheets on this machine");
}
