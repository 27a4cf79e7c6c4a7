//! The checks before the road and on it: each with how it is done and what passes, signed with what was read.

use egui::accesskit::Role;
use egui::{Button, Label, RichText, TextEdit, Ui, Vec2, WidgetInfo};
use knockon_core::jobs::Commission;
use knockon_core::jobs::limit::Reading;
use knockon_core::library::Phase;
use knockon_core::sheet::Signed;

use crate::app::view::Action;
use crate::jobs::row::told;
use crate::jobs::state::{JobsState, ToDo};
use crate::look::fold;
use crate::look::fold::{Fold, Sign};
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tick_box;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// It must be said wherever somebody reads "ready".
const LAW: &str =
    "This replaces no inspection that the law asks for; the maker's manual and local codes stand above it.";

/// Draws what is open and the checks by phase.
pub fn list(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState, actions: &mut Vec<Action>) {
    let n = work.missing.len();
    let (text, tone) = match n {
        0 => ("Ready to be driven by this plan.".to_owned(), t.cool),
        n => (format!("Not ready to be driven: {n} open"), t.warm),
    };
    ui.label(RichText::new(text).font(strong(BODY + 2.0)).color(tone));
    ui.add(Label::new(RichText::new(LAW).font(theme::small()).color(t.soft)).wrap());
    if n > 0 {
        fold::behind(ui, t, "What is open", "missing for the road", |ui| {
            for what in &work.missing {
                ui.add(Label::new(wording::sentence(what)).wrap());
            }
        });
    }
    let mut phase: Option<Phase> = None;
    for check in &work.jobs.checks {
        if phase != Some(check.phase) {
            phase = Some(check.phase);
            ui.add_space(8.0);
            ui.label(RichText::new(check.phase.heading()).font(strong(BODY)).color(t.soft));
        }
        one(ui, t, work, check, state, actions);
    }
    ui.add_space(24.0);
}

fn one(
    ui: &mut Ui,
    t: &Tokens,
    work: &ToDo,
    check: &Commission,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let signed = check.signed.is_some();
    let half = match &check.signed {
        Some(s) => {
            let said = [s.reading.as_str(), s.by.as_str(), s.on.as_deref().unwrap_or_default()];
            said.into_iter().filter(|text| !text.is_empty()).collect::<Vec<_>>().join(", ")
        }
        None => check.pass.clone(),
    };
    ui.push_id(&check.id, |ui| {
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            if tick_box::show(ui, t, signed, &format!("Passed: {}", check.name)) {
                let (reading, by) = match &state.reading {
                    Some((id, reading, by)) if *id == check.id => (reading.clone(), by.clone()),
                    _ => (String::new(), String::new()),
                };
                match signed {
                    true => actions.push(Action::Sign(check.id.clone(), None)),
                    false => sign(work, check, &reading, &by, state, actions),
                }
            }
            let right = match (signed, &check.outside) {
                (true, _) => "signed",
                (false, Some(_)) => "does not pass",
                (false, None) if !work.jobs.before_check(check).is_empty() => "waits",
                (false, None) => "",
            };
            let warm = check.outside.is_some();
            let line = Fold { sign: Sign::None, text: &check.name, half: &half, right, warm, open: false };
            ui.vertical(|ui| {
                if state.refused.as_ref() == Some(&check.id) && !signed {
                    refusal(ui, t, work, check);
                }
                if line.show(ui, t, ("check", &check.id)) {
                    inside(ui, t, work, check, state, actions);
                }
            });
        });
    });
}

fn inside(
    ui: &mut Ui,
    t: &Tokens,
    work: &ToDo,
    check: &Commission,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    for caution in work.jobs.cautions_of(&check.cautions) {
        told(ui, t, "Caution", caution, t.warm);
    }
    for (lead, text) in [("How", &check.method), ("Passes", &check.pass), ("If not", &check.fail)] {
        told(ui, t, lead, text, t.ink);
    }
    if let (Some(limit), Some(read)) = (&check.limit, &check.outside) {
        let read = if read.reading.is_empty() { "signed without a reading" } else { read.reading.as_str() };
        told(ui, t, "Read", &format!("{read}; what passes is {}", limit.text), t.warm);
    }
    if check.signed.is_some() {
        return;
    }
    let before = work.jobs.before_check(check);
    if !before.is_empty() {
        told(ui, t, "Not before", &before.join("; "), t.ink);
    }
    let (mut reading, mut by) = match &state.reading {
        Some((id, reading, by)) if *id == check.id => (reading.clone(), by.clone()),
        _ => (String::new(), String::new()),
    };
    let hint = check
        .limit
        .as_ref()
        .map_or_else(|| "What was read".to_owned(), |limit| format!("What was read, {}", limit.text));
    ui.horizontal(|ui| {
        let field = |text, hint: &str, wide| {
            TextEdit::singleline(text)
                .hint_text(hint.to_owned())
                .desired_width(wide)
                .min_size(Vec2::new(0.0, TARGET))
                .align(egui::Align2::LEFT_CENTER)
        };
        let a = named(ui.add(field(&mut reading, &hint, 240.0)), &format!("What was read: {}", check.name));
        let b = named(ui.add(field(&mut by, "Initials", 70.0)), &format!("Initials: {}", check.name));
        if a.changed() || b.changed() {
            state.reading = Some((check.id.clone(), reading.clone(), by.clone()));
        }
        let sign = ui.add(Button::new("Sign: passed").min_size(Vec2::new(0.0, TARGET)));
        sign.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Sign {}", check.name)));
        if sign.clicked() {
            self::sign(work, check, &reading, &by, state, actions);
        }
    });
}

/// Signs a check, unless something before it is open or its reading does not pass.
fn sign(
    work: &ToDo,
    check: &Commission,
    reading: &str,
    by: &str,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let passes = check.limit.as_ref().is_none_or(|limit| limit.holds(reading) == Reading::Passes);
    if !passes || !work.jobs.before_check(check).is_empty() {
        state.refused = Some(check.id.clone());
        return;
    }
    state.refused = None;
    state.reading = None;
    let signed = Signed { reading: reading.trim().to_owned(), by: by.trim().to_owned(), ..Signed::default() };
    actions.push(Action::Sign(check.id.clone(), Some(signed)));
}

/// Why it was not signed.
fn refusal(ui: &mut Ui, t: &Tokens, work: &ToDo, check: &Commission) {
    let before = work.jobs.before_check(check);
    let text = match (&check.limit, before.as_slice()) {
        (_, [first, rest @ ..]) => {
            let more = if rest.is_empty() { String::new() } else { format!(", and {} more", rest.len()) };
            format!("Not signed: before it comes {first}{more}.")
        }
        (Some(limit), []) => format!("Not signed: what was read must be {}.", limit.text),
        (None, []) => return,
    };
    ui.add(Label::new(RichText::new(text).color(t.warm)).wrap());
}
