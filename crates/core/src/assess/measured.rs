//! What can be measured on this vehicle: values an open check wants, and those the sheet has.

use super::bench::{Bench, CheckKey};
use crate::assessment::{Measured, Wanted};
use crate::catalogue::{Ix, LimitInput};
use crate::key::FactKey;
use crate::value::Value;

impl Bench<'_> {
    /// The values a check wants that is open: those not known, else those that could be known more closely.
    pub(super) fn wanted(&self, key: CheckKey) -> Vec<Wanted> {
        match key {
            CheckKey::Joint(joint) => self.wanted_at_joint(joint),
            CheckKey::Limit(limit) => self.wanted_by_limit(limit),
            _ => Vec::new(),
        }
    }

    fn wanted_by_limit(&self, limit: Ix) -> Vec<Wanted> {
        let read: Vec<_> = self.cat.limits[limit as usize]
            .inputs
            .iter()
            .filter_map(|(_, input)| Some((self.measure_key(input)?, self.input(input))))
            .collect();
        let unknown = |v: &Option<Value>| v.as_ref().is_none_or(|v| matches!(v, Value::Unknown(_)));
        let loose = |v: &Option<Value>| matches!(v, Some(Value::Quantity(q)) if q.tolerance > 0.0);
        let some_unknown = read.iter().any(|(_, v)| unknown(v));
        read.into_iter()
            .filter(|(_, v)| if some_unknown { unknown(v) } else { loose(v) })
            .filter_map(|((figure, part), value)| {
                let (name, kind, measure) = self.cat.figures.get(figure as usize)?;
                let how = match &value {
                    Some(Value::Unknown(how)) if !how.is_empty() => how,
                    _ => measure,
                };
                let part_name = part.map(|p| self.part(p).part.name.clone()).unwrap_or_default();
                let now = value
                    .as_ref()
                    .filter(|v| !matches!(v, Value::Unknown(_)))
                    .map(Value::text)
                    .unwrap_or_default();
                let key = self.fact_key(figure, part);
                Some(Wanted {
                    key,
                    name: name.clone(),
                    how: how.clone(),
                    part: part_name,
                    now,
                    kind: *kind,
                    words: Vec::new(),
                })
            })
            .collect()
    }

    /// What the sheet has measured, with the positions whose checks rest on it.
    pub(super) fn measured(&self) -> Vec<Measured> {
        let facts = self.ground.facts.iter().map(|(f, v)| (*f, None, v));
        let of_parts = self.ground.part_facts.iter().map(|((p, f), v)| (*f, Some(*p), v));
        let mut out: Vec<Measured> = facts
            .chain(of_parts)
            .filter_map(|(figure, part, value)| {
                let (name, kind, _) = self.cat.figures.get(figure as usize)?;
                let mut positions: Vec<String> = (0..self.cat.limits.len() as Ix)
                    .filter(|l| self.reads(*l, figure, part))
                    .flat_map(|l| self.v.limit_positions[l as usize].iter())
                    .copied()
                    // where the part goes in, whatever sits there now: it can be taken back there
                    .chain(part.into_iter().flat_map(|part| self.positions_for(part)))
                    .map(|p| self.v.positions[p as usize].id.clone())
                    .collect();
                positions.sort();
                positions.dedup();
                let of = part.map(|p| self.part(p).part.name.clone()).unwrap_or_default();
                let key = self.fact_key(figure, part);
                Some(Measured {
                    key,
                    name: name.clone(),
                    part: of,
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
    pub(super) fn positions_for(&self, part: Ix) -> impl Iterator<Item = Ix> {
        let class = self.part(part).class;
        (0..).zip(&self.v.positions).filter(move |(_, p)| p.class == class).map(|(pos, _)| pos)
    }

    fn reads(&self, limit: Ix, figure: Ix, part: Option<Ix>) -> bool {
        let inputs = &self.cat.limits[limit as usize].inputs;
        inputs.iter().any(|(_, input)| self.measure_key(input) == Some((figure, part)))
    }

    /// What is measured where an input is: the figure, and the part where it is one's own.
    pub(super) fn measure_key(&self, input: &LimitInput) -> Option<(Ix, Option<Ix>)> {
        match input {
            LimitInput::Fact(figure) => Some((*figure, None)),
            LimitInput::Figure(class, figure, _) => {
                let pos = self.v.by_class.get(class).copied()?;
                Some((*figure, Some(self.slot(pos).part?)))
            }
            _ => None,
        }
    }

    fn input(&self, input: &LimitInput) -> Option<Value> {
        let (figure, part) = self.measure_key(input)?;
        match part {
            None => self.ground.fact(figure).cloned(),
            Some(part) => self.figure_of(part, figure).cloned(),
        }
    }

    pub(super) fn fact_key(&self, figure: Ix, part: Option<Ix>) -> FactKey {
        let figure = self.cat.figure_names.id(figure).to_owned();
        match part {
            None => FactKey::Vehicle { figure },
            Some(part) => FactKey::Part { figure, part: self.cat.part_names.id(part).to_owned() },
        }
    }
}
