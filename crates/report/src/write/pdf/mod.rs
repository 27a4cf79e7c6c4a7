//! A document as PDF: laid out here, written by a library that holds it to the standards for archives (PDF/A-2a, ISO 19005-2)
//! and for who has it read aloud (PDF/UA-1, ISO 14289-1): fonts embedded, tagged, with bookmarks.

mod fonts;
mod layout;
mod pages;
mod table;

use std::num::NonZeroU16;

use krilla::color::rgb;
use krilla::configure::{Accessibility, Archival, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Rect, Size, Transform};
use krilla::metadata::{DateTime, Metadata};
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagKind, TagTree,
};
use krilla::{Document as Pdf, SerializeSettings};

use self::fonts::{Fonts, Weight};
use self::layout::layout;
use self::pages::{DARK, Drawn, Ink, MARGIN, Mark, Of, Pages, RULE, Role, SOFT};
use crate::document::Document;
use crate::write::{Paper, WriteError, day_of};

/// The document on paper of a size.
///
/// # Errors
/// [`WriteError`] where the library that writes it refuses.
pub fn pdf(document: &Document, paper: Paper) -> Result<Vec<u8>, WriteError> {
    let failed = |why: String| WriteError { format: "PDF", why };
    let mut fonts =
        Fonts::new().ok_or_else(|| failed("the fonts of the program cannot be read".to_owned()))?;
    let pages = layout(document, paper.points(), &mut fonts);
    let configuration = ConfigurationBuilder::new()
        .with_archival_validator(Archival::A2_A)
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|why| failed(format!("{why:?}")))?;
    let mut out = Pdf::new_with(SerializeSettings { configuration, ..SerializeSettings::default() });
    let (year, month, day) = day_of(document);
    out.set_metadata(
        Metadata::new()
            .title(document.title.clone())
            .creation_date(DateTime::new(year).month(month).day(day))
            .description(document.about.join(" - "))
            .creator("Knockon".to_owned())
            .producer(knockon_core::seal::PLACE.to_owned())
            .language("en".to_owned()),
    );
    let mut found: Vec<Vec<Identifier>> = vec![Vec::new(); pages.parts.len()];
    let all = pages.pages.len();
    for (n, drawn) in pages.pages.iter().enumerate() {
        let size = PageSettings::from_wh(pages.size.0, pages.size.1)
            .ok_or_else(|| failed("the paper has no size".to_owned()))?;
        let mut page = out.start_page_with(size);
        let mut surface = page.surface();
        for (of, what) in drawn {
            let id = match of {
                Of::Part(_) => surface.start_tagged(ContentTag::Span(SpanTag::empty())),
                Of::Page => surface.start_tagged(artifact(ArtifactType::Layout)),
            };
            draw(&mut surface, &fonts, what);
            surface.end_tagged();
            if let Of::Part(part) = of
                && let Some(ids) = found.get_mut(*part)
            {
                ids.push(id);
            }
        }
        foot(&mut surface, &mut fonts, document, (n + 1, all), pages.size);
        surface.finish();
        page.finish();
    }
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    for child in pages.parts.first().into_iter().flat_map(|whole| &whole.children) {
        if let Some(group) = group(&pages, *child, &found) {
            tree.push(group);
        }
    }
    out.set_tag_tree(tree);
    out.set_outline(outline(&pages.marks));
    out.finish().map_err(|why| failed(format!("{why:?}")))
}

fn artifact(kind: ArtifactType) -> ContentTag<'static> {
    ContentTag::Artifact(Artifact::with_kind(kind))
}

/// A piece of the reading order with all in it; `None` where nothing of it was drawn, and it is no cell.
fn group(pages: &Pages, at: usize, found: &[Vec<Identifier>]) -> Option<TagGroup> {
    let part = pages.parts.get(at)?;
    let mut out = TagGroup::new(kind(&part.role));
    let mut empty = true;
    for id in found.get(at).into_iter().flatten() {
        out.push(*id);
        empty = false;
    }
    for child in part.children.iter().filter_map(|child| group(pages, *child, found)) {
        out.push(child);
        empty = false;
    }
    (!empty || matches!(part.role, Role::Cell | Role::Head)).then_some(out)
}

