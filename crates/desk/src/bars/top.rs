//! The slim bar on top: file menu, sheet, plan, pages, find, undo, redo, light and dark.

use std::path::PathBuf;

use egui::accesskit::Role;
use egui::containers::menu::MenuButton;
use egui::{
    Align, Button, Color32, ComboBox, Id, Layout, Pos2, Response, RichText, Sense, TextEdit, Ui, Vec2,
};
use knockon_core::showing::Measure;
use knockon_core::{Edit, Sheet};

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::view::{Action, Page, View};
use crate::find::found_list;
use crate::find::found_list::arrows;
use crate::find::leads;
use crate::look::icons;
use crate::look::text::{named, short as shortened};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, TARGET, Tokens};

/// What the bar shows of the document.
pub struct Bar<'a> {
    /// The sheet.
    pub sheet: &'a Sheet,
    /// Name of its file.
    pub file: Option<String>,
    /// There is something to save.
    pub dirty: bool,
    /// The step that can be taken back.
    pub undo: Option<&'a str>,
    /// The step that can be taken again.
    pub redo: Option<&'a str>,
    /// Files used last.
    pub recent: &'a [PathBuf],
    /// The vehicle's drawing is shown; `None`: it has none.
    pub vehicle: Option<bool>,
}

/// A bar with less room than this has two rows: what stands in one leaves nothing to the find field.
const TWO_ROWS: f32 = 984.0;
/// Left and right of what stands in the bar.
const RIMS: f32 = 16.0;

/// The height of the bar in a window of this width.
pub fn height(window: f32) -> f32 {
    if window - RIMS < TWO_ROWS { 88.0 } else { 48.0 }
}

/// A bar with less room than this shows four pages, and the others in a list.
const FOUR_PAGES: f32 = 1240.0;

const ALL_PAGES: [(Page, Command); 9] = [
    (Page::Survey, Command::Walk),
    (Page::Board, Command::Board),
    (Page::FitUp, Command::FitUp),
    (Page::Plans, Command::Plans),
    (Page::Buying, Command::Buying),
    (Page::Money, Command::Money),
    (Page::Jobs, Command::Jobs),
    (Page::Vehicle, Command::Vehicle),
    (Page::Library, Command::Library),
];

const OFTEN: [(Page, Command); 4] = [
    (Page::Board, Command::Board),
    (Page::FitUp, Command::FitUp),
    (Page::Buying, Command::Buying),
    (Page::Jobs, Command::Jobs),
];

const SELDOM: [(Page, Command); 5] = [
    (Page::Survey, Command::Walk),
    (Page::Plans, Command::Plans),
    (Page::Money, Command::Money),
    (Page::Vehicle, Command::Vehicle),
    (Page::Library, Command::Library),
];

/// The id of the find field.
pub fn find_id() -> Id {
    Id::unique("find field")
}

/// Draws the bar.
pub fn bar(ui: &mut Ui, bar: &Bar<'_>, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    // in a narrow window pages and tools stand under the sheet
    if ui.available_width() < TWO_ROWS {
        ui.vertical(|ui| {
            ui.horizontal(|ui| {
                document(ui, &t, bar, 150.0, &mut actions);
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| steps(ui, bar, &mut actions));
            });
            ui.horizontal(|ui| {
                pages(ui, bar, true, view, &mut actions);
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| tools(ui, &t, view, &mut actions));
            });
        });
        return actions;
    }
    let short = ui.available_width() < FOUR_PAGES;
    ui.horizontal_centered(|ui| {
        document(ui, &t, bar, 220.0, &mut actions);
        ui.add_space(8.0);
        pages(ui, bar, short, view, &mut actions);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            look(ui, &t, view, &mut actions);
            steps(ui, bar, &mut actions);
            finding(ui, &t, view, &mut actions);
        });
    });
    actions
}

/// File menu, sheet and plan.
fn document(ui: &mut Ui, t: &Tokens, bar: &Bar<'_>, width: f32, actions: &mut Vec<Action>) {
    file_menu(ui, bar.recent, actions);
    ui.add_space(4.0);
    let saved = match (&bar.file, bar.dirty) {
        (None, _) => "not saved yet".to_owned(),
        (Some(file), true) => format!("{file}, changed"),
        (Some(file), false) => file.clone(),
    };
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.set_max_width(width);
        ui.add_space(3.0);
        let name = egui::Label::new(RichText::new(&bar.sheet.name).font(strong(BODY))).truncate();
        ui.add(name).on_hover_text(&bar.sheet.name);
        let note = egui::Label::new(RichText::new(saved).font(theme::small()).color(t.soft)).truncate();
        ui.add(note);
    });
    ui.add_space(4.0);
    plan(ui, bar.sheet, actions);
}

