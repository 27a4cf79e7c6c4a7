//! A joint is looked at when a part at one of its ends changed; what does not agree is bridged, else a part that follows is
//! exchanged, else it is a clash.

mod alone;
mod belt;
mod gives_way;

use serde_json::json;

use super::super::least::{Least, answer, clashes, companions, fitted, remedies};
use crate::sheet::Route;

/// A pump and a hose that never fitted, and another pump of the same size.
fn never_fitted() -> Least {
    Least::new(json!({
        "parts": {
            "old-pump": {"class": "pump", "ports": {"outlet": "flare"}},
            "new-pump": {"class": "pump", "ports": {"outlet": "flare"}},
            "old-hose": {"class": "hose", "ports": {"end": "barb"}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": "old-pump"},
            "joints": {"fuel": ["pump.outlet", "hose.end"]},
        },
    }))
}

#[test]
fn a_joint_between_what_was_found_is_not_looked_at() {
    for route in [Route::Keep, Route::Rebuild, Route::Renew] {
        assert_eq!(answer(&never_fitted().choose("pump", route).assess(), "joint:fuel"), None);
    }
    assert_eq!(answer(&never_fitted().convert("pump", "old-pump").assess(), "joint:fuel"), None);
}

#[test]
fn a_joint_is_looked_at_when_a_part_at_one_of_its_ends_changed() {
    assert_eq!(clashes(&never_fitted().convert("pump", "new-pump").assess()), ["joint:fuel"]);
}
