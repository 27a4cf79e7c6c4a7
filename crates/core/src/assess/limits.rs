//! Limits: named calculations over what is fitted.

use rustc_hash::FxHashSet;
use smallvec::SmallVec;

use super::bench::{Bench, CheckKey, Cure, NO_REASON, Trouble};
use super::fills::Overlay;
use super::limit_inputs::{Missing, Reading};
use crate::assessment::Answer;
use crate::catalogue::{FigureId, LimitInput, Numbered, PartId, PoolEntry, PoolId, PositionId, RunId};
use crate::limits::{Inputs, Outcome};
use crate::phrase;
use crate::phrase::Phrase;
use crate::quantity::Quantity;
use crate::reason::{Fact, ReasonId};
use crate::units::Dimension;
use crate::value::{Kind, Value, Verdict3};

/// Why a limit says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Silent {
    /// Nothing is fitted where it reads, or the vehicle does not state a fact that it reads.
    NotAbout,
    /// The part at this position lacks a figure that only some parts have.
    Lacks(PositionId),
    /// It is broken, and the limit that knows better holds.
    Yields,
}

impl<'a> Bench<'a> {
    /// Positions a limit reads now, those that take from a pool it reads, and those whose part sets a fact it reads.
    pub(super) fn limit_positions(&self, run: RunId) -> Vec<PositionId> {
        let mut out = self.v.limits[run].places.clone();
        let setters = self.v.limits[run].setters.iter().copied();
        out.extend(setters.filter(|pos| self.slot(*pos).part.is_some_and(|part| self.sets_for(run, part))));
        out.extend(self.takers_for(run));
        let mut seen = FxHashSet::default();
        out.retain(|p| seen.insert(*p));
        out
    }

    /// Places whose part takes from a pool that a limit reads.
    pub(super) fn takers_for(&self, run: RunId) -> SmallVec<[PositionId; 8]> {
        let mut out = SmallVec::new();
        for (_, input) in &self.limit_of(run).inputs {
            input.each(&mut |input| {
                let LimitInput::Pool(pool) = input else { return };
                let takes = |part: PartId| self.part(part).takes.iter().any(|(p, _)| p == pool);
                out.extend(self.fitted().filter(|(_, part)| takes(*part)).map(|(pos, _)| pos));
            });
        }
        out
    }

    /// Whether a part sets a fact that a limit reads.
    pub(super) fn sets_for(&self, run: RunId, part: PartId) -> bool {
        let mut sets = false;
        for (_, input) in &self.limit_of(run).inputs {
            input.each(&mut |input| {
                if let LimitInput::Fact { figure, .. } = input {
                    sets |= self.part(part).sets.iter().any(|(f, _)| f == figure);
                }
            });
        }
        sets
    }

    /// Whether a plan's change reaches a limit: a figure it reads, a fact that is set, or the load of a pool it reads.
    pub(super) fn limit_touched(&self, run: RunId, pools: &Numbered<PoolEntry, bool>) -> bool {
        let here = &self.v.limits[run];
        let changed = |p: &PositionId| self.slot(*p).changed;
        let sets = |part: Option<PartId>| part.is_some_and(|part| self.sets_for(run, part));
        let reset = |p: &PositionId| changed(p) && (sets(self.slot(*p).part) || sets(self.as_found(*p)));
        let mut pooled = false;
        for (_, input) in &self.limit_of(run).inputs {
            input.each(&mut |input| {
                if let LimitInput::Pool(pool) = input {
                    pooled |= pools[*pool];
                }
            });
        }
        pooled
            || here.places.iter().any(changed)
            || here.setters.iter().any(reset)
            || !self.cat.set_by.is_empty() && self.added().any(|comp| self.sets_for(run, comp.part))
    }

    /// `None`: it does not apply.
    pub fn limit_verdict(&self, run: RunId, overlay: &Overlay) -> Option<Verdict3> {
        self.limit_outcome(run, overlay, false).map(|o| o.verdict)
    }

    /// `None`: it does not apply. Broken does not count where a limit that knows better holds.
    pub(super) fn limit_outcome(&self, run: RunId, overlay: &Overlay, words: bool) -> Option<Outcome> {
        self.limit_judged(run, overlay, words).ok()
    }

    fn limit_judged(&self, run: RunId, overlay: &Overlay, words: bool) -> Result<Outcome, Silent> {
        let found = self.limit_with(run, overlay, words, None)?;
        let better = &self.v.limits[run].yields_to;
        let holds =
            |b: &RunId| self.limit_with(*b, overlay, false, None).is_ok_and(|o| o.verdict == Verdict3::Holds);
        // where it has several runs at these places, all of them
        let yields = found.verdict == Verdict3::Broken && !better.is_empty() && better.iter().all(holds);
        if yields { Err(Silent::Yields) } else { Ok(found) }
    }

    /// How far beyond its bound a broken limit is, where it tells that.
    pub(super) fn beyond(&self, run: RunId, overlay: &Overlay) -> i64 {
        self.limit_outcome(run, overlay, false).map_or(0, |outcome| outcome.beyond)
    }

    /// With one input set to another value, where one is.
    pub(super) fn limit_with(
        &self,
        run: RunId,
        overlay: &Overlay,
        words: bool,
        set: Option<(Reading, &Value)>,
    ) -> Result<Outcome, Silent> {
        let mut missing = SmallVec::new();
        let inputs = self.inputs_of(run, overlay, words, set, &mut missing)?;
        if missing.is_empty() {
            return Ok(self.limit_of(run).calc.run(inputs));
        }
        let mut text = Phrase::default();
        if words {
            let named = missing.iter().map(|(figure, how)| self.missing(*figure, how));
            text = phrase!["measure "].then(Phrase::joined(named, "; "));
        }
        Ok(Outcome { verdict: Verdict3::Open, text, clears: Vec::new(), beyond: 0 })
    }

