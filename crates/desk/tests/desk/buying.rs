//! The buy list and the lists behind the figures.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use knockon_core::sheet::LineState;

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
fn what_lies_in_the_box_of_a_kit_is_ticked_off_by_itself() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let a = desk.state().assessment();
    let content = a.boxes.iter().find(|l| l.key.part == "caliper-hose-380").expect("hoses in a box").clone();
    let (lines, totals) = (a.buy.len(), a.totals.clone());
    desk.get_by_role_and_label(Role::TextInput, "Find").click();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text(&content.name);
    settle(&mut desk);
    let name = format!("State of {} in the box of {}", content.name, content.kit_name);
    desk.get_by_role_and_label(Role::ComboBox, &format!("{name}: to buy")).click();
    settle(&mut desk);
    desk.get_by_label("in hand").click();
    settle(&mut desk);
    assert_eq!(desk.state().sheet().lines[&content.key.to_string()].state, LineState::InHand);
    let a = desk.state().assessment();
    assert_eq!((a.buy.len(), &a.totals), (lines, &totals), "no line and no money more");
    assert_eq!(a.boxes.iter().find(|l| l.key == content.key).map(|l| l.state), Some(LineState::InHand));
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
fn the_price_paid_is_typed_over_and_taken_back() {
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let first = desk.state().assessment().buy.iter().find(|l| l.price.is_some()).expect("a line").clone();
    let name = format!("Price each of {}", first.name);
    let type_in = |desk: &mut Desk, text: &str| {
        desk.get_by_role_and_label(Role::TextInput, &name).focus();
        settle(desk);
        press(desk, Modifiers::COMMAND, Key::A);
        if text.is_empty() {
            press(desk, Modifiers::NONE, Key::Delete);
        } else {
            desk.get_by_role_and_label(Role::TextInput, &name).type_text(text);
            settle(desk);
        }
        press(desk, Modifiers::NONE, Key::Enter);
    };
    let paid = |desk: &Desk| desk.state().sheet().lines.get(&first.part).and_then(|l| l.paid.clone());
    type_in(&mut desk, "17.25");
    assert_eq!(paid(&desk).map(|m| m.to_string()), Some("17.25 USD".to_owned()));
    let line = desk.state().assessment().buy.iter().find(|l| l.part == first.part).cloned();
    assert_eq!(line.and_then(|l| l.price).map(|m| m.to_string()), Some("17.25 USD".to_owned()));
    // what is no price is told and changes nothing
    type_in(&mut desk, "cheap");
    assert!(desk.state().message().is_some_and(|m| m.contains("cheap")), "{:?}", desk.state().message());
    assert_eq!(paid(&desk).map(|m| m.to_string()), Some("17.25 USD".to_owned()));
    type_in(&mut desk, "99999999");
    assert!(desk.state().message().is_some_and(|m| m.contains("10,000,000")), "{:?}", desk.state().message());
    assert_eq!(paid(&desk).map(|m| m.to_string()), Some("17.25 USD".to_owned()));
    type_in(&mut desk, "95,50");
    assert_eq!(paid(&desk).map(|m| m.to_string()), Some("95.50 USD".to_owned()));
    type_in(&mut desk, "");
    assert_eq!(paid(&desk), None);
}

/// How many lines the page says it shows.
fn shown(desk: &Desk) -> usize {
    let told = |l: String| l.contains(" of ") && l.ends_with(" lines");
    let text = desk.get_by(|n| n.value().is_some_and(told)).value().expect("a text");
    text.split(' ').next().and_then(|n| n.parse().ok()).expect("a number")
}

#[test]
fn enter_in_the_find_field_finds_on_the_buy_list_and_stays() {
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let all = desk.state().assessment().buy.len();
    let line = desk.state().assessment().buy.last().expect("a line").clone();
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text(&line.name);
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(has(&desk, "Buy list") && shown(&desk) < all);
    assert!(has(&desk, &format!("Supplier of {}", line.name)));
    assert_eq!(desk.get_by_role_and_label(Role::TextInput, "Find").value(), Some(line.name));
}

