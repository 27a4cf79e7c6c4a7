//! What stands where on the pages of a document: headings with what follows them, paragraphs, lists, tags.

use krilla::image::Image;

use super::fonts::{Fonts, Weight};
use super::pages::{DANGER, DARK, Drawn, Ink, MARGIN, Of, Pages, Role, SOFT};
use super::table;
use crate::document::{Block, Document, Picture, Tag, Tick};
use crate::write::html::squares;

/// Sizes of text, in points.
pub const TEXT: f32 = 9.5;
const SMALL: f32 = 8.5;
const TITLE: f32 = 20.0;
/// From line to line, as a share of the size.
pub const LEAD: f32 = 1.38;
/// How much more than itself a heading wants on its page.
const WITH: f32 = 64.0;

/// How words of a kind look.
#[derive(Clone, Copy, Debug)]
pub struct Look {
    /// Points.
    pub size: f32,
    /// Weight.
    pub weight: Weight,
    /// Colour.
    pub ink: Ink,
}

/// As text.
pub const PLAIN: Look = Look { size: TEXT, weight: Weight::Regular, ink: DARK };
/// Stands back.
pub const NOTE: Look = Look { size: SMALL, weight: Weight::Regular, ink: SOFT };
/// As heads and sums.
pub const STRONG: Look = Look { size: TEXT, weight: Weight::Bold, ink: DARK };
/// What can hurt somebody.
pub const CAUTION: Look = Look { size: SMALL, weight: Weight::Bold, ink: DANGER };

impl Look {
    /// From one line to the next.
    pub fn lead(self) -> f32 {
        self.size * LEAD
    }
}

/// The pages of a document.
pub fn layout(document: &Document, size: (f32, f32), fonts: &mut Fonts) -> Pages {
    let mut pages = Pages::new(size);
    let title = Look { size: TITLE, ..STRONG };
    let part = pages.part(Role::Heading(1, document.title.clone()), 0);
    pages.marks.push((0, document.title.clone(), 0, pages.y));
    paragraph(&mut pages, fonts, &document.title, title, part);
    pages.y += 2.0;
    for line in &document.about {
        let part = pages.part(Role::Paragraph, 0);
        paragraph(&mut pages, fonts, line, Look { ink: SOFT, ..PLAIN }, part);
    }
    pages.y += 8.0;
    for (n, block) in document.blocks.iter().enumerate() {
        if let Block::Heading(..) = block {
            let kept = with_next(&pages, fonts, &document.blocks[n..]);
            pages.want(kept);
        }
        one(&mut pages, fonts, block);
    }
    pages
}

/// How much of a page headings take with what comes first under them: they do not stand apart.
fn with_next(pages: &Pages, fonts: &mut Fonts, blocks: &[Block]) -> f32 {
    let mut kept = 0.0;
    for block in blocks {
        match block {
            Block::Heading(..) => kept += 36.0,
            Block::Table(of) => {
                kept += table::first_height(fonts, pages.width(), of);
                break;
            }
            Block::Note(_) | Block::Text(_) => kept += 2.0 * PLAIN.lead(),
            _ => {
                kept += WITH;
                break;
            }
        }
    }
    kept.min(pages.height() * table::MOST_KEPT)
}

fn one(pages: &mut Pages, fonts: &mut Fonts, block: &Block) {
    match block {
        Block::Heading(level, text) => heading(pages, fonts, *level, text),
        Block::Text(text) => {
            let part = pages.part(Role::Paragraph, 0);
            paragraph(pages, fonts, text, PLAIN, part);
            pages.y += 4.0;
        }
        Block::Note(text) => {
            let part = pages.part(Role::Paragraph, 0);
            paragraph(pages, fonts, text, NOTE, part);
            pages.y += 4.0;
        }
        Block::Caution(what, guard) => caution(pages, fonts, what, guard),
        Block::Points(points) => {
            let list = pages.part(Role::List, 0);
            for text in points {
                point(pages, fonts, text, None, list);
            }
            pages.y += 4.0;
        }
        Block::Ticks(ticks) => {
            let list = pages.part(Role::List, 0);
            for tick in ticks {
                point(pages, fonts, &tick.text, Some(tick), list);
            }
            pages.y += 4.0;
        }
        Block::Table(of) => table::table(pages, fonts, of),
        Block::Tags(tags) => self::tags(pages, fonts, tags),
        Block::Picture(of) => picture(pages, fonts, of),
    }
}

