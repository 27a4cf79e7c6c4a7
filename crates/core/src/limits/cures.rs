//! What would clear a broken limit, with the amount: each lever is tried by itself until the calculation holds, over
//! every corner of the tolerances. So an amount that is told is one that clears this limit; what it does to others is
//! looked at where they are known, by `assess`.

use super::entry::{Entry, Lever, Way};
use super::{Inputs, all_hold};
use crate::number::{rounded, with_unit};
use crate::units::Dimension;
use crate::value::Kind;

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
    pub words: String,
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
        all_hold(self.entry.work, self.inputs, &self.uncertain)
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

    /// The value a little further out that reads short and still holds.
    fn rounded(&mut self, from: f64, direction: f64, distance: f64, unit: f64) -> (f64, usize) {
        let (distance_shown, exact) = (distance / unit, from + direction * distance);
        // two digits of the amount, as far as they are within three of the value
        let power = |x: f64| x.abs().log10().floor().clamp(-6.0, 6.0) as i32;
        let first = (1 - power(distance_shown)).min((2 - power(exact / unit)).max(0));
        for digits in first..first + 4 {
            let step = 10_f64.powi(-digits);
            // a value that is round already must not be pushed on by the last bit
            let shown = exact / unit / step - direction * 1e-6;
            let out = if direction > 0.0 { shown.ceil() } else { shown.floor() };
            // one step further where the edge itself does not hold
            for out in [out, out + direction] {
                if self.holds(out * step * unit) {
                    return (out * step * unit, usize::try_from(digits).unwrap_or(0));
                }
            }
        }
        (exact, usize::try_from(first + 3).unwrap_or(0))
    }
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
    let say = |to: f64| lever.said.map_or_else(String::new, |said| said(to));
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
    let (symbol, unit) = unit_of(kind, from.abs().max(distance));
    let (to, decimals) = trial.rounded(from, direction, distance, unit);
    let words = if lever.said.is_some() {
        say(to)
    } else {
        let word = if direction > 0.0 { "more" } else { "less" };
        amount(from, to, unit, decimals, symbol, word, lever.noun)
    };
    Some(Cure { input: lever.input, to, words })
}

/// "13 mm more spacer (20 mm)": the amount rounded up, so that who goes by it goes far enough.
fn amount(from: f64, to: f64, unit: f64, decimals: usize, symbol: &str, word: &str, noun: &str) -> String {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(0));
    let by = ((to - from).abs() / unit * scale - 1e-6).ceil() / scale;
    // a difference of temperatures is no point on a scale
    let step = if symbol == "°C" { "K" } else { symbol };
    let with = |x: f64, symbol: &str| with_unit(&rounded(x, decimals), symbol);
    let noun = if noun.is_empty() { String::new() } else { format!(" {noun}") };
    let end = if from == 0.0 { String::new() } else { format!(" ({})", with(to / unit, symbol)) };
    format!("{} {word}{noun}{end}", with(by, step))
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

/// The unit of the workshop for a quantity of this size, and its size in SI.
fn unit_of(kind: Option<Kind>, size: f64) -> (&'static str, f64) {
    let Some(Kind::Dimension(dimension)) = kind else { return ("", 1.0) };
    match dimension {
        Dimension::Length => ("mm", 1e-3),
        Dimension::Area if size > 1e-3 => ("cm2", 1e-4),
        Dimension::Area => ("mm2", 1e-6),
        Dimension::Volume if size < 5e-4 => ("cm3", 1e-6),
        Dimension::Volume => ("L", 1e-3),
        Dimension::Mass => ("kg", 1.0),
        Dimension::Force => ("N", 1.0),
        Dimension::Pressure => ("psi", 6_894.757_293),
        Dimension::Angle => ("°", std::f64::consts::PI / 180.0),
        Dimension::Temperature => ("°C", 1.0),
        Dimension::Time => ("min", 60.0),
        Dimension::Speed => ("km/h", 1.0 / 3.6),
        Dimension::RotationalSpeed => ("rpm", std::f64::consts::TAU / 60.0),
        Dimension::Torque => ("N·m", 1.0),
        Dimension::Power => ("kW", 1e3),
        Dimension::Current => ("A", 1.0),
        Dimension::Voltage => ("V", 1.0),
        Dimension::Resistance => ("ohm", 1.0),
        Dimension::Flow if size < 1e-3 => ("L/h", 1.0 / 3.6e6),
        Dimension::Flow => ("cfm", 4.719_474e-4),
        Dimension::PerLength => ("rev/mile", 1.0 / 1_609.344),
        Dimension::Charge => ("Ah", 3_600.0),
        Dimension::TorquePerPressure => ("N·m/MPa", 1e-6),
        Dimension::Stiffness => ("N/mm", 1e3),
        Dimension::Ratio => ("", 1.0),
    }
}
