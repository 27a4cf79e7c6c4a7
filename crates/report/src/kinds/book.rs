//! The build book: all that is known of a vehicle and its build, to be handed to who buys it, insures it or works on it next.

use std::collections::BTreeMap;

use knockon_core::assessment::{Companion, PositionView};
use knockon_core::explain::{because, half_line};
use knockon_core::ledger::{Entry, For, ledger};
use knockon_core::library::{Level, Reversible};
use knockon_core::sheet::{LineState, Route, Verdict};
use knockon_core::showing::count;

use crate::document::{Block, Cell, Column, Document, Of, Row, Table, Tone};
use crate::kinds::{
    LIMITS, Subject, because as reason_of, buy_list, cautions, commissioning, jobs, measure, place, sentence,
    system, tags,
};

/// What a verdict of the survey is called.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Good => "good",
        Verdict::Watch => "to be watched",
        Verdict::Renew => "to be renewed",
        Verdict::Stop => "not to be driven",
    }
}

/// The book.
pub fn book(s: &Subject<'_>) -> Document {
    let mut blocks = Vec::new();
    let mut section = |name: &str, content: Vec<Block>| {
        if !content.is_empty() {
            blocks.push(Block::Heading(1, name.to_owned()));
            blocks.extend(content);
        }
    };
    section("The vehicle", vehicle(s));
    section("As it was found", survey(s));
    section("The plan", plan(s));
    section("What the choices brought, and why", companions(s));
    section("What was left out, and why", left_out(s));
    section("What is open", open(s));
    section("Money", money(s));
    section("The work", work(s));
    section("Checks", commissioning::tables(s, 2));
    section("To be done later", later(s));
    section("Cautions", cautions(s));
    section("Originals kept", originals(s));
    section("Photos", photos(s));
    section(
        "What this book is",
        vec![
            Block::Text(format!(
                "This book says what the owner wrote down and what followed from it by the library of parts that was used. It is no \
             inspection and no valuation. {LIMITS}"
            )),
            Block::Note(libraries(s)),
        ],
    );
    Document { blocks, ..Document::default() }
}

fn libraries(s: &Subject<'_>) -> String {
    let named: Vec<String> = s
        .catalogue
        .libraries
        .iter()
        .map(|of| format!("{} {}", of.name, of.version).trim().to_owned())
        .collect();
    format!(
        "Made with: {}.",
        if named.is_empty() { "a library without a name".to_owned() } else { named.join(", ") }
    )
}

fn vehicle(s: &Subject<'_>) -> Vec<Block> {
    let mut out = Vec::new();
    if let Some(v) = s.catalogue.vehicles.get(&s.sheet.vehicle) {
        out.push(Block::Text(format!("{}. {}", v.name, v.about)));
    }
    if !s.sheet.about.is_empty() {
        out.push(Block::Text(s.sheet.about.clone()));
    }
    let measured = measure::measured(s);
    if !measured.rows.is_empty() {
        out.push(Block::Heading(2, "Measured on it".to_owned()));
        out.push(Block::Table(measured));
    }
    out
}

fn survey(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let columns = vec![
        Column::new("system", Of::Words).data(),
        Column::new("place", Of::Words).wide(1.3),
        Column::new("found", Of::Words).wide(1.8),
        Column::new("made or put in", Of::Words),
        Column::new("verdict", Of::Words),
        Column::new("seen or measured", Of::Words).wide(2.4),
    ];
    let row = |p: &PositionView| {
        let made = s.sheet.made.get(&p.id).cloned().unwrap_or_default();
        let mut seen = vec![(Tone::Plain, p.verdict_note.clone())];
        seen.extend(s.sheet.notes.get(&p.id).map(|note| (Tone::Note, note.clone())));
        Row {
            cells: vec![
                Cell::words(system(a, &p.system)),
                Cell::words(&p.name),
                Cell::words(p.as_found.as_ref().map_or("nothing", |(_, name)| name.as_str())),
                Cell::words(made),
                Cell::words(p.verdict.map_or("not looked at", verdict)),
                Cell::Lines(seen.into_iter().filter(|(_, text)| !text.is_empty()).collect()),
            ],
            depth: 0,
        }
    };
    let mut out = Vec::new();
    for (id, name) in &a.systems {
        let rows: Vec<Row> = a.positions.iter().filter(|p| p.system == *id).map(row).collect();
        if !rows.is_empty() {
            out.push(Block::Heading(2, name.clone()));
            out.push(Block::Table(Table {
                list: "Survey".to_owned(),
                group: None,
                columns: columns.clone(),
                rows,
            }));
        }
    }
    out
}

