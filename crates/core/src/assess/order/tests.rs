//! Of two choices the one is taken that is better in the first row in which they differ. A feed and an earth can come from
//! the left or from the right, and either way may have something against it.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, merge, two_ways};
use super::{Marks, Row};

const ROWS: [Row; 10] = [
    Row::Apart,
    Row::Danger,
    Row::Broken,
    Row::Passed,
    Row::TakenOff,
    Row::Advice,
    Row::Unknown,
    Row::Money,
    Row::Hours,
    Row::Open,
];

/// What makes a part for the place `left` or `right` worse in one row and in no other.
fn against(side: &str, row: Row) -> Json {
    let part = |more: Json| json!({"parts": {format!("{side}-box"): more}});
    match row {
        // nobody offers that
        Row::Apart => part(json!({"needs": ["charm"]})),
        Row::Danger => part(json!({"figures": {"guard": "1 mm"}})),
        Row::Broken => part(json!({"figures": {"length": "1 mm"}})),
        // said of the sheet
        Row::Passed => json!({}),
        Row::TakenOff => json!({"vehicle": {"positions": {side: format!("old-{side}")}}}),
        // a row of its own only beside a broken limit: see the decisions
        Row::Beyond => json!({}),
        Row::Advice => part(json!({"advises": ["charm"]})),
        Row::Unknown => {
            part(json!({"ports": {"foot": {"type": "foot", "fields": {"bolts": "unknown: rule, to 1 mm"}}}}))
        }
        Row::Money => part(json!({"price": "11.00 USD"})),
        Row::Hours => part(json!({"hours": 2.0})),
        Row::Open => part(json!({"figures": {"depth": "unknown: rule, to 1 mm"}})),
    }
}

/// Parts for both places that differ in what is against them.
fn plan(left: &[Row], right: &[Row]) -> Least {
    let limit = |side: &str, figure: &str, safety: bool| {
        let have = json!({"class": side, "figure": figure, "optional": figure != "depth"});
        json!({"calc": "at-least", "safety": safety, "inputs": {"have": have, "want": {"value": "5 mm"}}})
    };
    let foot = |bolts: &str| json!({"type": "foot", "fields": {"bolts": bolts}});
    let mut library = json!({
        "figures": {"depth": "length", "guard": "length", "length": "length"},
        "port_types": {"foot": {"fields": {"bolts": {"kind": "length", "rule": "equal"}}}},
        "limits": {},
        "needs": {"charm": {"kind": "present"}},
        "parts": {"old-engine": {"ports": {"left": foot("8 mm"), "right": foot("8 mm")}}},
        "vehicle": {"joints": {}},
    });
    for side in ["left", "right"] {
        for (figure, safety) in [("depth", false), ("guard", true), ("length", false)] {
            library["limits"][format!("{side}-{figure}")] = limit(side, figure, safety);
        }
        let ends = json!([format!("{side}.foot"), format!("engine.{side}")]);
        library["vehicle"]["joints"][format!("{side}-foot")] = ends;
        library["parts"][format!("old-{side}")] = json!(side);
        library["parts"][format!("{side}-box")] =
            json!({"price": "10.00 USD", "hours": 1.0, "figures": {"depth": "5 mm"}});
        for row in if side == "left" { left } else { right } {
            merge(&mut library, against(side, *row));
        }
    }
    let mut plan = two_ways(library);
    for (side, rows) in [("left", left), ("right", right)] {
        if rows.contains(&Row::Passed) {
            plan = plan.pick(&format!("position:{side}"), &format!("old-{side}"));
        }
    }
    plan
}

/// The next row and all after it on one side count for nothing against one row on the other.
#[test]
fn each_row_goes_before_all_that_stand_after_it() {
    for (n, row) in ROWS.iter().enumerate() {
        let after = &ROWS[n + 1..];
        assert_eq!(plan(&[*row], after).decided(), ["right: right-box"], "{row:?}");
        assert_eq!(plan(after, &[*row]).decided(), ["left: left-box"], "{row:?}");
    }
}

