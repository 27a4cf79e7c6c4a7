//! What an amount that clears one limit does to the others that read the same figure.

use super::bench::Bench;
use super::fills::Overlay;
use super::limit_inputs::Reading;
use crate::catalogue::RunId;
use crate::limits::Cure;
use crate::phrase;
use crate::phrase::Phrase;
use crate::quantity::Quantity;
use crate::value::{Kind, Value, Verdict3};

impl Bench<'_> {
    /// The cures of a limit: those that break nothing else first, the others with what they break.
    pub fn told_cures(&self, limit: RunId, cures: &[Cure]) -> Vec<Phrase> {
        let inputs = &self.limit_of(limit).inputs;
        let told = |cure: &Cure| {
            let input = inputs.iter().find(|(name, _)| name == cure.input).map(|(_, input)| input);
            let reading = input.and_then(|input| self.reading(limit, input));
            let breaks = reading.map_or_else(Vec::new, |r| self.knocks_on(limit, r, cure.to));
            (breaks.len(), cure.words.clone().then(breaks.into_iter().flatten()))
        };
        let mut told: Vec<(usize, Phrase)> = cures.iter().map(told).collect();
        told.sort_by_key(|(count, _)| *count > 0);
        told.into_iter().map(|(_, words)| words).collect()
    }

    /// Limits that hold or are open now and would be broken with an input at this number, SI.
    fn knocks_on(&self, limit: RunId, reading: Reading, to: f64) -> Vec<Phrase> {
        let Some(value) = self.as_read(reading, to) else { return Vec::new() };
        let none = Overlay::new();
        let reads = |other: &RunId| {
            let entry = self.limit_of(*other);
            let mut reads = false;
            for (_, input) in &entry.inputs {
                input.each(&mut |input| reads |= self.reading(*other, input) == Some(reading));
            }
            *other != limit && entry.raises.is_none() && reads
        };
        let broken = |other: RunId| {
            let now = self.limit_outcome(other, &none, false)?;
            let then = self.limit_with(other, &none, true, Some((reading, &value))).ok()?;
            let is_new = now.verdict != Verdict3::Broken && then.verdict == Verdict3::Broken;
            let def = &self.limit_of(other).def;
            let what = if def.why.is_empty() { &def.name } else { &def.why };
            is_new.then(|| {
                phrase![", but then "]
                    .then(Phrase::read(what))
                    .then(phrase![" ("])
                    .then(then.text)
                    .then(phrase![")"])
            })
        };
        self.v.limits.ids().filter(reads).filter_map(broken).collect()
    }

    /// A number as a limit reads it.
    fn as_read(&self, reading: Reading, si: f64) -> Option<Value> {
        let kind = match reading {
            Reading::Figure(_, figure) | Reading::Fact(figure) => {
                self.cat.figures.get(figure).map(|(_, kind, _)| *kind)
            }
            Reading::Pool(pool) => self.cat.pools.get(pool).and_then(|p| Kind::from_word(&p.def.kind)),
        };
        let Some(Kind::Dimension(dimension)) = kind else { return None };
        Some(Value::Quantity(Quantity { dimension, si, tolerance: 0.0, text: String::new() }))
    }
}

#[cfg(test)]
mod tests;
