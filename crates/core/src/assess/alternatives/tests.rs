//! Where a companion is proposed, others that would serve as well are told, cheapest first.

use serde_json::{Value as Json, json};

use super::super::least::{Least, PLAN};
use crate::sheet::{Line, LineState};

/// What would serve for a companion of the plan.
fn others(least: &Least, key: &str) -> Vec<String> {
    let all = super::alternatives(&least.sheet, PLAN, &least.catalogue, &key.parse().expect("a key"));
    all.into_iter().map(|other| other.part).collect()
}

/// A new pump on a hose or a carburettor of another size.
fn pump(parts: Json) -> Least {
    let mut library = json!({
        "free": ["adapter", "relay"],
        "parts": parts,
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    });
    library["parts"]["new-pump"] = json!({"class": "pump", "ports": {"outlet": "5/16"}, "needs": ["feed"]});
    library["parts"]["old-hose"] = json!({"class": "hose", "ports": {"end": "3/8"}});
    Least::new(library).convert("pump", "new-pump")
}

fn hose(size: &str, price: &str) -> Json {
    json!({"class": "hose", "ports": {"end": size}, "price": price})
}

#[test]
fn for_a_part_in_a_place_all_that_break_nothing_there() {
    let least = pump(json!({
        "braided-hose": hose("5/16", "30.00 USD"), "large-hose": hose("3/8", "5.00 USD"),
        "rubber-hose": hose("5/16", "20.00 USD"), "steel-hose": hose("5/16", "25.00 USD"),
    }));
    assert_eq!(others(&least, "position:hose"), ["steel-hose", "braided-hose"]);
}

#[test]
fn for_a_bridge_all_single_ones_that_close_the_joint() {
    let adapter = |other: &str, price: &str| {
        let ports = json!({"one": "5/16", "other": other});
        json!({"class": "adapter", "bridges": ["one", "other"], "ports": ports, "price": price})
    };
    let least = pump(json!({
        "brass-adapter": adapter("3/8", "4.00 USD"), "large-adapter": adapter("1/2", "1.00 USD"),
        "steel-adapter": adapter("3/8", "3.00 USD"),
    }));
    assert_eq!(others(&least, "bridge:fuel:0"), ["brass-adapter"]);
}

#[test]
fn for_a_need_all_of_its_class_that_offer_it() {
    let least = pump(json!({
        "bare-relay": "relay",
        "large-relay": {"class": "relay", "offers": ["feed"], "price": "9.00 USD"},
        "rubber-hose": hose("5/16", "20.00 USD"),
        "small-relay": {"class": "relay", "offers": ["feed"], "price": "8.00 USD"},
    }));
    assert_eq!(others(&least, "need:pump:new-pump:feed"), ["large-relay"]);
}

/// What was paid counts before what the library lists.
#[test]
fn the_price_is_the_one_that_counts() {
    let hoses = json!({"braided-hose": hose("5/16", "30.00 USD"), "rubber-hose": hose("5/16", "20.00 USD")});
    let paid = Line { state: LineState::OnOrder, paid: "12.00 USD".parse().ok(), ..Line::default() };
    let least = pump(hoses).record("braided-hose", paid);
    let key = "position:hose".parse().expect("a key");
    let all = super::alternatives(&least.sheet, PLAN, &least.catalogue, &key);
    let prices: Vec<Option<String>> =
        all.into_iter().map(|other| other.price.map(|p| p.to_string())).collect();
    assert_eq!(prices, [Some("12.00 USD".to_owned())]);
}
