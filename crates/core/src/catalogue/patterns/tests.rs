//! The least examples: what a part has of its patterns, its row and its class, and where it is told what is wrong.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use serde_json::{Value as Json, json};

use super::{Catalogue, Layered};
use crate::layers::Layer;
use crate::library::{Alone, Part, Role, Written};
use crate::sheet::Sheet;

fn layer(files: &[(&str, Json)]) -> Layer<Written<Part>> {
    let read =
        |(name, json): &(&str, Json)| ((*name).to_owned(), serde_json::from_value(json.clone()).unwrap());
    files.iter().map(read).collect()
}

/// What all examples are written in.
fn words() -> Json {
    json!({
        "format": 1,
        "classes": {
            "hose": {"name": "Hose", "free": true, "ports": {
                "a": {"type": "end", "alone": "cap"}, "b": {"type": "end", "role": "give"}
            }},
            "clip": {"name": "Clip", "free": true}
        },
        "figures": {"wide": {"name": "wide", "kind": "length"}, "long": {"name": "long", "kind": "length"}},
        "port_types": {"end": {"name": "end", "fields": {
            "bore": {"name": "bore", "kind": "length", "rule": "equal"}, "hand": {"name": "hand", "kind": "word"}
        }}}
    })
}

fn read(json: Json) -> Layered {
    Catalogue::layered(vec![layer(&[("words.json", words()), ("a.json", json)])])
}

fn part(of: &Layered, id: &str) -> Part {
    (*of.catalogue.part(id).unwrap().part).clone()
}

/// File, path and message of what is told first.
fn told(of: &Layered) -> Vec<(&str, &str, &str)> {
    let list = if of.first > 0 { &of.faults[..of.first] } else { &of.faults[..] };
    list.iter()
        .filter(|f| !f.warning)
        .map(|f| (f.file.as_str(), f.path.as_str(), f.message.as_str()))
        .collect()
}

#[test]
fn a_part_has_what_its_patterns_say_and_its_own_words_go_before() {
    let read = read(json!({
        "patterns": {
            "base": {"class": "clip", "price": "1 USD", "safety": true, "cautions": ["x", "y"], "figures": {"wide": "1 mm"}},
            "steel": {"like": "base", "figures": {"wide": "2 mm", "long": "3 mm"}},
            "dear": {"price": "9 USD"}
        },
        "cautions": {"x": {"danger": "d", "guard": "g"}, "y": {"danger": "d", "guard": "g"}},
        "parts": {
            "plain": {"like": "steel", "name": "Plain"},
            "own": {"like": "steel dear", "name": "Own", "safety": false, "cautions": [], "figures": {"long": "4 mm"}},
            "turned": {"like": "dear steel", "name": "Turned"}
        }
    }));
    assert_eq!(told(&read), []);
    let plain = part(&read, "plain");
    assert_eq!((plain.class.as_str(), plain.like.as_str(), plain.safety), ("clip", "", true));
    assert_eq!(plain.figures, [("long".into(), json!("3 mm")), ("wide".into(), json!("2 mm"))].into());
    let own = part(&read, "own");
    assert_eq!(
        (own.safety, own.cautions.len(), own.price.unwrap().to_string().as_str()),
        (false, 0, "9.00 USD")
    );
    assert_eq!(own.figures["long"], json!("4 mm"));
    assert_eq!(part(&read, "turned").price.unwrap().to_string(), "1.00 USD");
}

#[test]
fn a_class_says_what_a_port_is_and_a_part_which_of_them_it_has() {
    let read = read(json!({"parts": {
        "one": {"name": "One", "class": "hose", "price": "1 USD",
                "ports": {"a": {"fields": {"bore": "8 mm", "hand": "left"}}}},
        "other": {"name": "Other", "class": "hose", "price": "1 USD", "ports": {
            "a": {"fields": {"bore": "8 mm", "hand": "left"}, "alone": "fine"},
            "b": {"fields": {"bore": "6 mm", "hand": "left"}}
        }}
    }}));
    assert_eq!(told(&read), []);
    let (one, other) = (part(&read, "one"), part(&read, "other"));
    assert_eq!(one.ports.keys().collect::<Vec<_>>(), ["a"]);
    assert_eq!((one.ports["a"].port_type.as_str(), one.ports["a"].alone), ("end", Alone::Cap));
    assert_eq!((other.ports["a"].alone, other.ports["b"].role), (Alone::Fine, Role::Give));
}

