//! A place added to a vehicle, or taken out of it: all the edits of one step.

use super::Differs;
use super::id::from_name;
use super::joining::proposals;
use super::unknown::unknown;
use super::whole::whole;
use crate::catalogue::{Catalogue, PositionEntry, PositionId, VehicleEntry};
use crate::edit::{AsFound, Edit, apply};
use crate::key::{CompanionKey, FactKey};
use crate::library::{Circuit, End, Joint, Part, Position, Written};
use crate::sheet::{Choice, Sheet};
use crate::whereabouts::Whereabouts;

/// How the id of a part begins that stands for something nobody has looked at.
const OWN_FOUND: &str = "own-found-";

/// What is to sit at a new place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Sits {
    /// Something of which nothing is known yet.
    #[default]
    Unknown,
    /// Nothing.
    Nothing,
    /// A part, by id.
    Part(String),
}

/// A place that is to be added.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct New {
    /// As shown.
    pub name: String,
    /// The class it takes.
    pub class: String,
    /// The system it belongs to.
    pub system: String,
    /// Where it is, beside others of its class.
    pub whereabouts: Whereabouts,
    /// How many alike.
    pub qty: u32,
    /// What sits there.
    pub sits: Sits,
}

/// The edits that add a place: the place itself, a part of which nothing is known where that is to sit there, the joints
/// that such places usually have where nothing else hangs on their other ends, and the circuits it opens. With the id of the
/// place. `None`: the library has no such class, or the sheet's vehicle is not known.
#[must_use]
pub fn added(sheet: &Sheet, catalogue: &Catalogue, new: &New) -> Option<(String, Vec<Edit>)> {
    let grown = catalogue.for_sheet(sheet);
    let vehicle = grown.vehicles.get(&sheet.vehicle)?;
    grown.class_names.get(&new.class)?;
    if let Some(cleared) = cleared(sheet, catalogue, &grown, new) {
        return Some((cleared.clone(), vec![Edit::Place { position: cleared, place: Differs::Library }]));
    }
    let is_taken = |id: &str| {
        vehicle.position_ix.contains_key(id)
            || vehicle.circuits.values().any(|circuit| circuit.id == id)
            || sheet.described.positions.contains_key(id)
    };
    let id = from_name(&new.name, "", &new.class, is_taken);
    let mut edits = Vec::new();
    let as_found = match &new.sits {
        Sits::Nothing => None,
        Sits::Part(part) => Some(part.clone()),
        Sits::Unknown => {
            let (part, put) = put_unknown(sheet, &grown, &new.name, &new.class);
            edits.push(put);
            Some(part)
        }
    };
    let place = Position {
        name: new.name.trim().to_owned(),
        system: new.system.clone(),
        class: new.class.clone(),
        whereabouts: new.whereabouts.clone(),
        qty: new.qty.max(1),
        as_found,
        ..Position::default()
    };
    edits.push(Edit::Place { position: id.clone(), place: Differs::Own(Box::new(place)) });
    let mut with = sheet.clone();
    edits.iter().try_for_each(|edit| apply(&mut with, edit)).ok()?;
    let grown = catalogue.for_sheet(&with);
    let vehicle = grown.vehicles.get(&sheet.vehicle)?;
    let at = *vehicle.position_ix.get(&id)?;
    // two others may both want the port of the new place: the more usual one has it
    let mut held: Vec<End> = Vec::new();
    for proposal in proposals(&grown, vehicle, at).into_iter().filter(|proposal| proposal.taken.is_empty()) {
        let joint = proposal.joint;
        if joint.ends.iter().any(|end| held.contains(end)) {
            continue;
        }
        held.extend(joint.ends.iter().cloned());
        edits.push(joined(&with, vehicle, joint));
        edits.last().and_then(|edit| apply(&mut with, edit).ok())?;
    }
    edits.extend(circuits(&grown, (&sheet.vehicle, vehicle), &id, &new.class));
    Some((id, edits))
}

/// The place of the library that was cleared and is ticked again: with it come its joints, and what was found there. One more
/// beside another of its kind is another place.
fn cleared(sheet: &Sheet, catalogue: &Catalogue, grown: &Catalogue, new: &New) -> Option<String> {
    let alike = |cat: &Catalogue, place: &PositionEntry| {
        cat.class_names.id(place.class) == new.class && place.whereabouts == new.whereabouts
    };
    let (here, library) = (grown.vehicles.get(&sheet.vehicle)?, catalogue.vehicles.get(&sheet.vehicle)?);
    if here.positions.values().any(|place| alike(grown, place)) {
        return None;
    }
    let is_gone = |id: &str| matches!(sheet.described.positions.get(id), Some(None));
    let mut places = library.positions.values().filter(|place| alike(catalogue, place));
    places.find(|place| is_gone(&place.id)).map(|place| place.id.clone())
}