/// As much on both sides: the next row decides.
#[test]
fn where_a_row_is_the_same_the_next_decides() {
    for (row, next) in ROWS.iter().zip(&ROWS[1..]) {
        assert_eq!(plan(&[*row, *next], &[*row]).decided(), ["right: right-box"], "{next:?}");
        assert_eq!(plan(&[*row], &[*row, *next]).decided(), ["left: left-box"], "{next:?}");
    }
}

/// What one row has against a part shows in that row alone.
#[test]
fn each_has_one_row_against_it() {
    let told = |rows: &[Row]| plan(rows, &ROWS[..3]).assess().order;
    let clean = told(&[]);
    for row in &ROWS[3..] {
        let mut expected = Marks::default();
        expected.count(Row::Money, clean.money);
        expected.count(Row::Hours, clean.hours);
        let more = match row {
            Row::Money => 100,
            Row::Hours => 1000,
            _ => 1,
        };
        expected.count(*row, more);
        assert_eq!(told(&[*row]), expected.told(), "{row:?}");
    }
}

/// Nothing else is against either: the first by id, wherever it goes.
#[test]
fn what_is_left_is_settled_by_the_ids_of_the_parts() {
    assert_eq!(plan(&[], &[]).decided(), ["left: left-box"]);
    let other = json!({"class": "right", "offers": ["earth", "feed"]});
    let first = |id: &str| two_ways(json!({"parts": {id: other}})).decided();
    assert_eq!(first("a-box"), ["right: a-box"]);
    assert_eq!(first("z-box"), ["left: left-box"]);
}

/// One part for two places of a class: the first place by id.
#[test]
fn then_by_the_ids_of_the_places() {
    let place = |owner_keeps: &str| {
        Least::new(json!({
            "parts": {
                "electric-pump": {"class": "pump", "needs": ["feed"]},
                "fuse-box": {"class": "fuses", "offers": ["feed"]},
            },
            "vehicle": {"positions": {
                "front": {"class": "fuses"}, "pump": null, "rear": {"class": "fuses"},
            }},
        }))
        .convert("pump", "electric-pump")
        .choose(owner_keeps, crate::sheet::Route::Keep)
        .decided()
    };
    assert_eq!(place("pump"), [""; 0]);
    assert_eq!(place("front"), ["rear: fuse-box"]);
    assert_eq!(place("rear"), ["front: fuse-box"]);
}

/// Fewer sound parts go before less money, however much: two for 10 each, or one for 900.
#[test]
fn fewest_stand_before_least() {
    let parts = |price: &str| {
        two_ways(json!({
            "parts": {
                "left-box": {"offers": ["feed"]},
                "back-box": {"class": "back", "offers": ["earth"]},
                "old-back": "back", "old-left": "left", "old-right": "right",
                "right-box": {"price": price},
            },
            "vehicle": {"positions": {"back": "old-back", "left": "old-left", "right": "old-right"}},
        }))
    };
    assert_eq!(parts("900.00 USD").decided(), ["right: right-box"]);
    // where those two are not sound
    let worn = parts("900.00 USD");
    let worn = worn.survey("back", crate::sheet::Verdict::Watch).survey("left", crate::sheet::Verdict::Watch);
    assert_eq!(worn.decided(), ["back: back-box", "left: left-box"]);
}

#[test]
fn what_does_not_go_together_goes_before_danger_and_both_are_told() {
    let a = plan(&[Row::Danger], &[Row::Apart]).assess();
    assert_eq!(clashes(&a), ["limit:left-guard"]);
    assert_eq!((a.order.apart, a.order.danger), (0, 1));
}

#[test]
fn marks_are_added_row_by_row_and_compared_first_row_first() {
    let (money, advice) = (Marks::of(Row::Money, 900), Marks::of(Row::Advice, 1));
    assert!(money < advice && Marks::default() < money);
    let both = money + advice + advice;
    assert_eq!((both.get(Row::Money), both.get(Row::Advice), both.get(Row::Open)), (900, 2, 0));
    assert_eq!(both.before_money(), Marks::of(Row::Advice, 2));
    assert!(money.is_clean() && !both.is_clean());
    assert_eq!((both.told().money, both.told().advice), (900, 2));
}
