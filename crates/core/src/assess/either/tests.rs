//! Joints of which one is enough: a drop arm moves a bell-crank, or a one-piece link.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions, fitted};
use crate::sheet::Verdict;

/// The steering of a cart whose drop arm has an old ball and moves a bell-crank; a link can take its place.
fn steering(either: Json) -> Least {
    let ball = |size: &str, alone: &str| json!({"type": "ball", "alone": alone, "fields": {"taper": size}});
    let end = |at: &str, port: &str| json!({"at": at, "port": port});
    let joint = |a: Json, b: Json| {
        let mut joint = json!({"ends": [a, b]});
        if either.is_string() {
            joint["either"] = either.clone();
        }
        joint
    };
    Least::new(json!({
        "classes": ["arm", "crank", "link"],
        "port_types": {"ball": {"fields": {"taper": {"kind": "length", "rule": "equal", "within": "0.5 mm"}}}},
        "parts": {
            "old-arm": {"class": "arm", "ports": {"ball": ball("18 mm", "required")}},
            "box-arm": {"class": "arm", "ports": {"ball": ball("22 mm", "required")}},
            "old-crank": {"class": "crank", "ports": {"in": ball("18 mm", "surplus")}},
            "new-crank": {"class": "crank", "price": "30.00 USD", "ports": {"in": ball("22 mm", "surplus")}},
            "wide-link": {"class": "link", "price": "90.00 USD", "ports": {"end": ball("22 mm", "fine")}},
            "slim-link": {"class": "link", "price": "80.00 USD", "ports": {"end": ball("18 mm", "fine")}},
        },
        "vehicle": {
            "positions": {"arm": {"as_found": "old-arm"}, "crank": {"as_found": "old-crank"}, "link": {}},
            "joints": {
                "arm-to-crank": joint(end("arm", "ball"), end("crank", "in")),
                "arm-to-link": joint(end("arm", "ball"), end("link", "end")),
            },
        },
    }))
}

/// The arm of a power box and the link that suits it: the bell-crank has nothing left to do, and no other is bought for it.
#[test]
fn what_is_served_one_way_wants_nothing_the_other_way() {
    let a = steering(json!("drag link")).convert("arm", "box-arm").convert("link", "wide-link").assess();
    assert_eq!((companions(&a), clashes(&a)), (vec![], vec![]));
    assert_eq!(fitted(&a, "crank"), None);
    assert!(a.surplus.iter().any(|s| s.position == "crank" && s.lost_job));
}

/// The same two joints, and nobody says that one is enough: the plan buys the bell-crank that the link replaces.
#[test]
fn without_the_word_both_are_served() {
    let a = steering(Json::Null).convert("arm", "box-arm").convert("link", "wide-link").assess();
    assert_eq!(fitted(&a, "crank").as_deref(), Some("new-crank"));
}

/// A link for the empty place takes off no sound part, and another crank does: the link goes in though it costs more. Where
/// the survey says that the crank is worn, the cheaper of the two goes in.
#[test]
fn where_none_serves_the_one_goes_in_that_takes_off_no_sound_part_then_the_cheaper() {
    let plan = steering(json!("drag link")).convert("arm", "box-arm");
    let a = plan.assess();
    assert_eq!((companions(&a), clashes(&a)), (vec!["position:link: 1 wide-link".to_owned()], vec![]));
    assert_eq!(fitted(&a, "crank"), None);
    let a = plan.survey("crank", Verdict::Watch).assess();
    assert_eq!((companions(&a), clashes(&a)), (vec!["position:crank: 1 new-crank".to_owned()], vec![]));
    assert_eq!(fitted(&a, "link"), None);
}

/// A crank that the owner keeps and a link too slim: one clash, with what clears it either way.
#[test]
fn where_nothing_closes_any_of_them_that_is_one_clash() {
    let plan = steering(json!("drag link")).convert("arm", "box-arm").convert("link", "slim-link");
    let a = plan.choose("crank", crate::sheet::Route::Keep).assess();
    assert_eq!(clashes(&a), ["joint:arm-to-crank"]);
    let cures = a.clashes[0].remedies.iter().filter_map(|r| r.choice.clone());
    let cures: Vec<String> = cures.map(|(position, part)| format!("{position}: {part}")).collect();
    assert_eq!(cures, ["arm: old-arm", "crank: new-crank", "link: wide-link"]);
}

/// A crank and a link that both fit: the owner chose the link, so the crank has nothing left to do.
#[test]
fn what_was_chosen_goes_before_what_still_fits() {
    let a = steering(json!("drag link")).convert("link", "slim-link").assess();
    assert_eq!((companions(&a), clashes(&a)), (vec![], vec![]));
    assert_eq!(fitted(&a, "crank"), None);
    let plan = steering(json!("drag link")).convert("link", "slim-link");
    let a = plan.choose("crank", crate::sheet::Route::Keep).assess();
    assert_eq!((clashes(&a), fitted(&a, "crank").as_deref()), (vec![], Some("old-crank")));
}

/// The link that the owner chose does not fit the arm he keeps: the crank that is there still is no answer to that.
#[test]
fn what_was_chosen_and_does_not_fit_is_a_clash_though_what_was_there_fits() {
    let plan = steering(json!("drag link")).convert("link", "wide-link");
    let a = plan.choose("arm", crate::sheet::Route::Keep).assess();
    assert_eq!(clashes(&a), ["joint:arm-to-link"]);
    let a = steering(json!("drag link")).choose("arm", crate::sheet::Route::Keep).assess();
    assert_eq!((clashes(&a), fitted(&a, "crank").as_deref()), (vec![], Some("old-crank")));
}
