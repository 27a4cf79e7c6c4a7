//! What can be done with a row of the board, under the right button and by a key each.

use egui::{Button, Key, Response, Ui};
use knockon_core::Edit;
use knockon_core::assessment::Assessment;
use knockon_core::sheet::LineState;

use crate::app::selection::Spot;
use crate::app::view::Action;
use crate::buying::chosen::STATES;
use crate::wording;

/// The part whose line a row stands for; `None` where nothing is bought for it.
pub fn part_of(a: &Assessment, spot: &Spot) -> Option<String> {
    match spot {
        Spot::Position(id) => {
            let p = a.positions.iter().find(|p| p.id == *id && p.active)?;
            p.fitted.as_ref().map(|(part, _)| part.clone())
        }
        Spot::Companion(key) => {
            let c = a.companions.iter().find(|c| c.key == *key && c.waived.is_none() && !c.in_kit)?;
            Some(c.part.clone())
        }
    }
}

/// Sets the state of the line a row stands for.
pub fn set(a: &Assessment, spot: &Spot, state: LineState) -> Option<Action> {
    let part = part_of(a, spot)?;
    Some(Action::Edit(vec![Edit::SetLine { part, state }]))
}

/// The menu of a row.
pub fn menu(response: &Response, a: &Assessment, spot: &Spot, actions: &mut Vec<Action>) {
    response.context_menu(|ui| {
        if entry(ui, "Open", Key::Enter.name()) {
            actions.push(Action::Select(Some(spot.clone())));
        }
        if let Spot::Companion(key) = spot
            && let Some(c) = a.companions.iter().find(|c| c.key == *key && c.waived.is_none() && !c.in_kit)
        {
            let label = if c.accepted { "Take the yes back" } else { "Accept" };
            if entry(ui, label, Key::Space.name()) {
                actions.push(Action::Accept(key.clone(), !c.accepted));
            }
            if entry(ui, "Leave out…", "") {
                // opening it forgets a reason begun elsewhere, so this comes after
                actions.push(Action::Select(Some(spot.clone())));
                actions.push(Action::LeaveOut(key.clone()));
            }
        }
        if part_of(a, spot).is_some() {
            ui.separator();
            for (state, key) in STATES {
                if entry(ui, &wording::sentence(state.word()), key.name()) {
                    actions.extend(set(a, spot, state));
                }
            }
        }
    });
}

fn entry(ui: &mut Ui, label: &str, key: &str) -> bool {
    let clicked = ui.add(Button::new(label).shortcut_text(key)).clicked();
    if clicked {
        ui.close();
    }
    clicked
}