#[test]
fn a_row_of_a_family_is_a_part() {
    let family = json!({
        "like": "hose",
        "columns": ["name", "ports.a.fields.bore ports.b.fields.bore", "figures.long", "price"],
        "rows": {
            "hose-6": ["Hose, 6 mm", "6 mm", "1 m", "3 USD"],
            "hose-8": ["Hose, 8 mm", "8 mm", null, "4 USD"]
        }
    });
    let pattern = json!({"class": "hose", "bridges": ["a", "b"], "ports": {
        "a": {"fields": {"hand": "left"}}, "b": {"fields": {"hand": "left"}}
    }});
    let read = read(json!({"patterns": {"hose": pattern}, "families": {"hoses": family}}));
    assert_eq!(told(&read), []);
    let (six, eight) = (part(&read, "hose-6"), part(&read, "hose-8"));
    assert_eq!((six.name.as_str(), six.class.as_str()), ("Hose, 6 mm", "hose"));
    assert_eq!(
        six.ports["b"].fields,
        [("bore".into(), json!("6 mm")), ("hand".into(), json!("left"))].into()
    );
    assert_eq!((eight.figures.len(), eight.price.unwrap().to_string().as_str()), (0, "4.00 USD"));
}

#[test]
fn an_upper_pattern_and_an_upper_row_replace_the_lower() {
    let lower = json!({
        "patterns": {"clip": {"class": "clip", "price": "1 USD"}},
        "families": {"clips": {"like": "clip", "columns": ["name"], "rows": {"clip-a": ["A"], "clip-b": ["B"]}}}
    });
    let upper = json!({
        "patterns": {"clip": {"class": "clip", "price": "2 USD"}},
        "families": {"own": {"like": "clip", "columns": ["name"], "rows": {"clip-b": ["Mine"]}}}
    });
    let layers = vec![layer(&[("words.json", words()), ("low.json", lower)]), layer(&[("up.json", upper)])];
    let read = Catalogue::layered(layers);
    assert_eq!(told(&read), []);
    assert_eq!(part(&read, "clip-a").price.unwrap().to_string(), "2.00 USD");
    assert_eq!(part(&read, "clip-b").name, "Mine");
    let replaced: Vec<_> = read.replaced.iter().map(|r| (r.path.as_str(), r.by.as_str())).collect();
    assert_eq!(replaced, [("parts.clip-b", "up.json"), ("patterns.clip", "up.json")]);
}

#[test]
fn a_class_that_replaces_another_keeps_what_that_says_of_ports() {
    let own = json!({"name": "One", "class": "hose", "price": "1 USD", "ports": {
        "a": {"fields": {"bore": "8 mm", "hand": "left"}}, "b": {"fields": {"bore": "8 mm", "hand": "left"}}
    }});
    let upper = json!({"classes": {"hose": {"name": "Pipe", "free": true, "ports": {"b": {"type": "end", "role": "take"}}}}});
    let lower = layer(&[("words.json", words()), ("low.json", json!({"parts": {"one": own}}))]);
    let read = Catalogue::layered(vec![lower, layer(&[("up.json", upper)])]);
    assert_eq!(told(&read), []);
    let one = part(&read, "one");
    assert_eq!((one.ports["a"].port_type.as_str(), one.ports["a"].alone), ("end", Alone::Cap));
    assert_eq!(one.ports["b"].role, Role::Take);
}

