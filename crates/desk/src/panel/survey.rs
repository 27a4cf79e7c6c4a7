//! What inspection said of a place: the verdict, and what was seen or measured.

use egui::{ComboBox, Key, Response, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::PositionView;
use knockon_core::sheet::{Finding, Verdict};
use knockon_core::{Edit, Sheet};

use crate::access::heard;
use crate::app::view::{Action, Field, View};
use crate::look::margin::left;
use crate::look::text::named;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::wording;

/// What stands where nothing was looked at yet.
const NOT_YET: &str = "not looked at yet";

/// Draws the finding of a place, to be changed.
pub fn finding(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let now = sheet.survey.get(&p.id);
    let found = |finding| Action::Edit(vec![Edit::Survey { position: p.id.clone(), finding }]);
    ui.horizontal_top(|ui| {
        left(ui, 84.0, RichText::new("Survey").color(t.soft).font(theme::small()));
        ui.vertical(|ui| {
            let to_survey = view.takes(Field::Survey);
            let (choice, picked) = verdict(ui, t, p, now.map(|f| f.verdict));
            if let Some(verdict) = picked {
                let finding = verdict.map(|verdict| match now {
                    Some(finding) => Finding { verdict, ..finding.clone() },
                    None => Finding { verdict, note: String::new(), extra: Default::default() },
                });
                actions.push(found(finding));
            }
            let Some(now) = now else {
                // what was seen belongs to a verdict, so that is asked first
                take_keyboard(&choice, to_survey);
                return;
            };
            let (field, note) = seen(ui, p, &now.note, view);
            take_keyboard(&field, to_survey);
            if let Some(note) = note {
                actions.push(found(Some(Finding { note, ..now.clone() })));
            }
        });
    });
}

fn take_keyboard(control: &Response, wanted: bool) {
    if wanted {
        control.request_focus();
        control.scroll_to_me(None);
    }
}

/// The choice of a verdict; `Some(None)`: it is taken back.
fn verdict(
    ui: &mut Ui,
    t: &Tokens,
    p: &PositionView,
    now: Option<Verdict>,
) -> (Response, Option<Option<Verdict>>) {
    let word = |v: Option<Verdict>| v.map_or(NOT_YET, wording::verdict);
    let tone = if matches!(now, Some(Verdict::Stop | Verdict::Renew)) { t.warm } else { t.ink };
    let mut picked = None;
    let all = [None, Some(Verdict::Good), Some(Verdict::Watch), Some(Verdict::Renew), Some(Verdict::Stop)];
    let shown = RichText::new(word(now)).color(tone);
    let choice =
        ComboBox::from_id_salt(("survey", &p.id)).selected_text(shown).width(150.0).show_ui(ui, |ui| {
            for verdict in all {
                let text = format!("{}{}", word(verdict), meaning(verdict));
                if ui.selectable_label(verdict == now, text).clicked() && verdict != now {
                    picked = Some(verdict);
                }
            }
        });
    heard::closed_list(&choice.response, &format!("Survey of {}", p.name), word(now));
    (choice.response, picked)
}

/// What a verdict means, for the list.
fn meaning(verdict: Option<Verdict>) -> &'static str {
    match verdict {
        // the word for stop says it
        None | Some(Verdict::Stop) => "",
        Some(Verdict::Good) => ": inside its limit",
        Some(Verdict::Watch) => ": usable, to be measured again",
        Some(Verdict::Renew) => ": outside its limit",
    }
}

/// The field for what was seen; the text once it is left.
fn seen(ui: &mut Ui, p: &PositionView, stored: &str, view: &mut View) -> (Response, Option<String>) {
    let mut text = match &view.survey {
        Some((id, text)) if *id == p.id => text.clone(),
        _ => stored.to_owned(),
    };
    let field = TextEdit::singleline(&mut text)
        .id_salt(("seen", &p.id))
        .desired_width(f32::INFINITY)
        .min_size(Vec2::new(0.0, TARGET))
        .align(egui::Align2::LEFT_CENTER)
        .hint_text("What was seen or measured");
    let response = named(ui.add(field), &format!("What was seen of {}", p.name));
    // a long note is cut off in its line
    let response = if text.is_empty() { response } else { response.on_hover_text(&text) };
    if response.changed() {
        view.survey = Some((p.id.clone(), text.clone()));
    }
    if response.lost_focus() {
        view.survey = None;
        // Escape leaves it as it was
        let kept = ui.input(|i| i.key_pressed(Key::Escape));
        let left = (!kept && text != stored).then_some(text);
        return (response, left);
    }
    (response, None)
}
