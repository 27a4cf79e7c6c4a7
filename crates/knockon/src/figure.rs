//! `knockon figure`: lists figures, finds them by words, says what one takes, works one out.

use std::collections::BTreeMap;

use knockon_core::figure::{self, Figure};
use knockon_core::quantity::echo;
use knockon_report::figures;

use crate::terminal::{say, say_json};

/// Lists the figures, finds some by words, says what one takes, or works it out. A word with an equals sign is an input.
pub fn figure(words: &[String], as_json: bool) -> Result<(), String> {
    let (inputs, asked): (Vec<&String>, Vec<&String>) = words.iter().partition(|word| word.contains('='));
    let asked =
        asked.iter().map(|word| word.trim()).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    let inputs = taken_apart(&inputs)?;
    if asked.is_empty() {
        if let Some(name) = inputs.keys().next() {
            return Err(format!(
                "{name} is given, but not to which figure; for example knockon figure tyre code=31x10.50R15LT"
            ));
        }
        return if as_json { say_json(&figures::list_json()) } else { say(&figures::list()) };
    }
    match (figure::find(&asked), inputs.is_empty()) {
        (Some(figure), true) if as_json => say_json(&figures::described(figure)),
        (Some(figure), true) => say(&figures::inputs(figure)),
        (Some(figure), false) => worked(figure, &inputs, as_json),
        (None, true) => found(&asked, as_json),
        // what is meant stands in no doubt where the words are its name
        (None, false) => match figure::search::search(&asked)[..] {
            [first, ..] if first.is_called(&asked) => worked(first, &inputs, as_json),
            _ => Err(figure::named(&asked).err().map_or_else(String::new, |e| e.to_string())),
        },
    }
}

/// Inputs by name, each given once.
fn taken_apart(inputs: &[&String]) -> Result<BTreeMap<String, String>, String> {
    let mut given = BTreeMap::new();
    for (name, text) in inputs.iter().filter_map(|input| input.split_once('=')) {
        let (name, text) = (name.trim(), text.trim());
        if name.is_empty() {
            return Err(
                "expected NAME=VALUE without blanks round the equals sign, such as \"bore=4 in\"".to_owned()
            );
        }
        if let Some(first) = given.insert(name.to_owned(), text.to_owned()) {
            return Err(format!(
                "{} is given twice, as \"{}\" and as \"{}\"; give it once",
                echo(name),
                echo(&first),
                echo(text)
            ));
        }
    }
    Ok(given)
}

fn worked(figure: &Figure, inputs: &BTreeMap<String, String>, as_json: bool) -> Result<(), String> {
    let given = figure.taken(inputs).map_err(|e| e.to_string())?;
    let outputs = figure.run(&given).map_err(|e| e.to_string())?;
    if as_json {
        say_json(&figures::results_json(figure, &given, &outputs))
    } else {
        say(&figures::results(figure, &given, &outputs))
    }
}

/// Says what a single hit takes, and lists several.
fn found(asked: &str, as_json: bool) -> Result<(), String> {
    let hits = figure::search::search(asked);
    match hits[..] {
        [] => Err(format!(
            "no figure answers \"{}\"; other words may, and \"knockon figure\" lists them all",
            echo(asked)
        )),
        _ if as_json => say_json(&hits.into_iter().map(figures::described).collect()),
        [one] => say(&figures::inputs(one)),
        _ => say(&figures::found(&hits)),
    }
}
