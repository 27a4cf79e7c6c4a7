//! A list as a spreadsheet has it: one row of heads, a cell for each value, amounts and currencies apart.

use knockon_core::Money;
use rust_decimal::Decimal;

use crate::document::{Cell, Of, Table};

/// A cell of a spreadsheet.
#[derive(Clone, Debug, PartialEq)]
pub enum FlatCell {
    /// Nothing.
    Empty,
    /// Words.
    Words(String),
    /// A whole number.
    Count(u32),
    /// Hours.
    Hours(f64),
    /// An amount; its currency stands in another column.
    Amount(Decimal),
}

/// A column that is added up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Summed {
    /// The column.
    pub column: usize,
    /// For money: the column of its currency.
    pub currency: Option<usize>,
}

/// A list.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flat {
    /// The heads.
    pub heads: Vec<String>,
    /// The rows, each as long as the heads.
    pub rows: Vec<Vec<FlatCell>>,
    /// Columns that are added up.
    pub summed: Vec<Summed>,
    /// The column that says to which group a row belongs.
    pub group: Option<usize>,
}

/// The tables of one list as one.
#[must_use]
pub fn flat(tables: &[&Table]) -> Flat {
    let mut out = Flat::default();
    let Some(first) = tables.first() else { return out };
    // one column of currencies says it for all amounts of a row, where no row has two
    let one = tables.iter().all(|table| table.one_currency_a_row());
    let last_money = first.columns.iter().rposition(|c| c.of == Of::Money);
    if let Some((name, _)) = first.group {
        out.group = Some(0);
        out.heads.push(name.to_owned());
    }
    let mut waiting = Vec::new();
    for (at, column) in first.columns.iter().enumerate() {
        let here = out.heads.len();
        out.heads.push(column.name.to_owned());
        if column.summed {
            waiting.push((here, column.of == Of::Money));
        }
        let ends = column.of == Of::Money && (!one || last_money == Some(at));
        if ends {
            let name = if one { "currency".to_owned() } else { format!("{} currency", column.name) };
            for (of, money) in waiting.drain(..) {
                out.summed.push(Summed { column: of, currency: money.then_some(out.heads.len()) });
            }
            out.heads.push(name);
        }
    }
    out.summed.extend(waiting.into_iter().map(|(column, _)| Summed { column, currency: None }));
    for table in tables {
        for row in &table.rows {
            let mut cells: Vec<FlatCell> =
                table.group.iter().map(|(_, of)| FlatCell::Words(of.clone())).collect();
            let of_row = row.currencies().first().map(|c| (*c).to_owned());
            for (at, column) in table.columns.iter().enumerate() {
                let cell = row.cells.get(at).unwrap_or(&Cell::Empty);
                cells.push(value(cell));
                if column.of == Of::Money && (!one || last_money == Some(at)) {
                    let own = if let Cell::Money(Money { currency, .. }) = cell {
                        Some(currency.clone())
                    } else {
                        None
                    };
                    let currency = if one { of_row.clone() } else { own };
                    cells.push(currency.map_or(FlatCell::Empty, FlatCell::Words));
                }
            }
            out.rows.push(cells);
        }
    }
    out
}

fn value(cell: &Cell) -> FlatCell {
    match cell {
        Cell::Empty => FlatCell::Empty,
        Cell::Count(n) => FlatCell::Count(*n),
        Cell::Hours(hours) => FlatCell::Hours((hours * 100.0).round() / 100.0 + 0.0),
        Cell::Money(money) => FlatCell::Amount(money.amount),
        Cell::Words(_) | Cell::Lines(_) | Cell::Tick(_) => match cell.text() {
            text if text.is_empty() => FlatCell::Empty,
            text => FlatCell::Words(text),
        },
    }
}
