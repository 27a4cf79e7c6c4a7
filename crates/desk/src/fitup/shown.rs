//! What a card shows: facts, advice and a drawing.

use egui::{Rect, Ui};
use knockon_core::figure::{self, Figure};
use knockon_core::showing::Measure;

use crate::look::tokens::Tokens;

/// Something that comes of the inputs.
pub struct Fact {
    /// What it is.
    pub name: &'static str,
    /// What it comes to.
    pub text: String,
    /// It must be looked at.
    pub warm: bool,
    /// Id of the figure whose formula and source it has.
    pub figure: &'static str,
}

impl Fact {
    /// What a figure of the list comes to.
    pub fn new(figure: &'static str, name: &'static str, text: String) -> Self {
        Self { name, text, warm: false, figure }
    }

    /// The same where it must be looked at if something does not hold.
    pub fn judged(figure: &'static str, name: &'static str, text: String, holds: bool) -> Self {
        Self { name, text, warm: !holds, figure }
    }
}

/// What follows from the figures, in one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Advice {
    /// In words.
    pub text: String,
    /// There is something to do.
    pub due: bool,
}

impl Advice {
    /// Something to do.
    pub fn to_do(text: impl Into<String>) -> Self {
        Self { text: text.into(), due: true }
    }

    /// Nothing to do, and why.
    pub fn nothing(text: impl Into<String>) -> Self {
        Self { text: text.into(), due: false }
    }
}

/// The figures of the list that some facts come from, each once, in their order.
pub fn sources(facts: &[Fact]) -> Vec<&'static Figure> {
    let mut out: Vec<&'static Figure> = Vec::new();
    for figure in facts.iter().filter_map(|fact| figure::find(fact.figure)) {
        if out.iter().all(|known| known.id != figure.id) {
            out.push(figure);
        }
    }
    out
}

/// What was worked out from the inputs of a card.
pub trait Shown {
    /// The figures, in the order of weight.
    fn facts(&self, measure: Measure) -> Vec<Fact>;
    /// What to do about it.
    fn advice(&self, measure: Measure) -> Advice;
    /// The drawing.
    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, measure: Measure);
}
