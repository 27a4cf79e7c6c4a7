//! What a place meets: the joints that it could have, as vehicles of the library have them.

use std::collections::BTreeMap;

use crate::catalogue::{Catalogue, JointEntry, PortNameId, PositionEntry, PositionId, VehicleEntry};
use crate::library::{End, Joint, Port, Role};

/// A joint that a place could have.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The joint, its ends at places that this vehicle has.
    pub joint: Joint,
    /// The vehicles that have it, by name.
    pub on: Vec<String>,
    /// Joints of this vehicle, by id, where one of the other ends hangs on something already.
    pub taken: Vec<String>,
}

/// The joints that a place of a vehicle could have, the most usual first. A place of the same class on some vehicle meets
/// places of other classes there; where this vehicle has places of these, they may meet here. Where it has several, those go
/// together whose whereabouts do. What the place has already is left out.
#[must_use]
pub fn proposals(catalogue: &Catalogue, vehicle: &VehicleEntry, at: PositionId) -> Vec<Proposal> {
    let Some(place) = vehicle.positions.get(at) else { return Vec::new() };
    let mut found: BTreeMap<Vec<(PositionId, &str)>, Found> = BTreeMap::new();
    for other in catalogue.vehicles.values() {
        let alike: Vec<PositionId> =
            other.positions.iter().filter(|(_, p)| p.class == place.class).map(|(id, _)| id).collect();
        let near = |id: &PositionId| other.positions[*id].whereabouts == place.whereabouts;
        let exact = alike.iter().any(near);
        let here = std::ptr::eq(other, vehicle) || other.number == vehicle.number;
        for source in alike.iter().filter(|id| (!exact || near(id)) && !(here && **id == at)) {
            for joint in other.joints_at.get(*source).into_iter().flatten() {
                let joint = &other.joints[*joint];
                let Some(ends) = ends(joint, *source, at, other, vehicle, here) else { continue };
                let key = ends.iter().map(|(end, port)| (*end, catalogue.port_names.id(*port))).collect();
                let made = || {
                    let end = |(end, port): &(PositionId, _)| End {
                        at: vehicle.positions[*end].id.clone(),
                        port: catalogue.port_names.id(*port).to_owned(),
                    };
                    let joint = Joint {
                        name: name(joint, &other.positions[*source], place),
                        ends: ends.iter().map(end).collect(),
                        qty: joint.qty,
                        either: None,
                    };
                    (joint, Vec::new())
                };
                let (_, on) = found.entry(key).or_insert_with(made);
                if on.last() != Some(&other.name) {
                    on.push(other.name.clone());
                }
            }
        }
    }
    let is_there = |ends: &[(PositionId, &str)]| {
        let same = |j: &JointEntry| {
            ends.iter().all(|(at, port)| {
                j.ends.iter().any(|(end, name)| end == at && catalogue.port_names.id(*name) == *port)
            })
        };
        vehicle.joints.values().any(same)
    };
    let holds = |ends: &[(PositionId, &str)]| {
        let holds = |j: &JointEntry| {
            ends.iter().filter(|(end, _)| *end != at).any(|(end, port)| {
                j.ends.iter().any(|(other, name)| other == end && catalogue.port_names.id(*name) == *port)
            })
        };
        vehicle.joints.values().filter(|j| holds(j)).map(|j| j.id.clone()).collect()
    };
    let mut all: Vec<Proposal> = found
        .into_iter()
        .filter(|(ends, _)| !is_there(ends))
        .map(|(ends, (joint, on))| Proposal { taken: holds(&ends), joint, on })
        .collect();
    all.sort_by(|a, b| {
        (b.on.len(), &a.joint.name, a.joint.ends.len()).cmp(&(a.on.len(), &b.joint.name, b.joint.ends.len()))
    });
    all
}

/// A joint, and the vehicles that have it.
type Found = (Joint, Vec<String>);
/// Ends of a joint: place and port.
/// A port of a place that another could meet: position id, place, port.
pub type Other = (String, String, String);
type Ends = Vec<(PositionId, PortNameId)>;

/// The ends of a joint of another vehicle at the places of this one; `None`: fewer than two of them are here.
fn ends(
    joint: &JointEntry,
    source: PositionId,
    at: PositionId,
    other: &VehicleEntry,
    vehicle: &VehicleEntry,
    here: bool,
) -> Option<Ends> {
    let mut out: Ends = Vec::new();
    for (end, port) in &joint.ends {
        let to = if *end == source {
            Some(at)
        } else if here {
            (*end != at).then_some(*end)
        } else {
            counterpart(&other.positions[*end], vehicle, at)
        };
        out.extend(to.map(|to| (to, *port)));
    }
    out.sort();
    out.dedup();
    (out.len() >= 2 && out.iter().any(|(end, _)| *end == at)).then_some(out)
}

/// The place of this vehicle that a place of another stands for: one of its class, where it has several one that goes with
/// its whereabouts.
fn counterpart(of: &PositionEntry, vehicle: &VehicleEntry, but: PositionId) -> Option<PositionId> {
    let alike = || vehicle.positions.iter().filter(|(id, p)| *id != but && p.class == of.class);
    let exact = alike().find(|(_, p)| p.whereabouts == of.whereabouts);
    let near = || alike().find(|(_, p)| p.whereabouts.goes_with(&of.whereabouts));
    exact.or_else(near).or_else(|| alike().next()).map(|(id, _)| id)
}

/// The ports of what was found in a place, each with those of other places that it could meet by hand: of its type, and not
/// both giving or both taking. `found`: the part that was found there.
#[must_use]
pub fn by_hand(
    catalogue: &Catalogue,
    vehicle: &VehicleEntry,
    at: PositionId,
    found: &str,
) -> Vec<(String, Vec<Other>)> {
    let part_at = |at: PositionId| vehicle.positions[at].as_found.and_then(|part| catalogue.parts.get(part));
    let meets =
        |a: &Port, b: &Port| a.port_type == b.port_type && (a.role == Role::Plain || a.role != b.role);
    let others = |port: &Port| {
        let places = vehicle.positions.iter().filter(|(other, _)| *other != at);
        let all = places.filter_map(|(other, place)| Some((place, part_at(other)?)));
        all.flat_map(|(place, part)| {
            let ports = part.part.ports.iter().filter(|(_, other)| meets(port, other));
            ports.map(|(name, _)| (place.id.clone(), place.name.clone(), name.clone()))
        })
        .collect()
    };
    let ports = catalogue.part(found).map(|part| &part.part.ports).into_iter().flatten();
    ports.map(|(name, port)| (name.clone(), others(port))).collect()
}

/// A joint is called after its places; where that of the other vehicle is called otherwise than this one, its name says so.
fn name(joint: &JointEntry, source: &PositionEntry, place: &PositionEntry) -> String {
    let (was, is) = (source.name.to_lowercase(), place.name.to_lowercase());
    let lower = joint.name.to_lowercase();
    if was == is || was.is_empty() {
        joint.name.clone()
    } else if lower.contains(&was) {
        sentence(&lower.replace(&was, &is))
    } else {
        format!("{}, {is}", joint.name)
    }
}

fn sentence(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map(|first| first.to_uppercase().chain(signs).collect()).unwrap_or_default()
}
