//! Keys of the page of the plans: 1 to 3 stand on a plan.

use egui::{Context, Key, Modifiers};
use knockon_core::Edit;

use crate::app::view::Action;
use crate::plans::told::SideBySide;

const NUMBERS: [Key; 3] = [Key::Num1, Key::Num2, Key::Num3];

/// Reads the keys of this frame; where somebody types, numbers are text.
pub fn read(ctx: &Context, beside: Option<&SideBySide>, actions: &mut Vec<Action>) {
    let Some(beside) = beside else { return };
    if ctx.text_edit_focused() || egui::Popup::is_any_open(ctx) {
        return;
    }
    for (key, plan) in NUMBERS.into_iter().zip(&beside.plans) {
        if ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key)) && plan.id != beside.on {
            actions.push(Action::Edit(vec![Edit::SwitchPlan { plan: plan.id.clone() }]));
        }
    }
}