/// The edits that say that something sits in a place of which nothing is known. `None`: the vehicle has no such place.
#[must_use]
pub fn not_looked_at(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Option<Vec<Edit>> {
    let grown = catalogue.for_sheet(sheet);
    let vehicle = grown.vehicles.get(&sheet.vehicle)?;
    let entry = vehicle.positions.get(*vehicle.position_ix.get(place)?)?;
    let class = grown.class_names.id(entry.class);
    // it may not be known already
    let now = sheet.as_found.get(place).cloned().flatten();
    let now = now.or_else(|| sheet.described.positions.get(place)?.as_ref()?.as_found.clone());
    if now.is_some_and(|part| part.starts_with(OWN_FOUND) && sheet.parts.contains_key(&part)) {
        return Some(Vec::new());
    }
    let (id, put) = put_unknown(sheet, &grown, &entry.name, class);
    Some(vec![put, Edit::Found { position: place.to_owned(), found: AsFound::Part(id) }])
}

/// A part of a class of which nothing is known, and the edit that puts it into the sheet; where nobody knows the ports of
/// the class, it is a thing of it all the same.
fn put_unknown(sheet: &Sheet, grown: &Catalogue, place: &str, class: &str) -> (String, Edit) {
    let bare = || Part { class: class.to_owned(), ..Part::default() };
    let known = grown.class_names.get(class).and_then(|class| unknown(grown, class));
    let part =
        Part { name: format!("{} as found, not yet looked at", place.trim()), ..known.unwrap_or_else(bare) };
    let has = |id: &str| grown.part(id).is_some() || sheet.parts.contains_key(id);
    let id = from_name(place, OWN_FOUND, "part", has);
    (id.clone(), Edit::PutPart { id, part: Some(Box::new(Written::whole(part))) })
}

/// The edit that lets ports meet, under an id that is free.
#[must_use]
pub fn joined(sheet: &Sheet, vehicle: &VehicleEntry, joint: Joint) -> Edit {
    let is_taken = |id: &str| {
        vehicle.joints.values().any(|joint| joint.id == id) || sheet.described.joints.contains_key(id)
    };
    let id = from_name(&joint.name, "", "joint", is_taken);
    Edit::Joint { joint: id, meets: Differs::Own(Box::new(joint)) }
}

/// The edits that put a place into the circuits of this vehicle that places of its class open on others: those of the same
/// fluid.
fn circuits(catalogue: &Catalogue, (of, vehicle): (&str, &VehicleEntry), id: &str, class: &str) -> Vec<Edit> {
    let class = catalogue.class_names.get(class);
    let opens = |fluid| {
        catalogue.vehicles.values().any(|other| {
            let of_class =
                |at: &PositionId| Some(other.positions[*at].class) == class && other.positions[*at].id != id;
            other
                .circuits
                .values()
                .any(|circuit| circuit.fluid == fluid && circuit.positions.iter().any(of_class))
        })
    };
    let mut out = Vec::new();
    for circuit in vehicle.circuits.values().filter(|circuit| opens(circuit.fluid)) {
        let written = written_circuit(catalogue, of, &circuit.id);
        let Some(written) = written else { continue };
        let mut here: Vec<String> =
            circuit.positions.iter().map(|at| vehicle.positions[*at].id.clone()).collect();
        if here.iter().all(|place| place != id) {
            here.push(id.to_owned());
            let circuit_own = Circuit { positions: here, ..written.clone() };
            out.push(Edit::Circuit {
                circuit: circuit.id.clone(),
                holds: Differs::Own(Box::new(circuit_own)),
            });
        }
    }
    out
}

/// A circuit of a vehicle as it is written.
fn written_circuit<'a>(catalogue: &'a Catalogue, vehicle: &str, id: &str) -> Option<&'a Circuit> {
    catalogue.files.iter().find_map(|(_, file)| file.vehicles.get(vehicle)?.circuits.get(id))
}

