//! A change of mind half-way: what is still to be paid, and what lies idle.

use serde_json::json;

use super::*;
use crate::assess::least::{Least, PLAN};
use crate::sheet::{Line, Route};

/// A carburettor that wants four hoses and a cap, and another that wants one hose.
fn half_way() -> Least {
    let hoses = |qty: u32| (0..qty).map(|n| format!("hose-{n}")).collect::<Vec<_>>();
    let wants = |qty: u32, cap: &[&str]| {
        let own: Vec<String> = hoses(qty).into_iter().chain(cap.iter().map(|c| (*c).to_owned())).collect();
        json!(own)
    };
    let needs: serde_json::Map<String, serde_json::Value> = hoses(4)
        .into_iter()
        .chain(["cap".to_owned()])
        .map(|id| (id, json!({"kind": "present", "sharing": "own"})))
        .collect();
    let mut least = Least::new(json!({
        "free": ["lid", "tube"],
        "needs": needs,
        "parts": {
            "as-found": {"class": "carburettor"},
            "cap": {"class": "lid", "offers": ["cap"], "price": "12.00 USD"},
            "hose": {"class": "tube", "offers": hoses(4), "price": "5.00 USD"},
            "new": {"class": "carburettor", "needs": wants(1, &[]), "price": "500.00 USD", "hours": 1.0},
            "old": {"class": "carburettor", "needs": wants(4, &["cap"]), "price": "400.00 USD", "hours": 3.0},
        },
        "vehicle": {"positions": {"carburettor": "as-found"}},
    }))
    .convert("carburettor", "old");
    let paid = |price: &str, state| Line { state, paid: price.parse().ok(), ..Line::default() };
    for (part, line) in [
        ("old", paid("380.00 USD", LineState::Fitted)),
        ("hose", paid("", LineState::InHand)),
        ("cap", paid("", LineState::OnOrder)),
    ] {
        least.sheet.lines.insert(part.into(), line);
    }
    least
}

fn to_new(least: &Least) -> Change {
    let choice = Choice { route: Route::Convert, part: Some("new".into()) };
    let choices = [("carburettor".to_owned(), Some(choice))];
    of_choices(&least.sheet, PLAN, &least.catalogue, &choices, &Progress::default()).remove(0)
}

#[test]
fn what_was_fitted_is_idle_and_the_new_one_is_paid_in_full() {
    let change = to_new(&half_way());
    assert_eq!(change.to_come.text("USD"), "500.00 USD");
    let told: Vec<(&str, Option<u32>)> = change.idle.iter().map(|i| (i.part.as_str(), i.qty)).collect();
    assert_eq!(told, [("cap", Some(1)), ("hose", Some(3)), ("old", Some(1))]);
    assert_eq!(
        (change.idle_spent.text("USD"), change.idle_on_order.text("USD")),
        ("380.00 USD".into(), "12.00 USD".into())
    );
    // nobody says what was paid for the hoses
    assert_eq!((change.not_summed, change.hours), (1, 3.0));
}

#[test]
fn what_lay_idle_before_is_not_told_again() {
    let mut least = half_way();
    least.sheet.lines.insert("old".into(), Line::default());
    least
        .sheet
        .lines
        .insert("new".into(), Line { state: LineState::InHand, qty: Some(2), ..Line::default() });
    let told: Vec<(String, Option<u32>)> = to_new(&least).idle.into_iter().map(|i| (i.part, i.qty)).collect();
    assert_eq!(told, [("cap".to_owned(), Some(1)), ("hose".to_owned(), Some(3))]);
}

#[test]
fn what_was_sent_back_or_left_out_before_is_not_told() {
    let mut least = half_way().waive("need:carburettor:old:cap");
    let line = |state| Line { state, ..Line::default() };
    least.sheet.lines =
        [("old".to_owned(), line(LineState::SentBack)), ("cap".to_owned(), line(LineState::InHand))].into();
    assert_eq!(to_new(&least).idle, Vec::new());
}

#[test]
fn nothing_bought_is_no_change_to_tell() {
    let mut least = half_way();
    least.sheet.lines.clear();
    assert!(
        of_choices(
            &least.sheet,
            PLAN,
            &least.catalogue,
            &[("carburettor".to_owned(), None)],
            &Progress::default()
        )
        .is_empty()
    );
}