#[test]
fn what_is_wrong_is_told_where_its_words_stand() {
    let read = |json| {
        let read = read(json);
        let told: Vec<_> =
            told(&read).iter().map(|(_, path, message)| format!("{path}: {message}")).collect();
        told
    };
    // a wrong word of a pattern, once for all parts that are like it
    let two = json!({"x": {"like": "p", "name": "X"}, "y": {"like": "p", "name": "Y"}});
    let odd = read(
        json!({"patterns": {"p": {"class": "clip", "price": "1 USD", "figures": {"wdie": "1 mm"}}}, "parts": two}),
    );
    assert_eq!(
        odd,
        [
            "patterns.p.figures.wdie: there is no figure \"wdie\"; did you mean \"wide\"? Add it or correct the word"
        ]
    );
    // of a pattern below it, of a part, of a class
    let deep = json!({"patterns": {"p": {"like": "q", "class": "clip"}, "q": {"figures": {"wide": "one"}}}, "parts": two});
    assert!(read(deep)[0].starts_with("patterns.q.figures.wide: "));
    let own = json!({"patterns": {"p": {"class": "clip"}},
        "parts": {"x": {"like": "p", "name": "X", "figures": {"wide": "one"}}}});
    assert!(read(own)[0].starts_with("parts.x.figures.wide: "));
    // unknown, round in a circle, missing
    let unknown =
        json!({"patterns": {"clip": {"class": "clip"}}, "parts": {"x": {"like": "clpi", "name": "X"}}});
    assert_eq!(
        read(unknown),
        ["parts.x.like: there is no pattern \"clpi\"; did you mean \"clip\"? Add it or correct the word"]
    );
    let ring =
        json!({"patterns": {"p": {"like": "q"}, "q": {"like": "r"}, "r": {"like": "q"}}, "parts": two});
    assert_eq!(
        read(ring),
        [
            "patterns.r.like: patterns run round in a circle: \"q\" is like \"r\" is like \"q\"; take one of them out"
        ]
    );
    let both = json!({"patterns": {"x": {"class": "clip"}}, "parts": {"x": {"like": "x", "name": "X"}}});
    assert_eq!(
        read(both),
        ["patterns.x: \"x\" is the id of a part too, and no part is like another; rename the pattern"]
    );
    // a class that nobody knows says nothing of ports: that is told, and not what comes of it
    let class = json!({"parts": {"x": {"name": "X", "class": "hoes", "ports": {"a": {}}}}});
    let told = "parts.x.class: there is no class \"hoes\"; did you mean \"hose\"? Add it or correct the word";
    assert_eq!(read(class), [told]);
    let bare =
        json!({"parts": {"x": {"name": "X"}, "y": {"name": "Y", "class": "clip", "ports": {"a": {}}}}});
    assert_eq!(
        read(bare),
        ["parts.x: \"class\" is missing; add it", "parts.y.ports.a: \"type\" is missing; add it"]
    );
}

#[test]
fn what_is_wrong_with_a_row_is_told_at_its_value() {
    let read = |columns: Json, row: Json| {
        let rows = json!({"x": row});
        let family = json!({"like": "p", "columns": columns, "rows": rows});
        let read =
            read(json!({"patterns": {"p": {"class": "clip", "price": "1 USD"}}, "families": {"f": family}}));
        let told: Vec<_> =
            told(&read).iter().map(|(_, path, message)| format!("{path}: {message}")).collect();
        told.join("\n")
    };
    assert_eq!(read(json!(["name", "figures.wide"]), json!(["X", "1 mm"])), "");
    let told = read(json!(["name", "figures.wide"]), json!(["X", "one"]));
    assert!(told.starts_with("families.f.rows.x[1]: "), "{told}");
    assert_eq!(
        read(json!(["name", "figuers.wide"]), json!(["X", "1 mm"])),
        "families.f.columns[1]: the word \"figuers\" is not known here; did you mean \"figures\"?"
    );
    assert!(
        read(json!(["name", "hours"]), json!(["X", "1 h"]))
            .starts_with("families.f.rows.x[1]: expected a number")
    );
    let short = read(json!(["name", "hours"]), json!(["X"]));
    assert_eq!(
        short,
        "families.f.rows.x: expected 2 values, one for each column, found 1; write null where nothing is said"
    );
    assert!(read(json!(["name", "clean", "clean.hours"]), json!(["X", null, 1])).contains("columns[2]: "));
    assert!(read(json!([]), json!([])).contains("families.f.columns: expected 1 to 64 columns, found 0"));
    assert!(read(json!(["name", ""]), json!(["X", 1])).contains("families.f.columns[1]: expected the path"));
    assert!(
        read(json!(["name", "like"]), json!(["X", "q"]))
            .starts_with("families.f.rows.x[1]: there is no pattern")
    );
}

