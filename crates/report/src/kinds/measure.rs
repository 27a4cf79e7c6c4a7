//! The measuring list: what is to be measured on the vehicle, how, how well, and room to write it down.

use std::collections::BTreeSet;

use knockon_core::explain::measure_line;
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
    let mut seen = BTreeSet::new();
    let mut rows = Vec::new();
    for open in &a.to_measure {
        let at = open.positions.first().map_or("", String::as_str);
        let of = position(a, at).map_or("", |p| system(a, &p.system));
        let decides = sentence(&measure_line(a, open, s.measure));
        for wanted in open.wanted.iter().filter(|w| seen.insert(w.key.to_string())) {
            let key = wanted.key.to_string();
            let how = sentence(&wanted.how.say(s.measure));
            let words = if wanted.words.is_empty() {
                String::new()
            } else {
                format!("One of: {}.", wanted.words.join(", "))
            };
            let lines =
                [(Tone::Plain, sentence(&wanted.name)), (Tone::Note, how.clone()), (Tone::Note, words)];
            let lines =
                lines.into_iter().chain([(Tone::Note, decides.clone())]).filter(|(_, text)| !text.is_empty());
            let mut lines: Vec<(Tone, String)> = lines.collect();
            lines[0].1 = wanted.name.clone();
            let now = wanted
                .now
                .as_ref()
                .map_or_else(String::new, |v| knockon_core::showing::reading(&v.text(), s.measure));
            let on = if wanted.part.is_empty() { "the vehicle".to_owned() } else { wanted.part.clone() };
            rows.push(Row {
                cells: vec![
                    Cell::Tick(Tick {
                        key: format!("measure:{key}"),
                        text: wanted.name.clone(),
                        done: false,
                    }),
                    Cell::Lines(lines),
                    Cell::Words(on),
                    Cell::words(now),
                    Cell::Empty,
                    Cell::words(of),
                    Cell::words(place(a, at)),
                    Cell::words(how),
                    Cell::words(&decides),
                    Cell::Words(key),
                ],
                depth: 0,
            });
        }
        if open.wanted.is_empty() {
            let what = open.what.say(s.measure);
            let key = open.key.to_string();
            let mut cells = vec![Cell::Empty; 10];
            cells[0] = Cell::Tick(Tick { key: format!("measure:{key}"), text: what.clone(), done: false });
            cells[1] = Cell::Lines(vec![(Tone::Plain, what), (Tone::Note, decides.clone())]);
            cells[2] = Cell::words(place(a, at));
            cells[5] = Cell::words(of);
            cells[6] = Cell::words(place(a, at));
            cells[8] = Cell::words(decides);
            rows.push(Row { cells, depth: 0 });
        }
    }
    Table { list: LIST.to_owned(), group: None, columns, rows }
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
