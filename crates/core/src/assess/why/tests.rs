//! A decision is told with the trouble that is there without it, and never with itself.

use serde_json::{Value as Json, json};

use super::super::least::{Least, companions, two_ways};
use crate::assessment::{Assessment, Companion};
use crate::explain::half_line;
use crate::library::Level;
use crate::reason::{Fact, ReasonId};
use crate::sheet::Verdict;

fn companion<'a>(a: &'a Assessment, key: &str) -> &'a Companion {
    a.companions.iter().find(|c| c.key == key).expect("a companion")
}

/// All that a reason rests on, itself left out.
fn below(a: &Assessment, reason: ReasonId) -> Vec<&Fact> {
    let mut out = Vec::new();
    let mut due = a.reasons[reason.0 as usize].premises.clone();
    while let Some(id) = due.pop() {
        assert!(id < reason, "a reason rests on what was known before it");
        out.push(&a.reasons[id.0 as usize].fact);
        due.extend(&a.reasons[id.0 as usize].premises);
    }
    out
}

/// Every part that was put in is told with a trouble, and no part is named in what its own reason rests on.
fn assert_told(a: &Assessment) {
    for companion in a.companions.iter().filter(|c| c.key.to_string().starts_with("position:")) {
        let facts = below(a, companion.reason);
        assert!(!facts.is_empty(), "{} is told with nothing", companion.part);
        for fact in facts {
            assert!(
                !format!("{fact:?}").contains(&companion.part),
                "{} is told with {fact:?}",
                companion.part
            );
        }
    }
}

/// A new pump, a hose and a filter of the old size.
fn in_a_row() -> Least {
    let hose = |size: &str| json!({"class": "hose", "ports": {"front": size, "rear": size}});
    let filter = |size: &str| json!({"class": "filter", "ports": {"inlet": size}});
    Least::new(json!({
        "parts": {
            "new-pump": {"class": "pump", "ports": {"outlet": "5/16"}},
            "old-filter": filter("3/8"), "small-filter": filter("5/16"),
            "old-hose": hose("3/8"), "small-hose": hose("5/16"),
        },
        "vehicle": {
            "positions": {"filter": "old-filter", "hose": "old-hose", "pump": null},
            "joints": {"front": ["pump.outlet", "hose.front"], "rear": ["hose.rear", "filter.inlet"]},
        },
    }))
    .convert("pump", "new-pump")
}

#[test]
fn a_reason_names_the_trouble_that_the_part_clears() {
    let a = in_a_row().assess();
    let facts = |key: &str| below(&a, companion(&a, key).reason);
    let joints = |key: &str| -> Vec<String> {
        let told = facts(key).into_iter().filter_map(|fact| match fact {
            Fact::Disagree { joint, .. } => Some(joint.clone()),
            _ => None,
        });
        told.collect()
    };
    assert_eq!(joints("position:hose"), ["front"]);
    // and with what brought the hose
    assert!(joints("position:filter").contains(&"rear".to_owned()));
    assert_told(&a);
}

/// The hose goes in for the pump, the filter for the hose: one after the other, and both go back to the choice.
#[test]
fn decisions_are_told_one_after_the_other() {
    let a = in_a_row().assess();
    let fills = |key: &str| -> Vec<String> {
        let told = below(&a, companion(&a, key).reason).into_iter().filter_map(|fact| match fact {
            Fact::Fills { part, .. } => Some(part.clone()),
            _ => None,
        });
        told.collect::<std::collections::BTreeSet<_>>().into_iter().collect()
    };
    assert_eq!((fills("position:hose"), fills("position:filter")), (vec![], vec!["small-hose".to_owned()]));
    for key in ["position:filter", "position:hose"] {
        assert_eq!(companion(&a, key).cause.as_deref(), Some("pump"), "{key}");
    }
}

