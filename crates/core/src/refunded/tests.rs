//! What came back is counted off where the payment stands.

use serde_json::{Value as Json, json};

use crate::assess::least::Least;
use crate::refund::CameBack;
use crate::sheet::{Line, LineState, Route};
use crate::{Assessment, Edit, Money, Sheet, apply};

fn usd(text: &str) -> Money {
    text.parse().unwrap_or_else(|_| unreachable!("{text}"))
}

/// Two starters of 10 USD each by the library, at one place; 90 USD were paid for each, 30 of them for the old one.
fn starters(state: LineState, back: &[(CameBack, &str)]) -> Assessment {
    let least = Least::new(json!({
        "parts": {"front-set": "front", "rear-set": {"class": "rear", "price": "7.00 USD"}},
        "vehicle": {"positions": {"front": {"qty": 2, "as_found": "front-set"}, "rear": "rear-set"}},
    }));
    let came_back = back.iter().map(|(what, money)| (*what, usd(money))).collect();
    let line = Line { state, paid: Some(usd("90 USD")), came_back, ..Line::default() };
    least.choose("front", Route::Renew).choose("rear", Route::Renew).record("front-set", line).assess_anyway()
}

fn sums(a: &Assessment) -> [String; 3] {
    let money = &a.totals.money;
    [&money.spent, &money.committed, &money.to_come].map(|sum| sum.of("USD").to_string())
}

#[test]
fn what_came_back_is_counted_off_once_where_the_payment_stands() {
    use CameBack::{Core, Refund};
    let both = [(Core, "60 USD"), (Refund, "5.50 USD")];
    for state in [LineState::InHand, LineState::Fitted] {
        assert_eq!(sums(&starters(state, &[])), ["180", "0", "7.00"]);
        assert_eq!(sums(&starters(state, &[(Core, "60 USD")])), ["120", "0", "7.00"]);
        assert_eq!(sums(&starters(state, &both)), ["114.50", "0", "7.00"]);
    }
    assert_eq!(sums(&starters(LineState::OnOrder, &both)), ["0", "114.50", "7.00"]);
    // nothing is paid yet
    assert_eq!(sums(&starters(LineState::ToBuy, &both)), ["0", "0", "187.00"]);
    let a = starters(LineState::Fitted, &both);
    assert_eq!(a.totals.money.came_back.of("USD").to_string(), "65.50");
    let line = a.buy.iter().find(|line| line.part == "front-set").unwrap_or_else(|| unreachable!());
    assert_eq!(line.net(), Some(usd("114.50 USD")));
    assert_eq!(
        line.came_back_text().as_deref(),
        Some("5.50 USD refunded, 60.00 USD core deposit returned"),
        "{line:?}"
    );
}

#[test]
fn of_what_was_sent_back_the_rest_is_spent_once_something_came_back() {
    let sent = |back: &[(CameBack, &str)]| sums(&starters(LineState::SentBack, back));
    // it is wanted all the same and has to be bought again
    assert_eq!(sent(&[]), ["0", "0", "187.00"]);
    assert_eq!(sent(&[(CameBack::Refund, "180 USD")]), ["0", "0", "187.00"]);
    // less fifteen for putting it back on the shelf
    assert_eq!(sent(&[(CameBack::Refund, "165 USD")]), ["15", "0", "187.00"]);
}

#[test]
fn what_came_back_in_another_currency_is_counted_off_in_that() {
    let a = starters(LineState::InHand, &[(CameBack::Core, "20 EUR")]);
    assert_eq!(sums(&a), ["180", "0", "7.00"]);
    assert_eq!(a.totals.money.spent.of("EUR").to_string(), "-20");
}

#[test]
fn an_edit_enters_it_and_takes_it_out_again() {
    let mut sheet = Sheet::default();
    let set = |amount: Option<&str>| Edit::SetCameBack {
        part: "starter".into(),
        what: CameBack::Core,
        amount: amount.map(usd),
    };
    assert_eq!(apply(&mut sheet, &set(Some("60 USD"))), Ok(()));
    let text = serde_json::to_value(&sheet).unwrap_or_default();
    assert_eq!(text["lines"]["starter"]["came_back"], json!({"core": "60.00 USD"}));
    assert_eq!(serde_json::from_value::<Sheet>(text).ok().as_ref(), Some(&sheet));
    // as the journal keeps it
    let kept = serde_json::to_value(set(Some("60 USD"))).unwrap_or_default();
    assert_eq!(
        kept,
        json!({"edit": "set-came-back", "part": "starter", "what": "core", "amount": "60.00 USD"})
    );
    assert_eq!(serde_json::from_value::<Edit>(kept).ok(), Some(set(Some("60 USD"))));
    assert_eq!(apply(&mut sheet, &set(None)), Ok(()));
    assert_eq!(sheet, Sheet::default());
}

#[test]
fn a_sign_and_what_comes_back_before_anything_is_paid_are_told() {
    let told = |line: Json| {
        let least = Least::new(json!({
            "parts": {"front-set": "front"}, "vehicle": {"positions": {"front": "front-set"}},
        }));
        let line = serde_json::from_value(line).unwrap_or_else(|e| unreachable!("{e}"));
        least.record("front-set", line).assess_anyway().problems.join("\n")
    };
    let minus = told(json!({"state": "in-hand", "came_back": {"core": "-60 USD"}}));
    assert!(minus.contains("lines.front-set.came_back.core: \"-60.00 USD\" is below 0"), "{minus}");
    assert!(minus.contains("written without a minus"), "{minus}");
    let early = told(json!({"state": "to-buy", "came_back": {"refund": "60 USD"}}));
    assert!(early.contains("lines.front-set.came_back") && early.contains("still to buy"), "{early}");
    let paid = json!({"state": "in-hand", "paid": "90 USD", "came_back": {"refund": "60 USD"}});
    assert_eq!(told(paid), "");
    let unpaid = told(json!({"state": "in-hand", "came_back": {"refund": "60 USD"}}));
    assert!(unpaid.contains("nobody says what was paid"), "{unpaid}");
}
