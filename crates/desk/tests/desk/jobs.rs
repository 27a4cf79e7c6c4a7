//! The work on the desk: in its order, for so many hours, and before the road.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};
use knockon_core::assess;

use crate::help::*;

fn jobs_page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    desk
}

#[test]
fn a_job_is_ticked_with_its_day_and_taken_back() {
    let mut desk = jobs_page();
    let sheet = desk.state().sheet().clone();
    let catalogue = knockon_store::library::shipped();
    let work = knockon_core::jobs::jobs(&sheet, &assess(&sheet, &sheet.plan, &catalogue), &catalogue);
    let first = &work.jobs[0];
    desk.get_by_role_and_label(Role::CheckBox, &format!("Done: {}", first.name)).click();
    settle(&mut desk);
    let done = &desk.state().sheet().done;
    assert_eq!(done.keys().collect::<Vec<_>>(), [&first.id]);
    assert_eq!(done[&first.id].on.as_deref(), Some(TODAY.get()));
    assert!(has(&desk, &format!("{} to do", work.jobs.len() - 1)));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(desk.state().sheet().done.is_empty());
}

#[test]
fn a_session_shows_what_its_hours_hold_and_no_hours_are_told() {
    let mut desk = jobs_page();
    click(&mut desk, "this session");
    let some = desk.query_all_by_role(Role::CheckBox).count();
    assert!(some > 1);
    let field = |desk: &mut Desk, text: &str| {
        desk.get_by_role_and_label(Role::TextInput, "Hours I have").focus();
        settle(desk);
        press(desk, Modifiers::COMMAND, Key::A);
        desk.get_by_role_and_label(Role::TextInput, "Hours I have").type_text(text);
        settle(desk);
    };
    field(&mut desk, "0,5");
    assert!(desk.query_all_by_role(Role::CheckBox).count() < some);
    field(&mut desk, "soon");
    assert!(has(&desk, "Hours are a number above nothing"));
}

fn type_into(desk: &mut Desk, name: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, name).focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, name).type_text(text);
    settle(desk);
    press(desk, Modifiers::NONE, Key::Enter);
}

#[test]
fn the_time_there_is_is_typed_and_the_end_stands_beside_the_wanted_day() {
    let mut desk = jobs_page();
    assert!(has(&desk, "nobody has said otherwise"));
    click(&mut desk, "1 person, 6.0 h a session, Saturday, nobody has said otherwise, folded");
    desk.get_by_role_and_label(Role::Button, "2 who work").click();
    settle(&mut desk);
    type_into(&mut desk, "Wanted day", "soon");
    assert!(has(&desk, "expected a day as year, month and day"));
    assert_eq!(desk.state().sheet().time.as_ref().and_then(|time| time.wanted.clone()), None);
    type_into(&mut desk, "Wanted day", "2026-03-14");
    type_into(&mut desk, "Hours a session", "4,5");
    let time = desk.state().sheet().time.clone().expect("a time");
    assert_eq!((time.people.len(), time.hours, time.wanted.as_deref()), (2, Some(4.5), Some("2026-03-14")));
    assert!(has(&desk, "Wanted on Sat 2026-03-14") && has(&desk, "late four times of five"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.state().sheet().time.as_ref().and_then(|time| time.hours), None);
}

#[test]
fn a_job_is_moved_a_session_later_and_comes_back() {
    let mut desk = jobs_page();
    let sheet = desk.state().sheet().clone();
    let catalogue = knockon_store::library::shipped();
    let work = knockon_core::jobs::jobs(&sheet, &assess(&sheet, &sheet.plan, &catalogue), &catalogue);
    let first = work.jobs[0].clone();
    desk.query_all_by_label_contains(&format!("1. {}", first.name)).next().expect("its row").click();
    settle(&mut desk);
    click(&mut desk, "A session later");
    // Sunday 1 March: the first Saturday is the seventh
    assert_eq!(desk.state().sheet().pinned.get(&first.id).map(String::as_str), Some("2026-03-14"));
    assert!(has(&desk, &format!("{} moved: ", first.name)));
    click(&mut desk, "Whenever it comes");
    assert!(desk.state().sheet().pinned.is_empty());
}

#[test]
fn one_job_fills_the_window_and_the_clock_says_what_it_took() {
    let mut desk = jobs_page();
    press(&mut desk, Modifiers::NONE, Key::B);
    assert!(has(&desk, "Back to the list (Esc)") && has(&desk, "Start the clock (T)"));
    press(&mut desk, Modifiers::NONE, Key::T);
    assert!(has(&desk, "Stop the clock (T)"));
    // two minutes later
    let now = desk.ctx.input(|i| i.time);
    desk.input_mut().time = Some(now + 121.0);
    desk.run_steps(2);
    press(&mut desk, Modifiers::NONE, Key::D);
    let done = desk.state().sheet().done.values().next().cloned().expect("a job is done");
    let hours = done.hours.expect("it was timed");
    assert!((0.03..0.04).contains(&hours), "{hours}");
    assert_eq!(done.on.as_deref(), Some(TODAY.get()));
    press(&mut desk, Modifiers::NONE, Key::N);
    assert!(has(&desk, "Start the clock (T)"));
    press(&mut desk, Modifiers::NONE, Key::Escape);
    assert!(has(&desk, "all in order"));
}

#[test]
fn a_check_behind_something_open_is_not_signed_and_says_what_comes_first() {
    let mut desk = jobs_page();
    click(&mut desk, "before the road");
    let sheet = desk.state().sheet().clone();
    let catalogue = knockon_store::library::shipped();
    let work = knockon_core::jobs::jobs(&sheet, &assess(&sheet, &sheet.plan, &catalogue), &catalogue);
    let check =
        work.checks.iter().find(|check| !work.before_check(check).is_empty()).expect("one that waits");
    desk.get_by_role_and_label(Role::CheckBox, &format!("Passed: {}", check.name)).click();
    settle(&mut desk);
    assert!(desk.state().sheet().signed.is_empty());
    assert!(has(&desk, &format!("Not signed: before it comes {}", work.before_check(check)[0])));
}

/// What is cheap while something is apart is told with what it saves, and one button takes it into the plan.
#[test]
fn what_is_cheap_while_apart_is_taken_with_one_button() {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    click(&mut desk, "while it is apart");
    let takes = |desk: &Desk| -> Vec<String> {
        let all = desk.query_all_by_role(Role::Button).filter_map(|n| n.accesskit_node().label());
        all.filter(|label| label.starts_with("Take into the plan: ")).collect()
    };
    let before = takes(&desk);
    assert!(before.len() > 5, "{before:?}");
    // king pins, whose hubs and steering this plan has apart
    let pins = before.iter().find(|label| label.contains("King pins, renew")).unwrap().clone();
    assert!(pins.contains("6 h now") && pins.contains("later"), "what it saves is told: {pins}");
    let hours = desk.state().assessment().totals.hours;
    click(&mut desk, &pins);
    say_yes(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    assert!(!takes(&desk).contains(&pins));
    let place = desk.state().assessment().positions.iter().find(|p| p.name == "King pins").unwrap().clone();
    assert_eq!(place.route, knockon_core::sheet::Route::Renew);
    let more = desk.state().assessment().totals.hours - hours;
    assert!((more - 6.0).abs() < 0.1, "six hours more, not twenty: {more}");
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    assert!(takes(&desk).contains(&pins));
}
