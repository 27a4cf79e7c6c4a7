//! A new sheet: which vehicle, and what it is called. It starts with one plan and nothing chosen.

use egui::accesskit::Role;
use egui::{Button, Key, Label, RichText, ScrollArea, TextEdit, Vec2};
use knockon_core::sheet::Plan;
use knockon_core::{Catalogue, Sheet};

use crate::app::App;
use crate::text::{named, select_all};
use crate::theme::{self, strong, tokens};
use crate::tokens::HEAD;
use crate::view::{Action, Dialog, Page};

/// What has been answered so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewSheet {
    /// As typed.
    pub name: String,
    /// Vehicle id.
    pub vehicle: String,
    /// The name is the vehicle's until somebody types another.
    pub own_name: bool,
    /// Not drawn yet: the name takes the keyboard.
    pub fresh: bool,
}

impl App {
    /// Asks for vehicle and name; the vehicle of the open sheet comes first.
    pub(crate) fn ask_new(&mut self) {
        let vehicles = &self.catalogue().vehicles;
        let now = &self.document.sheet().vehicle;
        let first = vehicles.get_key_value(now).or_else(|| vehicles.first_key_value());
        let Some((id, vehicle)) = first else {
            self.trouble("The library has no vehicle to begin a sheet for.".to_owned());
            return;
        };
        let (name, vehicle) = (vehicle.name.clone(), id.clone());
        self.view.dialog = Some(Dialog::New(NewSheet { name, vehicle, own_name: false, fresh: true }));
    }

    /// Puts a new sheet on the desk.
    pub(crate) fn begin(&mut self, vehicle: String, name: String) {
        let plan = Plan { name: "Plan 1".to_owned(), ..Plan::default() };
        let mut sheet = Sheet { format: 1, name, vehicle, plan: "plan-1".to_owned(), ..Sheet::default() };
        sheet.plans.insert("plan-1".to_owned(), plan);
        (self.view.dialog, self.view.message) = (None, None);
        self.put(sheet, None);
        self.go(Page::Board);
        let about_the_last = self.view.message.as_ref().map(|m| format!(" {}", m.text)).unwrap_or_default();
        self.tell(format!(
            "Everything is kept as found until you choose. Save gives the sheet a file.{about_the_last}"
        ));
    }
}

/// Draws the dialog.
pub fn show(ctx: &egui::Context, catalogue: &Catalogue, new: &mut NewSheet) -> Vec<Action> {
    let mut actions = Vec::new();
    let modal = crate::dialogs::over(ctx, "new sheet").show(ctx, |ui| {
        ui.set_width(560.0);
        let t = tokens(ui);
        ui.label(RichText::new("New sheet").font(strong(HEAD)));
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
        ScrollArea::vertical().max_height(300.0).auto_shrink([false, true]).show(ui, |ui| {
            for (id, vehicle) in &catalogue.vehicles {
                let chosen = *id == new.vehicle;
                let text = RichText::new(&vehicle.name).font(strong(14.0));
                let button = Button::selectable(chosen, text).min_size(Vec2::new(ui.available_width(), 30.0));
                let entry = ui.add(button);
                entry.widget_info(|| {
                    egui::WidgetInfo::selected(Role::RadioButton, true, chosen, &vehicle.name)
                });
                if entry.clicked() {
                    new.vehicle.clone_from(id);
                    if !new.own_name {
                        new.name.clone_from(&vehicle.name);
                    }
                }
                if !vehicle.about.is_empty() {
                    ui.add(
                        Label::new(RichText::new(&vehicle.about).font(theme::small()).color(t.soft)).wrap(),
                    );
                }
            }
        });
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            let given = !new.name.trim().is_empty() && catalogue.vehicles.contains_key(&new.vehicle);
            let go = ui.add_enabled(given, Button::new("Begin the sheet").min_size(Vec2::new(96.0, 30.0)));
            if go.clicked() || enter && given {
                actions.push(Action::Begin(new.vehicle.clone(), new.name.trim().to_owned()));
            }
            if ui.add(Button::new("Cancel").min_size(Vec2::new(96.0, 30.0))).clicked() {
                actions.push(Action::CloseDialog);
            }
        });
    });
    if modal.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}
