//! A gearbox with a drive for a speedometer, on a vehicle that says what its clutch meets, and nothing of a drive.

use serde_json::{Value as Json, json};

use super::super::least::{Least, merge, open};
use crate::showing::Measure;

fn gearbox(more: Json) -> Least {
    let mut library = json!({
        "port_types": {"drive": {}, "face": {}},
        "parts": {
            "engine": {"class": "motor", "ports": {"back": "face"}},
            "new-gearbox": {"class": "gearbox", "ports": {"front": "face", "speedo": {"type": "drive", "alone": "required"}}},
            "old-gearbox": {"class": "gearbox", "ports": {"front": "face"}},
        },
        "vehicle": {
            "positions": {"gearbox": "old-gearbox", "motor": "engine"},
            "joints": {"clutch": ["gearbox.front", "motor.back"]},
        },
    });
    merge(&mut library, more);
    Least::new(library)
}

#[test]
fn what_must_be_served_and_nobody_says_by_what_is_to_be_looked_at() {
    let a = gearbox(json!({})).convert("gearbox", "new-gearbox").assess();
    assert_eq!(open(&a), ["port:gearbox:speedo"]);
    assert_eq!(a.to_measure[0].what.say(Measure::Metric), "what joins the drive of the new-gearbox");
    assert_eq!(a.to_measure[0].positions, ["gearbox"]);
    let told = crate::explain::measure_line(&a, &a.to_measure[0], Measure::Metric);
    assert_eq!(told, "nothing on this vehicle is known to join the drive of the new-gearbox");
}

#[test]
fn a_port_that_may_stay_open_is_not_told() {
    let fine = json!({"parts": {"new-gearbox": {"ports": {"speedo": {"alone": "fine"}}}}});
    assert!(open(&gearbox(fine).convert("gearbox", "new-gearbox").assess()).is_empty());
}

#[test]
fn what_was_found_there_has_it_too_and_works() {
    let found =
        json!({"parts": {"old-gearbox": {"ports": {"speedo": {"type": "drive", "alone": "required"}}}}});
    assert!(open(&gearbox(found).convert("gearbox", "new-gearbox").assess()).is_empty());
    let kept = json!({"vehicle": {"positions": {"gearbox": {"as_found": "new-gearbox"}}}});
    assert!(open(&gearbox(kept).choose("gearbox", crate::sheet::Route::Renew).assess()).is_empty());
}

#[test]
fn a_joint_says_what_it_meets_and_a_place_without_any_says_nothing() {
    let met = json!({
        "parts": {"old-clock": {"class": "clock", "ports": {"back": "drive"}}},
        "vehicle": {"positions": {"clock": "old-clock"}, "joints": {"speed": ["gearbox.speedo", "clock.back"]}},
    });
    assert!(open(&gearbox(met).convert("gearbox", "new-gearbox").assess()).is_empty());
    let silent = json!({"vehicle": {"joints": {"clutch": {"ends": ["motor.back"]}}}});
    assert!(open(&gearbox(silent).convert("gearbox", "new-gearbox").assess()).is_empty());
}
