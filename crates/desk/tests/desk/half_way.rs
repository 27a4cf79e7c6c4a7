//! A change of mind half-way: what is spent already is told before the choice, and does not vanish after it.

use egui::{Key, Modifiers};
use egui_kittest::kittest::{NodeT, Queryable};
use knockon_core::assessment::Offer;
use knockon_core::sheet::LineState;
use rust_decimal::Decimal;

use crate::help::*;

/// A conversion taken, its part set to a state through the buying record, its place selected.
fn bought(state: LineState) -> (Desk, Offer) {
    let folder = tempfile::tempdir().unwrap();
    let (desk, offer) = converted(None);
    let mut sheet = desk.state().sheet().clone();
    let part = offer.part.clone().expect("a conversion has a part");
    let line = sheet.lines.entry(part).or_default();
    (line.state, line.paid) = (state, "95.00 USD".parse().ok());
    let file = folder.path().join("truck.json");
    knockon_store::sheets::save(&file, &sheet).unwrap();
    let mut desk = start(Some(file), None);
    let name = desk.state().assessment().positions.iter().find(|p| p.id == offer.position).map(|p| &p.name);
    let name = name.expect("the place").clone();
    go_to(&mut desk, &name);
    (desk, offer)
}

#[test]
fn a_change_tells_what_is_still_to_pay_and_what_lies_idle() {
    let (mut desk, offer) = bought(LineState::Fitted);
    let label = |desk: &Desk, lead: &str| {
        let node = desk
            .query_all_by_label_contains(lead)
            .find(|n| n.accesskit_node().role() == egui::accesskit::Role::RadioButton);
        node.and_then(|n| n.accesskit_node().label()).expect("on offer")
    };
    let spent = desk.state().assessment().totals.money.spent.of("USD");
    assert!(spent > Decimal::ZERO);
    let keep = label(&desk, "Keep,");
    let sum = format!("${spent:.2} already spent lies idle");
    assert!(keep.contains(&sum) && keep.contains("work done for nothing"), "{keep} | {sum}");
    assert!(!has(&desk, "bought, not wanted"));
    // the change is made: the money is still in sight, and its line can be set to sent back
    press(&mut desk, Modifiers::NONE, Key::Num1);
    assert!(!desk.state().sheet().plans[&desk.state().sheet().plan].routes.contains_key(&offer.position));
    desk.get_by_label_contains("bought, not wanted").click();
    settle(&mut desk);
    let after = desk.state().assessment().totals.money.clone();
    assert_eq!((after.spent.of("USD"), after.idle.of("USD")), (spent, spent));
    let name = format!("State of {}: ", offer.name);
    desk.get_by_label_contains(&name).click();
    settle(&mut desk);
    desk.get_by_label("sent back").click();
    settle(&mut desk);
    assert_eq!(desk.state().sheet().lines[&offer.part.clone().unwrap()].state, LineState::SentBack);
    assert!(!has(&desk, "bought, not wanted"));
}

#[test]
fn nothing_bought_nothing_told() {
    let (desk, _) = bought(LineState::ToBuy);
    assert!(!has(&desk, "lies idle") && !has(&desk, "still to pay") && !has(&desk, "bought, not wanted"));
}
