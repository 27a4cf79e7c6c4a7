//! Words on where something is: those that name a place, and those that name none.

use serde_json::{Value as Json, json};

use crate::Catalogue;
use crate::library::LibraryFile;

/// A cart with a damper front and rear, with what a test adds to the library.
fn told(add: &Json) -> Vec<String> {
    let mut file = json!({
        "format": 1, "about": "Made up.",
        "systems": {"axles": {"name": "Axles", "order": 1}},
        "figures": {"long": {"name": "length", "kind": "length"}},
        "classes": {
            "damper": {"name": "damper", "decided": "owner"}, "kit": {"name": "kit", "decided": "owner"},
            "clip": {"name": "clip", "free": true},
        },
        "parts": {
            "short": {"name": "Short damper", "class": "damper", "price": "9.00 USD", "figures": {"long": "300 mm"}},
            "wire-clip": {"name": "Clip", "class": "clip", "price": "1.00 USD"},
        },
        "vehicles": {"cart": {"name": "Cart", "about": "A cart.", "positions": {
            "front": {"name": "Front dampers", "system": "axles", "class": "damper", "where": "front"},
            "rear": {"name": "Rear dampers", "system": "axles", "class": "damper", "where": "rear"},
            "kit": {"name": "Kit", "system": "axles", "class": "kit"},
        }}},
    });
    for (table, entries) in add.as_object().into_iter().flatten() {
        if file[table].is_null() {
            file[table] = json!({});
        }
        for (id, entry) in entries.as_object().into_iter().flatten() {
            file[table][id] = entry.clone();
        }
    }
    let file: LibraryFile = serde_json::from_value(file).unwrap_or_default();
    assert!(file.parts.contains_key("short"), "the file reads");
    let (_, faults) = Catalogue::new(vec![("cart".to_owned(), file)]);
    assert!(faults.iter().all(|f| f.warning), "the file holds together: {faults:?}");
    let is_meant =
        |path: &str| path.ends_with("where") || path.ends_with("qty") || path.starts_with("limits");
    let is_meant = |path: &str| is_meant(path) && !path.ends_with(".why") && !path.ends_with(".source");
    faults.iter().filter(|f| is_meant(&f.path)).map(|f| format!("{}: {}", f.path, f.message)).collect()
}

#[test]
fn a_content_for_no_place_is_told_with_the_word_that_may_be_meant() {
    let kit = |place: &str| {
        let content = json!({"part": "short", "qty": 1, "where": place});
        json!({"parts": {"box": {"name": "Box", "class": "kit", "price": "9.00 USD", "contents": [content]}}})
    };
    assert_eq!(told(&kit("front")), Vec::<String>::new());
    assert_eq!(
        told(&kit("frnt")),
        [
            "parts.box.contents[0].where: no place of any vehicle for \"damper\" is \"frnt\"; did you mean \"front\"? \
          Its places say front, rear"
        ]
    );
}

#[test]
fn an_opening_and_a_limit_are_looked_at_too() {
    let opening = |at: &str, class: &str, wanted: &str| {
        let classes = [json!({"class": "damper", "where": at})];
        let wants = [json!({"class": class, "where": wanted})];
        json!({"openings": {"off": {"name": "off", "classes": classes, "wants": wants}}})
    };
    assert_eq!(told(&opening("front", "damper", "rear")), Vec::<String>::new());
    let said = told(&opening("left", "damper", "reer"));
    assert!(said[0].starts_with("openings.off.classes[0].where: no place"), "{said:?}");
    assert!(said[1].contains("did you mean \"rear\"?"), "{said:?}");
    // what lies nowhere has no place to choose from
    assert_eq!(
        told(&opening("front", "clip", "rear")),
        [
            "openings.off.wants[0].where: no vehicle has a place for \"clip\", so \"rear\" chooses none; take it out"
        ]
    );
    let limit = |at: &str| {
        let read = |at: &str| json!({"class": "damper", "where": at, "figure": "long"});
        let least = json!({"sum": [read("rear")], "less": [read(at)]});
        let inputs = json!({"have": read("front"), "want": least});
        json!({"limits": {"l": {"name": "l", "calc": "at-least", "why": "x", "inputs": inputs}}})
    };
    assert_eq!(told(&limit("front")), Vec::<String>::new());
    assert_eq!(told(&limit("middle")).len(), 1);
}

