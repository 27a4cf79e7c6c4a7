//! Values measured at ports of parts: which field a key of the sheet names, and the part with what was measured there.
//!
//! The key is `port.field@part`. A figure id has neither dot nor `@`, so that no key means two things.

use std::borrow::Cow;
use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::{Catalogue, Ix};
use crate::library::{Part, Table};
use crate::value::{Kind, Value};

/// The marks that tell the pieces of a key apart.
pub(super) const MARKS: [char; 2] = ['.', '@'];

/// The port and field of a key, and the part, where it is the key of a value at a port.
pub(crate) fn pieces(key: &str) -> Option<(&str, &str)> {
    key.split_once('@').filter(|(place, _)| place.contains('.'))
}

/// The facts of a sheet that are values at ports.
pub(crate) fn port_facts(facts: &Table<Json>) -> impl Iterator<Item = (&String, &Json)> {
    facts.iter().filter(|(key, _)| pieces(key).is_some())
}

/// A field of a port of a part.
pub(crate) struct Place<'a> {
    /// Port name.
    pub port: &'a str,
    /// Its number among the fields of the port type.
    pub field: usize,
    /// Its id.
    pub id: &'a str,
    /// What it must be.
    pub kind: Kind,
}

/// The field that the first piece of a key names.
///
/// # Errors
/// A sentence on what the part has instead.
pub(crate) fn place<'a>(cat: &'a Catalogue, part: &'a Part, words: &str) -> Result<Place<'a>, String> {
    let split = |at: usize| (&words[..at], &words[at + 1..]);
    let mut ways = words.match_indices('.').map(|(at, _)| split(at));
    let found = ways.find_map(|(port, field)| Some((part.ports.get_key_value(port)?, field)));
    let Some(((port, written), field)) = found else {
        let known: Vec<&str> = part.ports.keys().map(String::as_str).collect();
        let port = words.split('.').next().unwrap_or(words);
        return Err(format!("{} has no port \"{port}\"; it has {}", part.name, list(&known)));
    };
    let number = cat.port_type_names.get(&written.port_type);
    let fields = number.and_then(|ix| cat.port_types.get(ix as usize)).map_or(&[][..], |t| &t.fields);
    match fields.iter().enumerate().find(|(_, (id, ..))| id == field) {
        Some((number, (id, _, kind, _))) => Ok(Place { port, field: number, id, kind: *kind }),
        None => {
            let known: Vec<&str> = fields.iter().map(|(id, ..)| id.as_str()).collect();
            let (name, known) = (&part.name, list(&known));
            Err(format!("the port \"{port}\" of {name} has no field \"{field}\"; it has {known}"))
        }
    }
}

fn list(known: &[&str]) -> String {
    if known.is_empty() { "none".to_owned() } else { known.join(", ") }
}

/// Values measured at the ports of one part: the first piece of the key, and the value.
pub(super) type Measured<'a> = Vec<(&'a str, &'a Json)>;

/// What was measured, by part id.
pub(super) fn by_part(facts: &Table<Json>) -> BTreeMap<&str, Measured<'_>> {
    let mut out: BTreeMap<&str, Measured<'_>> = BTreeMap::new();
    for (key, json) in facts {
        if let Some((words, part)) = pieces(key) {
            out.entry(part).or_default().push((words, json));
        }
    }
    out
}

/// A part with what was measured at its ports. What cannot be read changes nothing: who reads the sheet says so.
pub(super) fn with_measured<'a>(
    cat: &Catalogue,
    part: &'a Part,
    measured: Option<&Measured<'_>>,
) -> Cow<'a, Part> {
    let mut out = Cow::Borrowed(part);
    for (words, json) in measured.into_iter().flatten() {
        let Ok(place) = place(cat, part, words) else { continue };
        if Value::read(json, place.kind).is_ok()
            && let Some(port) = out.to_mut().ports.get_mut(place.port)
        {
            port.fields.insert(place.id.to_owned(), (*json).clone());
        }
    }
    out
}

impl Catalogue {
    /// The words the library has in a field: those of its rule, and those in use at ports of the type; sorted.
    pub(crate) fn words_of(&self, port_type: Ix, field: usize) -> Vec<String> {
        let rule = self.port_types.get(port_type as usize).and_then(|t| t.fields.get(field));
        let ruled = rule.into_iter().flat_map(|(_, def, ..)| def.words.iter().flatten().cloned());
        let mut out: Vec<String> = ruled.collect();
        let ports = self.parts.iter().flat_map(|p| &p.ports).filter(|p| p.port_type == port_type);
        for value in ports.filter_map(|p| p.values.get(field)?.as_ref()) {
            match value {
                Value::Word(word) => out.push(word.clone()),
                Value::OneOf(items) => out.extend(items.iter().filter_map(|item| match item {
                    Value::Word(word) => Some(word.clone()),
                    _ => None,
                })),
                _ => {}
            }
        }
        out.sort();
        out.dedup();
        out
    }
}
