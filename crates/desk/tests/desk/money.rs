//! The money page: its sums are those of the ledger, its rows lead on, the budget is typed in, and the strip says where it is
//! passed.

use std::path::PathBuf;

use egui::accesskit::Role;
use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT as _, Queryable};
use knockon_core::budget::budget;
use knockon_core::ledger::ledger;
use knockon_core::{Amounts, Sheet, assess};
use knockon_store::sheets::parse;
use rust_decimal::Decimal;

use crate::help::*;

const NONE: Modifiers = Modifiers::NONE;

fn examples() -> Vec<PathBuf> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples");
    let mut all: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    all.retain(|path| path.extension().is_some_and(|ending| ending == "json"));
    all.sort();
    assert!(all.len() >= 5, "{all:?}");
    all
}

/// A sheet as a file of its own, open on the money page.
fn page_of(folder: &tempfile::TempDir, name: &str, text: &str) -> Desk {
    let file = folder.path().join(name);
    std::fs::write(&file, text).unwrap();
    let mut desk = start(Some(file), Some(folder.path().join("home")));
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    desk
}

fn money_page() -> Desk {
    let mut desk = board(None);
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    desk
}

/// Amounts as the desk tells them, worked out here from the digits.
fn told(sum: &Amounts, currency: &str) -> String {
    let one = |amount: Decimal, of: &str| {
        let text = format!("{:.2}", amount.abs());
        let (whole, cents) = text.split_once('.').unwrap();
        let mut groups: Vec<String> =
            whole.as_bytes().rchunks(3).map(|group| String::from_utf8(group.to_vec()).unwrap()).collect();
        groups.reverse();
        let minus = if amount < Decimal::ZERO { "−" } else { "" };
        let digits = format!("{}.{cents}", groups.join(","));
        match of {
            "USD" => format!("{minus}${digits}"),
            "GBP" => format!("{minus}£{digits}"),
            "EUR" => format!("{minus}€{digits}"),
            other => format!("{minus}{digits} {other}"),
        }
    };
    sum.shown(currency).iter().map(|m| one(m.amount, &m.currency)).collect::<Vec<_>>().join(" + ")
}

/// What is drawn and begins so, as a screen reader says it.
fn labels(desk: &Desk, lead: &str) -> Vec<String> {
    let all = desk.query_all_by_label_contains(lead);
    let said = all.filter_map(|n| n.accesskit_node().label().or_else(|| n.accesskit_node().value()));
    said.filter(|label| label.starts_with(lead)).collect()
}

#[test]
fn the_totals_on_the_page_are_those_of_the_ledger_for_every_example() {
    let catalogue = knockon_store::library::shipped().on(knockon_core::date::day(TODAY.get()).unwrap());
    for path in examples() {
        let text = std::fs::read_to_string(&path).unwrap();
        let sheet: Sheet = parse("an example", &text).unwrap();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let folder = tempfile::tempdir().unwrap();
        let desk = page_of(&folder, &name, &text);
        let a = assess(&sheet, &sheet.plan, &catalogue);
        let entries = ledger(&sheet, &a, &catalogue.for_sheet(&sheet));
        let currency = &budget(&sheet, &a, &catalogue.for_sheet(&sheet)).currency;
        let sum = |of: &dyn Fn(&knockon_core::ledger::Entry) -> Amounts| {
            entries.iter().fold(Amounts::default(), |sum, entry| &sum + &of(entry))
        };
        let all = sum(&|e| e.all());
        if all.is_zero() {
            assert!(has(&desk, "No money is planned yet"), "{name}");
            continue;
        }
        for (word, of) in [
            ("spent", sum(&|e| e.spent.clone())),
            ("on order", sum(&|e| e.committed.clone())),
            ("to come", sum(&|e| e.to_come.clone())),
        ] {
            let figure = format!("{word}: {}", told(&of, currency));
            assert!(!labels(&desk, &figure).is_empty(), "{name}: {figure}");
        }
        let row = labels(&desk, "In all, ");
        assert_eq!(row.len(), 1, "{name}");
        assert!(row[0].contains(&format!("in all {}", told(&all, currency))), "{name}: {row:?}");
        // each system has a row with its sum, and each supplier its subtotal
        let mut systems = 0;
        for (id, system) in &a.systems {
            let of = sum(&|e| if e.system.as_ref() == Some(id) { e.all() } else { Amounts::default() });
            if of.is_zero() {
                continue;
            }
            systems += 1;
            let row = labels(&desk, &format!("{system}, "));
            let wanted = format!("in all {}", told(&of, currency));
            assert!(row.iter().any(|label| label.contains(&wanted)), "{name}: {system}: {row:?}, {wanted}");
        }
        assert!(systems > 3, "{name}");
        let mut suppliers: Vec<&str> = entries.iter().map(|e| e.supplier.trim()).collect();
        suppliers.sort_unstable();
        suppliers.dedup();
        for supplier in suppliers {
            let of = sum(&|e| if e.supplier.trim() == supplier { e.all() } else { Amounts::default() });
            let lead = if supplier.is_empty() { "No supplier named" } else { supplier };
            let wanted = format!(", {}, folded", told(&of, currency));
            let row = labels(&desk, &format!("{lead}, "));
            assert!(row.iter().any(|label| label.ends_with(&wanted)), "{name}: {lead}: {row:?}, {wanted}");
        }
    }
}

