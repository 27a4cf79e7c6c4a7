//! The start page: the example with its plans, and the sheets used last.

use std::collections::BTreeMap;
use std::path::PathBuf;

use egui::{Button, Frame, Label, Margin, RichText, ScrollArea, Stroke, Ui, Vec2};
use knockon_core::Sheet;

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::view::Action;
use crate::look::text::wrapped;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, TARGET, Tokens};

/// What the start page shows.
pub struct Page<'a> {
    /// The example.
    pub example: &'a Sheet,
    /// Examples of other vehicles.
    pub further: &'a [Sheet],
    /// How its plans stand, once that is worked out.
    pub figures: Option<&'a BTreeMap<String, String>>,
    /// Name of the open sheet.
    pub open: &'a str,
    /// Files used last.
    pub recent: &'a [PathBuf],
}

/// Draws the start page.
pub fn start(ui: &mut Ui, page: &Page<'_>) -> Vec<Action> {
    let example = page.example;
    let t = tokens(ui);
    let mut actions = Vec::new();
    ScrollArea::vertical().id_salt("start").auto_shrink(false).show(ui, |ui| {
        let room = ui.available_width();
        let width = room.min(1040.0);
        ui.horizontal_top(|ui| {
            ui.add_space((room - width) / 2.0);
            ui.vertical(|ui| {
                ui.set_width(width);
                ui.add_space(28.0);
                let title = "What will you do, and what does it drag in?";
                heard::heading(ui, 1, RichText::new(title).font(strong(26.0)));
                let text = "Choose a route at each place on the vehicle. Knockon works out every part, adapter, fluid and hour the \
                            choice brings with it, what no longer fits, and what it costs, each with its reason.";
                ui.add(Label::new(RichText::new(text).size(15.0).color(t.soft)).wrap());
                ui.add_space(20.0);
                heard::heading(ui, 2, RichText::new(format!("The example: {}", example.name)).font(strong(HEAD)));
                if !example.about.is_empty() {
                    ui.add(Label::new(RichText::new(&example.about).color(t.soft)).wrap());
                }
                ui.add_space(8.0);
                plans(ui, &t, page, width, &mut actions);
                further(ui, &t, page.further, &mut actions);
                ui.add_space(20.0);
                own(ui, &t, page.open, page.recent, &mut actions);
                ui.add_space(20.0);
            });
        });
    });
    actions
}

/// Further examples, each with what it is about.
fn further(ui: &mut Ui, t: &Tokens, sheets: &[Sheet], actions: &mut Vec<Action>) {
    if sheets.is_empty() {
        return;
    }
    ui.add_space(20.0);
    heard::heading(ui, 2, RichText::new("Other sheets to look at").font(strong(HEAD)));
    for (at, sheet) in sheets.iter().enumerate() {
        ui.add_space(4.0);
        ui.horizontal_top(|ui| {
            if ui.add(Button::new(&sheet.name).min_size(Vec2::new(190.0, TARGET))).clicked() {
                actions.push(Action::Further(at));
            }
            ui.add(Label::new(RichText::new(&sheet.about).font(theme::small()).color(t.soft)).wrap());
        });
    }
}

fn plans(ui: &mut Ui, t: &Tokens, page: &Page<'_>, width: f32, actions: &mut Vec<Action>) {
    let example = page.example;
    let n = example.plans.len().clamp(1, 3);
    let gap = 14.0;
    let each = (width - gap * (n as f32 - 1.0)) / n as f32;
    let inner = each - 30.0;
    let tall = |texts: Vec<&str>, font: &egui::FontId| {
        let height = |text: &&str| wrapped(ui, text, font.clone(), t.ink, inner).size().y;
        texts.iter().map(height).fold(0.0, f32::max)
    };
    let about_height = tall(example.plans.values().map(|p| p.about.as_str()).collect(), &theme::body());
    let figures: Vec<&str> = page.figures.iter().flat_map(|f| f.values()).map(String::as_str).collect();
    let figures_height = tall(figures, &theme::small()).max(16.0);
    let plans: Vec<_> = example.plans.iter().enumerate().collect();
    for row in plans.chunks(n) {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = gap;
            for (i, (id, plan)) in row {
                let card = Frame::new()
                    .fill(t.sheet)
                    .stroke(Stroke::new(1.0, t.line))
                    .corner_radius(4)
                    .inner_margin(Margin::same(14));
                card.show(ui, |ui| {
                    ui.vertical(|ui| {
                        ui.set_width(inner);
                        ui.add(Label::new(RichText::new(&plan.name).font(strong(16.0))).wrap());
                        ui.allocate_ui(Vec2::new(inner, about_height), |ui| {
                            ui.set_min_height(about_height);
                            ui.add(Label::new(&plan.about).wrap());
                        });
                        let figures =
                            page.figures.and_then(|f| f.get(*id)).map_or("working it out…", String::as_str);
                        ui.allocate_ui(Vec2::new(inner, figures_height), |ui| {
                            ui.set_min_height(figures_height);
                            ui.add(
                                Label::new(RichText::new(figures).font(theme::small()).color(t.soft)).wrap(),
                            );
                        });
                        let key = RichText::new((i + 1).to_string()).font(theme::small()).color(t.soft);
                        let button =
                            Button::new("Look at this plan").right_text(key).min_size(Vec2::new(inner, 32.0));
                        let response = ui.add(button);
                        response.widget_info(|| {
                            let label = format!("Look at this plan: {}", plan.name);
                            egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, label)
                        });
                        if response.clicked() {
                            actions.push(Action::StartWith((*id).clone()));
                        }
                    });
                });
            }
        });
        ui.add_space(8.0);
    }
}

fn own(ui: &mut Ui, t: &Tokens, open: &str, recent: &[PathBuf], actions: &mut Vec<Action>) {
    heard::heading(ui, 2, RichText::new("Your sheets").font(strong(HEAD)));
    ui.horizontal_wrapped(|ui| {
        if ui.button(format!("Back to {open}")).clicked() {
            actions.push(Action::Do(Command::Board));
        }
        for command in [Command::New, Command::Open, Command::HowItWorks] {
            let keys = command.keys(ui.ctx());
            if ui.add(Button::new(command.label()).shortcut_text(keys)).clicked() {
                actions.push(Action::Do(command));
            }
        }
    });
    for path in recent {
        let name =
            path.file_name().map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned());
        let folder = path.parent().map(|p| p.display().to_string()).unwrap_or_default();
        ui.horizontal(|ui| {
            if ui.button(name).clicked() {
                actions.push(Action::Open(path.clone()));
            }
            ui.add(Label::new(RichText::new(folder).font(theme::small()).color(t.soft)).truncate());
        });
    }
}