/// The edits that take a place out. With it goes what speaks of it alone: its ends of joints, the part of this sheet that was
/// made for it, what plans say of it, what was read, seen and measured there. What a note or a photo says stays.
#[must_use]
pub fn taken_out(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Vec<Edit> {
    let found = sheet.described.positions.get(place).and_then(|own| own.as_ref()?.as_found.clone());
    let found = sheet.as_found.get(place).cloned().flatten().or(found);
    let part = found.filter(|part| sheet.parts.contains_key(part) && !is_elsewhere(sheet, place, part));
    let mut edits = said_of(sheet, place, part.as_deref());
    edits.extend(joints_without(sheet, catalogue, place));
    edits.extend(circuits_without(sheet, catalogue, place));
    let in_library =
        catalogue.vehicles.get(&sheet.vehicle).is_some_and(|vehicle| vehicle.position_ix.contains_key(place));
    let gone = if in_library { Differs::Nothing } else { Differs::Library };
    edits.push(Edit::Place { position: place.to_owned(), place: gone });
    edits.extend(part.map(|id| Edit::PutPart { id, part: None }));
    edits
}

/// Whether a part of the sheet is used somewhere else than at a place.
fn is_elsewhere(sheet: &Sheet, place: &str, part: &str) -> bool {
    let described = |(id, own): (&String, &Option<Position>)| {
        id != place && own.as_ref().is_some_and(|own| own.as_found.as_deref() == Some(part))
    };
    sheet.described.positions.iter().any(described)
        || sheet.as_found.iter().any(|(id, found)| id != place && found.as_deref() == Some(part))
        || sheet.lines.contains_key(part)
        || sheet.parts.values().any(|other| other.contents.iter().any(|content| content.part == part))
        || sheet.plans.values().any(|plan| {
            let chosen =
                |(id, choice): (&String, &Choice)| id != place && choice.part.as_deref() == Some(part);
            plan.routes.iter().any(chosen) || plan.picks.values().any(|pick| pick == part)
        })
}

/// The edits that forget what is said of a place, and what was measured on a part.
fn said_of(sheet: &Sheet, place: &str, part: Option<&str>) -> Vec<Edit> {
    let mut edits = Vec::new();
    let position = || place.to_owned();
    for (id, plan) in &sheet.plans {
        if plan.routes.contains_key(place) {
            edits.push(Edit::Choose { plan: id.clone(), position: position(), choice: None });
        }
        let of_place = |key: &&CompanionKey| key.position() == Some(place);
        edits.extend(plan.picks.keys().filter(of_place).map(|key| Edit::Pick {
            plan: id.clone(),
            key: key.clone(),
            part: None,
        }));
        edits.extend(plan.accepted.iter().filter(of_place).map(|key| Edit::Accept {
            plan: id.clone(),
            key: key.clone(),
            yes: false,
        }));
        edits.extend(plan.waived.keys().filter(of_place).map(|key| Edit::Waive {
            plan: id.clone(),
            key: key.clone(),
            reason: None,
        }));
    }
    if sheet.as_found.contains_key(place) {
        edits.push(Edit::Found { position: position(), found: AsFound::Library });
    }
    if sheet.survey.contains_key(place) {
        edits.push(Edit::Survey { position: position(), finding: None });
    }
    if sheet.readings.contains_key(place) {
        edits.push(Edit::Readings { position: position(), readings: Vec::new() });
    }
    if sheet.seen.contains_key(place) {
        edits.push(Edit::Seen { position: position(), seen: Vec::new() });
    }
    let own = sheet.own_bounds.get(place).into_iter().flatten();
    edits.extend(own.map(|(of, _)| Edit::OwnBounds { position: position(), of: of.clone(), bounds: None }));
    let off = sheet.put_off.get(place).into_iter().flatten();
    edits.extend(off.map(|(of, _)| Edit::PutOff { position: position(), of: of.clone(), put_off: None }));
    if sheet.made.contains_key(place) {
        edits.push(Edit::Made { position: position(), made: None });
    }
    let keys = sheet.facts.keys().filter_map(|key| key.parse::<FactKey>().ok());
    let of_it = keys.filter(|key| key.part().is_some_and(|of| of == place || Some(of) == part));
    edits.extend(of_it.map(|figure| Edit::SetFact { figure, value: None }));
    edits
}

/// The edits that take a place out of the joints that this sheet has made: one that is left with fewer than two ends, or says
/// no more than the library does, goes.
fn joints_without(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Vec<Edit> {
    let written = whole(catalogue, &sheet.vehicle).map(|vehicle| vehicle.joints).unwrap_or_default();
    let mut edits = Vec::new();
    for (id, joint) in &sheet.described.joints {
        let Some(joint) = joint.as_ref().filter(|joint| joint.ends.iter().any(|end| end.at == place)) else {
            continue;
        };
        let mut rest = joint.clone();
        rest.ends.retain(|end| end.at != place);
        let told = |other: &Joint| rest.ends.iter().all(|end| other.ends.contains(end));
        let meets = match written.get(id) {
            Some(library) if *library == rest => Differs::Library,
            Some(_) if rest.ends.len() < 2 => Differs::Nothing,
            None if rest.ends.len() < 2 || written.values().any(told) => Differs::Library,
            _ => Differs::Own(Box::new(rest)),
        };
        edits.push(Edit::Joint { joint: id.clone(), meets });
    }
    edits
}

/// The same for circuits.
fn circuits_without(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (id, circuit) in &sheet.described.circuits {
        let Some(circuit) = circuit.as_ref().filter(|c| c.positions.iter().any(|at| at == place)) else {
            continue;
        };
        let mut rest = circuit.clone();
        rest.positions.retain(|at| at != place);
        let holds = match written_circuit(catalogue, &sheet.vehicle, id) {
            Some(library) if *library == rest => Differs::Library,
            None if rest.positions.is_empty() => Differs::Library,
            _ => Differs::Own(Box::new(rest)),
        };
        edits.push(Edit::Circuit { circuit: id.clone(), holds });
    }
    edits
}