#[test]
fn what_only_meets_advice_is_advised() {
    let asks = |word: &str| {
        let a = Least::new(json!({
            "parts": {
                "electric-pump": {"class": "pump", word: ["feed"]},
                "new-fuses": {"class": "fuses", "offers": ["feed"]},
            },
            "vehicle": {"positions": {"fuses": null, "pump": null}},
        }))
        .convert("pump", "electric-pump")
        .assess();
        assert_told(&a);
        assert_eq!(companion(&a, "position:fuses").cause.as_deref(), Some("pump"));
        companions(&a)
    };
    assert_eq!(asks("advises"), ["position:fuses: 1 new-fuses (advised)"]);
    assert_eq!(asks("needs"), ["position:fuses: 1 new-fuses"]);
}

/// What meets advice and closes a joint as well is required.
#[test]
fn what_meets_advice_and_clears_a_clash_is_required() {
    let plan = |alone: &str| {
        let a = Least::new(json!({
            "parts": {
                "electric-pump": {"class": "pump", "advises": ["feed"], "ports": {"plug": {"type": "plug", "alone": alone}}},
                "new-fuses": {"class": "fuses", "offers": ["feed"], "ports": {"socket": "plug"}},
            },
            "vehicle": {
                "positions": {"fuses": null, "pump": null}, "joints": {"plug": ["pump.plug", "fuses.socket"]},
            },
        }))
        .convert("pump", "electric-pump")
        .assess();
        companion(&a, "position:fuses").level
    };
    assert_eq!(plan("required"), Level::Required);
    assert_eq!(plan("fine"), Level::Advised);
}

/// Neither the feed nor the earth can be had from one of them alone.
#[test]
fn two_that_each_clear_something_are_told_each_with_its_own() {
    let a = two_ways(json!({
        "parts": {"left-box": {"offers": ["earth"]}, "right-box": {"offers": ["feed"]}},
    }))
    .assess();
    let wants = |key: &str| -> Vec<String> {
        let told = below(&a, companion(&a, key).reason).into_iter().filter_map(|fact| match fact {
            Fact::Wants { need, .. } => Some(need.clone()),
            _ => None,
        });
        told.collect()
    };
    assert_eq!(
        (wants("position:left"), wants("position:right")),
        (vec!["earth".to_owned()], vec!["feed".to_owned()])
    );
    assert_told(&a);
}

/// Two spacers together make what neither makes alone.
#[test]
fn what_goes_in_together_is_told_with_what_all_of_them_clear() {
    let spacer = |class: &str| json!({"class": class, "figures": {"height": "5 mm"}});
    let height = |class: &str| json!({"class": class, "figure": "height", "else": "0 mm"});
    let plan = Least::new(json!({
        "figures": {"height": "length"},
        "limits": {"gap": {"calc": "at-least", "inputs": {
            "have": {"sum": [height("front"), height("rear")]}, "want": {"class": "shaft", "figure": "height"},
        }}},
        "parts": {
            "front-spacer": spacer("front"), "rear-spacer": spacer("rear"),
            "long-shaft": {"class": "shaft", "figures": {"height": "10 mm"}},
        },
        "vehicle": {"positions": {"front": null, "rear": null, "shaft": null}},
    }))
    .convert("shaft", "long-shaft");
    assert_eq!(plan.decided(), ["front: front-spacer", "rear: rear-spacer"]);
    let a = plan.assess();
    assert_told(&a);
    for key in ["position:front", "position:rear"] {
        let about = |fact: &&Fact| matches!(fact, Fact::Limit { .. });
        assert_eq!(below(&a, companion(&a, key).reason).into_iter().filter(about).count(), 1, "{key}");
        assert_eq!(companion(&a, key).cause.as_deref(), Some("shaft"));
    }
}

/// A part that is condemned and does not fit any more goes because it does not fit.
#[test]
fn a_trouble_goes_before_a_verdict() {
    let a = in_a_row().survey("hose", Verdict::Stop).assess();
    assert_told(&a);
    assert!(
        half_line(&a, companion(&a, "position:hose").reason, crate::showing::Measure::Metric)
            .contains("5/16")
    );
}

