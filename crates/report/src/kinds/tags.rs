//! Tags for what comes off: one for each original, to cut out and tie to its bag, and the list of them.

use knockon_core::assessment::Surplus;
use knockon_core::explain::half_line;
use knockon_core::showing::count;

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tag};
use crate::kinds::{Subject, because, place, position, sentence, system};

/// The list, as worksheets are named.
pub const LIST: &str = "Kept originals";
/// Letters that a square still holds at a size a telephone reads: see the sizes of ISO/IEC 18004.
const CODE: usize = 120;

/// The tags.
pub fn tags(s: &Subject<'_>) -> Document {
    let mut blocks = Vec::new();
    let all = &s.assessment.surplus;
    if all.is_empty() {
        blocks.push(Block::Text("Nothing that was found comes off in this plan.".to_owned()));
    } else {
        blocks.push(Block::Text(format!(
            "{} off. Keep the originals: bag each with its fasteners, tie its tag to the bag, and write down where it lies.",
            count(all.len(), "part comes", "parts come")
        )));
        blocks.push(Block::Tags(all.iter().enumerate().map(|(n, one)| tag(s, n, one)).collect()));
        blocks.push(Block::Heading(1, "Where they lie".to_owned()));
        blocks.push(Block::Table(table(s)));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

fn tag(s: &Subject<'_>, n: usize, one: &Surplus) -> Tag {
    let a = s.assessment;
    let at = position(a, &one.position);
    let qty = at.map_or(1, |p| p.qty);
    let pieces = if qty > 1 { format!(", {qty} pieces") } else { String::new() };
    let of = at.map_or("", |p| system(a, &p.system));
    let beside: Vec<String> = a
        .surplus
        .iter()
        .enumerate()
        .filter(|(m, other)| {
            *m != n && at.is_some_and(|p| position(a, &other.position).is_some_and(|o| o.system == p.system))
        })
        .map(|(m, _)| (m + 1).to_string())
        .collect();
    let mut lines = vec![because(&half_line(a, one.reason, s.measure))];
    if !one.leaves.is_empty() {
        lines.push(sentence(&one.leaves));
    }
    if !beside.is_empty() {
        lines.push(format!(
            "Of the same system: {} {}",
            if beside.len() > 1 { "bags" } else { "bag" },
            beside.join(", ")
        ));
    }
    lines.push("Lies at: ..............................".to_owned());
    let name = place(a, &one.position);
    let code: String =
        format!("{}; bag {}; {}; {name}", s.sheet.name, n + 1, one.name).chars().take(CODE).collect();
    Tag { number: n + 1, name: format!("{}{pieces}", one.name), place: format!("{name} ({of})"), lines, code }
}

/// The list of them, with room for where each lies and what becomes of it.
pub fn table(s: &Subject<'_>) -> Table {
    let a = s.assessment;
    let columns = vec![
        Column::new("bag", Of::Count),
        Column::new("part", Of::Words).wide(2.0),
        Column::new("place", Of::Words).wide(1.4),
        Column::new("pieces", Of::Count),
        Column::new("why it is off", Of::Words).wide(2.4),
        Column::new("lies at", Of::Blank),
        Column::new("part id", Of::Words).data(),
        Column::new("system", Of::Words).data(),
        Column::new("found to be", Of::Words).data(),
    ];
    let row = |(n, one): (u32, &Surplus)| {
        let at = position(a, &one.position);
        Row {
            cells: vec![
                Cell::Count(n),
                Cell::words(&one.name),
                Cell::words(place(a, &one.position)),
                Cell::Count(at.map_or(1, |p| p.qty)),
                Cell::words(because(&half_line(a, one.reason, s.measure))),
                Cell::Empty,
                Cell::words(&one.part),
                Cell::words(at.map_or("", |p| system(a, &p.system))),
                Cell::words(at.and_then(|p| p.verdict).map_or("", super::book::verdict)),
            ],
            depth: 0,
        }
    };
    let rows = (1u32..).zip(&a.surplus).map(row).collect();
    Table { list: LIST.to_owned(), group: None, columns, rows }
}
