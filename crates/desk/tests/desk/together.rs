//! What clears the clashes together is looked for beside the frame, told of the sheet as it stands and of no other, taken
//! with one key and taken back with one undo.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::date;
use knockon_core::sheet::{Choice, Sheet};
use knockon_core::together::{CureSet, Together, together};
use knockon_core::{Amounts, Assessment, assess};

use crate::help::*;

const WORKING: &str = "Working out what clears it together";

/// On the plan of the example that shows the most clashes; what clears them is not there yet.
fn clashing() -> Desk {
    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num2);
    assert!(desk.state().assessment().clashes.len() > 3);
    desk
}

/// What is to be told, worked out by itself; the figures are those of the sheet with each set taken.
fn expected(desk: &Desk) -> Together {
    let catalogue = knockon_store::library::shipped().on(date::day(TODAY.get()).expect("a day"));
    let sheet = desk.state().sheet();
    let a = assess(sheet, &sheet.plan, &catalogue);
    let mut found = together(sheet, &sheet.plan, &catalogue, &a);
    for set in found.sets.iter_mut().chain(found.knots.iter_mut().flat_map(|knot| &mut knot.sets)) {
        let mut taken = sheet.clone();
        taken.plans.get_mut(&sheet.plan).expect("a plan").routes.extend(set.changes.clone());
        let after = assess(&taken, &sheet.plan, &catalogue);
        set.money = &after.totals.money.all() - &a.totals.money.all();
        set.hours = after.totals.hours - a.totals.hours;
        set.to_measure = after.to_measure.len() as i64 - a.to_measure.len() as i64;
        set.left = after.clashes.iter().map(|clash| clash.key.clone()).collect();
    }
    found
}

fn dollars(change: &Amounts) -> String {
    let change = change.of("USD");
    let sign = if change.is_sign_negative() { "−" } else { "+ " };
    format!("{sign}${:.2}", change.abs())
}

/// The sheet after a set was taken, held against what was told of it.
fn came_true(desk: &Desk, before: &Assessment, set: &CureSet) {
    let after = desk.state().assessment();
    assert_eq!(&after.totals.money.all() - &before.totals.money.all(), set.money);
    assert!((after.totals.hours - before.totals.hours - set.hours).abs() < 1e-9);
    assert_eq!(after.to_measure.len() as i64 - before.to_measure.len() as i64, set.to_measure);
    let left: Vec<_> = after.clashes.iter().map(|clash| clash.key.clone()).collect();
    assert_eq!(left, set.left);
    for (place, choice) in &set.changes {
        assert_eq!(chosen(desk.state().sheet(), place), Some(choice));
    }
}

fn chosen<'s>(sheet: &'s Sheet, place: &str) -> Option<&'s Choice> {
    sheet.plans.get(&sheet.plan)?.routes.get(place)
}

/// Texts of the frame that hold a piece.
fn told(desk: &Desk, piece: &str) -> Vec<String> {
    let all = desk.query_all_by_label_contains(piece);
    all.filter_map(|node| node.accesskit_node().label().or_else(|| node.accesskit_node().value())).collect()
}

#[test]
fn the_line_above_the_board_says_what_clears_all_and_one_key_takes_it() {
    let mut desk = clashing();
    searched(&mut desk);
    let (before, sheet) = (desk.state().assessment().clone(), desk.state().sheet().clone());
    let set = expected(&desk).sets[0].clone();
    assert!(set.changes.len() > 3 && set.left.is_empty(), "{set:?}");
    let (n, of) = (set.changes.len(), before.clashes.len());
    let line = told(&desk, &format!("{of} do not fit. {n} changes clear all {of}: "));
    let [line] = &line[..] else { panic!("one line: {line:?}") };
    assert!(line.contains(&dollars(&set.money)), "{line}");
    assert_eq!(line.contains("gives up: "), !set.gives_up.is_empty(), "{line}");
    // the key takes it; a step that cannot be undone is asked for in the same line
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    if has(&desk, "Choose it all the same") {
        assert_eq!(*desk.state().sheet(), sheet, "nothing happens before the answer");
        say_yes(&mut desk);
    }
    came_true(&desk, &before, &set);
    assert!(!has(&desk, "do not fit. "));
    // one undo takes all of it back
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), sheet);
    // what was taken back is asked for again
    searched(&mut desk);
    click(&mut desk, &format!("Take all {n}"));
    say_yes(&mut desk);
    came_true(&desk, &before, &set);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), sheet);
}

