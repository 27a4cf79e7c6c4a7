//! What was paid for the part of a place or of a companion: asked once it is in hand, and may be left empty.

use egui::{Layout, RichText, Ui, Vec2};
use knockon_core::assessment::BuyLine;

use crate::app::told::Told;
use crate::app::view::{Action, Field, View};
use crate::buying::fields::each;
use crate::look::margin::left;
use crate::look::text::select_all;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};

/// Draws the field where the part was bought; it takes the keyboard where the part has just come in.
pub fn field(ui: &mut Ui, t: &Tokens, a: &Told, part: &str, view: &mut View, actions: &mut Vec<Action>) {
    let is_told = |l: &&BuyLine| l.part == part && l.waived.is_none() && l.state.is_bought();
    let Some(line) = a.buy.iter().find(is_told) else { return };
    ui.horizontal(|ui| {
        left(ui, 84.0, RichText::new("Paid each").color(t.soft).font(theme::small()));
        let size = Vec2::new(110.0, TARGET);
        ui.allocate_ui_with_layout(size, Layout::left_to_right(egui::Align::Center), |ui| {
            let field = each(ui, line, &mut view.buying, actions);
            if view.takes(Field::Paid) {
                field.request_focus();
                let price = line.price.as_ref().map_or_else(String::new, |m| crate::wording::price(Some(m)));
                select_all(ui, field.id, &price);
            }
        });
        ui.label(RichText::new("may be left empty").color(t.soft).font(theme::small()));
    });
}
