//! A document as one page of HTML that stands by itself: nothing is fetched, it works on a telephone without a network, and
//! what is ticked stays ticked where the browser keeps anything.

use knockon_core::{Amounts, seal};
use maud::{Markup, PreEscaped, html};
use qrcode::{Color, EcLevel, QrCode};

use crate::document::{Block, Cell, Column, Document, Of, Picture, Sum, Table, Tag, Tick, Tone, hours_text};

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// The first line of such a page: a file that begins otherwise is none.
fn first_line(document: &Document) -> String {
    format!("<!DOCTYPE html><!-- report: {} -->", document.kind)
}

/// The page.
#[must_use]
pub fn html(document: &Document) -> String {
    let ticks = document.blocks.iter().any(has_ticks);
    let body = html! {
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy"
                    content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";
                title { (document.title) }
                style { (PreEscaped(STYLE)) }
            }
            body data-key=(document.key) {
                h1 { (document.title) }
                @for line in &document.about { p.about { (line) } }
                @if ticks { (tick_bar()) }
                @for block in &document.blocks { (one(block)) }
                @if ticks { script { (PreEscaped(SCRIPT)) } }
            }
        }
    };
    format!("{}\n{}\n<!-- {} -->\n", first_line(document), body.into_string(), seal::PLACE)
}

fn has_ticks(block: &Block) -> bool {
    match block {
        Block::Ticks(ticks) => !ticks.is_empty(),
        Block::Table(table) => table.columns.iter().any(|c| c.of == Of::Tick) && !table.rows.is_empty(),
        _ => false,
    }
}

/// Where it is said whether ticks are kept, and how they get from one telephone to another.
fn tick_bar() -> Markup {
    html! {
        div.ticks {
            p #kept role="status" { "Ticks are not kept until this page may run its script." }
            button #save type="button" { "Save the ticks to a file" }
            label.button for="read" { "Read ticks from a file" }
            input #read type="file" accept=".json,application/json";
        }
    }
}

fn one(block: &Block) -> Markup {
    match block {
        Block::Heading(1, text) => html! { h2 { (text) } },
        Block::Heading(2, text) => html! { h3 { (text) } },
        Block::Heading(_, text) => html! { h4 { (text) } },
        Block::Text(text) => html! { p { (text) } },
        Block::Note(text) => html! { p.note { (text) } },
        Block::Caution(what, guard) => html! {
            p.caution { strong { "Caution: " (what) "." } @if !guard.is_empty() { " " (guard) } }
        },
        Block::Points(points) => html! { ul { @for point in points { li { (point) } } } },
        Block::Ticks(ticks) => html! { ul.boxes { @for tick in ticks { li { (tick_box(tick, true)) } } } },
        Block::Table(table) => self::table(table),
        Block::Tags(tags) => html! { div.tags { @for one in tags { (tag(one)) } } },
        Block::Picture(picture) => self::picture(picture),
    }
}

fn tick_box(tick: &Tick, with_text: bool) -> Markup {
    html! {
        label.tick {
            input type="checkbox" data-tick=(tick.key) checked[tick.done]
                aria-label=[(!with_text).then_some(&tick.text)];
            @if with_text { span { (tick.text) } }
        }
    }
}

fn table(table: &Table) -> Markup {
    let shown: Vec<(usize, &Column)> = table.columns.iter().enumerate().filter(|(_, c)| c.on_paper).collect();
    let sums = table.sums();
    html! {
        div.wide {
            table {
                thead { tr { @for (_, c) in &shown { th scope="col" class=[number(c)] { (c.name) } } } }
                tbody {
                    @for row in &table.rows {
                        tr {
                            @for (n, (at, c)) in shown.iter().enumerate() {
                                @let deep = if n == first_words(&shown) { row.depth } else { 0 };
                                td class=[number(c)] style=[(deep > 0).then(|| format!("padding-left:{deep}.2rem"))] {
                                    @if let Some(cell) = row.cells.get(*at) { (self::cell(cell)) }
                                }
                            }
                        }
                    }
                }
                @if !sums.is_empty() {
                    tfoot { tr { @for (n, (at, c)) in shown.iter().enumerate() {
                        td class=[number(c)] {
                            @match sums.get(*at) {
                                Some(Some(sum)) => (sum_text(sum).join(" and ")),
                                _ => @if n == first_words(&shown) { "Total" },
                            }
                        }
                    } } }
                }
            }
        }
    }
}

