//! What an assessment rests on and never changes: the sheet's words resolved once.

use std::borrow::Cow;
use std::collections::BTreeMap;

use rustc_hash::{FxHashMap, FxHashSet};
use serde_json::Value as Json;
use smallvec::SmallVec;

use super::ages::Aging;
use super::bench::Key;
use super::spent::Records;
use crate::catalogue::{
    Catalogue, CircuitEntry, ClassId, FigureId, Id, JointId, Numbered, PartId, PortNameId, PositionEntry,
    PositionId, VehicleEntry, measured,
};
use crate::key::FactKey;
use crate::library::Alone;
use crate::sheet::{Finding, Plan, Route, Sheet};
use crate::survey::verdicts;
use crate::value::{Kind, Value};

/// What the owner chose at a position: the route and, for a conversion, the part.
pub(crate) type Chosen = Option<(Route, Option<PartId>)>;

/// A value measured at a port of a part.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PortFact {
    pub part: PartId,
    /// Number of the port name.
    pub port: PortNameId,
    /// Its place among the fields of the port type.
    pub field: usize,
}

pub(crate) struct Ground<'a> {
    pub cat: &'a Catalogue,
    pub v: &'a VehicleEntry,
    pub sheet: &'a Sheet,
    pub plan: &'a Plan,
    /// What the survey says of each place: a person, and what was read and seen.
    pub survey: Cow<'a, BTreeMap<String, Finding>>,
    pub as_found: Numbered<PositionEntry, Option<PartId>>,
    pub owner: Numbered<PositionEntry, Chosen>,
    /// Positions whose as-found part has a job, with the joints where it has it.
    pub jobs: Vec<(PositionId, SmallVec<[JointId; 4]>)>,
    pub facts: FxHashMap<FigureId, Value>,
    /// Figures measured on a part of this vehicle, by part and figure.
    pub part_facts: FxHashMap<(PartId, FigureId), Value>,
    /// Figures measured at a place of this vehicle, by position and figure.
    pub place_facts: FxHashMap<(PositionId, FigureId), Value>,
    /// Values measured at ports, which the library for this sheet has in its parts.
    pub port_facts: Vec<PortFact>,
    /// Positions whose parts do not last for ever, in order; none where no day was given.
    pub aging: Vec<Aging<'a, PositionEntry>>,
    /// The same of circuits and their fluids.
    pub fluids: Vec<Aging<'a, CircuitEntry>>,
    /// Parts the owner picked for positions nobody chose for.
    pub fill_picks: FxHashMap<PositionId, PartId>,
    /// Bridges the owner picked for joints.
    pub bridge_picks: FxHashMap<JointId, PartId>,
    /// Parts the owner picked for needs.
    pub need_picks: FxHashMap<Key, PartId>,
    /// Parts that lie on the bench or are fitted: they cost nothing any more.
    pub in_hand: FxHashSet<PartId>,
    /// What the buying record says.
    pub records: Records<'a>,
    /// Companions the owner has said yes to.
    pub accepted: FxHashSet<Key>,
    /// Companions the owner leaves out, each with the reason.
    pub waived: FxHashMap<Key, &'a str>,
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
            survey: verdicts(sheet, cat, v),
            as_found: v.positions.values().map(|p| p.as_found).collect(),
            owner: Numbered::filled(None, v.positions.len()),
            jobs: Vec::new(),
            facts: FxHashMap::default(),
            part_facts: FxHashMap::default(),
            place_facts: FxHashMap::default(),
            port_facts: Vec::new(),
            aging: Vec::new(),
            fluids: Vec::new(),
            fill_picks: FxHashMap::default(),
            bridge_picks: FxHashMap::default(),
            need_picks: FxHashMap::default(),
            in_hand: FxHashSet::default(),
            records: Records::default(),
            accepted: FxHashSet::default(),
            waived: FxHashMap::default(),
            problems: Vec::new(),
        };
        ground.found_otherwise();
        ground.jobs();
        ground.routes();
        ground.measured();
        ground.picks();
        ground.companions();
        ground.ages();
        ground.in_hand();
        ground.records();
        Ok(ground)
    }

    fn in_hand(&mut self) {
        let lines = self.sheet.lines.iter();
        let had = lines.filter(|(_, line)| line.state.is_here());
        self.in_hand = had.filter_map(|(id, _)| self.cat.part_names.get(id)).collect();
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
            self.as_found[*pos] = found.filter(|part| self.is_of_class(*pos, *part));
        }
    }

    fn jobs(&mut self) {
        for (pos, part) in self.as_found.iter() {
            let Some(entry) = part.map(|p| &self.cat.parts[p]).filter(|e| e.has_job) else {
                continue;
            };
            let is_job = |name: PortNameId| entry.port_ix(name).is_some_and(|p| p.alone == Alone::Surplus);
            let at_job = |joint: &JointId| {
                let ends = &self.v.joints[*joint].ends;
                ends.iter().any(|(p, port)| *p == pos && is_job(*port))
            };
            let joints: SmallVec<_> = self.v.joints_at[pos].iter().copied().filter(at_job).collect();
            if !joints.is_empty() {
                self.jobs.push((pos, joints));
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
            self.owner[*pos] = Some((choice.route, part));
        }
    }

    fn is_of_class(&self, pos: PositionId, part: PartId) -> bool {
        self.cat.parts[part].class == self.v.positions[pos].class
    }

    /// What is wrong with a part that does not belong where a sheet puts it.
    fn of_another_class(&self, pos: PositionId, part: PartId) -> Option<String> {
        let class = |ix: ClassId| self.cat.classes.get(ix).map_or("", |c| c.name.as_str());
        let (wanted, part) = (self.v.positions[pos].class, &self.cat.parts[part]);
        (part.class != wanted).then(|| {
            let (name, is, wants) = (&part.part.name, class(part.class), class(wanted));
            format!("\"{name}\" is of the class \"{is}\" and this place takes \"{wants}\"")
        })
    }

    fn measured(&mut self) {
        for (key, json) in &self.sheet.facts {
            let key: FactKey = match key.parse() {
                Ok(key) => key,
                Err(why) => {
                    self.problems.push(format!("{why}; the value is left out"));
                    continue;
                }
            };
            let (figure, part) = match &key {
                FactKey::Vehicle { figure } => (figure, None),
                FactKey::Part { figure, part } => (figure, Some(part)),
                FactKey::Port { port, field, part } => {
                    match self.port_fact([port, field, part], json) {
                        Ok(fact) => self.port_facts.push(fact),
                        Err(why) => self.problems.push(format!("the measured {port}.{field}: {why}")),
                    }
                    continue;
                }
            };
            let place = part.and_then(|id| self.v.position_ix.get(id)).copied();
            let part = match part.map(|id| (id, self.cat.part_names.get(id))) {
                Some((id, None)) if place.is_none() => {
                    self.problems.push(format!(
                        "the measured {figure}: \"{id}\" is neither a part of the library nor a place of the vehicle"
                    ));
                    continue;
                }
                found => found.and_then(|(_, ix)| ix),
            };
            let ix = self.cat.figure_names.get(figure);
            let kind = ix.and_then(|i| self.cat.figures.get(i)).map(|f| f.1);
            match (ix, kind.map(|k: Kind| Value::read(json, k))) {
                (Some(ix), Some(Ok(value))) => drop(match (part, place) {
                    (None, None) => self.facts.insert(ix, value),
                    (Some(part), _) => self.part_facts.insert((part, ix), value),
                    (None, Some(place)) => self.place_facts.insert((place, ix), value),
                }),
                (_, Some(Err(message))) => self.problems.push(format!("the measured {figure}: {message}")),
                _ => self.problems.push(format!("the library knows no figure \"{figure}\"")),
            }
        }
    }

    /// # Errors
    /// A sentence where the library has no such part, port or field, or the value is none.
    fn port_fact(&self, [port, field, part]: [&str; 3], json: &Json) -> Result<PortFact, String> {
        let entry = self.cat.part(part).ok_or_else(|| format!("the library has no part \"{part}\""))?;
        let place = measured::place(self.cat, &entry.part, port, field)?;
        Value::read(json, place.kind)?;
        let part = self.cat.part_names.get(part).unwrap_or(Id::UNKNOWN);
        let port = self.cat.port_names.get(place.port).unwrap_or(Id::UNKNOWN);
        Ok(PortFact { part, port, field: place.field })
    }

    fn picks(&mut self) {
        for (key, part) in &self.plan.picks {
            let Some(part) = self.cat.part_names.get(part) else {
                self.problems.push(format!(
                    "the library has no part \"{part}\" picked for {key}; the cheapest is taken"
                ));
                continue;
            };
            match self.numbered(key) {
                Some(Key::Fill(pos)) => drop(self.fill_picks.insert(pos, part)),
                Some(Key::Bridge(joint, 0)) => drop(self.bridge_picks.insert(joint, part)),
                Some(key @ Key::Need(..)) => drop(self.need_picks.insert(key, part)),
                // nothing else is picked
                _ => {}
            }
        }
    }

    /// A figure of a place itself: measured there, else as the library has it.
    pub fn place_figure(&self, pos: PositionId, figure: FigureId) -> Option<&Value> {
        let here = if self.place_facts.is_empty() { None } else { self.place_facts.get(&(pos, figure)) };
        here.or_else(|| self.v.positions[pos].figure(figure))
    }

    /// What is said of companions. A key that names what is not there belongs to none.
    fn companions(&mut self) {
        self.accepted = self.plan.accepted.iter().filter_map(|key| self.numbered(key)).collect();
        let waived = self.plan.waived.iter();
        self.waived = waived.filter_map(|(key, why)| Some((self.numbered(key)?, why.as_str()))).collect();
        self.problems.extend(self.plan.unread.errors().map(|why| format!("{why}; it is left out")));
    }

    /// A measured fact of this vehicle before what the library says of its kind.
    pub fn fact(&self, figure: FigureId) -> Option<&Value> {
        self.facts.get(&figure).or_else(|| self.v.facts.get(&figure))
    }
}

#[cfg(test)]
mod tests;
