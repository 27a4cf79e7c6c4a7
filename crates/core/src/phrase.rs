//! What is said, in pieces: text, names, and quantities that stay quantities until the units of a reader are known.

pub(crate) mod number;

pub use number::{Grain, Number};

use crate::quantity::Quantity;
use crate::showing::{self, Measure};
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// Steps finer than is usual that quantities which add up are told in at most.
const FINEST: usize = 3;

/// A piece of what is said.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Words that read alike in all units.
    Text(String),
    /// A name as its maker writes it, with the sizes in it.
    Name(String),
    /// A value as it is written.
    Value {
        /// The value.
        value: Value,
        /// How closely, for a length.
        grain: Grain,
        /// What it is compared with: where they differ, they do not read alike.
        beside: Option<Value>,
    },
    /// A number that was worked out.
    Number(Number),
    /// An amount that holds as it is rounded: in each system another.
    Each {
        /// In inches.
        inch: Box<Phrase>,
        /// In millimetres.
        metric: Box<Phrase>,
    },
    /// Quantities that add up, and the words between them: told so finely that they add up as they read.
    Adding {
        /// All of it.
        said: Box<Phrase>,
        /// What adds up to what.
        sums: Vec<Adds>,
    },
}

/// Pieces of a phrase that add up to another piece of it, each by its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Adds {
    /// What is added.
    pub terms: Vec<usize>,
    /// What it comes to.
    pub total: usize,
}

/// What is said, in pieces.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phrase(pub Vec<Piece>);

/// A phrase of its pieces, one after the other.
#[macro_export]
macro_rules! phrase {
    ($($piece:expr),* $(,)?) => { $crate::phrase::Phrase(vec![$($crate::phrase::Piece::from($piece)),*]) };
}

/// A value that is told beside a phrase, for programs.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// As it is told.
    pub shown: String,
    /// What it measures.
    pub dimension: Dimension,
    /// Least and most it is, SI.
    pub si: (f64, f64),
}

impl Piece {
    /// A name.
    #[must_use]
    pub fn name(name: impl Into<String>) -> Self {
        Self::Name(name.into())
    }

    /// In a reader's units.
    #[must_use]
    pub fn say(&self, measure: Measure) -> String {
        self.say_finer(measure, 0)
    }

    /// So many steps finer than is usual.
    fn say_finer(&self, measure: Measure, finer: usize) -> String {
        match self {
            Self::Text(text) | Self::Name(text) => text.clone(),
            Self::Value { value, grain, beside } => {
                showing::value(value, *grain, beside.as_ref(), (measure, finer))
            }
            Self::Number(number) => showing::number(number, (measure, finer)),
            Self::Each { inch, metric } => match measure {
                Measure::Inch => inch.say_finer(measure, finer),
                Measure::Metric => metric.say_finer(measure, finer),
            },
            Self::Adding { said, sums } => said.say_finer(measure, said.adds_up(sums, measure)),
        }
    }
}

impl Phrase {
    /// What happens, where it leads with that: the words before its colon.
    #[must_use]
    pub fn lead(&self) -> Option<&str> {
        let Some(Piece::Text(text)) = self.0.first() else { return None };
        text.split_once(": ").map(|(lead, _)| lead)
    }

