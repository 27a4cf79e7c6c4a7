//! Tables of a PDF: how wide columns are, heads that stand again on each page, rows that a page parts only where one does not
//! fit on a whole one.

use super::fonts::Fonts;
use super::layout::{CAUTION, Look, NOTE, PLAIN, STRONG, box_at, put_to};
use super::pages::{HAIR, MARGIN, Of as Whose, Pages, RULE, Role};
use crate::document::{Cell, Column, Of, Table, Tick, Tone};
use crate::write::html::{first_words, sum_text};

/// White between columns, and above and below a row.
const GAP: f32 = 10.0;
const PAD: f32 = 3.2;
/// How far in each depth stands.
const IN: f32 = 12.0;

/// Share of a page that is kept together at most.
pub const MOST_KEPT: f32 = 0.6;
/// Room for what is written in by hand: a reading, initials.
const BLANK: f32 = 84.0;

/// A line of a cell; a box to tick instead of words.
enum Line {
    Words(String, Look),
    Box(bool),
}

impl Line {
    fn lead(&self) -> f32 {
        match self {
            Self::Words(_, look) => look.lead(),
            Self::Box(_) => PLAIN.lead(),
        }
    }
}

/// How much of a page the heads and the first row take: what must not stand apart.
pub fn first_height(fonts: &mut Fonts, all: f32, table: &Table) -> f32 {
    let shown: Vec<(usize, &Column)> = table.columns.iter().enumerate().filter(|(_, c)| c.on_paper).collect();
    let Some(row) = table.rows.first().filter(|_| !shown.is_empty()) else { return 0.0 };
    let widths = widths(all, fonts, table, &shown, sum_cells(table, &shown).as_deref());
    let mut lines = |cell: &Cell, width: f32| cell_lines(fonts, cell, width);
    let cells: Vec<Vec<Line>> = shown
        .iter()
        .zip(&widths)
        .map(|((at, _), width)| row.cells.get(*at).map_or_else(Vec::new, |cell| lines(cell, *width)))
        .collect();
    2.0 * STRONG.lead() + height(&cells) + 2.0 * PAD + 6.0
}

/// A table, over as many pages as it takes.
pub fn table(pages: &mut Pages, fonts: &mut Fonts, table: &Table) {
    let shown: Vec<(usize, &Column)> = table.columns.iter().enumerate().filter(|(_, c)| c.on_paper).collect();
    if shown.is_empty() || table.rows.is_empty() {
        return;
    }
    let sums = sum_cells(table, &shown);
    let widths = widths(pages.width(), fonts, table, &shown, sums.as_deref());
    let whole = pages.part(Role::Table, 0);
    let heads: Vec<Vec<Line>> = shown
        .iter()
        .zip(&widths)
        .map(|((_, column), width)| lines_of(fonts, column.name, STRONG, *width))
        .collect();
    let part = pages.part(Role::Heads, whole);
    let row = pages.part(Role::Row, part);
    pages.y += 3.0;
    // a head alone at the foot of a page says nothing
    let first = first_height(fonts, pages.width(), table);
    pages.want(first.min(pages.height() * MOST_KEPT));
    head(pages, &heads, &shown, &widths, Some(row));
    let part = pages.part(Role::Rows, whole);
    for row in &table.rows {
        let cells: Vec<Vec<Line>> = shown
            .iter()
            .zip(&widths)
            .enumerate()
            .map(|(n, ((at, _), width))| {
                let deep = if n == first_words(&shown) { row.depth as f32 * IN } else { 0.0 };
                row.cells.get(*at).map_or_else(Vec::new, |cell| cell_lines(fonts, cell, width - deep))
            })
            .collect();
        let within = pages.part(Role::Row, part);
        self::row(pages, cells, (&heads, &shown, &widths), within, row.depth);
        pages.rule(pages.y, 0.5, HAIR);
    }
    if let Some(sums) = sums {
        let part = pages.part(Role::Sums, whole);
        let within = pages.part(Role::Row, part);
        let cells: Vec<Vec<Line>> = sums
            .into_iter()
            .map(|texts| texts.into_iter().map(|text| Line::Words(text, STRONG)).collect())
            .collect();
        pages.want(height(&cells) + 2.0 * PAD);
        pages.rule(pages.y, 0.9, RULE);
        self::row(pages, cells, (&heads, &shown, &widths), within, 0);
    }
    pages.y += 8.0;
}

