//! The question of a one-way step, in the place where it is chosen.

use egui::{Button, Label, RichText, Ui, Vec2};

use crate::app::view::{Action, View};
use crate::dialogs::one_way::FRESH;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::{icons, margin};

/// Draws the question under what it is about.
pub fn question(ui: &mut Ui, t: &Tokens, view: &mut View, actions: &mut Vec<Action>) {
    let Some(ask) = view.ask.as_mut() else { return };
    let shown = ui.scope(|ui| {
        margin::bordered(ui, t, |ui| {
            ui.horizontal_top(|ui| {
                let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
                icons::caution(ui.painter(), rect.center(), t.warm);
                ui.add(Label::new(RichText::new(ask.title).font(strong(BODY)).color(t.warm)).wrap());
            });
            for line in &ask.words {
                ui.add(Label::new(RichText::new(line).font(theme::small())).wrap());
            }
            ui.horizontal_wrapped(|ui| {
                let no = ui.add(Button::new("Leave it as it is").min_size(Vec2::new(0.0, TARGET)));
                // an Enter typed before the question was seen must not be a yes
                if ask.fresh == FRESH {
                    no.request_focus();
                }
                if no.clicked() {
                    actions.push(Action::Answer(false));
                }
                if ui.add(Button::new("Choose it all the same").min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::Answer(true));
                }
            });
        });
    });
    if ask.fresh > 0 {
        ask.fresh -= 1;
        shown.response.scroll_to_me(None);
        ui.ctx().request_repaint();
    }
}
