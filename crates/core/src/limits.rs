//! Limits: a named calculation over what is fitted, with three answers. A tolerance that leaves the answer open is told
//! with the accuracy that would settle it, a broken limit with the amount that would clear it.

mod brakes;
mod calculation;
mod charging;
mod cooling;
mod cures;
mod declared;
mod driveline;
mod engine;
mod entry;
mod fuel;
mod gearing;
mod general;
mod inputs;
mod registry;
mod springs;
mod steering;
mod wheel_profile;
mod wheels;
mod wires;

#[cfg(test)]
mod cases;
#[cfg(test)]
mod tests;

pub use cures::Cure;
pub use inputs::Inputs;

use crate::meant::{nearest, then};
use crate::phrase;
use crate::phrase::{Number, Phrase};
use crate::quantity::Quantity;
use crate::units::Dimension;
use crate::value::{Kind, Verdict3};
use calculation::Entry;
use entry::{Lever, Takes, Text, Way, Words};

/// A calculation by its place among all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Calculation(usize);

/// What a limit comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Holds, open or broken.
    pub verdict: Verdict3,
    /// With the figures; empty where no words are wanted.
    pub text: Phrase,
    /// What would clear it, with the amount; empty unless it is broken and words are wanted.
    pub clears: Vec<Cure>,
    /// How far beyond its bound, in hundredths of a per cent, where it is broken and tells that: of several parts that do
    /// not hold the nearest goes in.
    pub beyond: i64,
}

impl Calculation {
    /// The name of each, as a library writes it.
    pub fn names() -> impl Iterator<Item = &'static str> {
        registry::all().map(|(_, entry)| entry.name)
    }

    /// The calculation of a name, if its inputs are those given.
    ///
    /// # Errors
    /// A sentence with what was expected.
    pub fn new<'a>(calc: &str, inputs: impl Iterator<Item = &'a str>) -> Result<Self, String> {
        let Some((at, entry)) = registry::all().find(|(_, e)| e.name == calc) else {
            let known: Vec<&str> = Self::names().collect();
            let rest =
                then(nearest(calc, known.iter().copied()), &format!("expected one of {}", known.join(", ")));
            return Err(format!("there is no calculation \"{calc}\"{rest}"));
        };
        let wanted: Vec<&str> = entry.inputs.iter().map(|i| i.name).collect();
        let given: Vec<&str> = inputs.collect();
        let missing: Vec<&str> = wanted.iter().copied().filter(|w| !given.contains(w)).collect();
        let extra: Vec<&str> = given.iter().copied().filter(|g| !wanted.contains(g)).collect();
        if missing.is_empty() && extra.is_empty() {
            return Ok(Self(at));
        }
        Err(format!(
            "the calculation \"{calc}\" takes {}; missing: {}; not known: {}",
            wanted.join(", "),
            missing.join(", "),
            extra.join(", ")
        ))
    }

    /// Whether inputs of these kinds are what it takes.
    ///
    /// # Errors
    /// The name of the input that is not, and a sentence with what was expected.
    pub fn check_kinds(self, inputs: &[(&str, Kind)]) -> Result<(), (String, String)> {
        let Some(entry) = registry::at(self.0) else { return Ok(()) };
        let mut alike: Option<(&str, Kind)> = None;
        for input in &*entry.inputs {
            let Some((name, kind)) = inputs.iter().find(|(n, _)| *n == input.name) else { continue };
            let wrong = |wanted: &str| {
                let text =
                    format!("the calculation \"{}\" takes {wanted}, found {}", entry.name, word(*kind));
                Err(((*name).to_owned(), text))
            };
            match input.takes {
                Takes::One(d) | Takes::Window(d) if *kind != Kind::Dimension(d) => return wrong(d.word()),
                Takes::Curve if *kind != Kind::Curve => return wrong("curve"),
                Takes::Outline if *kind != Kind::Outline => return wrong("outline"),
                Takes::Alike => match alike {
                    _ if !matches!(kind, Kind::Dimension(_)) => return wrong("a quantity"),
                    Some((other, first)) if first != *kind => {
                        return wrong(&format!("{} as for {other}", word(first)));
                    }
                    _ => alike = Some((name, *kind)),
                },
                _ => {}
            }
        }
        Ok(())
    }

    /// Whether something of this dimension can be changed to clear it: from less of it it would break.
    #[must_use]
    pub fn can_move(self, dimension: Dimension) -> bool {
        registry::at(self.0).is_some_and(|entry| {
            let is_of = |lever: &Lever| {
                let input = entry.inputs.iter().find(|input| input.name == lever.input);
                let steps = matches!(lever.way, Way::More | Way::Less | Way::Either);
                steps
                    && input.is_some_and(|input| match input.takes {
                        Takes::One(d) | Takes::Window(d) => d == dimension,
                        Takes::Alike => true,
                        Takes::Curve | Takes::Outline => false,
                    })
            };
            entry.levers.iter().any(is_of)
        })
    }

    /// How far what is wanted, else the first input of the dimension of `most` that would clear it, may go the wrong way until it
    /// does not hold any more, over every corner of the tolerances, SI; `None` where that is `most` or more, or it does
    /// not hold as it is.
    #[must_use]
    pub fn left(self, mut inputs: Inputs<'_>, most: &Quantity) -> Option<f64> {
        let entry = registry::at(self.0)?;
        mark_windows(entry, &mut inputs);
        cures::left(entry, &mut inputs, most)
    }

    /// Runs it over every corner of the tolerances. Figures it refuses leave the answer open, with the reason.
    #[must_use]
    pub fn run(self, mut inputs: Inputs<'_>) -> Outcome {
        let told =
            |verdict: Verdict3, text: Phrase, clears: Vec<Cure>| Outcome { verdict, text, clears, beyond: 0 };
        let open = |text: Phrase| told(Verdict3::Open, text, Vec::new());
        let Some(entry) = registry::at(self.0) else { return open(Phrase::default()) };
        mark_windows(entry, &mut inputs);
        let (holds, text) = match entry.answer(&inputs) {
            Ok((holds, text)) => (holds, text.map_or_else(Phrase::default, |t| t.0)),
            Err(text) => return open(text.into()),
        };
        let wants_words = inputs.take_words();
        let beyond = inputs.beyond();
        let uncertain = inputs.uncertain(None);
        let verdict =
            if uncertain.is_empty() { Some(holds) } else { corners(entry, &mut inputs, &uncertain, 1.0) };
        match verdict {
            Some(true) => told(Verdict3::Holds, text, Vec::new()),
            Some(false) if wants_words => {
                let clears = cures::find(entry, &mut inputs);
                Outcome { beyond, ..told(Verdict3::Broken, text, clears) }
            }
            Some(false) => Outcome { beyond, ..told(Verdict3::Broken, text, Vec::new()) },
            None if wants_words => {
                open(text.then(phrase!["; "]).then(accuracy(entry, &mut inputs, &uncertain)))
            }
            None => open(Phrase::default()),
        }
    }
}

