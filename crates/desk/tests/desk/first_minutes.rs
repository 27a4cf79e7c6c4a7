//! The first five minutes: each view of an empty sheet says what it is for and leads to its first step; the page "How it
//! works" is one key away and leads back.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};

use crate::help::*;

fn empty_sheet() -> Desk {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::COMMAND, Key::N);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    assert!(desk.state().assessment().buy.is_empty(), "something is chosen in a new sheet");
    desk
}

fn headings(desk: &Desk) -> Vec<(String, Option<usize>)> {
    desk.query_all_by_role(Role::Heading)
        .map(|n| (n.accesskit_node().label().unwrap_or_default(), n.accesskit_node().level()))
        .collect()
}

#[test]
fn every_empty_view_says_what_it_is_for_and_its_first_step() {
    let mut desk = empty_sheet();
    assert!(has(&desk, "Nothing is chosen yet") && has(&desk, "Pick a system on the board"));
    for (key, head) in [
        (Key::Num2, "Nothing is to be bought yet"),
        (Key::Num4, "There is no work yet"),
        (Key::Num8, "No money is planned yet"),
    ] {
        press(&mut desk, Modifiers::COMMAND, key);
        assert!(has(&desk, head) && has(&desk, "Choose on the board what you will do"), "{head}");
        // no hours, no sessions of nothing
        assert!(!has(&desk, "-0 ") && !has(&desk, "0 sessions"));
        click(&mut desk, "To the board");
        assert!(desk.state().page_is_board(), "{head}");
    }
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "my parts");
    assert!(has(&desk, "What the library does not have can be typed in"));
    press(&mut desk, Modifiers::COMMAND, Key::Num3);
    assert!(has(&desk, "With the example figures"));

    // once something is chosen the first steps are gone
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    let offer = conversion(&mut desk);
    take(&mut desk, &offer);
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "Nothing is chosen yet") && has(&desk, "Unresolved"));
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    assert!(!has(&desk, "There is no work yet"));
}

#[test]
fn how_it_works_is_one_key_away_and_leads_back() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num2);
    press(&mut desk, Modifiers::NONE, Key::F1);
    // WCAG 2.2, 1.3.1 and 1.1.1: headings are headings with their level, pictures have a text
    let all = headings(&desk);
    assert_eq!(all.first(), Some(&("How it works".to_owned(), Some(1))));
    assert!(all.len() > 6 && all[1..].iter().all(|(_, level)| *level == Some(2)), "{all:?}");
    let pictures: Vec<String> =
        desk.query_all_by_role(Role::Image).map(|n| n.accesskit_node().label().unwrap_or_default()).collect();
    assert!(pictures.len() > 3 && pictures.iter().all(|told| told.len() > 30), "{pictures:?}");
    // the keys that read a text on move it
    let top = |desk: &Desk| desk.query_all_by_role(Role::Heading).next().unwrap().rect().top();
    let before = top(&desk);
    press(&mut desk, Modifiers::NONE, Key::PageDown);
    assert!(top(&desk) < before - 300.0, "{} {before}", top(&desk));
    press(&mut desk, Modifiers::NONE, Key::Home);
    assert!((top(&desk) - before).abs() < 1.0);
    // back to where one came from, by either key
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(has(&desk, "Buy list"));
    press(&mut desk, Modifiers::NONE, Key::F1);
    press(&mut desk, Modifiers::NONE, Key::F1);
    assert!(has(&desk, "Buy list"));
    // by what people call it, and while somebody writes
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "help");
    assert!(!headings(&desk).is_empty());
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    press(&mut desk, Modifiers::COMMAND, Key::F);
    press(&mut desk, Modifiers::NONE, Key::F1);
    assert!(!headings(&desk).is_empty());
}
