//! A choice as a row of its own: what it is, and under it what it would bring.

use egui::accesskit::Role;
use egui::{Color32, Response, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};

use crate::look::icons;
use crate::look::text::wrapped;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};

/// Beside the text of a key, inside its frame.
const CHIP: f32 = 5.0;

/// What stands in front of a row.
#[derive(Clone, Copy)]
pub enum Lead<'a> {
    /// This is how the plan stands.
    Taken,
    /// One of several, with its number key from 0 where it has one.
    Other(Option<usize>),
    /// Something to do, with no key.
    Do,
    /// Something to do, with its keys.
    Keys(&'a str),
}

/// Draws the row; a line without text takes no height.
pub fn show(ui: &mut Ui, t: &Tokens, lead: Lead<'_>, name: &str, lines: &[(String, Color32)]) -> Response {
    with_right(ui, t, lead, name, "", lines)
}

/// Draws the row with its figures at the right of its name.
pub fn with_right(
    ui: &mut Ui,
    t: &Tokens,
    lead: Lead<'_>,
    name: &str,
    right: &str,
    lines: &[(String, Color32)],
) -> Response {
    let width = ui.available_width();
    let beside = ui.painter().layout_no_wrap(right.to_owned(), theme::small(), t.ink);
    let taken = if right.is_empty() { 0.0 } else { beside.size().x + 14.0 };
    let x = match lead {
        Lead::Do => 10.0,
        Lead::Keys(keys) => chip(ui, t, keys).size().x + 2.0 * CHIP + 20.0,
        Lead::Taken | Lead::Other(_) => 36.0,
    };
    let first = wrapped(ui, name, strong(BODY), t.ink, width - x - 10.0 - taken);
    let below: Vec<_> = lines
        .iter()
        .filter(|(text, _)| !text.is_empty())
        .map(|(text, tone)| {
            // a short piece stays together: the line breaks between pieces
            let whole = |piece: &str| match piece.chars().count() < 34 {
                true => piece.replace(' ', "\u{a0}"),
                false => piece.to_owned(),
            };
            let text: Vec<String> = text.split(" · ").map(whole).collect();
            (wrapped(ui, &text.join(" ·\u{a0}"), theme::small(), *tone, width - x - 10.0), *tone)
        })
        .collect();
    let height = first.size().y + below.iter().map(|(g, _)| g.size().y).sum::<f32>() + 12.0;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, height), Sense::click());
    response.widget_info(|| {
        let texts = lines.iter().map(|(text, _)| text.as_str());
        let key = match lead {
            Lead::Other(Some(i)) => key_name(i, false),
            _ => None,
        };
        let texts = std::iter::once(right).chain(texts).chain(key.as_deref()).filter(|text| !text.is_empty());
        let label = std::iter::once(name).chain(texts).collect::<Vec<_>>().join(", ");
        match lead {
            Lead::Do | Lead::Keys(_) => WidgetInfo::labeled(Role::Button, true, label),
            _ => WidgetInfo::selected(Role::RadioButton, true, matches!(lead, Lead::Taken), label),
        }
    });
    if ui.is_rect_visible(rect) {
        let paint = ui.painter();
        let (fill, edge) = match lead {
            Lead::Taken => (t.cool_ground, t.cool),
            _ if response.hovered() => (t.hover, t.ink),
            _ => (t.sheet, t.edge),
        };
        paint.rect(rect.shrink(0.5), 4, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
        if response.has_focus() {
            paint.rect_stroke(rect.shrink(1.0), 4, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let centre = pos2(rect.left() + 18.0, rect.top() + 6.0 + 9.0);
        match lead {
            Lead::Taken => icons::tick(paint, centre, t.cool),
            Lead::Other(Some(i)) => number(ui, t, i, centre),
            Lead::Keys(text) => keys(ui, t, text, pos2(rect.left() + 10.0, centre.y)),
            Lead::Other(None) | Lead::Do => {}
        }
        let mut y = rect.top() + 6.0;
        let left = rect.left() + x;
        let down = first.size().y;
        paint.galley(pos2(left, y), first, t.ink);
        paint.galley(pos2(rect.right() - 10.0 - beside.size().x, y + 1.0), beside, t.ink);
        y += down;
        for (galley, tone) in below {
            let down = galley.size().y;
            paint.galley(pos2(left, y), galley, tone);
            y += down;
        }
    }
    response
}

/// The number key of a row, counted from nothing, as a screen reader says it; none where a number means something else, and
/// for how the plan stands.
pub fn key_name(i: usize, current: bool) -> Option<String> {
    (i < 9 && !current).then(|| format!("key {}", i + 1))
}

/// Whether a row was chosen. The second click of two is no choice: the rows may have moved under it with the first.
pub fn taken(response: &Response) -> bool {
    response.clicked() && !response.double_clicked() && !response.triple_clicked()
}

fn chip(ui: &Ui, t: &Tokens, keys: &str) -> std::sync::Arc<egui::Galley> {
    ui.painter().layout_no_wrap(keys.to_owned(), theme::small(), t.soft)
}

/// Keys in a frame; `left` is the middle of its left side.
fn keys(ui: &Ui, t: &Tokens, keys: &str, left: egui::Pos2) {
    let text = chip(ui, t, keys);
    let size = Vec2::new(text.size().x + 2.0 * CHIP, 18.0);
    let frame = egui::Rect::from_min_size(pos2(left.x, left.y - size.y / 2.0), size);
    ui.painter().rect(frame, 3, Color32::TRANSPARENT, Stroke::new(1.0, t.line), StrokeKind::Inside);
    ui.painter().galley(frame.center() - text.size() / 2.0, text, t.soft);
}

pub fn number(ui: &Ui, t: &Tokens, i: usize, centre: egui::Pos2) {
    let text = ui.painter().layout_no_wrap((i + 1).to_string(), theme::small(), t.soft);
    let key = egui::Rect::from_center_size(centre, Vec2::new(18.0, 18.0));
    ui.painter().rect(key, 3, Color32::TRANSPARENT, Stroke::new(1.0, t.line), StrokeKind::Inside);
    ui.painter().galley(centre - text.size() / 2.0, text, t.soft);
}
