//! An entry that two libraries both have: what differs between the two, and a file in which one of them gives way.
//!
//! An entry goes by its path, as [`crate::layers::Replaced`] tells it: `parts.pump-small`,
//! `vehicles.mill-van.positions.heater`.

use serde_json::{Map, Value as Json};

/// One thing in which two entries differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What it is, in words of the entry: "inlet, bore".
    pub what: String,
    /// As the one has it: "8 mm"; "nothing" where it says nothing.
    pub mine: String,
    /// As the other has it.
    pub theirs: String,
}

/// Where an entry stands in a file.
struct Place<'a> {
    vehicle: Option<&'a str>,
    table: &'a str,
    /// `None`: the word itself is the entry.
    id: Option<&'a str>,
}

impl<'a> Place<'a> {
    fn of(path: &'a str) -> Self {
        let inside = path.strip_prefix("vehicles.").and_then(|rest| rest.split_once('.'));
        let (vehicle, rest) = inside.map_or((None, path), |(vehicle, rest)| (Some(vehicle), rest));
        let (table, id) = rest.split_once('.').map_or((rest, None), |(table, id)| (table, Some(id)));
        Self { vehicle, table, id }
    }
}

/// What kind of entry a path leads to, in words: "part", "port type", "place of a vehicle".
#[must_use]
pub fn kind(path: &str) -> &'static str {
    let place = Place::of(path);
    match (place.vehicle, place.table) {
        (None, "parts") => "part",
        (None, "systems") => "system",
        (None, "classes") => "class",
        (None, "figures") => "figure",
        (None, "needs") => "need",
        (None, "pools") => "pool",
        (None, "port_types") => "port type",
        (None, "limits") => "limit",
        (None, "openings") => "opening",
        (None, "cautions") => "caution",
        (None, "operations") => "operation",
        (None, "orders") => "rule of the order of work",
        (None, "checks") => "check",
        (None, "cards") => "card",
        (None, "inspections") => "inspection",
        (None, "zones") => "zone of the survey",
        (None, "stages") => "stage",
        (None, "aims") => "aim",
        (None, "patterns") => "pattern of parts",
        (None, "drawings") => "drawing",
        (None, "prices_hold") => "how long prices hold",
        (None, "first_time") => "hours of a first time",
        (Some(_), "positions") => "place of a vehicle",
        (Some(_), "joints") => "joint of a vehicle",
        (Some(_), "circuits") => "circuit of a vehicle",
        (Some(_), "facts") => "figure of a vehicle",
        (Some(_), "gives") => "what a vehicle gives",
        (Some(_), "offers") => "what a vehicle supplies",
        _ => "entry",
    }
}

/// Whether both can stand beside each other, one under another id. A word of the library has one meaning: only of parts there
/// may be two alike.
#[must_use]
pub fn can_stand_beside(path: &str) -> bool {
    let place = Place::of(path);
    (place.vehicle, place.table) == (None, "parts") && place.id.is_some()
}

/// The id at the end of a path; the whole of it where it has none.
#[must_use]
pub fn id(path: &str) -> &str {
    Place::of(path).id.unwrap_or(path)
}

/// An entry of a file, parts in full; `None`: it is not there.
#[must_use]
pub fn entry<'a>(file: &'a Json, path: &str) -> Option<&'a Json> {
    let Place { vehicle, table, id } = Place::of(path);
    let whole = vehicle.map_or(Some(file), |vehicle| file.get("vehicles")?.get(vehicle))?;
    let table = whole.get(table)?;
    id.map_or(Some(table), |id| table.get(id))
}

/// What an entry is called: its name, else its id.
#[must_use]
pub fn name(entry: &Json, path: &str) -> String {
    let said = |word: &str| entry.get(word).and_then(Json::as_str).filter(|name| !name.trim().is_empty());
    said("name").or_else(|| said("danger")).unwrap_or_else(|| id(path)).to_owned()
}

/// In what two entries differ, in the order of the first.
#[must_use]
pub fn differences(mine: &Json, theirs: &Json) -> Vec<Difference> {
    let mut out = Vec::new();
    compare(&mut Vec::new(), Some(mine), Some(theirs), &mut out);
    out
}

/// Says nothing: a word that is not written and one that is written empty mean the same.
fn is_nothing(json: Option<&Json>) -> bool {
    match json {
        None | Some(Json::Null) => true,
        Some(Json::String(text)) => text.is_empty(),
        Some(Json::Array(list)) => list.is_empty(),
        Some(Json::Object(table)) => table.values().all(|inside| is_nothing(Some(inside))),
        Some(_) => false,
    }
}

