//! What the library says of time: how long the parts of a class last, what is done again later, how old prices are.

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests;

use std::sync::Arc;

use super::build::Ctx;
use crate::date::{Dated, Period};
use crate::library::{Again, Class, Lasts, LibraryFile};
use crate::quantity::Quantity;
use crate::units::Dimension;

/// Less than this nobody drives before he looks again; "50 mm" is a slip of the keyboard. Metres.
const LEAST_DRIVE: f64 = 100.0;

/// How long the parts of a class last.
#[derive(Clone, Debug)]
pub struct LastsEntry {
    /// As written.
    pub def: Lasts,
    /// How long, by the calendar.
    pub time: Period,
}

/// What is to be done again.
#[derive(Clone, Debug)]
pub struct AgainEntry {
    /// As written.
    pub def: Again,
    /// Distances and times after which; at least one.
    pub after: Vec<Quantity>,
}

/// When each file's prices were looked up, by the place of the file; and how long they hold.
pub(super) fn prices(files: &[(String, LibraryFile)], ctx: &mut Ctx) -> Vec<Option<Arc<Dated>>> {
    let mut first: Option<&str> = None;
    for (file, content) in files {
        let Some(text) = &content.prices_hold else { continue };
        if let Some(first) = first {
            let message =
                format!("how long prices hold stands in {first} already; say it once for all files");
            ctx.faults.error(file, "prices_hold".to_owned(), message);
            continue;
        }
        first = Some(file);
        match Period::parse(text) {
            Ok(time) => ctx.cat.prices_hold = Some(time),
            Err(e) => ctx.faults.error(file, "prices_hold".to_owned(), e.to_string()),
        }
    }
    let mut priced = |(file, content): &(String, LibraryFile)| {
        let read = Dated::parse(content.priced.as_deref()?);
        match read {
            Ok(dated) => Some(Arc::new(dated)),
            Err(e) => {
                ctx.faults.error(file, "priced".to_owned(), e.to_string());
                None
            }
        }
    };
    files.iter().map(&mut priced).collect()
}

impl Ctx {
    /// How long the parts of a class last.
    pub(super) fn lasts(&mut self, id: &str, class: &Class, file: &str) -> Option<LastsEntry> {
        let def = class.lasts.as_ref()?;
        match Period::parse(&def.time) {
            Ok(time) => Some(LastsEntry { def: def.clone(), time }),
            Err(e) => {
                self.faults.error(file, format!("classes.{id}.lasts.time"), e.to_string());
                None
            }
        }
    }

    /// What is to be done again.
    pub(super) fn again(&mut self, list: &[Again], file: &str, path: &str) -> Vec<AgainEntry> {
        let mut out = Vec::new();
        for (i, def) in list.iter().enumerate() {
            let here = format!("{path}[{i}]");
            if def.what.trim().is_empty() {
                let message = "expected what is to be done again, such as \"tighten the wheel nuts again\", found nothing";
                self.faults.error(file, format!("{here}.what"), message.to_owned());
            }
            if def.after.is_empty() {
                let message =
                    "expected a distance or a time, such as \"50 miles\" or \"2 weeks\", found none";
                self.faults.error(file, format!("{here}.after"), message.to_owned());
                continue;
            }
            let mut after = Vec::new();
            for (n, text) in def.after.iter().enumerate() {
                match drive_or_time(text) {
                    Ok(quantity) => after.push(quantity),
                    Err(message) => self.faults.error(file, format!("{here}.after[{n}]"), message),
                }
            }
            if after.len() == def.after.len() {
                out.push(AgainEntry { def: def.clone(), after });
            }
        }
        out
    }
}

/// # Errors
/// What was expected.
fn drive_or_time(text: &str) -> Result<Quantity, String> {
    let quantity = Quantity::parse(text).map_err(|e| e.to_string())?;
    let fits = match quantity.dimension {
        Dimension::Length => quantity.si >= LEAST_DRIVE,
        Dimension::Time => quantity.si > 0.0,
        _ => false,
    };
    if fits {
        Ok(quantity)
    } else {
        Err(format!(
            "expected a distance driven or a time, such as \"50 miles\" or \"2 weeks\", found \"{text}\""
        ))
    }
}
