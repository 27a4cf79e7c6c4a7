//! What is kept though it is older than its kind lasts is renewed; where its date leaves that open, it is to be read.

use serde_json::json;

use super::super::least::{Least, clashes, companions, later, open};
use crate::explain::because;
use crate::sheet::{Route, Verdict};

/// A hose that hurts people when it bursts, a seal that does not, and fluid in both; none lasts for ever.
fn old_cart() -> Least {
    Least::new(json!({
        "classes": {
            "hose": {"lasts": {"time": "10 years", "read": "printed on the rubber", "why": "rubber hardens"}},
            "seal": {"lasts": {"time": "10 years"}},
            "fluid": {"free": true, "lasts": {"time": "2 years", "safety": true, "read": "tag on the reservoir"}},
        },
        "figures": {"container": {"kind": "volume"}},
        "parts": {
            "old-hose": {"class": "hose", "safety": true},
            "old-seal": {"class": "seal"},
            "tin": {"class": "fluid", "figures": {"container": "1 L"}},
        },
        "vehicle": {
            "positions": {"hose": {"as_found": "old-hose"}, "seal": {"as_found": "old-seal"}},
            "circuits": {"brakes": {"fluid": "fluid", "capacity": "1 L", "positions": ["hose"]}},
        },
    }))
    // the survey is asked about elsewhere
    .survey("hose", Verdict::Good)
}

#[test]
fn what_is_over_its_age_is_renewed_and_required_where_people_depend_on_it() {
    let a = old_cart().made("hose", "1966").made("seal", "1966").assess();
    assert_eq!(
        companions(&a),
        ["fluid:fluid: 1 tin", "age:hose: 1 old-hose", "age:seal: 1 old-seal (advised)"]
    );
    let hose = a.companions.iter().find(|c| c.key == "age:hose").unwrap();
    let because = because(&a, hose.reason, crate::showing::Measure::Metric);
    assert_eq!(
        because[0],
        "hose: old-hose of 1966 is at least 59 years old and lasts 10 years: rubber hardens"
    );
    assert_eq!(hose.cause.as_deref(), Some("hose"));
}

#[test]
fn a_year_is_any_day_of_it() {
    // ten years after some days of 2016 are over on 1 March 2026, after others not yet
    let told = |made: &str| {
        let a = old_cart().made("hose", made).assess();
        (companions(&a).len(), open(&a), later(&a))
    };
    assert_eq!(told("2015"), (2, vec![], vec![]));
    assert_eq!(told("2016"), (0, vec!["age:hose".to_owned()], vec![]));
    assert_eq!(told("2016-02"), (2, vec![], vec![]));
    assert_eq!(told("2016-02-28"), (2, vec![], vec![]));
    // on its last day it is not over
    assert_eq!(told("2016-03-01"), (0, vec![], vec!["by 2026-03-01: new hose [hose]".to_owned()]));
    assert_eq!(told("2017"), (0, vec![], vec!["by 2027-01-01: new hose [hose]".to_owned()]));
    let a = old_cart().made("hose", "2016").assess();
    assert_eq!(
        a.to_measure[0].what.say(crate::showing::Measure::Metric),
        "date of hose (printed on the rubber)"
    );
    // another day, another answer; the same sheet
    assert_eq!(companions(&old_cart().made("hose", "2016").on("2026-12-31").assess()).len(), 0);
    assert_eq!(companions(&old_cart().made("hose", "2016").on("2027-01-01").assess()).len(), 2);
}

#[test]
fn what_has_no_date_says_nothing_unless_people_depend_on_it_and_nobody_looked() {
    let a = old_cart().assess();
    assert!(companions(&a).is_empty() && open(&a).is_empty() && later(&a).is_empty());
    let mut unseen = old_cart();
    unseen.sheet.survey.clear();
    assert_eq!(open(&unseen.assess()), ["age:hose"]);
    // read, it is answered
    assert!(open(&unseen.clone().made("hose", "2024").assess()).is_empty());
    // renewed or left off as well
    assert!(open(&unseen.clone().choose("hose", Route::Renew).assess()).is_empty());
    assert!(open(&unseen.choose("hose", Route::LeaveOff).assess()).is_empty());
}

#[test]
fn survey_and_age_make_one_renewal() {
    let a = old_cart().made("hose", "1966").survey("hose", Verdict::Renew).assess();
    assert_eq!(companions(&a), ["fluid:fluid: 1 tin", "survey:hose: 1 old-hose"]);
    let because = because(&a, a.companions[1].reason, crate::showing::Measure::Metric);
    assert!(because[0].starts_with("the survey says renew") && because.iter().any(|s| s.contains("of 1966")));
    // as strong as the stronger: people depend on the hose, and on the age of the seal nobody does
    let a = old_cart().made("seal", "1966").survey("seal", Verdict::Renew).assess();
    assert_eq!(companions(&a), ["survey:seal: 1 old-seal (advised)"]);
}

#[test]
fn a_place_that_is_renewed_converted_or_rebuilt_has_answered_its_age() {
    let old = old_cart().made("hose", "1966").made("brakes", "2026-01");
    for route in [Route::Renew, Route::Rebuild, Route::LeaveOff] {
        let a = old.clone().choose("hose", route).assess();
        assert!(!companions(&a).iter().any(|c| c.starts_with("age:")), "{route:?}");
    }
    // kept and cleaned it is as old as before
    for route in [Route::Keep, Route::Clean] {
        let a = old.clone().choose("hose", route).assess();
        assert!(companions(&a).iter().any(|c| c.starts_with("age:")), "{route:?}");
    }
}

