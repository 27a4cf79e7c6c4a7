//! What would clear a broken limit, with the amount: each lever is tried by itself until the calculation holds, over
//! every corner of the tolerances. So an amount that is told is one that clears this limit; what it does to others is
//! looked at where they are known, by `assess`.

use super::calculation::Entry;
use super::entry::{Lever, Way};
use super::{Inputs, all_hold};
use crate::number::{rounded, with_unit};
use crate::phrase;
use crate::phrase::{Phrase, Piece};
use crate::quantity::Quantity;
use crate::showing::{Measure, fraction, in_unit, to_si, unit};
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// Cures told at most.
const MOST: usize = 3;
/// First step from where an input stands, as a share of its size.
const FIRST: f64 = 1e-3;
/// Each step is this much longer than the one before: what holds over less of the way is passed by.
const LONGER: f64 = 1.06;
/// Steps at most: an input is followed as far as some twenty times its size.
const STEPS: usize = 170;

/// A change of one input that clears a limit by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Cure {
    /// Which input.
    pub input: &'static str,
    /// Its new value, SI.
    pub to: f64,
    /// With the amount.
    pub words: Phrase,
}

/// The changes of one input each that clear a broken limit, the likeliest first. Inputs are left in the middle.
pub(super) fn find(entry: &Entry, inputs: &mut Inputs<'_>) -> Vec<Cure> {
    let mut cures = Vec::new();
    for lever in entry.levers {
        inputs.reset();
        if cures.len() < MOST {
            cures.extend(pull(entry, lever, inputs));
        }
    }
    inputs.reset();
    cures
}

/// How far what is wanted of a dimension, else the first input of it that would clear a limit, may go the wrong way while it
/// holds, SI; `None` where that is `most` or more, and where it does not hold as it is.
pub(super) fn left(entry: &Entry, inputs: &mut Inputs<'_>, most: &Quantity) -> Option<f64> {
    let dimension = Some(Kind::Dimension(most.dimension));
    inputs.take_words();
    let wanted = wanted(entry).map(|name| (name, &[1.0][..]));
    let levers = entry.levers.iter().filter_map(|lever| match lever.way {
        Way::More => Some((lever.input, &[-1.0][..])),
        Way::Less => Some((lever.input, &[1.0][..])),
        Way::Either => Some((lever.input, &[-1.0, 1.0][..])),
        Way::Sizes(_) | Way::Given(_) => None,
    });
    let mut all = wanted.into_iter().chain(levers);
    // what can only be read from end to end does not move
    let moves = |(name, _): &(&str, &[f64])| inputs.kind(name) == dimension && inputs.number(name).is_ok();
    let (name, ways) = all.find(moves)?;
    inputs.reset();
    let (at, from) = (inputs.place(name)?, inputs.number(name).ok()?);
    let (uncertain, half) = (inputs.uncertain(Some(at)), inputs.half_width(at));
    let mut trial = Trial { entry, inputs, at, uncertain };
    // from the end of its own tolerance that is nearest to breaking
    let room = |direction: &f64| trial.room(from + direction * half, *direction, most.si);
    ways.iter().filter_map(room).min_by(f64::total_cmp)
}

/// The input that says how much is wanted.
fn wanted(entry: &Entry) -> Option<&'static str> {
    let names = ["want", "wanted", "gap"];
    names.into_iter().find(|name| entry.inputs.iter().any(|input| input.name == *name))
}

/// One limit with one input set free.
struct Trial<'e, 'i, 'a> {
    entry: &'e Entry,
    inputs: &'i mut Inputs<'a>,
    at: usize,
    uncertain: Vec<usize>,
}

