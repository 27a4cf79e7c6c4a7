//! A box to tick: the only square on the desk.

use egui::accesskit::Role;
use egui::{Label, Rect, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo};

use crate::look::icons;
use crate::look::tokens::{TARGET, Tokens};

/// Draws it with its name beside it, which takes the click too; what is under the pointer says more. Whether it was clicked.
pub fn named(ui: &mut Ui, t: &Tokens, ticked: bool, name: &str, more: &str) -> bool {
    let row = ui.scope(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        let clicked = show(ui, t, ticked, name);
        let label = ui.add(Label::new(name).sense(Sense::click()).selectable(false));
        let label = if more.is_empty() { label } else { label.on_hover_text(more) };
        clicked | label.clicked()
    });
    row.inner
}

/// Draws it under a name for a reader; whether it was clicked.
pub fn show(ui: &mut Ui, t: &Tokens, ticked: bool, name: &str) -> bool {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(TARGET), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, ticked, name));
    let paint = ui.painter();
    if response.hovered() {
        paint.rect_filled(rect, 3, t.hover);
    }
    if response.has_focus() {
        paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let square = Rect::from_center_size(rect.center(), Vec2::splat(16.0));
    paint.rect(square, 3, t.field, Stroke::new(1.2, t.ink), StrokeKind::Inside);
    if ticked {
        icons::tick(paint, square.center(), t.ink);
    }
    response.clicked()
}