#[test]
fn left_out_it_opens_nothing_and_says_what_can_happen() {
    let a = old_cart().made("hose", "1966").waive("age:hose").assess();
    assert_eq!(companions(&a), ["age:hose: 1 old-hose"]);
    assert!(a.companions[0].danger.is_some());
    // nobody depends on the seal
    let a = old_cart().made("seal", "1966").waive("age:seal").assess();
    assert_eq!(a.companions[0].danger, None);
}

#[test]
fn fluid_over_its_age_is_filled_anew() {
    let a = old_cart().made("brakes", "2024-01").assess();
    assert_eq!(companions(&a), ["fluid:fluid: 1 tin"]);
    assert!(
        because(&a, a.companions[0].reason, crate::showing::Measure::Metric)[1]
            .contains("at least 2 years old and lasts 2 years")
    );
    // known too little
    assert_eq!(open(&old_cart().made("brakes", "2024").assess()), ["fluid-age:brakes"]);
    // not yet
    let a = old_cart().made("brakes", "2024-05").assess();
    assert_eq!(later(&a), ["by 2026-05-01: new brakes: fluid [hose]"]);
    // filled anew by the plan, its old date is nothing any more
    let a = old_cart().made("brakes", "2024-05").choose("hose", Route::Renew).assess();
    assert!(later(&a).is_empty());
    // where nothing of the circuit is left there is none
    assert!(
        companions(&old_cart().made("brakes", "2020").choose("hose", Route::LeaveOff).assess()).is_empty()
    );
}

#[test]
fn what_was_bought_has_the_day_it_was_fitted_on() {
    let plan = old_cart().made("hose", "1966").made("brakes", "2026-01").choose("hose", Route::Renew);
    assert!(later(&plan.clone().fitted("old-hose", None).assess()).is_empty());
    let told = |day| later(&plan.clone().fitted("old-hose", Some(day)).assess());
    assert_eq!(told("2026-02-03"), ["by 2036-02-03: new hose [hose]"]);
    assert_eq!(told("2010"), ["due since 2020-01-01: new hose [hose]"]);
    let filled = plan.fitted("tin", Some("2026-02-03"));
    assert_eq!(later(&filled.assess()), ["by 2028-02-03: new brakes: fluid [hose] with fluid:fluid"]);
}

#[test]
fn without_a_day_age_says_nothing() {
    let mut cart = old_cart().made("hose", "1966").made("seal", "2016").made("brakes", "2020");
    cart.sheet.survey.clear();
    cart.catalogue.as_of = None;
    let a = cart.assess();
    assert!(companions(&a).is_empty() && open(&a).is_empty() && later(&a).is_empty());
}

#[test]
fn a_date_that_is_none_or_to_come_is_told_and_left_out() {
    let problems = |place: &str, date: &str| {
        let cart = old_cart().made(place, date);
        let told = crate::strangers::strangers(&cart.sheet, super::super::least::PLAN, &cart.catalogue);
        let a = super::super::assess(&cart.sheet, super::super::least::PLAN, &cart.catalogue);
        assert!(companions(&a).is_empty(), "{place} {date}");
        assert_eq!(told.len(), a.problems.len());
        told.into_iter().map(|s| format!("{}: {}", s.path, s.message)).collect::<Vec<_>>()
    };
    assert_eq!(
        problems("hose", "2066"),
        ["made.hose: 2066 is after 2026-03-01, the day of this assessment; nothing is said of its age"]
    );
    assert!(problems("hose", "May 66")[0].starts_with("made.hose: expected a year, a month or a day"));
    assert!(
        problems("house", "1966")[0].contains("no position and no circuit \"house\"; did you mean \"hose\"")
    );
}

/// A hose over its age is no way out of a clash.
#[test]
fn what_is_over_its_age_clears_no_clash() {
    let with = |made: Option<&str>| {
        let cart = Least::new(json!({
            "classes": {"pump": {}, "hose": {"lasts": {"time": "10 years"}}},
            "port_types": {"barb": {"fields": {"bore": {"kind": "length", "rule": "equal"}}}},
            "parts": {
                "old-pump": {"class": "pump", "ports": {"out": {"type": "barb", "fields": {"bore": "8 mm"}}}},
                "wide-pump": {"class": "pump", "ports": {"out": {"type": "barb", "fields": {"bore": "9 mm"}}}},
                "old-hose": {"class": "hose", "ports": {"in": {"type": "barb", "fields": {"bore": "8 mm"}}}},
                "far-hose": {"class": "hose", "ports": {"in": {"type": "barb", "fields": {"bore": "7 mm"}}}},
            },
            "vehicle": {
                "positions": {"pump": {"as_found": "wide-pump"}, "hose": {"as_found": "old-hose"}},
                "joints": {"feed": {"ends": [{"at": "pump", "port": "out"}, {"at": "hose", "port": "in"}]}},
            },
        }));
        let cart = cart.convert("pump", "old-pump").convert("hose", "far-hose");
        let a = made.map_or_else(|| cart.clone(), |made| cart.clone().made("hose", made)).assess();
        assert_eq!(clashes(&a), ["joint:feed"]);
        a.clashes[0].remedies.iter().map(|r| r.text.say(crate::showing::Measure::Metric)).collect::<Vec<_>>()
    };
    assert_eq!(with(None), ["keep old-hose as hose"]);
    assert!(with(Some("1966"))[0].starts_with("only old-hose would, over its age at hose"));
}
