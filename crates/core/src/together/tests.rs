//! Sets of changes that clear all clashes: what is wished is kept where it can be, one change may clear several, and what is
//! said of a set is so once it is taken.

use std::cell::Cell;

use serde_json::{Value as Json, json};

use super::{Together, together, together_while};
use crate::assess::least::{Least, PLAN, clashes, merge};
use crate::sheet::{Route, Verdict};

fn found(plan: &Least) -> Together {
    together(&plan.sheet, PLAN, &plan.catalogue, &plan.assess())
}

/// Each set as `place: part`, the places given up behind a slash.
fn sets(together: &Together) -> Vec<String> {
    let set = |set: &super::CureSet| {
        let word = |choice: &crate::sheet::Choice| {
            choice.part.clone().unwrap_or_else(|| choice.route.word().to_owned())
        };
        let changes: Vec<String> =
            set.changes.iter().map(|(place, choice)| format!("{place}: {}", word(choice))).collect();
        let gone =
            if set.gives_up.is_empty() { String::new() } else { format!(" / {}", set.gives_up.join(", ")) };
        format!("{}{gone}", changes.join(", "))
    };
    together.sets.iter().map(set).collect()
}

/// Carburettor and cleaner are the owner's, and the wide carburettor he chose does not take the cleaner that is there.
fn necks(more: Json) -> Least {
    let neck = |class: &str, size: &str, price: &str| json!({"class": class, "ports": {"neck": size}, "price": price});
    let mut library = json!({
        "classes": {"carburettor": {"decided": "owner"}, "cleaner": {"decided": "owner"}},
        "parts": {
            "old-carburettor": neck("carburettor", "67-mm", "90.00 USD"), "old-cleaner": neck("cleaner", "67-mm", "30.00 USD"),
            "wide-carburettor": neck("carburettor", "108-mm", "300.00 USD"), "wide-cleaner": neck("cleaner", "108-mm", "48.00 USD"),
        },
        "vehicle": {
            "positions": {"carburettor": "old-carburettor", "cleaner": "old-cleaner"},
            "joints": {"neck": ["carburettor.neck", "cleaner.neck"]},
        },
    });
    merge(&mut library, more);
    Least::new(library).convert("carburettor", "wide-carburettor")
}

#[test]
fn what_keeps_the_wish_goes_before_what_gives_it_up() {
    let found = found(&necks(json!({})));
    assert_eq!(sets(&found), ["cleaner: wide-cleaner", "carburettor: keep / carburettor"]);
    assert!(found.proved && found.sets.iter().all(|set| set.left.is_empty()));
}

/// Another part of the class with all port types and needs of the wished one is the same wish.
#[test]
fn a_part_that_does_the_same_keeps_the_wish() {
    let neck = |size: &str| json!({"neck": {"type": "neck", "fields": {"across": size}}});
    let plan = |needs: Json| {
        Least::new(json!({
            "classes": {"carburettor": {"decided": "owner"}, "cleaner": {"decided": "owner"}},
            "port_types": {"neck": {"fields": {"across": {"kind": "length", "rule": "equal", "within": "1 mm"}}}},
            "parts": {
                "old-cleaner": {"class": "cleaner", "ports": neck("67 mm")},
                "small-carburettor": {"class": "carburettor", "ports": neck("67 mm"), "needs": needs},
                "wide-carburettor": {"class": "carburettor", "ports": neck("108 mm"), "needs": ["spark"]},
            },
            "vehicle": {
                "positions": {"carburettor": null, "cleaner": "old-cleaner"},
                "joints": {"neck": ["carburettor.neck", "cleaner.neck"]},
                "offers": {"spark": "present"},
            },
        }))
        .convert("carburettor", "wide-carburettor")
    };
    assert_eq!(
        sets(&found(&plan(json!(["spark"])))),
        ["carburettor: small-carburettor", "carburettor: keep / carburettor"]
    );
    assert_eq!(
        sets(&found(&plan(json!([])))),
        ["carburettor: keep / carburettor", "carburettor: small-carburettor / carburettor"]
    );
}

