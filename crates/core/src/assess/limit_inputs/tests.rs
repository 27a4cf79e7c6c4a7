//! What a limit reads: sums, what holds where nothing is fitted, facts of the vehicle and what sets them.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, fitted, open, remedies};
use crate::sheet::Route;

/// A shaft that stands 40 mm off; a lift adds to it, spacers under the transfer box take off; 60 mm are too much. Shaft
/// and spacers are the owner's to choose.
fn shaft(more: Json) -> Least {
    let mut library = json!({
        "classes": {"shaft": {"decided": "owner"}, "springs": {}, "spacers": {"decided": "owner"}},
        "figures": {
            "drop": {"kind": "length", "measure": "with a tape"},
            "lift": {"kind": "length"},
            "lowers": {"kind": "length"},
        },
        "limits": {"shaft-drop": {"calc": "at-most", "inputs": {
            "have": {
                "sum": [{"class": "shaft", "figure": "drop"}, {"class": "springs", "figure": "lift", "else": "0 mm"}],
                "less": [{"class": "spacers", "figure": "lowers", "else": "0 mm"}],
            },
            "most": {"value": "60 mm"},
        }}},
        "parts": {
            "old-shaft": {"class": "shaft", "figures": {"drop": "40 mm"}},
            "plain-shaft": {"class": "shaft"},
            "low-springs": {"class": "springs", "price": null, "figures": {"lift": "0 mm"}},
            "high-springs": {"class": "springs", "figures": {"lift": "50 mm"}},
            "thick-spacers": {"class": "spacers", "price": "900.00 USD", "figures": {"lowers": "30 mm"}},
        },
        "vehicle": {"positions": {
            "shaft": {"as_found": "old-shaft"}, "springs": {"as_found": "low-springs"}, "spacers": {},
        }},
    });
    for (key, value) in more.as_object().into_iter().flatten() {
        library[key] = value.clone();
    }
    Least::new(library)
}

#[test]
fn several_are_added_up_and_others_taken_off() {
    let lifted = shaft(json!({})).convert("springs", "high-springs");
    assert_eq!(clashes(&lifted.assess()), ["limit:shaft-drop"]);
    assert_eq!(clashes(&lifted.convert("spacers", "thick-spacers").assess()), [""; 0]);
}

/// No spacers are fitted: nothing is taken off, and nobody is asked to measure them.
#[test]
fn where_nothing_is_fitted_what_else_holds() {
    let a = shaft(json!({})).choose("springs", Route::LeaveOff).assess();
    assert_eq!((clashes(&a), open(&a)), (vec![], vec![]));
}

#[test]
fn a_sum_is_open_where_one_of_its_terms_is_not_known() {
    let a = shaft(json!({})).convert("shaft", "plain-shaft").assess();
    assert_eq!(open(&a), ["limit:shaft-drop"]);
    let wanted: Vec<String> = a.to_measure[0].wanted.iter().map(|w| w.key.to_string()).collect();
    assert_eq!(wanted, ["drop@plain-shaft"]);
    let a = shaft(json!({})).convert("shaft", "plain-shaft").measured("drop@plain-shaft", "61 mm").assess();
    assert_eq!(clashes(&a), ["limit:shaft-drop"]);
}

/// A tyre that needs room at full lock; a lock stop is a part that sets the steering lock.
fn lock(fact: Json) -> Least {
    Least::new(json!({
        "classes": ["tyre", "lock-stop"],
        "figures": {"lock": {"kind": "angle"}, "clear-to": {"kind": "angle"}},
        "limits": {"rub": {"calc": "at-most", "inputs": {
            "have": fact, "most": {"class": "tyre", "figure": "clear-to"},
        }}},
        "parts": {
            "narrow": {"class": "tyre", "figures": {"clear-to": "40°"}},
            "wide": {"class": "tyre", "figures": {"clear-to": "30°"}, "price": "200.00 USD"},
            "long-stop": {"class": "lock-stop", "sets": {"lock": "28°"}},
            "short-stop": {"class": "lock-stop", "sets": {"lock": "36°"}, "price": null},
        },
        "vehicle": {
            "positions": {"tyre": {"as_found": "narrow"}, "lock-stop": {}},
            "facts": {"lock": "34°"},
        },
    }))
}

