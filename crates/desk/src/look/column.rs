//! A column of a page beside another: each scrolls by itself.

use egui::{Align, Layout, ScrollArea, Ui, Vec2};

/// Room below its last line.
const FOOT: f32 = 12.0;

/// Draws a column of this size, under a name that no other on the page has.
pub fn show(ui: &mut Ui, name: &str, size: Vec2, add: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(size, Layout::top_down(Align::Min), |ui| {
        ui.set_width(size.x);
        ScrollArea::vertical().id_salt(name).auto_shrink(false).show(ui, |ui| {
            add(ui);
            ui.add_space(FOOT);
        });
    });
}