    /// Text of the library: what stands in braces is a quantity, "within {25 mm} of the floor". What is none stays as it is.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let mut pieces = Vec::new();
        let mut rest = text;
        while let Some((before, hole, after)) = next_hole(rest) {
            match quantity(hole) {
                Some(value) => pieces.extend([Piece::from(before), about(&value, whole_inches)]),
                None => pieces.push(Piece::Text(format!("{before}{{{hole}}}"))),
            }
            rest = after;
        }
        pieces.push(Piece::from(rest));
        Self(pieces).without_gaps()
    }

    /// How something is measured: the same, and how closely at its end, ", to 0.5 mm".
    #[must_use]
    pub fn how(text: &str) -> Self {
        let closely = text.rsplit_once(", to ").and_then(|(how, closely)| Some((how, quantity(closely)?)));
        match closely {
            Some((how, closely)) => Self::read(how).then([Piece::from(", to "), about(&closely, no_coarser)]),
            None => Self::read(text),
        }
    }

    fn without_gaps(mut self) -> Self {
        self.0.retain(|piece| !matches!(piece, Piece::Text(text) if text.is_empty()));
        self
    }

    /// Nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.iter().all(|piece| matches!(piece, Piece::Text(text) if text.is_empty()))
    }

    /// For readers of both systems, where nobody knows which one reads: "stay below 40 psi (276 kPa)".
    #[must_use]
    pub fn in_both(&self) -> String {
        let one = |piece: &Piece| {
            let (inch, metric) = (piece.say(Measure::Inch), piece.say(Measure::Metric));
            if inch == metric { inch } else { format!("{inch} ({metric})") }
        };
        self.0.iter().map(one).collect()
    }

    /// In a reader's units.
    #[must_use]
    pub fn say(&self, measure: Measure) -> String {
        self.say_finer(measure, 0)
    }

    fn say_finer(&self, measure: Measure, finer: usize) -> String {
        self.0.iter().map(|piece| piece.say_finer(measure, finer)).collect()
    }

    /// How many steps finer its quantities have to be told to add up as they read: as few as do, else as many as there are.
    fn adds_up(&self, sums: &[Adds], measure: Measure) -> usize {
        let read = |at: usize, finer: usize| {
            let text = self.0.get(at)?.say_finer(measure, finer);
            Some(Quantity::parse(&text).ok()?.si)
        };
        let is_right = |sum: &Adds, finer: usize| {
            let terms: Option<Vec<f64>> = sum.terms.iter().map(|at| read(*at, finer)).collect();
            // what cannot be read as a number adds up to nothing
            let Some((terms, total)) = terms.zip(read(sum.total, finer)) else { return true };
            let size = terms.iter().fold(total.abs(), |most, term| most.max(term.abs()));
            (terms.iter().sum::<f64>() - total).abs() <= 1e-7 * size
        };
        (0..FINEST).find(|finer| sums.iter().all(|sum| is_right(sum, *finer))).unwrap_or(FINEST)
    }

    /// With its names left out, for who looks at the words alone.
    #[must_use]
    pub fn without_names(&self) -> Self {
        let kept = self.0.iter().map(|piece| match piece {
            Piece::Name(_) => Piece::Name("it".to_owned()),
            Piece::Adding { said, sums } => {
                Piece::Adding { said: Box::new(said.without_names()), sums: sums.clone() }
            }
            other => other.clone(),
        });
        Self(kept.collect())
    }

    /// With a phrase behind it.
    #[must_use]
    pub fn then(mut self, other: impl IntoIterator<Item = Piece>) -> Self {
        self.0.extend(other);
        self
    }

    /// Several, with words between them.
    #[must_use]
    pub fn joined(all: impl IntoIterator<Item = Self>, between: &str) -> Self {
        let mut pieces = Vec::new();
        for (n, phrase) in all.into_iter().enumerate() {
            if n > 0 {
                pieces.push(Piece::from(between));
            }
            pieces.extend(phrase.0);
        }
        Self(pieces)
    }

    /// The quantities in it, in order.
    #[must_use]
    pub fn told(&self, measure: Measure) -> Vec<Told> {
        self.told_finer(measure, 0)
    }

    fn told_finer(&self, measure: Measure, finer: usize) -> Vec<Told> {
        let mut out = Vec::new();
        for piece in &self.0 {
            let (dimension, si) = match piece {
                Piece::Value { value: Value::Quantity(q), .. } => (q.dimension, q.bounds()),
                Piece::Value { value: Value::Window { dimension, low, high, .. }, .. } => {
                    (*dimension, (*low, *high))
                }
                Piece::Number(n) => (n.dimension, (n.si, n.to.unwrap_or(n.si))),
                Piece::Each { inch, metric } => {
                    let phrase = if measure == Measure::Inch { inch } else { metric };
                    out.extend(phrase.told_finer(measure, finer));
                    continue;
                }
                Piece::Adding { said, sums } => {
                    out.extend(said.told_finer(measure, said.adds_up(sums, measure)));
                    continue;
                }
                _ => continue,
            };
            out.push(Told { shown: piece.say_finer(measure, finer), dimension, si });
        }
        out
    }
}

/// A length that the library writes in round millimetres, as somebody with a tape in inches would say it; what is no such
/// length as it is.
fn about(value: &Value, inches: impl Fn(f64) -> Option<f64>) -> Piece {
    let Value::Quantity(q) = value else { return Piece::from(value) };
    let is_metric = q.dimension == Dimension::Length && q.tolerance == 0.0 && q.text.ends_with("mm");
    match inches(q.si / 0.0254).filter(|_| is_metric) {
        Some(inches) => {
            let inch = Phrase(vec![Number::new(inches * 0.0254, Dimension::Length).into()]);
            Piece::Each { inch: Box::new(inch), metric: Box::new(Phrase(vec![Piece::from(value)])) }
        }
        None => Piece::from(value),
    }
}

/// "A clip every 300 mm" is one every 12 in: what is a multiple of 50 mm, from 100 mm on.
fn whole_inches(inches: f64) -> Option<f64> {
    let fifties = inches * 25.4 / 50.0;
    ((fifties - fifties.round()).abs() < 1e-6 && fifties > 1.5).then(|| inches.round())
}

/// "To 10 mm" is to 3/8 in: the next mark of a tape, and never a coarser one.
fn no_coarser(inches: f64) -> Option<f64> {
    let marks = [1.0, 0.75, 0.5, 0.375, 0.25, 0.1875, 0.125, 0.09375, 0.0625, 0.03125, 0.015_625];
    marks.into_iter().find(|mark| *mark <= inches).filter(|_| inches < 2.0)
}

/// A quantity or a window as the library writes it; what has no dimension is none.
pub(crate) fn quantity(text: &str) -> Option<Value> {
    let end = text.rsplit_once(" to ").map_or(text, |(_, end)| end);
    let dimension = Quantity::parse(end).ok()?.dimension;
    let value = Value::read_text(text, Kind::Dimension(dimension)).ok()?;
    (dimension != Dimension::Ratio && value.bounds().is_some()).then_some(value)
}

/// The text before the first hole, what stands in it, and the rest.
pub(crate) fn next_hole(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once('{')?;
    let (hole, after) = rest.split_once('}')?;
    Some((before, hole, after))
}

impl IntoIterator for Phrase {
    type Item = Piece;
    type IntoIter = std::vec::IntoIter<Piece>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl From<&str> for Piece {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Piece {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<Number> for Piece {
    fn from(number: Number) -> Self {
        Self::Number(number)
    }
}

impl From<&Value> for Piece {
    fn from(value: &Value) -> Self {
        Self::Value { value: value.clone(), grain: Grain::Tape, beside: None }
    }
}

impl From<String> for Phrase {
    fn from(text: String) -> Self {
        Self(vec![Piece::Text(text)])
    }
}

impl From<&str> for Phrase {
    fn from(text: &str) -> Self {
        Self(vec![Piece::from(text)])
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;
