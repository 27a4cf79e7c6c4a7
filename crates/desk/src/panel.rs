//! The panel beside the board: the list behind a figure, what is selected, or what is unresolved. It is never empty, and
//! something else in it begins at its top.

pub mod as_found;
pub mod clash;
pub mod companion;
pub mod figure_list;
pub mod later;
pub mod look_twice;
pub mod made;
pub mod measuring;
pub mod misfits;
pub mod on_offer;
pub mod photos;
pub mod place;
pub mod survey;
pub mod unknown;

mod head;
pub mod paid;
mod route_table;
pub mod routes;
pub mod small_photos;
pub mod unresolved;

pub use head::{leave, rule};

use egui::{ScrollArea, Ui};
use knockon_core::Sheet;

use crate::app::told::Told;
use crate::app::view::{Action, Spot, View};
use crate::look::theme::tokens;
use crate::look::tokens::Tokens;

/// Of a wide window, what an open place takes.
const OPEN: f32 = 0.58;
/// A window with less than this gives the panel no more than it needs.
const WIDE: f32 = 1_200.0;
/// What it takes else.
const NARROW: f32 = 396.0;

/// How wide the panel begins, and under which name egui keeps what the user made of it.
pub fn width(view: &View, window: f32) -> (&'static str, f32) {
    let open = view.behind.is_none() && view.selected.is_some();
    if open && window >= WIDE { ("opened", window * OPEN) } else { ("position", NARROW) }
}

/// Draws the panel.
pub fn show(ui: &mut Ui, a: &Told, sheet: &Sheet, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let at = (view.behind, view.selected.clone());
    let fresh = view.panel_at.as_ref() != Some(&at);
    view.panel_at = Some(at);
    let covered = view.message.is_some() || !view.unread.is_empty();
    if let Some(which) = view.behind {
        return figure_list::panel(ui, a, which, fresh, view);
    }
    match view.selected.clone() {
        Some(Spot::Position(id)) => match a.positions.iter().find(|p| p.id == id) {
            Some(p) => {
                head::place(ui, &t, a, p, view, &mut actions);
                scroll(ui, fresh, covered, |ui| place::body(ui, &t, a, sheet, p, view, &mut actions));
            }
            None => gone(ui, &t, view, &mut actions),
        },
        Some(Spot::Companion(key)) => match a.companions.iter().find(|c| c.key == key) {
            Some(c) => {
                companion::head(ui, &t, c, view, &mut actions);
                scroll(ui, fresh, covered, |ui| companion::details(ui, &t, a, sheet, c, view, &mut actions));
            }
            None => gone(ui, &t, view, &mut actions),
        },
        None => scroll(ui, fresh, covered, |ui| unresolved::show(ui, &t, a, view, &mut actions)),
    }
    actions
}

/// `covered`: a message lies over the end of the panel, which can be scrolled out from under it.
fn scroll(ui: &mut Ui, fresh: bool, covered: bool, add: impl FnOnce(&mut Ui)) {
    let mut area = ScrollArea::vertical().id_salt("panel").auto_shrink(false);
    if fresh {
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        ui.set_width(ui.available_width());
        add(ui);
        ui.add_space(if covered { 120.0 } else { 16.0 });
    });
}

fn gone(ui: &mut Ui, t: &Tokens, view: &View, actions: &mut Vec<Action>) {
    leave(ui, view, actions);
    ui.add_space(12.0);
    ui.colored_label(t.soft, "What was selected is no longer part of the plan. Undo brings it back.");
}
