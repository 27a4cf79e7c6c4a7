//! The page of the plans: each plan as it stands, why it differs, and what takes a choice of another plan over; and where it
//! goes, said in its dialog.

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};
use knockon_core::compare::compare;
use knockon_core::sheet::Way;
use knockon_core::{Amounts, Catalogue, assess};

use crate::help::*;

fn plans_page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num9);
    assert!(has(&desk, "Stand on it: "), "the plans are held side by side");
    desk
}

/// The label of the row of the table with this name.
fn row(desk: &Desk, name: &str) -> String {
    let lead = format!("{name}: ");
    let rows = desk.query_all_by_label_contains(&lead).filter_map(|n| n.value());
    let mut rows = rows.filter(|label| label.starts_with(&lead));
    rows.next().unwrap_or_else(|| panic!("no row {name}"))
}

fn library() -> Catalogue {
    knockon_store::library::shipped().on(knockon_core::date::day(TODAY.get()).unwrap())
}

fn plan(desk: &Desk) -> String {
    desk.state().sheet().plan.clone()
}

#[test]
fn each_plan_stands_as_its_own_assessment_says() {
    let desk = plans_page();
    let sheet = desk.state().sheet().clone();
    let library = library();
    let of = |id: &String| assess(&sheet, id, &library);
    let wanted = |name: &str, cell: &dyn Fn(&knockon_core::Assessment) -> String| {
        let cells = sheet.plans.iter().map(|(id, plan)| format!("{} {}", plan.name, cell(&of(id))));
        format!("{name}: {}", cells.collect::<Vec<_>>().join(", "))
    };
    assert_eq!(sheet.plans.len(), 3);
    assert_eq!(row(&desk, "Does not fit"), wanted("Does not fit", &|a| a.totals.clashes.to_string()));
    assert_eq!(row(&desk, "To measure"), wanted("To measure", &|a| a.totals.to_measure.to_string()));
    assert_eq!(
        row(&desk, "Come off the vehicle"),
        wanted("Come off the vehicle", &|a| a.surplus.len().to_string())
    );
}

#[test]
fn a_number_or_the_button_stands_on_a_plan_and_undo_goes_back() {
    let mut desk = plans_page();
    let first = plan(&desk);
    let ids: Vec<String> = desk.state().sheet().plans.keys().cloned().collect();
    let at = ids.iter().position(|id| *id != first).unwrap();
    press(&mut desk, Modifiers::NONE, [Key::Num1, Key::Num2, Key::Num3][at]);
    assert_eq!(plan(&desk), ids[at]);
    let name = desk.state().sheet().plans[&first].name.clone();
    click(&mut desk, &format!("Stand on it: {name}"));
    assert_eq!(plan(&desk), first);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(plan(&desk), ids[at]);
}

#[test]
fn taking_over_a_choice_moves_the_sum_by_what_was_said_and_one_undo_takes_it_back() {
    let mut desk = plans_page();
    let before = desk.state().sheet().clone();
    let other = before.plans.keys().find(|id| **id == "worked-out").unwrap();
    let library = library();
    let (a, b) = (assess(&before, &before.plan, &library), assess(&before, other, &library));
    let found = compare(&before, &library, &a, &b);
    // a place that alone carries its cause: what is said of it is what it brings
    let cause = found.causes.iter().find(|c| c.position.as_deref() == Some("tyres")).unwrap();
    let to = cause.to.clone().unwrap();
    let name = &before.plans[other].name;
    click(&mut desk, &format!("Take over: {}, {to}, as in {name}", cause.place));
    say_yes(&mut desk);
    let now = desk.state().assessment();
    let moved: Amounts = &now.totals.money.all() - &a.totals.money.all();
    assert_eq!(moved, cause.money);
    let route = |sheet: &knockon_core::Sheet, plan: &String| sheet.plans[plan].routes.get("tyres").cloned();
    assert_eq!(route(desk.state().sheet(), &before.plan), route(&before, other));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.state().sheet().plans, before.plans);
}

#[test]
fn where_it_goes_wants_a_way_and_a_reason_and_is_kept_with_its_day() {
    let mut desk = plans_page();
    let before = desk.state().sheet().directions.clone();
    go_to(&mut desk, "Where it goes");
    let write = |desk: &Desk| {
        let button = button(desk, "Write it down").unwrap();
        button.accesskit_node().is_disabled()
    };
    assert!(write(&desk), "without a reason it is not written down");
    let custom = desk.query_all_by_role(Role::RadioButton);
    let custom =
        custom.into_iter().find(|n| n.accesskit_node().label().unwrap_or_default().starts_with("Custom"));
    custom.unwrap().click();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "Why it is said anew").focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "Why it is said anew").type_text("The frame is past saving");
    settle(&mut desk);
    assert!(!write(&desk));
    // a day that is none says so beside its field
    let deadline = desk.get_by_role_and_label(Role::TextInput, "Wanted by");
    deadline.focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "Wanted by").type_text("spring");
    settle(&mut desk);
    assert!(write(&desk) && has(&desk, "spring"));
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "Wanted by").type_text("2027-05");
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "For how much").focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "For how much").type_text("12,000");
    settle(&mut desk);
    click(&mut desk, "Write it down");
    let said = desk.state().sheet().directions.clone();
    assert_eq!(said.len(), before.len() + 1);
    let last = said.last().unwrap();
    assert_eq!((last.way, last.reason.as_str()), (Way::Custom, "The frame is past saving"));
    assert_eq!(last.deadline.as_deref(), Some("2027-05"));
    assert!(last.on.is_some());
    // there is one budget
    let total = desk.state().sheet().budget.total.clone();
    assert_eq!(total, last.budget);
    assert_eq!(total.unwrap().to_string(), "12000.00 USD");
    let left = "of $12,000.00 left: ".to_owned();
    assert!(has(&desk, &left), "the plans are held to it");
    assert_eq!(said[..before.len()], before[..]);
    // what is said again on the same day puts it right
    go_to(&mut desk, "Where it goes");
    desk.get_by_role_and_label(Role::TextInput, "Why it is said anew").focus();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::TextInput, "Why it is said anew").type_text("Both rails are through");
    settle(&mut desk);
    click(&mut desk, "Write it down");
    assert_eq!(desk.state().sheet().directions.len(), before.len() + 1);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert_eq!(desk.state().sheet().directions, before);
}

