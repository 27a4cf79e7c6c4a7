//! What shows at a place: a clash at its first place and at each that the plan changes; a verdict of the survey as long as
//! what it saw is there.

use serde_json::json;

use super::super::least::Least;
use crate::sheet::{Route, Verdict};

/// A pump and a hose as found, and others of another size.
fn pump() -> Least {
    let pump = |size: &str| json!({"class": "pump", "ports": {"outlet": size}});
    let hose = |size: &str| json!({"class": "hose", "ports": {"end": size}});
    Least::new(json!({
        "parts": {"new-hose": hose("1/4"), "new-pump": pump("5/16"), "old-hose": hose("3/8"), "small-hose": hose("5/16"), "old-pump": pump("3/8")},
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": "old-pump"},
            "joints": {"fuel": ["hose.end", "pump.outlet"]},
        },
    }))
}

#[test]
fn a_clash_shows_at_its_first_place_and_where_the_plan_changes_something() {
    let shows = |least: Least| {
        let a = least.assess();
        a.positions.into_iter().filter(|p| !p.clashes.is_empty()).map(|p| p.id).collect::<Vec<_>>()
    };
    assert_eq!(shows(pump().convert("hose", "new-hose").choose("pump", Route::Keep)), ["hose"]);
    assert_eq!(shows(pump().choose("hose", Route::Keep).convert("pump", "new-pump")), ["hose", "pump"]);
}

#[test]
fn a_verdict_stands_until_the_part_is_rebuilt_renewed_or_gone() {
    let stands = |least: Least| {
        let a = least.survey("pump", Verdict::Renew).assess();
        a.positions.iter().any(|p| p.verdict_stands)
    };
    assert!(stands(pump()));
    for route in [Route::Keep, Route::Clean] {
        assert!(stands(pump().choose("pump", route)));
    }
    for route in [Route::Rebuild, Route::Renew, Route::LeaveOff] {
        assert!(!stands(pump().choose("pump", route)));
    }
    assert!(!stands(pump().convert("pump", "new-pump")));
    // nor where the plan itself exchanges it
    let a = pump().survey("hose", Verdict::Renew).convert("pump", "new-pump").assess();
    assert!(a.positions.iter().all(|p| !p.verdict_stands));
}
