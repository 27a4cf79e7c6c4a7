//! An entry of a list: what it is, a half-line under it, a figure at its right, and where it leads.

use egui::accesskit::Role;
use egui::{Color32, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};

use crate::app::view::Spot;
use crate::look::icons::Mark;
use crate::look::text::{elided, figures, figures_width, wrapped};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};

/// What it says.
pub struct Entry {
    /// What it is.
    pub name: String,
    /// Under it.
    pub half: String,
    /// At its right.
    pub right: String,
    /// Where a click leads.
    pub spot: Option<Spot>,
    /// It must be looked at, and bears this mark.
    pub mark: Option<Mark>,
    /// What stands under it takes no more than a line; all of it is told under the pointer.
    pub brief: bool,
}

/// Draws it; whether it was clicked.
pub fn show(ui: &mut Ui, t: &Tokens, e: &Entry) -> bool {
    let width = ui.available_width() - 4.0;
    let right_width = figures_width(ui.painter(), &e.right, &theme::body());
    let (x, tone, font) = match e.mark {
        Some(_) => (30.0, t.warm, strong(BODY)),
        None => (8.0, t.ink, theme::body()),
    };
    // words that leave no room for the name stand under it
    let is_under = right_width > width * 0.34;
    let room = if is_under { width - x - 12.0 } else { width - right_width - x - 32.0 };
    let under = wrapped(ui, if is_under { &e.right } else { "" }, theme::small(), t.soft, room);
    let under_height = if is_under { under.size().y } else { 0.0 };
    let first = wrapped(ui, &e.name, font, tone, room);
    let second = match e.brief {
        true => elided(ui, &e.half, theme::small(), t.soft, width - x - 12.0, 1),
        false => wrapped(ui, &e.half, theme::small(), t.soft, room),
    };
    let cut = second.elided;
    let below = if e.half.is_empty() { 0.0 } else { second.size().y };
    let size = Vec2::new(width, (first.size().y + below + under_height + 8.0).max(TARGET));
    let sense = if e.spot.is_some() { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(size, sense);
    let label = format!("{}, {}, {}", e.name, e.half, e.right);
    let role = if e.spot.is_some() { Role::Button } else { Role::Label };
    response.widget_info(|| egui::WidgetInfo::labeled(role, true, &label));
    if ui.is_rect_visible(rect) {
        let paint = ui.painter();
        let fill = if response.hovered() && e.spot.is_some() { t.hover } else { Color32::TRANSPARENT };
        paint.rect_filled(rect, 3, fill);
        if response.has_focus() {
            paint.rect_stroke(rect, 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let top = rect.top() + 4.0;
        if !is_under {
            figures(paint, pos2(rect.right() - 10.0, top), &e.right, &theme::body(), t.ink);
        }
        let below = top + first.size().y;
        paint.galley(pos2(rect.left() + x, rect.bottom() - 4.0 - under_height), under, t.soft);
        paint.galley(pos2(rect.left() + x, top), first, tone);
        paint.galley(pos2(rect.left() + x, below), second, t.soft);
        if let Some(mark) = e.mark {
            mark.paint(paint, pos2(rect.left() + 14.0, top + 9.0), t.warm);
        }
    }
    let response = if cut { response.on_hover_text(&e.half) } else { response };
    response.clicked()
}
