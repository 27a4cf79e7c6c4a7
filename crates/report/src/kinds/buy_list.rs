//! The buy list: what is wanted, from whom, what it costs, and where each line stands.

use std::collections::BTreeMap;

use knockon_core::assessment::{BoxLine, BuyLine, BuyRow};
use knockon_core::ledger::{Entry, For, ledger};
use knockon_core::refund::CameBack;
use knockon_core::showing::count;
use knockon_core::spent::no_price;
use knockon_core::{Amounts, Money};

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tick, Tone};
use crate::kinds::{By, Subject, system};

/// What stands apart from all suppliers, systems and states.
const LEFT_OUT: &str = "Left out";
const IDLE: &str = "Bought, and not wanted by this plan";
const KEPT_BACK: &str = "Sent back, and not refunded whole";
/// The column of what a line costs.
const COST: usize = 7;
/// The list and its sums, as worksheets are named.
pub const LIST: &str = "Buy list";
const SUMS: &str = "Sums";

/// The list.
pub fn buy_list(s: &Subject<'_>) -> Document {
    let tables = groups(s);
    let mut blocks = vec![Block::Text(money_line(s))];
    blocks.extend(notes(s).into_iter().map(Block::Note));
    if tables.len() > 1 {
        blocks.push(Block::Table(sums(&tables, s.by)));
    }
    if tables.is_empty() {
        blocks.push(Block::Text("There is nothing to buy in this plan.".to_owned()));
    }
    for table in tables {
        blocks.extend(table.group.iter().map(|(_, name)| Block::Heading(1, name.clone())));
        blocks.push(Block::Table(table));
    }
    Document { blocks, main: Some(LIST.to_owned()), ..Document::default() }
}

/// What all comes to, in one sentence.
pub fn money_line(s: &Subject<'_>) -> String {
    let t = &s.assessment.totals;
    let told = |sum: &Amounts| sum.text(&t.currency);
    let m = &t.money;
    let lines = count(t.lines, "line", "lines");
    format!(
        "{lines}, {} in all: {} spent, {} on order, {} to come.",
        told(&m.all()),
        told(&m.spent),
        told(&m.committed),
        told(&m.to_come)
    )
}

fn notes(s: &Subject<'_>) -> Vec<String> {
    let t = &s.assessment.totals;
    let mut out = Vec::new();
    if t.unpriced > 0 {
        let lines = count(t.unpriced, "line has no price and is", "lines have no price and are");
        out.push(format!("{lines} not in the sums."));
    }
    out.extend(crate::text::old_prices(t).map(|old| format!("{old}.")));
    if t.money.no_price_paid > 0 {
        let (one, many) = (
            "line that is here has no price paid and counts",
            "lines that are here have no price paid and count",
        );
        out.push(format!("{} as nothing spent.", count(t.money.no_price_paid, one, many)));
    }
    out
}

/// The lines by what they are put together by; what is left out and what is not wanted stand last. The costs are those of the
/// ledger: together they are the sums of the plan.
pub fn groups(s: &Subject<'_>) -> Vec<Table> {
    let a = s.assessment;
    let ledger = ledger(s.sheet, a, s.catalogue);
    let of = |part: &str| ledger.iter().find(|e| e.why == For::Wanted && e.part == part).map(Entry::all);
    let mut by: BTreeMap<(u8, String), Vec<&BuyLine>> = BTreeMap::new();
    for line in &a.buy {
        by.entry(group(s, line)).or_default().push(line);
    }
    let mut tables = Vec::new();
    for ((_, name), lines) in by {
        let rows = a.with_boxes(&lines).into_iter().flat_map(|row| match row {
            BuyRow::Line(line) => {
                let cost = of(&line.part).filter(|_| line.waived.is_none()).unwrap_or_default();
                let own = line.price.as_ref().or(line.total.as_ref()).map(|m| m.currency.as_str());
                costed(line_row(s, line), &cost, own)
            }
            BuyRow::Boxed(line, depth) => vec![box_row(line, depth)],
        });
        tables.push(table(s.by, name, rows.collect()));
    }
    for (why, name) in [(For::Idle, IDLE), (For::SentBack, KEPT_BACK)] {
        let rows: Vec<Row> = ledger.iter().filter(|e| e.why == why).flat_map(|e| other_row(s, e)).collect();
        if !rows.is_empty() {
            tables.push(table(s.by, name.to_owned(), rows));
        }
    }
    tables
}