#[test]
fn a_place_tells_what_clears_all_that_hangs_together_there_and_its_keys_take_it() {
    let mut desk = clashing();
    searched(&mut desk);
    let (before, sheet) = (desk.state().assessment().clone(), desk.state().sheet().clone());
    let found = expected(&desk);
    assert!(found.knots.len() > 2, "{found:?}");
    let mut taken = 0;
    for knot in &found.knots {
        let clash = before.clashes.iter().find(|clash| knot.clashes.contains(&clash.key)).expect("a clash");
        let place = before.positions.iter().find(|p| p.clashes.contains(&clash.key)).expect("a place");
        // a place may have a part in another knot that comes first there
        let first = before.clashes.iter().find(|clash| place.clashes.contains(&clash.key));
        if !first.is_some_and(|first| knot.clashes.contains(&first.key)) {
            continue;
        }
        go_to(&mut desk, &place.name);
        // all ways of the first, the best of the others
        let ways = if taken == 0 { 3 } else { 1 };
        for (set, key) in knot.sets.iter().take(ways).zip([Key::Num1, Key::Num2, Key::Num3]) {
            // it says what it costs and how many are left
            let rows = told(&desk, &dollars(&set.money));
            let left = match set.left.len() {
                0 => "hen all fits".to_owned(),
                n => format!("eaves {n} of {} that do not fit", before.clashes.len()),
            };
            assert!(set.money.is_zero() || rows.iter().any(|row| row.contains(&left)), "{rows:?} {set:?}");
            press(&mut desk, Modifiers::ALT, key);
            say_yes(&mut desk);
            came_true(&desk, &before, set);
            press(&mut desk, Modifiers::COMMAND, Key::Z);
            assert_eq!(*desk.state().sheet(), sheet);
            searched(&mut desk);
            taken += 1;
        }
    }
    assert!(taken > 3, "{taken}");
}

#[test]
fn the_list_of_what_does_not_fit_tells_each_knot_and_a_click_takes_it() {
    let mut desk = clashing();
    searched(&mut desk);
    let (before, sheet) = (desk.state().assessment().clone(), desk.state().sheet().clone());
    let found = expected(&desk);
    // with nothing selected the panel has it
    for knot in &found.knots {
        for key in &knot.clashes {
            let name =
                before.clashes.iter().find(|clash| clash.key == *key).expect("there").name.to_lowercase();
            assert!(desk.query_all_by_role(Role::Button).any(|n| {
                n.accesskit_node().label().is_some_and(|label| label.to_lowercase().starts_with(&name))
            }));
        }
    }
    // one that asks for nothing: two clicks at most from the first look, here one
    let single = |set: &&CureSet| set.changes.len() == 1 && set.gives_up.is_empty();
    let set = found.knots.iter().filter_map(|knot| knot.sets.first()).find(single).expect("a single change");
    let (place, _) = set.changes.first_key_value().expect("a change");
    let place = &before.positions.iter().find(|p| p.id == *place).expect("a place").name;
    let row =
        told(&desk, &format!("{place}: ")).into_iter().find(|row| row.contains(" → ")).expect("its row");
    click(&mut desk, &row);
    say_yes(&mut desk);
    came_true(&desk, &before, set);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(*desk.state().sheet(), sheet);
    // the strip opens the same list with what clears all of it in front
    searched(&mut desk);
    click(&mut desk, "Look at each");
    assert!(has(&desk, "All of it together"));
}

#[test]
fn no_frame_waits_for_the_search_and_a_quiet_line_says_that_it_runs() {
    let mut desk = clashing();
    searched(&mut desk);
    // an edit: what was found is not of this sheet any more
    let place = desk.state().assessment().clashes[0].positions[0].clone();
    let name =
        desk.state().assessment().positions.iter().find(|p| p.id == place).expect("there").name.clone();
    go_to(&mut desk, &name);
    assert!(!has(&desk, WORKING));
    let found = expected(&desk);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::Enter);
    desk.run_steps(2);
    say_yes(&mut desk);
    desk.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    desk.run_steps(2);
    // the frame is drawn while the search runs: nothing waited for it, and nothing old is told
    assert!(desk.state().searching());
    assert!(has(&desk, WORKING));
    let n = found.sets[0].changes.len();
    assert!(told(&desk, &format!("{n} changes clear")).is_empty());
    // its key takes nothing yet, and says why
    let sheet = desk.state().sheet().clone();
    desk.key_press_modifiers(Modifiers::COMMAND, Key::Enter);
    desk.run_steps(2);
    if desk.state().searching() {
        assert_eq!(*desk.state().sheet(), sheet);
        assert_eq!(desk.state().message(), Some("What clears it together is still being worked out."));
    }
}

