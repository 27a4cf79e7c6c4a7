//! What answers a search in a plan, as text and JSON.

use std::fmt::Write as _;

use knockon_core::find::{Found, What};
use knockon_core::showing::count;
use serde_json::{Value, json};

/// What answers, the best first, each with where it is and what is on offer there.
#[must_use]
pub fn text(query: &str, found: &[Found]) -> String {
    const SHOWN: usize = 12;
    if found.is_empty() {
        return format!("Nothing here is called \"{query}\", by this name or another that is known.\n");
    }
    let widest = found.iter().take(SHOWN).map(|f| f.name.chars().count()).max().unwrap_or(0).min(48);
    let mut out = String::new();
    for f in found.iter().take(SHOWN) {
        let _ = writeln!(out, "{:widest$}  {}", f.name, f.beside);
        if let What::Place { id, offers } = &f.what {
            for (part, name) in offers {
                let _ = writeln!(out, "  on offer: {name} (--position {id} --route convert --part {part})");
            }
        }
    }
    if found.len() > SHOWN {
        let _ =
            writeln!(out, "and {}; more words narrow it down", count(found.len() - SHOWN, "more", "more"));
    }
    out
}

/// The same for another program.
#[must_use]
pub fn json(found: &[Found]) -> Value {
    found.iter().map(one).collect()
}

fn one(found: &Found) -> Value {
    let (kind, id) = match &found.what {
        What::Place { id, .. } => ("place", id.clone()),
        What::Companion(key) => ("companion", key.to_string()),
        What::Clash(key) => ("clash", key.to_string()),
        What::ToMeasure(key) => ("to-measure", key.to_string()),
        What::Note(position) => ("note", position.clone()),
        What::Plan(id) => ("plan", id.clone()),
        What::Figure(id) => ("figure", (*id).to_owned()),
        What::List(list) => ("list", list.word().to_owned()),
    };
    let offers: Vec<Value> = match &found.what {
        What::Place { offers, .. } => {
            offers.iter().map(|(part, name)| json!({"part": part, "name": name})).collect()
        }
        _ => Vec::new(),
    };
    json!({
        "kind": kind, "id": id, "name": found.name, "beside": found.beside,
        "positions": found.positions, "offers": offers, "score": found.score,
    })
}
