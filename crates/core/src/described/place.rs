//! A place added to a vehicle, or taken out of it: all the edits of one step.

use super::Differs;
use super::id::from_name;
use super::joining::proposals;
use super::unknown::unknown;
use crate::catalogue::{Catalogue, PositionId, VehicleEntry};
use crate::edit::{AsFound, Edit, apply};
use crate::library::{Circuit, End, Joint, Part, Position, Written};
use crate::sheet::Sheet;
use crate::whereabouts::Whereabouts;

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

/// The edits that say that something sits in a place of which nothing is known. `None`: the vehicle has no such place.
#[must_use]
pub fn not_looked_at(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Option<Vec<Edit>> {
    let grown = catalogue.for_sheet(sheet);
    let vehicle = grown.vehicles.get(&sheet.vehicle)?;
    let entry = vehicle.positions.get(*vehicle.position_ix.get(place)?)?;
    let class = grown.class_names.id(entry.class);
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
    let id = from_name(place, "own-found-", "part", has);
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

/// The edits that take a place out: with it go the joints and the part of this sheet that were made for it, what plans
/// chose there, and its survey. What a note or a photo says stays.
#[must_use]
pub fn taken_out(sheet: &Sheet, catalogue: &Catalogue, place: &str) -> Vec<Edit> {
    let mut edits = Vec::new();
    for (plan, content) in &sheet.plans {
        if content.routes.contains_key(place) {
            let (plan, position) = (plan.clone(), place.to_owned());
            edits.push(Edit::Choose { plan, position, choice: None });
        }
    }
    if sheet.as_found.contains_key(place) {
        edits.push(Edit::Found { position: place.to_owned(), found: AsFound::Library });
    }
    if sheet.survey.contains_key(place) {
        edits.push(Edit::Survey { position: place.to_owned(), finding: None });
    }
    for (id, joint) in &sheet.described.joints {
        let Some(joint) = joint else { continue };
        if joint.ends.iter().any(|end| end.at == place)
            && joint.ends.iter().filter(|end| end.at != place).count() < 2
        {
            let library = catalogue
                .vehicles
                .get(&sheet.vehicle)
                .is_some_and(|vehicle| vehicle.joints.values().any(|other| other.id == *id));
            let meets = if library { Differs::Nothing } else { Differs::Library };
            edits.push(Edit::Joint { joint: id.clone(), meets });
        }
    }
    for (id, circuit) in &sheet.described.circuits {
        let Some(circuit) = circuit.as_ref().filter(|c| c.positions.iter().any(|at| at == place)) else {
            continue;
        };
        let mut rest = circuit.clone();
        rest.positions.retain(|at| at != place);
        let library = written_circuit(catalogue, &sheet.vehicle, id);
        let holds = match library {
            Some(library) if *library == rest => Differs::Library,
            None if rest.positions.is_empty() => Differs::Library,
            _ => Differs::Own(Box::new(rest)),
        };
        edits.push(Edit::Circuit { circuit: id.clone(), holds });
    }
    let in_library =
        catalogue.vehicles.get(&sheet.vehicle).is_some_and(|vehicle| vehicle.position_ix.contains_key(place));
    let found = sheet.described.positions.get(place).and_then(|own| own.as_ref()?.as_found.clone());
    let elsewhere = |part: &str| {
        let other = |(id, own): (&String, &Option<Position>)| {
            id != place && own.as_ref().is_some_and(|own| own.as_found.as_deref() == Some(part))
        };
        sheet.described.positions.iter().any(other)
            || sheet.as_found.values().flatten().any(|found| found == part)
            || sheet.plans.values().any(|plan| {
                plan.routes.values().any(|choice| choice.part.as_deref() == Some(part))
                    || plan.picks.values().any(|pick| pick == part)
            })
    };
    let place = place.to_owned();
    edits.push(Edit::Place {
        position: place,
        place: if in_library { Differs::Nothing } else { Differs::Library },
    });
    if let Some(part) = found.filter(|part| sheet.parts.contains_key(part) && !elsewhere(part)) {
        edits.push(Edit::PutPart { id: part, part: None });
    }
    edits
}
