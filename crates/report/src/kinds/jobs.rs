//! The job list: the work in its order, to tick at the bench.

use std::collections::BTreeMap;

use knockon_core::Assessment;
use knockon_core::jobs::{Job, Jobs};

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tick, Tone};
use crate::kinds::{Subject, sentence};

/// The list, as worksheets are named.
pub const LIST: &str = "Jobs";

/// The list.
pub fn jobs(s: &Subject<'_>) -> Document {
    let mut blocks = Vec::new();
    if s.jobs.jobs.is_empty() {
        blocks.push(Block::Text("The plan makes no work: every place is kept as it is.".to_owned()));
    } else {
        blocks.push(Block::Text(hours_line(s.jobs)));
        blocks.push(Block::Note(
            "Nothing is taken apart twice where it is done in this order. Hours are those of one person who does it for the \
             first time."
                .to_owned(),
        ));
        blocks.push(Block::Table(table(s)));
    }
    for circle in &s.jobs.circles {
        blocks.push(Block::Note(format!(
            "Each of these wants another of them first: {}. Left out, so that the work can begin: {}.",
            circle.jobs.join(", "),
            circle.left_out
        )));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

/// How many are to be done, and how long that takes.
pub fn hours_line(jobs: &Jobs) -> String {
    let open = jobs.jobs.iter().filter(|job| job.done.is_none()).count();
    let done = jobs.jobs.len() - open;
    if open == 0 {
        return format!("All {done} jobs are done.");
    }
    let to_go = jobs.to_go();
    let (half, most) = (to_go.within(0.5), to_go.within(0.8));
    let done = if done > 0 { format!(", {done} are done") } else { String::new() };
    format!(
        "{open} jobs to do{done}: within {half:.0} h as often as not, within {most:.0} h four times of five."
    )
}

/// Part ids as they are shown.
pub fn names(a: &Assessment) -> BTreeMap<&str, &str> {
    let fitted = a.positions.iter().filter_map(|p| p.fitted.as_ref());
    let fitted = fitted.map(|(id, name)| (id.as_str(), name.as_str()));
    let companions = a.companions.iter().map(|c| (c.part.as_str(), c.name.as_str()));
    let bought = a.buy.iter().map(|line| (line.part.as_str(), line.name.as_str()));
    fitted.chain(companions).chain(bought).collect()
}

/// The jobs as a table.
pub fn table(s: &Subject<'_>) -> Table {
    let names = names(s.assessment);
    let columns = vec![
        Column::new("done", Of::Tick),
        Column::new("no.", Of::Count),
        Column::new("job", Of::Words).wide(4.0),
        Column::new("where", Of::Words).wide(1.2),
        Column::new("people", Of::Count).data(),
        Column::new("hours", Of::Hours).summed(),
        Column::new("least", Of::Hours).data(),
        Column::new("most", Of::Hours).data(),
        Column::new("tools", Of::Words).data(),
        Column::new("with", Of::Words).data(),
        Column::new("waits for", Of::Words).data(),
        Column::new("before", Of::Words).data(),
        Column::new("note", Of::Words).data(),
        Column::new("cautions", Of::Words).data(),
        Column::new("done on", Of::Words).data(),
        Column::new("job id", Of::Words).data(),
    ];
    let row = |(n, job): (u32, &Job)| Row { cells: row(n, job, s.jobs, &names), depth: 0 };
    let rows = (1u32..).zip(&s.jobs.jobs).map(row).collect();
    Table { list: LIST.to_owned(), group: None, columns, rows }
}

fn row(n: u32, job: &Job, jobs: &Jobs, names: &BTreeMap<&str, &str>) -> Vec<Cell> {
    let named = |parts: &[String]| {
        let name =
            |part: &String| names.get(part.as_str()).map_or_else(|| part.clone(), |name| (*name).to_owned());
        parts.iter().map(name).collect::<Vec<_>>().join("; ")
    };
    let cautions: Vec<&str> = jobs.cautions_of(&job.cautions).collect();
    let (with, waits) = (named(&job.lines), named(&job.waits_for));
    let done_on = job.done.as_ref().and_then(|done| done.on.clone()).unwrap_or_default();
    let mut lines = vec![(Tone::Plain, job.name.clone())];
    lines.extend(cautions.iter().map(|caution| (Tone::Caution, sentence(caution))));
    let more = [
        ("First", job.ticks.join("; ")),
        ("With", with.clone()),
        ("Waits for", waits.clone()),
        ("Tools", job.tools.join("; ")),
        ("People", if job.people > 1 { job.people.to_string() } else { String::new() }),
        ("Done on", done_on.clone()),
    ];
    let told = more.into_iter().filter(|(_, text)| !text.is_empty());
    lines.extend(told.map(|(lead, text)| (Tone::Note, format!("{lead}: {text}"))));
    if !job.note.is_empty() {
        lines.push((Tone::Note, sentence(&job.note)));
    }
    let tick = Tick { key: format!("job:{}", job.id), text: job.name.clone(), done: job.done.is_some() };
    let hours = jobs.hours_of(job);
    vec![
        Cell::Tick(tick),
        Cell::Count(n),
        Cell::Lines(lines),
        Cell::words(&job.area),
        Cell::Count(job.people),
        Cell::Hours(hours.likely),
        Cell::Hours(hours.least),
        Cell::Hours(hours.most),
        Cell::words(job.tools.join("; ")),
        Cell::words(with),
        Cell::words(waits),
        Cell::words(job.ticks.join("; ")),
        Cell::words(&job.note),
        Cell::words(cautions.join(" ")),
        Cell::words(done_on),
        Cell::words(&job.id),
    ]
}