    /// What a limit reads, and the figures that are not known.
    fn inputs_of<'s>(
        &'s self,
        run: RunId,
        overlay: &Overlay,
        words: bool,
        set: Option<(Reading, &Value)>,
        missing: &mut Missing,
    ) -> Result<Inputs<'s>, Silent> {
        let mut inputs = Inputs::new(words);
        for (name, input) in &self.limit_of(run).inputs {
            if let Some(value) = self.read_input(run, input, overlay, set, missing)? {
                inputs.add(name, value);
            }
        }
        Ok(inputs)
    }

    /// How much is left of a quantity until a limit that holds does not hold any more, SI; `None` where that is more.
    pub(super) fn limit_left(&self, run: RunId, most: &Quantity) -> Option<f64> {
        let (nothing, mut missing) = (Overlay::new(), SmallVec::new());
        let inputs = self.inputs_of(run, &nothing, false, None, &mut missing).ok()?;
        if missing.is_empty() { self.limit_of(run).calc.left(inputs, most) } else { None }
    }

    /// A figure of a part: measured on this very part, else as the library has it.
    pub(super) fn figure_of(&self, part: PartId, figure: FigureId) -> Option<&Value> {
        let measured = &self.ground.part_facts;
        let here = if measured.is_empty() { None } else { measured.get(&(part, figure)) };
        here.or_else(|| self.part(part).figure(figure))
    }

    /// The sum taken from a pool.
    pub(super) fn taken(&self, pool: PoolId, overlay: &Overlay) -> Value {
        let kind = Kind::from_word(&self.cat.pools[pool].def.kind);
        let dimension = match kind {
            Some(Kind::Dimension(dimension)) => dimension,
            _ => Dimension::Ratio,
        };
        let si = self.pool_sum(pool, overlay).taken;
        Value::Quantity(Quantity { dimension, si, tolerance: 0.0, text: String::new() })
    }

    fn missing(&self, figure: FigureId, how: &str) -> Phrase {
        let Some((name, _, measure)) = self.cat.figures.get(figure) else { return Phrase::default() };
        let how = if how.is_empty() { measure.as_str() } else { how };
        let name = phrase![name.as_str()];
        if how.is_empty() { name } else { name.then(phrase![" ("]).then(Phrase::how(how)).then(phrase![")"]) }
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
        for limit in self.v.limits.ids() {
            let raises = self.limit_of(limit).raises.is_some();
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
            let reason = self.limit_reason(limit, &positions, &outcome);
            match outcome.verdict {
                Verdict3::Holds => {}
                Verdict3::Open => {
                    self.check(CheckKey::Limit(limit), Answer::ToMeasure, reason);
                    self.found.unknowns.push(Trouble {
                        key: CheckKey::Limit(limit),
                        positions: positions.into(),
                        reason,
                        what: vec![outcome.text],
                        cure: Cure::None,
                    });
                }
                Verdict3::Broken => {
                    // what would clear it is told of what stays broken
                    let cures =
                        if self.telling { Vec::new() } else { self.told_cures(limit, &outcome.clears) };
                    self.limit_broken(limit, positions, reason, cures);
                }
            }
        }
    }

    fn limit_reason(&mut self, limit: RunId, positions: &[PositionId], outcome: &Outcome) -> ReasonId {
        let premises = self.reasons_of(positions.iter().copied());
        let reason = self.reason(&premises, |s| {
            let why = s.limit_of(limit).def.why.clone();
            let (text, verdict) = (outcome.text.clone(), outcome.verdict);
            Fact::Limit { limit: s.limit_name(limit), text, why, verdict }
        });
        let reason = self.noting(reason, |s| s.limit_specs(limit));
        self.resting_on(reason, |s| s.measured_for_limit(limit))
    }

    /// The figures of a limit that holds, in words.
    pub fn limit_holds(&mut self, limit: RunId) -> ReasonId {
        let positions = self.limit_positions(limit);
        let none =
            || Outcome { verdict: Verdict3::Holds, text: Phrase::default(), clears: Vec::new(), beyond: 0 };
        let outcome = self.limit_outcome(limit, &Overlay::new(), self.full).unwrap_or_else(none);
        self.limit_reason(limit, &positions, &outcome)
    }

    /// A part the limit does not read at all is no cure: only a figure that holds is.
    pub fn clears(&self, limit: RunId, pos: PositionId, part: PartId) -> bool {
        self.limit_verdict(limit, &self.overlay(pos, part)) == Some(Verdict3::Holds)
    }

    /// Whether a part may clear a limit once it is measured: a figure that decides it is not known, or not closely enough.
    pub fn may_clear(&self, limit: RunId, pos: PositionId, part: PartId) -> bool {
        match self.limit_judged(limit, &self.overlay(pos, part), false) {
            Ok(outcome) => outcome.verdict == Verdict3::Open,
            Err(silent) => silent == Silent::Lacks(pos),
        }
    }

    /// Places where another part may clear a limit: those it reads, and those that take a part which sets what it reads.
    pub fn levers(&self, limit: RunId, positions: &[PositionId]) -> Vec<PositionId> {
        let setters = self.v.limits[limit].setters.iter().filter(|pos| !positions.contains(pos));
        positions.iter().chain(setters).copied().collect()
    }

    fn limit_broken(
        &mut self,
        limit: RunId,
        positions: Vec<PositionId>,
        reason: ReasonId,
        cures: Vec<Phrase>,
    ) {
        if self.is_raised(limit, &positions, reason) {
            return;
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

#[cfg(test)]
mod tests;
