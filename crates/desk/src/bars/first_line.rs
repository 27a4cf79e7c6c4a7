//! The line over board and buying: the one thing to do next, with its price and its keys. What does not fit comes with what
//! clears all of it together.

use std::sync::Arc;

use egui::accesskit::Role;
use egui::{Align, Button, Frame, Label, Layout, Margin, Panel, Stroke, Ui, Vec2};
use knockon_core::Assessment;

use crate::access::{self, Region};
use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Behind, Spot, Stop, View};
use crate::app::work::SOON;
use crate::bars::next_act::Next;
use crate::bars::{next_act, under_way};
use crate::cures::rows;
use crate::cures::rows::{FAILED, STOPPED, WORKING};
use crate::cures::search::Clearing;
use crate::cures::told::{figures, given_up_in_short, headline};
use crate::dialogs::one_way::{OneWay, Place};
use crate::dialogs::question;
use crate::look::icons::Mark;
use crate::look::text::{Piece, pieces};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Draws the line.
pub fn band(ui: &mut Ui, a: &Told, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let around = Frame::new().fill(t.ground).inner_margin(Margin { left: 12, right: 12, top: 8, bottom: 0 });
    Panel::top("first line").resizable(false).frame(around).show(ui, |ui| {
        access::region(ui, Region::Lead, "What to do next");
        // never two warm grounds: where the panel tells a clash, it is there
        let told = matches!(&view.selected, Some(Spot::Position(id)) if !rows::at(a, id).is_empty());
        let stop = next_act::stopped(a);
        let next = if a.clashes.is_empty() { Some(next_act::next(a)) } else { stop };
        let warm = !told && next.as_ref().is_none_or(|next| next.warm);
        let (fill, edge) = if warm { (t.warm_ground, t.warm) } else { (t.sheet, t.line) };
        let line = Frame::new()
            .fill(fill)
            .stroke(Stroke::new(1.0, edge))
            .corner_radius(4)
            .inner_margin(Margin::symmetric(10, 4));
        line.show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.horizontal(|ui| {
                let layout = Layout::right_to_left(Align::Center);
                ui.with_layout(layout, |ui| match &next {
                    Some(next) => act(ui, &t, next, &mut actions),
                    None => said(ui, &t, a, view, &mut actions),
                });
            });
            let asked = view.ask.as_ref().map(|ask| &ask.step);
            if matches!(asked, Some(OneWay::Together(_, Place::Line))) {
                question::question(ui, &t, view, &mut actions);
            }
        });
    });
    actions
}

/// What is to be done next, where nothing clashes or something is worse than that.
fn act(ui: &mut Ui, t: &Tokens, next: &Next, actions: &mut Vec<Action>) {
    if let Some((verb, command, action)) = &next.act {
        let keys = command.map(|c| c.keys(ui.ctx())).unwrap_or_default();
        let button = ui.add(Button::new(verb).shortcut_text(keys).min_size(Vec2::new(0.0, TARGET)));
        button.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, verb));
        if button.clicked() {
            actions.push(action.clone());
        }
    }
    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
        let tone = if next.warm { t.warm } else { t.ink };
        if let Some(mark) = next.mark {
            let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
            mark.paint(ui.painter(), rect.center(), tone);
        }
        let text =
            [Piece(&next.lead, strong(BODY), tone, false), Piece(&next.rest, theme::body(), t.ink, false)];
        ui.add(Label::new(pieces(ui, &text, ui.available_width())));
    });
}

fn said(ui: &mut Ui, t: &Tokens, a: &Assessment, view: &View, actions: &mut Vec<Action>) {
    let found = view.clearing.found().map(Arc::clone);
    let best = found.as_ref().and_then(|found| found.sets.first());
    if let Some(set) = best {
        let verb = match set.changes.len() {
            1 => "Take it".to_owned(),
            n => format!("Take all {n}"),
        };
        let keys = Command::ClearAll.keys(ui.ctx());
        let button = ui.add(Button::new(&verb).shortcut_text(keys).min_size(Vec2::new(0.0, TARGET)));
        button.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, &verb));
        if button.on_hover_ui(|ui| rows::hover(ui, set)).clicked() {
            actions.push(Action::Clear(set.choices.clone(), Place::Line));
        }
    }
    let slow = match &view.clearing {
        Clearing::Working(_, begun) => {
            ui.ctx().request_repaint_after(SOON);
            begun.elapsed() >= SOON
        }
        _ => false,
    };
    if slow && under_way::stop(ui, "working out what clears it together") {
        actions.push(Action::Stop(Stop::Search));
    }
    if matches!(view.clearing, Clearing::Stopped)
        && ui.add(Button::new("Work it out").min_size(Vec2::new(0.0, TARGET))).clicked()
    {
        actions.push(Action::WorkOut);
    }
    let open = view.behind == Some(Behind::Clashes);
    if ui.add(Button::new("Look at each").selected(open).min_size(Vec2::new(0.0, TARGET))).clicked() {
        actions.push(Action::Behind((!open).then_some(Behind::Clashes)));
    }
    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
        Mark::Clash.paint(ui.painter(), rect.center(), t.warm);
        let lead = format!("{}. ", wording::misfits(a.clashes.len()));
        let (what, rest) = match (best, &view.clearing) {
            (Some(set), _) => {
                let gone = given_up_in_short(set).map(|gone| format!(" · {gone}")).unwrap_or_default();
                let lost = wording::lost(&set.change);
                let lost = if lost.is_empty() { lost } else { format!(" · {lost}") };
                (format!("{}: ", headline(set)), format!("{}{gone}{lost}", figures(set)))
            }
            (None, Clearing::Found(_)) => {
                (String::new(), "No choice that the library offers clears any of it.".to_owned())
            }
            (None, Clearing::Failed) => (String::new(), format!("{FAILED}.")),
            (None, Clearing::Stopped) => (String::new(), format!("{STOPPED}.")),
            (None, Clearing::Idle) => (String::new(), WORKING.to_owned()),
            (None, Clearing::Working(progress, _)) => {
                let far = under_way::far(progress.so_far(), "at most ", 0);
                (String::new(), if slow { format!("{WORKING} {far}") } else { WORKING.to_owned() })
            }
        };
        let text = [
            Piece(&lead, strong(BODY), t.warm, false),
            Piece(&what, strong(BODY), t.ink, false),
            Piece(&rest, theme::body(), t.ink, false),
        ];
        ui.add(Label::new(pieces(ui, &text, ui.available_width())));
    });
}
