//! What a choice comes to at a joint, a limit, a pool or a need is known before it is made: with bridges, caps, suppliers and
//! what they ask for in their turn. The box on the left costs 10 and asks for something, the one on the right costs 20.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions, merge, two_ways};
use crate::sheet::{Route, Verdict};

const LEFT: [&str; 1] = ["left: left-box"];
const RIGHT: [&str; 1] = ["right: right-box"];

/// The foot of the box stands on the engine over an adapter.
fn bridge(price: &str) -> Json {
    let ports = json!({"one": "two-holes", "other": "three-holes"});
    json!({
        "free": ["plate"],
        "parts": {
            "adapter-plate": {"class": "plate", "bridges": ["one", "other"], "ports": ports, "price": price},
            "left-box": {"ports": {"foot": "two-holes"}},
            "old-engine": {"ports": {"pad": "three-holes"}},
        },
        "vehicle": {"joints": {"foot": ["left.foot", "engine.pad"]}},
    })
}

/// A port of the box has nothing on it.
fn cap(price: &str) -> Json {
    json!({
        "free": ["plug"],
        "parts": {
            "left-box": {"ports": {"vent": {"type": "thread", "alone": "cap"}}},
            "brass-plug": {"class": "plug", "ports": {"cap": "thread"}, "price": price},
        },
        "vehicle": {"joints": {"vent": ["left.vent", "engine.vent"]}},
    })
}

fn supplier(price: &str) -> Json {
    json!({
        "free": ["relay"],
        "parts": {
            "left-box": {"needs": ["spark"]},
            "small-relay": {"class": "relay", "offers": ["spark"], "price": price},
        },
    })
}

/// Who supplies it asks in its turn, and costs 1 itself.
fn supplier_of_a_supplier(price: &str) -> Json {
    let mut library = supplier("1.00 USD");
    let more = json!({
        "free": ["cable", "relay"],
        "parts": {
            "red-cable": {"class": "cable", "offers": ["wire"], "price": price},
            "small-relay": {"needs": ["wire"]},
        },
    });
    merge(&mut library, more);
    library
}

/// The box is too tall, which a spacer makes good.
fn raised(price: &str) -> Json {
    json!({
        "free": ["spacer"],
        "figures": {"height": "length"},
        "needs": {"room": {"kind": "present"}},
        "limits": {"bonnet": {"calc": "at-most", "raises": "room", "inputs": {
            "have": {"class": "left", "figure": "height"}, "most": {"value": "100 mm"},
        }}},
        "parts": {
            "left-box": {"figures": {"height": "120 mm"}},
            "thick-spacer": {"class": "spacer", "offers": ["room"], "price": price},
        },
    })
}

#[test]
fn what_it_asks_for_is_paid_with_a_part() {
    for how in [bridge, cap, supplier, supplier_of_a_supplier, raised] {
        assert_eq!(two_ways(how("15.00 USD")).decided(), RIGHT, "{}", how(""));
        assert_eq!(two_ways(how("5.00 USD")).decided(), LEFT, "{}", how(""));
    }
}

/// What asks for the same already is supplied with it.
#[test]
fn what_is_supplied_anyway_is_paid_once() {
    let plan = |engine: &str| {
        let mut library = supplier("15.00 USD");
        merge(&mut library, json!({"parts": {"new-engine": {"class": "engine", "needs": [engine]}}}));
        merge(
            &mut library,
            json!({"vehicle": {"offers": {"other": "present"}}, "needs": {"other": {"kind": "present"}}}),
        );
        two_ways(library).convert("engine", "new-engine").decided()
    };
    assert_eq!(plan("spark"), LEFT);
    assert_eq!(plan("other"), RIGHT);
}

/// As many bridges as there are joints.
#[test]
fn a_bridge_is_paid_for_each_of_so_many_joints() {
    let plan = |qty: u32| {
        let mut library = bridge("4.00 USD");
        library["vehicle"]["joints"]["foot"] = json!({"ends": ["left.foot", "engine.pad"], "qty": qty});
        two_ways(library).decided()
    };
    assert_eq!(plan(2), LEFT);
    assert_eq!(plan(3), RIGHT);
}

