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

    /// The best and the worst it can be; `None`: nobody knows.
    fn range(&self) -> Option<(Verdict, Verdict)> {
        match self {
            Self::Verdict(verdict) => Some((*verdict, *verdict)),
            Self::Undecided { better, worse } => Some((*better, *worse)),
            Self::ToMeasure | Self::Unread(_) | Self::NoBounds(_) => None,
        }
    }

    fn of_range(better: Verdict, worse: Verdict) -> Self {
        if better == worse { Self::Verdict(better) } else { Self::Undecided { better, worse } }
    }
}

/// What several readings of one inspection come to together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Judged {
    /// The worst of them: at best as bad as the best that the worst of them can be.
    pub outcome: Outcome,
    /// What of them is open still and may be worse than that.
    pub rest: Option<Outcome>,
}

impl Judged {
    pub(super) fn one(outcome: Outcome) -> Self {
        Self { outcome, rest: None }
    }

    /// Two of which the worse counts. What is open makes what is good open; beside what is worse it is told.
    pub(super) fn and(self, other: Self) -> Self {
        let (outcome, open) = match (self.outcome.range(), other.outcome.range()) {
            (Some(a), Some(b)) => (Outcome::of_range(a.0.max(b.0), a.1.max(b.1)), None),
            (Some(_), None) => (self.outcome, Some(other.outcome)),
            (None, Some(_)) => (other.outcome, Some(self.outcome)),
            // what cannot be read is worse than what nobody read
            (None, None) if self.outcome == Outcome::ToMeasure => (other.outcome, None),
            (None, None) => (self.outcome, None),
        };
        match open {
            Some(open) if outcome == Outcome::Verdict(Verdict::Good) => Self::one(open),
            open => Self { outcome, rest: open.or(self.rest).or(other.rest) },
        }
    }

    /// What is open is told where it can be worse than what is known.
    pub(super) fn up_to(mut self, worst: Verdict) -> Self {
        if self.outcome.range().is_some_and(|(better, _)| better >= worst) {
            self.rest = None;
        }
        self
    }
}

/// What a reading says between bounds; `accuracy`: how far the tool may be off, SI.
pub(super) fn judged(taken: &Taken, bands: Option<&Bands>, stop: bool, accuracy: f64) -> Judged {
    let seen = taken.words.iter().map(|(_, verdict)| *verdict).max();
    let seen = seen.map(|seen| Judged::one(Outcome::Verdict(seen)));
    let measured = taken.quantity.as_ref().zip(bands).map(|(quantity, bands)| {
        let off =
            if taken.says_tolerance { quantity.tolerance } else { to_zero(quantity.si, accuracy, bands) };
        Judged::one(between(quantity.si, off, bands, stop))
    });
    // what was only looked at, where there is something to measure, is not measured yet
    let measured = measured.or_else(|| bands.map(|_| Judged::one(Outcome::ToMeasure)));
    measured.into_iter().chain(seen).reduce(Judged::and).unwrap_or(Judged::one(Outcome::ToMeasure))
}

/// Where nothing is what is good and the tool does not tell less, its reading of nothing is good.
fn to_zero(value: f64, accuracy: f64, bands: &Bands) -> f64 {
    let is_nothing = value == 0.0 && bands.good.holds(0.0) && !bands.good.holds(accuracy);
    if is_nothing { 0.0 } else { accuracy }
}

/// The verdicts that a value can have which may be off by so much.
fn between(value: f64, off: f64, bands: &Bands, stop: bool) -> Outcome {
    let (low, high) = (value - off, value + off);
    let ends = bands.ends().filter(|end| *end > low && *end < high);
    let verdicts = [low, value, high].into_iter().chain(ends).map(|at| bands.verdict(at, stop));
    let (mut better, mut worse) = (Verdict::Stop, Verdict::Good);
    for verdict in verdicts {
        (better, worse) = (better.min(verdict), worse.max(verdict));
    }
    Outcome::of_range(better, worse)
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
    Outcome::of_range(better, worse)
}
