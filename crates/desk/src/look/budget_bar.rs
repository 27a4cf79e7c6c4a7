//! How much of the budget a plan takes, as a bar.

use egui::{Rect, Stroke, StrokeKind, Ui};
use knockon_core::budget::Spending;

use crate::look::tokens::Tokens;

/// Height of the bar.
pub const HIGH: f32 = 9.0;

/// Draws it into a place; nothing where there is no budget.
pub fn paint(ui: &Ui, t: &Tokens, spending: &Spending, bar: Rect) {
    let Some(used) = spending.used() else { return };
    let mut full = bar;
    #[allow(clippy::cast_possible_truncation, reason = "a part of a bar")]
    full.set_width(bar.width() * used.clamp(0.0, 1.0) as f32);
    let tone = if spending.over.is_some() { t.warm } else { t.soft };
    ui.painter().rect_filled(full, 1, tone);
    ui.painter().rect_stroke(bar, 1, Stroke::new(1.0, t.edge), StrokeKind::Inside);
}
