//! What an assessment rests on and never changes: the sheet's words resolved once.

use rustc_hash::FxHashMap;
use serde_json::Value as Json;
use smallvec::SmallVec;

use super::ages::Aging;
use crate::catalogue::{Catalogue, Ix, VehicleEntry, measured};
use crate::library::Alone;
use crate::sheet::{Plan, Route, Sheet};
use crate::value::{Kind, Value};

/// What the owner chose at a position: the route and, for a conversion, the part.
pub(crate) type Chosen = Option<(Route, Option<Ix>)>;

/// A value measured at a port of a part.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PortFact<'a> {
    /// Its key in the sheet.
    pub key: &'a str,
    pub part: Ix,
    /// Number of the port name.
    pub port: Ix,
    /// Its place among the fields of the port type.
    pub field: usize,
}

pub(crate) struct Ground<'a> {
    pub cat: &'a Catalogue,
    pub v: &'a VehicleEntry,
    pub sheet: &'a Sheet,
    pub plan: &'a Plan,
    pub as_found: Vec<Option<Ix>>,
    pub owner: Vec<Chosen>,
    /// Positions whose as-found part has a job, with the joints where it has it.
    pub jobs: Vec<(Ix, SmallVec<[Ix; 4]>)>,
    pub facts: FxHashMap<Ix, Value>,
    /// Figures measured on a part of this vehicle, by part and figure.
    pub part_facts: FxHashMap<(Ix, Ix), Value>,
    /// Values measured at ports, which the library for this sheet has in its parts.
    pub port_facts: Vec<PortFact<'a>>,
    /// Positions whose parts do not last for ever, in order; none where no day was given.
    pub aging: Vec<Aging<'a>>,
    /// The same of circuits and their fluids.
    pub fluids: Vec<Aging<'a>>,
    /// Parts the owner picked for positions nobody chose for.
    pub fill_picks: FxHashMap<Ix, Ix>,
    /// Bridges the owner picked for joints.
    pub bridge_picks: FxHashMap<Ix, Ix>,
    /// Some pick is for a need: their keys are looked up as text.
    pub picks_needs: bool,
    pub problems: Vec<String>,
}

impl<'a> Ground<'a> {
    /// # Errors
    /// A sentence where the library does not know the vehicle.
    pub fn new(sheet: &'a Sheet, plan: &'a Plan, cat: &'a Catalogue) -> Result<Self, String> {
        let v = cat.vehicles.get(&sheet.vehicle).ok_or_else(|| {
            format!(
                "the library has no vehicle \"{}\"; add its file to the library or correct the word in the sheet",
                sheet.vehicle
            )
        })?;
        cat.searched.tidy();
        let mut ground = Self {
            cat,
            v,
            sheet,
            plan,
            as_found: v.positions.iter().map(|p| p.as_found).collect(),
            owner: vec![None; v.positions.len()],
            jobs: Vec::new(),
            facts: FxHashMap::default(),
            part_facts: FxHashMap::default(),
            port_facts: Vec::new(),
            aging: Vec::new(),
            fluids: Vec::new(),
            fill_picks: FxHashMap::default(),
            bridge_picks: FxHashMap::default(),
            picks_needs: plan.picks.keys().any(|k| k.starts_with("need:")),
            problems: Vec::new(),
        };
        ground.found_otherwise();
        ground.jobs();
        ground.routes();
        ground.measured();
        ground.picks();
        ground.ages();
        Ok(ground)
    }

    fn found_otherwise(&mut self) {
        for (position, part) in &self.sheet.as_found {
            let Some(pos) = self.v.position_ix.get(position) else {
                self.problems.push(format!("as found: there is no position \"{position}\" on this vehicle"));
                continue;
            };
            let found = part.as_ref().map(|id| (id, self.cat.part_names.get(id)));
            if let Some((id, None)) = found {
                self.problems.push(format!("as found at {position}: the library has no part \"{id}\""));
            }
            let found = found.and_then(|(_, ix)| ix);
            if let Some(other) = found.and_then(|part| self.of_another_class(*pos, part)) {
                self.problems.push(format!("as found at {position}: {other}; the place is taken as empty"));
            }
            self.as_found[*pos as usize] = found.filter(|part| self.is_of_class(*pos, *part));
        }
    }

    fn jobs(&mut self) {
        for (pos, part) in self.as_found.iter().enumerate() {
            let Some(entry) = part.map(|p| &self.cat.parts[p as usize]).filter(|e| e.has_job) else {
                continue;
            };
            let is_job = |name: Ix| entry.port_ix(name).is_some_and(|p| p.alone == Alone::Surplus);
            let at_job = |joint: &Ix| {
                let ends = &self.v.joints[*joint as usize].ends;
                ends.iter().any(|(p, port)| *p as usize == pos && is_job(*port))
            };
            let joints: SmallVec<_> = self.v.joints_at[pos].iter().copied().filter(at_job).collect();
            if !joints.is_empty() {
                self.jobs.push((pos as Ix, joints));
            }
        }
    }