/// What stands in the row of sums, by column; `None` where nothing is added up on paper.
fn sum_cells(table: &Table, shown: &[(usize, &Column)]) -> Option<Vec<Vec<String>>> {
    let sums = table.sums();
    let any = shown.iter().any(|(at, _)| sums.get(*at).is_some_and(Option::is_some));
    let one = |(n, (at, _)): (usize, &(usize, &Column))| match sums.get(*at) {
        Some(Some(sum)) => sum_text(sum),
        _ if n == first_words(shown) => vec!["Total".to_owned()],
        _ => Vec::new(),
    };
    any.then(|| shown.iter().enumerate().map(one).collect())
}

fn is_number(column: &Column) -> bool {
    matches!(column.of, Of::Count | Of::Hours | Of::Money)
}

/// The widths of the columns: numbers and boxes take what they need, words share what is left.
fn widths(
    all: f32,
    fonts: &mut Fonts,
    table: &Table,
    shown: &[(usize, &Column)],
    sums: Option<&[Vec<String>]>,
) -> Vec<f32> {
    let mut wanted = Vec::new();
    for (n, (at, column)) in shown.iter().enumerate() {
        let mut wide = match column.of {
            Of::Words => fonts.width(column.name, STRONG.weight, STRONG.size),
            Of::Blank => BLANK,
            _ => fonts.widest_word(column.name, STRONG.weight, STRONG.size),
        };
        for row in &table.rows {
            let deep = if n == first_words(shown) { row.depth as f32 * IN } else { 0.0 };
            let own = match row.cells.get(*at) {
                None | Some(Cell::Empty) => 0.0,
                Some(Cell::Tick(_)) => 11.0,
                Some(Cell::Lines(lines)) => lines
                    .iter()
                    .map(|(tone, text)| {
                        let look = look(*tone);
                        fonts.width(&told(*tone, text), look.weight, look.size)
                    })
                    .fold(0.0, f32::max),
                Some(cell) => fonts.width(&cell.text(), PLAIN.weight, PLAIN.size),
            };
            // what somebody wrote into a blank wraps: it leaves the words beside it their room
            let own = if column.of == Of::Blank { own.min(BLANK) } else { own };
            wide = wide.max(own + deep);
        }
        for text in sums.and_then(|sums| sums.get(n)).into_iter().flatten() {
            wide = wide.max(fonts.width(text, STRONG.weight, STRONG.size));
        }
        wanted.push(wide + 0.5);
    }
    let gaps = GAP * shown.len().saturating_sub(1) as f32;
    let fixed: f32 = shown.iter().zip(&wanted).filter(|((_, c), _)| c.of != Of::Words).map(|(_, w)| *w).sum();
    let mut left = (all - gaps - fixed).max(40.0);
    // who wants less than its share gets what it wants, and the others share the rest
    let mut open: Vec<usize> = (0..shown.len()).filter(|n| shown[*n].1.of == Of::Words).collect();
    loop {
        let shares: f32 = open.iter().map(|n| shown[*n].1.share).sum();
        let small = open.iter().position(|n| wanted[*n] <= left * shown[*n].1.share / shares.max(0.01));
        match small {
            Some(at) => left -= wanted[open.remove(at)],
            None => {
                open.iter().for_each(|n| wanted[*n] = left * shown[*n].1.share / shares.max(0.01));
                break;
            }
        }
    }
    // what is left over goes to the words that share most, so that the table fills the page
    let used: f32 = wanted.iter().sum::<f32>() + gaps;
    let widest = (0..shown.len())
        .filter(|n| shown[*n].1.of == Of::Words)
        .max_by(|a, b| shown[*a].1.share.total_cmp(&shown[*b].1.share));
    if let Some(n) = widest.filter(|_| used < all) {
        wanted[n] += all - used;
    }
    wanted
}

fn look(tone: Tone) -> Look {
    match tone {
        Tone::Plain => PLAIN,
        Tone::Note => NOTE,
        Tone::Failed | Tone::Caution => CAUTION,
    }
}

fn told(tone: Tone, text: &str) -> String {
    match tone {
        Tone::Plain | Tone::Note => text.to_owned(),
        Tone::Failed => format!("Failed: {text}"),
        Tone::Caution => format!("Caution: {text}"),
    }
}