impl Trial<'_, '_, '_> {
    fn holds(&mut self, x: f64) -> bool {
        self.inputs.try_at(self.at, x);
        all_hold(self.entry, self.inputs, &self.uncertain)
    }

    /// The nearest distance from `from` at which it holds, in a direction of +1 or -1.
    fn nearest(&mut self, from: f64, direction: f64, size: f64) -> Option<f64> {
        let (mut before, mut step) = (0.0, FIRST * size);
        for _ in 0..STEPS {
            if self.holds(from + direction * step) {
                return Some(self.edge(from, direction, before, step));
            }
            before = step;
            step *= LONGER;
        }
        None
    }

    /// How far it holds from `from` on; `None` where as far as `most`, or not at all.
    fn room(&mut self, from: f64, direction: f64, most: f64) -> Option<f64> {
        /// Steps to `most`: what breaks over less of the way is passed by.
        const PARTS: u32 = 64;
        if !self.holds(from) {
            return None;
        }
        let step = |n: u32| most * f64::from(n) / f64::from(PARTS);
        let breaks = (1..=PARTS).find(|n| !self.holds(from + direction * step(*n)))?;
        Some(self.edge(from, direction, step(breaks), step(breaks - 1)))
    }

    /// Between a distance that does not hold and one that does.
    fn edge(&mut self, from: f64, direction: f64, mut bad: f64, mut good: f64) -> f64 {
        for _ in 0..50 {
            let middle = f64::midpoint(bad, good);
            if self.holds(from + direction * middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    }

    /// The value a little further out that reads short in a reader's unit and still holds, SI, and its step.
    fn rounded(&mut self, from: f64, direction: f64, distance: f64, symbol: &str) -> (f64, Step) {
        let exact = from + direction * distance;
        let shown = in_unit(exact, symbol, false);
        let steps = steps(symbol, in_unit(distance, symbol, true), shown);
        for step in &steps {
            let size = step.size();
            // a value that is round already must not be pushed on by the last bit
            let near = shown / size - direction * 1e-6;
            let out = if direction > 0.0 { near.ceil() } else { near.floor() };
            // one step further where the edge itself does not hold
            for out in [out, out + direction] {
                let to = to_si(out * size, symbol);
                if self.holds(to) {
                    return (to, *step);
                }
            }
        }
        (exact, steps.last().copied().unwrap_or(Step::Digits(6)))
    }
}

/// How finely an amount is told.
#[derive(Clone, Copy, Debug)]
enum Step {
    /// Parts of one.
    Parts(f64),
    /// Digits behind the point.
    Digits(usize),
}

impl Step {
    fn size(self) -> f64 {
        match self {
            Self::Parts(parts) => 1.0 / parts,
            Self::Digits(digits) => 10_f64.powi(-i32::try_from(digits).unwrap_or(0)),
        }
    }

    fn write(self, x: f64) -> String {
        match self {
            // tens and hundreds are whole
            Self::Parts(parts) if parts < 1.0 => rounded(x, 0),
            Self::Parts(parts) => fraction(x, parts),
            Self::Digits(digits) => rounded(x, digits),
        }
    }
}

/// Steps to try, the coarsest first: two digits of the amount, as far as they are within three of the value; inches by
/// parts that are less than half of the amount.
fn steps(symbol: &str, distance: f64, value: f64) -> Vec<Step> {
    let power = |x: f64| x.abs().log10().floor().clamp(-6.0, 6.0) as i32;
    let first = (1 - power(distance)).min((2 - power(value)).max(0));
    let digits = |n: i32| Step::Digits(usize::try_from(n).unwrap_or(0));
    if symbol == "in" {
        let parts = [16.0, 32.0, 64.0].into_iter().filter(|parts| 2.0 / parts <= distance.abs());
        return parts.map(Step::Parts).chain((3..7).map(digits)).collect();
    }
    (first..first + 4).map(|n| if n < 0 { Step::Parts(10_f64.powi(n)) } else { digits(n) }).collect()
}

fn pull(entry: &Entry, lever: &Lever, inputs: &mut Inputs<'_>) -> Option<Cure> {
    let at = inputs.place(lever.input)?;
    let kind = inputs.kind(lever.input);
    // of a window its low end, which is what stands at first
    let from = inputs.number(lever.input).or_else(|_| inputs.window(lever.input).map(|w| w.0)).ok();
    let given = match lever.way {
        Way::Given(find) => Some(find(inputs)?),
        _ => None,
    };
    let uncertain = inputs.uncertain(Some(at));
    let mut trial = Trial { entry, inputs, at, uncertain };
    let say = |to: f64| lever.said.map_or_else(Phrase::default, |said| said(to));
    let size = size_of(from.unwrap_or(0.0), kind);
    let ways: &[f64] = match lever.way {
        Way::Given(_) => {
            let to = given.filter(|to| trial.holds(*to))?;
            return Some(Cure { input: lever.input, to, words: say(to) });
        }
        Way::Sizes(sizes) => {
            let mut list = sizes();
            let away = |x: &f64| (x - from.unwrap_or(0.0)).abs();
            list.sort_by(|a, b| away(a).total_cmp(&away(b)));
            let to = list.into_iter().find(|x| trial.holds(*x))?;
            return Some(Cure { input: lever.input, to, words: say(to) });
        }
        Way::More => &[1.0],
        Way::Less => &[-1.0],
        Way::Either => &[1.0, -1.0],
    };
    let from = from?;
    let reach = |direction: &f64| trial.nearest(from, *direction, size).map(|d| (d, *direction));
    let found: Vec<(f64, f64)> = ways.iter().filter_map(reach).collect();
    let (distance, direction) = found.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let word = if direction > 0.0 { "more" } else { "less" };
    let dimension = match kind {
        Some(Kind::Dimension(dimension)) => dimension,
        _ => Dimension::Ratio,
    };
    let mut told = |measure| {
        let symbol = unit(dimension, from.abs().max(distance), measure);
        let (to, step) = trial.rounded(from, direction, distance, symbol);
        (to, amount(from, to, symbol, step, word, lever.noun))
    };
    let ((to, metric), (_, inch)) = (told(Measure::Metric), told(Measure::Inch));
    let words = if lever.said.is_some() {
        say(to)
    } else if metric == inch {
        metric
    } else {
        Phrase(vec![Piece::Each { inch: Box::new(inch), metric: Box::new(metric) }])
    };
    Some(Cure { input: lever.input, to, words })
}

/// "13 mm more spacer (20 mm)": the amount rounded up, so that who goes by it goes far enough.
fn amount(from: f64, to: f64, symbol: &str, step: Step, word: &str, noun: &str) -> Phrase {
    let by = in_unit((to - from).abs(), symbol, true);
    // where the value is told in tens the way to it is told in ones
    let by_step = if step.size() > 1.0 { Step::Digits(0) } else { step };
    let by = (by / by_step.size() - 1e-6).ceil() * by_step.size();
    // a difference of temperatures is no point on a scale
    let of_step = if symbol == "°C" { "K" } else { symbol };
    let noun = if noun.is_empty() { String::new() } else { format!(" {noun}") };
    let by = with_unit(&by_step.write(by), of_step);
    let phrase = phrase![as_written(by), format!(" {word}{noun}")];
    if from == 0.0 {
        return phrase;
    }
    let end = with_unit(&step.write(in_unit(to, symbol, false)), symbol);
    phrase.then(phrase![" (", as_written(end), ")"])
}

/// A quantity that is rounded already.
fn as_written(text: String) -> Piece {
    match Quantity::parse(&text) {
        Ok(quantity) => Piece::from(&Value::Quantity(quantity)),
        Err(_) => Piece::from(text),
    }
}

/// What an input's steps are measured by: its own size, or a little thing of its kind where it stands near zero.
fn size_of(from: f64, kind: Option<Kind>) -> f64 {
    let least = match kind {
        Some(Kind::Dimension(Dimension::Length)) => 0.01,
        Some(Kind::Dimension(Dimension::Angle)) => 0.03,
        Some(Kind::Dimension(Dimension::Temperature)) => 10.0,
        Some(Kind::Dimension(Dimension::Pressure)) => 10_000.0,
        _ => 1e-9,
    };
    from.abs().max(least)
}