/// A kind as library files write it.
fn word(kind: Kind) -> &'static str {
    match kind {
        Kind::Dimension(d) => d.word(),
        Kind::Word => "word",
        Kind::Thread => "thread",
        Kind::Curve => "curve",
        Kind::Outline => "outline",
    }
}

fn mark_windows(entry: &Entry, inputs: &mut Inputs<'_>) {
    for input in entry.inputs.iter().filter(|i| matches!(i.takes, Takes::Window(_))) {
        inputs.as_window(input.name);
    }
}

/// Whether all corners hold, or none; `None` where they differ or one is refused.
fn corners(entry: &Entry, inputs: &mut Inputs<'_>, uncertain: &[usize], share: f64) -> Option<bool> {
    let mut first = None;
    for corner in 0..1_usize << uncertain.len() {
        inputs.set_corner(uncertain, corner, share);
        let Ok((holds, _)) = entry.answer(inputs) else { return None };
        if first.is_some_and(|f| f != holds) {
            return None;
        }
        first = Some(holds);
    }
    first
}

/// Whether every corner holds; the first that does not ends the search.
fn all_hold(entry: &Entry, inputs: &mut Inputs<'_>, uncertain: &[usize]) -> bool {
    (0..1_usize << uncertain.len()).all(|corner| {
        inputs.set_corner(uncertain, corner, 1.0);
        matches!(entry.answer(inputs), Ok((true, _)))
    })
}

/// How close the uncertain inputs must be known to settle the answer: the widest share of their tolerances that does.
fn accuracy(entry: &Entry, inputs: &mut Inputs<'_>, uncertain: &[usize]) -> Phrase {
    let (mut settled, mut open) = (0.0_f64, 1.0_f64);
    for _ in 0..24 {
        let share = f64::midpoint(settled, open);
        if corners(entry, inputs, uncertain, share).is_some() {
            settled = share;
        } else {
            open = share;
        }
    }
    let named = uncertain.iter().map(|at| {
        let name = inputs.name(*at);
        let words = name.replace('-', " ");
        if settled < 1e-3 {
            phrase![format!("{words} as closely as it can be measured")]
        } else {
            let width = Number::of(inputs.half_width(*at) * settled, inputs.kind(name)).difference();
            phrase![format!("{words} to ±"), width]
        }
    });
    phrase!["the tolerance leaves it open: measure "].then(Phrase::joined(named, ", "))
}
