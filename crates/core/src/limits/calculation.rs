//! A named calculation, whether it holds a figure to a bound or has a function of its own.

use std::borrow::Cow;

use super::Inputs;
use super::declared::Declared;
use super::entry::{Answer, Input, Lever, Own};
use crate::figure::{Figure, Typed};

/// A calculation.
pub(super) struct Entry {
    /// As library files write it.
    pub name: &'static str,
    /// What it takes, all of it.
    pub inputs: Cow<'static, [Input]>,
    /// What can be changed to clear it, the likeliest first; each is tried by itself.
    pub levers: &'static [Lever],
    work: Work,
}

/// How a calculation is worked out.
enum Work {
    Own(fn(&Inputs<'_>) -> Answer),
    Declared { limit: &'static Declared, figure: &'static Figure, fixed: Typed },
}

impl Entry {
    /// Figures in, an answer out.
    pub fn answer(&self, inputs: &Inputs<'_>) -> Answer {
        match &self.work {
            Work::Own(work) => work(inputs),
            Work::Declared { limit, figure, fixed } => limit.answer(figure, fixed, &self.inputs, inputs),
        }
    }
}

impl From<&'static Own> for Entry {
    fn from(own: &'static Own) -> Self {
        let Own { name, inputs, levers, work } = own;
        Self { name, inputs: Cow::Borrowed(inputs), levers, work: Work::Own(*work) }
    }
}

impl Entry {
    /// A figure held to a bound; `None` if there is no such figure, which a test rules out.
    pub fn declared(limit: &'static Declared) -> Option<Self> {
        let figure = crate::figure::find(limit.figure)?;
        let fixed = Typed::some(figure, limit.fixed);
        let inputs = Cow::Owned(limit.inputs(figure));
        let work = Work::Declared { limit, figure, fixed };
        Some(Self { name: limit.name, inputs, levers: limit.levers, work })
    }
}
