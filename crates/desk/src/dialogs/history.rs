//! The list of what was done: a click goes back to how it stood after a step, or forward to what was taken back.

use egui::accesskit::Role;
use egui::{Button, Color32, Label, RichText, ScrollArea, Ui, Vec2, WidgetInfo};

use crate::access::heard;
use crate::app::view::Action;
use crate::dialogs::modal::over;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, TARGET};
use crate::wording;

/// Draws the dialog: steps done, the oldest first, and steps taken back, the next to be done again first.
pub fn show(ctx: &egui::Context, (done, undone): &(Vec<&str>, Vec<&str>)) -> Vec<Action> {
    let mut actions = Vec::new();
    let modal = over(ctx, "history", "What was done").show(ctx, |ui| {
        ui.set_width(560.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new("What was done").font(strong(HEAD)));
        let about = "The newest first. A click goes back to how it stood after that step; what is taken back stays in the \
                     list until something else is done.";
        ui.add(Label::new(RichText::new(about).font(theme::small()).color(t.soft)).wrap());
        ui.add_space(6.0);
        let tall = ctx.content_rect().height() - 260.0;
        ScrollArea::vertical().max_height(tall.max(120.0)).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            let all: Vec<&str> = done.iter().chain(undone).copied().collect();
            for (i, name) in all.iter().enumerate().rev() {
                let tone = if i < done.len() { t.ink } else { t.soft };
                let text = format!("{}  {}", i + 1, wording::sentence(name));
                step(ui, (&text, tone), i + 1, done.len(), &mut actions);
            }
            step(ui, ("As it was opened", t.ink), 0, done.len(), &mut actions);
        });
        ui.add_space(6.0);
        if ui.add(Button::new("Close").min_size(Vec2::new(96.0, 30.0))).clicked() {
            actions.push(Action::CloseDialog);
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

/// A row: how it stands after so many steps, of which so many are done now.
fn step(ui: &mut Ui, (text, tone): (&str, Color32), after: usize, done: usize, actions: &mut Vec<Action>) {
    let now = after == done;
    let size = Vec2::new(ui.available_width(), TARGET);
    let word = RichText::new(if now { "as it stands" } else { "" }).font(theme::small());
    let button = Button::selectable(now, RichText::new(text).color(tone)).truncate().right_text(word);
    let response = ui.add(button.min_size(size));
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, now, text));
    if response.clicked()
        && !now
        && let (Ok(after), Ok(done)) = (isize::try_from(after), isize::try_from(done))
    {
        actions.push(Action::Steps(after - done));
    }
}
