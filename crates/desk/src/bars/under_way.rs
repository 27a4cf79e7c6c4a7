//! What is under way for longer than a moment: what it is, how far it is, and a way to stop it.

use egui::accesskit::Role;
use egui::{
    Align2, Area, Button, Frame, Id, Label, Margin, Order, ProgressBar, RichText, Stroke, Ui, Vec2,
    WidgetInfo,
};

use crate::app::view::{Action, Stop};
use crate::app::work::Task;
use crate::look::theme;
use crate::look::theme::tokens;
use crate::look::tokens::{TARGET, Tokens};

/// Laid over the page at its lower right corner, so that nothing moves when it comes or goes; `below` is the height of
/// what stands under it.
pub fn plate(ui: &Ui, tasks: &[Task], below: f32) -> Vec<Action> {
    let mut actions = Vec::new();
    if tasks.is_empty() {
        return actions;
    }
    let t = tokens(ui);
    let area = Area::new(Id::unique("under way")).order(Order::Middle);
    area.anchor(Align2::RIGHT_BOTTOM, Vec2::new(-12.0, -below - 8.0)).show(ui.ctx(), |ui| {
        let edge = Stroke::new(1.0, t.edge);
        let frame = Frame::new().fill(t.sheet).stroke(edge).corner_radius(4);
        frame.inner_margin(Margin::symmetric(10, 6)).show(ui, |ui| {
            for task in tasks {
                ui.horizontal(|ui| one(ui, &t, task, &mut actions));
            }
        });
    });
    actions
}

fn one(ui: &mut Ui, t: &Tokens, task: &Task, actions: &mut Vec<Action>) {
    let words = task.what.words();
    let text = format!("{words}: {}", far(task.so_far(), "", task.takes().as_secs()));
    ui.add(Label::new(RichText::new(&text).font(theme::small()).color(t.ink)));
    if let (done, of @ 1..) = task.so_far() {
        let bar = ProgressBar::new(done as f32 / of as f32).desired_width(90.0).desired_height(8.0);
        ui.add(bar.fill(t.cool));
    }
    if task.what.can_stop() && stop(ui, &words) {
        actions.push(Action::Stop(Stop::Task(task.id)));
    }
}

/// A button that gives something up, named by what that is.
pub fn stop(ui: &mut Ui, what: &str) -> bool {
    let button = ui.add(Button::new("Stop").min_size(Vec2::new(0.0, TARGET)));
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Stop: {what}")));
    button.clicked()
}

/// How far it is, in words: steps where they are counted, else seconds.
pub fn far((done, of): (usize, usize), most: &str, seconds: u64) -> String {
    match of {
        0 if seconds == 0 => "a moment".to_owned(),
        0 => format!("{seconds} s"),
        _ => format!("{done} of {most}{of}"),
    }
}
