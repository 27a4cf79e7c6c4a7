//! The measuring list: what is to be measured on the vehicle, how, how well, and room to write it down.

use knockon_core::measuring::{self, Asks, Line};
use knockon_core::showing::count;

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tick, Tone};
use crate::kinds::{Subject, place, position, sentence, system};

/// The list, as worksheets are named.
pub const LIST: &str = "To measure";

/// The list.
pub fn measure(s: &Subject<'_>) -> Document {
    let table = table(s);
    let mut blocks = Vec::new();
    if table.rows.is_empty() {
        blocks.push(Block::Text("Nothing in this plan is left to be measured.".to_owned()));
    } else {
        let open =
            count(s.assessment.to_measure.len(), "check cannot be decided", "checks cannot be decided");
        let values = count(table.rows.len(), "value", "values");
        blocks.push(Block::Text(format!("{values} to measure: without them {open}.")));
        blocks.push(Block::Note(
            "Write each with its unit. What is measured goes into the sheet at its place, or under its key."
                .to_owned(),
        ));
        blocks.push(Block::Table(table));
    }
    let measured = measured(s);
    if !measured.rows.is_empty() {
        blocks.push(Block::Heading(1, "Measured already".to_owned()));
        blocks.push(Block::Table(measured));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

fn table(s: &Subject<'_>) -> Table {
    let a = s.assessment;
    let columns = vec![
        Column::new("done", Of::Tick),
        Column::new("what", Of::Words).wide(3.0),
        Column::new("on", Of::Words).wide(1.6),
        Column::new("known so far", Of::Words).wide(1.0),
        Column::new("reading", Of::Blank),
        Column::new("system", Of::Words).data(),
        Column::new("place", Of::Words).data(),
        Column::new("how", Of::Words).data(),
        Column::new("decides", Of::Words).data(),
        Column::new("key", Of::Words).data(),
    ];
    let lines = measuring::lines(a);
    let rows = lines.iter().map(|line| row(s, line)).collect();
    Table { list: LIST.to_owned(), group: None, columns, rows }
}

/// A value once, with all that it decides.
fn row(s: &Subject<'_>, line: &Line<'_>) -> Row {
    let a = s.assessment;
    let at = line.places();
    let systems = at.iter().filter_map(|at| position(a, at)).map(|p| system(a, &p.system));
    let of = each_once(systems);
    let places = each_once(at.iter().map(|at| place(a, at)));
    let decides: Vec<String> = line.decides(a, s.measure).iter().map(|one| sentence(one)).collect();
    let notes = decides.iter().map(|one| (Tone::Note, one.clone()));
    let cells = match line.asks {
        Asks::Value(wanted) => {
            let key = wanted.key.to_string();
            let how = sentence(&wanted.how.say(s.measure));
            let words = match wanted.words.as_slice() {
                [] => String::new(),
                words => format!("One of: {}.", words.join(", ")),
            };
            let or = wanted
                .instead
                .as_ref()
                .map_or_else(String::new, |other| format!("Or: {}, {}.", other.name, other.part));
            let how_to = [how.clone(), or, words].into_iter().filter(|text| !text.is_empty());
            let lines = std::iter::once((Tone::Plain, wanted.name.clone()))
                .chain(how_to.map(|text| (Tone::Note, text)))
                .chain(notes);
            let now = wanted
                .now
                .as_ref()
                .map_or_else(String::new, |v| knockon_core::showing::reading(&v.text(), s.measure));
            let on = if wanted.part.is_empty() { "the vehicle".to_owned() } else { wanted.part.clone() };
            vec![
                tick(&key, &wanted.name),
                Cell::Lines(lines.collect()),
                Cell::Words(on),
                Cell::words(now),
                Cell::Empty,
                Cell::words(of),
                Cell::words(places),
                Cell::words(how),
                Cell::words(decides.join(" ")),
                Cell::Words(key),
            ]
        }
        Asks::Words(what) => {
            let what = what.say(s.measure);
            let key = line.checks.first().map_or_else(String::new, |check| check.key.to_string());
            let lines = std::iter::once((Tone::Plain, what.clone())).chain(notes);
            vec![
                tick(&key, &what),
                Cell::Lines(lines.collect()),
                Cell::words(&places),
                Cell::Empty,
                Cell::Empty,
                Cell::words(of),
                Cell::words(places),
                Cell::Empty,
                Cell::words(decides.join(" ")),
                Cell::Empty,
            ]
        }
    };
    Row { cells, depth: 0 }
}

fn tick(key: &str, text: &str) -> Cell {
    Cell::Tick(Tick { key: format!("measure:{key}"), text: text.to_owned(), done: false })
}

fn each_once<'a>(all: impl Iterator<Item = &'a str>) -> String {
    let mut out: Vec<&str> = Vec::new();
    for one in all {
        if !out.contains(&one) {
            out.push(one);
        }
    }
    out.join(", ")
}

/// What the sheet has measured.
pub fn measured(s: &Subject<'_>) -> Table {
    let columns = vec![
        Column::new("what", Of::Words).wide(2.0),
        Column::new("on", Of::Words).wide(2.0),
        Column::new("value", Of::Words),
        Column::new("key", Of::Words).data(),
    ];
    let rows = s.assessment.measured.iter().map(|m| Row {
        cells: vec![
            Cell::words(&m.name),
            Cell::words(if m.part.is_empty() { "the vehicle" } else { &m.part }),
            Cell::words(knockon_core::showing::reading(&m.value, s.measure)),
            Cell::words(m.key.to_string()),
        ],
        depth: 0,
    });
    Table { list: "Measured".to_owned(), group: None, columns, rows: rows.collect() }
}