fn type_into(desk: &mut Desk, name: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, name).focus();
    settle(desk);
    press(desk, Modifiers::COMMAND, Key::A);
    if text.is_empty() {
        press(desk, NONE, Key::Delete);
    } else {
        desk.get_by_role_and_label(Role::TextInput, name).type_text(text);
        settle(desk);
    }
}

fn total(desk: &Desk) -> Option<String> {
    desk.state().sheet().budget.total.as_ref().map(ToString::to_string)
}

#[test]
fn a_budget_that_is_passed_is_marked_in_the_strip_of_every_page_and_leads_here() {
    let mut desk = money_page();
    assert!(!has(&desk, "over the budget") && has(&desk, "left of the budget: "));
    type_into(&mut desk, "Budget", "1,000");
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(total(&desk).as_deref(), Some("1000.00 USD"));
    let over = desk.state().assessment().totals.money.all().of("USD") - Decimal::from(1000);
    let mark = format!(
        "{} over the budget",
        told(&[&knockon_core::Money::new(over, "USD")].into_iter().collect(), "USD")
    );
    for page in [Key::Num1, Key::Num2, Key::Num4, Key::Num8] {
        press(&mut desk, Modifiers::COMMAND, page);
        assert!(desk.query_by_role_and_label(Role::Button, &mark).is_some(), "{page:?}: {mark}");
    }
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    desk.get_by_role_and_label(Role::Button, &mark).click();
    settle(&mut desk);
    assert!(has(&desk, "In all, "));
    press(&mut desk, Modifiers::COMMAND, Key::Z);
    assert!(!has(&desk, "over the budget"));
}

#[test]
fn what_is_typed_is_kept_back_for_a_system_and_forgotten_and_what_cannot_be_read_says_why() {
    let mut desk = money_page();
    let (id, name) = {
        let a = desk.state().assessment();
        a.systems.iter().find(|(id, _)| id == "brakes").cloned().expect("brakes")
    };
    type_into(&mut desk, "Kept back, per cent", "300");
    press(&mut desk, NONE, Key::Enter);
    assert!(has(&desk, "Expected a whole number from 0 to 200, found \"300\"."));
    type_into(&mut desk, "Kept back, per cent", "20");
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(desk.state().sheet().budget.contingency, Some(20));
    assert!(!has(&desk, "Expected a whole number"));
    type_into(&mut desk, &format!("Budget of {name}"), "50");
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(desk.state().sheet().budget.systems[&id].to_string(), "50.00 USD");
    assert!(labels(&desk, &format!("{name}, "))[0].contains("passes its budget by"));
    type_into(&mut desk, &format!("Budget of {name}"), "");
    press(&mut desk, NONE, Key::Enter);
    assert!(desk.state().sheet().budget.systems.is_empty());
    // what has not been left yet is taken in before a command
    type_into(&mut desk, "Budget", "9,500");
    press(&mut desk, Modifiers::COMMAND, Key::Num1);
    assert_eq!(total(&desk).as_deref(), Some("9500.00 USD"));
}

