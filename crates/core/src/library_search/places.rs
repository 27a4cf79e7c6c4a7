//! Where parts go on a vehicle, which system they are of, and which places of a plan have what was asked for.

use super::{Answer, Because, Hit};
use crate::assessment::Assessment;
use crate::catalogue::{Catalogue, ClassId, VehicleEntry};

/// A place of the plan that has what was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlaceHit {
    /// Position id.
    pub position: String,
    /// As shown.
    pub name: String,
    /// Part id and name of what sits there.
    pub part: (String, String),
    /// Names of the ports that were asked for; empty where none was.
    pub ports: Vec<String>,
}

impl Catalogue {
    /// The places of a vehicle that take a class: ids and names, in board order.
    #[must_use]
    pub fn places_of(&self, vehicle: &str, class: ClassId) -> Vec<(String, String)> {
        let Some(vehicle) = self.vehicles.get(vehicle) else { return Vec::new() };
        let here = vehicle.positions.values().filter(|position| position.class == class);
        here.map(|position| (position.id.clone(), position.name.clone())).collect()
    }

    /// The system of a class, its id and name: that of its place on this vehicle, else on any; `None` where no vehicle has a
    /// place for it.
    #[must_use]
    pub fn system_of(&self, class: ClassId, vehicle: Option<&str>) -> Option<(&str, &str)> {
        let of = |vehicle: &VehicleEntry| {
            vehicle
                .positions
                .values()
                .find(|position| position.class == class)
                .map(|position| position.system.clone())
        };
        let own = vehicle.and_then(|id| self.vehicles.get(id)).and_then(of);
        let system = own.or_else(|| self.vehicles.values().find_map(of))?;
        self.systems.iter().find(|(id, _)| *id == system).map(|(id, name)| (id.as_str(), name.as_str()))
    }
}

/// The places of a plan where something sits that answers.
#[must_use]
pub fn places(catalogue: &Catalogue, a: &Assessment, answer: &Answer) -> Vec<PlaceHit> {
    if answer.all {
        return Vec::new();
    }
    let hits: std::collections::HashMap<_, &Hit> = answer.hits.iter().map(|hit| (hit.part, hit)).collect();
    let mut out = Vec::new();
    for position in &a.positions {
        let Some(fitted) = &position.fitted else { continue };
        let Some(id) = catalogue.part_names.get(&fitted.0) else { continue };
        let (Some(hit), Some(part)) = (hits.get(&id), catalogue.parts.get(id)) else { continue };
        let ports = hit.because.iter().filter_map(|because| match because {
            Because::Port(port) => part.ports.get(usize::from(*port)),
            _ => None,
        });
        let ports = ports.map(|port| catalogue.port_names.id(port.name_ix).replace('-', " ")).collect();
        out.push(PlaceHit {
            position: position.id.clone(),
            name: position.name.clone(),
            part: fitted.clone(),
            ports,
        });
    }
    out
}
