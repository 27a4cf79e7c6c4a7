//! Of the chains of bridges that close a joint the one goes between that is sure, then the cheapest, then the shortest, then
//! the first by id; at most four parts long.

use serde_json::{Value as Json, json};

use super::super::least::{Least, answer, clashes, companions, open};
use crate::assessment::Answer;
use crate::sheet::Route;

/// A new pump with a thread of 3/8 for a carburettor with one of 5/16, both chosen; and these adapters.
fn adapters(adapters: &[(&str, Json)]) -> Least {
    let mut parts: serde_json::Map<String, Json> =
        adapters.iter().map(|(id, part)| ((*id).to_owned(), part.clone())).collect();
    parts.insert("new-pump".to_owned(), json!({"class": "pump", "ports": {"outlet": thread("3/8")}}));
    let inlet = json!({"inlet": thread("5/16")});
    parts.insert("old-carburettor".to_owned(), json!({"class": "carburettor", "ports": inlet}));
    Least::new(json!({
        "free": ["adapter"],
        "port_types": {"thread": {"fields": {"size": {"kind": "word", "rule": "equal"}}}},
        "parts": parts,
        "vehicle": {
            "positions": {"carburettor": "old-carburettor", "pump": null},
            "joints": {"fuel": ["pump.outlet", "carburettor.inlet"]},
        },
    }))
    .convert("pump", "new-pump")
    .choose("carburettor", Route::Keep)
}

fn thread(size: &str) -> Json {
    json!({"type": "thread", "fields": {"size": size}})
}

/// A part that goes between two ports.
fn adapter(one: &str, other: &str, price: &str) -> Json {
    let ports = json!({"one": thread(one), "other": thread(other)});
    json!({"class": "adapter", "bridges": ["one", "other"], "ports": ports, "price": price})
}

#[test]
fn the_cheapest_bridge_closes_the_joint() {
    let a = adapters(&[
        ("brass-reducer", adapter("3/8", "5/16", "5.00 USD")),
        ("steel-reducer", adapter("3/8", "5/16", "4.00 USD")),
    ])
    .assess();
    assert_eq!(companions(&a), ["bridge:fuel:0: 1 steel-reducer"]);
    assert_eq!(answer(&a, "joint:fuel"), Some(Answer::Bridged));
}

#[test]
fn a_bridge_that_does_not_agree_closes_nothing() {
    let a = adapters(&[("large-reducer", adapter("3/8", "1/2", "5.00 USD"))]).assess();
    assert_eq!(clashes(&a), ["joint:fuel"]);
}

#[test]
fn a_bridge_can_be_turned_round() {
    let a = adapters(&[("reducer", adapter("5/16", "3/8", "5.00 USD"))]).assess();
    assert_eq!(companions(&a), ["bridge:fuel:0: 1 reducer"]);
}

#[test]
fn two_in_a_chain_go_before_a_dearer_one() {
    let chain = |single: &str| {
        adapters(&[
            ("first-half", adapter("3/8", "1/4", "2.00 USD")),
            ("second-half", adapter("1/4", "5/16", "2.00 USD")),
            ("single", adapter("3/8", "5/16", single)),
        ])
    };
    assert_eq!(
        companions(&chain("5.00 USD").assess()),
        ["bridge:fuel:0: 1 first-half", "bridge:fuel:1: 1 second-half"]
    );
    // at one price the shorter
    assert_eq!(companions(&chain("4.00 USD").assess()), ["bridge:fuel:0: 1 single"]);
}

#[test]
fn a_chain_has_four_parts_at_most() {
    let sizes = |sizes: &[&str]| {
        let pairs: Vec<(String, Json)> = sizes
            .windows(2)
            .map(|two| (format!("adapter-{}", two[0].replace('/', "-")), adapter(two[0], two[1], "1.00 USD")))
            .collect();
        let pairs: Vec<(&str, Json)> = pairs.iter().map(|(id, part)| (id.as_str(), part.clone())).collect();
        adapters(&pairs).assess()
    };
    assert_eq!(companions(&sizes(&["3/8", "1/2", "5/8", "3/4", "5/16"])).len(), 4);
    assert_eq!(clashes(&sizes(&["3/8", "1/2", "5/8", "3/4", "7/8", "5/16"])), ["joint:fuel"]);
}

#[test]
fn what_is_sure_goes_before_what_is_open() {
    let unmarked = ("unmarked", adapter("3/8", "unknown: thread gauge", "1.00 USD"));
    let a = adapters(&[unmarked.clone(), ("reducer", adapter("3/8", "5/16", "50.00 USD"))]).assess();
    assert_eq!(companions(&a), ["bridge:fuel:0: 1 reducer"]);
    assert!(open(&a).is_empty());
    let a = adapters(&[unmarked]).assess();
    assert_eq!(companions(&a), ["bridge:fuel:0: 1 unmarked"]);
    assert_eq!(open(&a), ["joint:fuel"]);
}

#[test]
fn what_the_owner_picked_goes_before_the_cheapest() {
    let both = adapters(&[
        ("brass-reducer", adapter("3/8", "5/16", "5.00 USD")),
        ("steel-reducer", adapter("3/8", "5/16", "4.00 USD")),
    ]);
    assert_eq!(
        companions(&both.pick("bridge:fuel:0", "brass-reducer").assess()),
        ["bridge:fuel:0: 1 brass-reducer"]
    );
}

#[test]
fn a_bridge_in_the_box_of_a_kit_is_free() {
    let kit = |contents: &[&str]| {
        let mut pump = json!({"class": "pump", "ports": {"outlet": thread("3/8")}, "contents": contents});
        pump["price"] = json!("20.00 USD");
        adapters(&[
            ("brass-reducer", adapter("3/8", "5/16", "5.00 USD")),
            ("pump-kit", pump),
            ("steel-reducer", adapter("3/8", "5/16", "4.00 USD")),
        ])
        .convert("pump", "pump-kit")
        .assess()
    };
    assert_eq!(companions(&kit(&["brass-reducer"])), ["bridge:fuel:0: 1 brass-reducer (1 in a box)"]);
    assert_eq!(companions(&kit(&[])), ["bridge:fuel:0: 1 steel-reducer"]);
}

#[test]
fn a_joint_of_several_alike_wants_as_many() {
    let a = Least::new(json!({
        "free": ["adapter"],
        "parts": {
            "flare-to-barb": {
                "class": "adapter", "bridges": ["one", "other"], "ports": {"one": "flare", "other": "barb"},
            },
            "new-hoses": {"class": "hoses", "ports": {"end": "flare"}},
            "old-brakes": {"class": "brakes", "ports": {"inlet": "barb"}},
        },
        "vehicle": {
            "positions": {"brakes": "old-brakes", "hoses": null},
            "joints": {"line": {"ends": ["hoses.end", "brakes.inlet"], "qty": 2}},
        },
    }))
    .convert("hoses", "new-hoses")
    .assess();
    assert_eq!(companions(&a), ["bridge:line:0: 2 flare-to-barb"]);
}
