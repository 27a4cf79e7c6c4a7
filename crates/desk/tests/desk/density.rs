//! How much of the board is told: systems, places, everything; and what stands in the panel beside it.

use egui::accesskit::{Role, Toggled};
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::sheet::{LineState, Route};

use crate::help::*;

/// On the plan of the example with the most to say, as a newcomer sees it.
fn newcomer() -> Desk {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    assert!(desk.state().assessment().clashes.len() > 3);
    desk
}

#[test]
fn at_first_sight_there_is_a_row_a_system_and_nothing_scrolls() {
    let desk = newcomer();
    let a = desk.state().assessment();
    for (id, name) in a.systems.iter().filter(|(id, _)| a.positions.iter().any(|p| p.system == *id)) {
        let row = button(&desk, name).unwrap_or_else(|| panic!("no row for {id}"));
        assert!(row.rect().bottom() <= 768.0 - 46.0, "{name} is at {:?}", row.rect());
    }
    // no place stands there yet
    assert!(!has(&desk, "Choke control, keep"));
}

#[test]
fn a_click_on_a_system_shows_its_places_a_line_each() {
    let mut desk = newcomer();
    button(&desk, "Cooling").expect("its row").click();
    settle(&mut desk);
    let a = desk.state().assessment();
    let places: Vec<_> = a.positions.iter().filter(|p| p.system == "cooling").collect();
    for p in &places {
        let row = button(&desk, &p.name).unwrap_or_else(|| panic!("no line for {}", p.name));
        assert!((row.rect().height() - 28.0).abs() < 1.0, "{:?}", row.rect());
    }
    // what a choice brings is one line, until it is asked for
    let with = places.iter().find(|p| p.companions.len() > 2).expect("a choice that brings something");
    let first = a.companions.iter().find(|c| with.companions.contains(&c.key)).expect("a companion").clone();
    let (name, lead) = (with.name.clone(), format!("{} brings ", with.name));
    assert!(has(&desk, &lead) && !has(&desk, &format!("{}, ", first.name)), "{}", first.name);
    let is_line = |n: &egui_kittest::Node<'_>| {
        n.accesskit_node().label().is_some_and(|l| l.starts_with(&format!("{name} brings ")))
    };
    desk.query_all_by_role(Role::Button).find(is_line).expect("its line").click();
    settle(&mut desk);
    assert!(has(&desk, &first.name));
    // how it was told is kept for the next time only where it was chosen
    press(&mut desk, Modifiers::ALT, Key::S);
    assert!(!has(&desk, &lead));
}

#[test]
fn one_tick_accepts_all_that_a_choice_brings_and_one_undo_takes_it_back() {
    let mut desk = newcomer();
    press(&mut desk, Modifiers::ALT, Key::P);
    let a = desk.state().assessment();
    let is_open = |key: &knockon_core::key::CompanionKey| {
        a.companions.iter().any(|c| {
            c.key == *key
                && !c.accepted
                && !c.in_kit
                && c.reversible == knockon_core::library::Reversible::Yes
        })
    };
    let place = a.positions.iter().find(|p| p.companions.len() > 3 && p.companions.iter().all(is_open));
    let place = place.expect("a choice that brings several").clone();
    let before = desk.state().sheet().clone();
    let label = format!("All that {} brings is accepted", place.name);
    let tick = desk.get_by_label(&label);
    assert_eq!(
        (tick.accesskit_node().role(), tick.accesskit_node().toggled()),
        (Role::CheckBox, Some(Toggled::False))
    );
    click(&mut desk, &label);
    let a = desk.state().assessment();
    for key in &place.companions {
        assert!(a.companions.iter().any(|c| c.key == *key && c.accepted), "{key}");
    }
    assert_eq!(desk.get_by_label(&label).accesskit_node().toggled(), Some(Toggled::True));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn all_that_is_needed_is_accepted_at_once_but_for_what_cannot_be_undone() {
    let mut desk = newcomer();
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND | Modifiers::SHIFT, Key::Enter);
    let a = desk.state().assessment();
    let open = |c: &&knockon_core::assessment::Companion| {
        !c.accepted && !c.in_kit && c.waived.is_none() && c.level == knockon_core::library::Level::Required
    };
    let left: Vec<_> = a.companions.iter().filter(open).collect();
    assert!(a.companions.iter().filter(|c| c.accepted).count() > 50);
    assert!(left.iter().all(|c| c.reversible != knockon_core::library::Reversible::Yes), "{left:?}");
    let told = desk.state().message().unwrap_or_default().to_owned();
    assert!(told.contains("accepted"), "{told}");
    assert_eq!(told.contains("cannot be undone"), !left.is_empty(), "{told}");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), before);
}

