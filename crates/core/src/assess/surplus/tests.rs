//! A part has lost its job where every port that was its job hangs alone.

use serde_json::json;

use super::super::least::{Least, companions, fitted};
use crate::sheet::{Route, Verdict};

/// A regulator serves a dynamo; an alternator has no field terminal and needs none.
fn charging() -> Least {
    Least::new(json!({
        "classes": ["dynamo", "regulator"],
        "port_types": {"field": {}},
        "parts": {
            "old-dynamo": {"class": "dynamo", "ports": {"field": {"type": "field"}}},
            "alternator": {"class": "dynamo"},
            "old-regulator": {"class": "regulator", "ports": {"field": {"type": "field", "alone": "surplus"}}},
        },
        "vehicle": {
            "positions": {"dynamo": {"as_found": "old-dynamo"}, "regulator": {"as_found": "old-regulator"}},
            "joints": {"field-wire": {"ends": [{"at": "dynamo", "port": "field"}, {"at": "regulator", "port": "field"}]}},
        },
    }))
}

#[test]
fn a_regulator_without_a_dynamo_goes_to_the_shelf() {
    let a = charging().convert("dynamo", "alternator").assess();
    let shelf: Vec<(&str, bool)> = a.surplus.iter().map(|s| (s.position.as_str(), s.lost_job)).collect();
    assert_eq!(shelf, [("dynamo", false), ("regulator", true)]);
    assert_eq!(fitted(&a, "regulator"), None);
}

#[test]
fn nobody_loses_a_job_that_was_not_taken() {
    let a = charging().convert("dynamo", "old-dynamo").assess();
    assert!(a.surplus.is_empty());
    assert_eq!(fitted(&a, "regulator").as_deref(), Some("old-regulator"));
}

#[test]
fn a_part_keeps_its_job_as_long_as_one_of_its_ports_is_served() {
    let port = || json!({"type": "wire", "alone": "surplus"});
    let a = Least::new(json!({
        "parts": {
            "alternator": {"class": "dynamo"},
            "old-dynamo": {"class": "dynamo", "ports": {"field": "wire"}},
            "old-battery": {"class": "battery", "ports": {"plus": "wire"}},
            "old-regulator": {"class": "regulator", "ports": {"battery": port(), "field": port()}},
        },
        "vehicle": {
            "positions": {"battery": "old-battery", "dynamo": "old-dynamo", "regulator": "old-regulator"},
            "joints": {
                "battery-wire": ["battery.plus", "regulator.battery"],
                "field-wire": ["dynamo.field", "regulator.field"],
            },
        },
    }))
    .convert("dynamo", "alternator")
    .assess();
    assert_eq!(fitted(&a, "regulator").as_deref(), Some("old-regulator"));
}

#[test]
fn what_the_owner_keeps_without_a_job_stays_and_asks_for_nothing() {
    let kept = || charging().choose("regulator", Route::Keep).survey("regulator", Verdict::Stop);
    assert_eq!(companions(&kept().assess()), ["survey:regulator: 1 old-regulator"]);
    let a = kept().convert("dynamo", "alternator").assess();
    assert!(companions(&a).is_empty());
    assert_eq!(fitted(&a, "regulator").as_deref(), Some("old-regulator"));
    assert!(a.surplus.iter().any(|s| s.position == "regulator" && s.lost_job));
}

#[test]
fn what_stays_undone_is_said_where_nothing_takes_its_place() {
    let cover = || {
        Least::new(json!({
            "parts": {
                "new-cover": {"class": "cover"},
                "old-cover": {"class": "cover", "leaves": "the hole in the floor stays open"},
            },
            "vehicle": {"positions": {"cover": "old-cover"}},
        }))
    };
    let said = |least: Least| least.assess().surplus.iter().map(|s| s.leaves.clone()).collect::<Vec<_>>();
    assert_eq!(said(cover().choose("cover", Route::LeaveOff)), ["the hole in the floor stays open"]);
    assert_eq!(said(cover().convert("cover", "new-cover")), [""]);
}
