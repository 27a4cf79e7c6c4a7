//! What the survey condemned, and what is in reach while a place is apart, is renewed; a renewal opens its own place as a
//! chosen one does, and so on until nothing is added.

use serde_json::json;

use super::super::least::{Least, companions, fitted};
use crate::sheet::{Route, Verdict};
use crate::showing::Measure;

/// A hose on a pump.
fn hose() -> Least {
    Least::new(json!({
        "free": ["clip"],
        "port_types": {"barb": {"opened": ["clip"]}},
        "parts": {
            "hose-clip": "clip",
            "new-hose": {"class": "hose", "ports": {"end": "barb"}},
            "old-hose": {"class": "hose", "ports": {"end": "barb"}},
            "old-pump": {"class": "pump", "ports": {"outlet": "barb"}},
        },
        "vehicle": {
            "positions": {"hose": "old-hose", "pump": "old-pump"},
            "joints": {"fuel": ["hose.end", "pump.outlet"]},
        },
    }))
}

#[test]
fn what_the_survey_stopped_is_a_required_renewal_and_opens_its_joints() {
    let a = hose().survey("hose", Verdict::Stop).assess();
    assert_eq!(companions(&a), ["joint:fuel:clip: 1 hose-clip", "survey:hose: 1 old-hose"]);
}

#[test]
fn what_it_would_renew_is_an_advised_one_and_so_is_what_that_opens() {
    let a = hose().survey("hose", Verdict::Renew).assess();
    assert_eq!(
        companions(&a),
        ["joint:fuel:clip: 1 hose-clip (advised)", "survey:hose: 1 old-hose (advised)"]
    );
}

#[test]
fn what_it_would_renew_is_required_where_people_can_be_hurt() {
    let level = |safety: bool| {
        let least = Least::new(json!({
            "parts": {"old-tray": {"class": "tray", "safety": safety}},
            "vehicle": {"positions": {"tray": "old-tray"}},
        }));
        companions(&least.survey("tray", Verdict::Renew).assess())
    };
    assert_eq!(level(true), ["survey:tray: 1 old-tray"]);
    assert_eq!(level(false), ["survey:tray: 1 old-tray (advised)"]);
}

#[test]
fn what_is_good_or_watched_is_left() {
    for verdict in [Verdict::Good, Verdict::Watch] {
        assert!(companions(&hose().survey("hose", verdict).assess()).is_empty());
    }
}

#[test]
fn keeping_does_not_answer_the_survey_and_another_part_does() {
    let stopped = || hose().survey("hose", Verdict::Stop);
    for route in [Route::Keep, Route::Clean] {
        assert!(
            companions(&stopped().choose("hose", route).assess())
                .contains(&"survey:hose: 1 old-hose".to_owned())
        );
    }
    for least in [stopped().choose("hose", Route::Renew), stopped().convert("hose", "new-hose")] {
        assert_eq!(companions(&least.assess()), ["joint:fuel:clip: 1 hose-clip"]);
    }
}

#[test]
fn a_renewal_that_is_left_out_opens_nothing() {
    let a = hose().survey("hose", Verdict::Stop).waive("survey:hose").assess();
    assert_eq!(companions(&a), ["survey:hose: 1 old-hose"]);
}

/// While the pump is off the belt is in reach, and while the belt is off its tensioner is.
fn timing(belt: &str) -> Least {
    Least::new(json!({
        "openings": {
            "belt-off": {"classes": ["belt"], "wants": ["tensioner"]},
            "pump-off": {"classes": ["pump"], "wants": [{"class": "belt", "level": belt}]},
        },
        "parts": {"new-belt": "belt", "old-belt": "belt", "old-pump": "pump", "old-tensioner": "tensioner"},
        "vehicle": {"positions": {"belt": "old-belt", "pump": "old-pump", "tensioner": "old-tensioner"}},
    }))
    .choose("pump", Route::Renew)
}

#[test]
fn what_is_in_reach_is_renewed_in_its_place_round_after_round() {
    let a = timing("required").assess();
    assert_eq!(companions(&a), ["beside:belt: 1 old-belt", "beside:tensioner: 1 old-tensioner"]);
    assert_eq!(fitted(&a, "belt").as_deref(), Some("old-belt"));
    assert!(companions(&timing("required").choose("pump", Route::Keep).assess()).is_empty());
}

#[test]
fn what_only_advice_takes_apart_is_advised() {
    assert_eq!(
        companions(&timing("advised").assess()),
        ["beside:belt: 1 old-belt (advised)", "beside:tensioner: 1 old-tensioner (advised)"]
    );
}

#[test]
fn a_renewal_beside_that_is_left_out_opens_nothing() {
    assert_eq!(companions(&timing("required").waive("beside:belt").assess()), ["beside:belt: 1 old-belt"]);
}

#[test]
fn what_the_owner_chose_and_what_is_new_is_not_renewed_beside() {
    assert!(companions(&timing("required").choose("belt", Route::Keep).assess()).is_empty());
    assert_eq!(
        companions(&timing("required").convert("belt", "new-belt").assess()),
        ["beside:tensioner: 1 old-tensioner"]
    );
}

#[test]
fn what_is_not_for_sale_or_not_there_is_not_renewed_beside() {
    let reach = |old_belt: Option<&str>| {
        let a = Least::new(json!({
            "openings": {"pump-off": {"classes": ["pump"], "wants": ["belt"]}},
            "parts": {
                "belt-of-a-wreck": {"class": "belt", "price": null}, "old-belt": "belt", "old-pump": "pump",
            },
            "vehicle": {"positions": {"belt": old_belt, "pump": "old-pump"}},
        }))
        .choose("pump", Route::Renew)
        .assess();
        companions(&a)
    };
    assert_eq!(reach(Some("old-belt")), ["beside:belt: 1 old-belt"]);
    assert!(reach(Some("belt-of-a-wreck")).is_empty());
    assert!(reach(None).is_empty());
}

#[test]
fn what_the_survey_says_goes_before_what_is_in_reach() {
    let a = timing("required").survey("belt", Verdict::Renew).assess();
    assert_eq!(companions(&a), ["beside:tensioner: 1 old-tensioner", "survey:belt: 1 old-belt"]);
}

/// Condemned, and met on another old vehicle only: it is no thing to buy, and what would go there is told.
#[test]
fn what_is_condemned_and_not_for_sale_is_nothing_to_buy() {
    let plan = |new: serde_json::Value| {
        Least::new(json!({
            "classes": {"corners": {"decided": "owner"}},
            "parts": {
                "old-corners": {"class": "corners", "price": null},
                "new-corners": {"class": "corners", "price": new},
            },
            "vehicle": {"positions": {"corners": "old-corners"}},
        }))
        .survey("corners", Verdict::Renew)
        .assess()
    };
    let reason = |a: &crate::Assessment| crate::explain::because(a, a.companions[0].reason, Measure::Inch);
    let a = plan(json!("380.00 USD"));
    assert_eq!(companions(&a), ["survey:corners: 1 old-corners (advised)"]);
    assert!(a.buy.is_empty() && a.totals.unpriced == 0 && !a.companions[0].to_be_had, "{:?}", a.buy);
    let told = reason(&a)[0].clone();
    assert!(told.ends_with("; the same is not for sale: new-corners go here"), "{told}");
    let told = reason(&plan(json!(null)))[0].clone();
    assert!(told.ends_with("; the same is not for sale: choose another part or route here"), "{told}");
}
