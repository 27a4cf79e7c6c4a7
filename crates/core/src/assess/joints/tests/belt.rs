//! Where several ports meet, each must agree with each; no bridge goes between. Givers are not compared with givers, nor
//! takers with takers.

use super::{Least, Route, answer, clashes, companions, json};
use crate::assessment::Answer;

/// A belt of 13 mm over three pulleys. The new dynamo wants one of 10 mm, and there are such pulleys.
fn pulleys() -> Least {
    let pulley = |class: &str, width: &str| json!({"class": class, "ports": {"groove": width}});
    Least::new(json!({
        "parts": {
            "old-crank": pulley("crank", "13-mm"), "old-dynamo": pulley("dynamo", "13-mm"),
            "old-fan": pulley("fan", "13-mm"),
            "narrow-crank": pulley("crank", "10-mm"), "narrow-dynamo": pulley("dynamo", "10-mm"),
            "narrow-fan": pulley("fan", "10-mm"),
        },
        "vehicle": {
            "positions": {"crank": "old-crank", "dynamo": "old-dynamo", "fan": "old-fan"},
            "joints": {"belt": ["crank.groove", "dynamo.groove", "fan.groove"]},
        },
    }))
    .convert("dynamo", "narrow-dynamo")
}

#[test]
fn each_end_that_disagrees_with_the_chosen_one_gives_way() {
    let a = pulleys().assess();
    assert_eq!(companions(&a), ["position:crank: 1 narrow-crank", "position:fan: 1 narrow-fan"]);
    assert!(clashes(&a).is_empty());
}

#[test]
fn with_one_end_kept_the_belt_is_a_clash() {
    assert_eq!(clashes(&pulleys().choose("fan", Route::Keep).assess()), ["joint:belt"]);
}

#[test]
fn one_end_gives_way_where_that_closes_the_whole_joint() {
    // a kit brings the dynamo, and there is one for the belt as it was
    let pulley = |class: &str, width: &str| json!({"class": class, "ports": {"groove": width}});
    let a = Least::new(json!({
        "parts": {
            "charging-kit": {"class": "regulator", "contents": ["narrow-dynamo"]},
            "narrow-crank": pulley("crank", "10-mm"), "narrow-dynamo": pulley("dynamo", "10-mm"),
            "narrow-fan": pulley("fan", "10-mm"),
            "old-crank": pulley("crank", "13-mm"), "old-fan": pulley("fan", "13-mm"),
            "wide-dynamo": pulley("dynamo", "13-mm"),
        },
        "vehicle": {
            "positions": {"crank": "old-crank", "dynamo": null, "fan": "old-fan", "regulator": null},
            "joints": {"belt": ["crank.groove", "dynamo.groove", "fan.groove"]},
        },
    }))
    .convert("regulator", "charging-kit")
    .assess();
    assert_eq!(companions(&a), ["position:dynamo: 1 wide-dynamo"]);
}

/// A master cylinder feeds two brakes that do not want the same.
fn brakes(master: &str) -> Option<Answer> {
    let part = |class: &str, role: &str, bore: &str| json!({"class": class, "ports": {"line": {"type": "line", "role": role, "fields": {"bore": bore}}}});
    let a = Least::new(json!({
        "port_types": {"line": {"fields": {"bore": {"kind": "length", "rule": "at-least"}}}},
        "parts": {
            "front-cylinders": part("front", "take", "20 mm"),
            "new-master": part("master", "give", master),
            "rear-cylinders": part("rear", "take", "18 mm"),
        },
        "vehicle": {
            "positions": {"front": "front-cylinders", "master": null, "rear": "rear-cylinders"},
            "joints": {"line": ["front.line", "master.line", "rear.line"]},
        },
    }))
    .convert("master", "new-master")
    .assess();
    answer(&a, "joint:line")
}

#[test]
fn takers_are_not_compared_with_each_other_and_each_with_the_giver() {
    assert_eq!(brakes("20 mm"), Some(Answer::Holds));
    assert_eq!(brakes("19 mm"), Some(Answer::Broken));
}