/// The pages; `short`: those used least stand in a list.
fn pages(ui: &mut Ui, bar: &Bar<'_>, short: bool, view: &View, actions: &mut Vec<Action>) {
    let (row, more): (&[_], &[_]) = if short { (&OFTEN, &SELDOM) } else { (&ALL_PAGES, &[]) };
    for &(page, command) in row {
        if ui.add(Button::selectable(view.page == page, command.label())).clicked() {
            actions.push(Action::Do(command));
        }
    }
    if !more.is_empty() {
        // it stays the way to the others, whichever of them is shown
        let here = more.iter().find(|(page, _)| *page == view.page).map(|(_, command)| command.label());
        let name = here.map_or_else(|| "More".to_owned(), |here| heard::valued("More", here));
        let list =
            MenuButton::from_button(Button::selectable(here.is_some(), name).frame_when_inactive(true));
        let (response, _) = list.ui(ui, |ui| {
            for &(page, command) in more {
                let keys = command.keys(ui.ctx());
                let entry = Button::selectable(view.page == page, command.label()).shortcut_text(keys);
                if ui.add(entry).clicked() {
                    actions.push(Action::Do(command));
                    ui.close();
                }
            }
        });
        let said = here.map_or_else(|| "More pages".to_owned(), |here| heard::valued("More pages", here));
        response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, said.clone()));
    }
    if let Some(shown) = bar.vehicle.filter(|_| view.page == Page::Board) {
        let response = icon(ui, Command::Elevation, true, |p, c, tone| icons::vehicle(p, c, shown, tone));
        if response.clicked() {
            actions.push(Action::Do(Command::Elevation));
        }
    }
}

/// Undo and redo, laid out from the right.
fn steps(ui: &mut Ui, bar: &Bar<'_>, actions: &mut Vec<Action>) {
    let redo = icon_of(ui, Command::Redo, bar.redo, |p, c, tone| icons::turn(p, c, false, tone));
    if redo.clicked() {
        actions.push(Action::Do(Command::Redo));
    }
    let undo = icon_of(ui, Command::Undo, bar.undo, |p, c, tone| icons::turn(p, c, true, tone));
    if undo.secondary_clicked() || redo.secondary_clicked() {
        actions.push(Action::Do(Command::History));
    }
    if undo.clicked() {
        actions.push(Action::Do(Command::Undo));
    }
}

/// Light or dark, inch or metric, laid out from the right.
fn look(ui: &mut Ui, t: &Tokens, view: &View, actions: &mut Vec<Action>) {
    if icon(ui, Command::LightDark, true, icons::shade).clicked() {
        actions.push(Action::Do(Command::LightDark));
    }
    units(ui, t, view.measure, actions);
}

/// All commands, and the find field, laid out from the right.
fn finding(ui: &mut Ui, t: &Tokens, view: &mut View, actions: &mut Vec<Action>) {
    let keys = Command::Palette.keys(ui.ctx());
    let all = ui.add(Button::new(RichText::new(keys).font(theme::small()).color(t.soft)));
    all.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, Command::Palette.label()));
    if all.on_hover_text("All commands and places").clicked() {
        actions.push(Action::Do(Command::Palette));
    }
    find(ui, t, view, actions);
}

fn tools(ui: &mut Ui, t: &Tokens, view: &mut View, actions: &mut Vec<Action>) {
    look(ui, t, view, actions);
    finding(ui, t, view, actions);
}

fn file_menu(ui: &mut Ui, recent: &[PathBuf], actions: &mut Vec<Action>) {
    ui.menu_button("File", |ui| {
        ui.set_min_width(220.0);
        for entry in Command::FILE {
            let Some(command) = entry else {
                ui.separator();
                continue;
            };
            let keys = command.keys(ui.ctx());
            if ui.add(Button::new(command.label()).shortcut_text(keys)).clicked() {
                actions.push(Action::Do(command));
                ui.close();
            }
            if command == Command::OpenExample && !recent.is_empty() {
                ui.menu_button("Recent", |ui| {
                    for path in recent {
                        let name =
                            path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
                        let full = path.display().to_string();
                        if ui.button(name).on_hover_text(full).clicked() {
                            actions.push(Action::Open(path.clone()));
                            ui.close();
                        }
                    }
                });
            }
        }
    });
}

fn plan(ui: &mut Ui, sheet: &Sheet, actions: &mut Vec<Action>) {
    let now = sheet.plans.get(&sheet.plan).map_or(sheet.plan.as_str(), |p| p.name.as_str());
    let shown = shortened(ui, now, &theme::body(), 150.0);
    let choice =
        ComboBox::from_id_salt("plan").selected_text(shown).width(170.0).height(420.0).truncate().show_ui(
            ui,
            |ui| {
                ui.set_min_width(240.0);
                for (id, plan) in &sheet.plans {
                    let entry = ui.selectable_label(*id == sheet.plan, plan.name.as_str());
                    if entry.on_hover_text(&plan.about).clicked() && *id != sheet.plan {
                        actions.push(Action::Edit(vec![Edit::SwitchPlan { plan: id.clone() }]));
                    }
                }
                ui.separator();
                for command in [Command::CopyPlan, Command::RenamePlan, Command::DropPlan] {
                    let may = command != Command::DropPlan || sheet.plans.len() > 1;
                    if ui.add_enabled(may, Button::selectable(false, command.label())).clicked() {
                        actions.push(Action::Do(command));
                    }
                }
            },
        );
    heard::closed_list(&choice.response, "Plan", now);
}

