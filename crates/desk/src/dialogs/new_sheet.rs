//! The dialog of a new sheet: which vehicle, and what it is called.

use egui::accesskit::Role;
use egui::{Button, Key, Label, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::Catalogue;
use knockon_core::catalogue::VehicleEntry;

use crate::access::heard;
use crate::app::view::Action;
use crate::dialogs::modal::{answers, over};
use crate::dialogs::open::NewSheet;
use crate::look::text::{named, select_all};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, Tokens};

/// Draws the dialog.
pub fn show(ctx: &egui::Context, catalogue: &Catalogue, new: &mut NewSheet) -> Vec<Action> {
    let mut actions = Vec::new();
    let modal = over(ctx, "new sheet", "New sheet").show(ctx, |ui| {
        ui.set_width(560.0);
        let t = tokens(ui);
        heard::heading(ui, 2, RichText::new("New sheet").font(strong(HEAD)));
        ui.label("Name");
        let field = TextEdit::singleline(&mut new.name)
            .id(egui::Id::unique("new sheet name"))
            .desired_width(f32::INFINITY)
            .min_size(Vec2::new(0.0, 30.0))
            .align(egui::Align2::LEFT_CENTER);
        let response = named(ui.add(field), "Name of the sheet");
        if std::mem::take(&mut new.fresh) {
            response.request_focus();
            select_all(ui, response.id, &new.name);
        }
        new.own_name |= response.changed();
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        ui.add_space(4.0);
        ui.label("Vehicle");
        let tall = (ctx.content_rect().height() - 230.0).clamp(80.0, 430.0);
        ScrollArea::vertical().max_height(tall).auto_shrink([false, true]).show(ui, |ui| {
            let of =
                |beginning: bool| catalogue.vehicles.iter().filter(move |(_, v)| v.beginning == beginning);
            for (id, vehicle) in of(false) {
                entry(ui, &t, new, id, vehicle);
            }
            if of(true).next().is_some() {
                ui.add_space(8.0);
                ui.label(RichText::new("Yours is another? Describe it, beginning from").font(strong(BODY)));
                ui.add_space(2.0);
            }
            // a blank one is for whom nothing else is a beginning
            let (blank, kinds): (Vec<_>, Vec<_>) = of(true).partition(|(_, v)| v.positions.is_empty());
            for (id, vehicle) in kinds.into_iter().chain(blank) {
                entry(ui, &t, new, id, vehicle);
            }
        });
        let given = !new.name.trim().is_empty() && catalogue.vehicles.contains_key(&new.vehicle);
        if answers(ui, "Begin the sheet", given, enter, &mut actions) {
            actions.push(Action::Begin(new.vehicle.clone(), new.name.trim().to_owned()));
        }
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

/// A vehicle to choose.
fn entry(ui: &mut Ui, t: &Tokens, new: &mut NewSheet, id: &str, vehicle: &VehicleEntry) {
    let chosen = *id == new.vehicle;
    let text = RichText::new(&vehicle.name).font(strong(14.0));
    let button = Button::selectable(chosen, text).min_size(Vec2::new(ui.available_width(), 30.0));
    let entry = ui.add(button);
    entry.widget_info(|| egui::WidgetInfo::selected(Role::RadioButton, true, chosen, &vehicle.name));
    if entry.clicked() {
        id.clone_into(&mut new.vehicle);
        // a beginning is not what one's own is called
        if !new.own_name && !vehicle.beginning {
            new.name.clone_from(&vehicle.name);
        } else if !new.own_name {
            new.name.clear();
            new.fresh = true;
        }
    }
    if !vehicle.about.is_empty() {
        ui.add(Label::new(RichText::new(&vehicle.about).font(theme::small()).color(t.soft)).wrap());
    }
}
