//! What can never come into use: each told where its condition just holds, and not where it just fails.

use serde_json::{Value as Json, json};

use crate::Catalogue;
use crate::library::LibraryFile;

/// A cart with a pump in its place; what a test adds lies over it.
fn warnings(more: &[(&str, Json)]) -> Vec<String> {
    let mut file = json!({
        "format": 1,
        "systems": {"all": {"name": "All"}},
        "classes": {"pump": {"name": "Pump", "decided": "owner"}},
        "figures": {"bore": {"name": "bore", "kind": "length"}, "weight": {"name": "weight", "kind": "mass"}},
        "parts": {"old-pump": {"name": "Pump", "class": "pump", "figures": {"bore": "20 mm"}}},
        "vehicles": {"cart": {"name": "Cart",
            "positions": {"pump": {"name": "Pump", "system": "all", "class": "pump", "as_found": "old-pump"}},
            "circuits": {}
        }}
    });
    for (path, value) in more {
        let mut at = &mut file;
        for step in path.split('/') {
            if at[step].is_null() {
                at[step] = json!({});
            }
            at = &mut at[step];
        }
        *at = value.clone();
    }
    let file: LibraryFile = serde_json::from_value(file).unwrap();
    let (_, faults) = Catalogue::new(vec![("cart".to_owned(), file)]);
    assert!(faults.iter().all(|f| f.warning), "{faults:?}");
    faults.into_iter().map(|f| format!("{}: {}", f.path, f.message)).collect()
}

fn only(more: &[(&str, Json)], path: &str, says: &str) {
    let told = warnings(more);
    assert!(
        matches!(&told[..], [one] if one.starts_with(&format!("{path}: ")) && one.contains(says)),
        "{told:?}"
    );
}

fn part(class: &str) -> Json {
    json!({"name": "Part", "class": class, "price": "1 USD"})
}

fn limit(input: Json) -> Json {
    json!({"name": "l", "calc": "at-most", "why": "w", "source": "common practice",
        "inputs": {"have": input, "most": {"value": "1 m"}}})
}

#[test]
fn nothing_is_told_of_what_is_used() {
    assert_eq!(warnings(&[]), [""; 0]);
}

#[test]
fn a_class_whose_parts_have_no_place_is_free_or_lies_in_a_box() {
    let clip = ("classes/clip", json!({"name": "Clip"}));
    let with = ("parts/wire-clip", part("clip"));
    only(&[clip.clone(), with.clone()], "classes.clip", "write \"free\": true");
    assert_eq!(warnings(&[("classes/clip", json!({"name": "Clip", "free": true})), with.clone()]), [""; 0]);
    let kit = json!({"name": "Kit", "class": "pump", "price": "1 USD", "contents": [{"part": "wire-clip"}]});
    assert_eq!(warnings(&[clip, with, ("parts/kit", kit)]), [""; 0]);
}

#[test]
fn a_class_of_nothing_is_told_unless_something_speaks_of_it() {
    let clip = ("classes/clip", json!({"name": "Clip", "free": true}));
    only(std::slice::from_ref(&clip), "classes.clip", "nothing is of this class");
    let place = json!({"name": "Clip", "system": "all", "class": "clip"});
    assert_eq!(warnings(&[clip, ("vehicles/cart/positions/clip", place)]), [""; 0]);
}

#[test]
fn a_need_that_stands_alone_is_told() {
    let need = ("needs/feed", json!({"name": "feed", "kind": "present"}));
    only(std::slice::from_ref(&need), "needs.feed", "nobody needs it");
    assert_eq!(warnings(&[need, ("vehicles/cart/offers", json!({"feed": "present"}))]), [""; 0]);
}

#[test]
fn a_limit_on_a_figure_nobody_has_is_told() {
    let of = |figure: &str| limit(json!({"class": "pump", "figure": figure}));
    assert_eq!(warnings(&[("limits/l", of("bore"))]), [""; 0]);
    let stroke = ("figures/stroke", json!({"name": "stroke", "kind": "length"}));
    only(
        &[stroke.clone(), ("limits/l", of("stroke"))],
        "limits.l.inputs.have",
        "no part of the class \"pump\"",
    );
    let otherwise = limit(json!({"class": "pump", "figure": "stroke", "else": "1 mm"}));
    assert_eq!(warnings(&[stroke.clone(), ("limits/l", otherwise)]), [""; 0]);
    let summed =
        limit(json!({"sum": [{"class": "pump", "figure": "bore"}, {"class": "pump", "figure": "stroke"}]}));
    only(&[stroke.clone(), ("limits/l", summed)], "limits.l.inputs.have", "\"stroke\"");
    let figures = ("vehicles/cart/positions/pump/figures", json!({"stroke": "1 mm"}));
    assert_eq!(warnings(&[stroke, ("limits/l", of("stroke")), figures]), [""; 0]);
}

#[test]
fn a_limit_on_a_fact_nobody_states_is_told() {
    let fact = ("limits/l", limit(json!({"fact": "bore"})));
    only(std::slice::from_ref(&fact), "limits.l.inputs.have", "no vehicle states \"bore\"");
    assert_eq!(warnings(&[fact.clone(), ("vehicles/cart/facts", json!({"bore": "unknown: rule"}))]), [""; 0]);
    assert_eq!(warnings(&[fact, ("parts/old-pump/sets", json!({"bore": "1 mm"}))]), [""; 0]);
}

#[test]
fn a_want_of_a_class_without_parts_is_told() {
    let opening =
        json!({"name": "pump off", "classes": ["pump"], "wants": [{"class": "clip", "why": "it bends"}]});
    let clip = ("classes/clip", json!({"name": "Clip", "free": true}));
    only(
        &[clip.clone(), ("openings/o", opening.clone())],
        "openings.o.wants[0].class",
        "no part is of the class",
    );
    assert_eq!(warnings(&[clip, ("openings/o", opening), ("parts/wire-clip", part("clip"))]), [""; 0]);
}

#[test]
fn fluid_for_a_circuit_nobody_has_is_told_with_the_word_that_may_be_meant() {
    let circuit = json!({"name": "Oil", "fluid": "oil", "capacity": "4 L", "positions": ["pump"]});
    let mut slip = vec![
        ("classes/oil", json!({"name": "Oil", "free": true})),
        ("parts/oil-can", part("oil")),
        ("vehicles/cart/circuits/engine-oil", circuit),
        ("parts/old-pump/holds", json!({"engin-oil": "1 L"})),
    ];
    only(&slip, "parts.old-pump.holds.engin-oil", "did you mean \"engine-oil\"?");
    slip[3].1 = json!({"engine-oil": "1 L"});
    assert_eq!(warnings(&slip), [""; 0]);
}
