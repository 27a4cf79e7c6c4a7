//! The work in its order: what to do next, with what, and what waits for parts; and before the road what is open still.

pub mod checks;
pub mod row;
pub mod state;

use egui::{Align, Button, Label, Layout, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::assessment::Assessment;
use knockon_core::jobs::Job;

use crate::access::heard;
use crate::app::view::Action;
use crate::jobs::row::Row;
use crate::jobs::state::{JobsState, Shown, ToDo};
use crate::look::fold;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::wording;

/// Draws the page.
pub fn page(ui: &mut Ui, a: &Assessment, work: &ToDo, state: &mut JobsState) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    head(ui, &t, work, state);
    // what is driven is looked at, whatever was done
    if work.jobs.jobs.is_empty() && state.shown != Shown::Checks {
        ui.add_space(24.0);
        let text = "There is no work yet: every place is kept as it is. Choose a route on the board and its jobs stand here.";
        ui.vertical_centered(|ui| ui.colored_label(t.soft, text));
        return actions;
    }
    ScrollArea::vertical().auto_shrink(false).id_salt(("jobs", state.shown)).show(ui, |ui| {
        match state.shown {
            Shown::All => all(ui, &t, a, work, state, &mut actions),
            Shown::Session => session(ui, &t, a, work, state, &mut actions),
            Shown::Checks => checks::list(ui, &t, work, state, &mut actions),
        }
    });
    actions
}

fn head(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState) {
    let open = work.jobs.jobs.iter().filter(|job| job.done.is_none());
    let open: Vec<&Job> = open.collect();
    let parts: f64 = open.iter().map(|job| job.parts_hours).sum();
    let way: f64 = open.iter().map(|job| (job.hours.likely - job.parts_hours).max(0.0)).sum();
    ui.horizontal(|ui| {
        heard::heading(ui, 2, RichText::new("Jobs").font(strong(HEAD)));
        ui.colored_label(t.soft, format!("{} to do", open.len()));
        ui.add_space(12.0);
        for (shown, name) in
            [(Shown::All, "all in order"), (Shown::Session, "this session"), (Shown::Checks, "before the road")]
        {
            let button = Button::selectable(state.shown == shown, name).min_size(Vec2::new(0.0, TARGET));
            if ui.add(button).clicked() {
                state.shown = shown;
            }
        }
        if state.shown == Shown::Session {
            ui.add_space(8.0);
            ui.label("hours I have");
            let field = TextEdit::singleline(&mut state.hours)
                .desired_width(48.0)
                .min_size(Vec2::new(0.0, TARGET))
                .align(egui::Align2::LEFT_CENTER);
            named(ui.add(field), "Hours I have");
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(28.0);
            let sessions = match state.hours() {
                Some(one) => format!(
                    " · {:.0} to {:.0} sessions of {one} h",
                    (work.half / one).ceil(),
                    (work.most / one).ceil()
                ),
                None => String::new(),
            };
            let text = format!("{parts:.0} h of the parts, {way:.0} h to get there and back{sessions}");
            let tip = format!(
                "Within {:.0} h as often as not, within {:.0} h four times of five: the hours of each job lie between its least \
                 and its most.",
                work.half, work.most
            );
            ui.add(Label::new(RichText::new(text).color(t.soft)).truncate()).on_hover_text(tip);
        });
    });
    ui.add_space(6.0);
}

fn all(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    work: &ToDo,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let mut area = None;
    for (n, job) in work.jobs.jobs.iter().enumerate() {
        if !job.area.is_empty() && area != Some(&job.area) {
            area = Some(&job.area);
            ui.add_space(8.0);
            ui.label(RichText::new(wording::sentence(&job.area)).font(strong(BODY)).color(t.soft));
        }
        Row { n: n + 1, job, work, a }.show(ui, t, state, actions);
    }
    for circle in &work.jobs.circles {
        ui.add_space(8.0);
        let text = format!(
            "Each of these wanted another of them first; left out so that work can begin: {}",
            circle.left_out
        );
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.warm)).wrap());
    }
    ui.add_space(24.0);
}

fn session(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    work: &ToDo,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let Some(hours) = state.hours() else {
        ui.colored_label(t.warm, "Hours are a number above nothing, such as 6 or 4.5.");
        return;
    };
    let today = work.jobs.in_hours(hours);
    let sum: f64 = today.iter().map(|job| job.hours.likely).sum();
    let lead = match today.len() {
        0 => "Nothing can be begun in this time with what is here.".to_owned(),
        n => format!("{}, {sum:.1} h with what is here", wording::count(n, "job", "jobs")),
    };
    ui.label(RichText::new(lead).font(strong(BODY)));
    let mut tools: Vec<&str> = today.iter().flat_map(|job| &job.tools).map(String::as_str).collect();
    tools.sort_unstable();
    tools.dedup();
    if !tools.is_empty() {
        let text = format!("Take to the vehicle: {}", tools.join(", "));
        ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
    }
    ui.add_space(4.0);
    for job in today {
        let n = work.jobs.jobs.iter().position(|other| other.id == job.id).map_or(0, |at| at + 1);
        Row { n, job, work, a }.show(ui, t, state, actions);
    }
    let waiting: Vec<(usize, &Job)> = work
        .jobs
        .jobs
        .iter()
        .enumerate()
        .filter(|(_, job)| job.done.is_none() && !job.waits_for.is_empty())
        .collect();
    if !waiting.is_empty() {
        ui.add_space(10.0);
        let title = format!("{} for parts", wording::count(waiting.len(), "job waits", "jobs wait"));
        fold::behind(ui, t, &title, "waiting for parts", |ui| {
            for (at, job) in waiting {
                Row { n: at + 1, job, work, a }.show(ui, t, state, actions);
            }
        });
    }
    ui.add_space(24.0);
}
