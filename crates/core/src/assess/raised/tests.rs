//! Who asks for what a broken limit raises is there: never a part nobody chose.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions};
use crate::explain::because;
use crate::sheet::Route;

/// A feed carries 20 A; where more is taken it wants a relay. The first part of the library by its id is an aerial.
fn lamps() -> Json {
    json!({
        "classes": {"lamps": {}, "aerial": {}, "relay": {"free": true}, "radio": {}, "amplifier": {"free": true}},
        "pools": {"load": {"kind": "current", "tally": true}},
        "needs": {"relay": {"kind": "current"}, "gain": {"kind": "present"}},
        "limits": {"feed": {"calc": "at-most", "raises": "relay", "raises_value": "30 A",
            "inputs": {"have": {"pool": "load"}, "most": {"value": "20 A"}}}},
        "parts": {
            "a-first-aerial": {"class": "aerial"},
            "old-lamps": {"class": "lamps", "takes": {"load": "15 A"}},
            "new-lamps": {"class": "lamps", "takes": {"load": "25 A"}},
            "plain-radio": {"class": "radio", "needs": {"gain": "present"}},
            "valve-amplifier": {"class": "amplifier", "takes": {"load": "10 A"}, "offers": {"gain": "present"}},
            "relay-20": {"class": "relay", "price": "3 USD", "offers": {"relay": "20 A"}},
            "relay-30": {"class": "relay", "offers": {"relay": "30 A"}},
        },
        "vehicle": {"positions": {"lamps": {"as_found": "old-lamps"}, "radio": {}}},
    })
}

#[test]
fn the_part_that_was_chosen_asks() {
    let a = Least::new(lamps()).convert("lamps", "new-lamps").assess();
    assert_eq!(companions(&a), ["need:lamps:new-lamps:relay: 1 relay-30"]);
}

#[test]
fn a_companion_that_breaks_it_asks() {
    let a = Least::new(lamps()).convert("radio", "plain-radio").assess();
    assert_eq!(
        companions(&a),
        ["need:radio:plain-radio:gain: 1 valve-amplifier", "need:radio:valve-amplifier:relay: 1 relay-30"]
    );
    let told: String =
        a.companions.iter().flat_map(|c| because(&a, c.reason, crate::showing::Measure::Metric)).collect();
    assert!(told.contains("valve-amplifier needs relay, 30 A") && !told.contains("aerial"), "{told}");
}

/// Who gave is taken off, nobody takes, and no part the limit reads is left: it is a clash like another.
#[test]
fn where_nobody_is_there_to_ask_it_is_a_clash() {
    let mut json = lamps();
    json["limits"]["feed"]["calc"] = json!("at-least");
    json["limits"]["feed"]["inputs"] = json!({"have": {"pool": "load"}, "want": {"value": "5 A"}});
    json["parts"]["old-lamps"] = json!({"class": "lamps", "gives": {"load": "15 A"}});
    let a = Least::new(json).choose("lamps", Route::LeaveOff).assess();
    assert_eq!((clashes(&a), companions(&a)), (vec!["limit:feed".to_owned()], Vec::new()));
}

/// What would clear it offers enough: a relay for less is none.
#[test]
fn what_would_clear_it_offers_what_the_limit_asks_for() {
    let mut json = lamps();
    json["classes"]["relay"] = json!({});
    json["vehicle"]["positions"]["relay"] = json!({"as_found": "relay-20"});
    let a = Least::new(json).convert("lamps", "new-lamps").choose("relay", Route::Keep).assess();
    let choices: Vec<_> = a.clashes[0].remedies.iter().filter_map(|r| r.choice.clone()).collect();
    assert_eq!(choices, [("relay".to_owned(), "relay-30".to_owned())]);
}
