//! A part asks for a capability, another supplies it: who is fitted already, else the cheapest that offers it, from a free
//! class or for a place that follows where it fits.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions};
use crate::sheet::Route;

/// An electric pump that asks for something, among other parts, on this vehicle.
fn pump(asks: Json, others: Json, vehicle: Json) -> Least {
    let mut library = json!({
        "free": ["feed-cable", "relay"],
        "parts": others,
        "vehicle": vehicle,
    });
    library["parts"]["electric-pump"] = asks;
    library["parts"]["electric-pump"]["class"] = json!("pump");
    library["vehicle"]["positions"]["pump"] = Json::Null;
    Least::new(library).convert("pump", "electric-pump")
}

fn offers(class: &str, price: &str) -> Json {
    json!({"class": class, "offers": ["feed"], "price": price})
}

const SMALL: &str = "need:pump:electric-pump:feed: 1 small-relay";

#[test]
fn what_is_not_met_gets_the_cheapest_part_that_offers_it() {
    let relays =
        json!({"large-relay": offers("relay", "9.00 USD"), "small-relay": offers("relay", "8.00 USD")});
    let a = pump(json!({"needs": ["feed"]}), relays, json!({})).assess();
    assert_eq!(companions(&a), [SMALL]);
}

#[test]
fn what_nobody_can_supply_is_a_clash() {
    let a = pump(json!({"needs": ["feed"]}), json!({"bare-relay": "relay"}), json!({})).assess();
    assert_eq!(clashes(&a), ["need:pump:electric-pump:feed"]);
}

#[test]
fn what_is_not_for_sale_supplies_nothing() {
    let relay = json!({"old-relay": {"class": "relay", "offers": ["feed"], "price": null}});
    assert_eq!(pump(json!({"needs": ["feed"]}), relay, json!({})).assess().clashes.len(), 1);
}

#[test]
fn a_class_that_is_not_free_and_has_no_place_supplies_nothing() {
    let fuses = json!({"new-fuses": offers("fuses", "9.00 USD")});
    assert_eq!(pump(json!({"needs": ["feed"]}), fuses, json!({})).assess().clashes.len(), 1);
}

#[test]
fn what_is_fitted_supplies_it() {
    let others =
        json!({"old-fuses": offers("fuses", "9.00 USD"), "small-relay": offers("relay", "8.00 USD")});
    let vehicle = json!({"positions": {"fuses": "old-fuses"}});
    let a = pump(json!({"needs": ["feed"]}), others, vehicle).assess();
    assert!(companions(&a).is_empty() && clashes(&a).is_empty());
}

#[test]
fn what_the_bare_vehicle_offers_supplies_it() {
    let relay = json!({"small-relay": offers("relay", "8.00 USD")});
    let a = pump(json!({"needs": ["feed"]}), relay, json!({"offers": {"feed": "present"}})).assess();
    assert!(companions(&a).is_empty());
}