/// Nothing that fits or does not rests on a note: what was found stays, and nothing on the panel moves.
#[test]
fn a_note_leaves_what_was_found() {
    let mut desk = clashing();
    let place = desk.state().assessment().clashes[0].positions[0].clone();
    let name =
        desk.state().assessment().positions.iter().find(|p| p.id == place).expect("there").name.clone();
    go_to(&mut desk, &name);
    searched(&mut desk);
    let label = format!("Notes on {name}");
    unfold(&mut desk, "Notes");
    desk.get_by_role_and_label(Role::MultilineTextInput, &label).focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::MultilineTextInput, &label).type_text("seen");
    // two seconds without a key, and it is in the sheet
    for _ in 0..140 {
        desk.step();
        assert!(!desk.state().searching());
    }
    assert_eq!(desk.state().sheet().notes[&place], "seen");
    assert!(!has(&desk, WORKING));
}

#[test]
fn what_was_found_for_another_sheet_is_never_told() {
    let mut desk = clashing();
    // changes come faster than searches end, and each gives up the one before
    for _ in 0..2 {
        assert!(desk.state().searching());
        let knot = expected(&desk).knots[0].clone();
        let (place, choice) = knot.sets[0].changes.first_key_value().expect("a change");
        let sheet = desk.state().sheet().clone();
        let name =
            desk.state().assessment().positions.iter().find(|p| p.id == *place).expect("there").name.clone();
        go_to(&mut desk, &name);
        searched(&mut desk);
        // told of this sheet, then another choice is made at the place
        let whole = expected(&desk).sets[0].clone();
        let of = desk.state().assessment().clashes.len();
        let lines = told(&desk, &format!("{of} do not fit. "));
        assert!(!lines.is_empty() && lines.iter().all(|l| l.contains(&dollars(&whole.money))), "{lines:?}");
        let offer =
            desk.state().offered().into_iter().find(|o| o.part == choice.part && o.route == choice.route);
        let Some(offer) = offer else { break };
        take(&mut desk, &offer);
        eprintln!(
            "DBG1 {:?} {:?} {}",
            crate::keyboard::focused(&desk),
            desk.state().message(),
            has(&desk, "Choose it all the same")
        );
        assert_ne!(*desk.state().sheet(), sheet);
        if desk.state().assessment().clashes.is_empty() {
            return;
        }
        if desk.state().searching() {
            assert!(told(&desk, " changes clear").is_empty() && told(&desk, " change clears").is_empty());
        }
    }
    searched(&mut desk);
    let (whole, before) = (expected(&desk).sets[0].clone(), desk.state().assessment().clone());
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    say_yes(&mut desk);
    came_true(&desk, &before, &whole);
}

#[test]
fn the_keys_of_a_field_are_its_own_and_a_plan_without_clashes_has_nothing_to_clear() {
    let mut desk = clashing();
    searched(&mut desk);
    let sheet = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::F);
    desk.get_by_role_and_label(Role::TextInput, "Find").type_text("tyre");
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert_eq!(*desk.state().sheet(), sheet);
    assert!(!has(&desk, "Choose it all the same"));

    let mut desk = start(None, None);
    press(&mut desk, Modifiers::NONE, Key::Num3);
    assert!(desk.state().assessment().clashes.is_empty());
    let sheet = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert_eq!(*desk.state().sheet(), sheet);
    assert_eq!(desk.state().message(), Some("Everything fits: there is nothing to clear."));
    assert!(!desk.state().searching());
}

#[test]
fn the_question_of_a_set_goes_with_the_sheet_it_was_asked_of() {
    let mut desk = clashing();
    searched(&mut desk);
    let sheet = desk.state().sheet().clone();
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert!(has(&desk, "Choose it all the same"), "the cab corners are cut: that is asked");
    // no: with Escape
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(!has(&desk, "Choose it all the same"));
    assert_eq!(*desk.state().sheet(), sheet);
    // another plan meanwhile: nothing is asked of the one before
    press(&mut desk, Modifiers::COMMAND, Key::Enter);
    assert!(has(&desk, "Choose it all the same"));
    press(&mut desk, Modifiers::COMMAND, Key::K);
    go_to_typed(&mut desk, "Sound first");
    assert_ne!(desk.state().sheet().plan, sheet.plan);
    assert!(!has(&desk, "Choose it all the same"));
}
