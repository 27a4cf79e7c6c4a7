//! A finding rests on choices, parts as found, verdicts of the survey and measured values, each known by its id.

use serde_json::json;

use super::super::least::Least;
use crate::assessment::Assessment;
use crate::reason::ReasonId;
use crate::sheet::Verdict;

/// A pump feeds a carburettor over a hose; the carburettor stands under a bonnet.
fn fuel() -> Least {
    Least::new(json!({
        "classes": ["pump", "carburettor", "hose"],
        "figures": {"height": {"kind": "length"}, "room": {"kind": "length"}},
        "port_types": {"feed": {"fields": {"bore": {"kind": "length", "rule": "equal"}}}},
        "limits": {
            "bonnet": {
                "calc": "at-most",
                "inputs": {"have": {"class": "carburettor", "figure": "height"}, "most": {"fact": "room"}},
            },
        },
        "parts": {
            "old-pump": {"class": "pump", "ports": {"out": {"type": "feed", "fields": {"bore": "8 mm"}}}},
            "old-carburettor": {"class": "carburettor", "figures": {"height": "90 mm"}, "ports": {"in": {"type": "feed", "fields": {"bore": "8 mm"}}}},
            "tall": {"class": "carburettor", "figures": {"height": "130 mm"}, "ports": {"in": {"type": "feed", "fields": {"bore": "8 mm"}}}},
            "old-hose": {"class": "hose"},
        },
        "vehicle": {
            "positions": {
                "pump": {"as_found": "old-pump"},
                "carburettor": {"as_found": "old-carburettor"},
                "hose": {"as_found": "old-hose"},
            },
            "joints": {"feed": {"ends": [{"at": "pump", "port": "out"}, {"at": "carburettor", "port": "in"}]}},
            "facts": {"room": "120 mm"},
        },
    }))
}

fn premises(a: &Assessment, root: ReasonId) -> Vec<String> {
    a.premises(root).iter().map(ToString::to_string).collect()
}

fn of_clash(a: &Assessment, key: &str) -> Vec<String> {
    a.clashes.iter().filter(|c| c.key == key).flat_map(|c| premises(a, c.reason)).collect()
}

#[test]
fn a_limit_rests_on_the_choice_and_on_what_was_measured() {
    let a = fuel().convert("carburettor", "tall").assess();
    assert_eq!(of_clash(&a, "limit:bonnet"), ["chosen:carburettor"], "the room is the library's");
    let a = fuel().convert("carburettor", "tall").measured("room", "110 mm").assess();
    assert_eq!(of_clash(&a, "limit:bonnet"), ["chosen:carburettor", "measured:room"]);
    // of the part that is fitted, not of another
    let measured = fuel().measured("height@tall", "128 mm").measured("height@old-carburettor", "91 mm");
    let a = measured.convert("carburettor", "tall").assess();
    assert_eq!(of_clash(&a, "limit:bonnet"), ["chosen:carburettor", "measured:height@tall"]);
}

#[test]
fn a_joint_rests_on_both_ends_and_on_what_was_measured_there() {
    let a = fuel().convert("carburettor", "tall").measured("out.bore@old-pump", "6 mm").assess();
    let rests_on = ["chosen:carburettor", "as-found:pump", "measured:out.bore@old-pump"];
    assert_eq!(of_clash(&a, "joint:feed"), rests_on);
}

#[test]
fn what_the_survey_condemned_rests_on_its_verdict_and_on_the_part() {
    let a = fuel().survey("hose", Verdict::Stop).assess();
    let hose: Vec<String> = a.companions.iter().flat_map(|c| premises(&a, c.reason)).collect();
    assert_eq!(hose, ["as-found:hose", "survey:hose"]);
    assert!(a.premises(ReasonId(u32::MAX)).is_empty());
}
