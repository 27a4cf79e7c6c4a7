//! The sessions as trays beside the list: the end beside the wanted day, what to order, and a tray for each session whose
//! jobs can be drawn into another.

use egui::accesskit::Role;
use egui::{
    Align2, Frame, Id, Key, Label, LayerId, Margin, Modifiers, Order, RichText, ScrollArea, Sense, Stroke,
    StrokeKind, Ui, Vec2, WidgetInfo, pos2,
};
use knockon_core::Edit;
use knockon_core::schedule::{Block, End, Session};
use knockon_report::schedule::{beside_wanted, day, end, hours, name_of, note, pace, time, whose_hours};

use crate::app::view::Action;
use crate::jobs::state::{JobsState, Moved, ToDo};
use crate::jobs::{order, time as settings};
use crate::look::fold;
use crate::look::text::{elided, figures};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};
use crate::wording;

/// A job on its way into another tray.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Drawn(String);

/// Draws the column.
pub fn column(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState, actions: &mut Vec<Action>) {
    ScrollArea::vertical().auto_shrink(false).id_salt("trays").show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        summary(ui, t, work, state, actions);
        ui.add_space(4.0);
        for n in 0..work.schedule.sessions.len() {
            tray(ui, t, work, n, state, actions);
        }
        ui.add_space(24.0);
    });
}

fn summary(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState, actions: &mut Vec<Action>) {
    let plan = &work.schedule;
    let when = |at: End| at.day.map_or_else(|| end(at), day);
    let sessions = wording::count(usize::try_from(plan.most.sessions).unwrap_or(0), "session", "sessions");
    ui.add(
        Label::new(
            RichText::new(format!("Done by {}, in {sessions}", when(plan.most))).font(strong(BODY + 1.0)),
        )
        .wrap(),
    )
    .on_hover_text("Four times of five: the hours of each job lie between its least and its most.");
    let text = format!("four times of five; as often as not by {}", when(plan.half));
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    if let (Some(wanted), Some(most), Some(half)) =
        (plan.settings.wanted, beside_wanted(plan, plan.most), beside_wanted(plan, plan.half))
    {
        let late = plan.late(plan.most).is_some_and(|days| days > 0);
        let ends =
            if most == half { most } else { format!("{most} four times of five, {half} as often as not") };
        let text = format!("Wanted on {}: {ends}", day(wanted));
        ui.add(Label::new(RichText::new(text).color(if late { t.warm } else { t.cool })).wrap());
    }
    if let Some(moved) = &state.moved {
        let name = name_of(&work.jobs, &moved.job);
        let (was, is) = (moved.before, plan.most);
        let text = match was.sessions.cmp(&is.sessions) {
            std::cmp::Ordering::Equal => format!("{name} moved: the end stays."),
            std::cmp::Ordering::Less => {
                format!("{name} moved: done by {}, not by {} any more.", when(is), when(was))
            }
            std::cmp::Ordering::Greater => {
                format!("{name} moved: done by {} already, not by {}.", when(is), when(was))
            }
        };
        let tone = if was.sessions < is.sessions { t.warm } else { t.ink };
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
    }
    let notes = &plan.notes;
    if !notes.is_empty() {
        let title = format!("{} to mind", wording::count(notes.len(), "thing", "things"));
        fold::behind(ui, t, &title, "notes of the schedule", |ui| {
            for one in notes {
                ui.add(Label::new(wording::sentence(&note(one, &work.jobs))).wrap());
            }
        });
    }
    let title = time(plan);
    let half = if plan.settings.taken.is_empty() { "" } else { "nobody has said otherwise" };
    let line = fold::Fold { sign: fold::Sign::None, text: &title, half, right: "", warm: false, open: false };
    if line.show(ui, t, "time of the work") {
        ui.indent("time of the work", |ui| {
            settings::fields(ui, t, work, state, actions);
            let said = [
                Some(format!("{}.", whose_hours(&work.jobs))),
                pace(&work.jobs).map(|pace| format!("{}.", wording::sentence(&pace))),
            ];
            for text in said.into_iter().flatten() {
                ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
            }
        });
    }
    order::folds(ui, t, work, state, actions);
}

