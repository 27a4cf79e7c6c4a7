//! What stands where there is nothing yet: what the view is for, and its first step.

use egui::{Align, Button, Label, Layout, RichText, Ui, Vec2};

use crate::app::commands::Command;
use crate::app::view::Action;
use crate::look::theme::{body, strong, tokens};
use crate::look::tokens::{HEAD, TARGET};

/// Text that is read as one has lines of this width.
const WIDE: f32 = 520.0;

/// Draws it in the middle of a page: a head, what will stand there, and the commands that lead on, the first step first.
pub fn page(ui: &mut Ui, head: &str, text: &str, steps: &[Command]) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    ui.add_space((ui.available_height() * 0.16).clamp(12.0, 110.0));
    let room = ui.available_width();
    let width = room.min(WIDE);
    ui.horizontal_top(|ui| {
        ui.add_space((room - width) / 2.0);
        ui.with_layout(Layout::top_down(Align::Min), |ui| {
            ui.set_width(width);
            ui.add(Label::new(RichText::new(head).font(strong(HEAD))).wrap());
            ui.add_space(4.0);
            ui.add(Label::new(RichText::new(text).font(body()).color(t.soft)).wrap());
            ui.add_space(10.0);
            ui.horizontal_wrapped(|ui| actions = buttons(ui, steps));
        });
    });
    actions
}

/// The commands as buttons with their keys.
pub fn buttons(ui: &mut Ui, steps: &[Command]) -> Vec<Action> {
    let mut actions = Vec::new();
    for command in steps {
        let keys = command.keys(ui.ctx());
        let button = Button::new(leads(*command)).shortcut_text(keys).min_size(Vec2::new(0.0, TARGET));
        let response = ui.add(button);
        response
            .widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, leads(*command)));
        if response.clicked() {
            actions.push(Action::Do(*command));
        }
    }
    actions
}

/// The name of such a button, which is another than that of the same command in the bar.
fn leads(command: Command) -> String {
    match command {
        Command::Board => "To the board".to_owned(),
        other => other.label().to_owned(),
    }
}