fn heading(pages: &mut Pages, fonts: &mut Fonts, level: u8, text: &str) {
    let (size, above) = match level {
        1 => (14.0, 16.0),
        2 => (11.5, 11.0),
        _ => (10.0, 8.0),
    };
    let look = Look { size, ..STRONG };
    if pages.y > MARGIN {
        pages.y += above;
    }
    let part = pages.part(Role::Heading(u16::from(level) + 1, text.to_owned()), 0);
    pages.marks.push((level, text.to_owned(), pages.pages.len() - 1, pages.y));
    paragraph(pages, fonts, text, look, part);
    pages.y += 3.0;
}

/// Words over the whole width, over as many pages as they take.
pub fn paragraph(pages: &mut Pages, fonts: &mut Fonts, text: &str, look: Look, part: usize) {
    words(pages, fonts, text, look, part, (MARGIN, pages.width()));
}

/// Words between `x` and `x` and a width.
fn words(pages: &mut Pages, fonts: &mut Fonts, text: &str, look: Look, part: usize, (x, width): (f32, f32)) {
    let lines = fonts.lines(text, look.weight, look.size, width);
    let last = lines.len().saturating_sub(1);
    for (n, line) in lines.into_iter().enumerate() {
        pages.want(look.lead());
        // a word ends with its blank also where the line does
        let text = if n < last { line + " " } else { line };
        put(pages, text, look, Of::Part(part), (x, pages.y));
        pages.y += look.lead();
    }
}

/// A line of words that begins at `x`, and whose upper edge is at a height.
pub fn put(pages: &mut Pages, text: String, look: Look, of: Of, at: (f32, f32)) {
    put_to(pages, text, look, of, at, false);
}

/// The same, or one that ends at `x`.
pub fn put_to(pages: &mut Pages, text: String, look: Look, of: Of, (x, top): (f32, f32), ends: bool) {
    if text.trim().is_empty() {
        return;
    }
    // the foot of the letters within the height of a line
    let y = top + look.size * (0.5 * (LEAD - 1.0) + 0.88);
    pages.draw(of, Drawn::Words { x, y, ends, size: look.size, weight: look.weight, ink: look.ink, text });
}

fn caution(pages: &mut Pages, fonts: &mut Fonts, what: &str, guard: &str) {
    const IN: f32 = 10.0;
    let part = pages.part(Role::Paragraph, 0);
    let between = (MARGIN + IN, pages.width() - IN);
    let danger = format!("Caution: {}. ", what.trim_end_matches('.'));
    let lead = Look { size: TEXT, ..CAUTION };
    let lines = |fonts: &mut Fonts, text: &str, look: Look| {
        fonts.lines(text, look.weight, look.size, between.1).len()
    };
    let height = lines(fonts, &danger, lead) as f32 * lead.lead()
        + if guard.is_empty() { 0.0 } else { lines(fonts, guard, PLAIN) as f32 * PLAIN.lead() };
    pages.want(height.min(pages.height()));
    let (page, top) = (pages.pages.len(), pages.y);
    words(pages, fonts, &danger, lead, part, between);
    if !guard.is_empty() {
        words(pages, fonts, guard, PLAIN, part, between);
    }
    if pages.pages.len() == page {
        let height = pages.y - top;
        pages.draw(Of::Page, Drawn::Filled { x: MARGIN, y: top, width: 2.5, height, ink: DANGER });
    }
    pages.y += 6.0;
}

fn point(pages: &mut Pages, fonts: &mut Fonts, text: &str, tick: Option<&Tick>, list: usize) {
    const IN: f32 = 16.0;
    pages.want(PLAIN.lead());
    let point = pages.part(Role::Point, list);
    let sign = pages.part(Role::Sign, point);
    match tick {
        Some(tick) => box_at(pages, tick.done, sign, (MARGIN, pages.y + 2.0)),
        None => put(pages, "•".to_owned(), PLAIN, Of::Part(sign), (MARGIN + 4.0, pages.y)),
    }
    let body = pages.part(Role::Body, point);
    words(pages, fonts, text, PLAIN, body, (MARGIN + IN, pages.width() - IN));
    pages.y += 1.5;
}

