//! A part of which nothing is known but what it is and where it connects: what sits at a place that somebody has only named.

use std::collections::BTreeMap;

use serde_json::Value as Json;

use crate::catalogue::{Catalogue, ClassId};
use crate::library::{Part, Port, Rule, Table};

/// What a value that nobody has measured is written as.
const UNKNOWN: &str = "unknown";

/// A part of a class as it is usually found, with every value unknown: its ports are those that vehicles of the library
/// have at their places of the class, each of the type most of them have. `None`: no vehicle has such a place, so nobody
/// knows where it connects.
#[must_use]
pub fn unknown(catalogue: &Catalogue, class: ClassId) -> Option<Part> {
    let mut seen: BTreeMap<&str, Vec<&Port>> = BTreeMap::new();
    let mut there = false;
    for vehicle in catalogue.vehicles.values() {
        for (at, place) in vehicle.positions.iter().filter(|(_, place)| place.class == class) {
            there = true;
            let Some(found) = place.as_found.and_then(|part| catalogue.parts.get(part)) else { continue };
            for joint in vehicle.joints_at.get(at).into_iter().flatten() {
                for (_, port) in vehicle.joints[*joint].ends.iter().filter(|(end, _)| *end == at) {
                    let name = catalogue.port_names.id(*port);
                    seen.entry(name).or_default().extend(found.part.ports.get(name));
                }
            }
        }
    }
    let name = catalogue.classes.get(class).map(|class| class.name.clone())?;
    let ports =
        seen.into_iter().filter_map(|(name, ports)| Some((name.to_owned(), usual(catalogue, &ports)?)));
    there.then(|| Part {
        name: format!("{name} as found, not yet looked at"),
        class: catalogue.class_names.id(class).to_owned(),
        ports: ports.collect(),
        ..Part::default()
    })
}

/// A port of the type that most of some have, with nothing known of it.
fn usual(catalogue: &Catalogue, ports: &[&Port]) -> Option<Port> {
    let mut types: BTreeMap<&str, usize> = BTreeMap::new();
    for port in ports {
        *types.entry(&port.port_type).or_default() += 1;
    }
    let most = types.values().copied().max()?;
    let port_type = types.into_iter().find(|(_, n)| *n == most)?.0;
    let like = ports.iter().find(|port| port.port_type == port_type)?;
    let kind = catalogue.port_types.get(catalogue.port_type_names.get(port_type)?)?;
    let fields: Table<Json> = kind
        .fields
        .iter()
        .filter(|(_, def, ..)| !def.optional && def.rule != Rule::Told)
        .map(|(id, ..)| (id.clone(), Json::String(UNKNOWN.to_owned())))
        .collect();
    Some(Port { port_type: port_type.to_owned(), role: like.role, alone: like.alone, fields })
}
