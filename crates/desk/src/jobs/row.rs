//! A job in a row: a box to tick, what it is, what it waits for, how long it takes; opened, all that is to be known at the bench.

use egui::accesskit::Role;
use egui::{
    Align, Button, Color32, Frame, Id, Label, Layout, Margin, RichText, Sense, Stroke, StrokeKind, Ui, Vec2,
    WidgetInfo, pos2,
};
use knockon_core::Edit;
use knockon_core::assessment::Assessment;
use knockon_core::jobs::Job;
use knockon_core::sheet::Done;
use knockon_report::schedule::day;

use crate::app::view::{Action, Spot};
use crate::jobs::state::{JobsState, ToDo};
use crate::jobs::trays;
use crate::look::icons;
use crate::look::text::{elided, figures};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tick_box;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::{Typed, number};
use crate::wording;

/// Room of the hours at the right.
const HOURS: f32 = 64.0;

/// A line of what is behind: what it is about, and what is said.
pub fn told(ui: &mut Ui, t: &Tokens, lead: &str, text: &str, tone: Color32) {
    ui.horizontal_top(|ui| {
        let left = Layout::left_to_right(Align::Min);
        ui.allocate_ui_with_layout(Vec2::new(100.0, 18.0), left, |ui| {
            ui.set_min_width(100.0);
            ui.label(RichText::new(lead).font(theme::small()).color(t.soft));
        });
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
    });
}

/// A job with its number.
pub struct Row<'a> {
    /// Its place in the order, from one.
    pub n: usize,
    /// The job.
    pub job: &'a Job,
    /// All of them.
    pub work: &'a ToDo,
    /// Names of parts and places.
    pub a: &'a Assessment,
}

