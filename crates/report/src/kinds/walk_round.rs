//! The walk-round sheet: every inspection of the vehicle in the order of the walk, with how it is done, its limits and room to
//! write what was read.

use knockon_core::library::Posture;
use knockon_core::phrase::Phrase;
use knockon_core::sheet::Verdict;
use knockon_core::showing::count;
use knockon_core::survey::{Line, Survey, survey};

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tick, Tone};
use crate::kinds::{LIMITS, Subject, sentence};
use crate::survey::posture;

/// The list, as worksheets are named.
pub const LIST: &str = "Walk round";

/// The sheet.
pub fn walk_round(s: &Subject<'_>) -> Document {
    let found = survey(s.sheet, s.plan, s.catalogue);
    let mut blocks = Vec::new();
    if found.lines.is_empty() {
        let none = "Nothing of this vehicle is inspected: the library has no inspections for its places.";
        blocks.push(Block::Text(none.to_owned()));
    } else {
        let zones = count(found.zones.len(), "place to stand or lie", "places to stand or lie");
        let open = count(found.open().count(), "is to be measured", "are to be measured");
        let all = count(found.lines.len(), "inspection", "inspections");
        blocks.push(Block::Text(format!("{all} from {zones}; {open}.")));
        let room =
            "Day ........................   Counter ........................   Who ........................";
        blocks.push(Block::Text(room.to_owned()));
    }
    blocks.push(Block::Note(format!("This replaces no inspection that the law asks for. {LIMITS}")));
    for zone in &found.zones {
        let lying = match zone.posture {
            Posture::Standing => String::new(),
            other => posture(other).to_owned(),
        };
        blocks.push(Block::Heading(1, format!("{}{lying}", zone.name)));
        if !zone.before.is_empty() {
            blocks.push(Block::Text(sentence(&zone.before)));
        }
        // what the library says of pressures and sizes is told in the units of who reads
        let caution = |text: &str| {
            let told = Phrase::read(text).say(s.measure);
            Block::Caution(told.trim_end_matches('.').to_owned(), String::new())
        };
        blocks.extend(found.cautions_in(zone).map(caution));
        blocks.push(Block::Table(table(s, &found, &zone.id, &zone.name)));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

fn table(s: &Subject<'_>, found: &Survey, zone: &str, name: &str) -> Table {
    let columns = vec![
        Column::new("done", Of::Tick),
        Column::new("look at", Of::Words).wide(3.0),
        Column::new("limits", Of::Words).wide(1.8),
        Column::new("read so far", Of::Words).wide(0.9),
        Column::new("reading", Of::Blank),
        Column::new("place", Of::Words).data(),
        Column::new("unit", Of::Words).data(),
        Column::new("how", Of::Words).data(),
        Column::new("with", Of::Words).data(),
        Column::new("says", Of::Words).data(),
        Column::new("inspection id", Of::Words).data(),
        Column::new("position id", Of::Words).data(),
    ];
    let rows = found.of_zone(zone).map(|line| row(s, line)).collect();
    Table { list: LIST.to_owned(), group: Some(("zone", name.to_owned())), columns, rows }
}

fn row(s: &Subject<'_>, line: &Line) -> Row {
    let stop = if line.stop { " (can stop the vehicle)" } else { "" };
    let what = format!("{}: {}{stop}", line.place, line.name);
    let how = sentence(&line.method.say(s.measure));
    let with = if line.tool.is_empty() { String::new() } else { format!(" With: {}", sentence(&line.tool)) };
    let unit = if line.is_date { "year made" } else { line.unit.as_str() };
    let words: Vec<String> =
        line.words.iter().map(|(word, verdict)| format!("{word} ({})", verdict.word())).collect();
    let mut lines = vec![(Tone::Plain, what.clone()), (Tone::Note, format!("{how}{with}"))];
    if !words.is_empty() {
        lines.push((Tone::Note, format!("Seen, one of: {}.", words.join(", "))));
    }
    if !unit.is_empty() && (line.dimension.is_some() || line.is_date) {
        lines.push((Tone::Note, format!("Read in: {unit}.")));
    }
    if let Some(off) = &line.put_off {
        lines.push((Tone::Note, sentence(&format!("put off: {}", off.reason))));
    }
    let whose = if line.whose.is_empty() { String::new() } else { format!(" ({})", line.whose) };
    let limits = line.limits.say(s.measure);
    let limits = if limits.is_empty() { String::new() } else { sentence(&limits) + &whose };
    let key = format!("walk:{}:{}", line.position, line.inspection);
    let says = line.verdict().map_or_else(|| line.says(), |verdict| Verdict::word(verdict).to_owned());
    Row {
        cells: vec![
            Cell::Tick(Tick { key, text: what, done: !line.value.is_empty() && !line.is_open() }),
            Cell::Lines(lines.into_iter().filter(|(_, text)| !text.trim().is_empty()).collect()),
            Cell::words(limits),
            Cell::words(&line.value),
            Cell::Empty,
            Cell::words(&line.place),
            Cell::words(unit),
            Cell::words(how),
            Cell::words(&line.tool),
            Cell::words(says),
            Cell::words(&line.inspection),
            Cell::words(&line.position),
        ],
        depth: 0,
    }
}
