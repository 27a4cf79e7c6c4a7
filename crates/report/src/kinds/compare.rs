//! Two plans side by side on paper: what the second costs more than the first, cause by cause, to the cent.

use knockon_core::compare::{Cause, compare as difference};

use crate::compare::what;
use crate::document::{Block, Cell, Column, Document, Of, Row, Table, hours_text};
use crate::kinds::{Subject, plan_name};

const LIST: &str = "Causes";

/// The comparison.
pub fn compare(s: &Subject<'_>) -> Document {
    let (to, after) = s.other.map_or((s.plan, s.assessment), |other| (other.plan, other.assessment));
    let found = difference(s.sheet, s.catalogue, s.assessment, after);
    let currency = &after.totals.currency;
    let (first, second) = (plan_name(s, s.plan), plan_name(s, to));
    let hours =
        if found.hours < 0.0 { hours_text(found.hours) } else { format!("+{}", hours_text(found.hours)) };
    let mut blocks = vec![Block::Text(format!(
        "From \"{first}\" to \"{second}\": {} and {hours}.",
        found.money.signed(currency)
    ))];
    for (name, plan) in [(&first, s.plan), (&second, to)] {
        let about = s.sheet.plans.get(plan).map_or("", |plan| plan.about.as_str());
        if !about.is_empty() {
            blocks.push(Block::Note(format!("{name}: {about}")));
        }
    }
    blocks.push(Block::Heading(1, "Where they stand".to_owned()));
    blocks.push(Block::Table(figures(s, &found, after)));
    blocks.push(Block::Heading(1, "Why they differ".to_owned()));
    if found.causes.is_empty() {
        blocks.push(Block::Text("Nothing differs in money or work.".to_owned()));
    } else {
        blocks.push(Block::Note(
            "What both have alike is in no line. Each line is a choice with all that it brings; together they are the whole \
             difference."
                .to_owned(),
        ));
        blocks.push(Block::Table(causes(&found.causes)));
    }
    if !found.even.is_empty() {
        blocks.push(Block::Heading(1, "Chosen differently, for the same money and hours".to_owned()));
        blocks.push(Block::Points(found.even.iter().map(what).collect()));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

fn figures(
    s: &Subject<'_>,
    found: &knockon_core::compare::Comparison,
    after: &knockon_core::Assessment,
) -> Table {
    let currency = &after.totals.currency;
    let money = |a: &knockon_core::Assessment| a.totals.money.all().text(currency);
    let both = |(a, b): (usize, usize)| (a.to_string(), b.to_string());
    let rows = [
        ("money in all", (money(s.assessment), money(after))),
        ("own hours", (hours_text(s.assessment.totals.hours), hours_text(after.totals.hours))),
        ("does not fit", both(found.clashes)),
        ("to measure", both(found.to_measure)),
        ("companions", both(found.companions)),
        ("no longer needed", both((s.assessment.surplus.len(), after.surplus.len()))),
        (
            "undone only with repair",
            both((found.traces.0 - found.for_good.0, found.traces.1 - found.for_good.1)),
        ),
        ("cannot be undone", both(found.for_good)),
    ];
    let columns = vec![
        Column::new("", Of::Words),
        Column::new("first plan", Of::Words),
        Column::new("second plan", Of::Words),
    ];
    let row = |(name, (a, b)): (&str, (String, String))| Row {
        cells: vec![Cell::Words(name.to_owned()), Cell::Words(a), Cell::Words(b)],
        depth: 0,
    };
    Table { list: "Figures".to_owned(), group: None, columns, rows: rows.into_iter().map(row).collect() }
}

/// The causes; one of two currencies has two rows.
fn causes(all: &[Cause]) -> Table {
    let columns = vec![
        Column::new("why", Of::Words).wide(2.4),
        Column::new("money", Of::Money).summed(),
        Column::new("hours", Of::Hours).summed(),
        Column::new("brings", Of::Words).wide(2.0),
        Column::new("spares", Of::Words).wide(2.0),
        Column::new("place", Of::Words).data(),
        Column::new("first plan", Of::Words).data(),
        Column::new("second plan", Of::Words).data(),
    ];
    let mut rows = Vec::new();
    for cause in all {
        let mut money: Vec<Cell> = cause.money.each().map(Cell::Money).collect();
        if money.is_empty() {
            money.push(Cell::Empty);
        }
        for (n, money) in money.into_iter().enumerate() {
            let once = |cell: Cell| if n == 0 { cell } else { Cell::Empty };
            let side = |side: &Option<String>| Cell::words(side.clone().unwrap_or_default());
            rows.push(Row {
                cells: vec![
                    Cell::Words(what(cause)),
                    money,
                    once(Cell::Hours(cause.hours)),
                    once(Cell::words(cause.added.join("; "))),
                    once(Cell::words(cause.saved.join("; "))),
                    once(Cell::words(&cause.place)),
                    once(side(&cause.from)),
                    once(side(&cause.to)),
                ],
                depth: 0,
            });
        }
    }
    Table { list: LIST.to_owned(), group: None, columns, rows }
}
