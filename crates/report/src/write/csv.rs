//! The lists of a document as CSV that a spreadsheet opens unharmed.

use crate::csv_safe::safe;
use crate::document::Document;
use crate::write::flat::{FlatCell, flat};

/// Tells a spreadsheet that takes the code page of its machine that this is UTF-8: a degree sign stays one.
const MARK: char = '\u{feff}';

/// Its list; where it is no list in the first place all that it has, each under its name, a blank line between them.
#[must_use]
pub fn csv(document: &Document) -> String {
    let mut lists = document.lists();
    lists.retain(|(name, _)| document.main.as_deref().is_none_or(|main| main == *name));
    let mut out =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(Vec::new());
    for (n, (name, tables)) in lists.iter().enumerate() {
        let list = flat(tables);
        // writing into memory cannot fail
        if lists.len() > 1 {
            if n > 0 {
                let _ = out.write_record([""]);
            }
            let _ = out.write_record([*name]);
        }
        let _ = out.write_record(&list.heads);
        for row in &list.rows {
            let _ = out.write_record(row.iter().map(text));
        }
    }
    let list = out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default();
    format!("{MARK}{list}")
}

fn text(cell: &FlatCell) -> String {
    match cell {
        FlatCell::Empty => String::new(),
        FlatCell::Words(text) => safe(text),
        FlatCell::Count(n) => n.to_string(),
        FlatCell::Hours(hours) => format!("{hours:.2}"),
        FlatCell::Amount(amount) if amount.normalize().scale() > 2 => amount.normalize().to_string(),
        FlatCell::Amount(amount) => format!("{amount:.2}"),
    }
}