/// A row with what it costs; of two currencies, in which something came back, the other has a row of its own below it.
fn costed(row: Row, cost: &Amounts, own: Option<&str>) -> Vec<Row> {
    let mut all: Vec<Money> = cost.each().collect();
    all.sort_by_key(|m| Some(m.currency.as_str()) != own);
    let mut rest = all.into_iter();
    let mut out = vec![row];
    match rest.next() {
        Some(first) if own.is_none_or(|own| own == first.currency) => out[0].cells[COST] = Cell::Money(first),
        Some(first) => out.push(more(&out[0], first)),
        None => {}
    }
    for money in rest {
        out.push(more(&out[0], money));
    }
    out
}

/// Money of another currency that belongs to a row.
fn more(row: &Row, money: Money) -> Row {
    let mut cells = vec![Cell::Empty; row.cells.len()];
    cells[1] = Cell::Words(format!("{}: came back in {}", row.cells[1].text(), money.currency));
    cells[2] = row.cells[2].clone();
    cells[COST] = Cell::Money(money);
    Row { cells, depth: row.depth + 1 }
}

fn group(s: &Subject<'_>, line: &BuyLine) -> (u8, String) {
    if line.waived.is_some() {
        return (2, LEFT_OUT.to_owned());
    }
    match s.by {
        By::Supplier if line.supplier.trim().is_empty() => (1, "No supplier named".to_owned()),
        By::Supplier => (0, line.supplier.clone()),
        By::System => (0, system(s.assessment, &line.system).to_owned()),
        By::State => (0, line.state.word().to_owned()),
    }
}

fn table(by: By, name: String, rows: Vec<Row>) -> Table {
    let columns = vec![
        Column::new("here", Of::Tick),
        Column::new("item", Of::Words).wide(3.0),
        Column::new("part id", Of::Words).data(),
        Column::new("qty", Of::Count),
        Column::new("price each", Of::Money),
        Column::new("refunded", Of::Money).data(),
        Column::new("core returned", Of::Money).data(),
        Column::new("cost", Of::Money).summed(),
        Column::new("stands", Of::Words).wide(1.2),
        Column::new("for", Of::Words).wide(2.4),
        Column::new("supplied by", Of::Words).data(),
        Column::new("system", Of::Words).data(),
        Column::new("left out because", Of::Words).data(),
        Column::new("caution", Of::Words).data(),
    ];
    Table { list: LIST.to_owned(), group: Some((by.word(), name)), columns, rows }
}

fn line_row(s: &Subject<'_>, line: &BuyLine) -> Row {
    let mut item = vec![(Tone::Plain, line.name.clone())];
    item.extend(line.waived.iter().map(|why| (Tone::Note, format!("left out: {why}"))));
    item.extend(line.danger.iter().map(|danger| (Tone::Caution, danger.clone())));
    item.extend(line.came_back_text().map(|back| (Tone::Note, back)));
    item.extend(line.old_price.as_ref().map(|day| (Tone::Note, format!("price of {}", day.text))));
    let waived = line.waived.is_some();
    // what came back in another currency than the line is paid in is told in words
    let back = |what: CameBack| {
        let money = line.came_back.get(&what).cloned();
        Cell::money(money.filter(|m| line.price.as_ref().is_none_or(|price| price.currency == m.currency)))
    };
    let price = line.price.clone().map_or_else(|| Cell::Words(no_price(line.state).to_owned()), Cell::Money);
    let cells = vec![
        if waived {
            Cell::Empty
        } else {
            tick(&line.part, &line.name, line.state.is_here() && line.short == 0)
        },
        Cell::Lines(item),
        Cell::words(&line.part),
        Cell::Count(line.qty),
        price,
        back(CameBack::Refund),
        back(CameBack::Core),
        // what it costs the ledger says
        Cell::Empty,
        Cell::Words(if waived { "left out".to_owned() } else { line.stands() }),
        Cell::words(line.uses_text()),
        Cell::words(&line.supplier),
        Cell::words(system(s.assessment, &line.system)),
        Cell::words(line.waived.clone().unwrap_or_default()),
        Cell::words(line.danger.clone().unwrap_or_default()),
    ];
    Row { cells, depth: 0 }
}