#[test]
fn the_panel_begins_at_its_top_and_leads_back_to_the_list() {
    let mut desk = newcomer();
    assert!(has(&desk, "Unresolved"));
    let n = desk.state().assessment().totals.to_measure;
    desk.get_by_role_and_label(Role::Button, &format!("{n} to measure")).click();
    settle(&mut desk);
    let name = desk.state().assessment().to_measure[0].positions[0].clone();
    let wanted = desk.state().assessment().positions.iter().find(|p| p.id == name).expect("there").id.clone();
    let check = desk.state().assessment().to_measure[0].reason;
    let title = desk
        .state()
        .assessment()
        .checks
        .iter()
        .find(|c| c.reason == Some(check))
        .expect("a check")
        .name
        .clone();
    button(&desk, &title).expect("its entry").click();
    settle(&mut desk);
    assert_eq!(desk.state().selected(), Some(wanted));
    // the card of the measurement is in sight, above the strip
    let card = desk.get_by_label_contains(": not known").rect();
    assert!(card.bottom() < 714.0, "{card:?}");
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(desk.query_by_label("Close the list").is_some(), "it leads back to the list");
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(desk.query_by_label("Close the list").is_none());
}

#[test]
fn routes_stand_in_a_table_the_best_first() {
    let mut desk = newcomer();
    go_to(&mut desk, "Generator");
    let offered = desk.state().offered();
    let left =
        |o: &knockon_core::assessment::Offer| o.clashes_added.len() as i64 - o.clashes_removed.len() as i64;
    assert!(offered.len() > 3 && offered.is_sorted_by_key(|o| (left(o), o.to_measure)));
    let rows: Vec<_> = desk
        .query_all_by_role(Role::RadioButton)
        .filter(|n| !n.accesskit_node().label().unwrap_or_default().starts_with("Show "))
        .map(|n| n.rect())
        .collect();
    assert_eq!(rows.len(), offered.len());
    assert!(rows.iter().all(|r| (r.height() - 28.0).abs() < 1.0), "{rows:?}");
    // the first of them is in sight without scrolling
    assert!(rows[0].bottom() < 714.0, "{:?}", rows[0]);
    assert!(offered.iter().any(|o| o.route == Route::Convert));
}

#[test]
fn what_is_looked_for_stays_and_the_rest_steps_back() {
    let mut desk = newcomer();
    let n = desk.state().assessment().clashes.len();
    let chip = format!("Only what is: do not fit {n}");
    click(&mut desk, &chip);
    assert_eq!(desk.get_by_label(&chip).accesskit_node().toggled(), Some(Toggled::True));
    // every row keeps its place
    assert!(button(&desk, "Suspension").is_some());
    click(&mut desk, &chip);
    assert_ne!(desk.get_by_label(&chip).accesskit_node().toggled(), Some(Toggled::True));
}

#[test]
fn how_much_is_told_is_kept_for_the_next_time() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path().join("home");
    {
        let mut desk = board(Some(home.clone()));
        press(&mut desk, Modifiers::ALT, Key::P);
    }
    let config = std::fs::read_to_string(home.join("config.json")).expect("settings");
    assert!(config.contains("\"places\""), "{config}");
}

