//! What is bought: one line for a part wherever it is wanted; a sum for each currency; hours of each piece.

use serde_json::{Value as Json, json};

use super::super::least::{Least, lines};
use crate::sheet::{Line, LineState, Route};

/// A front and a rear hose, two of each, of parts that these cost.
fn hoses(front: Json, rear: Json) -> Least {
    Least::new(json!({
        "parts": {"front-set": front, "rear-set": rear},
        "vehicle": {"positions": {
            "front": {"qty": 2, "as_found": "front-set"}, "rear": {"qty": 2, "as_found": "rear-set"},
        }},
    }))
}

#[test]
fn a_position_s_part_is_bought_for_each_of_its_pieces() {
    let a = hoses(json!("front"), json!("rear")).choose("front", Route::Renew).assess();
    assert_eq!(lines(&a), ["2 front-set 20.00 USD"]);
}

#[test]
fn rebuild_and_clean_buy_what_the_work_costs() {
    let part = || {
        json!({
            "class": "front", "clean": {"price": "1.00 USD"}, "rebuild": {"price": "4.00 USD"}, "price": "10.00 USD",
        })
    };
    let with = |route| lines(&hoses(part(), json!("rear")).choose("front", route).assess());
    assert_eq!(with(Route::Rebuild), ["2 front-set.rebuild 8.00 USD"]);
    assert_eq!(with(Route::Clean), ["2 front-set.clean 2.00 USD"]);
    assert!(with(Route::Keep).is_empty() && with(Route::LeaveOff).is_empty());
}

#[test]
fn cleaning_that_costs_nothing_is_no_line() {
    let part = json!({"class": "front", "clean": {"hours": 0.5}});
    let a = hoses(part, json!("rear")).choose("front", Route::Clean).assess();
    assert!(lines(&a).is_empty());
}

/// Two pumps that ask for a fuse each.
fn two_fuses() -> Least {
    Least::new(json!({
        "free": ["fuse"],
        "needs": {"fused": {"kind": "present", "sharing": "own"}},
        "parts": {
            "front-pump": {"class": "front", "needs": ["fused"], "hours": 1.0},
            "glass-fuse": {"class": "fuse", "offers": ["fused"], "price": "2.00 USD", "hours": 0.1},
            "rear-pump": {"class": "rear", "needs": ["fused"], "hours": 1.0},
        },
        "vehicle": {"positions": {"front": null, "rear": null}},
    }))
    .convert("front", "front-pump")
    .convert("rear", "rear-pump")
}

#[test]
fn a_part_that_is_wanted_at_two_places_is_one_line() {
    let a = two_fuses().assess();
    assert_eq!(lines(&a), ["1 front-pump 10.00 USD", "2 glass-fuse 4.00 USD", "1 rear-pump 10.00 USD"]);
    assert_eq!(a.buy[1].uses_text(), "front (need); rear (need)");
}

#[test]
fn what_is_left_out_is_a_line_of_its_own_and_not_paid() {
    let a = two_fuses().waive("need:rear:rear-pump:fused").assess();
    let fuses: Vec<(u32, bool)> = a.buy[1..3].iter().map(|l| (l.qty, l.waived.is_some())).collect();
    assert_eq!(fuses, [(1, false), (1, true)]);
    assert_eq!(a.totals.money.to_come.text("USD"), "22.00 USD");
}

#[test]
fn hours_count_for_each_piece_and_not_for_what_is_left_out() {
    let hours = |least: &Least| (least.assess().totals.hours * 10.0).round() / 10.0;
    assert_eq!(hours(&two_fuses()), 2.2);
    assert_eq!(hours(&two_fuses().waive("need:rear:rear-pump:fused")), 2.1);
    let part = json!({"class": "front", "hours": 1.5});
    assert_eq!(hours(&hoses(part, json!("rear")).choose("front", Route::Renew)), 3.0);
}