/// A manifold between a new pump and a carburettor out of a kit, neither of which fits the old one. The small manifold closes
/// the joint of the pump by itself, and the other only together with a carburettor.
#[test]
fn what_a_part_clears_by_itself_goes_before_what_it_is_one_end_of() {
    let end = |class: &str, size: &str| json!({"class": class, "ports": {"end": size}});
    let manifold = |size: &str| json!({"class": "manifold", "ports": {"pump": size, "top": size}});
    let a = Least::new(json!({
        "parts": {
            "fuel-kit": {"class": "tank", "contents": ["wide-carburettor"]}, "new-pump": end("pump", "5/16"),
            "old-manifold": manifold("3/8"), "small-carburettor": end("carburettor", "5/16"),
            "small-manifold": manifold("5/16"), "wide-carburettor": end("carburettor", "1/2"),
        },
        "vehicle": {
            "positions": {"carburettor": null, "manifold": "old-manifold", "pump": null, "tank": null},
            "joints": {"at-carburettor": ["manifold.top", "carburettor.end"], "at-pump": ["manifold.pump", "pump.end"]},
        },
    }))
    .convert("pump", "new-pump")
    .convert("tank", "fuel-kit")
    .assess();
    let joint = |key: &str| {
        let told = below(&a, companion(&a, key).reason).into_iter().find_map(|fact| match fact {
            Fact::Disagree { joint, .. } => Some(joint.clone()),
            _ => None,
        });
        told.unwrap_or_default()
    };
    assert_eq!(
        (joint("position:manifold").as_str(), joint("position:carburettor").as_str()),
        ("at-pump", "at-carburettor")
    );
    assert_eq!(companion(&a, "position:manifold").cause.as_deref(), Some("pump"));
    assert_told(&a);
}

/// A pool, a limit and a joint, each the only trouble.
#[test]
fn each_kind_of_trouble_is_told() {
    let fact = |more: Json| {
        let mut library = json!({
            "figures": {"length": "length"},
            "pools": {"load": "current"},
            "parts": {"new-pump": {"class": "pump"}, "old-part": {"class": "part"}, "other-part": {"class": "part"}},
            "vehicle": {"positions": {"part": "old-part", "pump": null}, "gives": {"load": "20 A"}},
        });
        super::super::least::merge(&mut library, more);
        let plan = Least::new(library).convert("pump", "new-pump");
        assert_eq!(plan.decided(), ["part: other-part"]);
        let a = plan.assess();
        assert_told(&a);
        let part = companion(&a, "position:part");
        assert_eq!((part.cause.as_deref(), part.level), (Some("pump"), Level::Required));
        let first = a.reasons[part.reason.0 as usize].premises[0];
        a.reasons[first.0 as usize].fact.clone()
    };
    let joint = fact(json!({
        "parts": {
            "new-pump": {"ports": {"outlet": "flare"}}, "old-part": {"ports": {"end": "barb"}},
            "other-part": {"ports": {"end": "flare"}},
        },
        "vehicle": {"joints": {"fuel": ["pump.outlet", "part.end"]}},
    }));
    assert!(matches!(joint, Fact::Disagree { .. }), "{joint:?}");
    let pool = fact(json!({"parts": {
        "new-pump": {"takes": {"load": "15 A"}}, "old-part": {"takes": {"load": "6 A"}},
        "other-part": {"takes": {"load": "5 A"}},
    }}));
    assert!(matches!(pool, Fact::Pool { .. }), "{pool:?}");
    let limit = fact(json!({
        "limits": {"reach": {"calc": "at-least", "inputs": {
            "have": {"class": "part", "figure": "length"}, "want": {"class": "pump", "figure": "length"},
        }}},
        "parts": {
            "new-pump": {"figures": {"length": "9 mm"}}, "old-part": {"figures": {"length": "8 mm"}},
            "other-part": {"figures": {"length": "9 mm"}},
        },
    }));
    assert!(matches!(limit, Fact::Limit { .. }), "{limit:?}");
}
