//! The whole desk, driven without a window.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "a test may stop")]

use std::path::PathBuf;
use std::time::{Duration, Instant};

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use knockon_core::assessment::Offer;
use knockon_core::sheet::{LineState, Route};
use knockon_desk::{App, Start};

type Desk = Harness<'static, App>;

fn start(file: Option<PathBuf>, home: Option<PathBuf>) -> Desk {
    let example = knockon_store::sheets::parse("the example", knockon_store::library::example())
        .expect("the example is a sheet");
    let start = Start { file, catalogue: knockon_store::library::shipped(), example };
    let mut desk = Harness::builder()
        .with_size([1366.0, 768.0])
        .with_max_steps(12)
        .build_eframe(move |cc| App::with_home(cc, start, home));
    settle(&mut desk);
    desk
}

/// Frames until nothing is under way any more.
fn settle(desk: &mut Desk) {
    let begun = Instant::now();
    loop {
        desk.run_steps(3);
        if !desk.state().busy() {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "work off the frame does not come back");
        std::thread::sleep(Duration::from_millis(5));
    }
    desk.run_steps(2);
}

/// On the board, past the start page.
fn board(home: Option<PathBuf>) -> Desk {
    let mut desk = start(None, home);
    desk.get_by_label_contains("Back to ").click();
    settle(&mut desk);
    desk
}

fn press(desk: &mut Desk, modifiers: Modifiers, key: Key) {
    desk.key_press_modifiers(modifiers, key);
    settle(desk);
}

fn has(desk: &Desk, part: &str) -> bool {
    desk.query_all_by_label_contains(part).next().is_some()
}

/// Selects positions through the palette until one offers a conversion that brings companions.
fn conversion(desk: &mut Desk) -> Offer {
    let places: Vec<(String, String)> =
        desk.state().assessment().positions.iter().map(|p| (p.id.clone(), p.name.clone())).collect();
    for (id, name) in places {
        go_to(desk, &name);
        let found = desk.state().offered().into_iter().find(|o| {
            o.position == id && o.route == Route::Convert && !o.current && !o.companions_added.is_empty()
        });
        if let Some(offer) = found {
            return offer;
        }
    }
    panic!("no position of the example offers a conversion with companions");
}

fn go_to(desk: &mut Desk, name: &str) {
    press(desk, Modifiers::COMMAND, Key::K);
    desk.get_by_role_and_label(Role::TextInput, "Command or place").type_text(name);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

/// Takes the offer with its number key.
fn take(desk: &mut Desk, offer: &Offer) {
    let at = desk.state().offered().iter().position(|o| o == offer).expect("it is on offer");
    let keys =
        [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];
    match keys.get(at) {
        Some(key) => press(desk, Modifiers::NONE, *key),
        None => panic!("the conversion is beyond the ninth offer"),
    }
}

fn converted(home: Option<PathBuf>) -> (Desk, Offer) {
    let mut desk = board(home);
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    (desk, offer)
}

fn companion_of(desk: &Desk, offer: &Offer) -> knockon_core::assessment::Companion {
    let a = desk.state().assessment();
    let all = a.companions.iter().filter(|c| !c.in_kit && c.waived.is_none() && !c.accepted);
    let new = all.filter(|c| offer.companions_added.contains(&c.name));
    new.into_iter().find(|c| c.line == LineState::ToBuy).expect("a companion to decide").clone()
}

#[test]
fn the_start_page_shows_every_plan_of_the_example_with_its_sentence() {
    let desk = start(None, None);
    for plan in desk.state().sheet().plans.values() {
        assert!(has(&desk, &format!("Look at this plan: {}", plan.name)), "{}", plan.name);
        assert!(!plan.about.is_empty() && has(&desk, &plan.about), "{}", plan.name);
    }
}

#[test]
fn the_board_lists_every_position() {
    let desk = board(None);
    let a = desk.state().assessment();
    assert!(!a.positions.is_empty());
    for p in &a.positions {
        assert!(has(&desk, &p.name), "{}", p.name);
    }
    for (_, name) in a.systems.iter().filter(|(id, _)| a.positions.iter().any(|p| p.system == *id)) {
        assert!(has(&desk, &format!("{name}, unfolded")), "{name}");
    }
}

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
    assert_eq!(desk.state().sheet().plans[&plan].accepted.len(), 1);
}

