//! The frame of a dialog over the desk.

use egui::Modal;

use crate::tokens::{PAPER, SLATE};

/// A dialog over the desk.
pub fn over(ctx: &egui::Context, id: &str) -> Modal {
    let style = ctx.global_style();
    let t = if style.visuals.dark_mode { SLATE } else { PAPER };
    Modal::new(egui::Id::unique(id))
        .frame(egui::Frame::popup(&style).inner_margin(egui::Margin::same(18)))
        .backdrop_color(t.veil)
}
