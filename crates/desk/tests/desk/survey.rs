//! What inspection said of a place is typed where the place is looked at.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{AccessKitNode, Queryable};
use knockon_core::key::CompanionKey;
use knockon_core::sheet::Verdict;

use crate::help::*;

const PLACE: &str = "Crank pulley";

/// The closed list of verdicts; its value stands in its name.
fn verdict(desk: &Desk) -> egui_kittest::Node<'_> {
    let name = format!("Survey of {PLACE}: ");
    let is_it = move |n: &AccessKitNode<'_>| {
        n.role() == Role::ComboBox && n.label().is_some_and(|label| label.starts_with(&name))
    };
    desk.query_all_by(is_it).next().expect("the verdict stands in the panel")
}

/// Picks a verdict from the list.
fn say(desk: &mut Desk, words: &str) {
    verdict(desk).click();
    settle(desk);
    desk.get_by_label(words).click();
    settle(desk);
}

fn finding(desk: &Desk, position: &str) -> Option<(Verdict, String)> {
    desk.state().sheet().survey.get(position).map(|f| (f.verdict, f.note.clone()))
}

#[test]
fn a_verdict_is_given_told_and_taken_back() {
    let mut desk = board(None);
    let place = desk.state().assessment().positions.iter().find(|p| p.name == PLACE).unwrap().id.clone();
    go_to(&mut desk, PLACE);
    let before = desk.state().sheet().clone();
    say(&mut desk, "renew: outside its limit");
    let seen = before.survey[&place].note.clone();
    assert_eq!(finding(&desk, &place), Some((Verdict::Renew, seen)));
    // the plan is worked out anew: what is condemned is advised
    let advised = |desk: &Desk| {
        desk.state().assessment().companions.iter().any(|c| c.key == CompanionKey::survey(&place))
    };
    assert!(advised(&desk));
    let field = format!("What was seen of {PLACE}");
    desk.get_by_label(&field).scroll_to_me();
    settle(&mut desk);
    desk.get_by_label(&field).click();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_label(&field).type_text("groove worn 1 mm");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(finding(&desk, &place), Some((Verdict::Renew, "groove worn 1 mm".to_owned())));
    say(&mut desk, "good: inside its limit");
    assert_eq!(finding(&desk, &place), Some((Verdict::Good, "groove worn 1 mm".to_owned())));
    assert!(!advised(&desk));
    for _ in 0..3 {
        press(&mut desk, Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn one_key_leads_to_what_was_seen_of_the_place_selected() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::I);
    // it is read, and said
    assert_eq!(desk.query_all_by_label_contains("Select a place").count(), 2);
    let place = desk.state().assessment().positions.iter().find(|p| p.name == PLACE).unwrap().id.clone();
    go_to(&mut desk, PLACE);
    press(&mut desk, Modifiers::COMMAND, Key::I);
    desk.get_by_label(&format!("What was seen of {PLACE}")).type_text(" and cracked");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(finding(&desk, &place).unwrap().1.contains("and cracked"));
    // nothing was said of it yet: the verdict is asked first
    say(&mut desk, "not looked at yet");
    press(&mut desk, Modifiers::COMMAND, Key::I);
    assert!(verdict(&desk).is_focused());
}

#[test]
fn what_is_being_typed_is_in_the_sheet_before_it_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut desk = board(Some(folder.path().join("home")));
    let place = desk.state().assessment().positions.iter().find(|p| p.name == PLACE).unwrap().id.clone();
    go_to(&mut desk, PLACE);
    say(&mut desk, "watch: usable, to be measured again");
    let field = format!("What was seen of {PLACE}");
    desk.get_by_label(&field).click();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_label(&field).type_text("runs true");
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::S);
    let file = folder.path().join("truck.json");
    type_path(&mut desk, &file, "Save");
    let written = knockon_store::sheets::open(&file).unwrap();
    assert_eq!(written.survey[&place].note, "runs true");
}
