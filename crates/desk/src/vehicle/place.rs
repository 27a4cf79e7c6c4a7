//! A place of the vehicle: its name, where it is, what sits there, what it meets.

use egui::accesskit::Role;
use egui::{Button, ComboBox, Label, RichText, Ui, Vec2, WidgetInfo};
use knockon_core::Sheet;
use knockon_core::described::place::New;
use knockon_core::edit::AsFound;
use knockon_core::grammar::lower;

use crate::app::view::{Action, Spot};
use crate::look::margin::left;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::vehicle::field::{Field, Look, written};
use crate::vehicle::meets;
use crate::vehicle::state::{Step, VehicleState};
use crate::vehicle::told::{Place, Told};

/// Width of what stands before a field.
const NAME: f32 = 96.0;

/// Draws it.
pub fn place(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    told: &Told,
    place: &Place,
    state: &mut VehicleState,
    actions: &mut Vec<Action>,
) {
    let id = &place.id;
    ui.horizontal(|ui| {
        ui.add(Label::new(RichText::new(&place.name).font(strong(HEAD))).truncate());
        if place.class_name.to_lowercase() != place.name.to_lowercase() {
            ui.label(RichText::new(&place.class_name).font(theme::small()).color(t.soft));
        }
    });
    ui.add_space(4.0);
    row(ui, t, "Name", |ui| {
        let look = Look { now: &place.name, width: 300.0, name: "Name of the place", hint: "" };
        let field = Field::Place(id.clone());
        actions.extend(written(ui, t, told, state, &field, &look).map(Action::Vehicle));
    });
    row(ui, t, "Where", |ui| {
        let (now, name, hint) = (&place.whereabouts, "Where the place is", "front, rear left …");
        let field = Field::Where(id.clone());
        let look = Look { now, width: 160.0, name, hint };
        actions.extend(written(ui, t, told, state, &field, &look).map(Action::Vehicle));
        ui.label(RichText::new("beside others of its kind").font(theme::small()).color(t.soft));
    });
    row(ui, t, "How many", |ui| {
        let field = Field::Qty(id.clone());
        let now = place.qty.to_string();
        let look = Look { now: &now, width: 48.0, name: "How many sit there", hint: "" };
        actions.extend(written(ui, t, told, state, &field, &look).map(Action::Vehicle));
        ui.label(RichText::new("alike").font(theme::small()).color(t.soft));
    });
    row(ui, t, "As found", |ui| found(ui, t, sheet, place, actions));
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        let button = |text: &str| Button::new(text).min_size(Vec2::new(0.0, TARGET));
        if ui.add(button("Type in what I know of it")).clicked() {
            actions.push(Action::Vehicle(Step::Know(id.clone())));
        }
        if ui.add(button("Another like this")).clicked() {
            actions.push(Action::Vehicle(Step::Add(another(told, place))));
        }
        if ui.add(button("It is not there")).clicked() {
            actions.push(Action::Vehicle(Step::TakeOut(id.clone())));
        }
        if ui.add(button("To the board")).clicked() {
            actions.push(Action::Select(Some(Spot::Position(id.clone()))));
        }
    });
    ui.add_space(8.0);
    meets::meets(ui, t, place, state, actions);
}

fn row(ui: &mut Ui, t: &Tokens, name: &str, add: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        left(ui, NAME, RichText::new(name).color(t.soft).font(theme::small()));
        add(ui);
    });
    ui.add_space(2.0);
}

/// One more of a place, under the next name that is free.
fn another(told: &Told, place: &Place) -> New {
    let taken = |name: &str| told.systems.iter().flat_map(|s| &s.rows).any(|row| row.name() == name);
    let lower = lower(&place.name);
    let names = ["Second", "Third", "Fourth"].iter().map(|n| format!("{n} {lower}"));
    let numbered = (5..1000).map(|n| format!("{} {n}", place.name));
    let name = names.chain(numbered).find(|name| !taken(name)).unwrap_or_else(|| place.name.clone());
    New { name, class: place.class.clone(), system: place.system.clone(), qty: place.qty, ..New::default() }
}

fn found(ui: &mut Ui, t: &Tokens, sheet: &Sheet, place: &Place, actions: &mut Vec<Action>) {
    let own = place.found.as_ref().is_some_and(|(id, _)| sheet.parts.contains_key(id));
    let now = place.found.as_ref().map_or("Nothing", |(_, name)| name.as_str());
    let mut pick = |step| actions.push(Action::Vehicle(step));
    let choice = ComboBox::from_id_salt(("found in", &place.id))
        .selected_text(now)
        .width((ui.available_width() - 20.0).clamp(160.0, 420.0))
        .height(420.0)
        .truncate()
        .show_ui(ui, |ui| {
            if ui.selectable_label(false, "Not looked at yet").clicked() {
                pick(Step::NotLookedAt(place.id.clone()));
            }
            if ui.selectable_label(place.found.is_none(), "Nothing").clicked() {
                pick(Step::Found(place.id.clone(), AsFound::Nothing));
            }
            ui.separator();
            for (id, name) in &place.could_be {
                let here = place.found.as_ref().is_some_and(|(found, _)| found == id);
                if ui.selectable_label(here, name).clicked() && !here {
                    pick(Step::Found(place.id.clone(), AsFound::Part(id.clone())));
                }
            }
        });
    choice.response.widget_info(|| {
        let mut info = WidgetInfo::labeled(Role::ComboBox, true, format!("As found: {}, {now}", place.name));
        info.current_text_value = Some(now.to_owned());
        info
    });
    if own {
        ui.label(RichText::new("yours").font(theme::small()).color(t.soft));
    }
}