/// The lid sits on the cleaner as well: neither clash can be cleared by itself, and one cleaner clears both.
#[test]
fn one_change_may_clear_several() {
    let plan = necks(json!({
        "classes": {"lid": {"decided": "owner"}},
        "parts": {
            "new-lid": {"class": "lid", "ports": {"rim": "wide-rim"}},
            "wide-cleaner": {"ports": {"rim": "wide-rim"}}, "old-cleaner": {"ports": {"rim": "old-rim"}},
        },
        "vehicle": {"positions": {"lid": null}, "joints": {"lid": ["cleaner.rim", "lid.rim"]}},
    }))
    .convert("lid", "new-lid");
    assert_eq!(clashes(&plan.assess()).len(), 2);
    assert_eq!(sets(&found(&plan))[0], "cleaner: wide-cleaner");
}

/// Two clashes that have nothing to do with each other.
fn two_knots() -> Least {
    necks(json!({
        "classes": {"hose": {"decided": "owner"}, "pump": {"decided": "owner"}},
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}}, "old-hose": {"class": "hose", "ports": {"end": "3/8"}},
            "new-hose": {"class": "hose", "ports": {"end": "5/16"}},
        },
        "vehicle": {"positions": {"hose": "old-hose", "pump": null}, "joints": {"fuel": ["pump.outlet", "hose.end"]}},
    }))
    .convert("pump", "new-pump")
}

/// They are cleared by the best of each.
#[test]
fn knots_are_put_together() {
    let found = found(&two_knots());
    assert_eq!(sets(&found)[0], "cleaner: wide-cleaner, hose: new-hose");
}

#[test]
fn what_is_not_wanted_any_more_is_given_up() {
    let plan = necks(json!({}));
    let (a, whole) = (plan.assess(), found(&plan));
    for most in 0.. {
        let asked = Cell::new(0);
        let wanted = || {
            asked.set(asked.get() + 1);
            asked.get() <= most
        };
        match together_while(&plan.sheet, PLAN, &plan.catalogue, &a, &wanted) {
            Some(told) => {
                // it is asked before every assessment, and nothing is told of half a search
                assert!(asked.get() <= most && most >= whole.assessed);
                assert_eq!(told, whole);
                break;
            }
            None => assert!(asked.get() > most),
        }
        assert!(most < 1_000);
    }
}

#[test]
fn what_the_survey_stopped_is_not_kept() {
    let stuck = necks(json!({"parts": {"wide-cleaner": {"price": null}}})).choose("cleaner", Route::Keep);
    let stuck = stuck.survey("carburettor", Verdict::Stop);
    assert_eq!(sets(&found(&stuck)), ["carburettor: leave off / carburettor"]);
}

#[test]
fn without_a_clash_there_is_nothing_to_do() {
    let well = necks(json!({})).convert("cleaner", "wide-cleaner");
    assert_eq!(found(&well), Together { proved: true, ..Together::default() });
}

/// A drop arm moves a bell-crank or a one-piece link. The crank goes and the survey stopped it; the new link takes a ball,
/// and the arm that is there has a pin.
fn drop_arm(more: Json) -> Least {
    let drop = |class: &str, end: &str, price: &str| json!({"class": class, "ports": {"drop": {"type": end, "alone": "required"}}, "price": price});
    let mut library = json!({
        "classes": {"arm": {"decided": "owner"}, "crank": {"decided": "owner"}, "link": {"decided": "owner"}},
        "parts": {
            "old-arm": drop("arm", "pin", "20.00 USD"), "ball-arm": drop("arm", "ball", "60.00 USD"),
            "old-crank": {"class": "crank", "ports": {"drop": "pin"}, "price": null},
            "one-piece-link": {"class": "link", "ports": {"drop": "ball"}, "price": "80.00 USD"},
        },
        "vehicle": {
            "positions": {"arm": "old-arm", "crank": "old-crank", "link": null},
            "joints": {
                "drop-on-crank": {"ends": ["arm.drop", "crank.drop"], "either": "drop"},
                "drop-on-link": {"ends": ["arm.drop", "link.drop"], "either": "drop"},
            },
        },
    });
    merge(&mut library, more);
    Least::new(library).choose("crank", Route::LeaveOff).survey("crank", Verdict::Stop)
}

#[test]
fn two_parts_together_clear_what_neither_does_alone() {
    let found = found(&drop_arm(json!({})));
    assert_eq!(sets(&found), ["arm: ball-arm, link: one-piece-link"]);
    assert!(found.proved && found.sets[0].left.is_empty());
}

