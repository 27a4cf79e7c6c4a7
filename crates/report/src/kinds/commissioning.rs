//! Commissioning sheets: the checks of what was opened, phase by phase, with what passes, and room for readings and initials.

use knockon_core::jobs::{Commission, missing};
use knockon_core::library::Phase;
use knockon_core::showing::count;

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tick, Tone};
use crate::kinds::{LIMITS, Subject, sentence};

/// The list, as worksheets are named.
pub const LIST: &str = "Checks";

/// The sheets.
pub fn commissioning(s: &Subject<'_>) -> Document {
    let open = missing(s.jobs, s.assessment, s.measure);
    let mut blocks = vec![Block::Text(if open.is_empty() {
        "Nothing is open: ready to be driven by this plan.".to_owned()
    } else {
        format!(
            "Not ready to be driven: {} before the first yard of road.",
            count(open.len(), "thing is open", "things are open")
        )
    })];
    blocks.push(Block::Note(format!("This replaces no inspection that the law asks for. {LIMITS}")));
    blocks.extend(tables(s, 1));
    if s.jobs.checks.is_empty() {
        blocks.push(Block::Text("Nothing of this plan opens what would have to be checked.".to_owned()));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

/// The checks by phase, each phase under its heading of a level.
pub fn tables(s: &Subject<'_>, level: u8) -> Vec<Block> {
    let mut out = Vec::new();
    for phase in Phase::ALL {
        let of: Vec<&Commission> = s.jobs.checks.iter().filter(|check| check.phase == phase).collect();
        if !of.is_empty() {
            out.push(Block::Heading(level, phase.heading().to_owned()));
            out.push(Block::Table(table(s, phase.heading(), &of)));
        }
    }
    out
}

fn table(s: &Subject<'_>, phase: &str, checks: &[&Commission]) -> Table {
    let columns = vec![
        Column::new("passed", Of::Tick),
        Column::new("check", Of::Words).wide(3.0),
        Column::new("passes where", Of::Words).wide(1.8),
        Column::new("reading", Of::Blank),
        Column::new("by and day", Of::Blank),
        Column::new("how", Of::Words).data(),
        Column::new("where it fails", Of::Words).data(),
        Column::new("failed", Of::Words).data(),
        Column::new("cautions", Of::Words).data(),
        Column::new("check id", Of::Words).data(),
    ];
    let row = |check: &&Commission| {
        let cautions: Vec<&str> = s.jobs.cautions_of(&check.cautions).collect();
        let failed = check.failed();
        let mut lines = vec![(Tone::Plain, check.name.clone())];
        lines.extend(failed.iter().map(|how| (Tone::Failed, sentence(how))));
        lines.push((Tone::Note, sentence(&check.method)));
        if !check.fail.is_empty() {
            lines.push((Tone::Note, format!("Where it fails: {}", sentence(&check.fail))));
        }
        lines.extend(cautions.iter().map(|caution| (Tone::Caution, sentence(caution))));
        // what was read stands there whether it passes or not
        let signed = check.signed.as_ref().or(check.outside.as_ref());
        let by = signed.map_or_else(String::new, |signed| {
            let both = [signed.by.clone(), signed.on.clone().unwrap_or_default()];
            both.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", ")
        });
        let tick = Tick {
            key: format!("check:{}", check.id),
            text: check.name.clone(),
            done: check.signed.is_some(),
        };
        Row {
            cells: vec![
                Cell::Tick(tick),
                Cell::Lines(lines),
                Cell::words(sentence(&check.pass)),
                Cell::words(signed.map_or("", |signed| signed.reading.as_str())),
                Cell::words(by),
                Cell::words(&check.method),
                Cell::words(&check.fail),
                Cell::words(failed.unwrap_or_default()),
                Cell::words(cautions.join(" ")),
                Cell::words(&check.id),
            ],
            depth: 0,
        }
    };
    let rows = checks.iter().map(row).collect();
    Table { list: LIST.to_owned(), group: Some(("phase", phase.to_owned())), columns, rows }
}
