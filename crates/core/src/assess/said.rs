//! What is said of a finding is true: "any more" only of what was there, and no way out only where there is none.

use serde_json::{Value as Json, json};

use super::least::{Least, clashes};
use crate::explain::half_line;
use crate::sheet::Route;

/// A tachometer driven by the dynamo; an alternator has no drive for it. The owner keeps the tachometer.
fn tachometer(alone: &str) -> Json {
    let drive = json!({"type": "drive"});
    json!({
        "classes": ["generator", "tachometer"],
        "port_types": {"drive": {"name": "tachometer drive"}},
        "parts": {
            "dynamo": {"name": "Dynamo, 22 A", "class": "generator", "ports": {"drive": drive}},
            "alternator": {"class": "generator"},
            "dial": {"name": "Tachometer", "class": "tachometer", "ports": {"drive": {"type": "drive", "alone": alone}}},
            "new-dial": {"name": "Wide tachometer", "class": "tachometer", "ports": {"drive": {"type": "drive", "alone": alone}}},
        },
        "vehicle": {
            "positions": {"generator": {"as_found": "dynamo"}, "tachometer": {"as_found": "dial"}},
            "joints": {"drive": {"ends": [{"at": "generator", "port": "drive"}, {"at": "tachometer", "port": "drive"}]}},
        },
    })
}

fn why(least: &Least) -> String {
    let a = least.assess();
    half_line(&a, a.clashes[0].reason, crate::showing::Measure::Metric)
}

#[test]
fn any_more_is_said_of_what_was_there_before() {
    let kept = Least::new(tachometer("required"))
        .convert("generator", "alternator")
        .choose("tachometer", Route::Keep);
    let nothing = "has nothing on its tachometer drive";
    assert_eq!(why(&kept), format!("the tachometer {nothing} any more: the dynamo is off"));
    let new = Least::new(tachometer("required"))
        .convert("generator", "alternator")
        .convert("tachometer", "new-dial");
    assert_eq!(why(&new), format!("the wide tachometer {nothing}: the dynamo is off"));
    // nothing ever hung there
    let mut json = tachometer("required");
    json["vehicle"]["positions"]["generator"] = json!({});
    let none = Least::new(json).choose("generator", Route::LeaveOff).convert("tachometer", "new-dial");
    assert_eq!(why(&none), format!("the wide tachometer {nothing}"));
}

fn ways_out(least: &Least) -> Vec<String> {
    let a = least.assess();
    assert_eq!(clashes(&a).len(), 1, "{:?}", clashes(&a));
    a.clashes[0].remedies.iter().map(|r| r.text.say(crate::showing::Measure::Metric)).collect()
}

/// A port that wants a cap there is none for: what hung there may come back, though nobody sells it.
#[test]
fn what_was_there_is_a_way_out_though_nobody_sells_it() {
    let mut json = tachometer("cap");
    json["parts"]["dynamo"]["price"] = Json::Null;
    let least = Least::new(json).convert("generator", "alternator");
    assert_eq!(ways_out(&least), ["keep Dynamo, 22 A as generator"]);
}

/// More is taken than is given: a larger giver is a way out, and where there is none that is said. The generator is the
/// owner's to choose.
#[test]
fn a_larger_giver_clears_what_is_overdrawn() {
    let json = |large: &str| {
        json!({
            "classes": {"generator": {"decided": "owner"}, "lamps": {}},
            "pools": {"load": {"kind": "current"}},
            "parts": {
                "dynamo": {"class": "generator", "gives": {"load": "22 A"}},
                "alternator": {"class": "generator", "gives": {"load": large}},
                "old-lamps": {"class": "lamps", "price": null, "takes": {"load": "40 A"}},
                "bright-lamps": {"class": "lamps", "takes": {"load": "40 A"}},
            },
            "vehicle": {"positions": {"generator": {"as_found": "dynamo"}, "lamps": {"as_found": "old-lamps"}}},
        })
    };
    let plan = |large| Least::new(json(large)).convert("lamps", "bright-lamps");
    assert_eq!(ways_out(&plan("65 A")), ["fit alternator as generator"]);
    assert_eq!(
        ways_out(&plan("30 A")),
        [super::view::nothing_clears(super::bench::Cure::Pool(crate::catalogue::Id::new(0)))]
    );
}

/// Nobody supplies what a part needs: one that does not need it is a way out.
#[test]
fn a_part_that_does_not_ask_clears_a_need() {
    let json = json!({
        "classes": ["pump"],
        "needs": {"cutoff": {"kind": "present"}},
        "parts": {
            "old-pump": {"class": "pump", "price": null},
            "electric": {"class": "pump", "needs": {"cutoff": "present"}},
            "mechanical": {"class": "pump", "price": "90 USD"},
        },
        "vehicle": {"positions": {"pump": {"as_found": "old-pump"}}},
    });
    let told = ways_out(&Least::new(json).convert("pump", "electric"));
    assert_eq!(told, ["fit mechanical as pump", "keep old-pump as pump"]);
}
