//! Where it goes, in a line: the way, what for, by when, who drives, what it is held to; with the button that says it anew.

use egui::{Button, Label, RichText, Ui, Vec2};
use knockon_core::{Catalogue, Sheet};

use crate::app::commands::Command;
use crate::app::view::Action;
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Draws the line.
pub fn line(ui: &mut Ui, t: &Tokens, sheet: &Sheet, catalogue: &Catalogue, actions: &mut Vec<Action>) {
    let button =
        |ui: &mut Ui, text: &str| ui.add(Button::new(text).min_size(Vec2::new(0.0, TARGET))).clicked();
    let Some(direction) = sheet.direction() else {
        ui.label(RichText::new("Nobody has said where it goes.").color(t.soft));
        if button(ui, "Choose a direction…") {
            actions.push(Action::Do(Command::Direct));
        }
        return;
    };
    ui.label(RichText::new(wording::sentence(direction.way.words())).font(strong(BODY)));
    let mut rest = short(sheet);
    let aims = aims(sheet, catalogue);
    if !aims.is_empty() {
        rest.push(format!("held to: {}", aims.join(", ")));
    }
    let rest = rest.join(" · ");
    if !rest.is_empty() {
        ui.add(Label::new(RichText::new(rest).font(theme::small()).color(t.soft)).wrap());
    }
    if button(ui, "Change…") {
        actions.push(Action::Do(Command::Direct));
    }
}

/// What is said beside the way, in a few words each.
fn short(sheet: &Sheet) -> Vec<String> {
    let Some(direction) = sheet.direction() else { return Vec::new() };
    let mut out = Vec::new();
    if !direction.what_for.is_empty() {
        out.push(direction.what_for.trim_end_matches('.').to_owned());
    }
    out.extend(direction.deadline.as_ref().map(|day| format!("wanted by {day}")));
    if !direction.drivers.is_empty() {
        out.push(format!("driven by {}", direction.drivers));
    }
    out.extend(direction.budget.as_ref().map(|m| format!("for {}", wording::amount(m.amount, &m.currency))));
    out
}

/// The names of what the plan is held to.
fn aims(sheet: &Sheet, catalogue: &Catalogue) -> Vec<String> {
    let all = sheet.direction().into_iter().flat_map(|direction| &direction.aims);
    all.filter_map(|id| catalogue.aims.get(id).map(|aim| aim.name.clone())).collect()
}
