//! Conversions and the companions they bring.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use knockon_core::key::{CheckKey, CompanionKey};
use knockon_core::sheet::{Choice, LineState, Route};

use crate::help::*;

#[test]
fn a_conversion_brings_its_companions_and_undo_takes_them_back() {
    let mut desk = board(None);
    let before = desk.state().sheet().clone();
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    let plan = &desk.state().sheet().plans[&desk.state().sheet().plan];
    assert_eq!(plan.routes[&offer.position].part, offer.part);
    for name in &offer.companions_added {
        assert!(has(&desk, name), "{name} stands on the board");
    }
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    assert_ne!(*desk.state().sheet(), before);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
    assert_ne!(*desk.state().sheet(), before);
}

#[test]
fn a_companion_is_accepted_marked_in_hand_and_left_out_with_a_reason() {
    let (mut desk, offer) = converted(None);
    let c = companion_of(&desk, &offer);
    let plan = desk.state().sheet().plan.clone();
    go_to(&mut desk, &c.name);
    desk.get_by_label("Accept").click();
    settle(&mut desk);
    say_yes(&mut desk);
    let key = desk.state().sheet().plans[&plan].accepted.iter().next().expect("accepted").clone();
    desk.get_by_label("Take the yes back").click();
    settle(&mut desk);
    assert!(desk.state().sheet().plans[&plan].accepted.is_empty());

    desk.get_by_label("I have it in hand").click();
    settle(&mut desk);
    let a = desk.state().assessment();
    let now = a.companions.iter().find(|x| x.key == key).expect("still there");
    assert_eq!(now.line, LineState::InHand);

    desk.get_by_label("Leave out…").click();
    settle(&mut desk);
    assert!(!has(&desk, "One already on the shelf"), "that is a line in hand, not one left out");
    desk.get_by_role_and_label(Role::TextInput, "Why it is left out").type_text("one on the shelf");
    settle(&mut desk);
    desk.get_by_label("Leave it out").click();
    settle(&mut desk);
    assert_eq!(desk.state().sheet().plans[&plan].waived[&key], "one on the shelf");
    assert!(has(&desk, "left out"));
    desk.get_by_label("Take it in again").click();
    settle(&mut desk);
    assert!(desk.state().sheet().plans[&plan].waived.is_empty());
}

#[test]
fn space_accepts_the_companion_under_the_cursor() {
    let (mut desk, offer) = converted(None);
    let c = companion_of(&desk, &offer);
    let plan = desk.state().sheet().plan.clone();
    go_to(&mut desk, &c.name);
    press(&mut desk, Modifiers::NONE, Key::Space);
    say_yes(&mut desk);
    assert_eq!(desk.state().sheet().plans[&plan].accepted.len(), 1);
}

#[test]
fn what_people_depend_on_keeps_its_caution_when_it_is_left_out() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    press(&mut desk, Modifiers::ALT, Key::E);
    let a = desk.state().assessment();
    let has_note = |key: &CompanionKey| a.cautions.iter().any(|n| n.companions.contains(key));
    let mut all = a.companions.iter().filter(|c| c.safety && !c.in_kit && c.waived.is_none());
    let c = all.find(|c| has_note(&c.key)).expect("one that people depend on").clone();
    go_to(&mut desk, &c.name);
    assert_eq!(desk.state().selected(), Some(c.key.to_string()), "{}", c.name);
    click(&mut desk, "Leave out…");
    desk.get_by_role_and_label(Role::TextInput, "Why it is left out").type_text("one on the shelf");
    settle(&mut desk);
    click(&mut desk, "Leave it out");
    // on the board, without opening it: what happens without it
    press(&mut desk, Modifiers::NONE, Key::Escape);
    let left_out = desk.state().assessment().companions.iter().find(|x| x.key == c.key).cloned();
    let danger = left_out.and_then(|x| x.danger).expect("a danger");
    assert!(has(&desk, &format!("left out: one on the shelf, caution: {danger}")), "{danger}");
    // and behind the figure of the cautions, with its reason
    desk.get_by_label_contains("cautions").click();
    settle(&mut desk);
    assert!(has(&desk, &format!("Left out: {} (one on the shelf)", c.name)) || c.qty > 1);
}

/// Discs with a single master cylinder that is kept: what they would be better with is told at their place, and is no clash.
#[test]
fn advice_that_cannot_be_had_is_told_at_its_place() {
    let mut sheet =
        knockon_store::sheets::parse("the example", knockon_store::library::example()).expect("a sheet");
    let choice = |route, part: Option<&str>| Choice { route, part: part.map(str::to_owned) };
    let routes = &mut sheet.plans.get_mut(&sheet.plan).expect("the plan").routes;
    routes.insert("front-brakes".to_owned(), choice(Route::Convert, Some("disc-kit-285")));
    routes.insert("master-cylinder".to_owned(), choice(Route::Keep, None));
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("discs.json");
    std::fs::write(&file, serde_json::to_string(&sheet).expect("a sheet")).expect("it is written");
    let mut desk = start(Some(file), None);
    let told = "better with two separate brake circuits, but nothing fitted supplies it";
    assert!(!has(&desk, told));
    go_to(&mut desk, "Front brakes");
    assert!(has(&desk, told));
    let is_dual = |key: &CheckKey| matches!(key, CheckKey::Need { need, .. } if need == "dual-circuit");
    assert!(!desk.state().assessment().clashes.iter().any(|c| is_dual(&c.key)));
}