/// What would break at a joint, a pool or a limit is known as well; there is no part for it.
#[test]
fn what_it_breaks_keeps_a_part_out() {
    let joint = |port: &str| {
        two_ways(json!({
            "parts": {
                "left-box": {"ports": {"foot": port}}, "old-engine": {"ports": {"pad": "three-holes"}},
            },
            "vehicle": {"joints": {"foot": ["left.foot", "engine.pad"]}},
        }))
    };
    let pool = |takes: &str| {
        two_ways(json!({
            "pools": {"load": "current"},
            "parts": {"left-box": {"takes": {"load": takes}}},
            "vehicle": {"gives": {"load": "20 A"}},
        }))
    };
    let limit = |height: &str| {
        let mut library = raised("1.00 USD");
        library["limits"]["bonnet"]
            .as_object_mut()
            .into_iter()
            .for_each(|limit| drop(limit.remove("raises")));
        merge(&mut library, json!({"parts": {"left-box": {"figures": {"height": height}}}}));
        two_ways(library)
    };
    let need = |offered: &str| {
        let mut library = supplier("1.00 USD");
        merge(&mut library, json!({"parts": {"small-relay": {"offers": [offered]}}}));
        two_ways(library)
    };
    for (n, (holds, broken)) in [
        (joint("three-holes"), joint("two-holes")),
        (pool("20 A"), pool("21 A")),
        (limit("100 mm"), limit("101 mm")),
        (need("spark"), need("wire")),
    ]
    .into_iter()
    .enumerate()
    {
        assert_eq!(holds.decided(), LEFT, "{n}");
        assert_eq!(broken.decided(), RIGHT, "{n}");
    }
}

/// The load of two boxes together is too much, of each alone it is not.
#[test]
fn what_two_take_together_is_known_too() {
    let plan = |gives: &str| {
        let takes = || json!({"load": "15 A"});
        let plan = two_ways(json!({
            "pools": {"load": "current"},
            "parts": {
                "back-box": {"class": "back", "offers": ["earth"], "takes": takes(), "price": "90.00 USD"},
                "left-box": {"offers": ["earth"], "takes": takes()},
                "right-box": {"offers": ["feed"], "takes": takes()},
                "small-box": {"class": "back", "offers": ["earth"], "takes": {"load": "5 A"}, "price": "95.00 USD"},
            },
            "vehicle": {"positions": {"back": null}, "gives": {"load": gives}},
        }));
        plan.choose("left", Route::Keep).decided()
    };
    assert_eq!(plan("30 A"), ["back: back-box", "right: right-box"]);
    assert_eq!(plan("20 A"), ["back: small-box", "right: right-box"]);
}

/// A joint to measure keeps a part out where another is sure, and not where there is no other.
#[test]
fn a_joint_to_measure_counts_against_a_part() {
    let plan = |right: Route| {
        let foot = |across: &str| json!({"type": "foot", "fields": {"across": across}});
        two_ways(json!({
            "port_types": {"foot": {"fields": {"across": {"kind": "length", "rule": "equal"}}}},
            "parts": {
                "left-box": {"ports": {"foot": foot("unknown: rule, to 1 mm")}},
                "old-engine": {"ports": {"pad": foot("80 mm")}},
            },
            "vehicle": {"joints": {"foot": ["left.foot", "engine.pad"]}},
        }))
        .choose("right", right)
    };
    let sure = plan(Route::Keep);
    assert_eq!(sure.decided(), LEFT);
    assert_eq!(sure.assess().order.unknown, 1);
    let mut free = sure;
    free.plan().routes.remove("right");
    assert_eq!(free.decided(), RIGHT);
}

/// A giver that follows is exchanged where more is taken than it gives; so is a taker.
#[test]
fn what_overdraws_is_cured_at_a_place_that_follows() {
    let plan = |giver: &str| {
        Least::new(json!({
            "classes": {"dynamo": {"decided": giver}, "lamps": {"decided": "owner"}},
            "pools": {"load": "current"},
            "parts": {
                "alternator": {"class": "dynamo", "gives": {"load": "60 A"}},
                "bright-lamps": {"class": "lamps", "takes": {"load": "40 A"}},
                "old-dynamo": {"class": "dynamo", "gives": {"load": "22 A"}},
            },
            "vehicle": {"positions": {"dynamo": "old-dynamo", "lamps": null}},
        }))
        .convert("lamps", "bright-lamps")
    };
    assert_eq!(plan("follows").decided(), ["dynamo: alternator"]);
    assert_eq!(plan("owner").decided(), [""; 0]);
    let pools = clashes(&plan("owner").assess());
    assert_eq!(pools, ["pool:load"]);
}

