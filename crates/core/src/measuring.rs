//! What is to be measured on the vehicle, a line for each value.
//!
//! In words. An assessment says of each check what it wants. Whoever goes to the vehicle measures a value once: it is one
//! line, with all checks that want it and where they are. Where a check can do with another value instead, and that one is
//! wanted by a check that cannot, it is that line. A check that asks for no value is a line by itself.

use crate::assessment::{Assessment, ToMeasure, Wanted};
use crate::explain::measure_line;
use crate::key::{CheckKey, FactKey};
use crate::phrase::Phrase;
use crate::showing::Measure;

/// What a line asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asks<'a> {
    /// A value that the sheet records by its key.
    Value(&'a Wanted),
    /// What a check can only tell in words.
    Words(&'a Phrase),
}

/// Something to be measured once.
#[derive(Clone, Debug, PartialEq)]
pub struct Line<'a> {
    /// What.
    pub asks: Asks<'a>,
    /// The checks that want it, in the order of the assessment; one at least.
    pub checks: Vec<&'a ToMeasure>,
}

impl<'a> Line<'a> {
    /// Positions of its checks, each once: those of the first check first.
    #[must_use]
    pub fn positions(&self) -> Vec<&'a str> {
        once(self.checks.iter().flat_map(|check| &check.positions))
    }

    /// Where its checks show: the first position of each, once.
    #[must_use]
    pub fn places(&self) -> Vec<&'a str> {
        once(self.checks.iter().filter_map(|check| check.positions.first()))
    }

    /// What each of its checks decides; of a value that is known too loosely, how closely a limit wants it.
    #[must_use]
    pub fn decides(&self, a: &Assessment, measure: Measure) -> Vec<String> {
        let is_loose = matches!(self.asks, Asks::Value(wanted) if wanted.now.is_some());
        let one = |check: &&ToMeasure| {
            let line = measure_line(a, check, measure);
            match check.key {
                CheckKey::Limit { .. } if is_loose => format!("{line}; {}", check.what.say(measure)),
                _ => line,
            }
        };
        self.checks.iter().map(one).collect()
    }
}

fn once<'a>(all: impl Iterator<Item = &'a String>) -> Vec<&'a str> {
    let mut out: Vec<&str> = Vec::new();
    for id in all {
        if !out.contains(&id.as_str()) {
            out.push(id);
        }
    }
    out
}

/// The lines of a plan, in the order of the checks that want them first.
#[must_use]
pub fn lines(a: &Assessment) -> Vec<Line<'_>> {
    let all = || a.to_measure.iter().flat_map(|check| &check.wanted);
    let surely = |key: &FactKey| all().find(|w| w.key == *key && w.instead.is_none());
    let mut out: Vec<Line<'_>> = Vec::new();
    for check in &a.to_measure {
        if check.wanted.is_empty() {
            out.push(Line { asks: Asks::Words(&check.what), checks: vec![check] });
        }
        for wanted in &check.wanted {
            let instead = wanted.instead.as_ref().and_then(|other| surely(&other.key));
            let wanted = surely(&wanted.key).or(instead).unwrap_or(wanted);
            let is_it = |line: &&mut Line<'_>| matches!(line.asks, Asks::Value(w) if w.key == wanted.key);
            match out.iter_mut().find(is_it) {
                // a check may want a value itself and instead of another
                Some(line) if line.checks.iter().any(|c| c.key == check.key) => {}
                Some(line) => line.checks.push(check),
                None => out.push(Line { asks: Asks::Value(wanted), checks: vec![check] }),
            }
        }
    }
    out
}

#[cfg(test)]
mod tests;
