//! What the panel shows while nothing is chosen: what is unresolved, by what would change it, the worst first.

use egui::{Button, Label, RichText, Ui, Vec2};
use knockon_core::assessment::Assessment;
use knockon_core::key::CompanionKey;
use knockon_core::library::Level;

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Behind, View};
use crate::dialogs::one_way::Place;
use crate::empty;
use crate::look::list_entry;
use crate::look::margin::section;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::panel::figure_list;
use crate::panel::misfits;
use crate::wording;

/// Companions that the plan cannot do without and that want an answer.
pub fn needed(a: &Assessment) -> Vec<CompanionKey> {
    let open = a.companions.iter().filter(|c| wording::open(c) && c.level == Level::Required);
    open.map(|c| c.key.clone()).collect()
}

/// What to begin with where nothing has been chosen.
fn first_step(ui: &mut Ui, t: &Tokens, actions: &mut Vec<Action>) {
    ui.add(Label::new(RichText::new("Nothing is chosen yet").font(strong(HEAD))));
    let steps = [
        "Pick a system on the board, then a place in it.",
        "Write down what you find there, under survey: good, watch, renew or stop.",
        "Choose what you will do. What that drags in, what does not fit and what it costs stands here then.",
    ];
    for (n, step) in steps.into_iter().enumerate() {
        ui.horizontal_top(|ui| {
            ui.colored_label(t.soft, format!("{}.", n + 1));
            ui.add(Label::new(step).wrap());
        });
    }
    ui.add_space(4.0);
    actions.extend(empty::buttons(ui, &[Command::HowItWorks]));
    ui.add_space(14.0);
}

/// Draws it.
pub fn show(ui: &mut Ui, t: &Tokens, a: &Told, view: &mut View, actions: &mut Vec<Action>) {
    let s = &a.totals;
    let open = s.clashes + s.to_measure + s.companions_open;
    ui.add_space(4.0);
    if a.buy.is_empty() && a.companions.is_empty() {
        first_step(ui, t, actions);
    }
    let title = if open > 0 { "Unresolved" } else { "Nothing is unresolved" };
    heard::heading(ui, 2, RichText::new(title).font(strong(HEAD)));
    let lead = match open {
        0 => "Pick a place on the board to look at it or to choose otherwise.",
        _ => "The worst first. Pick a place on the board, or a line here, to look at it.",
    };
    ui.add(Label::new(RichText::new(lead).font(theme::small()).color(t.soft)).wrap());
    if s.clashes > 0 {
        section(ui, t, &wording::sentence(&wording::misfits(s.clashes)));
        misfits::list(ui, t, a, false, Place::Panel, view, actions);
    }
    if s.to_measure > 0 {
        section(ui, t, &format!("{} to measure", s.to_measure));
        for entry in figure_list::entries(a, Behind::Measure) {
            if list_entry::show(ui, t, &entry) {
                actions.push(figure_list::leads(Behind::Measure, &entry));
            }
        }
    }
    if s.companions_open > 0 {
        section(
            ui,
            t,
            &format!("{} to decide", wording::count(s.companions_open, "companion", "companions")),
        );
        let n = needed(a).len();
        ui.horizontal_wrapped(|ui| {
            if n > 0 {
                let label = format!("Accept the {n} that are needed");
                if ui.add(Button::new(label).min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::Do(Command::AcceptNeeded));
                }
            }
            if ui.add(Button::new("Look at each companion").min_size(Vec2::new(0.0, TARGET))).clicked() {
                actions.push(Action::Behind(Some(Behind::Companions)));
            }
        });
    }
}
