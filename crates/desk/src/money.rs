//! Money: what may be spent beside what is, by system and by supplier, what it comes to in the end, and what to order today.

pub mod fields;
pub mod head;
pub mod state;
pub mod suppliers;
pub mod systems;
pub mod told;

use egui::{ScrollArea, Ui, Vec2};
use knockon_core::Sheet;

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::Action;
use crate::empty;
use crate::look::column;
use crate::look::theme::tokens;
use crate::money::state::MoneyState;
use crate::money::told::Accounts;

/// A page with less width than this has its two lists below each other.
const TWO: f32 = 880.0;
/// A page with less height than this scrolls as a whole.
const LOW: f32 = 420.0;
/// Between the lists.
const GAP: f32 = 8.0;

/// Draws the page.
pub fn page(
    ui: &mut Ui,
    a: &Told,
    sheet: &Sheet,
    accounts: &Accounts,
    state: &mut MoneyState,
) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let is_empty = a.spending.shares.is_empty();
    if is_empty || ui.available_width() < TWO || ui.available_height() < LOW {
        ScrollArea::vertical().id_salt("money").auto_shrink(false).show(ui, |ui| {
            head::show(ui, &t, a, sheet, state, &mut actions);
            if is_empty {
                actions.extend(nothing(ui));
                return;
            }
            suppliers::today(ui, &t, accounts, &mut actions);
            ui.add_space(GAP);
            systems::table(ui, &t, a, sheet, state, &mut actions);
            ui.add_space(GAP);
            suppliers::list(ui, &t, a, accounts, &mut actions);
            ui.add_space(24.0);
        });
        return actions;
    }
    head::show(ui, &t, a, sheet, state, &mut actions);
    let (tall, wide) = (ui.available_height(), ui.available_width());
    let left = (wide * 0.58).round();
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = GAP;
        column::show(ui, "money by system", Vec2::new(left, tall), |ui| {
            systems::table(ui, &t, a, sheet, state, &mut actions);
        });
        let right = (wide - left - GAP - 6.0).max(200.0);
        column::show(ui, "money by supplier", Vec2::new(right, tall), |ui| {
            suppliers::today(ui, &t, accounts, &mut actions);
            suppliers::list(ui, &t, a, accounts, &mut actions);
        });
    });
    actions
}

fn nothing(ui: &mut Ui) -> Vec<Action> {
    let text = "Every place is kept as it was found. Choose on the board what you will do at a place: what it costs stands here by \
                system and by supplier, beside what you may spend, with what it comes to in the end and what is to be ordered \
                today. The budget can be typed in above already.";
    empty::page(ui, "No money is planned yet", text, &[Command::Board])
}
