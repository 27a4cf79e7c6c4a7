//! What is written out, whatever the format: headings, paragraphs, tables with typed cells, cautions, boxes to tick, tags and
//! pictures. A report makes a [`Document`]; a writer of each format reads it, and no report knows of a format.

use std::collections::{BTreeMap, BTreeSet};

use knockon_core::date::Date;
use knockon_core::{Amounts, Money};

/// A report, ready to be written in any format.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Document {
    /// Which report it is: one word of [`crate::kinds::KINDS`].
    pub kind: &'static str,
    /// As shown at its head.
    pub title: String,
    /// Lines below it: the vehicle, the plan, the day.
    pub about: Vec<String>,
    /// The day it is as of; a file says it as its date. `None`: nobody says.
    pub day: Option<Date>,
    /// What ticks are kept under where a reader ticks on a screen: the same for the same list of the same sheet.
    pub key: String,
    /// Where it is one list in the first place, the name of that: what a format of lists alone writes. `None`: all of them.
    pub main: Option<String>,
    /// What it says, in order.
    pub blocks: Vec<Block>,
}

/// A piece of a document.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading of the first level, or of one below; 1 to 3.
    Heading(u8, String),
    /// A paragraph.
    Text(String),
    /// A paragraph that stands back.
    Note(String),
    /// What can hurt somebody, and what guards against it; the guard may be empty.
    Caution(String, String),
    /// Points, one below the other.
    Points(Vec<String>),
    /// Boxes to tick.
    Ticks(Vec<Tick>),
    /// A table.
    Table(Table),
    /// Tags to cut out and tie to what comes off.
    Tags(Vec<Tag>),
    /// A picture.
    Picture(Picture),
}

/// A box to tick.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tick {
    /// Its name among the boxes of the document.
    pub key: String,
    /// What is ticked.
    pub text: String,
    /// Ticked in the sheet already.
    pub done: bool,
}

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// Words.
    Words,
    /// Whole numbers.
    Count,
    /// Hours.
    Hours,
    /// Money.
    Money,
    /// Boxes to tick.
    Tick,
    /// What is written in by hand: room for it on paper.
    Blank,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// As shown at its head.
    pub name: &'static str,
    /// What it holds.
    pub of: Of,
    /// It is added up.
    pub summed: bool,
    /// It stands on paper too; else only in a spreadsheet.
    pub on_paper: bool,
    /// Share of the width that words leave, beside others.
    pub share: f32,
}

impl Column {
    /// A column on paper and in spreadsheets.
    #[must_use]
    pub fn new(name: &'static str, of: Of) -> Self {
        Self { name, of, summed: false, on_paper: true, share: 1.0 }
    }

    /// With so many shares of the width.
    #[must_use]
    pub fn wide(self, share: f32) -> Self {
        Self { share, ..self }
    }

    /// Added up.
    #[must_use]
    pub fn summed(self) -> Self {
        Self { summed: true, ..self }
    }

    /// In spreadsheets alone.
    #[must_use]
    pub fn data(self) -> Self {
        Self { on_paper: false, ..self }
    }
}

/// How a line of a cell reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// As it is.
    Plain,
    /// Stands back.
    Note,
    /// Was looked at and does not pass.
    Failed,
    /// Can hurt somebody.
    Caution,
}

/// What stands in a cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing.
    Empty,
    /// Words.
    Words(String),
    /// Words in lines; the first is the cell, the others tell more of it on paper alone.
    Lines(Vec<(Tone, String)>),
    /// A whole number.
    Count(u32),
    /// Hours.
    Hours(f64),
    /// An amount of money.
    Money(Money),
    /// A box to tick.
    Tick(Tick),
}

impl Cell {
    /// Words, or nothing where there are none.
    #[must_use]
    pub fn words(text: impl Into<String>) -> Self {
        let text = text.into();
        if text.is_empty() { Self::Empty } else { Self::Words(text) }
    }

    /// An amount, or nothing.
    #[must_use]
    pub fn money(money: Option<Money>) -> Self {
        money.map_or(Self::Empty, Self::Money)
    }

    /// As it reads on paper in one line; the lines below the first are left out.
    #[must_use]
    pub fn text(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Words(text) => text.clone(),
            Self::Lines(lines) => lines.first().map(|(_, text)| text.clone()).unwrap_or_default(),
            Self::Count(n) => n.to_string(),
            Self::Hours(hours) => hours_text(*hours),
            Self::Money(money) => money.to_string(),
            Self::Tick(tick) => if tick.done { "x" } else { "" }.to_owned(),
        }
    }
}