impl Row<'_> {
    /// Draws it, and what is behind it where it is open.
    pub fn show(&self, ui: &mut Ui, t: &Tokens, state: &mut JobsState, actions: &mut Vec<Action>) {
        let job = self.job;
        let done = job.done.is_some();
        let open = state.open.as_ref() == Some(&job.id);
        ui.push_id(&job.id, |ui| {
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                if tick_box::show(ui, t, done, &format!("Done: {}", job.name)) {
                    actions.push(Action::Done(job.id.clone(), !done));
                }
                if self.line(ui, t, open, &mut state.reveal) {
                    state.open = (!open).then(|| job.id.clone());
                }
            });
            if open {
                self.behind(ui, t, state, actions);
            }
        });
    }

    /// The line itself; whether it was clicked.
    fn line(&self, ui: &mut Ui, t: &Tokens, open: bool, reveal: &mut bool) -> bool {
        let job = self.job;
        let done = job.done.is_some();
        let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width() - 8.0, TARGET), Sense::hover());
        let response = ui.interact(rect, Id::unique(("job", &job.id)), Sense::click());
        if open && std::mem::take(reveal) {
            response.scroll_to_me(Some(Align::Center));
        }
        let hours = format!("{:.1} h", self.work.jobs.hours_of(job).likely);
        let state = self.state();
        let label = format!(
            "{}. {}, {hours}{}",
            self.n,
            job.name,
            if state.is_empty() { String::new() } else { format!(", {state}") }
        );
        response.widget_info(|| WidgetInfo::selected(Role::Button, true, open, &label));
        response.ctx.accesskit_node_builder(response.id, |node| node.set_expanded(open));
        if !ui.is_rect_visible(rect) {
            return response.clicked();
        }
        let paint = ui.painter();
        if open || response.hovered() {
            paint.rect_filled(rect, 3, if open { t.cool_ground } else { t.hover });
        }
        if response.has_focus() {
            paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let middle = rect.center().y;
        icons::fold(paint, pos2(rect.left() + 9.0, middle), open, t.soft);
        let soft = done || job.makes_way;
        let number = self.n.to_string();
        let number_right = rect.left() + 48.0;
        figures(paint, pos2(number_right, middle - 8.0), &number, &theme::small(), t.soft);
        let waits = !job.waits_for.is_empty() && !done;
        let told = paint.layout_no_wrap(state, theme::small(), if waits { t.warm } else { t.soft });
        let x = number_right + 10.0;
        let room = rect.right() - HOURS - told.size().x - 20.0 - x;
        let font = if soft { theme::body() } else { strong(BODY) };
        let name = elided(ui, &job.name, font, if soft { t.soft } else { t.ink }, room, 1);
        let width = name.size().x;
        let paint = ui.painter();
        paint.galley(pos2(x, middle - name.size().y / 2.0), name, t.ink);
        if done {
            let stroke = Stroke::new(1.0, t.soft);
            paint.line_segment([pos2(x, middle), pos2(x + width, middle)], stroke);
        }
        paint.galley(
            pos2(rect.right() - HOURS - 8.0 - told.size().x, middle - told.size().y / 2.0),
            told,
            t.soft,
        );
        figures(
            paint,
            pos2(rect.right() - 8.0, middle - 9.0),
            &hours,
            &theme::body(),
            if soft { t.soft } else { t.ink },
        );
        response.clicked()
    }

    /// Where it stands, in words.
    fn state(&self) -> String {
        let job = self.job;
        if let Some(done) = &job.done {
            return done.on.as_ref().map_or_else(|| "done".to_owned(), |day| format!("done {day}"));
        }
        let mut parts = Vec::new();
        if !job.waits_for.is_empty() {
            parts.push(format!("waits for {}", wording::count(job.waits_for.len(), "part", "parts")));
        }
        if job.people > 1 {
            parts.push(format!("{} people", job.people));
        }
        if !self.work.jobs.before_job(job).is_empty() {
            parts.push("waits for a check".to_owned());
        }
        if job.makes_way {
            parts.push("makes way".to_owned());
        }
        parts.join(" · ")
    }

    /// All that is to be known at the bench: cautions first.
    fn behind(&self, ui: &mut Ui, t: &Tokens, state: &mut JobsState, actions: &mut Vec<Action>) {
        let job = self.job;
        let frame = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4);
        ui.horizontal(|ui| {
            ui.add_space(TARGET + 58.0);
            frame.inner_margin(Margin::symmetric(12, 8)).show(ui, |ui| {
                ui.vertical(|ui| {
                    ui.set_width((ui.available_width() - 30.0).min(820.0));
                    self.inside(ui, t, job, actions);
                    self.moves(ui, t, state, actions);
                });
            });
        });
        ui.add_space(4.0);
    }

    fn inside(&self, ui: &mut Ui, t: &Tokens, job: &Job, actions: &mut Vec<Action>) {
        let line = |ui: &mut Ui, lead: &str, text: &str, tone| told(ui, t, lead, text, tone);
        for caution in self.work.jobs.cautions_of(&job.cautions) {
            line(ui, "Caution", caution, t.warm);
        }
        for tick in &job.ticks {
            line(ui, "First", &wording::sentence(tick), t.ink);
        }
        if !job.note.is_empty() {
            line(ui, "Mind", &job.note, t.ink);
        }
        let name = |part: &String| {
            let bought = self.a.buy.iter().find(|line| line.part == *part).map(|line| &line.name);
            let companion = || self.a.companions.iter().find(|c| c.part == *part).map(|c| &c.name);
            let fitted = || {
                self.a
                    .positions
                    .iter()
                    .filter_map(|p| p.fitted.as_ref())
                    .find(|(id, _)| id == part)
                    .map(|(_, name)| name)
            };
            bought.or_else(companion).or_else(fitted).unwrap_or(part).clone()
        };
        if !job.tools.is_empty() {
            line(ui, "Tools", &job.tools.join(", "), t.ink);
        }
        let here: Vec<String> =
            job.lines.iter().filter(|part| !job.waits_for.contains(part)).map(name).collect();
        if !here.is_empty() {
            line(ui, "With", &here.join("; "), t.ink);
        }
        let waits: Vec<String> = job.waits_for.iter().map(name).collect();
        if !waits.is_empty() {
            line(ui, "Still to come", &waits.join("; "), t.warm);
        }
        let job_name = |id: &str| {
            let known = self.work.jobs.jobs.iter().find(|other| other.id == id);
            known.map_or_else(|| id.to_owned(), |other| other.name.clone())
        };
        let after: Vec<String> =
            job.after.iter().map(|(id, why)| format!("{} ({why})", job_name(id))).collect();
        if !after.is_empty() {
            line(ui, "Comes after", &after.join("; "), t.ink);
        }
        for check in self.work.jobs.before_job(job) {
            line(ui, "Not before", &format!("this check is signed: {check}"), t.warm);
        }
        let hours = self.work.jobs.hours_of(job);
        line(
            ui,
            "Hours",
            &format!("{:.1} to {:.1}, likely {:.1}", hours.least, hours.most, hours.likely),
            t.ink,
        );
        if let Some(place) = &job.position {
            let text = format!("Go to {}", wording::place(self.a, place));
            if ui.add(egui::Button::new(text).min_size(Vec2::new(0.0, TARGET))).clicked() {
                actions.push(Action::Select(Some(Spot::Position(place.clone()))));
            }
        }
    }

    /// In which session it stands, and how it comes into another; what it took, where it is done.
    fn moves(&self, ui: &mut Ui, t: &Tokens, state: &mut JobsState, actions: &mut Vec<Action>) {
        let job = self.job;
        if let Some(done) = &job.done {
            ui.horizontal(|ui| {
                ui.label(RichText::new("It took").font(theme::small()).color(t.soft));
                let name = format!("Hours it took: {}", job.name);
                let now = done.hours.map_or_else(String::new, |hours| hours.to_string());
                let field = Typed { name: &name, now, hint: "hours", wide: 60.0 };
                if let Some(hours) =
                    field.show(ui, t, &mut state.fields, |text| number(text, "hours, such as 2 or 1.5"))
                {
                    let done = Some(Done { hours, ..done.clone() });
                    actions.push(Action::Edit(vec![Edit::Done { job: job.id.clone(), done }]));
                }
                ui.colored_label(t.soft, "h; the rest is counted at your pace once three jobs were timed");
            });
            return;
        }
        let Some(slot) = self.work.schedule.slots.get(&job.id) else { return };
        ui.horizontal_wrapped(|ui| {
            let when = self.work.schedule.sessions.get(slot.first).and_then(|session| session.day);
            let when = when.map_or_else(String::new, |at| format!(", {}", day(at)));
            let over = if slot.last > slot.first { format!(" to {}", slot.last + 1) } else { String::new() };
            ui.label(
                RichText::new(format!("Session {}{over}{when}", slot.first + 1))
                    .font(theme::small())
                    .color(t.soft),
            );
            let button = |ui: &mut Ui, text: &str| {
                ui.add(Button::new(text).min_size(Vec2::new(0.0, TARGET))).clicked()
            };
            if slot.first > 0 && button(ui, "A session earlier") {
                trays::by(self.work, &job.id, -1, state, actions);
            }
            if button(ui, "A session later") {
                trays::by(self.work, &job.id, 1, state, actions);
            }
            if self.work.pinned.contains_key(&job.id) && button(ui, "Whenever it comes") {
                state.moved = None;
                actions.push(Action::Edit(vec![Edit::Pin { job: job.id.clone(), day: None }]));
            }
            if button(ui, "At the bench") {
                state.bench = Some(job.id.clone());
            }
        });
    }
}
