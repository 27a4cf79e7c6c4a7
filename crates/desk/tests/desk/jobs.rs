//! The work on the desk: in its order, for so many hours, and before the road.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
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
