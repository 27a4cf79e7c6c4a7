//! Whether a number of a part keeps what was asked of it, and which of its numbers is meant.

use super::asked::{BoundAsked, SizeAsked, Span};
use super::entries::{Amounts, At, Entries, Number};
use crate::catalogue::{ClassId, PartId};
use crate::value::Verdict3;

/// Sizes that differ by no more than this share are the same.
const SAME_SIZE: f64 = 0.005;
/// A number that nobody named is meant where what is asked lies between the least of its class by this factor and the most.
const ABOUT_AS_LARGE: f64 = 2.0;

/// Rounding of unit factors.
fn close(a: f64, b: f64) -> f64 {
    let size = if a.is_finite() && b.is_finite() { a.abs().max(b.abs()) } else { 0.0 };
    1e-9 * size + 1e-12
}

impl Span {
    fn has_low(&self, at: f64) -> bool {
        let e = close(at, self.low);
        if self.low_counts { at >= self.low - e } else { at > self.low + e }
    }

    fn has_high(&self, at: f64) -> bool {
        let e = close(at, self.high);
        if self.high_counts { at <= self.high + e } else { at < self.high - e }
    }

    /// Whether all of a range lies in it.
    pub fn holds(&self, low: f64, high: f64) -> Verdict3 {
        if self.has_low(low) && self.has_high(high) {
            return Verdict3::Holds;
        }
        // a range that has all that is asked in it
        if self.low.is_finite() && self.high.is_finite() && low <= self.low && high >= self.high && low < high
        {
            return Verdict3::Holds;
        }
        let is_point = (high - low).abs() <= close(low, high);
        let apart = !self.has_low(high) || !self.has_high(low);
        if is_point || apart { Verdict3::Broken } else { Verdict3::Open }
    }
}

/// Whether a number keeps a bound.
pub(super) fn keeps(number: &Number, span: &Span) -> Verdict3 {
    match number.what {
        Amounts::Range(low, high) => span.holds(low, high),
        Amounts::Settable(low, high) => {
            let meet = span.has_low(high) && span.has_high(low);
            if meet { Verdict3::Holds } else { Verdict3::Broken }
        }
        Amounts::Any | Amounts::Unknown => Verdict3::Open,
        Amounts::Thread(_) => Verdict3::Broken,
    }
}

/// Whether a number is of a size.
pub(super) fn is_of_size(entries: &Entries, number: &Number, size: &SizeAsked, threads: &[bool]) -> bool {
    match number.what {
        Amounts::Thread(thread) => threads.get(thread as usize).copied().unwrap_or(false),
        Amounts::Range(low, high) | Amounts::Settable(low, high) => {
            let (Some((si, dimension)), Some(label)) =
                (size.quantity, entries.labels.get(number.label as usize))
            else {
                return false;
            };
            let off = label.within.max(si.abs() * SAME_SIZE) + close(si, low);
            label.dimension == Some(dimension) && si >= low - off && si <= high + off
        }
        Amounts::Any | Amounts::Unknown => false,
    }
}

/// What is asked of numbers in a class: the names of those that are meant, for each bound.
#[derive(Clone, Debug, Default)]
pub(super) struct Meant(Vec<Vec<u32>>);

impl Meant {
    /// For each class the numbers that a bound is about: those that words of the query name which are no words of the class;
    /// where none does, those that are about as large in that class.
    pub fn new(
        entries: &Entries,
        bound: &BoundAsked,
        in_class: impl Fn(usize, usize) -> bool,
        named: impl Fn(usize, u32) -> bool,
        words: usize,
        implied: impl Fn(u32) -> bool,
    ) -> Self {
        let mut best: Vec<usize> = vec![0; entries.classes.len()];
        let mut out: Vec<Vec<u32>> = vec![Vec::new(); entries.classes.len()];
        let mut in_order: Vec<_> = entries.scales.iter().collect();
        in_order.sort_unstable_by_key(|(key, _)| **key);
        for ((class, label), (low, high)) in in_order {
            let is_of =
                entries.labels.get(*label as usize).is_some_and(|l| l.dimension == Some(bound.dimension));
            let at = class.ix();
            let (Some(best), Some(list)) = (best.get_mut(at), out.get_mut(at)) else { continue };
            if !is_of {
                continue;
            }
            let by_words = (0..words).filter(|word| !in_class(at, *word) && named(*word, *label)).count() * 2;
            let score = by_words + usize::from(implied(*label));
            let about = bound.about.abs();
            let (low, high) = (low.abs().min(high.abs()), low.abs().max(high.abs()));
            let as_large = about >= low / ABOUT_AS_LARGE && about <= high * ABOUT_AS_LARGE;
            if score > *best {
                *best = score;
                list.clear();
            }
            if score == *best && (score > 0 || as_large) {
                list.push(*label);
            }
        }
        Self(out)
    }

    /// Those of a class.
    pub fn of(&self, class: ClassId) -> &[u32] {
        self.0.get(class.ix()).map_or(&[], Vec::as_slice)
    }
}

/// How a part stands to a bound.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Kept {
    pub verdict: Verdict3,
    /// The number that decides; `None`: it is not stated.
    pub at: Option<At>,
    /// What it is called.
    pub label: u32,
    /// All numbers that may be meant keep it.
    pub all: bool,
}

/// How a part stands to a bound; `None` where it has nothing to do with it.
pub(super) fn bound(
    entries: &Entries,
    part: PartId,
    class: ClassId,
    bound: &BoundAsked,
    meant: &Meant,
) -> Option<Kept> {
    let labels = meant.of(class);
    let mut kept: Option<Kept> = None;
    for number in entries.numbers_of(part) {
        let is_meant = if labels.is_empty() {
            number.at == At::Name
                && entries
                    .labels
                    .get(number.label as usize)
                    .is_some_and(|l| l.dimension == Some(bound.dimension))
        } else {
            labels.contains(&number.label)
        };
        if !is_meant {
            continue;
        }
        let verdict = keeps(number, &bound.span);
        let all = kept.as_ref().is_none_or(|kept| kept.all) && verdict == Verdict3::Holds;
        match &mut kept {
            Some(kept) if kept.verdict <= verdict => kept.all = all,
            _ => kept = Some(Kept { verdict, at: Some(number.at), label: number.label, all }),
        }
    }
    let not_stated = || Some(Kept { verdict: Verdict3::Open, at: None, label: *labels.first()?, all: false });
    kept.or_else(not_stated)
}
