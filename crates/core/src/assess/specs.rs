//! The numbers of the library that a step of a derivation reads, each by its place, so that a reader can be told where
//! they come from.

use std::collections::{BTreeMap, BTreeSet};

use super::bench::{Bench, NO_REASON};
use super::fills::Overlay;
use super::ground::PortFact;
use super::limit_inputs::Reading;
use crate::assessment::Assessment;
use crate::catalogue::{CircuitId, ClassId, FigureId, NeedId, PartId, PoolId, PortEntry, PositionId, RunId};
use crate::key::FactKey;
use crate::library::Level;
use crate::reason::ReasonId;
use crate::sources::{Spec, SpecTable};
use crate::value::{Kind, Value};

/// Whether a value is a number that somebody has from somewhere.
pub(super) fn is_number(value: &Value) -> bool {
    match value {
        Value::Quantity(_) | Value::Window { .. } | Value::Curve(_) => true,
        Value::Word(word) => word.chars().any(|c| c.is_ascii_digit()),
        Value::OneOf(all) => all.iter().any(is_number),
        Value::Any | Value::Unknown(_) => false,
    }
}

impl Bench<'_> {
    /// Notes the numbers of the library that a step of a derivation reads.
    pub fn noting(&mut self, reason: ReasonId, specs: impl FnOnce(&Self) -> Vec<Spec>) -> ReasonId {
        if reason != NO_REASON {
            let specs = specs(self);
            if let Some(reason) = self.arena.get_mut(reason.0 as usize) {
                reason.specs.extend(specs);
                reason.specs.sort();
                reason.specs.dedup();
            }
        }
        reason
    }

    fn of_part(&self, part: PartId, path: String, value: &Value) -> Option<Spec> {
        let id = self.cat.part_names.id(part);
        is_number(value).then(|| Spec::new(SpecTable::Parts, id, path, value.text()))
    }

    fn of_vehicle(&self, path: String, value: &Value) -> Option<Spec> {
        let id = &self.ground.sheet.vehicle;
        is_number(value).then(|| Spec::new(SpecTable::Vehicles, id, path, value.text()))
    }

    /// A field of a port of a part, where it is not measured on this vehicle.
    pub(super) fn port_spec(&self, part: PartId, port: &PortEntry, field: usize) -> Option<Spec> {
        let is_measured = |fact: &PortFact| (fact.part, fact.port, fact.field) == (part, port.name_ix, field);
        if self.ground.port_facts.iter().any(is_measured) {
            return None;
        }
        let (name, _, kind, _) = self.cat.port_types.get(port.port_type)?.fields.get(field)?;
        let at = self.cat.port_names.id(port.name_ix);
        let value = port.values.get(field)?.as_ref()?;
        if *kind == Kind::Word {
            None
        } else {
            self.of_part(part, format!("ports.{at}.fields.{name}"), value)
        }
    }

    /// A field of two ports that meet, at what sits at each, and the difference it allows.
    pub(super) fn field_specs(&self, ends: [(PositionId, &PortEntry); 2], field: usize) -> Vec<Spec> {
        let at = |(pos, port): &(PositionId, &PortEntry)| self.port_spec(self.slot(*pos).part?, port, field);
        let mut out: Vec<Spec> = ends.iter().filter_map(at).collect();
        let port_type = ends[0].1.port_type;
        let def = self.cat.port_types.get(port_type).and_then(|t| t.fields.get(field));
        if let Some((name, def, ..)) = def
            && let Some(within) = &def.within
        {
            let id = self.cat.port_type_names.id(port_type);
            out.push(Spec::new(SpecTable::PortTypes, id, format!("fields.{name}.within"), within.clone()));
        }
        out
    }

    /// All fields of the ports of a part.
    pub(super) fn all_port_specs(&self, part: PartId) -> Vec<Spec> {
        let ports = &self.part(part).ports;
        ports
            .iter()
            .flat_map(|port| (0..port.values.len()).filter_map(|f| self.port_spec(part, port, f)))
            .collect()
    }

    /// What a limit reads, and the limit itself.
    pub(super) fn limit_specs(&self, limit: RunId) -> Vec<Spec> {
        let id = self.limit_of(limit).id.as_str();
        let mut out = vec![Spec::new(SpecTable::Limits, id, String::new(), String::new())];
        for (_, input) in &self.limit_of(limit).inputs {
            input.each(&mut |input| match self.reading(limit, input) {
                Some(Reading::Fact(figure)) => out.extend(self.fact_specs(figure)),
                Some(Reading::Figure(pos, figure)) => out.extend(self.figure_spec(pos, figure)),
                Some(Reading::Pool(pool)) => out.extend(self.pool_specs(pool)),
                None => {}
            });
        }
        out
    }

    /// A figure at a position, where it is not measured on this vehicle.
    fn figure_spec(&self, pos: PositionId, figure: FigureId) -> Option<Spec> {
        let name = self.cat.figure_names.id(figure);
        let here = self.slot(pos).part;
        if let Some((part, value)) = here.and_then(|part| Some((part, self.figure_of(part, figure)?))) {
            let is_measured = self.ground.part_facts.contains_key(&(part, figure));
            return if is_measured { None } else { self.of_part(part, format!("figures.{name}"), value) };
        }
        let value = self.v.positions[pos].figure(figure)?;
        let is_measured = self.ground.place_facts.contains_key(&(pos, figure));
        let path = format!("positions.{}.figures.{name}", self.v.positions[pos].id);
        if is_measured { None } else { self.of_vehicle(path, value) }
    }

    /// A fact of the vehicle: of the parts that set it as it is, else of the library, where it is not measured.
    fn fact_specs(&self, figure: FigureId) -> Vec<Spec> {
        let name = self.cat.figure_names.id(figure);
        let Some(now) = self.fact(figure, &Overlay::new()) else { return Vec::new() };
        let set = |part: PartId| {
            let (_, value) = self.part(part).sets.iter().find(|(f, _)| *f == figure)?;
            if value.text() == now.text() { self.of_part(part, format!("sets.{name}"), value) } else { None }
        };
        let all = self.slots.values().filter_map(|slot| slot.part).chain(self.added().map(|comp| comp.part));
        let set: Vec<Spec> = all.filter_map(set).collect();
        if !set.is_empty() || self.ground.facts.contains_key(&figure) {
            return set;
        }
        let library = self.v.facts.get(&figure).filter(|value| value.text() == now.text());
        library.and_then(|value| self.of_vehicle(format!("facts.{name}"), value)).into_iter().collect()
    }

    /// What is given to a pool and taken from it.
    pub(super) fn pool_specs(&self, pool: PoolId) -> Vec<Spec> {
        let id = self.cat.pool_names.id(pool);
        let mut out = Vec::new();
        if let Some(margin) = self.cat.pools.get(pool).and_then(|entry| entry.def.margin.as_ref()) {
            out.push(Spec::new(SpecTable::Pools, id, "margin".to_owned(), margin.clone()));
        }
        let all = self.slots.values().filter_map(|slot| slot.part).chain(self.added().map(|comp| comp.part));
        for part in all {
            for (word, list) in [("gives", &self.part(part).gives), ("takes", &self.part(part).takes)] {
                let here = list.iter().filter(|(of, _)| *of == pool);
                out.extend(here.filter_map(|(_, value)| self.of_part(part, format!("{word}.{id}"), value)));
            }
        }
        let given = self.v.gives.iter().filter(|(of, _)| *of == pool);
        out.extend(given.filter_map(|(_, value)| self.of_vehicle(format!("gives.{id}"), value)));
        out
    }

    /// What a part wants of a need.
    pub(super) fn want_spec(&self, part: PartId, need: NeedId) -> Option<Spec> {
        let id = self.cat.need_names.id(need);
        let (_, value, level) = self.part(part).needs.iter().find(|(of, ..)| *of == need)?;
        let word = if *level == Level::Required { "needs" } else { "advises" };
        self.of_part(part, format!("{word}.{id}"), value.as_ref()?)
    }

    /// What a part offers of a need.
    pub(super) fn offer_spec(&self, part: PartId, need: NeedId) -> Option<Spec> {
        let id = self.cat.need_names.id(need);
        let (_, value) = self.part(part).offers.iter().find(|(of, _)| *of == need)?;
        self.of_part(part, format!("offers.{id}"), value.as_ref()?)
    }

    /// What circuits hold.
    pub(super) fn circuit_specs(&self, circuits: &[CircuitId]) -> Vec<Spec> {
        let written =
            self.cat.files.iter().filter_map(|(_, file)| file.vehicles.get(&self.ground.sheet.vehicle));
        let written: Vec<_> = written.collect();
        let one = |circuit: &CircuitId| {
            let id = &self.v.circuits[*circuit].id;
            let def = written.iter().find_map(|piece| piece.circuits.get(id))?;
            let path = format!("circuits.{id}.capacity");
            Some(Spec::new(SpecTable::Vehicles, &self.ground.sheet.vehicle, path, def.capacity.clone()))
        };
        circuits.iter().filter_map(one).collect()
    }

    /// How long the parts of a class last.
    pub(super) fn lasts_spec(&self, class: ClassId) -> Option<Spec> {
        let lasts = self.cat.lasts.get(class)?.as_ref()?;
        let id = self.cat.class_names.id(class);
        Some(Spec::new(SpecTable::Classes, id, "lasts".to_owned(), lasts.time.to_string()))
    }
}

/// What a finding reads: numbers of the library, and those measured on the vehicle.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Read {
    /// Numbers of the library, in order.
    pub specs: Vec<Spec>,
    /// Values measured on the vehicle, each with what it is.
    pub measured: BTreeMap<FactKey, String>,
}

impl Assessment {
    /// The numbers that a reason rests on, all the way down. Empty for a reason that is not there.
    #[must_use]
    pub fn read(&self, root: ReasonId) -> Read {
        let mut out = Read::default();
        let (mut seen, mut open) = (BTreeSet::new(), vec![root]);
        while let Some(id) = open.pop() {
            if !seen.insert(id) {
                continue;
            }
            let Some(reason) = self.reasons.get(id.0 as usize) else { continue };
            out.specs.extend(reason.specs.iter().cloned());
            for key in &reason.measured {
                let value = self.measured.iter().find(|m| m.key == *key).map(|m| m.value.clone());
                out.measured.insert(key.clone(), value.unwrap_or_default());
            }
            open.extend(&reason.premises);
        }
        out.specs.sort();
        out.specs.dedup();
        out
    }
}

#[cfg(test)]
mod tests;
