//! Keys of the survey page: up and down walk the lines, F2 takes what is proposed.

use egui::{Context, Key, Modifiers};
use knockon_core::Edit;
use knockon_core::sheet::Choice;

use super::Walk;
use super::row::field_id;
use super::state::{WalkState, name};
use crate::app::view::Action;

/// Reads the keys of this frame.
pub fn read(ctx: &Context, walk: &Walk<'_>, state: &mut WalkState, actions: &mut Vec<Action>) {
    if egui::Popup::is_any_open(ctx) {
        return;
    }
    let took = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if let Some((line, route)) = state.proposed(walk.found)
        && took(Key::F2)
    {
        let choice = Some(Choice { route, part: None });
        let choose = Edit::Choose { plan: walk.plan.to_owned(), position: line.position.clone(), choice };
        actions.push(Action::Edit(vec![choose]));
    }
    let Some(here) = state.here(walk.found).map(name) else { return };
    let focused = ctx.memory(egui::Memory::focused);
    let on_field = focused.is_some_and(|id| walk.found.lines.iter().any(|line| field_id(line) == id));
    if !on_field {
        // without a field under the keyboard Enter and down lead into the walk
        if focused.is_none() && (took(Key::Enter) || took(Key::ArrowDown)) {
            state.to = Some(here);
        }
        return;
    }
    for (key, down) in [(Key::ArrowDown, true), (Key::ArrowUp, false)] {
        if took(key)
            && let Some(next) = state.away(walk.found, &here, down, false)
        {
            state.to = Some(next);
        }
    }
}
