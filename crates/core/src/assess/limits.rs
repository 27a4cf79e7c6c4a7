//! Limits: named calculations over what is fitted.

use std::collections::{BTreeMap, VecDeque};

use super::bench::{Bench, CheckKey, Trouble};
use super::fills::{Must, Overlay};
use super::needs::Ask;
use crate::assessment::Answer;
use crate::catalogue::{Ix, LimitInput};
use crate::library::Level;
use crate::limits::{Outcome, calculate};
use crate::reason::Fact;
use crate::value::{Value, Verdict3};

impl Bench<'_> {
    fn limit_positions(&self, limit: Ix) -> Vec<Ix> {
        let mut out = Vec::new();
        for (_, input) in &self.cat.limits[limit as usize].inputs {
            if let LimitInput::Figure(class, ..) = input
                && let Some(pos) = self.v.by_class.get(class)
                && !out.contains(pos)
            {
                out.push(*pos);
            }
        }
        out
    }

    /// Whether a limit reads a position the overlay changes.
    pub fn limit_reads(&self, limit: Ix, overlay: &Overlay) -> bool {
        self.limit_positions(limit).iter().any(|p| overlay.iter().any(|(o, _)| o == p))
    }

    /// `None`: it does not apply.
    pub fn limit_state(&self, limit: Ix, overlay: &Overlay) -> Option<Outcome> {
        let entry = &self.cat.limits[limit as usize];
        let mut inputs: BTreeMap<&str, Value> = BTreeMap::new();
        let mut missing = Vec::new();
        for (name, input) in &entry.inputs {
            let value = match input {
                LimitInput::Fixed(value) => Some(value.clone()),
                LimitInput::Fact(figure) => {
                    self.facts.get(figure).or_else(|| self.v.facts.get(figure)).cloned()
                }
                LimitInput::Pool(pool) => {
                    let state = self.pool_state(*pool, overlay);
                    Some(Value::Quantity(crate::quantity::Quantity {
                        dimension: crate::units::Dimension::Current,
                        si: state.taken,
                        tolerance: 0.0,
                        text: String::new(),
                    }))
                }
                LimitInput::Figure(class, figure, optional) => {
                    let pos = self.v.by_class.get(class).copied()?;
                    let part = self.tried(overlay, pos)?;
                    let value = self.part(part).figure(*figure).cloned();
                    if value.is_none() && *optional {
                        return None;
                    }
                    value
                }
            };
            match value {
                Some(Value::Unknown(how)) => missing.push(self.missing(input, &how)),
                Some(value) => {
                    inputs.insert(name, value);
                }
                None => missing.push(self.missing(input, "")),
            }
        }
        if !missing.is_empty() {
            return Some(Outcome {
                verdict: Verdict3::Open,
                text: format!("not known: {}", missing.join("; ")),
                clears: String::new(),
            });
        }
        Some(calculate(&entry.def.calc, &inputs))
    }

    fn missing(&self, input: &LimitInput, how: &str) -> String {
        let (LimitInput::Figure(_, figure, _) | LimitInput::Fact(figure)) = input else {
            return String::new();
        };
        let Some((name, _, measure)) = self.cat.figures.get(*figure as usize) else { return String::new() };
        let how = if how.is_empty() { measure.as_str() } else { how };
        if how.is_empty() { name.clone() } else { format!("{name} ({how})") }
    }

    pub fn limits(&mut self) {
        for limit in 0..self.cat.limits.len() as Ix {
            let positions = self.limit_positions(limit);
            if !positions.iter().any(|p| self.slot(*p).changed) {
                continue;
            }
            let Some(outcome) = self.limit_state(limit, &Self::as_is()) else { continue };
            let premises: Vec<_> = positions.iter().map(|p| self.slot(*p).reason).collect();
            let reason = self.reason(&premises, |s| {
                let def = &s.cat.limits[limit as usize].def;
                Fact::Limit { limit: def.name.clone(), text: outcome.text.clone(), why: def.why.clone() }
            });
            match outcome.verdict {
                Verdict3::Holds => self.check(CheckKey::Limit(limit), Answer::Holds, reason),
                Verdict3::Open => {
                    self.check(CheckKey::Limit(limit), Answer::ToMeasure, reason);
                    self.found.unknowns.push(Trouble {
                        key: CheckKey::Limit(limit),
                        positions,
                        reason,
                        what: outcome.text,
                        remedies: Vec::new(),
                    });
                }
                Verdict3::Broken => self.limit_broken(limit, positions, reason, outcome.clears),
            }
        }
    }

    fn limit_broken(
        &mut self,
        limit: Ix,
        positions: Vec<Ix>,
        reason: crate::reason::ReasonId,
        cures: String,
    ) {
        let cause = positions.iter().find_map(|p| self.root(*p));
        if let Some((need, value)) = self.cat.limits[limit as usize].raises.clone() {
            let at = positions.iter().copied().find(|p| self.slot(*p).changed);
            let asker = at.and_then(|p| self.slot(p).part).unwrap_or_default();
            self.check(CheckKey::Limit(limit), Answer::Bridged, reason);
            let ask = Ask {
                need,
                value,
                level: Level::Required,
                cause,
                at,
                asker,
                reason,
                parent: None,
                line: Vec::new(),
            };
            self.answer(VecDeque::from([ask]));
            return;
        }
        // a part the limit does not read at all is no cure: only a figure that holds is
        let clears = |s: &Self, pos: Ix, part: Ix| {
            s.limit_state(limit, &s.overlay(pos, part)).is_some_and(|o| o.verdict == Verdict3::Holds)
        };
        for pos in &positions {
            if !self.may_fill(*pos) {
                continue;
            }
            let part = self
                .candidates(*pos, Must::Fit, true)
                .into_iter()
                .find(|(broken, p)| *broken == 0 && clears(self, *pos, *p));
            if let Some((_, part)) = part {
                let fills =
                    self.reason(&[reason], |s| Fact::Fills { part: s.name(part), place: s.place(*pos) });
                self.fill(*pos, part, fills, cause, Level::Required);
                return;
            }
        }
        let mut remedies = Vec::new();
        if self.full {
            for pos in &positions {
                let better = self
                    .candidates(*pos, Must::Fit, true)
                    .into_iter()
                    .filter(|(_, p)| clears(self, *pos, *p));
                remedies.extend(better.take(2).map(|(_, p)| (*pos, p)));
            }
        }
        let mut positions = positions;
        positions.sort_by_key(|p| !self.is_chosen(*p));
        self.check(CheckKey::Limit(limit), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Limit(limit),
            positions,
            reason,
            what: cures,
            remedies,
        });
    }
}
