//! Of several parts for a place the one goes in that breaks least, then the cheapest with all that it drags in, then the
//! first by id. What it breaks: other joints, pools, limits. What breaks as much as it clears does not go in.

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
    let good = ("good-hose", hose("flare", "barb", "20.00 USD"));
    let takes = |n: &str| ("bad-hose", with(hose("flare", "barb", "10.00 USD"), "takes", json!({"room": n})));
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

/// The adapter costs 10.
#[test]
fn one_that_wants_a_bridge_costs_what_the_bridge_costs() {
    let bridged = ("bad-hose", hose("olive", "barb", "1.00 USD"));
    let good = |price: &str| ("good-hose", hose("flare", "barb", price));
    assert_eq!(hoses(&[bridged.clone(), good("10.99 USD")]), [GOOD]);
    assert_eq!(
        hoses(&[bridged, good("20.00 USD")]),
        ["bridge:front:0: 1 olive", "position:hose: 1 bad-hose"]
    );
}

/// It fits the pump and not the tank: that clears one joint and breaks another.
#[test]
fn what_breaks_as_much_as_it_clears_does_not_go_in() {
    assert_eq!(hoses(&[("bad-hose", hose("flare", "olive", "10.00 USD"))]), [""; 0]);
    assert_eq!(hoses(&[("good-hose", hose("flare", "barb", "10.00 USD"))]), [GOOD]);
}