/// Hours to the tenth: "4.5 h".
#[must_use]
pub fn hours_text(hours: f64) -> String {
    format!("{:.1} h", (hours * 10.0).round() / 10.0 + 0.0)
}

/// A row of a table.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// As many as the table has columns.
    pub cells: Vec<Cell>,
    /// How deep it stands in the row above it: what lies in the box of a kit.
    pub depth: usize,
}

/// A table. Several of one list stand apart on paper and are one list in a spreadsheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Name of the list; tables of one list have the same columns.
    pub list: String,
    /// What the tables of the list are told apart by, and which this one is; `None`: it is the whole list.
    pub group: Option<(&'static str, String)>,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// What a column comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Sum {
    /// Money, by currency.
    Money(Amounts),
    /// Hours.
    Hours(f64),
    /// A number.
    Count(u64),
}

impl Table {
    /// What a column comes to; `None` where it is not added up.
    #[must_use]
    pub fn sum(&self, at: usize) -> Option<Sum> {
        let column = self.columns.get(at).filter(|c| c.summed)?;
        let cells = || self.rows.iter().filter_map(|row| row.cells.get(at));
        match column.of {
            Of::Money => {
                let money = cells().filter_map(|c| if let Cell::Money(m) = c { Some(m) } else { None });
                Some(Sum::Money(money.collect()))
            }
            Of::Hours => {
                let hours = cells().map(|c| if let Cell::Hours(h) = c { *h } else { 0.0 });
                Some(Sum::Hours(hours.sum()))
            }
            Of::Count => {
                let counts = cells().map(|c| if let Cell::Count(n) = c { u64::from(*n) } else { 0 });
                Some(Sum::Count(counts.sum()))
            }
            Of::Words | Of::Tick | Of::Blank => None,
        }
    }

    /// The sums of all of its columns, `None` for one that is not added up; nothing where none is.
    #[must_use]
    pub fn sums(&self) -> Vec<Option<Sum>> {
        let all: Vec<Option<Sum>> = (0..self.columns.len()).map(|at| self.sum(at)).collect();
        if all.iter().all(Option::is_none) { Vec::new() } else { all }
    }

    /// The currency of every row's money, where each row has one alone: then one column says it for all of them. `None`: some
    /// row has amounts of two.
    #[must_use]
    pub fn one_currency_a_row(&self) -> bool {
        self.rows.iter().all(|row| row.currencies().len() < 2)
    }
}

impl Row {
    /// The currencies of its amounts.
    #[must_use]
    pub fn currencies(&self) -> BTreeSet<&str> {
        self.cells
            .iter()
            .filter_map(|c| if let Cell::Money(m) = c { Some(m.currency.as_str()) } else { None })
            .collect()
    }
}

/// A tag for a part that comes off and is kept.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tag {
    /// Number on the bag.
    pub number: usize,
    /// What it is.
    pub name: String,
    /// Where it sat.
    pub place: String,
    /// Lines that tell more: what belongs to it, why it came off, where it is kept.
    pub lines: Vec<String>,
    /// What a telephone reads off its square.
    pub code: String,
}

/// A picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// PNG or JPEG.
    pub bytes: Vec<u8>,
    /// What is seen, for who cannot see it.
    pub alt: String,
}

impl Document {
    /// The lists, in the order in which they come, each with its tables.
    #[must_use]
    pub fn lists(&self) -> Vec<(&str, Vec<&Table>)> {
        let mut order: Vec<&str> = Vec::new();
        let mut tables: BTreeMap<&str, Vec<&Table>> = BTreeMap::new();
        for block in &self.blocks {
            let Block::Table(table) = block else { continue };
            if !order.contains(&table.list.as_str()) {
                order.push(&table.list);
            }
            tables.entry(&table.list).or_default().push(table);
        }
        order.into_iter().map(|name| (name, tables.remove(name).unwrap_or_default())).collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    fn money(text: &str) -> Cell {
        Cell::Money(text.parse().unwrap())
    }

    #[test]
    fn each_currency_of_a_column_is_added_by_itself() {
        let table = Table {
            columns: vec![Column::new("item", Of::Words), Column::new("total", Of::Money).summed()],
            rows: [money("5.00 USD"), Cell::Empty, money("7.50 EUR"), money("1.25 USD")]
                .into_iter()
                .map(|cell| Row { cells: vec![Cell::Empty, cell], depth: 0 })
                .collect(),
            ..Table::default()
        };
        let Some(Sum::Money(sum)) = table.sum(1) else { unreachable!("a sum of money") };
        assert_eq!(sum.text("USD"), "6.25 USD and 7.50 EUR");
        assert_eq!(table.sum(0), None);
        assert!(table.one_currency_a_row());
    }
}