#[test]
fn what_nobody_is_like_and_a_port_that_no_part_has_are_odd() {
    let mut words = words();
    words["classes"]["clip"]["ports"] = json!({"jaw": {"type": "end"}, "jaws": {"role": "give"}});
    let more = json!({
        "patterns": {"p": {"class": "clip"}, "nobody": {"class": "clip"}},
        "parts": {"x": {"like": "p", "name": "X", "price": "1 USD", "ports": {"jaw": {"fields": {"bore": "1 mm", "hand": "left"}}}}}
    });
    let read = Catalogue::layered(vec![layer(&[("words.json", words), ("a.json", more)])]);
    let odd: Vec<_> = read.faults.iter().map(|f| format!("{}: {}", f.path, f.message)).collect();
    assert!(odd.contains(
        &"patterns.nobody: no part is like this pattern; have one be like it, or take it out".to_owned()
    ));
    let port = "classes.clip.ports.jaws: no part of this class has a port \"jaws\"; did you mean \"jaw\"? Correct the word \
                or take it out";
    assert!(odd.contains(&port.to_owned()), "{odd:#?}");
    assert!(
        !odd.iter().any(|text| text.starts_with("patterns.p:") || text.contains("ports.jaw:")),
        "{odd:#?}"
    );
}

#[test]
fn a_part_of_a_sheet_may_be_like_a_pattern_of_the_library() {
    let read =
        read(json!({"patterns": {"p": {"class": "clip", "price": "1 USD", "figures": {"wide": "1 mm"}}},
        "parts": {"x": {"like": "p", "name": "X"}}}));
    let sheet = |parts: Json| -> Sheet {
        let text = json!({"format": 1, "name": "", "vehicle": "", "plan": "", "plans": {}, "parts": parts});
        serde_json::from_value(text).unwrap()
    };
    let mine = sheet(json!({"mine": {"like": "p", "name": "Mine", "figures": {"long": "2 mm"}}}));
    let grown = read.catalogue.for_sheet(&mine);
    let part = &grown.part("mine").unwrap().part;
    assert_eq!((part.class.as_str(), part.figures.len()), ("clip", 2));
    assert_eq!(read.catalogue.parts_of(&mine)["mine"], **part);
    let written = serde_json::to_value(&mine).unwrap();
    assert_eq!(written["parts"]["mine"], json!({"like": "p", "name": "Mine", "figures": {"long": "2 mm"}}));
    let odd = sheet(json!({"mine": {"like": "q", "name": "Mine"}}));
    let (_, faults) = read.catalogue.with_parts(&odd.parts);
    assert!(
        faults.iter().any(|f| f.path == "parts.mine.like" && f.message.contains("no pattern \"q\"")),
        "{faults:?}"
    );
}

#[test]
fn a_few_lines_cannot_ask_for_more_than_there_is() {
    // each pattern is like sixteen times the one before it
    let many = |n: usize| (0..16).map(|_| format!("p{n:02}")).collect::<Vec<_>>().join(" ");
    let mut patterns = serde_json::Map::new();
    patterns.insert("p00".to_owned(), json!({"class": "clip", "note": "x".repeat(1000)}));
    for n in 1..15 {
        patterns.insert(format!("p{n:02}"), json!({"like": many(n - 1)}));
    }
    let small =
        read(json!({"patterns": patterns, "parts": {"x": {"like": "p14", "name": "X", "price": "1 USD"}}}));
    assert_eq!((told(&small), part(&small, "x").note.len()), (vec![], 1000));
    // one more in a row than may be
    for n in 15..20 {
        patterns.insert(format!("p{n:02}"), json!({"like": format!("p{:02}", n - 1)}));
    }
    let long = read(json!({"patterns": patterns, "parts": {"x": {"like": "p19", "name": "X"}}}));
    assert!(told(&long).iter().any(|(.., text)| text.contains("more than 16 patterns")), "{:?}", told(&long));
    // a large pattern for many parts
    let parts: serde_json::Map<String, Json> =
        (0..2_000).map(|n| (format!("x{n}"), json!({"like": "p", "name": "X"}))).collect();
    let large =
        read(json!({"patterns": {"p": {"class": "clip", "note": "x".repeat(200_000)}}, "parts": parts}));
    let said = told(&large);
    assert!(said.len() == 1 && said[0].2.contains("more than 128 MB"), "{said:?}");
}
