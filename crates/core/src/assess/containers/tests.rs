//! A fluid is bought in the containers that cost least, never short; what lies in a box goes in first.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions};
use crate::sheet::Route;

/// An engine that holds oil, and cans to fill it from: id, what is in it, price.
fn engine(capacity: &str, cans: &[(&str, &str, Json)]) -> Least {
    let mut parts = json!({"block": {"class": "engine"}});
    for (id, holds, price) in cans {
        parts[*id] = json!({"class": "oil", "price": price, "figures": {"container": holds}});
    }
    filled(parts, capacity)
}

fn filled(parts: Json, capacity: &str) -> Least {
    Least::new(json!({
        "classes": {"engine": {}, "oil": {"free": true}, "filter": {}},
        "figures": {"container": {"kind": "volume"}, "fluid": {"kind": "word"}},
        "parts": parts,
        "vehicle": {
            "positions": {"engine": {"as_found": "block"}, "filter": {}},
            "circuits": {"oil": {"fluid": "oil", "capacity": capacity, "positions": ["engine"]}},
        },
    }))
    .choose("engine", Route::Rebuild)
}

fn usd(price: &str) -> Json {
    json!(format!("{price} USD"))
}

#[test]
fn containers_of_one_fluid_are_mixed_at_least_cost() {
    let cans = [("can-1", "1 L", usd("7.50")), ("can-5", "5 L", usd("28.00"))];
    let a = engine("5.4 L", &cans).assess();
    assert_eq!(companions(&a), ["fluid:oil: 1 can-5", "fluid:oil:1: 1 can-1"]);
    let parent = a.companions[1].parent.as_ref().map(ToString::to_string);
    assert_eq!(parent.as_deref(), Some("fluid:oil"));
    assert_eq!(companions(&engine("2.1 L", &cans).assess()), ["fluid:oil: 3 can-1"]);
    assert_eq!(companions(&engine("4.1 L", &cans).assess()), ["fluid:oil: 1 can-5"]);
}

#[test]
fn us_sizes_count_for_what_they_hold() {
    let cans = [
        ("gallon", "1 US gal", usd("24.00")),
        ("litre", "1 L", usd("7.40")),
        ("pint", "1 US pt", usd("4.00")),
        ("quart", "1 US qt", usd("7.00")),
        ("twelve", "12 US fl oz", usd("3.50")),
    ];
    assert_eq!(companions(&engine("4.7 L", &cans).assess()), ["fluid:oil: 1 gallon", "fluid:oil:1: 1 quart"]);
    assert_eq!(
        companions(&engine("4.75 L", &cans).assess()),
        ["fluid:oil: 1 gallon", "fluid:oil:1: 1 litre"]
    );
    assert_eq!(companions(&engine("4 US qt", &cans).assess()), ["fluid:oil: 1 gallon"]);
    assert_eq!(companions(&engine("4 US qt", &cans[3..4]).assess()), ["fluid:oil: 4 quart"]);
}

/// What is not for sale is not bought; a can that may hold less is not counted on.
#[test]
fn what_has_no_price_is_not_for_sale_and_no_can_is_short() {
    let cans = [("can-1", "1 L", usd("7.50")), ("can-5", "5 L", Json::Null)];
    assert_eq!(companions(&engine("5 L", &cans).assess()), ["fluid:oil: 5 can-1"]);
    assert!(companions(&engine("5 L", &cans[1..]).assess()).is_empty());
    let vague = [("can", "1 L ±0.1 L", usd("7.50"))];
    assert_eq!(companions(&engine("1 L", &vague).assess()), ["fluid:oil: 2 can"]);
}

/// Glycol and silicone are both brake fluid, and ruin each other.
#[test]
fn what_says_another_fluid_is_never_mixed_in() {
    let parts = json!({
        "block": {"class": "engine"},
        "glycol-1": {"class": "oil", "price": "10.00 USD", "figures": {"container": "1 L", "fluid": "glycol"}},
        "silicone-1": {"class": "oil", "price": "9.00 USD", "figures": {"container": "1 L", "fluid": "silicone"}},
        "silicone-half": {"class": "oil", "price": "8.00 USD", "figures": {"container": "0.5 L", "fluid": "silicone"}},
        "glycol-half": {"class": "oil", "price": "5.50 USD", "figures": {"container": "0.5 L", "fluid": "glycol"}},
    });
    // mixed it would be 9.00 and 5.50
    assert_eq!(
        companions(&filled(parts, "1.5 L").assess()),
        ["fluid:oil: 1 glycol-1", "fluid:oil:1: 1 glycol-half"]
    );
}

#[test]
fn leaving_out_the_first_leaves_out_all() {
    let cans = [("can-1", "1 L", usd("7.50")), ("can-5", "5 L", usd("28.00"))];
    let without = |key: &str| {
        let a = engine("5.4 L", &cans).waive(key).assess();
        let by = |c: &crate::assessment::Companion| {
            (c.waived.is_some(), c.left_out_by.as_ref().map(ToString::to_string))
        };
        (a.companions.iter().map(by).collect::<Vec<_>>(), a.totals.money.to_come)
    };
    let (out, money) = without("fluid:oil");
    assert_eq!(out, [(true, None), (true, Some("fluid:oil".to_owned()))]);
    assert!(money.is_zero());
    // the second alone
    let (out, money) = without("fluid:oil:1");
    assert_eq!(out, [(false, None), (true, None)]);
    assert_eq!(money.text("USD"), "28.00 USD");
}

/// A filter that comes with a can: the can goes in first, and what is missing is bought.
#[test]
fn what_lies_in_a_box_goes_in_first() {
    let parts = |contents: Json| {
        json!({
            "block": {"class": "engine"},
            "can-1": {"class": "oil", "price": "7.50 USD", "figures": {"container": "1 L"}},
            "can-2": {"class": "oil", "price": null, "figures": {"container": "2 L"}},
            "can-5": {"class": "oil", "price": "28.00 USD", "figures": {"container": "5 L"}},
            "filter-kit": {"class": "filter", "contents": contents},
        })
    };
    let with = |contents: Json, capacity: &str| {
        let a = filled(parts(contents), capacity).convert("filter", "filter-kit").assess();
        (companions(&a), a.totals.money.to_come.text("USD"))
    };
    let (told, money) = with(json!([{"part": "can-2", "qty": 1}]), "5 L");
    assert_eq!(told, ["fluid:oil: 1 can-2 (1 in a box)", "fluid:oil:1: 3 can-1"]);
    assert_eq!(money, "32.50 USD");
    // the same can in the box and in the shop is one companion
    let (told, _) = with(json!([{"part": "can-1", "qty": 2}]), "3 L");
    assert_eq!(told, ["fluid:oil: 3 can-1 (2 in a box)"]);
    // more than is wanted lies in the box
    let (told, money) = with(json!([{"part": "can-1", "qty": 9}]), "1.2 L");
    assert_eq!((told, money.as_str()), (vec!["fluid:oil: 2 can-1 (2 in a box)".to_owned()], "10.00 USD"));
}
