//! Figures as text for the terminal and as JSON for other programs.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use knockon_core::figure::{self, Amount, Figure, Group, Input, Output};
use serde_json::{Value, json};

/// Every figure, by group.
#[must_use]
pub fn list() -> String {
    let widest = figure::all().iter().map(|f| f.id.len()).max().unwrap_or(0);
    let mut out = String::new();
    for group in Group::ALL {
        let _ = writeln!(out, "{}", group.name());
        for figure in figure::all().iter().filter(|f| f.group == group) {
            let _ = writeln!(out, "  {:widest$}  {}", figure.id, figure.meaning);
        }
        out.push('\n');
    }
    out.push_str("\"knockon figure ID\" says what a figure takes, \"knockon figure WORDS\" finds one\n");
    out
}

/// Figures that were found, the best first, each with what it takes: at most eight.
#[must_use]
pub fn found(hits: &[&Figure]) -> String {
    const SHOWN: usize = 8;
    let mut out = String::new();
    for figure in hits.iter().take(SHOWN) {
        let optional: Vec<String> =
            figure.inputs.iter().filter(|i| i.default.is_some()).map(|i| format!("[{}]", i.name)).collect();
        let takes = format!("{} {}", figure.example(), optional.join(" "));
        let _ = writeln!(out, "{}: {}", figure.name, figure.meaning);
        let _ = writeln!(out, "  knockon figure {} {}\n", figure.id, takes.trim());
    }
    if hits.len() > SHOWN {
        let _ = writeln!(out, "and {} more; more words narrow it down", hits.len() - SHOWN);
    }
    out
}

/// Every figure with its inputs, formula and source.
#[must_use]
pub fn list_json() -> Value {
    figure::all().iter().map(described).collect()
}

/// What a figure takes, and an example of it.
#[must_use]
pub fn inputs(figure: &Figure) -> String {
    let widest = figure.inputs.iter().map(|i| i.name.len()).max().unwrap_or(0);
    let mut out = format!("{}: {}\n\n", figure.name, figure.meaning);
    for input in figure.inputs {
        let absent = match input.default {
            None => "must be given".to_owned(),
            Some(default) => format!("{default} if left out"),
        };
        let _ =
            writeln!(out, "  {:widest$}  {} ({}; {absent})", input.name, input.meaning, input.takes.words());
    }
    let _ = writeln!(out, "\nFor example: knockon figure {} {}", figure.id, figure.example());
    out
}

/// The results of a figure with what they were worked out from, formula and source.
#[must_use]
pub fn results(figure: &Figure, given: &BTreeMap<String, String>, outputs: &[Output]) -> String {
    let mut out = format!("{}: {}\n\n", figure.name, figure.meaning);
    let used: Vec<(&str, String)> = figure
        .inputs
        .iter()
        .map(|input| {
            let note = if given.contains_key(input.name) { "" } else { "  (not given)" };
            (input.name, format!("{}{note}", taken(input, given)))
        })
        .collect();
    rows(&mut out, &used);
    out.push('\n');
    let found: Vec<(&str, String)> = outputs
        .iter()
        .map(|output| {
            let there = output.second().map_or_else(String::new, |there| format!("  ({there})"));
            (output.name, format!("{}{there}", output.shown()))
        })
        .collect();
    rows(&mut out, &found);
    let _ = writeln!(out, "\nFormula: {}\nSource: {}", figure.formula, figure.source);
    for caution in figure.cautions {
        let _ = writeln!(out, "Caution: {caution}");
    }
    out
}

/// The results of a figure: numbers in SI beside the text for people.
#[must_use]
pub fn results_json(figure: &Figure, given: &BTreeMap<String, String>, outputs: &[Output]) -> Value {
    let used: serde_json::Map<String, Value> = figure
        .inputs
        .iter()
        .map(|input| (input.name.to_owned(), Value::String(taken(input, given).to_owned())))
        .collect();
    let results: Vec<Value> = outputs
        .iter()
        .map(|output| {
            let value = match &output.value {
                Amount::Number(x) => json!(x),
                Amount::Text(text) => json!(text),
            };
            json!({"name": output.name, "value": value, "unit": output.unit(), "shown": output.shown(), "second": output.second()})
        })
        .collect();
    json!({
        "figure": figure.id,
        "inputs": used,
        "results": results,
        "formula": figure.formula,
        "source": figure.source,
        "cautions": figure.cautions,
    })
}

fn taken<'a>(input: &Input, given: &'a BTreeMap<String, String>) -> &'a str {
    given.get(input.name).map(String::as_str).or(input.default).unwrap_or("")
}

/// What a figure takes, its formula and source.
#[must_use]
pub fn described(figure: &Figure) -> Value {
    let inputs: Vec<Value> = figure
        .inputs
        .iter()
        .map(|input| {
            json!({
                "name": input.name,
                "meaning": input.meaning,
                "takes": input.takes.words(),
                "example": input.example,
                "default": input.default,
            })
        })
        .collect();
    json!({
        "figure": figure.id,
        "group": figure.group.name(),
        "name": figure.name,
        "meaning": figure.meaning,
        "inputs": inputs,
        "formula": figure.formula,
        "source": figure.source,
        "cautions": figure.cautions,
    })
}

fn rows(out: &mut String, rows: &[(&str, String)]) {
    let widest = rows.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
    for (name, text) in rows {
        let _ = writeln!(out, "  {name:widest$}  {text}");
    }
}
