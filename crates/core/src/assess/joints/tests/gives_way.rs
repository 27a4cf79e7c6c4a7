//! Of two ends that disagree, the one that follows is exchanged. Where both follow: the one whose change breaks least, then
//! the one where no sound part is taken off, then the cheaper. Where both are chosen it is a clash, with what would clear it.

use serde_json::Value as Json;

use super::{Least, Route, clashes, companions, fitted, json, remedies};
use crate::sheet::Verdict;

/// A pump whose outlet is smaller than the old one's, and hoses of both sizes.
fn smaller_outlet() -> Least {
    let pump = |size: &str| json!({"class": "pump", "ports": {"outlet": size}});
    let hose = |size: &str, price: &str| json!({"class": "hose", "ports": {"end": size}, "price": price});
    Least::new(json!({
        "parts": {
            "old-pump": pump("3/8"), "new-pump": pump("5/16"),
            "large-hose": hose("3/8", "2.00 USD"), "old-hose": hose("3/8", "1.00 USD"),
            "braided-hose": hose("5/16", "30.00 USD"), "rubber-hose": hose("5/16", "20.00 USD"),
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": "old-pump"},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
}

#[test]
fn a_part_nobody_chose_is_exchanged_with_the_cheapest_that_closes_the_joint() {
    let a = smaller_outlet().convert("pump", "new-pump").assess();
    assert_eq!(companions(&a), ["position:hose: 1 rubber-hose"]);
    assert_eq!(fitted(&a, "hose").as_deref(), Some("rubber-hose"));
}

#[test]
fn what_the_owner_picked_goes_in_before_the_cheapest() {
    let picked = smaller_outlet().convert("pump", "new-pump").pick("position:hose", "braided-hose");
    assert_eq!(companions(&picked.assess()), ["position:hose: 1 braided-hose"]);
    // only where it does what it must
    let picked = smaller_outlet().convert("pump", "new-pump").pick("position:hose", "large-hose");
    assert_eq!(companions(&picked.assess()), ["position:hose: 1 rubber-hose"]);
}

#[test]
fn two_ends_that_were_chosen_clash_and_each_way_out_is_told() {
    let a = smaller_outlet().convert("pump", "new-pump").choose("hose", Route::Keep).assess();
    assert_eq!(clashes(&a), ["joint:fuel"]);
    assert_eq!(fitted(&a, "hose").as_deref(), Some("old-hose"));
    assert_eq!(
        remedies(&a),
        ["keep old-pump as pump", "fit rubber-hose as hose", "fit braided-hose as hose"]
    );
}

#[test]
fn what_is_not_for_sale_is_not_put_in() {
    let a = Least::new(json!({
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-hose": {"class": "hose", "ports": {"end": "3/8"}},
            "hose-of-a-wreck": {"class": "hose", "ports": {"end": "5/16"}, "price": null},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
    .convert("pump", "new-pump")
    .assess();
    assert_eq!(clashes(&a), ["joint:fuel"]);
}

/// The box of a carburettor brings a pump that the filter does not fit. Nobody chose either, and each could be exchanged.
/// The filter stands in a bracket.
fn pump_of_a_kit(pump: &str, filter: &str, foot: &str) -> Least {
    let part =
        |class: &str, ports: Json, price: &str| json!({"class": class, "ports": ports, "price": price});
    Least::new(json!({
        "parts": {
            "carburettor-kit": {"class": "carburettor", "contents": ["pump-of-the-kit"]},
            "pump-of-the-kit": part("pump", json!({"inlet": "5/16"}), "10.00 USD"),
            "other-pump": part("pump", json!({"inlet": "3/8"}), pump),
            "old-filter": part("filter", json!({"outlet": "3/8", "foot": "round"}), "10.00 USD"),
            "other-filter": part("filter", json!({"outlet": "5/16", "foot": foot}), filter),
            "old-bracket": part("bracket", json!({"ring": "round"}), "10.00 USD"),
        },
        "vehicle": {
            "positions": {"bracket": "old-bracket", "carburettor": null, "filter": "old-filter", "pump": null},
            "joints": {
                "foot": ["bracket.ring", "filter.foot"],
                "fuel": ["filter.outlet", "pump.inlet"],
            },
        },
    }))
    .convert("carburettor", "carburettor-kit")
}

/// The filter that was found is sound and stays; the pump out of the box, which nobody looked for, is exchanged.
#[test]
fn of_two_ends_the_one_is_exchanged_that_is_no_sound_part_found_there() {
    let a = pump_of_a_kit("30.00 USD", "20.00 USD", "round").assess();
    assert_eq!(companions(&a), ["position:pump: 1 other-pump"]);
}

#[test]
fn of_two_ends_that_are_not_sound_the_one_with_the_cheaper_part_is_exchanged() {
    let worn = |pump: &str, filter: &str| {
        companions(&pump_of_a_kit(pump, filter, "round").survey("filter", Verdict::Watch).assess())
    };
    assert_eq!(worn("30.00 USD", "20.00 USD"), ["position:filter: 1 other-filter"]);
    assert_eq!(worn("20.00 USD", "30.00 USD"), ["position:pump: 1 other-pump"]);
}

#[test]
fn the_end_whose_change_breaks_least_is_exchanged_before_the_cheaper() {
    let a = pump_of_a_kit("30.00 USD", "20.00 USD", "square").survey("filter", Verdict::Watch).assess();
    assert_eq!(companions(&a), ["position:pump: 1 other-pump"]);
}

#[test]
fn where_no_part_closes_both_joints_the_first_that_closes_one_goes_in() {
    let hose = |size: &str| json!({"class": "hose", "ports": {"front": size, "rear": size}});
    let a = Least::new(json!({
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "new-tank": {"class": "tank", "ports": {"outlet": "3/8"}},
            "old-hose": hose("1/4"), "small-hose": hose("5/16"), "large-hose": hose("3/8"),
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": null, "tank": null},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["tank.outlet", "hose.rear"]},
        },
    }))
    .convert("pump", "new-pump")
    .convert("tank", "new-tank")
    .assess();
    assert_eq!(companions(&a), ["position:hose: 1 large-hose"]);
    assert_eq!(clashes(&a), ["joint:front"]);
}
