//! What can be measured on this vehicle: values an open check wants, and those the sheet has.

use std::borrow::Cow;

use super::bench::{Bench, CheckKey};
use super::fills::Overlay;
use super::limit_inputs::Reading;
use crate::assessment::{Measured, Wanted};
use crate::catalogue::{FigureId, LimitInput, PartId, PositionId, RunId};
use crate::key::FactKey;
use crate::phrase::Phrase;
use crate::value::Value;

/// A figure, and what it is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Measure {
    figure: FigureId,
    of: Of,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    Vehicle,
    Part(PartId),
    Place(PositionId),
}

impl Bench<'_> {
    /// The values a check wants that is open: those not known, else those that could be known more closely.
    pub(super) fn wanted(&self, key: CheckKey) -> Vec<Wanted> {
        match key {
            CheckKey::Joint(joint) => self.wanted_at_joint(joint),
            CheckKey::Limit(limit) => self.wanted_by_limit(limit),
            _ => Vec::new(),
        }
    }

    fn wanted_by_limit(&self, limit: RunId) -> Vec<Wanted> {
        let read = self.read_by(limit);
        let unknown = |v: &Option<Value>| v.as_ref().is_none_or(|v| matches!(v, Value::Unknown(_)));
        let loose = |v: &Option<Value>| matches!(v, Some(Value::Quantity(q)) if q.tolerance > 0.0);
        let some_unknown = read.iter().any(|(_, v)| unknown(v));
        read.into_iter()
            .filter(|(_, v)| if some_unknown { unknown(v) } else { loose(v) })
            .filter_map(|(measure, value)| {
                let (name, kind, how) = self.cat.figures.get(measure.figure)?;
                let how = match &value {
                    Some(Value::Unknown(own)) if !own.is_empty() => own,
                    _ => how,
                };
                let now = value.as_ref().filter(|v| !matches!(v, Value::Unknown(_))).cloned();
                Some(Wanted {
                    key: self.fact_key(measure),
                    name: name.clone(),
                    how: Phrase::how(how),
                    part: self.name_of(measure.of),
                    now,
                    kind: *kind,
                    words: Vec::new(),
                    instead: None,
                })
            })
            .collect()
    }

    /// What the sheet has measured, with the positions whose checks rest on it.
    pub(super) fn measured(&self) -> Vec<Measured> {
        let ground = self.ground;
        let facts = ground.facts.iter().map(|(f, v)| (Measure { figure: *f, of: Of::Vehicle }, v));
        let of_parts =
            ground.part_facts.iter().map(|((p, f), v)| (Measure { figure: *f, of: Of::Part(*p) }, v));
        let of_places =
            ground.place_facts.iter().map(|((p, f), v)| (Measure { figure: *f, of: Of::Place(*p) }, v));
        let facts = facts.chain(of_parts).chain(of_places);
        let mut out: Vec<Measured> = facts
            .filter_map(|(measure, value)| {
                let (name, kind, _) = self.cat.figures.get(measure.figure)?;
                let readers =
                    self.v.limits.ids().filter(|l| self.read_by(*l).iter().any(|(read, _)| *read == measure));
                // where the part goes in, whatever sits there now: it can be taken back there
                let own: Vec<PositionId> = match measure.of {
                    Of::Vehicle => Vec::new(),
                    Of::Part(part) => self.positions_for(part).collect(),
                    Of::Place(pos) => vec![pos],
                };
                let mut positions: Vec<String> = readers
                    .flat_map(|l| self.v.limits[l].places.iter())
                    .chain(&own)
                    .map(|p| self.v.positions[*p].id.clone())
                    .collect();
                positions.sort();
                positions.dedup();
                Some(Measured {
                    key: self.fact_key(measure),
                    name: name.clone(),
                    part: self.name_of(measure.of),
                    value: value.text(),
                    kind: *kind,
                    words: Vec::new(),
                    positions,
                })
            })
            .chain(self.measured_at_ports())
            .collect();
        out.sort_by_cached_key(|m| m.key.to_string());
        out
    }

    /// The positions a part goes into.
    pub(super) fn positions_for(&self, part: PartId) -> impl Iterator<Item = PositionId> {
        let class = self.part(part).class;
        self.v.positions.iter().filter(move |(_, p)| p.class == class).map(|(pos, _)| pos)
    }

    /// All that a limit reads and that could be measured, with what is known of it so far.
    fn read_by(&self, limit: RunId) -> Vec<(Measure, Option<Value>)> {
        let mut all = Vec::new();
        for (_, input) in &self.limit_of(limit).inputs {
            input.each(&mut |input| {
                let Some(reading) = self.reading(limit, input) else { return };
                let (LimitInput::Fact { otherwise, .. } | LimitInput::Figure { otherwise, .. }) = input
                else {
                    return;
                };
                let now = || self.now(reading).or_else(|| otherwise.clone());
                all.extend(self.measure(reading).map(|measure| (measure, now())));
            });
        }
        all
    }

    /// What is measured where a limit reads something: on the part there, or where only the place has it, at the place.
    fn measure(&self, reading: Reading) -> Option<Measure> {
        match reading {
            Reading::Fact(figure) => Some(Measure { figure, of: Of::Vehicle }),
            Reading::Figure(pos, figure) => {
                let part = self.slot(pos).part;
                let has = |part: PartId| self.figure_of(part, figure).is_some();
                let is_of_place = self.ground.place_figure(pos, figure).is_some() && !part.is_some_and(has);
                let of = if is_of_place { Of::Place(pos) } else { Of::Part(part?) };
                Some(Measure { figure, of })
            }
            Reading::Pool(_) => None,
        }
    }

    /// What is said of it.
    fn now(&self, reading: Reading) -> Option<Value> {
        match reading {
            Reading::Fact(figure) => self.fact(figure, &Overlay::new()).map(Cow::into_owned),
            Reading::Figure(pos, figure) => self.figure_at(pos, self.slot(pos).part, figure).cloned(),
            Reading::Pool(_) => None,
        }
    }

    /// The name of what it is measured on; empty for the vehicle.
    fn name_of(&self, of: Of) -> String {
        match of {
            Of::Vehicle => String::new(),
            Of::Part(part) => self.name(part),
            Of::Place(pos) => self.place(pos),
        }
    }

    /// The values measured on this vehicle that a limit reads.
    pub(super) fn measured_for_limit(&self, limit: RunId) -> Vec<FactKey> {
        let ground = self.ground;
        let is_measured = |measure: &Measure| match measure.of {
            Of::Vehicle => ground.facts.contains_key(&measure.figure),
            Of::Part(part) => ground.part_facts.contains_key(&(part, measure.figure)),
            Of::Place(pos) => ground.place_facts.contains_key(&(pos, measure.figure)),
        };
        let read = self.read_by(limit).into_iter().map(|(measure, _)| measure).filter(is_measured);
        read.map(|measure| self.fact_key(measure)).collect()
    }

    /// The key of a figure of a part.
    pub(super) fn part_fact_key(&self, part: PartId, figure: FigureId) -> FactKey {
        self.fact_key(Measure { figure, of: Of::Part(part) })
    }

    fn fact_key(&self, measure: Measure) -> FactKey {
        let figure = self.cat.figure_names.id(measure.figure).to_owned();
        match measure.of {
            Of::Vehicle => FactKey::Vehicle { figure },
            Of::Part(part) => FactKey::Part { figure, part: self.cat.part_names.id(part).to_owned() },
            Of::Place(pos) => FactKey::Part { figure, part: self.v.positions[pos].id.clone() },
        }
    }
}

#[cfg(test)]
mod tests;
