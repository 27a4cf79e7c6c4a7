//! What was found, as a list under the field that asked: arrows walk it, Enter or a click goes there.

use egui::{Area, Button, Frame, Key, Label, Order, Response, RichText, ScrollArea, Ui, Vec2};

use crate::search;
use crate::theme::{self, tokens};
use crate::view::{Action, View};

/// A line of the list.
pub struct Line {
    /// As shown.
    pub name: String,
    /// What it is or where, to the right.
    pub right: String,
}

/// Draws lines; the one that was clicked.
pub fn lines(ui: &mut Ui, lines: &[Line], at: usize, moved: bool, tall: f32) -> Option<usize> {
    let t = tokens(ui);
    let mut clicked = None;
    ScrollArea::vertical().max_height(tall).auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (i, line) in lines.iter().enumerate() {
            let right = RichText::new(&line.right).font(theme::small()).color(t.soft);
            let button = Button::selectable(i == at, &line.name)
                .right_text(right)
                .truncate()
                .min_size(Vec2::new(ui.available_width(), 28.0));
            let response = ui.add(button);
            if i == at && moved {
                response.scroll_to_me(None);
            }
            if response.clicked() {
                clicked = Some(i);
            }
        }
    });
    clicked
}

/// Up and down: the field would take them to the ends of its text.
pub fn arrows(ui: &Ui) -> (usize, usize) {
    ui.input_mut(|i| {
        let none = egui::Modifiers::NONE;
        (i.count_and_consume_key(none, Key::ArrowUp), i.count_and_consume_key(none, Key::ArrowDown))
    })
}

/// The list under the find field.
pub fn under(ui: &Ui, field: &Response, moved: bool, view: &mut View, actions: &mut Vec<Action>) {
    const WIDTH: f32 = 520.0;
    let t = tokens(ui);
    let screen = ui.ctx().content_rect();
    let left = (field.rect.right() - WIDTH).max(screen.left() + 8.0);
    let place = egui::pos2(left, field.rect.bottom() + 6.0);
    let area = Area::new(egui::Id::unique("found")).order(Order::Foreground).fixed_pos(place);
    let shown = area.show(ui.ctx(), |ui| {
        Frame::popup(ui.style()).show(ui, |ui| {
            ui.set_width(WIDTH.min(screen.width() - 32.0));
            if view.search.found.is_empty() {
                let text = format!("Nothing here is called \"{}\".", view.find.trim());
                ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
                return None;
            }
            let found: Vec<Line> = view
                .search
                .found
                .iter()
                .map(|f| Line { name: f.name.clone(), right: search::beside(f) })
                .collect();
            lines(ui, &found, view.search.at, moved, 306.0)
        })
    });
    if let Some(i) = shown.inner.inner {
        view.search.at = i;
        actions.push(Action::Found);
    } else if !field.has_focus() && !shown.response.contains_pointer() {
        view.search.open = false;
    }
}