/// Who asks and follows can be one that does not ask.
#[test]
fn a_need_is_cured_where_it_is_asked_too() {
    let plan = |hose: &str| {
        Least::new(json!({
            "parts": {
                "new-pump": {"class": "pump", "ports": {"outlet": {"type": "5/16", "alone": "required"}}},
                "plain-hose": {"class": "hose", "ports": {"end": "5/16"}, "needs": [hose]},
                "safe-hose": {"class": "hose", "ports": {"end": "5/16"}, "price": "90.00 USD"},
            },
            "needs": {"charm": {"kind": "present"}, "clip": {"kind": "present"}},
            "vehicle": {
                "positions": {"hose": null, "pump": null}, "offers": {"clip": "present"},
                "joints": {"fuel": ["pump.outlet", "hose.end"]},
            },
        }))
        .convert("pump", "new-pump")
        .decided()
    };
    assert_eq!(plan("clip"), ["hose: plain-hose"]);
    assert_eq!(plan("charm"), ["hose: safe-hose"]);
}

/// What goes with a part that is exchanged is missed by who asked for it.
#[test]
fn what_was_offered_and_goes_is_missed() {
    let plan = |found: &str| {
        let plan = two_ways(json!({
            "needs": {"light": {"kind": "present"}},
            "parts": {
                "old-engine": {"needs": ["light"]},
                "old-left": {"class": "left", "offers": [found]},
            },
            "vehicle": {"positions": {"left": "old-left"}},
        }));
        plan.survey("left", Verdict::Watch)
    };
    assert_eq!(plan("light").decided(), RIGHT);
    assert_eq!(plan("heat").decided(), LEFT);
    assert_eq!(companions(&plan("heat").assess()), ["position:left: 1 left-box"]);
}

/// The plate that the owner picked is what it costs.
#[test]
fn a_bridge_that_was_picked_counts_with_its_price() {
    let plan = |pick: &str| {
        let mut library = bridge("5.00 USD");
        library["parts"]["thick-plate"] = library["parts"]["adapter-plate"].clone();
        library["parts"]["thick-plate"]["price"] = json!("15.00 USD");
        two_ways(library).pick("bridge:foot:0", pick).decided()
    };
    assert_eq!(plan("adapter-plate"), LEFT);
    assert_eq!(plan("thick-plate"), RIGHT);
}

/// Each that asks gets one of its own, or one does for both.
#[test]
fn a_need_of_ones_own_is_paid_for_each_that_asks() {
    let plan = |sharing: &str| {
        let mut library = supplier("15.00 USD");
        let more = json!({
            "needs": {"spark": {"kind": "present", "sharing": sharing}},
            "parts": {"new-engine": {"class": "engine", "needs": ["spark"]}},
        });
        merge(&mut library, more);
        two_ways(library).convert("engine", "new-engine").decided()
    };
    assert_eq!(plan("shared"), LEFT);
    assert_eq!(plan("own"), RIGHT);
}

/// A fact that a part sets, and a sum that a limit reads.
#[test]
fn what_a_limit_reads_elsewhere_is_known_too() {
    let sets = |lock: &str| {
        let inputs = json!({"have": {"fact": "lock"}, "most": {"value": "30°"}});
        two_ways(json!({
            "figures": {"lock": "angle"},
            "limits": {"rub": {"calc": "at-most", "inputs": inputs}},
            "parts": {"left-box": {"sets": {"lock": lock}}},
            "vehicle": {"facts": {"lock": "28°"}},
        }))
    };
    let load = |load: &str| {
        let inputs = json!({"have": {"class": "engine", "figure": "output"}, "want": {"pool": "load"}});
        two_ways(json!({
            "figures": {"output": "current"},
            "limits": {"charge": {"calc": "at-least", "inputs": inputs}},
            "pools": {"load": {"kind": "current", "tally": true}},
            "parts": {"left-box": {"takes": {"load": load}}, "old-engine": {"figures": {"output": "20 A"}}},
        }))
    };
    for (holds, broken) in [(sets("30°"), sets("31°")), (load("20 A"), load("21 A"))] {
        assert_eq!(holds.decided(), LEFT);
        assert_eq!(broken.decided(), RIGHT);
    }
}

/// Every pair of a joint of several ends counts.
#[test]
fn a_joint_of_three_ends_is_known_too() {
    let plan = |pulley: &str| {
        two_ways(json!({
            "parts": {
                "left-box": {"ports": {"pulley": pulley}},
                "old-belt": {"class": "belt", "ports": {"run": "narrow"}},
                "old-engine": {"ports": {"pulley": "narrow"}},
            },
            "vehicle": {
                "positions": {"belt": "old-belt"},
                "joints": {"belt": ["belt.run", "engine.pulley", "left.pulley"]},
            },
        }))
        .decided()
    };
    assert_eq!(plan("narrow"), LEFT);
    assert_eq!(plan("broad"), RIGHT);
}