/// Somebody is fitted who offers 10 A; the pump asks for more or less.
fn amps(rule: &str, asked: &str) -> Vec<String> {
    let a = Least::new(json!({
        "free": ["relay"],
        "needs": {"feed": {"kind": "current", "rule": rule}},
        "parts": {
            "electric-pump": {"class": "pump", "needs": {"feed": asked}},
            "large-relay": {"class": "relay", "offers": {"feed": "20 A"}},
            "old-fuses": {"class": "fuses", "offers": {"feed": "10 A"}},
        },
        "vehicle": {"positions": {"fuses": "old-fuses", "pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    companions(&a)
}

#[test]
fn at_least_wants_no_less_than_is_asked() {
    assert!(amps("at-least", "10 A").is_empty());
    assert_eq!(amps("at-least", "11 A"), ["need:pump:electric-pump:feed: 1 large-relay"]);
}

#[test]
fn inside_wants_what_is_offered_in_the_window_that_is_asked() {
    assert!(amps("inside", "8 to 12 A").is_empty());
    assert_eq!(amps("inside", "18 to 22 A"), ["need:pump:electric-pump:feed: 1 large-relay"]);
}

/// Two pumps ask for a feed.
fn two_pumps(sharing: &str) -> Vec<String> {
    let a = Least::new(json!({
        "free": ["relay"],
        "needs": {"feed": {"kind": "present", "sharing": sharing}},
        "parts": {
            "electric-pump": {"class": "pump", "needs": ["feed"]},
            "second-pump": {"class": "lift-pump", "needs": ["feed"]},
            "small-relay": {"class": "relay", "offers": ["feed"]},
        },
        "vehicle": {"positions": {"lift-pump": null, "pump": null}},
    }))
    .convert("lift-pump", "second-pump")
    .convert("pump", "electric-pump")
    .assess();
    companions(&a)
}

#[test]
fn shared_one_supplies_all_who_ask() {
    assert_eq!(two_pumps("shared"), ["need:lift-pump:second-pump:feed: 1 small-relay"]);
}

#[test]
fn own_each_who_asks_gets_one() {
    assert_eq!(
        two_pumps("own"),
        ["need:lift-pump:second-pump:feed: 1 small-relay", "need:pump:electric-pump:feed: 1 small-relay",]
    );
}

#[test]
fn what_is_only_advised_is_an_advised_companion_and_no_clash() {
    let relay = json!({"small-relay": offers("relay", "8.00 USD")});
    let a = pump(json!({"advises": ["feed"]}), relay, json!({})).assess();
    assert_eq!(companions(&a), [format!("{SMALL} (advised)")]);
    let a = pump(json!({"advises": ["feed"]}), json!({"bare-relay": "relay"}), json!({})).assess();
    assert!(clashes(&a).is_empty());
}

#[test]
fn a_supplier_goes_into_a_place_of_its_class_that_follows() {
    let fuses = || json!({"new-fuses": offers("fuses", "9.00 USD"), "old-fuses": "fuses"});
    let at = |asks: &str, found: Json| {
        pump(json!({asks: ["feed"]}), fuses(), json!({"positions": {"fuses": found}}))
    };
    assert_eq!(companions(&at("needs", Json::Null).assess()), ["position:fuses: 1 new-fuses"]);
    // also for what sits there: that goes together before a sound part stays
    assert_eq!(companions(&at("needs", json!("old-fuses")).assess()), ["position:fuses: 1 new-fuses"]);
    // a sound part stays before advice is met
    assert_eq!(companions(&at("advises", Json::Null).assess()), ["position:fuses: 1 new-fuses (advised)"]);
    assert_eq!(companions(&at("advises", json!("old-fuses")).assess()), [""; 0]);
    // not where the owner has said what happens
    let kept = at("needs", Json::Null).choose("fuses", Route::Keep).assess();
    assert_eq!((companions(&kept), clashes(&kept).len()), (vec![], 1));
}

/// Fuse boxes for a wall with two holes.
fn on_the_wall(boxes: Json) -> Least {
    let mut others = boxes;
    others["old-wall"] = json!({"class": "wall", "ports": {"holes": "two-holes"}});
    let joints = json!({"foot": ["fuses.foot", "wall.holes"]});
    let vehicle = json!({"positions": {"fuses": null, "wall": "old-wall"}, "joints": joints});
    pump(json!({"needs": ["feed"]}), others, vehicle)
}

fn fuses(foot: &str, price: &str) -> Json {
    json!({"class": "fuses", "offers": ["feed"], "ports": {"foot": foot}, "price": price})
}

#[test]
fn a_supplier_must_fit_where_it_goes() {
    let a = on_the_wall(json!({
        "bare-fuses": {"class": "fuses", "ports": {"foot": "two-holes"}, "price": "1.00 USD"},
        "three-hole-fuses": fuses("three-holes", "8.00 USD"), "two-hole-fuses": fuses("two-holes", "9.00 USD"),
    }))
    .assess();
    assert_eq!(companions(&a), ["position:fuses: 1 two-hole-fuses"]);
    assert!(clashes(&a).is_empty());
}

/// Its joint would be a clash instead of the need: that clears nothing.
#[test]
fn where_none_fits_nothing_goes_in_and_the_need_is_a_clash() {
    let a = on_the_wall(json!({"three-hole-fuses": fuses("three-holes", "8.00 USD")})).assess();
    assert_eq!(companions(&a), [""; 0]);
    assert_eq!(clashes(&a), ["need:pump:electric-pump:feed"]);
}

#[test]
fn a_supplier_asks_in_its_turn_and_hangs_under_who_asked_for_it() {
    let others = json!({
        "small-relay": {"class": "relay", "offers": ["feed"], "needs": ["live-wire"]},
        "red-cable": {"class": "feed-cable", "offers": ["live-wire"]},
    });
    let a = pump(json!({"needs": ["feed"]}), others, json!({})).assess();
    assert_eq!(companions(&a), [SMALL, "need:pump:small-relay:live-wire: 1 red-cable"]);
    let parent = a.companions[1].parent.as_ref().map(ToString::to_string);
    assert_eq!(parent.as_deref(), Some("need:pump:electric-pump:feed"));
}

#[test]
fn who_only_supplies_advice_asks_for_advice_only() {
    let others = json!({
        "small-relay": {"class": "relay", "offers": ["feed"], "needs": ["live-wire"]},
        "red-cable": {"class": "feed-cable", "offers": ["live-wire"]},
    });
    let a = pump(json!({"advises": ["feed"]}), others, json!({})).assess();
    assert_eq!(companions(&a)[1], "need:pump:small-relay:live-wire: 1 red-cable (advised)");
}

#[test]
fn where_it_would_run_round_in_a_circle_it_ends_with_a_clash() {
    let a = Least::new(json!({
        "free": ["relay"],
        "needs": {"feed": {"kind": "present", "sharing": "own"}},
        "parts": {
            "electric-pump": {"class": "pump", "needs": ["feed"]},
            "small-relay": {"class": "relay", "offers": ["feed"], "needs": ["feed"]},
        },
        "vehicle": {"positions": {"pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    assert_eq!(companions(&a), [SMALL]);
    assert_eq!(clashes(&a), ["need:pump:small-relay:feed"]);
}

/// An ammeter that was there asks for a light and for what the dynamo supplied.
fn ammeter(new_dynamo: Json) -> Vec<String> {
    let a = Least::new(json!({
        "free": ["bulb", "shunt"],
        "parts": {
            "brass-shunt": {"class": "shunt", "offers": ["reading"]},
            "new-dynamo": new_dynamo,
            "old-ammeter": {"class": "ammeter", "needs": ["light", "reading"]},
            "old-dynamo": {"class": "dynamo", "offers": ["reading"]},
            "small-bulb": {"class": "bulb", "offers": ["light"]},
        },
        "vehicle": {"positions": {"ammeter": "old-ammeter", "dynamo": "old-dynamo"}},
    }))
    .convert("dynamo", "new-dynamo")
    .assess();
    companions(&a)
}

#[test]
fn what_was_there_asks_for_what_its_supplier_took_along_and_for_nothing_else() {
    assert_eq!(ammeter(json!("dynamo")), ["need:ammeter:old-ammeter:reading: 1 brass-shunt"]);
    assert!(ammeter(json!({"class": "dynamo", "offers": ["reading"]})).is_empty());
}

#[test]
fn what_was_there_does_not_ask_for_what_it_never_had() {
    let a = Least::new(json!({
        "free": ["shunt"],
        "parts": {
            "brass-shunt": {"class": "shunt", "offers": ["reading"]},
            "new-dynamo": "dynamo",
            "old-ammeter": {"class": "ammeter", "needs": ["reading"]},
        },
        "vehicle": {"positions": {"ammeter": "old-ammeter", "dynamo": null}},
    }))
    .convert("dynamo", "new-dynamo")
    .assess();
    assert!(companions(&a).is_empty());
}

#[test]
fn what_the_owner_picked_supplies_it_before_the_cheapest() {
    let relays =
        json!({"large-relay": offers("relay", "9.00 USD"), "small-relay": offers("relay", "8.00 USD")});
    let picked = pump(json!({"needs": ["feed"]}), relays, json!({}))
        .pick("need:pump:electric-pump:feed", "large-relay");
    assert_eq!(companions(&picked.assess()), ["need:pump:electric-pump:feed: 1 large-relay"]);
}

#[test]
fn what_lies_in_the_box_supplies_it_before_what_is_bought() {
    let relays =
        json!({"large-relay": offers("relay", "9.00 USD"), "small-relay": offers("relay", "8.00 USD")});
    let a = pump(json!({"needs": ["feed"], "contents": ["large-relay"]}), relays, json!({})).assess();
    assert_eq!(companions(&a), ["need:pump:electric-pump:feed: 1 large-relay (1 in a box)"]);
}

/// The cheap relay asks for a base, which makes it dearer than the relay that asks for nothing. Where the base is there
/// already, the cheap one goes in.
#[test]
fn what_a_supplier_asks_for_in_turn_is_part_of_its_price() {
    let plan = |offered: Json| {
        let library = json!({
            "free": ["relay", "base"],
            "parts": {
                "cheap-relay": {"class": "relay", "offers": ["feed"], "needs": ["socket"], "price": "5.00 USD"},
                "whole-relay": {"class": "relay", "offers": ["feed"], "price": "8.00 USD"},
                "relay-base": {"class": "base", "offers": ["socket"], "price": "4.00 USD"},
                "electric-pump": {"class": "pump", "needs": ["feed"]},
            },
            "vehicle": {"positions": {"pump": null}, "offers": offered},
        });
        companions(&Least::new(library).convert("pump", "electric-pump").assess())
    };
    assert_eq!(plan(json!({})), ["need:pump:electric-pump:feed: 1 whole-relay"]);
    assert_eq!(plan(json!({"socket": "present"})), ["need:pump:electric-pump:feed: 1 cheap-relay"]);
}

/// A supplier that asks for what nothing supplies goes behind a dearer one.
#[test]
fn a_supplier_whose_own_needs_nothing_meets_goes_behind() {
    let relays = json!({
        "cheap-relay": {"class": "relay", "offers": ["feed"], "needs": ["socket"], "price": "5.00 USD"},
        "whole-relay": offers("relay", "80.00 USD"),
    });
    let a = pump(json!({"needs": ["feed"]}), relays, json!({})).assess();
    assert_eq!(companions(&a), ["need:pump:electric-pump:feed: 1 whole-relay"]);
    assert!(clashes(&a).is_empty());
}
