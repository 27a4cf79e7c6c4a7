//! One case for each calculation: figures that hold with an outside value in their words, a change that breaks them with
//! what clears it, and a tolerance that leaves them open.

#![allow(clippy::expect_used, clippy::panic, reason = "a test may stop")]

mod body;
mod chassis;
mod power;

use super::calculation::Entry;
use super::entry::Takes;
use super::registry;
use crate::units::Dimension;
use crate::value::{Kind, Value};

/// A case of one calculation. Inputs are written as in a library file, a curve or outline with semicolons.
pub(super) struct Case {
    /// Which calculation.
    pub calc: &'static str,
    /// All inputs; so it holds.
    pub inputs: &'static [(&'static str, &'static str)],
    /// In its words: the outside value, whose source stands beside it.
    pub says: &'static str,
    /// With these inputs it is broken.
    pub broken: &'static [(&'static str, &'static str)],
    /// In what clears it.
    pub clears: &'static [&'static str],
    /// With this tolerance of the inputs that hold it is open.
    pub open: (&'static str, &'static str),
}

/// All of them.
pub(super) fn all() -> Vec<&'static Case> {
    [power::CASES, chassis::CASES, body::CASES].into_iter().flatten().collect()
}

impl Case {
    pub fn entry(&self) -> &'static Entry {
        registry::all().find(|(_, e)| e.name == self.calc).expect("the calculation of a case").1
    }

    /// The inputs as values, some of them changed.
    pub fn values(&self, changed: &[(&str, &str)]) -> Vec<(&'static str, Value)> {
        let given = |name: &str| {
            let find =
                |list: &[(&str, &str)]| list.iter().find(|(n, _)| *n == name).map(|(_, t)| (*t).to_owned());
            find(changed)
                .or_else(|| find(self.inputs))
                .unwrap_or_else(|| panic!("{} without {name}", self.calc))
        };
        self.entry().inputs.iter().map(|i| (i.name, read(&given(i.name), i.takes))).collect()
    }
}

fn read(text: &str, takes: Takes) -> Value {
    let kind = match takes {
        Takes::Curve => {
            let points = text.split(';').map(|p| serde_json::Value::String(p.trim().to_owned()));
            return Value::read(&serde_json::Value::Array(points.collect()), Kind::Curve).expect("a curve");
        }
        Takes::Outline => {
            let points = text.split(';').map(|p| serde_json::Value::String(p.trim().to_owned()));
            return Value::read(&serde_json::Value::Array(points.collect()), Kind::Outline)
                .expect("an outline");
        }
        Takes::One(d) | Takes::Window(d) => d,
        Takes::Alike => {
            crate::quantity::Quantity::parse(text).map_or(Dimension::Ratio, |quantity| quantity.dimension)
        }
    };
    Value::read_text(text, Kind::Dimension(kind)).unwrap_or_else(|why| panic!("{text}: {why}"))
}
