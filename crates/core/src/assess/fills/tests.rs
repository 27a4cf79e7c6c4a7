//! Of several parts for a place the one goes in that breaks least, then the cheapest, then the first by id. What counts
//! against it: each other joint it breaks, each pool it overdraws, each limit it breaks, and that it wants a bridge.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions};

/// A new pump with a flare; the hose, which nobody chose, must follow, and has its other end on a tank with a barb.
fn hoses(hoses: &[(&str, Json)]) -> Vec<String> {
    let mut library = json!({
        "free": ["adapter"],
        "figures": {"length": "length"},
        "limits": {"reach": {"calc": "at-least", "inputs": {
            "have": {"class": "hose", "figure": "length", "optional": true}, "want": {"value": "300 mm"},
        }}},
        "pools": {"room": "count"},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "flare"}},
            "old-hose": {"class": "hose", "ports": {"front": "barb", "rear": "barb"}, "price": null},
            "old-tank": {"class": "tank", "ports": {"outlet": "barb"}},
            "olive": {"class": "adapter", "bridges": ["one", "other"], "ports": {"one": "flare", "other": "olive"}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null, "tank": "old-tank"},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["hose.rear", "tank.outlet"]},
            "gives": {"room": "1"},
        },
    });
    for (id, hose) in hoses {
        library["parts"][id] = hose.clone();
    }
    companions(&Least::new(library).convert("pump", "new-pump").assess())
}

fn hose(front: &str, rear: &str, price: &str) -> Json {
    json!({"class": "hose", "ports": {"front": front, "rear": rear}, "price": price})
}

/// A hose with one thing more to say.
fn with(mut hose: Json, word: &str, value: Json) -> Json {
    hose[word] = value;
    hose
}

const GOOD: &str = "position:hose: 1 good-hose";

#[test]
fn the_cheapest_goes_in_then_the_first_by_id() {
    let other = |price: &str| ("bad-hose", hose("flare", "barb", price));
    let good = ("good-hose", hose("flare", "barb", "20.00 USD"));
    assert_eq!(hoses(&[other("21.00 USD"), good.clone()]), [GOOD]);
    assert_eq!(hoses(&[other("20.00 USD"), good]), ["position:hose: 1 bad-hose"]);
}

#[test]
fn a_cheaper_one_that_breaks_another_joint_stays_out() {
    let good = ("good-hose", hose("flare", "barb", "20.00 USD"));
    assert_eq!(hoses(&[("bad-hose", hose("flare", "olive", "10.00 USD")), good]), [GOOD]);
}

#[test]
fn a_cheaper_one_that_overdraws_a_pool_stays_out() {
    // neither fits the tank
    let good = ("good-hose", hose("flare", "olive", "20.00 USD"));
    let takes =
        |n: &str| ("bad-hose", with(hose("flare", "olive", "10.00 USD"), "takes", json!({"room": n})));
    assert_eq!(hoses(&[takes("2"), good.clone()]), [GOOD]);
    assert_eq!(hoses(&[takes("1"), good]), ["position:hose: 1 bad-hose"]);
}

#[test]
fn a_cheaper_one_that_breaks_a_limit_stays_out() {
    let good = ("good-hose", hose("flare", "barb", "20.00 USD"));
    let length =
        |mm: &str| ("bad-hose", with(hose("flare", "barb", "10.00 USD"), "figures", json!({"length": mm})));
    assert_eq!(hoses(&[length("299 mm"), good.clone()]), [GOOD]);
    assert_eq!(hoses(&[length("300 mm"), good]), ["position:hose: 1 bad-hose"]);
}

#[test]
fn a_cheaper_one_that_wants_a_bridge_stays_out() {
    let bridged = ("bad-hose", hose("olive", "barb", "1.00 USD"));
    let good = ("good-hose", hose("flare", "barb", "20.00 USD"));
    assert_eq!(hoses(&[bridged, good]), [GOOD]);
}
