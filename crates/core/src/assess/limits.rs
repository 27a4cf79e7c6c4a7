//! Limits: named calculations over what is fitted.

use std::borrow::Cow;

use rustc_hash::FxHashSet;
use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Cure, NO_REASON, Trouble};
use super::fills::Overlay;
use crate::assessment::Answer;
use crate::catalogue::{Ix, LimitInput};
use crate::library::Level;
use crate::limits::{Inputs, Outcome};
use crate::quantity::Quantity;
use crate::reason::{Fact, ReasonId};
use crate::units::Dimension;
use crate::value::{Kind, Value, Verdict3};

impl Bench<'_> {
    /// Positions a limit reads, and those that take from a pool it reads.
    fn limit_positions(&self, limit: Ix) -> Vec<Ix> {
        let mut out = self.v.limit_positions[limit as usize].clone();
        for (_, input) in &self.cat.limits[limit as usize].inputs {
            let LimitInput::Pool(pool) = input else { continue };
            let takes = |part: Ix| self.part(part).takes.iter().any(|(p, _)| p == pool);
            out.extend(self.fitted().filter(|(_, part)| takes(*part)).map(|(pos, _)| pos));
        }
        let mut seen = FxHashSet::default();
        out.retain(|p| seen.insert(*p));
        out
    }

    /// Whether a plan's change reaches a limit: a figure it reads, or the load of a pool it reads.
    fn limit_touched(&self, limit: Ix, pools: &[bool]) -> bool {
        let changed = |p: &Ix| self.slot(*p).changed;
        self.v.limit_positions[limit as usize].iter().any(changed)
            || self.cat.limits[limit as usize].inputs.iter().any(|(_, input)| match input {
                LimitInput::Pool(pool) => pools[*pool as usize],
                _ => false,
            })
    }

    /// `None`: it does not apply.
    pub fn limit_verdict(&self, limit: Ix, overlay: &Overlay) -> Option<Verdict3> {
        self.limit_outcome(limit, overlay, false).map(|o| o.verdict)
    }

    /// Broken does not count where a limit that knows better holds.
    pub(super) fn limit_outcome(&self, limit: Ix, overlay: &Overlay, words: bool) -> Option<Outcome> {
        let found = self.limit_with(limit, overlay, words, None)?;
        let better = self.cat.limits[limit as usize].yields_to.filter(|_| found.verdict == Verdict3::Broken);
        let yields =
            |b: Ix| self.limit_with(b, overlay, false, None).is_some_and(|o| o.verdict == Verdict3::Holds);
        if better.is_some_and(yields) { None } else { Some(found) }
    }

    /// With one input set to another value, where one is.
    pub(super) fn limit_with(
        &self,
        limit: Ix,
        overlay: &Overlay,
        words: bool,
        set: Option<(&LimitInput, &Value)>,
    ) -> Option<Outcome> {
        let entry = &self.cat.limits[limit as usize];
        let mut inputs = Inputs::new(words);
        let mut missing = Vec::new();
        for (name, input) in &entry.inputs {
            let value = match input {
                _ if set.is_some_and(|(other, _)| other.is_same(input)) => {
                    set.map(|(_, value)| Cow::Owned(value.clone()))
                }
                LimitInput::Fixed(value) => Some(Cow::Borrowed(value)),
                LimitInput::Fact(figure) => self.ground.fact(*figure).map(Cow::Borrowed),
                LimitInput::Pool(pool) => Some(Cow::Owned(self.taken(*pool, overlay))),
                LimitInput::Figure(class, figure, optional) => {
                    let pos = self.v.by_class.get(class).copied()?;
                    let part = self.tried(overlay, pos)?;
                    let value = self.figure_of(part, *figure);
                    if value.is_none() && *optional {
                        return None;
                    }
                    value.map(Cow::Borrowed)
                }
            };
            match value.as_deref() {
                Some(Value::Unknown(how)) => missing.push((input, how.clone())),
                Some(_) => inputs.add(name, value.unwrap_or(Cow::Owned(Value::Any))),
                None => missing.push((input, String::new())),
            }
        }
        if missing.is_empty() {
            return Some(entry.calc.run(inputs));
        }
        let mut text = String::new();
        if words {
            let named: Vec<String> = missing.iter().map(|(input, how)| self.missing(input, how)).collect();
            text = format!("not known: {}", named.join("; "));
        }
        Some(Outcome { verdict: Verdict3::Open, text, clears: Vec::new() })
    }

    /// A figure of a part: measured on this very part, else as the library has it.
    pub(super) fn figure_of(&self, part: Ix, figure: Ix) -> Option<&Value> {
        let measured = &self.ground.part_facts;
        let here = if measured.is_empty() { None } else { measured.get(&(part, figure)) };
        here.or_else(|| self.part(part).figure(figure))
    }

    /// The sum taken from a pool.
    fn taken(&self, pool: Ix, overlay: &Overlay) -> Value {
        let kind = Kind::from_word(&self.cat.pools[pool as usize].def.kind);
        let dimension = match kind {
            Some(Kind::Dimension(dimension)) => dimension,
            _ => Dimension::Ratio,
        };
        let si = self.pool_sum(pool, overlay).taken;
        Value::Quantity(Quantity { dimension, si, tolerance: 0.0, text: String::new() })
    }

    fn missing(&self, input: &LimitInput, how: &str) -> String {
        let (LimitInput::Figure(_, figure, _) | LimitInput::Fact(figure)) = input else {
            return String::new();
        };
        let Some((name, _, measure)) = self.cat.figures.get(*figure as usize) else { return String::new() };
        let how = if how.is_empty() { measure.as_str() } else { how };
        if how.is_empty() { name.clone() } else { format!("{name} ({how})") }
    }

    /// Limits that raise a need where they are broken: what answers it may count in a pool.
    pub fn raising_limits(&mut self) {
        self.limits_that(|raises| raises);
    }

    pub fn limits(&mut self) {
        self.limits_that(|raises| !raises);
    }

    fn limits_that(&mut self, are_wanted: impl Fn(bool) -> bool) {
        let pools = self.pools_touched();
        for limit in 0..self.cat.limits.len() as Ix {
            let raises = self.cat.limits[limit as usize].raises.is_some();
            if !are_wanted(raises) || !self.limit_touched(limit, &pools) {
                continue;
            }
            let verdict = self.limit_verdict(limit, &Overlay::new());
            if verdict == Some(Verdict3::Holds) {
                self.check(CheckKey::Limit(limit), Answer::Holds, NO_REASON);
                continue;
            }
            let Some(outcome) = self.limit_outcome(limit, &Overlay::new(), self.full) else { continue };
            let positions = self.limit_positions(limit);
            let reason = self.limit_reason(limit, &positions, &outcome.text);
            match outcome.verdict {
                Verdict3::Holds => {}
                Verdict3::Open => {
                    self.check(CheckKey::Limit(limit), Answer::ToMeasure, reason);
                    self.found.unknowns.push(Trouble {
                        key: CheckKey::Limit(limit),
                        positions: positions.into(),
                        reason,
                        what: outcome.text,
                        cure: Cure::None,
                    });
                }
                Verdict3::Broken => {
                    let cures = self.told_cures(limit, &outcome.clears);
                    self.limit_broken(limit, positions, reason, cures);
                }
            }
        }
    }

    fn limit_reason(&mut self, limit: Ix, positions: &[Ix], text: &str) -> ReasonId {
        let premises = self.reasons_of(positions.iter().copied());
        self.reason(&premises, |s| {
            let def = &s.cat.limits[limit as usize].def;
            Fact::Limit { limit: def.name.clone(), text: text.to_owned(), why: def.why.clone() }
        })
    }

    /// The figures of a limit that holds, in words.
    pub fn limit_holds(&mut self, limit: Ix) -> ReasonId {
        let positions = self.limit_positions(limit);
        let text = self.limit_outcome(limit, &Overlay::new(), self.full).map(|o| o.text).unwrap_or_default();
        self.limit_reason(limit, &positions, &text)
    }

    /// A part the limit does not read at all is no cure: only a figure that holds is.
    pub fn clears(&self, limit: Ix, pos: Ix, part: Ix) -> bool {
        self.limit_verdict(limit, &self.overlay(pos, part)) == Some(Verdict3::Holds)
    }

    fn limit_broken(&mut self, limit: Ix, positions: Vec<Ix>, reason: ReasonId, cures: String) {
        let cause = positions.iter().find_map(|p| self.root(*p));
        if self.is_raised(limit, &positions, reason) {
            return;
        }
        for pos in &positions {
            if !self.may_fill(*pos) {
                continue;
            }
            let part = self.cheapest_clean(*pos, |p| self.clears(limit, *pos, p));
            if let Some(part) = part.filter(|p| self.is_minor(*p, *pos, &positions)) {
                let fills =
                    self.reason(&[reason], |s| Fact::Fills { part: s.name(part), place: s.place(*pos) });
                self.fill(*pos, part, fills, cause, Level::Required);
                return;
            }
        }
        let mut positions = SmallVec::from_vec(positions);
        positions.sort_by_key(|p| !self.is_chosen(*p));
        self.check(CheckKey::Limit(limit), Answer::Broken, reason);
        self.found.clashes.push(Trouble {
            key: CheckKey::Limit(limit),
            positions,
            reason,
            what: cures,
            cure: Cure::Limit(limit),
        });
    }
}
