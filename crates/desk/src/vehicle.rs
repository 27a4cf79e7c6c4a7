//! The vehicle as it is: its name, its places, what sits there and what they meet.

pub mod field;
pub mod list;
pub mod meets;
pub mod place;
pub mod state;
pub mod steps;
pub mod told;

use egui::{Align, Frame, Label, Layout, RichText, ScrollArea, Stroke, Ui, Vec2};
use knockon_core::Sheet;

use crate::access::heard;
use crate::app::view::Action;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, Tokens};
use crate::vehicle::field::{Field, Look, written};
use crate::vehicle::state::VehicleState;
use crate::vehicle::told::Told;

/// Width of the list on the left.
const LIST: f32 = 560.0;

/// Draws the page.
pub fn page(ui: &mut Ui, sheet: &Sheet, told: &Told, state: &mut VehicleState) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    head(ui, &t, told, state, &mut actions);
    ui.add_space(6.0);
    let paper = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4).inner_margin(14);
    ui.horizontal_top(|ui| {
        let wide = LIST.min(ui.available_width() * 0.5);
        let size = Vec2::new(wide, ui.available_height());
        ui.allocate_ui_with_layout(size, Layout::top_down(Align::LEFT), |ui| {
            ui.set_width(wide);
            list::list(ui, &t, told, state, &mut actions);
        });
        ui.add_space(6.0);
        paper.show(ui, |ui| {
            ui.vertical(|ui| {
                ui.set_min_size(ui.available_size());
                ScrollArea::vertical().id_salt(("place of the vehicle", &state.at)).auto_shrink(false).show(
                    ui,
                    |ui| match &told.place {
                        Some(place) => place::place(ui, &t, sheet, told, place, state, &mut actions),
                        None => nothing(ui, &t),
                    },
                );
            });
        });
    });
    actions
}

fn head(ui: &mut Ui, t: &Tokens, told: &Told, state: &mut VehicleState, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        heard::heading(ui, 2, RichText::new("Vehicle").font(strong(HEAD)));
        let (name, about) = ("Name of the vehicle", "About the vehicle");
        let look = Look { now: &told.name, width: 260.0, name, hint: "make, model, year" };
        actions.extend(written(ui, t, told, state, &Field::Name, &look).map(Action::Vehicle));
        let look = Look { now: &told.about, width: 420.0, name: about, hint: "one sentence" };
        actions.extend(written(ui, t, told, state, &Field::About, &look).map(Action::Vehicle));
        ui.colored_label(t.soft, format!("{} places, {} joints", told.places, told.joints));
    });
    if let Some(from) = &told.from {
        let text = format!("Described from: {from}. What you change here is kept in this sheet alone.");
        ui.add(Label::new(RichText::new(text).color(t.soft)).truncate());
    }
}

fn nothing(ui: &mut Ui, t: &Tokens) {
    ui.add_space(6.0);
    ui.label(RichText::new("What your vehicle has").font(strong(HEAD)));
    let text = "On the left stand the places of this vehicle, and below them those that others have. Tick what is there, clear \
                the tick of what is not. A place you tick meets what such places meet on other vehicles, and what sits there \
                counts as not looked at: it is asked for once something hangs on it.";
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
    ui.add_space(6.0);
    let text = "Choose a place to say what sits there, to give it another name, to add another of it, or to say what it meets.";
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
}
