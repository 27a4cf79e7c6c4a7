//! One job fills the window, for hands that are full of grease: its name large, cautions first, what to look at, parts, a
//! timer, a big tick, the next.

use egui::{Align, Button, Key, Label, Layout, Modifiers, RichText, ScrollArea, Ui, Vec2};
use knockon_core::Edit;
use knockon_core::assessment::Assessment;
use knockon_core::jobs::Job;
use knockon_core::sheet::Done;
use knockon_report::schedule::parts_of;

use crate::app::view::Action;
use crate::jobs::state::{JobsState, Timer, ToDo};
use crate::look::theme::strong;
use crate::look::tick_box;
use crate::look::tokens::{BODY, HEAD, Tokens};
use crate::wording;

/// Height of what is pressed with a knuckle.
const BIG: f32 = 56.0;
/// Text to be read from where one lies.
const FAR: f32 = BODY + 5.0;

/// The first job that is not done, behind a job or from the front.
pub fn next<'a>(work: &'a ToDo, behind: Option<&str>) -> Option<&'a Job> {
    let jobs = &work.jobs.jobs;
    let at = behind.and_then(|id| jobs.iter().position(|job| job.id == id)).map_or(0, |at| at + 1);
    let from = jobs.get(at..).unwrap_or_default();
    from.iter().chain(jobs.iter().take(at)).find(|job| job.done.is_none() && Some(job.id.as_str()) != behind)
}

/// Draws the job; the page is its own.
pub fn show(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    work: &ToDo,
    job: &Job,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let now = ui.input(|i| i.time);
    let free = !ui.ctx().text_edit_focused();
    let took = |key| free && ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let (key_time, key_done, key_next) = (took(Key::T), took(Key::D), took(Key::N));
    ui.horizontal(|ui| {
        if ui.add(Button::new("Back to the list (Esc)").min_size(Vec2::new(0.0, 40.0))).clicked() {
            state.bench = None;
        }
        let of = work.jobs.jobs.iter().position(|other| other.id == job.id).map_or(0, |at| at + 1);
        ui.colored_label(t.soft, format!("job {of} of {}", work.jobs.jobs.len()));
        if !job.area.is_empty() {
            ui.colored_label(t.soft, format!("· {}", job.area));
        }
        let hours = work.jobs.hours_of(job);
        ui.colored_label(
            t.soft,
            format!("· {:.1} to {:.1} h, likely {:.1}", hours.least, hours.most, hours.likely),
        );
        if job.people > 1 {
            ui.colored_label(t.warm, format!("· {} people", job.people));
        }
    });
    let room = ui.available_height() - BIG - 22.0;
    ScrollArea::vertical().auto_shrink(false).max_height(room.max(80.0)).id_salt(("bench", &job.id)).show(
        ui,
        |ui| {
            ui.set_max_width(1000.0);
            ui.add(Label::new(RichText::new(&job.name).font(strong(HEAD * 1.8))).wrap());
            ui.add_space(6.0);
            let told = |ui: &mut Ui, lead: &str, text: &str, tone| {
                ui.horizontal_top(|ui| {
                    ui.allocate_ui_with_layout(
                        Vec2::new(130.0, FAR + 6.0),
                        Layout::left_to_right(Align::Min),
                        |ui| {
                            ui.set_min_width(130.0);
                            ui.label(RichText::new(lead).size(FAR).color(t.soft));
                        },
                    );
                    ui.add(Label::new(RichText::new(text).size(FAR).color(tone)).wrap());
                });
            };
            for caution in work.jobs.cautions_of(&job.cautions) {
                told(ui, "Caution", caution, t.warm);
            }
            for check in work.jobs.before_job(job) {
                told(ui, "Not before", &format!("this check is signed: {check}"), t.warm);
            }
            let open: Vec<&str> = job
                .after
                .iter()
                .filter_map(|(id, _)| {
                    work.jobs.jobs.iter().find(|other| other.id == *id && other.done.is_none())
                })
                .map(|other| other.name.as_str())
                .collect();
            if !open.is_empty() {
                told(ui, "Not before", &open.join("; "), t.warm);
            }
            for (n, tick) in job.ticks.iter().enumerate() {
                ui.horizontal(|ui| {
                    let key = (job.id.clone(), n);
                    let on = state.ticked.contains(&key);
                    if tick_box::show(ui, t, on, &format!("First: {tick}")) && !state.ticked.remove(&key) {
                        state.ticked.insert(key);
                    }
                    ui.add(Label::new(RichText::new(wording::sentence(tick)).size(FAR)).wrap());
                });
            }
            if !job.note.is_empty() {
                told(ui, "Mind", &job.note, t.ink);
            }
            if !job.tools.is_empty() {
                told(ui, "Tools", &job.tools.join(", "), t.ink);
            }
            let parts = parts_of(job, a);
            if !parts.is_empty() {
                told(ui, "With", &parts.join("; "), t.ink);
            }
        },
    );
    ui.separator();
    ui.horizontal(|ui| {
        let timer = state.timer.clone().filter(|timer| timer.job == job.id).unwrap_or_default();
        let seconds = timer.seconds(now);
        let runs = timer.since.is_some();
        let big = |text: String| Button::new(RichText::new(text).size(FAR)).min_size(Vec2::new(150.0, BIG));
        let word = if runs { "Stop the clock (T)" } else { "Start the clock (T)" };
        if job.done.is_none() {
            if ui.add(big(word.to_owned())).clicked() || key_time {
                let since = (!runs).then_some(now);
                state.timer = Some(Timer { job: job.id.clone(), before: seconds, since });
            }
            let whole = seconds as u64;
            let clock = format!("{}:{:02}:{:02}", whole / 3600, whole / 60 % 60, whole % 60);
            ui.label(RichText::new(clock).font(strong(HEAD * 1.6)).color(if runs { t.cool } else { t.soft }));
            if runs {
                ui.ctx().request_repaint_after(std::time::Duration::from_millis(500));
            }
        } else {
            let took = job.done.as_ref().and_then(|done| done.hours);
            let text = took.map_or_else(|| "Done".to_owned(), |hours| format!("Done, it took {hours:.2} h"));
            ui.label(RichText::new(text).size(FAR).color(t.cool));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.add_space(20.0);
            if ui.add(big("Next (N)".to_owned())).clicked() || key_next {
                state.bench = next(work, Some(&job.id)).map(|job| job.id.clone()).or(state.bench.take());
            }
            let text = if job.done.is_some() { "Not done after all (D)" } else { "Done (D)" };
            let button = big(text.to_owned()).fill(if job.done.is_some() { t.sheet } else { t.cool_ground });
            if ui.add(button).clicked() || key_done {
                let on = work.schedule.settings.today.map(|day| day.to_string());
                // less than a minute on the clock is no time that a job takes
                let hours =
                    (seconds >= 60.0).then(|| (seconds / 36.0).round() / 100.0).filter(|hours| *hours > 0.0);
                let done = job.done.is_none().then(|| Done { on, hours, ..Done::default() });
                state.timer.take_if(|timer| timer.job == job.id);
                actions.push(Action::Edit(vec![Edit::Done { job: job.id.clone(), done }]));
            }
        });
    });
}