#[test]
fn what_is_saved_comes_back_and_the_list_is_exported() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, offer) = converted(Some(folder.path().join("home")));
    let sheet = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &sheet, "Save");
    assert!(desk.state().message().is_some_and(|m| m.contains("Saved to")), "{:?}", desk.state().message());
    let list = folder.path().join("list.csv");
    press(&mut desk, Modifiers::COMMAND, Key::E);
    type_path(&mut desk, &list, "Export");
    let csv = std::fs::read_to_string(&list).unwrap();
    assert_eq!(csv.lines().count(), desk.state().assessment().buy.len() + 1);
    let written = desk.state().sheet().clone();
    drop(desk);

    let desk = start(Some(sheet), None);
    assert_eq!(*desk.state().sheet(), written);
    assert!(desk.state().sheet().plans[&written.plan].routes.contains_key(&offer.position));
}

fn type_path(desk: &mut Desk, path: &std::path::Path, verb: &str) {
    // the proposed path is selected: typing replaces it
    desk.get_by_role_and_label(Role::TextInput, "Path of the file").type_text(&path.display().to_string());
    settle(desk);
    desk.get_by_role_and_label(Role::Button, verb).click();
    settle(desk);
}

#[test]
fn a_broken_file_leaves_the_old_sheet_open() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.json");
    std::fs::write(&broken, "{ \"format\": 1, ").unwrap();
    let (mut desk, _) = converted(None);
    let before = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::O);
    type_path(&mut desk, &broken, "Open");
    assert_eq!(*desk.state().sheet(), before);
    let message = desk.state().message().expect("says what is wrong");
    assert!(message.contains("broken.json"), "{message}");
}

#[test]
fn changes_of_a_closed_window_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("home");
    let (desk, _) = converted(Some(home.clone()));
    let changed = desk.state().sheet().clone();
    drop(desk);
    let mut desk = start(None, Some(home.clone()));
    assert_eq!(*desk.state().sheet(), changed);
    // the same with a file: the journal beside it
    let file = folder.path().join("truck.json");
    press(&mut desk, Modifiers::COMMAND, Key::S);
    type_path(&mut desk, &file, "Save");
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Y);
    let changed = desk.state().sheet().clone();
    drop(desk);
    let desk = start(Some(file), Some(home));
    assert_eq!(*desk.state().sheet(), changed);
}

#[test]
fn idle_frames_assess_nothing() {
    let (mut desk, _) = converted(None);
    let before = desk.state().assessed();
    desk.run_steps(50);
    assert_eq!(desk.state().assessed(), before);
    let change = desk.state().sheet().plans.keys().count();
    assert!(change > 0 && before >= 2);
}

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

#[test]
fn light_and_dark_are_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().to_owned();
    let mut desk = board(Some(home.clone()));
    desk.get_by_label("Light or dark").click();
    settle(&mut desk);
    drop(desk);
    let desk = start(None, Some(home));
    assert_eq!(desk.ctx.theme(), egui::Theme::Dark);
}

#[test]
fn arrows_walk_the_board_row_by_row_and_enter_opens() {
    let mut desk = board(None);
    let places: Vec<String> = desk.state().assessment().positions.iter().map(|p| p.id.clone()).collect();
    let mut seen = Vec::new();
    for _ in 0..6 {
        press(&mut desk, Modifiers::NONE, Key::ArrowDown);
        press(&mut desk, Modifiers::NONE, Key::Enter);
        seen.push(desk.state().selected().expect("something is open"));
    }
    let mut once = seen.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), seen.len(), "{seen:?}");
    assert!(places.contains(&seen[0]), "{seen:?}");
}
