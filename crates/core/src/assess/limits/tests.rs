//! A limit is a calculation over figures of what is fitted, facts of the vehicle, pools and fixed values. Broken, it asks for
//! a need, or a place that follows gets a part with which it holds; else it is a clash.

use serde_json::{Value as Json, json};

use super::super::least::{Least, answer, clashes, companions, open, remedies};
use crate::assessment::Answer;
use crate::sheet::Route;

/// Springs that may lift 100 mm.
fn springs(limit: Json, figures: Json) -> Least {
    let mut library = json!({
        "classes": ["shaft"],
        "figures": {"lift": "length", "travel": "length"},
        "limits": {"shaft": {"calc": "at-most", "inputs": {
            "have": {"class": "springs", "figure": "lift"}, "most": {"value": "100 mm"},
        }}},
        "parts": {"new-springs": {"class": "springs", "figures": figures}},
        "vehicle": {"positions": {"springs": null}},
    });
    for (word, value) in limit.as_object().into_iter().flatten() {
        library["limits"]["shaft"][word] = value.clone();
    }
    Least::new(library).convert("springs", "new-springs")
}

fn lift(mm: &str) -> Least {
    springs(json!({}), json!({"lift": mm}))
}

#[test]
fn it_holds_or_is_a_clash_with_what_clears_it() {
    assert_eq!(answer(&lift("100 mm").assess(), "limit:shaft"), Some(Answer::Holds));
    let a = lift("120 mm").assess();
    assert_eq!(clashes(&a), ["limit:shaft"]);
    assert_eq!(remedies(&a), ["20 mm less (100 mm)"]);
}

#[test]
fn a_tolerance_that_leaves_it_open_says_how_closely_to_measure() {
    let a = lift("95 mm ±10 mm").assess();
    assert_eq!(open(&a), ["limit:shaft"]);
    let what = a.to_measure[0].what.say(crate::showing::Measure::Metric);
    assert!(what.ends_with("measure have to ±5 mm"), "{what}");
    assert_eq!(answer(&lift("95 mm ±5 mm").assess(), "limit:shaft"), Some(Answer::Holds));
}

#[test]
fn a_figure_that_is_missing_is_to_measure() {
    assert_eq!(open(&springs(json!({}), json!({})).assess()), ["limit:shaft"]);
    assert_eq!(open(&lift("unknown: rule, to 5 mm").assess()), ["limit:shaft"]);
}

#[test]
fn an_optional_figure_that_is_missing_means_that_the_limit_does_not_apply() {
    let inputs = json!({"inputs": {
        "have": {"class": "springs", "figure": "lift", "optional": true}, "most": {"value": "100 mm"},
    }});
    let a = springs(inputs, json!({})).assess();
    assert_eq!(answer(&a, "limit:shaft"), None);
}

#[test]
fn a_limit_about_an_empty_place_does_not_apply() {
    let inputs = json!({"inputs": {
        "have": {"class": "springs", "figure": "lift"}, "most": {"class": "shaft", "figure": "travel"},
    }});
    assert_eq!(answer(&springs(inputs, json!({"lift": "120 mm"})).assess(), "limit:shaft"), None);
}

#[test]
fn a_limit_is_looked_at_when_a_part_that_it_reads_changed() {
    let a = Least::new(json!({
        "figures": {"lift": "length"},
        "limits": {"shaft": {"calc": "at-most", "inputs": {
            "have": {"class": "springs", "figure": "lift"}, "most": {"value": "100 mm"},
        }}},
        "parts": {"new-pump": "pump", "old-springs": {"class": "springs", "figures": {"lift": "120 mm"}}},
        "vehicle": {"positions": {"pump": null, "springs": "old-springs"}},
    }))
    .convert("pump", "new-pump")
    .assess();
    assert_eq!(answer(&a, "limit:shaft"), None);
}

/// A second limit knows better how far the shaft may travel.
fn knows_better(travel: &str) -> Vec<String> {
    let mut library = json!({
        "figures": {"lift": "length", "travel": "length"},
        "limits": {
            "shaft": {"calc": "at-most", "yields_to": "travel", "inputs": {
                "have": {"class": "springs", "figure": "lift"}, "most": {"value": "100 mm"},
            }},
            "travel": {"calc": "at-most", "inputs": {
                "have": {"class": "springs", "figure": "travel"}, "most": {"value": "50 mm"},
            }},
        },
        "vehicle": {"positions": {"springs": null}},
    });
    let figures = json!({"lift": "120 mm", "travel": travel});
    library["parts"] = json!({"new-springs": {"class": "springs", "figures": figures}});
    clashes(&Least::new(library).convert("springs", "new-springs").assess())
}

#[test]
fn a_limit_yields_where_one_that_knows_better_holds() {
    assert!(knows_better("50 mm").is_empty());
    assert_eq!(knows_better("60 mm"), ["limit:shaft", "limit:travel"]);
}

/// With more lift than 100 mm the shaft needs a joint of a wide angle.
fn raises(parts: Json) -> Least {
    let mut library = json!({
        "free": ["shaft-joint"],
        "figures": {"lift": "length"},
        "limits": {"shaft": {"calc": "at-most", "raises": "wide-angle", "inputs": {
            "have": {"class": "springs", "figure": "lift"}, "most": {"value": "100 mm"},
        }}},
        "needs": {"wide-angle": {"kind": "present"}},
        "parts": parts,
        "vehicle": {"positions": {"springs": null}},
    });
    library["parts"]["new-springs"] = json!({"class": "springs", "figures": {"lift": "120 mm"}});
    Least::new(library).convert("springs", "new-springs")
}