fn lines_of(fonts: &mut Fonts, text: &str, look: Look, width: f32) -> Vec<Line> {
    let lines = fonts.lines(text, look.weight, look.size, width);
    let last = lines.len().saturating_sub(1);
    let one = |(n, line): (usize, String)| Line::Words(if n < last { line + " " } else { line }, look);
    lines.into_iter().enumerate().map(one).collect()
}

fn cell_lines(fonts: &mut Fonts, cell: &Cell, width: f32) -> Vec<Line> {
    match cell {
        Cell::Empty => Vec::new(),
        Cell::Tick(Tick { done, .. }) => vec![Line::Box(*done)],
        Cell::Lines(lines) => lines
            .iter()
            .flat_map(|(tone, text)| lines_of(fonts, &told(*tone, text), look(*tone), width))
            .collect(),
        cell => lines_of(fonts, &cell.text(), PLAIN, width),
    }
}

fn height(cells: &[Vec<Line>]) -> f32 {
    cells.iter().map(|lines| lines.iter().map(Line::lead).sum::<f32>()).fold(PLAIN.lead(), f32::max)
}

type Frame<'a> = (&'a [Vec<Line>], &'a [(usize, &'a Column)], &'a [f32]);

/// The heads; in the reading order only where they stand first.
fn head(
    pages: &mut Pages,
    heads: &[Vec<Line>],
    shown: &[(usize, &Column)],
    widths: &[f32],
    part: Option<usize>,
) {
    let mut x = MARGIN;
    let top = pages.y;
    let all = height(heads);
    for ((lines, (_, column)), width) in heads.iter().zip(shown).zip(widths) {
        let of = part.map_or(Whose::Page, |row| Whose::Part(pages.part(Role::Head, row)));
        let own: f32 = lines.iter().map(Line::lead).sum();
        // short heads stand on the line of the long ones
        let mut y = top + all - own;
        for line in lines {
            if let Line::Words(text, look) = line {
                put_at(pages, text, *look, of, column, (x, y, *width));
            }
            y += line.lead();
        }
        x += width + GAP;
    }
    pages.y = top + all + 2.0;
    pages.rule(pages.y, 0.9, RULE);
    pages.y += 1.0;
}

/// Words in their column: numbers end where it ends.
fn put_at(
    pages: &mut Pages,
    text: &str,
    look: Look,
    of: Whose,
    column: &Column,
    (x, y, width): (f32, f32, f32),
) {
    let ends = is_number(column);
    let x = if ends { x + width } else { x };
    put_to(pages, text.to_owned(), look, of, (x, y), ends);
}

/// A row. One that does not fit on what is left goes to the next page; one that fits on none is parted.
fn row(
    pages: &mut Pages,
    cells: Vec<Vec<Line>>,
    (heads, shown, widths): Frame<'_>,
    within: usize,
    depth: usize,
) {
    let again = |pages: &mut Pages| {
        pages.turn();
        head(pages, heads, shown, widths, None);
    };
    let full = height(&cells) + 2.0 * PAD;
    if full > pages.left() && full <= pages.height() - height(heads) - 3.0 {
        again(pages);
    }
    let parts: Vec<usize> = cells.iter().map(|_| pages.part(Role::Cell, within)).collect();
    let mut rest: Vec<std::collections::VecDeque<Line>> = cells.into_iter().map(Into::into).collect();
    loop {
        let top = pages.y + PAD;
        let end = pages.y + pages.left() - PAD;
        let mut foot = top + PLAIN.lead();
        let mut x = MARGIN;
        for (n, ((_, column), width)) in shown.iter().zip(widths).enumerate() {
            let deep = if n == first_words(shown) { depth as f32 * IN } else { 0.0 };
            let mut y = top;
            let Some(lines) = rest.get_mut(n) else { continue };
            // at least one line, also where the page is full: else it would go on for ever
            while let Some(line) = lines.front().filter(|line| y + line.lead() <= end || y <= top) {
                let lead = line.lead();
                match line {
                    Line::Words(text, look) => {
                        put_at(
                            pages,
                            text,
                            *look,
                            Whose::Part(parts[n]),
                            column,
                            (x + deep, y, width - deep),
                        );
                    }
                    Line::Box(done) => box_at(pages, *done, parts[n], (x, y + 2.0)),
                }
                lines.pop_front();
                y += lead;
            }
            foot = foot.max(y);
            x += width + GAP;
        }
        pages.y = foot + PAD;
        if rest.iter().all(std::collections::VecDeque::is_empty) {
            return;
        }
        again(pages);
    }
}