fn tray(ui: &mut Ui, t: &Tokens, work: &ToDo, n: usize, state: &mut JobsState, actions: &mut Vec<Action>) {
    let session: &Session = &work.schedule.sessions[n];
    let frame = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4);
    let shown = frame.inner_margin(Margin::symmetric(8, 5)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.horizontal(|ui| {
            let when = session
                .day
                .map_or_else(|| format!("Session {}", n + 1), |at| format!("{}. {}", n + 1, day(at)));
            ui.label(RichText::new(when).font(strong(BODY - 1.0)));
            let minutes = session.blocks.iter().map(|block| block.from + block.minutes).max().unwrap_or(0);
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                ui.label(RichText::new(hours(minutes)).font(theme::small()).color(t.soft));
            });
        });
        if session.blocks.is_empty() {
            let text = "Nothing can be done: all that is left waits.";
            ui.label(RichText::new(text).font(theme::small()).color(t.soft));
        }
        for block in &session.blocks {
            one(ui, t, work, n, block, state, actions);
        }
    });
    let response = shown.response;
    if response.dnd_hover_payload::<Drawn>().is_some() {
        ui.painter().rect_stroke(response.rect, 4, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    if let Some(job) = response.dnd_release_payload::<Drawn>() {
        into(work, &job.0, n, state, actions);
    }
}

/// A job in its tray: a click shows it in the list, drawing it or Alt with an arrow moves it.
fn one(
    ui: &mut Ui,
    t: &Tokens,
    work: &ToDo,
    n: usize,
    block: &Block,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 24.0), Sense::hover());
    let id = Id::unique(("block", n, &block.job));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let name = name_of(&work.jobs, &block.job);
    let slot = work.schedule.slots.get(&block.job);
    let waits = slot.map_or(0, |slot| slot.waits.len());
    let critical = slot.is_some_and(|slot| slot.critical);
    let mut told = hours(block.minutes);
    if block.piece.1 > 1 {
        told = format!("{} of {} · {told}", block.piece.0, block.piece.1);
    }
    if work.schedule.settings.people.len() > 1 {
        let who = block.people.iter().filter_map(|who| work.schedule.settings.people.get(*who));
        let who: Vec<&str> = who.map(|hand| hand.name.as_str()).collect();
        if !who.is_empty() {
            told = format!("{} · {told}", who.join(", "));
        }
    }
    let mut label = format!("{name}, {told}, session {}", n + 1);
    if critical {
        label.push_str(", on the longest chain");
    }
    if waits > 0 {
        label.push_str(&format!(", waits for {}", wording::count(waits, "part", "parts")));
    }
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.clicked() {
        state.open = Some(block.job.clone());
        state.reveal = true;
    }
    response.dnd_set_drag_payload(Drawn(block.job.clone()));
    if response.dragged()
        && let Some(at) = ui.ctx().pointer_interact_pos()
    {
        let paint = ui.ctx().layer_painter(LayerId::new(Order::Tooltip, id));
        let text = paint.layout_no_wrap(name.to_owned(), theme::body(), t.ink);
        let rect = Align2::LEFT_CENTER.anchor_size(at + Vec2::new(14.0, 0.0), text.size()).expand(5.0);
        paint.rect(rect, 4, t.cool_ground, Stroke::new(1.0, t.cool), StrokeKind::Inside);
        paint.galley(rect.min + Vec2::splat(5.0), text, t.ink);
    }
    if response.has_focus() {
        let took = |key| ui.input_mut(|i| i.consume_key(Modifiers::ALT, key));
        if took(Key::ArrowUp) {
            by(work, &block.job, -1, state, actions);
        } else if took(Key::ArrowDown) {
            by(work, &block.job, 1, state, actions);
        }
    }
    if !ui.is_rect_visible(rect) {
        return;
    }
    let paint = ui.painter();
    let chosen = state.open.as_ref() == Some(&block.job);
    if chosen || response.hovered() {
        paint.rect_filled(rect, 3, if chosen { t.cool_ground } else { t.hover });
    }
    if response.has_focus() {
        paint.rect_stroke(rect, 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    // the longest chain has a bar in front, and its words in the tip
    if critical {
        let bar =
            egui::Rect::from_min_size(rect.min + Vec2::new(0.0, 4.0), Vec2::new(3.0, rect.height() - 8.0));
        paint.rect_filled(bar, 1, t.cool);
    }
    let middle = rect.center().y;
    let wide = paint.layout_no_wrap(told.clone(), theme::small(), t.soft).size().x;
    figures(paint, pos2(rect.right() - 2.0, middle - 8.0), &told, &theme::small(), t.soft);
    let mut room = rect.width() - wide - 20.0;
    let mut x = rect.left() + 8.0;
    if work.pinned.contains_key(&block.job) {
        let mark = paint.layout_no_wrap("moved ".to_owned(), theme::small(), t.soft);
        let size = mark.size();
        paint.galley(pos2(x, middle - size.y / 2.0), mark, t.soft);
        x += size.x;
        room -= size.x;
    }
    let font = if critical { strong(BODY - 1.0) } else { theme::body() };
    let text = elided(ui, name, font, t.ink, room, 1);
    ui.painter().galley(pos2(x, middle - text.size().y / 2.0), text, t.ink);
    let float = slot.map_or(0.0, |slot| slot.float);
    response.on_hover_ui(|ui| {
        ui.label(name);
        let says = match critical {
            true => "On the longest chain: put off, it puts off the end even with more hands.".to_owned(),
            false => format!("Can be put off by {float:.1} h of work, if hands are there."),
        };
        ui.label(says);
        for part in slot.iter().flat_map(|slot| &slot.waits) {
            ui.label(format!("waits for {}", part.name));
        }
        ui.colored_label(t.soft, "Draw it into another session, or Alt with an arrow up or down.");
    });
}

/// Moves a job by so many sessions from where it begins.
pub fn by(work: &ToDo, job: &str, sessions: i64, state: &mut JobsState, actions: &mut Vec<Action>) {
    let Some(slot) = work.schedule.slots.get(job) else { return };
    let at = i64::try_from(slot.first).unwrap_or(i64::MAX).saturating_add(sessions);
    if let Ok(at) = usize::try_from(at) {
        into(work, job, at, state, actions);
    }
}

/// Moves a job into a session.
fn into(work: &ToDo, job: &str, session: usize, state: &mut JobsState, actions: &mut Vec<Action>) {
    let is_there = work.schedule.slots.get(job).is_some_and(|slot| slot.first == session);
    let day = work.schedule.settings.day_of(u64::try_from(session).unwrap_or(u64::MAX));
    if let Some(day) = day.filter(|_| !is_there) {
        state.moved = Some(Moved { job: job.to_owned(), before: work.schedule.most });
        actions.push(Action::Edit(vec![Edit::Pin { job: job.to_owned(), day: Some(day.to_string()) }]));
    }
}
