//! The lists of a document as a workbook: numbers are numbers, sums are formulas, heads stay in sight.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;
use rust_xlsxwriter::{
    Color, DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Formula, Workbook, Worksheet,
    XlsxError,
};
use std::collections::BTreeSet;

use crate::document::{Block, Document};
use crate::write::flat::{Flat, FlatCell, Summed, flat};
use crate::write::{WriteError, day_of};

/// Letters of the name of a worksheet at most, and what none may have: as the file format says.
const NAME_LENGTH: usize = 31;
const NOT_IN_A_NAME: [char; 7] = ['[', ']', ':', '*', '?', '/', '\\'];
/// Letters of a cell at most, as the file format says.
const CELL_LENGTH: usize = 32_767;
/// Widths of columns, in letters.
const LEAST: usize = 6;
const MOST: usize = 60;

/// The workbook. `day`: year, month and day it is made on; nothing else in it hangs on when it is made.
///
/// # Errors
/// [`WriteError`] where a list does not fit into the format.
pub fn xlsx(document: &Document) -> Result<Vec<u8>, WriteError> {
    book(document).map_err(|why| WriteError { format: "XLSX", why: why.to_string() })
}

fn book(document: &Document) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    let (year, month, day) = day_of(document);
    let day = ExcelDateTime::from_ymd(year, month, day)?;
    workbook.set_properties(&DocProperties::new().set_title(&document.title).set_creation_datetime(&day));
    let mut names = BTreeSet::new();
    about(workbook.add_worksheet(), document, &mut names)?;
    for (name, tables) in document.lists() {
        let list = flat(&tables);
        let sheet = workbook.add_worksheet();
        sheet.set_name(unused(name, &mut names))?;
        write(sheet, &list)?;
    }
    // one sees the list first
    if workbook.worksheets().len() > 1 {
        workbook.worksheet_from_index(1)?.set_active(true);
    }
    workbook.save_to_buffer()
}

/// A name a worksheet may have, and none of them has.
fn unused(name: &str, names: &mut BTreeSet<String>) -> String {
    let plain: String = name.chars().map(|c| if NOT_IN_A_NAME.contains(&c) { '-' } else { c }).collect();
    let plain = plain.trim_matches('\'');
    let short: String = plain.chars().take(NAME_LENGTH - 3).collect();
    let mut free = if short.is_empty() { "List".to_owned() } else { short.clone() };
    let mut n = 2;
    while !names.insert(free.to_lowercase()) {
        free = format!("{short} {n}");
        n += 1;
    }
    free
}

/// What stands beside the lists: title, notes, cautions.
fn about(sheet: &mut Worksheet, document: &Document, names: &mut BTreeSet<String>) -> Result<(), XlsxError> {
    sheet.set_name(unused("About", names))?;
    sheet.set_column_width(0, 110)?;
    let (title, head) = (Format::new().set_bold().set_font_size(16), Format::new().set_bold());
    let words = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    let danger = words.clone().set_font_color(Color::RGB(0x9C_2B_20));
    let mut at = 0;
    let mut put = |sheet: &mut Worksheet, text: &str, format: &Format| -> Result<(), XlsxError> {
        sheet.write_string_with_format(at, 0, cut(text), format)?;
        at += 1;
        Ok(())
    };
    put(sheet, &document.title, &title)?;
    for line in &document.about {
        put(sheet, line, &words)?;
    }
    for block in &document.blocks {
        match block {
            Block::Heading(_, text) => put(sheet, text, &head)?,
            Block::Text(text) | Block::Note(text) => put(sheet, text, &words)?,
            Block::Caution(what, guard) => put(sheet, &format!("Caution: {what}. {guard}"), &danger)?,
            Block::Points(points) => {
                for point in points {
                    put(sheet, point, &words)?;
                }
            }
            Block::Ticks(ticks) => {
                for tick in ticks {
                    put(sheet, &format!("[{}] {}", if tick.done { "x" } else { " " }, tick.text), &words)?;
                }
            }
            Block::Tags(tags) => {
                for tag in tags {
                    put(
                        sheet,
                        &format!("{}. {}, {}: {}", tag.number, tag.name, tag.place, tag.lines.join("; ")),
                        &words,
                    )?;
                }
            }
            Block::Picture(picture) => put(sheet, &picture.alt, &words)?,
            Block::Table(table) => {
                let group = table.group.as_ref().map_or_else(String::new, |(_, of)| format!(", {of}"));
                put(sheet, &format!("See the sheet {}{group}", table.list), &words)?;
            }
        }
    }
    Ok(())
}

/// A text that fits into a cell.
fn cut(text: &str) -> String {
    text.chars().take(CELL_LENGTH).collect()
}

