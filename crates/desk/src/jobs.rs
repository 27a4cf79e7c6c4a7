//! The work in its order and its time: what to do next, with what, in which session, what waits for parts; and before the road
//! what is open still.

pub mod apart;
pub mod bench;
pub mod card;
pub mod checks;
pub mod order;
pub mod row;
pub mod state;
pub mod time;
pub mod trays;

use egui::{Align, Button, Key, Label, Layout, Modifiers, Panel, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::assessment::Assessment;
use knockon_core::jobs::Job;

use crate::access::heard;
use crate::app::commands::Command;
use crate::app::view::Action;
use crate::empty;
use crate::jobs::row::Row;
use crate::jobs::state::{JobsState, Shown, ToDo};
use crate::look::fold;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::wording;

/// In a window with less width the sums stand below the choice of what is shown.
const NARROW: f32 = 900.0;

/// Draws the page.
pub fn page(ui: &mut Ui, a: &Assessment, work: &ToDo, state: &mut JobsState) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let asked = |key| !ui.ctx().text_edit_focused() && ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if state.bench.is_none() && asked(Key::B) {
        let open = state.open.as_ref().filter(|id| work.jobs.jobs.iter().any(|job| job.id == **id));
        state.bench = open.cloned().or_else(|| bench::next(work, None).map(|job| job.id.clone()));
    }
    if let Some(job) = state.bench.as_ref().and_then(|id| work.jobs.jobs.iter().find(|job| job.id == *id)) {
        bench::show(ui, &t, a, work, job, state, &mut actions);
        return actions;
    }
    state.bench = None;
    head(ui, &t, work, state);
    // what is driven is looked at, whatever was done
    if work.jobs.jobs.is_empty() && state.shown != Shown::Checks {
        let text = "Every place is kept as it was found. Choose on the board what you will do at a place: its jobs stand here in \
                    their order, with hours, tools, parts and cautions, so that nothing is taken apart twice. What is looked \
                    at before a drive stands under \"before the road\" all the same.";
        actions.extend(empty::page(ui, "There is no work yet", text, &[Command::Board]));
        return actions;
    }
    // the trays stand beside the list where there is room for both
    let window = ui.available_width();
    if state.shown == Shown::All && window >= 900.0 {
        let frame = egui::Frame::new().inner_margin(egui::Margin { left: 10, right: 4, top: 0, bottom: 0 });
        Panel::right("trays")
            .default_size((window * 0.34).clamp(330.0, 480.0))
            .size_range(300.0..=window * 0.6)
            .frame(frame)
            .show(ui, |ui| trays::column(ui, &t, work, state, &mut actions));
    }
    ScrollArea::vertical().auto_shrink(false).id_salt(("jobs", state.shown)).show(ui, |ui| {
        match state.shown {
            Shown::All => all(ui, &t, a, work, state, &mut actions),
            Shown::Session => session(ui, &t, a, work, state, &mut actions),
            Shown::Apart => apart::list(ui, &t, a, work, &mut actions),
            Shown::Checks => checks::list(ui, &t, work, state, &mut actions),
        }
    });
    actions
}

fn head(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState) {
    let open = work.jobs.jobs.iter().filter(|job| job.done.is_none()).count();
    let (parts, way) = work.jobs.parts_and_way();
    let is_narrow = ui.available_width() < NARROW;
    let row = |ui: &mut Ui, state: &mut JobsState| {
        heard::heading(ui, 2, RichText::new("Jobs").font(strong(HEAD)));
        ui.colored_label(t.soft, format!("{open} to do"));
        ui.add_space(12.0);
        for (shown, name) in [
            (Shown::All, "all in order"),
            (Shown::Session, "this session"),
            (Shown::Apart, "while it is apart"),
            (Shown::Checks, "before the road"),
        ] {
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
        ui.add_space(8.0);
        let at_bench = ui.add(Button::new("At the bench (B)").min_size(Vec2::new(0.0, TARGET)));
        if at_bench.on_hover_text("The job that is open, or the next, fills the window.").clicked() {
            let open = state.open.clone();
            state.bench = open.or_else(|| bench::next(work, None).map(|job| job.id.clone()));
        }
    };
    let sums = |ui: &mut Ui, state: &JobsState| {
        let sessions = match state.hours().filter(|_| state.shown == Shown::Session) {
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
    };
    // hours of no work are none to be told
    if is_narrow {
        ui.horizontal_wrapped(|ui| row(ui, state));
        if open > 0 {
            sums(ui, state);
        }
    } else {
        ui.horizontal(|ui| {
            row(ui, state);
            if open > 0 {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    ui.add_space(28.0);
                    sums(ui, state);
                });
            }
        });
    }
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
    let sum: f64 = today.iter().map(|job| work.jobs.hours_of(job).likely).sum();
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