#[test]
fn money_of_two_currencies_is_never_added() {
    let rear = json!({"class": "rear", "price": "7.00 EUR"});
    let a = hoses(json!("front"), rear).choose("front", Route::Renew).choose("rear", Route::Renew).assess();
    // as many lines of each: the first by its word
    assert_eq!(a.totals.currency, "EUR");
    assert_eq!(a.totals.money.to_come.text("EUR"), "14.00 EUR and 20.00 USD");
}

#[test]
fn the_currency_of_most_lines_is_that_of_the_sums() {
    let rear = json!({"class": "rear", "price": "7.00 EUR"});
    let pump = json!({
        "parts": {"front-set": "front", "old-pump": "pump", "rear-set": rear},
        "vehicle": {"positions": {"front": "front-set", "pump": "old-pump", "rear": "rear-set"}},
    });
    let all = ["front", "pump", "rear"];
    let a = all.into_iter().fold(Least::new(pump), |least, at| least.choose(at, Route::Renew)).assess();
    assert_eq!(
        (a.totals.currency.as_str(), a.totals.money.to_come.of("USD").to_string()),
        ("USD", "20.00".to_owned())
    );
}

#[test]
fn a_line_stands_where_the_record_says() {
    let at = |state| {
        let mut least = hoses(json!("front"), json!("rear")).choose("front", Route::Renew);
        let paid = "9.00 USD".parse().ok();
        least.sheet.lines.insert("front-set".into(), Line { state, paid, ..Line::default() });
        let m = least.assess().totals.money;
        [m.spent, m.committed, m.to_come].map(|sum| sum.of("USD").to_string())
    };
    assert_eq!(at(LineState::ToBuy), ["0", "0", "18.00"]);
    assert_eq!(at(LineState::OnOrder), ["0", "18.00", "0"]);
    assert_eq!(at(LineState::InHand), ["18.00", "0", "0"]);
    assert_eq!(at(LineState::Fitted), ["18.00", "0", "0"]);
    // what was sent back and is wanted all the same has to be bought again
    assert_eq!(at(LineState::SentBack), ["0", "0", "18.00"]);
}

/// A line whose price was looked up longer ago than prices hold says so, until something was paid for it.
fn shop() -> Least {
    Least::new(json!({
        "priced": "2025-02",
        "prices_hold": "1 year",
        "classes": ["pump", "belt"],
        "parts": {
            "old-pump": {"class": "pump"}, "new-pump": {"class": "pump"},
            "old-belt": {"class": "belt"}, "gift": {"class": "belt", "price": null},
        },
        "vehicle": {"positions": {"pump": {"as_found": "old-pump"}, "belt": {"as_found": "old-belt"}}},
    }))
    .convert("pump", "new-pump")
    .convert("belt", "gift")
}

#[test]
fn a_price_older_than_prices_hold_is_told_with_its_date() {
    // it may be of 28 February 2025: on 28 February 2026 it is not surely old
    let on = |day: &str| {
        let t = shop().on(day).assess().totals;
        (t.old_prices, t.old_prices_from)
    };
    assert_eq!(on("2026-02-28"), (0, None));
    // what has no price cannot be old
    assert_eq!(on("2026-03-01"), (1, Some("2025-02".to_owned())));
}

#[test]
fn what_was_paid_is_never_old() {
    let mut shop = shop();
    let paid = "12.00 USD".parse().ok();
    shop.sheet.lines.insert("new-pump".into(), Line { paid, ..Line::default() });
    assert_eq!(shop.assess().totals.old_prices, 0);
}

#[test]
fn without_a_day_or_a_time_that_prices_hold_nothing_is_told() {
    let mut no_day = shop();
    no_day.catalogue.as_of = None;
    let mut no_time = shop();
    no_time.catalogue.prices_hold = None;
    for shop in [no_day, no_time] {
        assert_eq!(shop.assess().totals.old_prices, 0);
    }
}