fn compare(at: &mut Vec<String>, mine: Option<&Json>, theirs: Option<&Json>, out: &mut Vec<Difference>) {
    if mine == theirs || is_nothing(mine) && is_nothing(theirs) {
        return;
    }
    let (one, other) = (pieces(mine), pieces(theirs));
    if one.is_none() && other.is_none() || !is_whole(mine) || !is_whole(theirs) {
        let (mine, theirs) = (shown(mine), shown(theirs));
        out.push(Difference { what: words(at), mine, theirs });
        return;
    }
    let (one, other) = (one.unwrap_or_default(), other.unwrap_or_default());
    let get = |all: &[(String, &'_ Json)], key: &str| all.iter().position(|(k, _)| k == key);
    let more = other.iter().filter(|(key, _)| get(&one, key).is_none());
    for key in one.iter().chain(more).map(|(key, _)| key) {
        at.push(key.clone());
        let here = get(&one, key).and_then(|n| one.get(n)).map(|(_, json)| *json);
        let there = get(&other, key).and_then(|n| other.get(n)).map(|(_, json)| *json);
        compare(at, here, there, out);
        at.pop();
    }
}

/// The pieces of a table, or of a list of tables by their numbers; `None`: it is told as a whole.
fn pieces(json: Option<&Json>) -> Option<Vec<(String, &Json)>> {
    match json? {
        Json::Object(table) => Some(table.iter().map(|(key, inside)| (key.clone(), inside)).collect()),
        Json::Array(list) if list.iter().any(Json::is_object) => {
            Some(list.iter().enumerate().map(|(n, inside)| ((n + 1).to_string(), inside)).collect())
        }
        _ => None,
    }
}

/// Has pieces, or is nothing that could have some.
fn is_whole(json: Option<&Json>) -> bool {
    is_nothing(json) || pieces(json).is_some()
}

/// A path below an entry in words, without those that only say which table it is.
fn words(at: &[String]) -> String {
    const TABLES: [&str; 5] = ["ports", "fields", "figures", "positions", "rows"];
    let told = at.iter().filter(|step| !TABLES.contains(&step.as_str()));
    let told: Vec<String> = told.map(|step| step.replace(['_', '-'], " ")).collect();
    if told.is_empty() { "what it says".to_owned() } else { told.join(", ") }
}

fn shown(json: Option<&Json>) -> String {
    if is_nothing(json) {
        return "nothing".to_owned();
    }
    match json {
        Some(Json::String(text)) => text.clone(),
        Some(Json::Bool(yes)) => if *yes { "yes" } else { "no" }.to_owned(),
        Some(Json::Array(list)) => list.iter().map(|one| shown(Some(one))).collect::<Vec<_>>().join(", "),
        Some(other) => other.to_string(),
        None => String::new(),
    }
}

/// Takes an entry out of a file, also where it is a row of a family; whether it was there.
pub fn taken_out(file: &mut Json, path: &str) -> bool {
    let Place { vehicle, table, id } = Place::of(path);
    let whole = match vehicle {
        None => file.as_object_mut(),
        Some(vehicle) => file.get_mut("vehicles").and_then(|all| all.get_mut(vehicle)?.as_object_mut()),
    };
    let Some(whole) = whole else { return false };
    let Some(id) = id else { return whole.shift_remove(table).is_some() };
    if vehicle.is_none()
        && table == "parts"
        && let Some(rows) = rows_with(whole, id)
    {
        return rows.shift_remove(id).is_some();
    }
    let Some(entries) = whole.get_mut(table).and_then(Json::as_object_mut) else { return false };
    let was_there = entries.shift_remove(id).is_some();
    // an empty table says nothing
    if was_there && entries.is_empty() {
        whole.shift_remove(table);
    }
    was_there
}

/// The rows of the family that has a part as one of them.
fn rows_with<'a>(file: &'a mut Map<String, Json>, part: &str) -> Option<&'a mut Map<String, Json>> {
    let families = file.get_mut("families")?.as_object_mut()?;
    let mut rows = families.values_mut().filter_map(|family| family.get_mut("rows")?.as_object_mut());
    rows.find(|rows| rows.contains_key(part))
}

/// Gives a part of a file another id, and has the file name it so wherever it names parts: in the box of a kit, and as found
/// in a place. Whether something was changed.
pub fn renamed(file: &mut Json, part: &str, to: &str) -> bool {
    let mut changed = false;
    if let Some(file) = file.as_object_mut() {
        if let Some(rows) = rows_with(file, part) {
            changed |= with_key(rows, part, to);
        }
        if let Some(parts) = file.get_mut("parts").and_then(Json::as_object_mut) {
            changed |= with_key(parts, part, to);
        }
    }
    changed | named(file, part, to)
}

/// The same table with another key at the same place.
fn with_key(table: &mut Map<String, Json>, key: &str, to: &str) -> bool {
    if !table.contains_key(key) {
        return false;
    }
    let old = std::mem::take(table);
    table.extend(
        old.into_iter().map(|(id, entry)| if id == key { (to.to_owned(), entry) } else { (id, entry) }),
    );
    true
}

