//! Values measured at ports of parts: which field a key of the sheet names, and the part with what was measured there.

use std::borrow::Cow;
use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::{Catalogue, PortTypeId};
use crate::key::FactKey;
use crate::library::{Part, Table};
use crate::value::{Kind, Value};

/// Values measured at ports, by part; and by port and field, each as written.
pub(crate) type AtPorts = BTreeMap<String, BTreeMap<(String, String), Json>>;

/// The facts of a sheet that are values at ports.
pub(crate) fn at_ports(facts: &Table<Json>) -> AtPorts {
    let mut out = AtPorts::new();
    for (key, json) in facts {
        if let Ok(FactKey::Port { port, field, part }) = key.parse() {
            out.entry(part).or_default().insert((port, field), json.clone());
        }
    }
    out
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

/// A field of a port of a part, by its port's name and its id.
///
/// # Errors
/// A sentence on what the part has instead.
pub(crate) fn place<'a>(
    cat: &'a Catalogue,
    part: &'a Part,
    port: &str,
    field: &str,
) -> Result<Place<'a>, String> {
    let Some((port, written)) = part.ports.get_key_value(port) else {
        let known: Vec<&str> = part.ports.keys().map(String::as_str).collect();
        return Err(format!("{} has no port \"{port}\"; it has {}", part.name, list(&known)));
    };
    let number = cat.port_type_names.get(&written.port_type);
    let fields = number.and_then(|ix| cat.port_types.get(ix)).map_or(&[][..], |t| &t.fields);
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

/// A part with what was measured at its ports. What cannot be read changes nothing: who reads the sheet says so.
pub(super) fn with_measured<'a>(
    cat: &Catalogue,
    part: &'a Part,
    measured: Option<&BTreeMap<(String, String), Json>>,
) -> Cow<'a, Part> {
    let mut out = Cow::Borrowed(part);
    for ((port, field), json) in measured.into_iter().flatten() {
        let Ok(place) = place(cat, part, port, field) else { continue };
        if Value::read(json, place.kind).is_ok()
            && let Some(port) = out.to_mut().ports.get_mut(place.port)
        {
            port.fields.insert(place.id.to_owned(), json.clone());
        }
    }
    out
}

impl Catalogue {
    /// The words the library has in a field: those of its rule, and those in use at ports of the type; sorted.
    pub(crate) fn words_of(&self, port_type: PortTypeId, field: usize) -> Vec<String> {
        let rule = self.port_types.get(port_type).and_then(|t| t.fields.get(field));
        let ruled = rule.into_iter().flat_map(|(_, def, ..)| def.words.iter().flatten().cloned());
        let mut out: Vec<String> = ruled.collect();
        let ports = self.parts.values().flat_map(|p| &p.ports).filter(|p| p.port_type == port_type);
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
