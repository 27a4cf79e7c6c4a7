//! The walk round the vehicle, by keyboard alone: type, Enter, the next.

use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::sheet::Route;
use knockon_core::survey::{Line, Survey, survey};

use crate::help::*;

fn walk(desk: &Desk) -> Survey {
    let sheet = desk.state().sheet();
    survey(
        sheet,
        &sheet.plan,
        &knockon_store::library::shipped().on(knockon_core::date::day(TODAY.get()).unwrap()),
    )
}

fn page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    desk
}

/// Types as a person does, a key for each letter; how many.
fn keys(desk: &mut Desk, text: &str) -> usize {
    for letter in text.chars() {
        desk.event(Event::Text(letter.to_string()));
        desk.run_steps(1);
    }
    text.chars().count()
}

/// The line whose field has the keyboard.
fn focused(desk: &Desk) -> Option<Line> {
    let label = desk.root().children_recursive().find(|node| node.accesskit_node().is_focused())?;
    let label = label.accesskit_node().label()?;
    walk(desk).lines.into_iter().find(|line| label.starts_with(&format!("{}, {}: ", line.place, line.name)))
}

/// As few letters as say one word of a line, or a figure.
fn short(line: &Line) -> String {
    if line.is_date {
        return "2024".to_owned();
    }
    if line.dimension.is_some() {
        return "6".to_owned();
    }
    let words: Vec<String> = line.words.iter().map(|(word, _)| word.to_lowercase()).collect();
    let first = &words[0];
    let letters: Vec<char> = first.chars().collect();
    let begins = |n: usize| {
        let piece: String = letters[..n].iter().collect();
        words.iter().filter(|word| word.starts_with(&piece)).count()
    };
    let n = (1..=letters.len()).find(|n| begins(*n) == 1).unwrap_or(letters.len());
    letters[..n].iter().collect()
}

#[test]
fn forty_readings_take_fewer_than_a_hundred_and_sixty_keys() {
    let mut desk = page();
    assert!(has(&desk, "In the seat, engine off"));
    let before = walk(&desk);
    let open = before.open().count();
    assert!(open > 60, "{open}");
    // into the walk
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let (mut pressed, mut zones) = (1, Vec::new());
    for n in 0..40 {
        let line = focused(&desk).unwrap_or_else(|| panic!("no line has the keyboard after {n}"));
        assert!(line.is_open(), "{}: {:?}", line.name, line.outcome);
        zones.push(line.zone.clone());
        pressed += keys(&mut desk, &short(&line)) + 1;
        press(&mut desk, Modifiers::NONE, Key::Enter);
    }
    assert!(pressed < 160, "{pressed} keys");
    let sheet = desk.state().sheet().clone();
    let after = walk(&desk);
    let read = after.lines.iter().zip(&before.lines).filter(|(now, then)| now.value != then.value).count();
    assert_eq!(read, 40);
    // who walks on comes into no zone twice
    zones.dedup();
    let mut once = zones.clone();
    once.sort();
    once.dedup();
    assert_eq!(zones.len(), once.len(), "{zones:?}");
    let of_today = sheet.readings.values().flatten().filter(|r| r.on.as_deref() == Some(TODAY.get()));
    assert!(of_today.count() > 30);
}

#[test]
fn what_cannot_be_read_stays_to_be_mended_and_says_why() {
    let mut desk = page();
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let first = focused(&desk).unwrap();
    keys(&mut desk, "6 psi");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let still = focused(&desk).unwrap();
    assert_eq!(still.inspection, first.inspection);
    assert_eq!(still.value, "");
    assert!(has(&desk, "xpected a length") || has(&desk, "xpected a "), "it says why");
    // down and up walk without a reading
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, Modifiers::NONE, Key::Enter);
    press(&mut desk, Modifiers::NONE, Key::ArrowDown);
    assert_ne!(focused(&desk).unwrap().inspection, first.inspection);
    press(&mut desk, Modifiers::NONE, Key::ArrowUp);
    assert_eq!(focused(&desk).unwrap().inspection, first.inspection);
}

#[test]
fn one_key_takes_what_a_bad_reading_proposes_and_one_takes_it_back() {
    let mut desk = page();
    press(&mut desk, Modifiers::NONE, Key::Enter);
    // to the play of the water pump: its play in the example is good
    while focused(&desk).is_some_and(|line| line.inspection != "water-pump-play") {
        press(&mut desk, Modifiers::NONE, Key::ArrowDown);
    }
    keys(&mut desk, "4");
    press(&mut desk, Modifiers::NONE, Key::Enter);
    let sheet = desk.state().sheet();
    assert_eq!(sheet.readings["water-pump"].len(), 2, "the older one is kept");
    assert!(has(&desk, "F2 takes the proposal"));
    press(&mut desk, Modifiers::NONE, Key::F2);
    let choice = |desk: &Desk| {
        let sheet = desk.state().sheet();
        sheet.plans[&sheet.plan].routes.get("water-pump").map(|choice| choice.route)
    };
    assert_eq!(choice(&desk), Some(Route::Renew));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(choice(&desk), None);
}

#[test]
fn the_views_keep_their_keys() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num7);
    assert!(!desk.state().page_is_board() && has(&desk, "Initials of who reads"));
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    assert!(desk.state().page_is_board());
    assert!(desk.query_all_by_label("Survey").count() > 0);
}