fn plan(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let mut out = Vec::new();
    if let Some(plan) = s.sheet.plans.get(s.plan) {
        out.push(Block::Text(format!("{}. {}", plan.name.trim_end_matches('.'), plan.about)));
    }
    let chosen = |p: &&PositionView| p.active || p.route != Route::Keep;
    let columns = vec![
        Column::new("system", Of::Words).data(),
        Column::new("place", Of::Words).wide(1.3),
        Column::new("route", Of::Words).wide(0.7),
        Column::new("sits there now", Of::Words).wide(2.0),
        Column::new("in place of", Of::Words).wide(1.7),
        Column::new("can it be undone", Of::Words).wide(1.2),
    ];
    let row = |p: &PositionView| {
        let fitted = p.fitted.as_ref().map_or("nothing", |(_, name)| name.as_str());
        let before = p.as_found.as_ref().filter(|found| p.fitted.as_ref().is_none_or(|f| f.0 != found.0));
        let route = if p.filled { "follows" } else { p.route.word() };
        Row {
            cells: vec![
                Cell::words(system(a, &p.system)),
                Cell::words(&p.name),
                Cell::words(route),
                Cell::words(fitted),
                Cell::words(before.map_or("", |(_, name)| name.as_str())),
                Cell::words(p.reversible.words()),
            ],
            depth: 0,
        }
    };
    let rows: Vec<Row> = a.positions.iter().filter(chosen).map(row).collect();
    if rows.is_empty() {
        out.push(Block::Text("Every place is kept as it was found.".to_owned()));
    } else {
        out.push(Block::Table(Table { list: "Plan".to_owned(), group: None, columns, rows }));
        out.push(Block::Note("What is named nowhere here is kept as it was found.".to_owned()));
    }
    out
}

/// Every companion that is not left out, under the choice that brings it, with the chain of its reasons.
fn companions(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let mut by: BTreeMap<(usize, String), Vec<&Companion>> = BTreeMap::new();
    for c in a.companions.iter().filter(|c| c.waived.is_none()) {
        let at = c.cause.as_ref().and_then(|id| a.positions.iter().position(|p| p.id == *id));
        let name = c
            .cause
            .as_ref()
            .map_or_else(|| "Of the vehicle as it stands".to_owned(), |id| place(a, id).to_owned());
        by.entry((at.unwrap_or(usize::MAX), name)).or_default().push(c);
    }
    let mut out = Vec::new();
    for ((_, name), all) in by {
        out.push(Block::Heading(2, name.clone()));
        out.push(Block::Table(companion_table(s, &name, &all)));
    }
    if out.is_empty() {
        return Vec::new();
    }
    let all = a.companions.iter().filter(|c| c.waived.is_none()).count();
    let told = format!("{} that nobody chose and the choices ask for.", count(all, "part", "parts"));
    out.insert(0, Block::Text(told));
    out
}