    fn routes(&mut self) {
        for (position, choice) in &self.plan.routes {
            let Some(pos) = self.v.position_ix.get(position) else {
                self.problems.push(format!(
                    "there is no position \"{position}\" on this vehicle; its route is left out"
                ));
                continue;
            };
            let part = choice.part.as_deref().and_then(|id| self.cat.part_names.get(id));
            if choice.route == Route::Convert && part.is_none() {
                let id = choice.part.as_deref().unwrap_or("");
                self.problems.push(format!(
                    "the library has no part \"{id}\" for {position}; the position is left as found"
                ));
                continue;
            }
            if let Some(other) = part.and_then(|part| self.of_another_class(*pos, part)) {
                self.problems.push(format!("the plan at {position}: {other}; the position is left as found"));
                continue;
            }
            self.owner[*pos as usize] = Some((choice.route, part));
        }
    }

    fn is_of_class(&self, pos: Ix, part: Ix) -> bool {
        self.cat.parts[part as usize].class == self.v.positions[pos as usize].class
    }

    /// What is wrong with a part that does not belong where a sheet puts it.
    fn of_another_class(&self, pos: Ix, part: Ix) -> Option<String> {
        let class = |ix: Ix| self.cat.classes.get(ix as usize).map_or("", |c| c.0.as_str());
        let (wanted, part) = (self.v.positions[pos as usize].class, &self.cat.parts[part as usize]);
        (part.class != wanted).then(|| {
            let (name, is, wants) = (&part.part.name, class(part.class), class(wanted));
            format!("\"{name}\" is of the class \"{is}\" and this place takes \"{wants}\"")
        })
    }

    fn measured(&mut self) {
        for (key, json) in &self.sheet.facts {
            if let Some((place, part)) = measured::pieces(key) {
                match self.port_fact(key, (place, part), json) {
                    Ok(fact) => self.port_facts.push(fact),
                    Err(message) => self.problems.push(format!("the measured {place}: {message}")),
                }
                continue;
            }
            let (figure, part) = key.split_once('@').map_or((key.as_str(), None), |(f, p)| (f, Some(p)));
            let part = match part.map(|id| (id, self.cat.part_names.get(id))) {
                Some((id, None)) => {
                    self.problems.push(format!("the measured {figure}: the library has no part \"{id}\""));
                    continue;
                }
                found => found.and_then(|(_, ix)| ix),
            };
            let ix = self.cat.figure_names.get(figure);
            let kind = ix.and_then(|i| self.cat.figures.get(i as usize)).map(|f| f.1);
            match (ix, kind.map(|k: Kind| Value::read(json, k))) {
                (Some(ix), Some(Ok(value))) => drop(match part {
                    None => self.facts.insert(ix, value),
                    Some(part) => self.part_facts.insert((part, ix), value),
                }),
                (_, Some(Err(message))) => self.problems.push(format!("the measured {figure}: {message}")),
                _ => self.problems.push(format!("the library knows no figure \"{figure}\"")),
            }
        }
    }

    /// # Errors
    /// A sentence where the library has no such part, port or field, or the value is none.
    fn port_fact(
        &self,
        key: &'a str,
        (place, part): (&'a str, &'a str),
        json: &Json,
    ) -> Result<PortFact<'a>, String> {
        let entry = self.cat.part(part).ok_or_else(|| format!("the library has no part \"{part}\""))?;
        let place = measured::place(self.cat, &entry.part, place)?;
        Value::read(json, place.kind)?;
        let ix = |names: &crate::catalogue::Names, id: &str| names.get(id).unwrap_or(Ix::MAX);
        let (part, port) = (ix(&self.cat.part_names, part), ix(&self.cat.port_names, place.port));
        Ok(PortFact { key, part, port, field: place.field })
    }

    fn picks(&mut self) {
        for (key, part) in &self.plan.picks {
            let Some(part) = self.cat.part_names.get(part) else {
                self.problems.push(format!(
                    "the library has no part \"{part}\" picked for {key}; the cheapest is taken"
                ));
                continue;
            };
            if let Some(pos) = key.strip_prefix("position:").and_then(|id| self.v.position_ix.get(id)) {
                self.fill_picks.insert(*pos, part);
            }
            let joint = key.strip_prefix("bridge:").and_then(|rest| rest.strip_suffix(":0"));
            if let Some(joint) =
                joint.and_then(|id| self.v.joints.binary_search_by(|j| j.id.as_str().cmp(id)).ok())
            {
                self.bridge_picks.insert(joint as Ix, part);
            }
        }
    }

    /// A measured fact of this vehicle before what the library says of its kind.
    pub fn fact(&self, figure: Ix) -> Option<&Value> {
        self.facts.get(&figure).or_else(|| self.v.facts.get(&figure))
    }
}