fn kind(role: &Role) -> TagKind {
    match role {
        Role::Whole | Role::Group => Tag::Div.into(),
        Role::Heading(level, text) => {
            Tag::Hn(NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN), Some(text.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::List => Tag::L(ListNumbering::None).into(),
        Role::Point => Tag::LI.into(),
        Role::Sign => Tag::Lbl.into(),
        Role::Body => Tag::LBody.into(),
        Role::Table => Tag::Table.into(),
        Role::Heads => Tag::THead.into(),
        Role::Rows => Tag::TBody.into(),
        Role::Sums => Tag::TFoot.into(),
        Role::Row => Tag::TR.into(),
        Role::Head => Tag::TH(TableHeaderScope::Column).into(),
        Role::Cell => Tag::TD.into(),
        Role::Figure(alt) => Tag::Figure(Some(alt.clone())).into(),
    }
}

/// Bookmarks: the headings, those of a lower level within the one before them.
fn outline(marks: &[Mark]) -> Outline {
    let mut out = Outline::new();
    let mut at = 0;
    while at < marks.len() {
        let (node, next) = bookmark(marks, at);
        out.push_child(node);
        at = next;
    }
    out
}

fn bookmark(marks: &[Mark], at: usize) -> (OutlineNode, usize) {
    let (level, text, page, y) = &marks[at];
    let to = XyzDestination::new(*page, Point::from_xy(MARGIN, (*y - 6.0).max(0.0)));
    let mut node = OutlineNode::new(text.clone(), to).with_open(*level == 0);
    let mut next = at + 1;
    while next < marks.len() && marks[next].0 > *level {
        let (child, after) = bookmark(marks, next);
        node.push_child(child);
        next = after;
    }
    (node, next)
}

/// What it is, and which page of how many.
fn foot(
    surface: &mut Surface<'_>,
    fonts: &mut Fonts,
    document: &Document,
    (n, all): (usize, usize),
    size: (f32, f32),
) {
    const SIZE: f32 = 7.5;
    let y = size.1 - 34.0;
    let number = format!("Page {n} of {all}");
    let width = fonts.width(&number, Weight::Regular, SIZE);
    let room = size.0 - 2.0 * MARGIN - width - 16.0;
    let what = document
        .about
        .first()
        .map_or_else(|| document.title.clone(), |of| format!("{}: {of}", document.title));
    let what = fonts.lines(&what, Weight::Regular, SIZE, room).into_iter().next().unwrap_or_default();
    let _ = surface.start_tagged(artifact(ArtifactType::Footer));
    for (x, text) in [(MARGIN, what), (size.0 - MARGIN - width, number)] {
        draw(
            surface,
            fonts,
            &Drawn::Words { x, y, ends: false, size: SIZE, weight: Weight::Regular, ink: SOFT, text },
        );
    }
    surface.end_tagged();
}

fn fill((red, green, blue): Ink) -> Fill {
    Fill { paint: rgb::Color::new(red, green, blue).into(), ..Fill::default() }
}

fn stroke((red, green, blue): Ink, width: f32) -> Stroke {
    Stroke { paint: rgb::Color::new(red, green, blue).into(), width, ..Stroke::default() }
}

fn rectangle(x: f32, y: f32, width: f32, height: f32) -> Option<Path> {
    let mut path = PathBuilder::new();
    path.push_rect(Rect::from_xywh(x, y, width, height)?);
    path.finish()
}

fn draw(surface: &mut Surface<'_>, fonts: &Fonts, what: &Drawn) {
    let mut path = |path: Option<Path>, filled: Option<Fill>, stroked: Option<Stroke>| {
        if let Some(path) = path {
            surface.set_fill(filled);
            surface.set_stroke(stroked);
            surface.draw_path(&path);
            surface.set_stroke(None);
        }
    };
    match what {
        Drawn::Words { x, y, ends, size, weight, ink, text } => {
            surface.set_fill(Some(fill(*ink)));
            surface.set_stroke(None);
            let runs = fonts.runs(text, *weight);
            let width: f32 = runs.iter().map(|run| run.width * size).sum();
            let mut x = if *ends { x - width } else { *x };
            for run in runs {
                surface.draw_glyphs(Point::from_xy(x, *y), &run.glyphs, run.font, &run.text, *size, false);
                x += run.width * size;
            }
        }
        Drawn::Filled { x, y, width, height, ink } => {
            path(rectangle(*x, *y, *width, *height), Some(fill(*ink)), None);
        }
        Drawn::Box { x, y, side, done } => {
            path(rectangle(*x, *y, *side, *side), None, Some(stroke(DARK, 0.8)));
            if *done {
                let mut tick = PathBuilder::new();
                tick.move_to(x + 0.2 * side, y + 0.55 * side);
                tick.line_to(x + 0.42 * side, y + 0.78 * side);
                tick.line_to(x + 0.82 * side, y + 0.24 * side);
                path(tick.finish(), None, Some(stroke(DARK, 1.3)));
            }
        }
        Drawn::Dashed { x, y, width, height } => {
            let dash = StrokeDash { array: vec![3.0, 3.0], offset: 0.0 };
            let stroke = Stroke { dash: Some(dash), ..stroke(RULE, 0.6) };
            path(rectangle(*x, *y, *width, *height), None, Some(stroke));
        }
        Drawn::Code { x, y, side, fields, dark } => {
            // four fields of white around it, as ISO/IEC 18004 asks
            let one = side / (*fields + 8) as f32;
            let mut all = PathBuilder::new();
            for (column, row) in dark {
                let (x, y) = (x + (*column + 4) as f32 * one, y + (*row + 4) as f32 * one);
                if let Some(field) = Rect::from_xywh(x, y, one, one) {
                    all.push_rect(field);
                }
            }
            path(all.finish(), Some(fill((0, 0, 0))), None);
        }
        Drawn::Picture { x, y, width, height, image } => {
            if let Some(size) = Size::from_wh(*width, *height) {
                surface.push_transform(&Transform::from_translate(*x, *y));
                surface.draw_image(image.clone(), size);
                surface.pop();
            }
        }
    }
}
