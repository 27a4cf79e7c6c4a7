//! Keys of the page of the owner's library: 1 to 3 decide the entry that is open.

use egui::{Context, Key, Modifiers};
use knockon_store::meeting::Way;

use crate::app::view::Action;
use crate::own_library::Shown;
use crate::own_library::both::may;
use crate::own_library::state::{OwnLibrary, Step};

/// Reads the keys of this frame; where somebody types, figures are text.
pub fn read(ctx: &Context, shown: &Shown<'_>, state: &OwnLibrary, actions: &mut Vec<Action>) {
    if ctx.text_edit_focused() || egui::Popup::is_any_open(ctx) {
        return;
    }
    let Some(open) = state.open() else { return };
    let took = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if took(Key::Num1) && shown.kept.get(&open.path) != Some(&open.mark) {
        actions.push(Action::OwnLibrary(Step::Keep));
    }
    for (key, way) in [(Key::Num2, Way::Theirs), (Key::Num3, Way::Both)] {
        if took(key) && may(state, way).is_some() {
            actions.push(Action::OwnLibrary(Step::Decide(way)));
        }
    }
}
