//! The frame of a dialog over the desk, and the two buttons at its end.

use egui::{Button, Modal, Ui, Vec2};

use crate::app::view::Action;
use crate::look::tokens::{PAPER, SLATE};

/// A dialog over the desk, under the name that a screen reader says when it opens.
pub fn over(ctx: &egui::Context, id: &str, name: &str) -> Modal {
    let style = ctx.global_style();
    let t = if style.visuals.dark_mode { SLATE } else { PAPER };
    let id = egui::Id::unique(id);
    Modal::new(id)
        .area(Modal::default_area(id).accessible_name(name))
        .frame(egui::Frame::popup(&style).inner_margin(egui::Margin::same(18)))
        .backdrop_color(t.veil)
}

/// Its buttons: one that does it, where that may be, and one that closes. `enter`: the keyboard asked for it. Whether it is to
/// be done.
pub fn answers(ui: &mut Ui, verb: &str, may: bool, enter: bool, actions: &mut Vec<Action>) -> bool {
    ui.add_space(6.0);
    let buttons = ui.horizontal(|ui| {
        let go = ui.add_enabled(may, Button::new(verb).min_size(Vec2::new(96.0, 30.0)));
        if ui.add(Button::new("Cancel").min_size(Vec2::new(96.0, 30.0))).clicked() {
            actions.push(Action::CloseDialog);
        }
        go.clicked() || enter && may
    });
    buttons.inner
}