/// The place among the columns where "Total" stands: the first of words.
pub(crate) fn first_words(shown: &[(usize, &Column)]) -> usize {
    shown.iter().position(|(_, c)| c.of == Of::Words).unwrap_or(0)
}

fn number(column: &Column) -> Option<&'static str> {
    match column.of {
        Of::Count | Of::Hours | Of::Money => Some("num"),
        Of::Tick => Some("box"),
        Of::Blank => Some("blank"),
        Of::Words => None,
    }
}

/// A sum as it reads, one currency after the other.
#[must_use]
pub fn sum_text(sum: &Sum) -> Vec<String> {
    match sum {
        Sum::Money(amounts) => amounts_text(amounts),
        Sum::Hours(hours) => vec![hours_text(*hours)],
        Sum::Count(n) => vec![n.to_string()],
    }
}

/// Each currency of a sum; nothing is told as "0.00".
#[must_use]
pub fn amounts_text(amounts: &Amounts) -> Vec<String> {
    let each: Vec<String> = amounts.each().map(|m| m.to_string()).collect();
    if each.is_empty() { vec!["0.00".to_owned()] } else { each }
}

fn cell(cell: &Cell) -> Markup {
    match cell {
        Cell::Tick(tick) => tick_box(tick, false),
        Cell::Lines(lines) => html! {
            @for (tone, text) in lines {
                @match tone {
                    Tone::Plain => div { (text) },
                    Tone::Note => div.note { (text) },
                    Tone::Failed => div.failed { strong { "Failed: " } (text) },
                    Tone::Caution => div.caution { strong { "Caution: " } (text) },
                }
            }
        },
        other => html! { (other.text()) },
    }
}

fn tag(tag: &Tag) -> Markup {
    html! {
        div.tag {
            div {
                p.number { (tag.number) }
                p { strong { (tag.name) } }
                p { (tag.place) }
                @for line in &tag.lines { p.note { (line) } }
            }
            (square(&tag.code))
        }
    }
}

/// What a telephone reads, as a drawing; nothing where it is too long for that.
fn square(code: &str) -> Markup {
    let Some((size, dark)) = squares(code) else { return html! {} };
    let path: String = dark.iter().map(|(x, y)| format!("M{x} {y}h1v1h-1z")).collect();
    let quiet = 4;
    let side = size + 2 * quiet;
    html! {
        svg role="img" aria-label={ "Square code: " (code) } viewBox={ "-" (quiet) " -" (quiet) " " (side) " " (side) } {
            path d=(path) fill="#000" {}
        }
    }
}

/// The side of the square of a code, and its dark fields, as ISO/IEC 18004 has them; `None` where the code is too long.
#[must_use]
pub fn squares(code: &str) -> Option<(usize, Vec<(usize, usize)>)> {
    let square = QrCode::with_error_correction_level(code, EcLevel::M).ok()?;
    let size = square.width();
    let dark = square.to_colors().into_iter().enumerate().filter(|(_, c)| *c == Color::Dark);
    Some((size, dark.map(|(at, _)| (at % size, at / size)).collect()))
}

fn picture(picture: &Picture) -> Markup {
    let kind = if picture.bytes.starts_with(b"\x89PNG") { "png" } else { "jpeg" };
    html! { img alt=(picture.alt) src={ "data:image/" (kind) ";base64," (base64(&picture.bytes)) }; }
}

/// Bytes as RFC 4648 writes them.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let all = three.iter().fold(0u32, |all, byte| all << 8 | u32::from(*byte)) << (8 * (3 - three.len()));
        for at in 0..4usize {
            let six = (all >> (18 - 6 * at)) & 63;
            out.push(if at > three.len() { '=' } else { LETTERS[six as usize] as char });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{base64, squares};

    #[test]
    fn bytes_are_written_as_the_standard_says() {
        // RFC 4648, section 10
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    #[test]
    fn a_square_has_its_three_corners() {
        let Some((size, dark)) = squares("Furrow 10, tag 3") else { unreachable!("it is short") };
        // ISO/IEC 18004: sides of 21 and four more for each version; a finder of seven by seven in three corners
        assert_eq!((size - 21) % 4, 0);
        for (x, y) in [(0, 0), (size - 1, 0), (0, size - 1), (6, 6), (3, 3), (size - 7, 0)] {
            assert!(dark.contains(&(x, y)), "{x} {y}");
        }
        assert!(!dark.contains(&(7, 7)) && !dark.contains(&(1, 1)));
        assert_eq!(squares(&"x".repeat(5000)), None);
    }
}
