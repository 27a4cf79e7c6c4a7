//! What a figure takes: names, kinds, examples and defaults.

use std::fmt;

use crate::units::Dimension;
use crate::value::Kind;

/// What an input takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// One quantity of a dimension.
    One(Dimension),
    /// Several, with commas between them: `"3.0, 1.7, 1"`.
    Several(Dimension),
    /// Pairs, with commas between them: `"1300 rpm: 17 A, 2400 rpm: 35 A"`.
    Pairs(Dimension, Dimension),
    /// A whole number, 0 to 1,000,000.
    Whole,
    /// A screw thread: `"M10x1.5"`, `"3/8-24"`, `"1/4-26 BSF"`.
    Thread,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Any text.
    Text,
}

impl Takes {
    /// The kind of a library field that is nearest, for who already draws those.
    #[must_use]
    pub fn kind(self) -> Kind {
        match self {
            Self::One(dimension) | Self::Several(dimension) => Kind::Dimension(dimension),
            Self::Whole => Kind::Dimension(Dimension::Ratio),
            Self::Pairs(..) => Kind::Curve,
            Self::Thread => Kind::Thread,
            Self::Choice(_) | Self::Text => Kind::Word,
        }
    }

    /// In words: "length", "small, medium or large".
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::One(dimension) => word(dimension),
            Self::Several(dimension) => format!("{}, one or more", word(dimension)),
            Self::Pairs(first, second) => format!("pairs of {} and {}", word(first), word(second)),
            Self::Whole => "whole number".to_owned(),
            Self::Thread => "thread".to_owned(),
            Self::Choice(words) => match words.split_last() {
                Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
                _ => words.concat(),
            },
            Self::Text => "text".to_owned(),
        }
    }
}

fn word(dimension: Dimension) -> String {
    match dimension {
        Dimension::Ratio => "number".to_owned(),
        other => other.word().replace('-', " "),
    }
}

/// One input of a figure.
#[derive(Clone, Copy, Debug)]
pub struct Input {
    /// Word or words with hyphens: `master-bore`.
    pub name: &'static str,
    /// What it is, in words of the trade.
    pub meaning: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// A good value, as a keyboard has it: "3 deg".
    pub example: &'static str,
    /// What stands for it if it is left out; `None` if it must be given. "unknown" is a default too.
    pub default: Option<&'static str>,
    /// Whether it may be below zero.
    pub signed: bool,
}

/// An input that must be given.
pub(super) const fn need(
    name: &'static str,
    meaning: &'static str,
    takes: Takes,
    example: &'static str,
) -> Input {
    Input { name, meaning, takes, example, default: None, signed: false }
}

/// An input that may be left out.
pub(super) const fn or(
    name: &'static str,
    meaning: &'static str,
    takes: Takes,
    default: &'static str,
) -> Input {
    Input { name, meaning, takes, example: default, default: Some(default), signed: false }
}

impl Input {
    pub(super) const fn signed(mut self) -> Self {
        self.signed = true;
        self
    }

    pub(super) const fn example(mut self, example: &'static str) -> Self {
        self.example = example;
        self
    }
}

impl fmt::Display for Input {
    /// As it stands on the command line.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.example.contains([' ', '#']) {
            write!(f, "{}=\"{}\"", self.name, self.example)
        } else {
            write!(f, "{}={}", self.name, self.example)
        }
    }
}

/// The nearest of some words, if any is near.
pub(super) fn nearest(given: &str, known: impl Iterator<Item = &'static str>) -> Option<&'static str> {
    let given = given.to_lowercase();
    known
        .map(|word| (strsim::jaro_winkler(&given, word), word))
        .filter(|(score, _)| *score > 0.7)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, word)| word)
}