/// A box to tick, told to who cannot see it.
pub fn box_at(pages: &mut Pages, done: bool, within: usize, (x, y): (f32, f32)) {
    let alt = if done { "ticked" } else { "not ticked" };
    let figure = pages.part(Role::Figure(alt.to_owned()), within);
    pages.draw(Of::Part(figure), Drawn::Box { x, y, side: 9.0, done });
}

/// Tags in two columns, none of them over two pages.
fn tags(pages: &mut Pages, fonts: &mut Fonts, tags: &[Tag]) {
    const GAP: f32 = 10.0;
    const PAD: f32 = 9.0;
    const SIDE: f32 = 74.0;
    const LEAST: f32 = 118.0;
    let width = (pages.width() - GAP) / 2.0;
    let inner = width - 2.0 * PAD - SIDE - 8.0;
    for two in tags.chunks(2) {
        let told: Vec<Vec<(String, Look)>> = two.iter().map(|tag| tag_lines(fonts, tag, inner)).collect();
        let of =
            |lines: &Vec<(String, Look)>| lines.iter().map(|(_, look)| look.lead()).sum::<f32>() + 2.0 * PAD;
        let height = told.iter().map(of).fold(LEAST, f32::max).min(pages.height());
        pages.want(height);
        let top = pages.y;
        for (n, (tag, lines)) in two.iter().zip(told).enumerate() {
            let x = MARGIN + n as f32 * (width + GAP);
            let group = pages.part(Role::Group, 0);
            pages.draw(Of::Page, Drawn::Dashed { x, y: top, width, height });
            let part = pages.part(Role::Paragraph, group);
            let mut y = top + PAD;
            for (text, look) in lines {
                if y + look.lead() > top + height {
                    break;
                }
                put(pages, text + " ", look, Of::Part(part), (x + PAD, y));
                y += look.lead();
            }
            if let Some((fields, dark)) = squares(&tag.code) {
                let alt = format!("Square code: {}", tag.code);
                let figure = pages.part(Role::Figure(alt), group);
                let x = x + width - PAD - SIDE;
                pages.draw(Of::Part(figure), Drawn::Code { x, y: top + PAD, side: SIDE, fields, dark });
            }
        }
        pages.y = top + height + GAP;
    }
}

fn tag_lines(fonts: &mut Fonts, tag: &Tag, width: f32) -> Vec<(String, Look)> {
    let number = Look { size: 18.0, ..STRONG };
    let all = [(tag.number.to_string(), number), (tag.name.clone(), STRONG), (tag.place.clone(), PLAIN)];
    let more = tag.lines.iter().map(|line| (line.clone(), NOTE));
    let mut out = Vec::new();
    for (text, look) in all.into_iter().chain(more).filter(|(text, _)| !text.is_empty()) {
        out.extend(fonts.lines(&text, look.weight, look.size, width).into_iter().map(|line| (line, look)));
    }
    out
}

/// A picture, no higher than a third of a page; where its bytes are none, what is seen on it in words.
fn picture(pages: &mut Pages, fonts: &mut Fonts, picture: &Picture) {
    let data = picture.bytes.clone();
    let image = if data.starts_with(b"\x89PNG") {
        Image::from_png(data.into(), true)
    } else {
        Image::from_jpeg(data.into(), true)
    };
    let size = image.as_ref().ok().map(Image::size).filter(|(w, h)| *w > 0 && *h > 0);
    let (Ok(image), Some((w, h))) = (image, size) else {
        let part = pages.part(Role::Paragraph, 0);
        return paragraph(pages, fonts, &format!("{} (the picture cannot be read)", picture.alt), NOTE, part);
    };
    let (w, h) = (w as f32, h as f32);
    let scale = (pages.width() * 0.7 / w).min(pages.height() / 3.0 / h);
    let (width, height) = (w * scale, h * scale);
    pages.want(height + NOTE.lead() + 8.0);
    let figure = pages.part(Role::Figure(picture.alt.clone()), 0);
    let (x, y) = (MARGIN, pages.y);
    pages.draw(Of::Part(figure), Drawn::Picture { x, y, width, height, image });
    pages.y += height + 2.0;
    let part = pages.part(Role::Paragraph, 0);
    paragraph(pages, fonts, &picture.alt, NOTE, part);
    pages.y += 6.0;
}
