//! What calculations are written in: inputs, answers, and what can be changed to clear one.

use super::Inputs;
use crate::phrase::{Number, Phrase};
use crate::units::Dimension;

/// Whether it holds, and its words where they are wanted; or why it cannot be computed.
pub(super) type Answer = Result<(bool, Words), String>;

/// The text of an answer; `None` where no words are wanted.
pub(super) type Words = Option<Text>;

/// The figures of an answer in words.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Text(pub Phrase);

/// A calculation with a function of its own.
pub(super) struct Own {
    /// As library files write it.
    pub name: &'static str,
    /// What it takes, all of it.
    pub inputs: &'static [Input],
    /// What can be changed to clear it, the likeliest first; each is tried by itself.
    pub levers: &'static [Lever],
    /// Figures in, an answer out.
    pub work: fn(&Inputs<'_>) -> Answer,
}

/// An input of a calculation.
#[derive(Clone, Copy)]
pub(super) struct Input {
    /// As library files write it.
    pub name: &'static str,
    /// What may stand there.
    pub takes: Takes,
}

/// What an input may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Takes {
    /// A quantity of this dimension.
    One(Dimension),
    /// A quantity from end to end: what a pump gives, what a carburettor takes.
    Window(Dimension),
    /// Any quantity, of one dimension with all inputs of the calculation that are so marked.
    Alike,
    /// Points over a speed of rotation.
    Curve,
    /// Points along the axle and from its centre.
    Outline,
}

/// An input that can be changed to clear a limit.
pub(super) struct Lever {
    /// Which.
    pub input: &'static str,
    /// Which values come into question.
    pub way: Way,
    /// What the amount is of, behind "13 mm more".
    pub noun: &'static str,
    /// Says a value by itself instead: "load index 100".
    pub said: Option<fn(f64) -> Phrase>,
}

/// Which values of a lever come into question.
#[derive(Clone, Copy)]
pub(super) enum Way {
    /// The least that is more than now.
    More,
    /// The most that is less than now.
    Less,
    /// The nearest, either way.
    Either,
    /// The nearest of these, SI.
    Sizes(fn() -> Vec<f64>),
    /// This one, SI, if the figures give one.
    Given(fn(&Inputs<'_>) -> Option<f64>),
}

pub(super) const fn one(name: &'static str, dimension: Dimension) -> Input {
    Input { name, takes: Takes::One(dimension) }
}

pub(super) const fn window(name: &'static str, dimension: Dimension) -> Input {
    Input { name, takes: Takes::Window(dimension) }
}

pub(super) const fn alike(name: &'static str) -> Input {
    Input { name, takes: Takes::Alike }
}

pub(super) const fn curve(name: &'static str) -> Input {
    Input { name, takes: Takes::Curve }
}

pub(super) const fn outline(name: &'static str) -> Input {
    Input { name, takes: Takes::Outline }
}

pub(super) const fn more(input: &'static str, noun: &'static str) -> Lever {
    Lever { input, way: Way::More, noun, said: None }
}

pub(super) const fn less(input: &'static str, noun: &'static str) -> Lever {
    Lever { input, way: Way::Less, noun, said: None }
}

pub(super) const fn either(input: &'static str, noun: &'static str) -> Lever {
    Lever { input, way: Way::Either, noun, said: None }
}

/// A value said by itself: a size of the trade, or one worked out.
pub(super) const fn said(input: &'static str, way: Way, said: fn(f64) -> Phrase) -> Lever {
    Lever { input, way, noun: "", said: Some(said) }
}

/// A number for the words of an answer, SI.
pub(super) fn qty(si: f64, dimension: Dimension) -> Number {
    Number::new(si, dimension)
}

/// What a figure refuses, in its words.
pub(super) fn told<T>(result: Result<T, knockon_figures::FigureError>) -> Result<T, String> {
    result.map_err(|e| e.to_string())
}

/// Rounding of unit factors.
pub(super) fn close(a: f64, b: f64) -> f64 {
    1e-9 * a.abs().max(b.abs())
}