#[test]
fn an_alternative_without_another_is_told() {
    let joint =
        |word: &str| json!({"name": "mount", "either": word, "ends": [{"at": "front", "port": "eye"}]});
    let faults = |a: &str, b: &str| {
        let mut file = json!({
            "format": 1, "about": "Made up.",
            "systems": {"axles": {"name": "Axles", "order": 1}},
            "classes": {"damper": {"name": "damper", "decided": "owner"}},
            "vehicles": {"cart": {"name": "Cart", "about": "A cart.", "positions": {
                "front": {"name": "Front dampers", "system": "axles", "class": "damper"},
            }}},
        });
        file["vehicles"]["cart"]["joints"] = json!({"one": joint(a), "two": joint(b)});
        let file: LibraryFile = serde_json::from_value(file).unwrap_or_default();
        assert!(file.vehicles.contains_key("cart"), "the file reads");
        let (_, faults) = Catalogue::new(vec![("cart".to_owned(), file)]);
        assert!(faults.iter().all(|f| f.warning), "the file holds together: {faults:?}");
        assert!(faults.iter().all(|f| f.warning), "the file holds together: {faults:?}");
        faults.into_iter().filter(|f| f.path.ends_with("either")).map(|f| f.message).collect::<Vec<_>>()
    };
    assert_eq!(faults("upper mount", "upper mount"), Vec::<String>::new());
    let said = faults("upper mount", "upper mounts");
    assert_eq!(said.len(), 2);
    assert!(said[0].contains("did you mean \"upper mounts\"? Give another the same word"), "{said:?}");
}

/// Two dampers go to each end: a box of one leaves the second to nobody.
#[test]
fn a_box_with_fewer_than_go_there_is_told() {
    let kit = |qty: u32, place: &str| {
        let content = if place.is_empty() {
            json!({"part": "short", "qty": qty})
        } else {
            json!({"part": "short", "qty": qty, "where": place})
        };
        json!({"parts": {"box": {"name": "Box", "class": "kit", "price": "9.00 USD", "contents": [content]}}})
    };
    assert_eq!(told(&kit(2, "")), Vec::<String>::new());
    let few = told(&kit(1, ""));
    assert_eq!(few.len(), 1);
    assert!(
        few[0].starts_with("parts.box.contents[0].qty: the box holds 1, and 2 go to front and rear"),
        "{few:?}"
    );
    assert_eq!(told(&kit(1, "front")), Vec::<String>::new());
    // what is too few on one vehicle may be right on another, where it lies in the box
    let mut cab = kit(1, "");
    cab["vehicles"] = json!({"cab": {"name": "Cab", "about": "A cab.", "positions": {
        "kit": {"name": "Kit", "system": "axles", "class": "kit"},
    }}});
    assert_eq!(told(&cab), Vec::<String>::new());
    // no damper at all goes to no place
    assert!(told(&kit(1, "frnt"))[0].contains("no place"));
}

/// A limit is run for each place: without words it compares the front with the front.
#[test]
fn a_limit_that_compares_a_figure_with_itself_is_told() {
    let limit = |other: Json| {
        let inputs = json!({"have": {"class": "damper", "figure": "long", "where": "front"}, "want": other});
        json!({"limits": {"l": {"name": "l", "calc": "at-least", "why": "x", "inputs": inputs}}})
    };
    let other = json!({"class": "damper", "figure": "long", "where": "rear"});
    assert_eq!(told(&limit(other)), Vec::<String>::new());
    let same = json!({"class": "damper", "figure": "long", "where": "front"});
    assert_eq!(
        told(&limit(same)),
        [
            "limits.l.inputs.want: it reads the same figure of the same place as \"have\"; say with \"where\" which place \
          each is about"
        ]
    );
}
