//! What a reading says: its verdict between bounds, or that it is too near to an end of them.

use super::readings::Taken;
use crate::catalogue::Bands;
use crate::catalogue::survey::Ages;
use crate::date::{Date, Dated, Period};
use crate::sheet::Verdict;

/// What an inspection comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Nobody has measured it: it is never good.
    ToMeasure,
    /// What was read is nearer to an end of its bounds than it was read: one of these, to be measured better.
    Undecided {
        /// The best it can be.
        better: Verdict,
        /// The worst it can be.
        worse: Verdict,
    },
    /// It has a verdict.
    Verdict(Verdict),
    /// What is written cannot be read, and why.
    Unread(String),
    /// There is nothing to hold it to, and why.
    NoBounds(String),
}

impl Outcome {
    /// It is to be measured, or to be measured better.
    #[must_use]
    pub fn is_open(&self) -> bool {
        !matches!(self, Self::Verdict(_))
    }

    /// What counts in a plan: what is undecided is not good, and condemns nothing that may be better.
    #[must_use]
    pub fn counts_as(&self) -> Option<Verdict> {
        match self {
            Self::Verdict(verdict) => Some(*verdict),
            Self::Undecided { better, .. } => Some((*better).max(Verdict::Watch)),
            Self::ToMeasure | Self::Unread(_) | Self::NoBounds(_) => None,
        }
    }

    /// In words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::ToMeasure => "to measure".to_owned(),
            Self::Undecided { better, worse } => {
                format!("{} or {}: measure better", better.word(), worse.word())
            }
            Self::Verdict(verdict) => verdict.word().to_owned(),
            Self::Unread(why) | Self::NoBounds(why) => why.clone(),
        }
    }

    /// How bad it is, the worst last: what is not known is worse than what is good.
    pub(super) fn rank(&self) -> (u8, u8) {
        match self {
            Self::Verdict(Verdict::Good) => (0, 0),
            Self::ToMeasure => (1, 0),
            Self::NoBounds(_) => (1, 1),
            Self::Unread(_) => (1, 2),
            Self::Verdict(Verdict::Watch) => (2, 0),
            Self::Undecided { worse, better } => (2, 1 + *worse as u8 + *better as u8),
            Self::Verdict(Verdict::Renew) => (3, 0),
            Self::Verdict(Verdict::Stop) => (4, 0),
        }
    }
}

/// What a reading says between bounds; `accuracy`: how far the tool may be off, SI.
pub(super) fn judged(taken: &Taken, bands: Option<&Bands>, stop: bool, accuracy: f64) -> Outcome {
    let seen = taken.words.iter().map(|(_, verdict)| *verdict).max();
    let measured = taken.quantity.as_ref().zip(bands).map(|(quantity, bands)| {
        let off = if taken.says_tolerance { quantity.tolerance } else { accuracy };
        between(quantity.si, off, bands, stop)
    });
    match (measured, seen) {
        (Some(measured), Some(seen)) => worst(measured, Outcome::Verdict(seen)),
        (Some(measured), None) => measured,
        // what was only looked at, where there is something to measure, is not good yet
        (None, Some(Verdict::Good)) if bands.is_some() => Outcome::ToMeasure,
        (None, Some(seen)) => Outcome::Verdict(seen),
        (None, None) => Outcome::ToMeasure,
    }
}

/// The worse of two.
pub(super) fn worst(a: Outcome, b: Outcome) -> Outcome {
    if b.rank() > a.rank() { b } else { a }
}

/// The verdicts that a value can have which may be off by so much.
fn between(value: f64, off: f64, bands: &Bands, stop: bool) -> Outcome {
    // where nothing is what is good, a reading of nothing is good
    let off = if value == 0.0 && bands.good.holds(0.0) && !bands.good.holds(off) { 0.0 } else { off };
    let (low, high) = (value - off, value + off);
    let ends = bands.ends().filter(|end| *end > low && *end < high);
    let verdicts = [low, value, high].into_iter().chain(ends).map(|at| bands.verdict(at, stop));
    let (mut better, mut worse) = (Verdict::Stop, Verdict::Good);
    for verdict in verdicts {
        (better, worse) = (better.min(verdict), worse.max(verdict));
    }
    if better == worse { Outcome::Verdict(better) } else { Outcome::Undecided { better, worse } }
}

/// What the day on which something was made says on another day.
pub(super) fn aged(made: &Dated, ages: &Ages, stop: bool, on: Date) -> Outcome {
    let within = |day: Date, lasts: &Period| lasts.after(day).is_none_or(|last| on <= last);
    let verdict = |day: Date| {
        if within(day, &ages.good) {
            Verdict::Good
        } else if ages.watch.as_ref().is_some_and(|watch| within(day, watch)) {
            Verdict::Watch
        } else if stop {
            Verdict::Stop
        } else {
            Verdict::Renew
        }
    };
    let (worse, better) = (verdict(made.first), verdict(made.last));
    if better == worse { Outcome::Verdict(better) } else { Outcome::Undecided { better, worse } }
}
