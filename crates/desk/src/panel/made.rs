//! When what was found in a place was made or put in, as far as anybody knows.

use egui::{Key, Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::PositionView;
use knockon_core::date::{DateError, Dated};
use knockon_core::{Edit, Sheet};

use crate::access::heard;
use crate::app::view::{Action, View};
use crate::look::margin::left;
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::wording;

/// The date as typed; `None` where nothing is.
///
/// # Errors
/// What was expected.
pub fn read(text: &str) -> Result<Option<String>, DateError> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    Dated::parse(text).map(|date| Some(date.text))
}

/// Draws the date of what was found, to be changed.
pub fn field(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let stored = sheet.made.get(&p.id);
    // nothing was found there that could be old
    if p.as_found.is_none() && stored.is_none() {
        return;
    }
    ui.horizontal_top(|ui| {
        left(ui, 84.0, RichText::new("Made").color(t.soft).font(theme::small()));
        ui.vertical(|ui| {
            let mut text = match &view.made {
                Some((id, text)) if *id == p.id => text.clone(),
                _ => stored.cloned().unwrap_or_default(),
            };
            let field = TextEdit::singleline(&mut text)
                .id_salt(("made", &p.id))
                .desired_width(150.0)
                .min_size(Vec2::new(0.0, TARGET))
                .align(egui::Align2::LEFT_CENTER)
                .hint_text("1966, 1966-05 ...");
            let response = named(ui.add(field), &format!("When was it made, of {}", p.name));
            if response.changed() {
                view.made = Some((p.id.clone(), text.clone()));
            }
            let typed = read(&text);
            if response.lost_focus() {
                // Escape leaves it as it was; what cannot be read stays, to be mended
                let kept = ui.input(|i| i.key_pressed(Key::Escape));
                if kept || typed.is_ok() {
                    view.made = None;
                }
                if let Ok(made) = typed.clone()
                    && !kept
                    && made.as_ref() != stored
                {
                    actions.push(Action::Edit(vec![Edit::Made { position: p.id.clone(), made }]));
                }
            }
            let said = match (&typed, &p.lasts) {
                (Err(why), _) if !response.has_focus() => Some((wording::sentence(&why.to_string()), t.warm)),
                (_, Some(lasts)) => Some((format!("Lasts {lasts}"), t.soft)),
                _ => None,
            };
            if let Some((text, tone)) = said {
                let told = ui.add(Label::new(RichText::new(&text).font(theme::small()).color(tone)).wrap());
                if typed.is_err() {
                    heard::wrong(&response, &told, &text);
                }
            }
        });
    });
}