#[test]
fn a_key_sets_the_state_of_the_row_that_is_selected() {
    let mut desk = newcomer();
    go_to(&mut desk, "Generator");
    let a = desk.state().assessment();
    let part =
        a.positions.iter().find(|p| p.id == "generator").and_then(|p| p.fitted.clone()).expect("a part").0;
    let state = |desk: &Desk| desk.state().sheet().lines.get(&part).map(|l| l.state);
    press(&mut desk, Modifiers::ALT, Key::P);
    for (key, wanted) in
        [(Key::O, LineState::OnOrder), (Key::H, LineState::InHand), (Key::F, LineState::Fitted)]
    {
        press(&mut desk, Modifiers::NONE, key);
        assert_eq!(state(&desk), Some(wanted));
        // what was paid is asked, and left empty
        if wanted == LineState::InHand {
            press(&mut desk, Modifiers::NONE, Key::Enter);
        }
    }
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(state(&desk), Some(LineState::InHand));
    // and its menu tells them
    let row = button(&desk, "Generator, convert").expect("its row").rect().center();
    desk.hover_at(row);
    settle(&mut desk);
    for pressed in [true, false] {
        desk.event(egui::Event::PointerButton {
            pos: row,
            button: egui::PointerButton::Secondary,
            pressed,
            modifiers: Modifiers::NONE,
        });
    }
    settle(&mut desk);
    assert!(has(&desk, "On order") && has(&desk, "Fitted"));
}

#[test]
fn what_came_in_asks_what_was_paid_and_may_be_left_empty() {
    let mut desk = newcomer();
    go_to(&mut desk, "Generator");
    let a = desk.state().assessment();
    let p = a.positions.iter().find(|p| p.id == "generator").and_then(|p| p.fitted.clone()).expect("a part");
    let paid = |desk: &Desk| desk.state().sheet().lines.get(&p.0).and_then(|l| l.paid.clone());
    let label = format!("Price each of {}", p.1);
    assert!(!has(&desk, &label));
    press(&mut desk, Modifiers::NONE, Key::H);
    assert!(desk.get_by_label(&label).is_focused());
    // left as it is, nothing was paid that anybody knows of
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(paid(&desk), None);
    press(&mut desk, Modifiers::NONE, Key::O);
    press(&mut desk, Modifiers::NONE, Key::H);
    desk.get_by_label(&label).type_text("140");
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert_eq!(paid(&desk), Some(knockon_core::Money::new(140.into(), "USD")));
}

#[test]
fn a_companion_leads_back_to_the_place_it_was_opened_from_and_the_filter_ends_with_escape() {
    let mut desk = newcomer();
    go_to(&mut desk, "Generator");
    let a = desk.state().assessment();
    let place = a.positions.iter().find(|p| p.id == "generator").expect("there").clone();
    let open = place
        .companions
        .iter()
        .filter(|key| a.companions.iter().any(|c| c.key == **key && !c.accepted))
        .count();
    let first = a.companions.iter().find(|c| c.key == place.companions[0]).expect("a companion").name.clone();
    let all = format!("Accept all {open} that are open");
    let line = desk.query_all_by_role(Role::Button).find(|n| {
        n.accesskit_node()
            .label()
            .is_some_and(|l| l.contains(&first) && (l.contains("needs") || l.contains("better")))
    });
    line.expect("its line").click_accesskit();
    settle(&mut desk);
    assert!(has(&desk, "Back to its place"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_eq!(desk.state().selected().as_deref(), Some("generator"));
    click(&mut desk, &all);
    let a = desk.state().assessment();
    assert!(place.companions.iter().all(|key| a.companions.iter().any(|c| c.key == *key && c.accepted)));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    let n = desk.state().assessment().clashes.len();
    let chip = format!("Only what is: do not fit {n}");
    click(&mut desk, &chip);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert_ne!(desk.get_by_label(&chip).accesskit_node().toggled(), Some(Toggled::True));
}
