//! The places of the vehicle with a tick each, and those that others have without one.

use egui::{Button, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::described::place::New;
use knockon_core::described::usual::Usual;

use crate::access::{self, Keys};
use crate::app::view::Action;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tick_box;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::vehicle::state::{Step, VehicleState};
use crate::vehicle::told::{Here, OfSystem, Row, Told};

/// Draws the list.
pub fn list(ui: &mut Ui, t: &Tokens, told: &Told, state: &mut VehicleState, actions: &mut Vec<Action>) {
    let field = TextEdit::singleline(&mut state.find)
        .hint_text("Find a place: tank, shaft, heater …")
        .desired_width(f32::INFINITY)
        .min_size(Vec2::new(0.0, TARGET))
        .align(egui::Align2::LEFT_CENTER);
    named(ui.add(field), "Find a place of the vehicle");
    ui.add_space(4.0);
    let words: Vec<String> = state.find.to_lowercase().split_whitespace().map(str::to_owned).collect();
    let meant = |text: &str| {
        let text = text.to_lowercase();
        words.iter().all(|word| text.contains(word.as_str()))
    };
    ScrollArea::vertical().id_salt("places of the vehicle").auto_shrink(false).show(ui, |ui| {
        access::list(ui, Keys::Walk, None);
        let mut any = false;
        for system in &told.systems {
            let text = |row: &Row| match row {
                Row::Here(p) => format!("{} {} {}", p.name, p.found, system.name),
                Row::Other(p) => format!("{} {} {}", p.name, p.class, system.name),
            };
            let rows: Vec<&Row> = system.rows.iter().filter(|row| meant(&text(row))).collect();
            if rows.is_empty() {
                continue;
            }
            any = true;
            heading(ui, t, system, rows.len() == system.rows.len(), actions);
            for row in rows {
                match row {
                    Row::Here(place) => there(ui, t, place, state, actions),
                    Row::Other(place) => not_there(ui, t, place, actions),
                }
            }
        }
        if !any {
            ui.add_space(8.0);
            ui.colored_label(t.soft, "No place of any vehicle is called so.");
        }
        ui.add_space(16.0);
    });
}

fn heading(ui: &mut Ui, t: &Tokens, system: &OfSystem, whole: bool, actions: &mut Vec<Action>) {
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        ui.label(RichText::new(&system.name).font(strong(BODY)));
        ui.label(RichText::new(format!("{} here", system.here)).font(theme::small()).color(t.soft));
        if whole && !system.most_have.is_empty() {
            let text = format!("Tick the {} that most vehicles have", system.most_have.len());
            let button = ui.add(Button::new(RichText::new(text).font(theme::small())));
            button.widget_info(|| {
                let name =
                    format!("{}: tick the {} that most vehicles have", system.name, system.most_have.len());
                egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, name)
            });
            if button.clicked() {
                let all = system.most_have.iter().map(new).collect();
                actions.push(Action::Vehicle(Step::AddAll(system.name.clone(), all)));
            }
        }
    });
}

fn there(ui: &mut Ui, t: &Tokens, place: &Here, state: &VehicleState, actions: &mut Vec<Action>) {
    ui.push_id(&place.id, |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0;
            if tick_box::show(ui, t, true, &format!("{} is there", place.name)) {
                actions.push(Action::Vehicle(Step::TakeOut(place.id.clone())));
            }
            let open = state.at.as_ref() == Some(&place.id);
            let right = RichText::new(&place.found).font(theme::small()).color(t.soft);
            let button = Button::selectable(open, &place.name)
                .right_text(right)
                .truncate()
                .min_size(Vec2::new(ui.available_width() - 10.0, TARGET));
            if ui.add(button).clicked() {
                actions.push(Action::Vehicle(Step::Show((!open).then(|| place.id.clone()))));
            }
        });
    });
}

fn not_there(ui: &mut Ui, t: &Tokens, place: &Usual, actions: &mut Vec<Action>) {
    ui.push_id((&place.class, String::from(place.whereabouts.clone())), |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 2.0;
            if tick_box::show(ui, t, false, &format!("{} is there", place.name)) {
                actions.push(Action::Vehicle(Step::Add(new(place))));
            }
            ui.add_space(6.0);
            let text = RichText::new(&place.name).color(t.soft);
            ui.add(egui::Label::new(text).truncate()).on_hover_text(format!("On {}", place.on.join(", ")));
        });
    });
}

/// A place as others have it.
fn new(usual: &Usual) -> New {
    New {
        name: usual.name.clone(),
        class: usual.class.clone(),
        system: usual.system.clone(),
        whereabouts: usual.whereabouts.clone(),
        qty: usual.qty,
        ..New::default()
    }
}