/// Where a link for the pin can be had, one change does, and two are not looked at.
#[test]
fn where_one_part_does_no_pair_is_taken() {
    let pin = json!({"class": "link", "ports": {"drop": "pin"}, "price": "300.00 USD"});
    let found = found(&drop_arm(json!({"parts": {"pin-link": pin}})));
    assert_eq!(sets(&found), ["link: pin-link"]);
}

/// The lid does not go on the cleaner that the wide carburettor asks for. The cleaner follows: with another lid the plan
/// puts it in by itself, and that is one change.
#[test]
fn what_is_in_the_way_of_a_part_that_follows_is_changed_and_nothing_else() {
    let plan = necks(json!({
        "classes": {"cleaner": {"decided": "follows"}, "lid": {"decided": "owner"}},
        "parts": {
            "old-lid": {"class": "lid", "ports": {"rim": "old-rim"}}, "wide-lid": {"class": "lid", "ports": {"rim": "wide-rim"}},
            "wide-cleaner": {"ports": {"rim": "wide-rim"}}, "old-cleaner": {"ports": {"rim": "old-rim"}},
        },
        "vehicle": {"positions": {"lid": "old-lid"}, "joints": {"lid": ["cleaner.rim", "lid.rim"]}},
    }));
    let found = found(&plan);
    assert_eq!(sets(&found)[0], "lid: wide-lid");
}

#[test]
fn each_knot_tells_its_own_sets() {
    let found = found(&two_knots());
    let clashes = |knot: &super::KnotSets| knot.clashes.iter().map(ToString::to_string).collect::<Vec<_>>();
    let all: Vec<Vec<String>> = found.knots.iter().map(clashes).collect();
    assert_eq!(all, [["joint:fuel"], ["joint:neck"]]);
    let first = &found.knots[0].sets[0];
    assert_eq!(first.changes.keys().collect::<Vec<_>>(), ["hose"]);
    assert_eq!(first.left.iter().map(ToString::to_string).collect::<Vec<_>>(), ["joint:neck"]);
}

/// Four rods meet at one pin, and the new one has a ball. Three others together keep it; no two of them clear anything.
#[test]
fn of_few_sets_all_are_tried() {
    let rod = |class: &str, end: &str| json!({"class": class, "ports": {"end": end}, "price": "20.00 USD"});
    let classes = ["arm", "brace", "link", "track"];
    let mut library = json!({
        "classes": {}, "parts": {},
        "vehicle": {"positions": {}, "joints": {"pin": ["arm.end", "brace.end", "link.end", "track.end"]}},
    });
    for class in classes {
        library["classes"][class] = json!({"decided": "owner"});
        library["parts"][format!("old-{class}")] = rod(class, "pin");
        library["parts"][format!("ball-{class}")] = rod(class, "ball");
        library["vehicle"]["positions"][class] = json!(format!("old-{class}"));
    }
    let found = found(&Least::new(library).convert("arm", "ball-arm"));
    assert_eq!(sets(&found)[0], "brace: ball-brace, link: ball-link, track: ball-track");
    assert!(found.proved && found.sets[0].left.is_empty());
}

/// A dearer cleaner that does the same is no other way.
#[test]
fn sets_that_do_the_same_are_told_once() {
    let other = |rim: Json| {
        let ports = json!({"neck": "108-mm"});
        let mut part = json!({"class": "cleaner", "ports": ports, "price": "60.00 USD"});
        merge(&mut part, rim);
        sets(&found(&necks(json!({"parts": {"dear-cleaner": part}}))))
    };
    assert!(!other(json!({})).iter().any(|set| set.contains("dear-cleaner")));
    let told = other(json!({"ports": {"rim": "rim"}}));
    assert_eq!(told[..2], ["cleaner: wide-cleaner", "cleaner: dear-cleaner"]);
}

/// What the survey says to renew may stay where nobody can be hurt.
#[test]
fn what_can_hurt_people_and_is_to_be_renewed_is_not_kept() {
    let plan = |safety: bool| {
        let neck = json!({"neck": {"type": "67-mm", "alone": "required"}});
        let parts = json!({"old-carburettor": {"safety": safety}, "old-cleaner": {"ports": neck}});
        let plan = necks(json!({"parts": parts})).choose("carburettor", Route::LeaveOff);
        sets(&found(&plan.survey("carburettor", Verdict::Renew)))
    };
    let keeps = |sets: &[String]| sets.iter().any(|set| set.contains("carburettor: keep"));
    assert!(keeps(&plan(false)) && !keeps(&plan(true)), "{:?}", plan(true));
}