/// What hung on the part that goes loses its job and takes nothing any more.
#[test]
fn what_loses_its_job_with_a_decision_is_known() {
    let plan = |alone: &str| {
        let more = json!({
            "pools": {"load": "current"},
            "parts": {
                "left-box": {"takes": {"load": "10 A"}},
                "old-fan": {
                    "class": "fan", "ports": {"drive": {"type": "drive", "alone": alone}}, "takes": {"load": "15 A"},
                },
                "old-left": {"class": "left", "ports": {"drive": "drive"}},
            },
            "vehicle": {
                "positions": {"fan": "old-fan", "left": "old-left"}, "gives": {"load": "20 A"},
                "joints": {"drive": ["left.drive", "fan.drive"]},
            },
        });
        two_ways(more).survey("left", Verdict::Watch).decided()
    };
    assert_eq!(plan("surplus"), LEFT);
    assert_eq!(plan("fine"), RIGHT);
}

/// The box on the left breaks something at a place that follows, and what makes that good costs so much or cannot be had:
/// at a joint, in a pool, at a limit, for a need.
#[test]
fn what_it_breaks_beside_it_is_made_good_where_both_cost_less() {
    let beside = |part: Json, old: Json, library: Json| {
        let mut all = json!({
            "parts": {
                "new-part": {"class": "part", "price": "5.00 USD"}, "old-left": "left", "old-part": {"class": "part"},
            },
            "vehicle": {"positions": {"left": "old-left", "part": "old-part"}},
        });
        merge(&mut all, library);
        merge(&mut all, json!({"parts": {"new-part": part, "old-part": old}}));
        move |price: &str| {
            let mut all = all.clone();
            all["parts"]["new-part"]["price"] = json!(price);
            two_ways(all).survey("left", Verdict::Watch).survey("part", Verdict::Watch).decided()
        }
    };
    let drive = |shape: &str| json!({"ports": {"drive": shape}});
    let joint = beside(
        drive("square"),
        drive("round"),
        json!({
            "parts": {"left-box": drive("square"), "old-left": {"class": "left", "ports": {"drive": "round"}}},
            "vehicle": {"joints": {"drive": ["left.drive", "part.drive"]}},
        }),
    );
    let pool = beside(
        json!({"gives": {"load": "30 A"}}),
        json!({"gives": {"load": "20 A"}}),
        json!({
            "pools": {"load": "current"}, "parts": {"left-box": {"takes": {"load": "30 A"}}},
        }),
    );
    let height = |mm: &str| json!({"figures": {"height": mm}});
    let limit = beside(
        height("30 mm"),
        height("20 mm"),
        json!({
            "figures": {"height": "length"},
            "limits": {"room": {"calc": "at-most", "inputs": {
                "have": {"class": "left", "figure": "height", "optional": true},
                "most": {"class": "part", "figure": "height"},
            }}},
            "parts": {"left-box": height("30 mm")},
        }),
    );
    let need =
        beside(json!({"offers": ["spark"]}), json!({}), json!({"parts": {"left-box": {"needs": ["spark"]}}}));
    let both = ["left: left-box", "part: new-part"];
    for (n, plan) in [&joint as &dyn Fn(&str) -> Vec<String>, &pool, &limit, &need].into_iter().enumerate() {
        assert_eq!(plan("5.00 USD"), both, "{n}");
        assert_eq!(plan("15.00 USD"), RIGHT, "{n}");
    }
}

/// A clip that offers two things is bought once for both.
#[test]
fn a_supplier_of_two_needs_is_paid_once() {
    let meter = |needs: &[&str], price: &str| json!({"class": "meter", "ports": {"path": "wide"}, "needs": needs, "price": price});
    let plan = Least::new(json!({
        "classes": {"dynamo": {"decided": "owner"}},
        "free": ["clip"],
        "parts": {
            "new-dynamo": {"class": "dynamo", "ports": {"path": "wide"}},
            "old-meter": {"class": "meter", "ports": {"path": "narrow"}},
            "plain-meter": meter(&[], "54.00 USD"), "volt-meter": meter(&["bypass", "way"], "39.00 USD"),
            "stud-clip": {"class": "clip", "offers": ["bypass", "way"], "price": "8.00 USD"},
        },
        "vehicle": {
            "positions": {"dynamo": null, "meter": "old-meter"}, "joints": {"path": ["dynamo.path", "meter.path"]},
        },
    }));
    assert_eq!(plan.convert("dynamo", "new-dynamo").decided(), ["meter: volt-meter"]);
}
