//! A line whose price was looked up longer ago than prices hold says so, until something was paid for it.

use serde_json::json;

use super::super::least::Least;
use crate::sheet::Line;

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
