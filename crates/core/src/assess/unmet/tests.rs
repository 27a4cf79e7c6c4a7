//! Advice that cannot be met says so, and what nothing supplies is told with the figures that miss.

use serde_json::{Value as Json, json};

use super::super::least::{Least, clashes, companions};
use crate::assessment::Assessment;
use crate::explain::{half_line, unmet_line};
use crate::sheet::Route;

/// A heater that wants current of the charging system, and what there is to give it.
fn heater(word: &str, amps: &str) -> Json {
    json!({
        "classes": {"heater": {}, "generator": {}},
        "needs": {"charge": {"name": "charging current", "kind": "current"}},
        "parts": {
            "new-heater": {"name": "Heater", "class": "heater", word: {"charge": amps}},
            "dynamo": {"name": "Dynamo, 22 A", "class": "generator", "offers": {"charge": "22 A"}},
            "alternator": {"name": "Alternator, small", "class": "generator", "offers": {"charge": "65 A"}},
        },
        "vehicle": {"positions": {"heater": {}, "generator": {"as_found": "dynamo"}}},
    })
}

fn told(a: &Assessment) -> Vec<String> {
    a.unmet.iter().map(|u| unmet_line(a, u, crate::showing::Measure::Metric)).collect()
}

#[test]
fn advice_that_nothing_meets_is_told_and_is_no_clash() {
    let a = Least::new(heater("advises", "100 A")).convert("heater", "new-heater").assess();
    assert!(clashes(&a).is_empty() && companions(&a).is_empty());
    assert_eq!(a.unmet[0].key, "need:heater:new-heater:charge");
    assert_eq!(a.unmet[0].positions, ["heater"]);
    assert_eq!(
        told(&a),
        [
            "the heater is better with charging current, 100 A, but nothing in the library supplies it here: the most is 65 A, \
          from Alternator, small"
        ]
    );
}

#[test]
fn advice_whose_place_is_taken_says_by_what() {
    let a = Least::new(heater("advises", "60 A")).convert("heater", "new-heater").assess();
    assert_eq!(
        told(&a),
        [
            "the heater is better with charging current, 60 A, but nothing fitted supplies it, and a part for it would go in as \
          generator, where there is Dynamo, 22 A"
        ]
    );
    let a = Least::new(heater("advises", "60 A"))
        .convert("heater", "new-heater")
        .choose("generator", Route::LeaveOff);
    assert!(told(&a.assess())[0].ends_with("would go in as generator, which is left empty"));
    // and what is met is not told
    let a = Least::new(heater("advises", "20 A")).convert("heater", "new-heater").assess();
    assert!(told(&a).is_empty());
}

#[test]
fn what_nothing_supplies_is_told_with_the_figure_that_misses() {
    let a = Least::new(heater("needs", "100 A")).convert("heater", "new-heater").assess();
    assert_eq!(clashes(&a), ["need:heater:new-heater:charge"]);
    assert!(a.unmet.is_empty());
    assert_eq!(
        half_line(&a, a.clashes[0].reason, crate::showing::Measure::Metric),
        "nothing in the library supplies charging current, 100 A, here: the most is 65 A, from Alternator, small"
    );
}

/// A circuit wants its pressure held inside a window.
fn valve(offers: &[(&str, &str)]) -> String {
    let mut json = json!({
        "classes": {"brakes": {}, "valve": {"free": true}},
        "needs": {"held": {"name": "pressure held", "kind": "pressure", "rule": "inside"}},
        "parts": {"discs": {"class": "brakes", "needs": {"held": "2 to 4 psi"}}},
        "vehicle": {"positions": {"brakes": {}}},
    });
    for (id, held) in offers {
        json["parts"][*id] = json!({"class": "valve", "offers": {"held": held}});
    }
    let a = Least::new(json).convert("brakes", "discs").assess();
    half_line(&a, a.clashes[0].reason, crate::showing::Measure::Inch)
}

#[test]
fn what_lies_outside_a_window_is_told_by_the_nearest() {
    let told = valve(&[("drum-valve", "8 to 12 psi"), ("wide-valve", "1 to 5 psi")]);
    assert_eq!(
        told,
        "nothing in the library supplies pressure held, 2 to 4 psi, here: the nearest is 1 to 5 psi, from wide-valve"
    );
    let told = valve(&[("old-valve", "unknown: gauge in the line")]);
    assert_eq!(
        told,
        "nothing in the library supplies pressure held, 2 to 4 psi, here: what old-valve supplies is not known"
    );
    assert_eq!(valve(&[]), "nothing in the library supplies pressure held, 2 to 4 psi, here");
}
