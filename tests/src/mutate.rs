//! Changes one place of a JSON value as a hand does that writes it wrong: a word misspelt, left out, or of another type.

use fastrand::Rng;
use serde_json::{Map, Value as Json, json};

/// A copy with one place changed, and what was done to it.
#[must_use]
pub fn mutated(random: &mut Rng, whole: &Json) -> (Json, String) {
    let mut copy = whole.clone();
    let mut places = Vec::new();
    collect(whole, &mut Vec::new(), &mut places);
    let place = places[random.usize(..places.len())].clone();
    let shown = place.iter().map(Step::shown).collect::<Vec<_>>().join(".");
    let Some((last, above)) = place.split_last() else { return (copy, "nothing".to_owned()) };
    let mut at = &mut copy;
    for step in above {
        let Some(next) = (match step {
            Step::Key(key) => at.get_mut(key),
            Step::Item(n) => at.get_mut(n),
        }) else {
            return (whole.clone(), "nothing".to_owned());
        };
        at = next;
    }
    let done = match (last, at) {
        (Step::Key(key), Json::Object(table)) => in_table(random, table, key),
        (Step::Item(n), Json::Array(list)) => {
            if random.bool() {
                list.remove(*n);
                "taken out".to_owned()
            } else {
                list[*n] = other(random, &list[*n]);
                format!("now {}", list[*n])
            }
        }
        _ => "nothing".to_owned(),
    };
    (copy, format!("{shown}: {done}"))
}

#[derive(Clone)]
enum Step {
    Key(String),
    Item(usize),
}

impl Step {
    fn shown(&self) -> String {
        match self {
            Self::Key(key) => key.clone(),
            Self::Item(n) => n.to_string(),
        }
    }
}

fn collect(value: &Json, way: &mut Vec<Step>, places: &mut Vec<Vec<Step>>) {
    if !way.is_empty() {
        places.push(way.clone());
    }
    match value {
        Json::Object(table) => {
            for (key, value) in table {
                way.push(Step::Key(key.clone()));
                collect(value, way, places);
                way.pop();
            }
        }
        Json::Array(list) => {
            for (n, value) in list.iter().enumerate() {
                way.push(Step::Item(n));
                collect(value, way, places);
                way.pop();
            }
        }
        _ => {}
    }
}

fn in_table(random: &mut Rng, table: &mut Map<String, Json>, key: &str) -> String {
    match random.u8(0..4) {
        0 => {
            table.remove(key);
            "left out".to_owned()
        }
        1 => {
            let mut word: Vec<char> = key.chars().collect();
            let at = random.usize(..word.len().max(1));
            if word.len() > 1 && random.bool() {
                word.remove(at);
            } else {
                word.insert(at, 'x');
            }
            let word: String = word.into_iter().collect();
            if let Some(value) = table.remove(key) {
                table.insert(word.clone(), value);
            }
            format!("written \"{word}\"")
        }
        _ => {
            let Some(value) = table.get_mut(key) else { return "nothing".to_owned() };
            *value = other(random, value);
            format!("now {value}")
        }
    }
}

/// Another value in place of this one.
fn other(random: &mut Rng, value: &Json) -> Json {
    let text = value.as_str().unwrap_or("word");
    match random.u8(0..16) {
        0 => Json::Null,
        1 => json!(true),
        2 => json!(0),
        3 => json!(-1),
        4 => json!(1.5),
        5 => json!(""),
        6 => json!(format!(" {text} ")),
        7 => json!("word"),
        8 => json!([]),
        9 => json!({}),
        10 => json!([value]),
        11 => json!({text: null}),
        12 => json!({text: value}),
        13 => json!(format!("{text}s")),
        14 => json!([value, value]),
        _ => json!("unknown: tape"),
    }
}
