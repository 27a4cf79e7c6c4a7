//! What to look at twice among the parts that nobody chose: as text and as JSON.

use std::fmt::Write;

use knockon_core::Assessment;
use knockon_core::assessment::Companion;
use knockon_core::look_twice::{Bounds, Mark, marks};
use serde_json::{Value, json};

/// The companions that carry a mark, each with its marks.
fn marked<'a>(a: &'a Assessment, bounds: &Bounds) -> Vec<(&'a Companion, Vec<Mark>)> {
    a.companions.iter().map(|c| (c, marks(c, bounds))).filter(|(_, marks)| !marks.is_empty()).collect()
}

/// The list for a terminal; empty where nothing carries a mark.
#[must_use]
pub fn text(a: &Assessment, bounds: &Bounds) -> String {
    let found = marked(a, bounds);
    let mut out = String::new();
    if !found.is_empty() {
        let _ = writeln!(out, "\nLook twice before you say yes ({})", found.len());
    }
    for (c, marks) in found {
        let _ = writeln!(out, "  * {} x {}", c.qty, c.name);
        for mark in marks {
            let _ = writeln!(out, "      {}", mark.words());
        }
    }
    out
}

/// The list as JSON: `key` and `part` of the companion, `marks` each with a `kind` (`cannot-be-undone`, `partly-undone`,
/// `takes-off-good`, `dear`, `long`) and its words.
#[must_use]
pub fn json(a: &Assessment, bounds: &Bounds) -> Value {
    let one = |mark: &Mark| {
        let kind = match mark {
            Mark::CannotBeUndone(_) => "cannot-be-undone",
            Mark::PartlyUndone(_) => "partly-undone",
            Mark::TakesOffGood(_) => "takes-off-good",
            Mark::Dear(_) => "dear",
            Mark::Long(_) => "long",
        };
        json!({"kind": kind, "words": mark.words()})
    };
    let list = marked(a, bounds).into_iter().map(|(c, marks)| {
        json!({"key": c.key, "part": c.part, "marks": marks.iter().map(one).collect::<Vec<_>>()})
    });
    list.collect()
}
