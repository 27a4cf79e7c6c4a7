//! The checks before the road and on it: each with how it is done and what passes, signed with what was read.

use egui::accesskit::Role;
use egui::{Button, Label, RichText, TextEdit, Ui, Vec2, WidgetInfo};
use knockon_core::jobs::Commission;
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
            ui.label(RichText::new(words(check.phase)).font(strong(BODY)).color(t.soft));
        }
        one(ui, t, work, check, state, actions);
    }
    ui.add_space(24.0);
}

fn words(phase: Phase) -> &'static str {
    match phase {
        Phase::Static => "Standing, nothing on",
        Phase::Powered => "Electrics on",
        Phase::Running => "Engine running",
        Phase::Rolling => "On the road",
        Phase::Handover => "At handing over",
    }
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
                let typed = state.reading.take_if(|(id, ..)| *id == check.id);
                let (reading, by) = typed.map(|(_, reading, by)| (reading, by)).unwrap_or_default();
                let signed = (!signed).then(|| Signed { reading, by, ..Signed::default() });
                actions.push(Action::Sign(check.id.clone(), signed));
            }
            let right = if signed { "signed" } else { "" };
            let line =
                Fold { sign: Sign::None, text: &check.name, half: &half, right, warm: false, open: false };
            ui.vertical(|ui| {
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
    if check.signed.is_some() {
        return;
    }
    let (mut reading, mut by) = match &state.reading {
        Some((id, reading, by)) if *id == check.id => (reading.clone(), by.clone()),
        _ => (String::new(), String::new()),
    };
    ui.horizontal(|ui| {
        let field = |text, hint: &str, wide| {
            TextEdit::singleline(text)
                .hint_text(hint.to_owned())
                .desired_width(wide)
                .min_size(Vec2::new(0.0, TARGET))
                .align(egui::Align2::LEFT_CENTER)
        };
        let a = named(
            ui.add(field(&mut reading, "What was read", 240.0)),
            &format!("What was read: {}", check.name),
        );
        let b = named(ui.add(field(&mut by, "Initials", 70.0)), &format!("Initials: {}", check.name));
        if a.changed() || b.changed() {
            state.reading = Some((check.id.clone(), reading.clone(), by.clone()));
        }
        let sign = ui.add(Button::new("Sign: passed").min_size(Vec2::new(0.0, TARGET)));
        sign.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Sign {}", check.name)));
        if sign.clicked() {
            state.reading = None;
            let signed =
                Signed { reading: reading.trim().to_owned(), by: by.trim().to_owned(), ..Signed::default() };
            actions.push(Action::Sign(check.id.clone(), Some(signed)));
        }
    });
}