#[test]
fn the_export_takes_all_lines_or_on_request_those_shown() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = converted(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let (all, boxes) = (desk.state().assessment().buy.len(), desk.state().assessment().boxes.len());
    let line = desk.state().assessment().buy.last().expect("a line").clone();
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text(&line.name);
    settle(&mut desk);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let few = shown(&desk);
    for (name, only, wanted) in [("all.csv", false, all), ("few.csv", true, few), ("again.csv", false, all)] {
        let file = folder.path().join(name);
        press(&mut desk, Modifiers::COMMAND, Key::E);
        if only {
            desk.get_by_label_contains("Only the ").click();
            settle(&mut desk);
        }
        type_path(&mut desk, &file, "Export");
        let csv = std::fs::read_to_string(&file).unwrap();
        let boxed = csv.lines().filter(|row| row.contains("in the box of")).count();
        assert_eq!(csv.lines().count(), wanted + boxed + 1, "{name}");
        assert_eq!(boxed, if only { 0 } else { boxes }, "{name}");
        assert!(csv.contains(&line.part), "{name}");
    }
}

#[test]
fn twelve_lines_are_marked_ordered_with_three_clicks_and_one_undo() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    let before = desk.state().sheet().clone();
    let names: Vec<String> = desk.state().assessment().buy.iter().take(5).map(|l| l.name.clone()).collect();
    let parts: Vec<String> = desk.state().assessment().buy.iter().map(|l| l.part.clone()).collect();
    desk.get_by_role_and_label(Role::CheckBox, &format!("{}, to buy", names[0])).click();
    settle(&mut desk);
    // the keyboard goes on from there, beyond what is drawn
    for _ in 0..11 {
        press(&mut desk, Modifiers::SHIFT, Key::ArrowDown);
    }
    assert!(has(&desk, "12 chosen"));
    desk.get_by_label("Set those chosen: on order").click();
    settle(&mut desk);
    let state = |desk: &Desk, part: &String| desk.state().sheet().lines.get(part).map(|l| l.state);
    for part in &parts[..12] {
        assert_eq!(state(&desk, part), Some(LineState::OnOrder), "{part}");
    }
    assert_eq!(state(&desk, &parts[12]), None);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(*desk.state().sheet() == before);
    // by a key alone
    press(&mut desk, Modifiers::NONE, Key::H);
    assert_eq!(state(&desk, &parts[3]), Some(LineState::InHand));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "12 chosen"));
    // a letter typed into a field is a letter
    let field = desk
        .query_all_by_role(Role::TextInput)
        .find(|n| n.accesskit_node().label().is_some_and(|l| l.starts_with("Supplier of ")));
    field.expect("a field").click();
    settle(&mut desk);
    let now = desk.state().sheet().lines.clone();
    press(&mut desk, Modifiers::NONE, Key::F);
    assert!(
        desk.state().sheet().lines.iter().all(|(part, l)| now.get(part).is_some_and(|n| n.state == l.state))
    );
}

#[test]
fn what_lies_in_a_box_is_chosen_with_its_kit() {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    // the foot is there before anything is chosen: it covers no line later
    assert!(has(&desk, "Choose lines by their names"));
    let a = desk.state().assessment();
    let of = |l: &&knockon_core::assessment::BoxLine| {
        desk.query_by_label(&format!("{}, goes with its kit", l.name)).is_some()
    };
    let content = a.boxes.iter().find(of).expect("a box in sight").clone();
    desk.get_by_label(&format!("{}, goes with its kit", content.name)).click();
    settle(&mut desk);
    assert!(has(&desk, "1 chosen"));
    press(&mut desk, Modifiers::NONE, Key::O);
    let state = desk.state().sheet().lines.get(&content.key.kit).map(|l| l.state);
    assert_eq!(state, Some(LineState::OnOrder));
    let a = desk.state().assessment();
    assert!(a.boxes.iter().any(|l| l.key == content.key && l.state == LineState::OnOrder));
}
