//! Plans: where it goes, the plans of the sheet side by side, and why each costs what it does beside the one you stand on.

pub mod best;
pub mod causes;
pub mod direction;
pub mod keys;
pub mod state;
pub mod table;
pub mod told;
mod worth;

use std::sync::Arc;

use egui::{Button, Label, RichText, ScrollArea, Ui, Vec2};
use knockon_core::{Catalogue, Edit, Sheet};

use crate::access::heard;
use crate::app::App;
use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Page};
use crate::app::work::{Done, What};
use crate::empty;
use crate::look::column;
use crate::look::theme::{self, strong, tokens};
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::plans::state::PlansState;
use crate::plans::told::SideBySide;

/// A page with less width than this has table and causes below each other.
const TWO: f32 = 880.0;
/// Between the two.
const GAP: f32 = 8.0;

impl App {
    /// Holds the plans side by side where the page is open and something has changed: off the frame, since each plan is assessed
    /// and laid out in time anew.
    pub(crate) fn look_at_plans(&mut self) {
        if self.view.page != Page::Plans {
            return;
        }
        let sheet = Arc::clone(self.document.sheet());
        let of = (self.document.revision(), self.view.plans.shown(&sheet));
        if self.view.plans.of.as_ref() == Some(&of) {
            return;
        }
        self.view.plans.of = Some(of.clone());
        self.view.plans.stopped = false;
        let catalogue = Arc::clone(&self.catalogue);
        self.work.overtake(&What::Plans);
        self.work.start(What::Plans, move |progress| {
            let beside = SideBySide::of(&sheet, &catalogue, &of.1, progress).unwrap_or_default();
            Done::Beside(of.0, of.1, beside)
        });
    }

    /// The plans were held side by side; what was so of an older sheet is not shown.
    pub(crate) fn plans_are_here(&mut self, revision: u64, plans: Vec<String>, beside: SideBySide) {
        let of = (revision, plans);
        if self.view.plans.of.as_ref() == Some(&of) {
            self.view.plans.beside = Some((of, Arc::new(beside)));
        }
    }
}

/// Draws the page; with `keys` numbers stand on a plan.
pub fn page(
    ui: &mut Ui,
    a: &Told,
    sheet: &Sheet,
    catalogue: &Catalogue,
    keys: bool,
    state: &mut PlansState,
) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let beside = state.beside.as_ref().map(|(_, beside)| Arc::clone(beside));
    let is_fresh = state.is_fresh();
    if keys && is_fresh {
        keys::read(ui.ctx(), beside.as_deref(), &mut actions);
    }
    head(ui, &t, sheet, catalogue, &mut actions);
    if state.stopped {
        ui.horizontal(|ui| {
            ui.colored_label(t.soft, "It was stopped.");
            if ui.add(Button::new("Work it out").min_size(Vec2::new(0.0, TARGET))).clicked() {
                actions.push(Action::WorkOut);
            }
        });
    }
    let Some(beside) = beside else {
        ui.add_space(24.0);
        ui.vertical_centered(|ui| ui.colored_label(t.soft, "The plans are being worked out."));
        return actions;
    };
    let best = best::best(&beside);
    if !best.is_empty() {
        let text = RichText::new(format!("{}.", best.join(" · ")));
        ui.add(Label::new(text).wrap());
        ui.add_space(4.0);
    }
    if ui.available_width() < TWO {
        ScrollArea::vertical().id_salt("plans").auto_shrink(false).show(ui, |ui| {
            table::show(ui, &t, sheet, &beside, state, &mut actions);
            ui.add_space(GAP);
            right(ui, &t, a, &beside, &mut actions);
            ui.add_space(24.0);
        });
        return offered(actions, is_fresh);
    }
    let (tall, wide) = (ui.available_height(), ui.available_width());
    let left = (wide * 0.56).round();
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        column::show(ui, "plans side by side", Vec2::new(left, tall), |ui| {
            table::show(ui, &t, sheet, &beside, state, &mut actions);
        });
        let rest = (wide - left - GAP - 6.0).max(200.0);
        column::show(ui, "why they differ", Vec2::new(rest, tall), |ui| {
            right(ui, &t, a, &beside, &mut actions);
        });
    });
    offered(actions, is_fresh)
}

/// What is asked for on the page; of what stands there from before the last change nothing is done to the sheet.
fn offered(mut actions: Vec<Action>, is_fresh: bool) -> Vec<Action> {
    // the owner's own figures rest on nothing that is worked out
    let is_own = |edit: &Edit| matches!(edit, Edit::SetWorth { .. });
    actions.retain(|action| match action {
        Action::Edit(edits) => is_fresh || edits.iter().all(is_own),
        Action::TakeOver(_) => is_fresh,
        _ => true,
    });
    actions
}

/// Where it goes, and what leads to another plan.
fn head(ui: &mut Ui, t: &Tokens, sheet: &Sheet, catalogue: &Catalogue, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        heard::heading(ui, 2, RichText::new("Plans").font(strong(HEAD)));
        ui.add_space(8.0);
        direction::line(ui, t, sheet, catalogue, actions);
    });
    ui.add_space(4.0);
}

/// Why each other plan costs more or less; where there is none, how one begins.
fn right(ui: &mut Ui, t: &Tokens, a: &Told, beside: &told::SideBySide, actions: &mut Vec<Action>) {
    if beside.pairs.is_empty() {
        let text = "One plan is there yet. Begin another that is like it, change what you would do otherwise, and both stand \
                    here side by side: what the change of mind costs, cause by cause, and what it leaves on the vehicle.";
        theme::sheet(t).inner_margin(12).show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
            ui.add_space(6.0);
            actions.extend(empty::buttons(ui, &[Command::CopyPlan]));
        });
    }
    for pair in &beside.pairs {
        causes::show(ui, t, a, beside, pair, actions);
        ui.add_space(GAP);
    }
}