fn write(sheet: &mut Worksheet, list: &Flat) -> Result<(), XlsxError> {
    let head = Format::new()
        .set_bold()
        .set_text_wrap()
        .set_background_color(Color::RGB(0xE9_EC_EF))
        .set_border_bottom(FormatBorder::Thin);
    let words = Format::new().set_text_wrap().set_align(FormatAlign::Top);
    let number = |of: &str| Format::new().set_num_format(of).set_align(FormatAlign::Top);
    let (amount, hours, count) = (number("#,##0.00"), number("0.00"), number("0"));
    for (at, name) in list.heads.iter().enumerate() {
        sheet.write_string_with_format(0, column(at), name, &head)?;
        sheet.set_column_width(column(at), width(list, at) as f64)?;
    }
    for (row, cells) in (1u32..).zip(&list.rows) {
        for (at, cell) in cells.iter().enumerate() {
            let at = column(at);
            match cell {
                FlatCell::Empty => {}
                // a string is never run, whatever it begins with
                FlatCell::Words(text) => drop(sheet.write_string_with_format(row, at, cut(text), &words)?),
                FlatCell::Count(n) => drop(sheet.write_number_with_format(row, at, *n, &count)?),
                FlatCell::Hours(h) => drop(sheet.write_number_with_format(row, at, *h, &hours)?),
                FlatCell::Amount(a) => {
                    let a = a.to_f64().unwrap_or_default();
                    sheet.write_number_with_format(row, at, a, &amount)?;
                }
            }
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    let last = u32::try_from(list.rows.len()).unwrap_or(u32::MAX - 2);
    if last > 0 && !list.heads.is_empty() {
        sheet.autofilter(0, 0, last, column(list.heads.len() - 1))?;
    }
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    sheet.set_repeat_rows(0, 0)?;
    sums(sheet, list, last)
}

/// Below the list, a row free: what each column comes to, for each currency by itself, as formulas.
fn sums(sheet: &mut Worksheet, list: &Flat, last: u32) -> Result<(), XlsxError> {
    if list.summed.is_empty() || last == 0 {
        return Ok(());
    }
    let bold = Format::new().set_bold().set_border_top(FormatBorder::Thin);
    let (amount, plain) = (bold.clone().set_num_format("#,##0.00"), bold.clone().set_num_format("0.##"));
    let mut currencies: BTreeSet<&str> = BTreeSet::new();
    for at in list.summed.iter().filter_map(|s| s.currency) {
        currencies.extend(list.rows.iter().filter_map(|row| match row.get(at) {
            Some(FlatCell::Words(currency)) => Some(currency.as_str()),
            _ => None,
        }));
    }
    let range = |at: usize| format!("${0}$2:${0}${1}", letters(at), last + 1);
    let mut row = last + 2;
    let first: Vec<Option<&str>> =
        if currencies.is_empty() { vec![None] } else { currencies.iter().map(|c| Some(*c)).collect() };
    for (n, currency) in first.into_iter().enumerate() {
        sheet.write_string_with_format(
            row,
            0,
            currency.map_or("Total".to_owned(), |c| format!("Total {c}")),
            &bold,
        )?;
        for Summed { column: at, currency: of } in &list.summed {
            let (formula, format, value) = match (of, currency) {
                (Some(of), Some(currency)) => (
                    format!("=SUMIFS({},{},\"{currency}\")", range(*at), range(*of)),
                    &amount,
                    total(list, *at, Some((*of, currency))),
                ),
                (None, _) if n == 0 => (format!("=SUM({})", range(*at)), &plain, total(list, *at, None)),
                _ => continue,
            };
            // with what it comes to, for who reads the file without working it out
            sheet.write_formula_with_format(
                row,
                column(*at),
                Formula::new(formula).set_result(value),
                format,
            )?;
            if let (Some(of), Some(currency)) = (of, currency) {
                sheet.write_string_with_format(row, column(*of), currency, &bold)?;
            }
        }
        row += 1;
    }
    Ok(())
}

fn total(list: &Flat, at: usize, of: Option<(usize, &str)>) -> String {
    let counted = |row: &&Vec<FlatCell>| {
        of.is_none_or(|(column, currency)| row.get(column) == Some(&FlatCell::Words(currency.to_owned())))
    };
    let value = |row: &Vec<FlatCell>| match row.get(at) {
        Some(FlatCell::Amount(amount)) => *amount,
        Some(FlatCell::Count(n)) => Decimal::from(*n),
        Some(FlatCell::Hours(h)) => Decimal::from_f64_retain(*h).unwrap_or_default().round_dp(2),
        _ => Decimal::ZERO,
    };
    list.rows.iter().filter(counted).map(value).sum::<Decimal>().normalize().to_string()
}

fn column(at: usize) -> u16 {
    u16::try_from(at).unwrap_or(u16::MAX)
}

/// The letters of a column: A to Z, AA and on.
fn letters(at: usize) -> String {
    rust_xlsxwriter::utility::column_number_to_name(column(at))
}

/// How wide a column is, by what stands in it.
fn width(list: &Flat, at: usize) -> usize {
    let cells = list.rows.iter().filter_map(|row| row.get(at)).map(|cell| match cell {
        FlatCell::Words(text) => text.chars().count(),
        FlatCell::Amount(_) => 11,
        _ => 6,
    });
    let head = list.heads.get(at).map_or(0, |name| name.chars().count() + 3);
    cells.chain([head]).max().unwrap_or(LEAST).clamp(LEAST, MOST)
}