/// Only contents and places name parts.
fn named(json: &mut Json, part: &str, to: &str) -> bool {
    match json {
        Json::Array(list) => list.iter_mut().fold(false, |any, one| any | named(one, part, to)),
        Json::Object(table) => {
            let mut changed = false;
            for (word, inside) in table {
                if matches!(word.as_str(), "part" | "as_found") && inside.as_str() == Some(part) {
                    *inside = Json::String(to.to_owned());
                    changed = true;
                } else {
                    changed |= named(inside, part, to);
                }
            }
            changed
        }
        _ => false,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use serde_json::{Value as Json, json};

    use super::{can_stand_beside, differences, entry, kind, name, renamed, taken_out};

    fn told(mine: &Json, theirs: &Json) -> Vec<String> {
        let all = differences(mine, theirs).into_iter();
        all.map(|d| format!("{}: {} | {}", d.what, d.mine, d.theirs)).collect()
    }

    #[test]
    fn each_thing_that_differs_is_told_once_and_in_words() {
        let mine = json!({"name": "Pump", "price": "40.00 USD", "hours": 1.5, "safety": false, "note": "",
            "ports": {"inlet": {"type": "barb", "fields": {"bore": "6 mm"}}},
            "contents": [{"part": "clip", "qty": 2}], "not_in_box": ["hose"]});
        let theirs = json!({"name": "Pump", "price": "45.00 USD", "hours": 1.5, "safety": true,
            "ports": {"inlet": {"type": "barb", "fields": {"bore": "8 mm"}}, "outlet": {"type": "barb"}},
            "contents": [{"part": "clip", "qty": 3}]});
        assert_eq!(
            told(&mine, &theirs),
            [
                "price: 40.00 USD | 45.00 USD",
                "safety: no | yes",
                "inlet, bore: 6 mm | 8 mm",
                "outlet, type: nothing | barb",
                "contents, 1, qty: 2 | 3",
                "not in box: hose | nothing"
            ]
        );
        assert_eq!(told(&mine, &mine), [""; 0]);
        assert_eq!(told(&json!("40 mm"), &json!("41 mm")), ["what it says: 40 mm | 41 mm"]);
        assert_eq!(told(&json!({"note": null, "like": {}}), &json!({})), [""; 0], "nothing is nothing");
        assert_eq!(told(&json!({"a": {"b": 1}}), &json!({"a": "x"})), ["a: {\"b\":1} | x"]);
    }

    #[test]
    fn an_entry_is_found_by_its_path_and_goes_out_of_its_file() {
        let mut file = json!({"format": 1, "prices_hold": "1 year", "cautions": {"fire": {"danger": "Fire"}},
            "parts": {"a": {"name": "A"}},
            "families": {"clips": {"like": "clip", "columns": ["name"], "rows": {"clip-a": ["A"], "clip-b": ["B"]}}},
            "vehicles": {"van": {"name": "Van", "positions": {"heater": {"name": "Heater"}}}}});
        assert_eq!(name(entry(&file, "parts.a").unwrap(), "parts.a"), "A");
        assert_eq!(name(entry(&file, "cautions.fire").unwrap(), "cautions.fire"), "Fire");
        assert_eq!(name(entry(&file, "prices_hold").unwrap(), "prices_hold"), "prices_hold");
        assert!(entry(&file, "vehicles.van.positions.heater").is_some());
        assert!(entry(&file, "vehicles.van.joints.heater").is_none());
        for path in ["parts.a", "parts.clip-a", "vehicles.van.positions.heater", "prices_hold"] {
            assert!(taken_out(&mut file, path), "{path}");
            assert!(!taken_out(&mut file, path), "{path} is out already");
        }
        assert_eq!(
            file,
            json!({"format": 1, "cautions": {"fire": {"danger": "Fire"}},
                "families": {"clips": {"like": "clip", "columns": ["name"], "rows": {"clip-b": ["B"]}}},
                "vehicles": {"van": {"name": "Van"}}})
        );
    }

    #[test]
    fn a_part_under_another_id_is_named_so_wherever_parts_are_named() {
        let mut file = json!({"parts": {
                "pump": {"name": "pump", "note": "pump", "class": "pump"},
                "kit": {"contents": [{"part": "pump"}, {"part": "clip"}]}},
            "vehicles": {"van": {"positions": {"pump": {"class": "pump", "as_found": "pump"}}}}});
        assert!(renamed(&mut file, "pump", "pump-mine"));
        assert_eq!(
            file,
            json!({"parts": {
                "pump-mine": {"name": "pump", "note": "pump", "class": "pump"},
                "kit": {"contents": [{"part": "pump-mine"}, {"part": "clip"}]}},
            "vehicles": {"van": {"positions": {"pump": {"class": "pump", "as_found": "pump-mine"}}}}})
        );
        let mut rows = json!({"families": {"f": {"rows": {"x": [1], "y": [2]}}}});
        assert!(renamed(&mut rows, "x", "z") && !renamed(&mut rows, "x", "z"));
        assert_eq!(rows.to_string(), r#"{"families":{"f":{"rows":{"z":[1],"y":[2]}}}}"#, "at its place");
    }

    #[test]
    fn only_of_parts_there_may_be_two() {
        assert!(can_stand_beside("parts.pump"));
        for path in ["classes.pump", "vehicles.van.positions.parts", "prices_hold"] {
            assert!(!can_stand_beside(path), "{path}");
            assert_ne!(kind(path), "entry", "{path}");
        }
    }
}