#[test]
fn a_part_that_sets_a_fact_cures_a_limit_that_reads_it() {
    let a = lock(json!({"fact": "lock"})).convert("tyre", "wide").assess();
    assert_eq!((clashes(&a), fitted(&a, "lock-stop")), (vec![], Some("long-stop".to_owned())));
    // the owner says no: it is a clash, and the stop its cure
    let a = lock(json!({"fact": "lock"})).convert("tyre", "wide").choose("lock-stop", Route::Keep).assess();
    assert_eq!(clashes(&a), ["limit:rub"]);
    let cures = a.clashes[0].remedies.iter().filter_map(|r| r.choice.as_ref());
    assert!(cures.into_iter().any(|(position, part)| position == "lock-stop" && part == "long-stop"));
}

/// What the plan puts in goes before what was measured, that before what a part found there sets, that before the library.
#[test]
fn who_says_what_a_fact_is() {
    let clash = |plan: &Least| !clashes(&plan.assess()).is_empty();
    let keep = |plan: Least| plan.convert("tyre", "wide").choose("lock-stop", Route::Keep);
    let plain = lock(json!({"fact": "lock"}));
    assert!(clash(&keep(plain.clone())));
    assert!(!clash(&keep(plain.clone().measured("lock", "29°"))));
    let mut found = plain.clone();
    found.sheet.as_found.insert("lock-stop".to_owned(), Some("long-stop".to_owned()));
    assert!(!clash(&keep(found.clone())));
    assert!(clash(&keep(found.measured("lock", "33°"))));
    let put_in = plain.convert("tyre", "wide").convert("lock-stop", "short-stop").measured("lock", "29°");
    assert!(clash(&put_in));
}

/// A limit is about the vehicles that state what it reads; what the trade says holds where nobody does.
#[test]
fn a_fact_nobody_states_is_none_of_the_limits_business() {
    let mut silent = lock(json!({"fact": "lock"}));
    let unstated = |least: &mut Least| {
        let mut file = least.catalogue.files[0].1.clone();
        file.vehicles.values_mut().for_each(|v| drop(v.facts.remove("lock")));
        least.catalogue = crate::Catalogue::new(vec![("least".to_owned(), file)]).0;
    };
    unstated(&mut silent);
    let a = silent.convert("tyre", "wide").assess();
    assert_eq!((clashes(&a), open(&a), fitted(&a, "lock-stop")), (vec![], vec![], None));
    let mut otherwise = lock(json!({"fact": "lock", "else": "34°"}));
    unstated(&mut otherwise);
    let a = otherwise.convert("tyre", "wide").choose("lock-stop", Route::Keep).assess();
    assert_eq!(clashes(&a), ["limit:rub"]);
}

/// A distributor whose cap nobody has measured may clear the bulkhead: it is offered, to measure, not hidden.
#[test]
fn a_missing_figure_makes_a_cure_one_to_measure() {
    let least = Least::new(json!({
        "classes": ["distributor"],
        "figures": {"cap": {"kind": "length"}},
        "limits": {"bulkhead": {"calc": "at-most", "inputs": {
            "have": {"class": "distributor", "figure": "cap", "optional": true}, "most": {"value": "128 mm"},
        }}},
        "parts": {
            "small-cap": {"class": "distributor", "price": null, "figures": {"cap": "74 mm"}},
            "coil-in-cap": {"class": "distributor", "figures": {"cap": "140 mm"}},
            "no-figure": {"class": "distributor"},
        },
        "vehicle": {"positions": {"distributor": {"as_found": "small-cap"}}},
    }));
    let a = least.convert("distributor", "coil-in-cap").assess();
    let told = remedies(&a);
    let cures: Vec<(&str, bool)> =
        told.iter().map(String::as_str).zip(a.clashes[0].remedies.iter().map(|r| r.to_measure)).collect();
    assert_eq!(
        cures,
        [
            ("keep small-cap as distributor", false),
            ("fit no-figure as distributor, if it measures up", true),
            ("12 mm less (128 mm)", false)
        ]
    );
}
