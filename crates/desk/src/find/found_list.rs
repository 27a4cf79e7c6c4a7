//! What was found, as a list under the field that asked: arrows walk it, Enter or a click goes there.

use egui::accesskit::Role;
use egui::{
    Area, Color32, Frame, Key, Label, Order, Rect, Response, RichText, ScrollArea, Sense, Stroke, StrokeKind,
    Ui, Vec2, WidgetInfo, pos2,
};

use crate::access::{announce, heard};
use crate::app::view::{Action, View};
use crate::find::leads;
use crate::look::text::elided;
use crate::look::theme;
use crate::look::theme::tokens;
use crate::wording;

/// A line of the list.
pub struct Line {
    /// As shown.
    pub name: String,
    /// What it is or where, to the right.
    pub right: String,
}

/// The id of a line: the keyboard's entry is told to a screen reader by it.
fn line_id(i: usize) -> egui::Id {
    egui::Id::unique(("found line", i))
}

/// Draws lines under the field that asked; the one that was clicked. Where both do not fit beside each other, the name has
/// two thirds. The keyboard stays in the field, and a screen reader is told the line it is on.
pub fn lines(
    ui: &mut Ui,
    field: &Response,
    lines: &[Line],
    at: usize,
    moved: bool,
    tall: f32,
) -> Option<usize> {
    const ROW: f32 = 30.0;
    let mut clicked = None;
    let needed = lines.len() as f32 * (ROW + 2.0);
    let area = ScrollArea::vertical().max_height(tall).min_scrolled_height(tall.min(needed));
    area.auto_shrink([false, true]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for (i, line) in lines.iter().enumerate() {
            let (_, rect) = ui.allocate_space(Vec2::new(ui.available_width(), ROW));
            // Tab leads past the list: arrows walk it from the field
            let response = ui.interact(rect, line_id(i), Sense::CLICK);
            response.widget_info(|| {
                let text = [line.name.as_str(), line.right.as_str()].join(", ");
                WidgetInfo::labeled(Role::ListBoxOption, true, text.trim_end_matches([',', ' ']))
            });
            ui.ctx().accesskit_node_builder(response.id, |node| {
                node.set_selected(i == at);
                node.set_position_in_set(i);
                node.set_size_of_set(lines.len());
            });
            if ui.is_rect_visible(rect) {
                paint(ui, line, rect, i == at, response.hovered());
            }
            if i == at && moved {
                response.scroll_to_me(None);
            }
            if response.clicked() {
                clicked = Some(i);
            }
        }
    });
    // while somebody types the keyboard is in the field; once arrows walk it is told to be on the line
    let (walks, tells) = (field.id.with("walks"), field.id.with("tells"));
    if field.changed() || moved {
        ui.data_mut(|d| d.insert_temp(walks, moved));
    }
    // what answers is found after the frame in which it was typed
    if field.changed() {
        ui.data_mut(|d| d.insert_temp(tells, true));
        ui.ctx().request_repaint();
    } else if ui.data_mut(|d| d.remove_temp(tells)).unwrap_or(false) {
        told(ui, lines);
    }
    if at < lines.len() && ui.data(|d| d.get_temp(walks)).unwrap_or(false) {
        heard::on_entry(field, line_id(at));
    }
    clicked
}

/// Says how many answer, and the first.
fn told(ui: &Ui, lines: &[Line]) {
    let text = match lines.first() {
        Some(first) => {
            let right = if first.right.is_empty() { String::new() } else { format!(", {}", first.right) };
            format!("{} found: {}{right}.", lines.len(), first.name)
        }
        None => "Nothing found.".to_owned(),
    };
    announce::say(ui.ctx(), &text, false);
}

fn paint(ui: &Ui, line: &Line, rect: Rect, is_at: bool, hovered: bool) {
    let t = tokens(ui);
    let fill = if is_at {
        t.cool_ground
    } else if hovered {
        t.hover
    } else {
        Color32::TRANSPARENT
    };
    let edge = if is_at { Stroke::new(1.0, t.cool) } else { Stroke::NONE };
    ui.painter().rect(rect.shrink(0.5), 4, fill, edge, StrokeKind::Inside);
    let inner = rect.shrink2(Vec2::new(10.0, 0.0));
    let soft = |width| elided(ui, &line.right, theme::small(), t.soft, width, 1);
    let all = soft(f32::INFINITY).size().x;
    let least = all.min(inner.width() / 3.0);
    let name = elided(ui, &line.name, theme::body(), t.ink, inner.width() - least - 16.0, 1);
    let right = soft(inner.width() - name.size().x - 16.0);
    let down = |height: f32| inner.center().y - height / 2.0;
    let place = pos2(inner.left(), down(name.size().y));
    ui.painter().galley(place, name, t.ink);
    let place = pos2(inner.right() - right.size().x, down(right.size().y));
    ui.painter().galley(place, right, t.soft);
}

/// Up and down, by a line or by a page: the field would take them to the ends of its text.
pub fn arrows(ui: &Ui) -> (usize, usize) {
    const PAGE: usize = 8;
    ui.input_mut(|i| {
        let mut count = |key| i.count_and_consume_key(egui::Modifiers::NONE, key);
        let up = count(Key::ArrowUp) + PAGE * count(Key::PageUp);
        (up, count(Key::ArrowDown) + PAGE * count(Key::PageDown))
    })
}

/// The list under the find field.
pub fn under(ui: &Ui, field: &Response, moved: bool, view: &mut View, actions: &mut Vec<Action>) {
    const WIDTH: f32 = 580.0;
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
                .map(|f| Line { name: wording::sentence(&f.name), right: leads::beside(f) })
                .collect();
            lines(ui, field, &found, view.search.at, moved, 310.0)
        })
    });
    if let Some(i) = shown.inner.inner {
        view.search.at = i;
        actions.push(Action::Found);
    } else if !field.has_focus() && !shown.response.contains_pointer() {
        view.search.open = false;
    }
}