#[test]
fn the_budget_of_the_direction_is_taken_with_one_press() {
    let folder = tempfile::tempdir().unwrap();
    let text = knockon_store::library::example();
    let mut sheet: serde_json::Value = serde_json::from_str(text).unwrap();
    sheet.as_object_mut().unwrap().remove("budget");
    let mut desk = page_of(&folder, "truck.json", &sheet.to_string());
    assert!(has(&desk, "Nobody has said what may be spent") && !has(&desk, "left of the budget"));
    click(&mut desk, "Take $15,000.00 of your direction");
    assert_eq!(total(&desk).as_deref(), Some("15000.00 USD"));
    assert!(has(&desk, "left of the budget") && !has(&desk, "of your direction"));
}

#[test]
fn a_system_leads_to_the_board_and_a_line_to_its_row_in_buying() {
    let mut desk = money_page();
    let row = labels(&desk, "Brakes, ").into_iter().find(|label| label.contains("in all")).expect("a row");
    desk.get_by_role_and_label(Role::Button, &row).click();
    settle(&mut desk);
    assert!(desk.state().page_is_board() && has(&desk, "Front brakes"));
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    let (part, name, supplier) = {
        let a = desk.state().assessment();
        let line = a.buy.iter().rfind(|l| !l.supplier.is_empty() && l.waived.is_none()).expect("a supplier");
        (line.part.clone(), line.name.clone(), line.supplier.clone())
    };
    unfold(&mut desk, &supplier);
    let line = labels(&desk, &format!("{name}, to buy, ")).remove(0);
    desk.get_by_role_and_label(Role::Button, &line).scroll_to_me();
    settle(&mut desk);
    desk.get_by_role_and_label(Role::Button, &line).click_accesskit();
    settle(&mut desk);
    assert!(has(&desk, "Buy list"));
    let (focused, _) = crate::keyboard::focused(&desk).expect("the line has the keyboard");
    assert!(focused.starts_with(&name), "{focused}");
    assert!(desk.state().assessment().buy.iter().any(|l| l.part == part));
}

#[test]
fn what_takes_weeks_is_to_be_ordered_today_with_the_job_it_holds_up() {
    let mut desk = money_page();
    assert!(!has(&desk, "Order today"));
    press(&mut desk, Modifiers::COMMAND, Key::Num4);
    // of the first part that is asked for
    unfold(&mut desk, "How long do these take?");
    let field = labels(&desk, "Weeks until it is here: ").remove(0);
    let name = field.trim_start_matches("Weeks until it is here: ").to_owned();
    // a week has a Saturday, and this is one after so many weeks from the first of March
    type_into(&mut desk, &field, "40.85");
    press(&mut desk, NONE, Key::Enter);
    press(&mut desk, Modifiers::COMMAND, Key::Num8);
    assert!(has(&desk, "Order today: 1 part"));
    let row = labels(&desk, &format!("To the line of {name}: takes 40.85 weeks; holds up")).remove(0);
    assert!(row.contains('"'), "{row}");
    click(&mut desk, &format!("Ordered: {name}"));
    assert!(!has(&desk, "Order today: 1 part"));
    assert_eq!(
        desk.state()
            .sheet()
            .lines
            .values()
            .filter(|l| l.state == knockon_core::sheet::LineState::OnOrder)
            .count(),
        1
    );
}

#[test]
fn with_nothing_planned_the_page_says_what_it_is_for_and_leads_to_the_board() {
    let folder = tempfile::tempdir().unwrap();
    let text = r#"{"format": 1, "name": "Barn", "vehicle": "furrow-10", "plan": "one", "plans": {"one": {"name": "One"}}}"#;
    let mut desk = page_of(&folder, "barn.json", text);
    assert!(has(&desk, "No money is planned yet"));
    type_into(&mut desk, "Budget", "4000");
    press(&mut desk, NONE, Key::Enter);
    assert_eq!(total(&desk).as_deref(), Some("4000.00 USD"));
    click(&mut desk, "To the board");
    assert!(desk.state().page_is_board());
}
