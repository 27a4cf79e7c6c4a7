//! The head of a place in the panel: its name, how it stands, what it costs. It stays while the rest scrolls.

use egui::{Align, Button, Label, Layout, RichText, Sense, Stroke, Ui, Vec2};
use knockon_core::assessment::{Companion, PositionView};

use super::paid;
use crate::access::heard;
use crate::app::selection::Spot;
use crate::app::told::Told;
use crate::app::view::{Action, Details, View};
use crate::look::icons;
use crate::look::margin::fact;
use crate::look::text::figures_ui;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::wording;

/// The way out of what is selected: back to the list that led here, or to what is unresolved.
pub fn leave(ui: &mut Ui, view: &View, actions: &mut Vec<Action>) {
    let (label, action) = match (&view.came_from_place, view.came_from) {
        (Some(place), _) => ("Back to its place", Action::Select(Some(Spot::Position(place.clone())))),
        (None, Some(list)) => ("Back to the list", Action::Behind(Some(list))),
        (None, None) => ("Close", Action::Select(None)),
    };
    let button = ui.add(Button::new(label).shortcut_text("Esc").min_size(Vec2::new(0.0, TARGET)));
    button.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, label));
    if button.clicked() {
        actions.push(action);
    }
}

/// A rule under the head.
pub fn rule(ui: &mut Ui, t: &Tokens) {
    ui.add_space(4.0);
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, t.line));
}

/// Draws the head of a place.
pub fn place(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let system = a.systems.iter().find(|(id, _)| *id == p.system).map_or("", |(_, name)| name.as_str());
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            leave(ui, view, actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.label(RichText::new(system).font(theme::small()).color(t.soft));
            });
        });
    });
    let mark = wording::mark(a, p);
    let tone = if mark.open() { t.warm } else { t.ink };
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if p.active && (p.price.is_some() || p.line.is_here()) {
                let price = wording::counts_for(p.price.as_ref(), p.line);
                figures_ui(ui, &price, &strong(HEAD), t.ink, 0.0);
                ui.label(RichText::new(p.line.word()).font(theme::small()).color(t.soft));
                let (rect, _) = ui.allocate_exact_size(Vec2::splat(18.0), Sense::hover());
                icons::line_state(ui.painter(), rect.center(), p.line, t.ink);
                ui.add_space(8.0);
            }
            ui.with_layout(Layout::left_to_right(Align::Center).with_main_wrap(true), |ui| {
                heard::heading(ui, 2, RichText::new(wording::with_qty(&p.name, p.qty)).font(strong(HEAD)));
                let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), Sense::hover());
                mark.paint(ui.painter(), rect.center(), tone);
                let said = RichText::new(wording::sentence(&wording::mark_text(a, p)))
                    .font(strong(BODY))
                    .color(tone);
                ui.add(Label::new(said).wrap());
            });
        });
    });
    let now = match (&p.fitted, p.route) {
        (None, _) => "nothing".to_owned(),
        (Some((_, name)), _) if p.filled => format!("{name}, comes with the plan"),
        (Some((_, name)), _) => name.clone(),
    };
    // nobody chose what comes with the plan: no route stands before it
    let text = if p.filled { wording::sentence(&now) } else { format!("{}: {now}", p.route.word()) };
    fact(ui, t, "In this plan", &text, t.ink);
    if let Some(by) = put_by(a, p, &view.details) {
        fact(ui, t, "", &by, t.soft);
    }
    if let Some((part, _)) = p.fitted.as_ref().filter(|_| p.active) {
        paid::field(ui, t, a, part, view, actions);
    }
    rule(ui, t);
}

/// Who put there what nobody chose.
fn put_by(a: &Told, p: &PositionView, details: &Details) -> Option<String> {
    let brought = |c: &&Companion| c.position.as_ref() == Some(&p.id) && c.waived.is_none();
    if !p.filled {
        return None;
    }
    if let Some((place, kit)) = &details.kit {
        let place = wording::place(a, place).to_lowercase();
        return Some(match p.fitted {
            Some(_) => format!("In the box of {kit}, chosen as {place}"),
            None => format!("{kit}, chosen as {place}, leaves it empty"),
        });
    }
    let c = a.companions.iter().find(brought)?;
    let half = a.half_line(c.reason);
    let by = c.cause.as_ref().map(|id| format!("Brought by {}", wording::place(a, id).to_lowercase()));
    let told = [by, (!half.is_empty()).then_some(half)];
    Some(wording::sentence(&told.into_iter().flatten().collect::<Vec<_>>().join(", ")))
}