fn companion_table(s: &Subject<'_>, cause: &str, all: &[&Companion]) -> Table {
    let a = s.assessment;
    let columns = vec![
        Column::new("part", Of::Words).wide(1.5),
        Column::new("qty", Of::Count),
        Column::new("needed", Of::Words).wide(0.7),
        Column::new("why", Of::Words).wide(3.2),
        Column::new("stands", Of::Words).wide(0.7),
    ];
    let row = |c: &&Companion| {
        let mut why: Vec<(Tone, String)> =
            because(a, c.reason, s.measure).into_iter().map(|text| (Tone::Note, sentence(&text))).collect();
        if let Some(first) = why.first_mut() {
            first.0 = Tone::Plain;
        }
        Row {
            cells: vec![
                Cell::words(&c.name),
                Cell::Count(c.qty),
                Cell::words(if c.level == Level::Required { "needed" } else { "wise" }),
                Cell::Lines(why),
                Cell::words(if c.in_kit { "in the box" } else { c.line.word() }),
            ],
            depth: 0,
        }
    };
    Table {
        list: "Companions".to_owned(),
        group: Some(("brought by", cause.to_owned())),
        columns,
        rows: all.iter().map(row).collect(),
    }
}

fn left_out(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let columns = vec![
        Column::new("part", Of::Words).wide(1.5),
        Column::new("wanted because", Of::Words).wide(2.2),
        Column::new("left out because", Of::Words).wide(2.2),
    ];
    let companion = |c: &Companion| {
        let mut why = vec![(Tone::Plain, c.waived.clone().unwrap_or_default())];
        why.extend(c.danger.iter().map(|danger| (Tone::Caution, sentence(danger))));
        Row {
            cells: vec![
                Cell::words(&c.name),
                Cell::words(reason_of(&half_line(a, c.reason, s.measure))),
                Cell::Lines(why),
            ],
            depth: 0,
        }
    };
    let empty = |p: &PositionView| {
        let leaves = a.surplus.iter().find(|of| of.position == p.id).map(|of| of.leaves.clone());
        Row {
            cells: vec![
                Cell::words(p.as_found.as_ref().map_or(p.name.as_str(), |(_, name)| name.as_str())),
                Cell::words("It was there when the vehicle was found."),
                Cell::words(format!("Left off by choice. {}", leaves.unwrap_or_default()).trim()),
            ],
            depth: 0,
        }
    };
    let waived = a.companions.iter().filter(|c| c.waived.is_some()).map(companion);
    let off = a.positions.iter().filter(|p| p.route == Route::LeaveOff && p.as_found.is_some()).map(empty);
    let rows: Vec<Row> = waived.chain(off).collect();
    if rows.is_empty() {
        return vec![Block::Text("Nothing that the choices ask for was left out.".to_owned())];
    }
    vec![Block::Table(Table { list: "Left out".to_owned(), group: None, columns, rows })]
}

fn open(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let mut out = Vec::new();
    for clash in &a.clashes {
        let told = reason_of(&half_line(a, clash.reason, s.measure));
        out.push(if clash.safety {
            Block::Caution(format!("{} does not fit, and people depend on it", clash.name), told)
        } else {
            Block::Text(format!("{} does not fit. {told}", clash.name))
        });
    }
    if !a.to_measure.is_empty() {
        out.push(Block::Heading(2, "Not known until it is measured".to_owned()));
        out.push(Block::Points(a.to_measure.iter().map(|open| open.what.say(s.measure)).collect()));
    }
    if out.is_empty() {
        out.push(Block::Text("All that was checked fits, and nothing is left to be measured.".to_owned()));
    }
    out
}

/// Every line with its money, by where it stands: together they are the sums of the plan.
fn money(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let all = ledger(s.sheet, a, s.catalogue);
    let mut out = vec![Block::Text(buy_list::money_line(s))];
    let columns = vec![
        Column::new("part", Of::Words).wide(2.4),
        Column::new("part id", Of::Words).data(),
        Column::new("qty", Of::Count),
        Column::new("from", Of::Words).wide(1.4),
        Column::new("each", Of::Money),
        Column::new("cost", Of::Money).summed(),
    ];
    for state in LineState::ALL {
        let rows: Vec<Row> = all.iter().filter(|e| e.state == state).flat_map(|e| money_rows(s, e)).collect();
        if !rows.is_empty() {
            out.push(Block::Heading(2, sentence(state.word()).trim_end_matches('.').to_owned()));
            let group = Some(("state", state.word().to_owned()));
            out.push(Block::Table(Table { list: "Money".to_owned(), group, columns: columns.clone(), rows }));
        }
    }
    out
}

