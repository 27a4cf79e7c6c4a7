//! My parts: parts the user typed in, those begun and not saved, and the form.

use egui::{Align, Button, ComboBox, Frame, Label, Layout, RichText, ScrollArea, Stroke, Ui, Vec2};
use knockon_core::{Assessment, Catalogue, Sheet};

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::view::{Action, View};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::own_parts::form;
use crate::own_parts::shelf::Shelf;
use crate::own_parts::state::{Parts, Step, Target};
use crate::wording;

/// Width of the list on the left.
const LIST: f32 = 270.0;

/// Draws the page.
pub fn page(
    ui: &mut Ui,
    a: &Assessment,
    sheet: &Sheet,
    catalogue: &Catalogue,
    view: &mut View,
) -> Vec<Action> {
    let mut actions = Vec::new();
    let t = tokens(ui);
    let shelf = Shelf::new(catalogue, sheet);
    let paper = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4).inner_margin(14);
    ui.horizontal_top(|ui| {
        let size = Vec2::new(LIST, ui.available_height());
        ui.allocate_ui_with_layout(size, Layout::top_down(Align::LEFT), |ui| {
            ui.set_width(LIST);
            ScrollArea::vertical().id_salt("my parts").auto_shrink(false).show(ui, |ui| {
                list(ui, &t, a, (sheet, &shelf), view, &mut actions);
            });
        });
        ui.add_space(6.0);
        paper.show(ui, |ui| {
            ui.vertical(|ui| {
                ui.set_min_size(ui.available_size());
                let Parts { drafts, at, fresh } = &mut view.parts;
                match at.as_ref().and_then(|at| drafts.get_mut(at)) {
                    Some(draft) => {
                        let place = &wording::place(a, &draft.position).to_owned();
                        let (currency, measure) = (currency(a), view.measure);
                        let form = form::Form { shelf: &shelf, place, currency, measure };
                        actions.extend(form.show(ui, &t, draft, fresh));
                    }
                    None => nothing(ui, &t),
                }
            });
        });
    });
    actions
}

/// The currency of prices typed without one.
pub fn currency(a: &Assessment) -> &str {
    if a.totals.currency.is_empty() { "USD" } else { &a.totals.currency }
}

fn nothing(ui: &mut Ui, t: &Tokens) {
    ui.add_space(12.0);
    heard::heading(ui, 2, RichText::new("Parts of your own").font(strong(HEAD)));
    let text = "What the library does not have can be typed in: a part from the shed, from a breaker, made by a friend. Pick its \
                place on the left, or the button in the panel of a position. It is saved in the sheet and stands among the \
                routes of its place.";
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
}

fn list(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    (sheet, shelf): (&Sheet, &Shelf<'_>),
    view: &View,
    actions: &mut Vec<Action>,
) {
    ui.horizontal(|ui| {
        heard::heading(ui, 2, RichText::new("My parts").font(strong(HEAD)));
        if ui.button("Back to the board").clicked() {
            actions.push(Action::Do(Command::Board));
        }
    });
    ui.add_space(4.0);
    add(ui, a, actions);
    if !sheet.parts.is_empty() {
        heading(ui, "In this sheet");
    }
    for (id, part) in &sheet.parts {
        let target = Target::Part(id.clone());
        let begun = view.parts.drafts.contains_key(&target);
        // one that cannot be read in full is shown as far as it is written
        let part = shelf.part(id).unwrap_or(part);
        let right = if begun { "being changed".to_owned() } else { wording::price(part.price.as_ref()) };
        entry(ui, t, &part.name, &right, view.parts.at.as_ref() == Some(&target), target, actions);
    }
    let begun: Vec<_> = view.parts.drafts.iter().filter(|(at, _)| matches!(at, Target::Place(_))).collect();
    if !begun.is_empty() {
        heading(ui, "Begun, not saved");
    }
    for (target, draft) in begun {
        let name = if draft.name.trim().is_empty() { "No name yet" } else { draft.name.as_str() };
        let place = wording::place(a, &draft.position);
        entry(ui, t, name, place, view.parts.at.as_ref() == Some(target), target.clone(), actions);
    }
}

fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(text).font(strong(BODY)));
}

fn entry(
    ui: &mut Ui,
    t: &Tokens,
    name: &str,
    right: &str,
    open: bool,
    target: Target,
    actions: &mut Vec<Action>,
) {
    let right = RichText::new(right).font(theme::small()).color(t.soft);
    let button = Button::selectable(open, name)
        .right_text(right)
        .wrap()
        .min_size(Vec2::new(ui.available_width(), TARGET));
    if ui.add(button).clicked() {
        actions.push(Action::Parts(Step::Form(target)));
    }
}

/// Picks the place of a new part.
fn add(ui: &mut Ui, a: &Assessment, actions: &mut Vec<Action>) {
    let width = ui.available_width();
    let choice = ComboBox::from_id_salt("place of a new part")
        .selected_text("Add a part for…")
        .width(width)
        .height(420.0)
        .show_ui(ui, |ui| {
            ui.set_min_width(width);
            for (id, name) in &a.systems {
                let here: Vec<_> = a.positions.iter().filter(|p| p.system == *id).collect();
                if !here.is_empty() {
                    ui.label(RichText::new(name).font(strong(BODY)));
                }
                for p in here {
                    if ui.selectable_label(false, &p.name).clicked() {
                        actions.push(Action::Parts(Step::Form(Target::Place(p.id.clone()))));
                    }
                }
            }
        });
    heard::closed_list(&choice.response, "Add a part for a place", "");
}