/// Inch or metric.
fn units(ui: &mut Ui, t: &Tokens, measure: Measure, actions: &mut Vec<Action>) {
    let word = if measure == Measure::Inch { "in" } else { "mm" };
    let text = RichText::new(word).font(theme::small()).color(t.ink);
    let button = ui.add(Button::new(text).min_size(Vec2::new(36.0, TARGET + 2.0)));
    button.widget_info(|| {
        let label = heard::valued(Command::InchMetric.label(), measure.word());
        egui::WidgetInfo::labeled(Role::Button, true, label)
    });
    let hint =
        format!("Quantities are shown in {} units; switch to {}", measure.word(), measure.other().word());
    if button.on_hover_text(hint).clicked() {
        actions.push(Action::Do(Command::InchMetric));
    }
}

fn icon(
    ui: &mut Ui,
    command: Command,
    enabled: bool,
    draw: impl Fn(&egui::Painter, Pos2, Color32),
) -> Response {
    let keys = command.keys(ui.ctx());
    let label = command.label();
    let hint = if keys.is_empty() { label.to_owned() } else { format!("{label} ({keys})") };
    hinted(ui, command, enabled, &hint, draw)
}

fn hinted(
    ui: &mut Ui,
    command: Command,
    enabled: bool,
    hint: &str,
    draw: impl Fn(&egui::Painter, Pos2, Color32),
) -> Response {
    let label = command.label();
    let t = tokens(ui);
    let response = ui.add_enabled(enabled, Button::new("").min_size(Vec2::splat(TARGET + 2.0)));
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, enabled, label));
    draw(ui.painter(), response.rect.center(), if enabled { t.ink } else { t.edge });
    response.on_hover_text(hint).on_disabled_hover_text(hint)
}

/// A button for a step of the history: under the pointer it names the step, and the list of all is one click away.
fn icon_of(
    ui: &mut Ui,
    command: Command,
    step: Option<&str>,
    draw: impl Fn(&egui::Painter, Pos2, Color32),
) -> Response {
    let (keys, list) = (command.keys(ui.ctx()), Command::History.keys(ui.ctx()));
    let hint = match step {
        Some(step) => {
            format!("{} ({keys}): {step}. All steps: {list} or the right button", command.label())
        }
        None => format!("{} ({keys})", command.label()),
    };
    hinted(ui, command, step.is_some(), &hint, draw)
}

fn find(ui: &mut Ui, t: &Tokens, view: &mut View, actions: &mut Vec<Action>) {
    let before = view.find.clone();
    if !view.find.is_empty() && ui.button("Clear").clicked() {
        view.find.clear();
    }
    let listed = leads::is_on(view.page);
    let id = find_id();
    let (up, down) =
        if listed && view.search.open && ui.memory(|m| m.has_focus(id)) { arrows(ui) } else { (0, 0) };
    let last = view.search.found.len().saturating_sub(1);
    view.search.at = (view.search.at + down).min(last).saturating_sub(up);
    let width = ui.available_width().clamp(90.0, 230.0);
    let field = TextEdit::singleline(&mut view.find)
        .id(id)
        .desired_width(width - 30.0)
        .align(egui::Align2::LEFT_CENTER)
        .min_size(Vec2::new(0.0, TARGET))
        .hint_text("Find anything ( / )");
    let response = named(ui.add(field), "Find");
    if view.find_focus {
        response.request_focus();
        view.find_focus = false;
    }
    if response.gained_focus() || response.changed() {
        view.search.open = true;
    }
    if response.lost_focus() {
        let (enter, escape) =
            ui.input(|i| (i.key_pressed(egui::Key::Enter), i.key_pressed(egui::Key::Escape)));
        if escape {
            view.find.clear();
        } else if enter && listed && !view.find.trim().is_empty() {
            // the buy list finds as it is typed, and stays
            actions.push(Action::Found);
        }
    }
    if before != view.find {
        ui.ctx().request_repaint();
    }
    let (rect, _) = ui.allocate_exact_size(Vec2::splat(18.0), Sense::hover());
    icons::lens(ui.painter(), rect.center(), t.soft);
    if listed && view.search.open && !view.find.trim().is_empty() {
        found_list::under(ui, &response, up + down > 0, view, actions);
    }
}