#[test]
fn a_broken_limit_that_raises_a_need_gets_what_supplies_it() {
    let a = raises(json!({"double-joint": {"class": "shaft-joint", "offers": ["wide-angle"]}})).assess();
    assert_eq!(companions(&a), ["need:springs:new-springs:wide-angle: 1 double-joint"]);
    assert_eq!(answer(&a, "limit:shaft"), Some(Answer::Bridged));
    assert!(clashes(&a).is_empty());
}

#[test]
fn where_nothing_supplies_what_it_raises_the_need_is_a_clash() {
    let a = raises(json!({"plain-joint": "shaft-joint"})).assess();
    assert_eq!(clashes(&a), ["need:springs:new-springs:wide-angle"]);
}

/// A fan of so many blades for a radiator that wants six; nobody chose the fan, and the radiator costs 50.
fn fan(price: &str, decided: &str) -> Least {
    Least::new(json!({
        "classes": {"fan": {"decided": decided}},
        "figures": {"blades": "count", "blades-wanted": "count"},
        "limits": {"air": {"calc": "at-least", "inputs": {
            "have": {"class": "fan", "figure": "blades"}, "want": {"class": "radiator", "figure": "blades-wanted"},
        }}},
        "parts": {
            "new-radiator": {"class": "radiator", "figures": {"blades-wanted": "6"}, "price": "50.00 USD"},
            "old-fan": {"class": "fan", "figures": {"blades": "4"}},
            "six-blade-fan": {"class": "fan", "figures": {"blades": "6"}, "price": price},
        },
        "vehicle": {"positions": {"fan": "old-fan", "radiator": null}},
    }))
    .convert("radiator", "new-radiator")
}

#[test]
fn a_place_that_follows_gets_what_clears_it_whatever_that_costs() {
    assert_eq!(companions(&fan("50.00 USD", "follows").assess()), ["position:fan: 1 six-blade-fan"]);
    assert_eq!(companions(&fan("900.00 USD", "follows").assess()), ["position:fan: 1 six-blade-fan"]);
}

#[test]
fn where_the_place_is_the_owners_it_is_a_clash_that_names_what_clears_it() {
    let a = fan("5.00 USD", "owner").assess();
    assert_eq!((companions(&a), clashes(&a)), (vec![], vec!["limit:air".to_owned()]));
    assert!(remedies(&a).contains(&"fit six-blade-fan as fan".to_owned()), "{:?}", remedies(&a));
}

#[test]
fn what_the_owner_chose_is_not_exchanged() {
    assert_eq!(clashes(&fan("50.00 USD", "follows").choose("fan", Route::Keep).assess()), ["limit:air"]);
}

/// A dynamo of 20 A for a load that is summed in a pool; the lamps take 15 A of it.
fn load(pump: &str) -> Option<Answer> {
    let a = Least::new(json!({
        "figures": {"output": "current"},
        "limits": {"charge": {"calc": "at-least", "inputs": {
            "have": {"class": "dynamo", "figure": "output"}, "want": {"pool": "load"},
        }}},
        "pools": {"load": {"kind": "current", "tally": true}},
        "parts": {
            "electric-pump": {"class": "pump", "takes": {"load": pump}},
            "old-dynamo": {"class": "dynamo", "figures": {"output": "20 A"}},
            "old-lamps": {"class": "lamps", "takes": {"load": "15 A"}},
        },
        "vehicle": {"positions": {"dynamo": "old-dynamo", "lamps": "old-lamps", "pump": null}},
    }))
    .convert("pump", "electric-pump")
    .assess();
    answer(&a, "limit:charge")
}

#[test]
fn a_limit_reads_the_sum_taken_from_a_pool() {
    assert_eq!(load("5 A"), Some(Answer::Holds));
    assert_eq!(load("6 A"), Some(Answer::Broken));
}

/// Springs with another leaf or a spacer at the transfer box, where nothing or bolts are found: both clear it.
#[test]
fn of_several_places_the_part_goes_in_that_takes_off_no_sound_one_then_the_cheapest() {
    let plan = |spring: &str, spacer: &str, found: Json| {
        let library = json!({
            "classes": ["shaft", "transfer"],
            "figures": {"lift": "length", "drop": "length"},
            "limits": {"shaft": {"calc": "at-most", "inputs": {
                "have": {"sum": [{"class": "springs", "figure": "lift"}],
                         "less": [{"class": "transfer", "figure": "drop", "else": "0 mm"}]},
                "most": {"value": "50 mm"},
            }}},
            "parts": {
                "tall": {"class": "shaft", "price": "200.00 USD", "contents": [{"part": "tall-springs", "qty": 1}]},
                "tall-springs": {"class": "springs", "figures": {"lift": "63 mm"}},
                "flat-springs": {"class": "springs", "price": spring, "figures": {"lift": "40 mm"}},
                "bolts": {"class": "transfer", "figures": {"drop": "0 mm"}},
                "spacers": {"class": "transfer", "price": spacer, "figures": {"drop": "25 mm"}},
            },
            "vehicle": {"positions": {"shaft": null, "springs": null, "transfer": found}},
        });
        companions(&Least::new(library).convert("shaft", "tall").assess())
    };
    let nothing = || Json::Null;
    assert_eq!(plan("150.00 USD", "45.00 USD", nothing()), ["position:transfer: 1 spacers"]);
    assert_eq!(plan("45.00 USD", "150.00 USD", nothing()), ["position:springs: 1 flat-springs"]);
    assert_eq!(plan("150.00 USD", "45.00 USD", json!("bolts")), ["position:springs: 1 flat-springs"]);
}