#[test]
fn the_best_of_the_plans_are_named_and_a_late_day_says_what_it_misses() {
    let mut desk = plans_page();
    assert!(has(&desk, "Cheapest: Sound first, $7,"), "the cheapest plan is named in words");
    assert!(has(&desk, "Fewest clashes: Sound first and After the clashes, none"));
    assert!(has(&desk, "Quickest: Sound first, done by "));
    let lateness = row(&desk, "wanted 2027-04-30");
    assert_eq!(lateness.matches(" days late").count(), 2, "{lateness}");
    assert!(lateness.contains("Sound first 27 days before"), "{lateness}");
    // somebody who waits for nothing is told nothing of it
    go_to(&mut desk, "Where it goes");
    for (field, text) in [("Wanted by", ""), ("Why it is said anew", "Nobody waits")] {
        desk.get_by_role_and_label(Role::TextInput, field).focus();
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        press(&mut desk, Modifiers::NONE, Key::Backspace);
        desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
        settle(&mut desk);
    }
    click(&mut desk, "Write it down");
    assert!(!has(&desk, " days late"));
}

#[test]
fn what_stays_says_that_pointing_tells_more_and_what() {
    let desk = plans_page();
    assert!(has(&desk, "point at a system for each part"));
    let sheet = desk.state().sheet().clone();
    let a = assess(&sheet, "wishes", &library());
    let traces = knockon_core::compare::traces(&a, &library().for_sheet(&sheet));
    let said: Vec<String> =
        desk.query_all_by_label_contains("What stays: ").filter_map(|n| n.value()).collect();
    assert!(!traces.is_empty());
    for trace in traces {
        assert!(said.iter().any(|said| said.contains(&trace.name)), "{}: {said:?}", trace.name);
    }
}

#[test]
fn a_wanted_day_that_is_over_is_said_and_may_be_written_down() {
    let mut desk = plans_page();
    go_to(&mut desk, "Where it goes");
    for (field, text) in [("Wanted by", "1850"), ("Why it is said anew", "It was meant so")] {
        desk.get_by_role_and_label(Role::TextInput, field).focus();
        settle(&mut desk);
        press(&mut desk, Modifiers::COMMAND, Key::A);
        desk.get_by_role_and_label(Role::TextInput, field).type_text(text);
        settle(&mut desk);
    }
    assert!(has(&desk, "1850 is over, today is 2026-03-01"));
    // a wrong field beside it says its own
    desk.get_by_role_and_label(Role::TextInput, "For how much").focus();
    settle(&mut desk);
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "For how much").type_text("much");
    settle(&mut desk);
    assert!(has(&desk, "1850 is over") && has(&desk, "\"much\""));
    press(&mut desk, Modifiers::COMMAND, Key::A);
    desk.get_by_role_and_label(Role::TextInput, "For how much").type_text("12,000");
    settle(&mut desk);
    click(&mut desk, "Write it down");
    assert_eq!(desk.state().sheet().direction().unwrap().deadline.as_deref(), Some("1850"));
}

#[test]
fn what_each_way_leaves_follows_from_the_owners_own_figures() {
    let mut desk = plans_page();
    let before = plan(&desk);
    let ids: Vec<String> = desk.state().sheet().plans.keys().cloned().collect();
    let field = |desk: &Desk, id: &str| {
        format!("Worth once it is done: {} ({id})", desk.state().sheet().plans[id].name)
    };
    assert!(has(&desk, "Say what it would be worth"));
    // digits typed into a field stand on no plan
    let first = field(&desk, &ids[0]);
    write(&mut desk, &first, "15000");
    assert_eq!(plan(&desk), before);
    assert_eq!(desk.state().sheet().worth.done[&ids[0]].to_string(), "15000.00 USD");
    let a = assess(desk.state().sheet(), &ids[0], &library());
    let left = knockon_core::onward::onward(desk.state().sheet(), [(&ids[0], &a)])[0].leaves().unwrap();
    let cells = row(&desk, "Leaves, from here");
    let told = format!("{left:.2}").replace(" USD", "");
    let bare: String = cells.chars().filter(|c| *c != ',').collect();
    assert!(bare.contains(&told), "{cells}: {told}");
    write(&mut desk, "Worth as it stands", "nothing at all");
    assert!(has(&desk, "nothing at all"));
    write(&mut desk, "Worth as it stands", "20000");
    assert!(has(&desk, "\"sold as it stands\" leaves the most from here: $20,000.00"));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(has(&desk, "Say what it would be worth"));
}
