//! Fields of a line of the buy list that stand elsewhere too: where it stands, and what was paid for it.

use egui::{ComboBox, Response, TextEdit, Ui, Vec2};
use knockon_core::Edit;
use knockon_core::assessment::BuyLine;
use knockon_core::sheet::LineState;

use crate::access::heard;
use crate::app::view::{Action, BuyState};
use crate::look::text::named;
use crate::look::tokens::TARGET;
use crate::wording;

/// Between figures and the column after them.
pub const GAP: f32 = 14.0;

/// The states a line can be in, to choose from; what it was drawn as.
pub fn state_combo(
    ui: &mut Ui,
    salt: impl egui::AsIdSalt,
    name: &str,
    part: &str,
    now: LineState,
    actions: &mut Vec<Action>,
) -> Response {
    let box_ = ComboBox::from_id_salt(salt).selected_text(now.word()).width(96.0).show_ui(ui, |ui| {
        for state in LineState::ALL {
            if ui.selectable_label(state == now, state.word()).clicked() && state != now {
                actions.push(Action::Edit(vec![Edit::SetLine { part: part.to_owned(), state }]));
            }
        }
    });
    heard::closed_list(&box_.response, name, now.word());
    box_.response
}

/// What was paid each, to be typed over the library's price; empty goes back to that, and to nothing spent where it is here.
pub fn each(ui: &mut Ui, l: &BuyLine, state: &mut BuyState, actions: &mut Vec<Action>) -> Response {
    let stored = l.price.as_ref().map_or_else(String::new, |m| wording::amount(m.amount, &m.currency));
    let mut text = match &state.paid {
        Some((part, text)) if *part == l.part => text.clone(),
        _ => stored.clone(),
    };
    let field = TextEdit::singleline(&mut text)
        .id_salt(("paid", &l.part))
        .desired_width(ui.available_width() - GAP)
        .hint_text("no price")
        .align(egui::Align2::RIGHT_CENTER)
        .min_size(Vec2::new(0.0, TARGET));
    let response = named(ui.add(field), &format!("Price each of {}", l.name));
    heard::field_of_row(ui, &response, &text);
    if response.changed() {
        state.paid = Some((l.part.clone(), text.clone()));
    }
    if response.lost_focus() && state.paid.take().is_some() && text != stored {
        let currency = l.price.as_ref().map(|m| m.currency.clone());
        actions.push(Action::Paid(l.part.clone(), text, currency));
    }
    response.on_hover_text("What was paid for one. Empty: the price of the library while it is to be bought, nothing spent once it is here.")
}