fn tick(key: &str, name: &str, done: bool) -> Cell {
    Cell::Tick(Tick { key: format!("here:{key}"), text: format!("{name} is here"), done })
}

/// A content of a kit, which has no price of its own.
fn box_row(line: &BoxLine, depth: usize) -> Row {
    let mut cells = vec![Cell::Empty; 14];
    let for_what = format!("in the box of {}: {}", line.kit_name, line.goes_text());
    let told = [
        (0, tick(&line.key.to_string(), &line.name, line.state.is_here())),
        (1, Cell::Words(line.name.clone())),
        (2, Cell::words(&line.key.part)),
        (3, Cell::Count(line.qty)),
        (8, Cell::Words(line.state.word().to_owned())),
        (9, Cell::Words(for_what)),
    ];
    for (at, cell) in told {
        cells[at] = cell;
    }
    Row { cells, depth }
}

/// Something bought that the plan does not want, or that went back and was not refunded whole.
fn other_row(s: &Subject<'_>, entry: &Entry) -> Vec<Row> {
    let mut cells = vec![Cell::Empty; 14];
    let idle = s.assessment.idle.iter().find(|idle| entry.why == For::Idle && idle.part == entry.part);
    let price = s.sheet.lines.get(&entry.part).and_then(|line| line.paid.clone());
    let price = price.or_else(|| idle.and_then(|idle| idle.price.clone()));
    let own = price.as_ref().map(|m| m.currency.clone());
    let qty = match idle.map(|idle| idle.qty) {
        Some(Some(n)) => Cell::Count(n),
        Some(None) => Cell::Words("1 or more".to_owned()),
        None => Cell::Empty,
    };
    let told = [
        (1, Cell::Words(entry.name.clone())),
        (2, Cell::words(&entry.part)),
        (3, qty),
        (4, price.map_or_else(|| Cell::Words(no_price(entry.state).to_owned()), Cell::Money)),
        (8, Cell::Words(entry.state.word().to_owned())),
        (9, Cell::Words("nothing in this plan".to_owned())),
        (10, Cell::words(&entry.supplier)),
    ];
    for (at, cell) in told {
        cells[at] = cell;
    }
    costed(Row { cells, depth: 0 }, &entry.all(), own.as_deref())
}

/// How many lines each group has, and what they cost; a row for each currency.
fn sums(tables: &[Table], by: By) -> Table {
    let mut rows = Vec::new();
    for table in tables {
        let name = table.group.as_ref().map_or("", |(_, name)| name.as_str());
        let lines = table.rows.iter().filter(|row| row.depth == 0).count();
        let mut lines = Some(u32::try_from(lines).unwrap_or(u32::MAX));
        let cost: Amounts = table.rows.iter().filter_map(|row| cost(row)).collect();
        let mut each: Vec<Option<Money>> = cost.each().map(Some).collect();
        if each.is_empty() {
            each.push(None);
        }
        for money in each {
            // a group of two currencies has two rows, and its lines count once
            let lines = lines.take().map_or(Cell::Empty, Cell::Count);
            rows.push(Row { cells: vec![Cell::Words(name.to_owned()), lines, Cell::money(money)], depth: 0 });
        }
    }
    let columns = vec![
        Column::new(by.word(), Of::Words).wide(3.0),
        Column::new("lines", Of::Count).summed(),
        Column::new("cost", Of::Money).summed(),
    ];
    Table { list: SUMS.to_owned(), group: None, columns, rows }
}

fn cost(row: &Row) -> Option<&Money> {
    match row.cells.get(COST) {
        Some(Cell::Money(money)) => Some(money),
        _ => None,
    }
}
