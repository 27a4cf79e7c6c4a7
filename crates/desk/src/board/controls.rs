//! How much of the board is told, and what is looked for on it.

use egui::accesskit::Role;
use egui::{Button, Color32, RichText, Ui, Vec2};
use knockon_core::Assessment;

use crate::app::view::{Action, View};
use crate::board::density::Density;
use crate::board::filter::Filter;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};

/// Draws them; they wrap where there is little room.
pub fn controls(ui: &mut Ui, t: &Tokens, a: &Assessment, view: &mut View, actions: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing = Vec2::new(6.0, 6.0);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        for density in Density::ALL {
            let button = Button::selectable(view.density == density, density.word())
                .min_size(Vec2::new(0.0, TARGET))
                .frame_when_inactive(true);
            let response = ui.add(button);
            response.widget_info(|| {
                let label = format!("Show {}", density.word());
                egui::WidgetInfo::selected(Role::RadioButton, true, view.density == density, label)
            });
            let keys = density.command().keys(ui.ctx());
            if response.on_hover_text(format!("{} ({keys})", density.command().label())).clicked() {
                actions.push(Action::Do(density.command()));
            }
        }
        ui.add_space(12.0);
        ui.spacing_mut().item_spacing.x = 6.0;
        let roomy = ui.available_width() > 300.0;
        for filter in Filter::ALL {
            // the last is in the strip and in Buying as well
            if filter == Filter::ToBuy && !roomy && view.filter != Some(filter) {
                continue;
            }
            chip(ui, t, a, filter, view);
        }
    });
}

fn chip(ui: &mut Ui, t: &Tokens, a: &Assessment, filter: Filter, view: &mut View) {
    let (n, on) = (filter.count(a), view.filter == Some(filter));
    if n == 0 && !on {
        return;
    }
    let warm = matches!(filter, Filter::Clash | Filter::Measure | Filter::Danger);
    let tone = if warm && !on { t.warm } else { t.ink };
    let text = RichText::new(format!("{} {n}", filter.word())).font(theme::small()).color(tone);
    let button = Button::new(text).selected(on).min_size(Vec2::new(0.0, TARGET));
    let button = if on { button } else { button.fill(Color32::TRANSPARENT) };
    let response = ui.add(button);
    response.widget_info(|| {
        egui::WidgetInfo::selected(Role::Button, true, on, format!("Only what is: {} {n}", filter.word()))
    });
    if response.on_hover_text("The rest steps back; once more brings it forward").clicked() {
        view.filter = (!on).then_some(filter);
    }
}
