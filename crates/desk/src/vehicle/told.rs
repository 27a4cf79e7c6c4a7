//! What the page of the vehicle shows, worked out once for each revision and open place.

use std::collections::BTreeSet;

use knockon_core::catalogue::{PositionEntry, PositionId, VehicleEntry};
use knockon_core::described::joining::{Other, Proposal, by_hand, proposals};
use knockon_core::described::usual::{Usual, most_have, usual};
use knockon_core::{Assessment, Catalogue, Sheet};

/// A place of the vehicle in the list.
#[derive(Clone, Debug)]
pub struct Here {
    /// Position id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// What sits there as found.
    pub found: String,
}

/// A row of the list.
#[derive(Clone, Debug)]
pub enum Row {
    /// A place the vehicle has.
    Here(Here),
    /// A place that others have.
    Other(Usual),
}

impl Row {
    /// As shown.
    pub fn name(&self) -> &str {
        match self {
            Self::Here(here) => &here.name,
            Self::Other(usual) => &usual.name,
        }
    }
}

/// The places of a system.
#[derive(Clone, Debug)]
pub struct OfSystem {
    /// As shown.
    pub name: String,
    /// Its places by name, there or not: a tick moves none of them.
    pub rows: Vec<Row>,
    /// How many of them the vehicle has.
    pub here: usize,
    /// Those it has not and most vehicles have.
    pub most_have: Vec<Usual>,
}

/// Ports that meet.
#[derive(Clone, Debug)]
pub struct Meets {
    /// Joint id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// The ends at other places: place and port.
    pub others: Vec<(String, String)>,
    /// The port here.
    pub port: String,
}

/// The place that is open.
#[derive(Clone, Debug)]
pub struct Place {
    /// Position id.
    pub id: String,
    /// As shown.
    pub name: String,
    /// Its class, by id.
    pub class: String,
    /// Its class, as shown.
    pub class_name: String,
    /// System id.
    pub system: String,
    /// Where it is.
    pub whereabouts: String,
    /// How many sit there.
    pub qty: u32,
    /// What sits there: part id and name.
    pub found: Option<(String, String)>,
    /// What could sit there: part ids and names.
    pub could_be: Vec<(String, String)>,
    /// What it meets.
    pub meets: Vec<Meets>,
    /// What it could meet.
    pub could_meet: Vec<Proposal>,
    /// Ports of what sits there, by name, with what they could be joined to by hand.
    pub ports: Vec<(String, Vec<Other>)>,
}

/// All that the page shows.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// Name of the vehicle.
    pub name: String,
    /// About it.
    pub about: String,
    /// The beginning it is described from.
    pub from: Option<String>,
    /// How many places it has.
    pub places: usize,
    /// How many joints it has.
    pub joints: usize,
    /// The places, by system.
    pub systems: Vec<OfSystem>,
    /// The place that is open.
    pub place: Option<Place>,
}

impl Told {
    /// The page for a sheet with a place open.
    pub fn of(sheet: &Sheet, a: &Assessment, catalogue: &Catalogue, at: Option<&str>) -> Self {
        let grown = catalogue.for_sheet(sheet);
        let Some(vehicle) = grown.vehicles.get(&sheet.vehicle) else { return Self::default() };
        let found =
            |id: &str| a.positions.iter().find(|p| p.id == id).and_then(|p| p.as_found.as_ref()).cloned();
        let kinds: BTreeSet<_> = vehicle.positions.values().map(|p| (p.class, &p.whereabouts)).collect();
        // a place that was cleared is ticked again as the library has it
        let mut other = usual(catalogue);
        other.retain(|usual| {
            grown
                .class_names
                .get(&usual.class)
                .is_some_and(|class| !kinds.contains(&(class, &usual.whereabouts)))
        });
        let system = |(id, system): &(String, String)| {
            let here = vehicle.positions.values().filter(|p| p.system == *id).map(|p| {
                let found = found(&p.id).map_or_else(|| "nothing".to_owned(), |(_, name)| name);
                // the name of the place stands beside it
                let beside = found.strip_prefix(&p.name).map(|rest| rest.trim_start_matches([' ', ',']));
                let found = beside.filter(|rest| !rest.is_empty()).unwrap_or(&found).to_owned();
                Row::Here(Here { id: p.id.clone(), name: p.name.clone(), found })
            });
            let other = || other.iter().filter(|usual| usual.system == *id).cloned();
            let mut rows: Vec<Row> = here.collect();
            let here = rows.len();
            rows.extend(other().map(Row::Other));
            rows.sort_by_cached_key(|row| row.name().to_lowercase());
            let most_have = most_have(catalogue, &sheet.vehicle, &other().collect::<Vec<_>>());
            OfSystem { name: system.clone(), rows, here, most_have }
        };
        let from = catalogue.vehicles.get(&sheet.vehicle).filter(|library| library.beginning);
        let at = at.and_then(|id| vehicle.position_ix.get(id).copied());
        Self {
            name: vehicle.name.clone(),
            // what is said of a beginning is not said of what is made of it
            about: if from.is_some() { sheet.described.about.clone() } else { vehicle.about.clone() },
            from: from.map(|library| library.name.clone()),
            places: vehicle.positions.len(),
            joints: vehicle.joints.len(),
            systems: grown.systems.iter().map(system).collect(),
            place: at.and_then(|at| Some(place(&grown, vehicle, at, found(&vehicle.positions.get(at)?.id)))),
        }
    }
}

fn place(
    catalogue: &Catalogue,
    vehicle: &VehicleEntry,
    at: PositionId,
    found: Option<(String, String)>,
) -> Place {
    let entry: &PositionEntry = &vehicle.positions[at];
    let parts = catalogue.by_class.get(entry.class).into_iter().flatten();
    let mut could_be: Vec<(String, String)> = parts
        .filter_map(|part| {
            let part = catalogue.parts.get(*part).map(|p| (catalogue.part_names.id(*part), &p.part))?;
            part.1.contents.is_empty().then(|| (part.0.to_owned(), part.1.name.clone()))
        })
        .collect();
    could_be.sort_by(|a, b| a.1.cmp(&b.1));
    let meets = |id: &_| {
        let joint = &vehicle.joints[*id];
        let others = joint.ends.iter().filter(|(end, _)| *end != at);
        let others = others.map(|(end, port)| {
            (vehicle.positions[*end].name.clone(), catalogue.port_names.id(*port).to_owned())
        });
        let here = joint.ends.iter().find(|(end, _)| *end == at);
        Meets {
            id: joint.id.clone(),
            name: joint.name.clone(),
            others: others.collect(),
            port: here.map(|(_, port)| catalogue.port_names.id(*port).to_owned()).unwrap_or_default(),
        }
    };
    let ports = found.as_ref().map_or_else(Vec::new, |(id, _)| by_hand(catalogue, vehicle, at, id));
    Place {
        id: entry.id.clone(),
        name: entry.name.clone(),
        class: catalogue.class_names.id(entry.class).to_owned(),
        class_name: catalogue.classes.get(entry.class).map(|c| c.name.clone()).unwrap_or_default(),
        system: entry.system.clone(),
        whereabouts: entry.whereabouts.words().collect::<Vec<_>>().join(" "),
        qty: entry.qty,
        found,
        could_be,
        meets: vehicle.joints_at.get(at).into_iter().flatten().map(meets).collect(),
        could_meet: proposals(catalogue, vehicle, at),
        ports,
    }
}