/// A line with its money; a row for each currency.
fn money_rows(s: &Subject<'_>, entry: &Entry) -> Vec<Row> {
    let line = s.assessment.buy.iter().find(|l| l.part == entry.part && l.waived.is_none());
    let line = line.filter(|_| entry.why == For::Wanted);
    let mut item = vec![(Tone::Plain, entry.name.clone())];
    item.extend(line.and_then(|line| line.came_back_text()).map(|text| (Tone::Note, text)));
    match entry.why {
        For::Wanted => {}
        For::Idle => item.push((Tone::Note, "not wanted by this plan".to_owned())),
        For::SentBack => item.push((Tone::Note, "sent back, and not refunded whole".to_owned())),
    }
    let mut each: Vec<Cell> = entry.all().each().map(Cell::Money).collect();
    if each.is_empty() {
        each.push(Cell::Empty);
    }
    let row = |(n, cost): (usize, Cell)| {
        let once = |cell: Cell| if n == 0 { cell } else { Cell::Empty };
        // a price in the currency of its cost, so that one column of currencies says it for both
        let price = line.and_then(|line| line.price.clone());
        let price = price.filter(|p| !matches!(&cost, Cell::Money(c) if c.currency != p.currency));
        Row {
            cells: vec![
                Cell::Lines(item.clone()),
                Cell::words(&entry.part),
                once(line.map_or(Cell::Empty, |line| Cell::Count(line.qty))),
                once(Cell::words(&entry.supplier)),
                once(Cell::money(price)),
                cost,
            ],
            depth: 0,
        }
    };
    each.into_iter().enumerate().map(row).collect()
}

fn work(s: &Subject<'_>) -> Vec<Block> {
    if s.jobs.jobs.is_empty() {
        return Vec::new();
    }
    vec![Block::Text(jobs::hours_line(s.jobs)), Block::Table(jobs::table(s))]
}

fn later(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let columns = vec![
        Column::new("when", Of::Words).wide(1.2),
        Column::new("what", Of::Words).wide(1.8),
        Column::new("why", Of::Words).wide(2.6),
    ];
    let row = |l: &knockon_core::assessment::Later| Row {
        cells: vec![
            Cell::words(l.when(s.measure)),
            Cell::words(&l.what),
            Cell::words(reason_of(&half_line(a, l.reason, s.measure))),
        ],
        depth: 0,
    };
    let rows: Vec<Row> = a.later.iter().map(row).collect();
    if rows.is_empty() {
        return Vec::new();
    }
    vec![Block::Table(Table { list: "Later".to_owned(), group: None, columns, rows })]
}

fn originals(s: &Subject<'_>) -> Vec<Block> {
    let a = s.assessment;
    let mut out = Vec::new();
    let lost: Vec<String> = a
        .positions
        .iter()
        .filter(|p| p.active && p.reversible == Reversible::No)
        .map(|p| format!("{}: {}, which {}", p.name, p.route.word(), p.reversible.words()))
        .collect();
    if !lost.is_empty() {
        out.push(Block::Text("What does not lead back to the original:".to_owned()));
        out.push(Block::Points(lost));
    }
    if !a.surplus.is_empty() {
        out.push(Block::Table(tags::table(s)));
    }
    out
}

/// The photos, place by place in the order of the board; those that were not handed in are named.
fn photos(s: &Subject<'_>) -> Vec<Block> {
    let mut out = Vec::new();
    for p in &s.assessment.positions {
        let Some(paths) = s.sheet.photos.get(&p.id) else { continue };
        out.push(Block::Heading(2, p.name.clone()));
        let pictures = s.pictures.get(&p.id);
        out.extend(pictures.into_iter().flatten().map(|picture| Block::Picture(picture.clone())));
        let here = pictures.map_or(0, Vec::len);
        if here < paths.len() {
            let named = paths.join(", ");
            out.push(Block::Note(format!("{} in the sheet: {named}", count(paths.len(), "photo", "photos"))));
        }
    }
    out
}
