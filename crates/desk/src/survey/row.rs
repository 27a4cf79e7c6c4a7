//! A line of the walk: how it stands as shape and word, what it is, what was read, and a field to type into.

use egui::{
    Align2, Color32, Id, Key, Pos2, Sense, Shape, Stroke, StrokeKind, TextEdit, Ui, Vec2, pos2, vec2,
};
use knockon_core::sheet::Verdict;
use knockon_core::survey::{Line, typed};

use super::Walk;
use super::state::{Reads, WalkState, name};
use crate::app::view::Action;
use crate::look::text::{elided, named};
use crate::look::theme;
use crate::look::tokens::{PEN, TARGET, Tokens};

/// Width of the field.
const FIELD: f32 = 150.0;
/// Width of the unit.
const UNIT: f32 = 52.0;
/// Width of the verdict.
const SAYS: f32 = 104.0;

/// The field of a line.
pub fn field_id(line: &Line) -> Id {
    Id::unique(("reading", &line.position, &line.inspection))
}

/// Draws a shape for how something stands.
pub fn shape(ui: &mut Ui, reads: Reads, tone: Color32) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(18.0, TARGET), Sense::hover());
    paint(ui, rect.center(), reads, tone);
}

/// Good is a ring, watch a half, renew a square on its tip, stop a filled bar, undecided a question, open a dash.
fn paint(ui: &Ui, c: Pos2, reads: Reads, tone: Color32) {
    let p = ui.painter();
    let pen = Stroke::new(PEN, tone);
    match reads {
        Reads::Verdict(Verdict::Good) => {
            p.circle_stroke(c, 4.5, pen);
        }
        Reads::Verdict(Verdict::Watch) => {
            p.circle_stroke(c, 4.5, pen);
            p.circle_filled(c, 2.0, tone);
        }
        Reads::Verdict(Verdict::Renew) => {
            let tips = [vec2(0.0, -5.5), vec2(5.5, 0.0), vec2(0.0, 5.5), vec2(-5.5, 0.0)].map(|v| c + v);
            p.add(Shape::closed_line(tips.to_vec(), pen));
        }
        Reads::Verdict(Verdict::Stop) => {
            p.rect_filled(egui::Rect::from_center_size(c, vec2(11.0, 11.0)), 2, tone);
        }
        Reads::Undecided => {
            p.text(c, Align2::CENTER_CENTER, "?", theme::body(), tone);
        }
        Reads::Open => {
            p.line_segment([c - vec2(4.0, 0.0), c + vec2(4.0, 0.0)], pen);
        }
        Reads::Waits => {
            p.circle_filled(c, 1.2, tone);
        }
    }
}

/// The word beside the shape.
fn word(line: &Line) -> String {
    match Reads::of(line) {
        Reads::Verdict(verdict) => verdict.word().to_owned(),
        Reads::Undecided => "measure better".to_owned(),
        Reads::Open => "to measure".to_owned(),
        Reads::Waits if line.put_off.is_some() => "put off".to_owned(),
        Reads::Waits if line.answered => "answered".to_owned(),
        Reads::Waits => "waits".to_owned(),
    }
}

/// Draws the line.
pub fn show(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    line: &Line,
    state: &mut WalkState,
    actions: &mut Vec<Action>,
) {
    let at = name(line);
    let is_here = state.at.as_ref() == Some(&at);
    let width = ui.available_width() - 8.0;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, TARGET + 2.0), Sense::click());
    if response.clicked() {
        state.to = Some(at.clone());
    }
    let reads = Reads::of(line);
    let is_bad = matches!(reads, Reads::Verdict(Verdict::Renew | Verdict::Stop) | Reads::Undecided);
    let tone = if is_bad { t.warm } else { t.ink };
    let soft = matches!(reads, Reads::Open | Reads::Waits);
    if ui.is_rect_visible(rect) {
        if is_here || response.hovered() {
            ui.painter().rect_filled(rect, 3, if is_here { t.cool_ground } else { t.hover });
        }
        let middle = rect.center().y;
        paint(ui, pos2(rect.left() + 12.0, middle), reads, if soft { t.soft } else { tone });
        let says = elided(ui, &word(line), theme::small(), if soft { t.soft } else { tone }, SAYS, 1);
        ui.painter().galley(pos2(rect.left() + 26.0, middle - says.size().y / 2.0), says, tone);
        let x = rect.left() + 26.0 + SAYS + 8.0;
        let room = rect.right() - FIELD - UNIT - 12.0 - x;
        let place = elided(ui, &line.place, theme::small(), t.soft, room * 0.42, 1);
        ui.painter().galley(pos2(x, middle - place.size().y / 2.0), place, t.soft);
        let x = x + room * 0.44;
        let what = elided(ui, &line.name, theme::body(), t.ink, room * 0.55, 1);
        ui.painter().galley(pos2(x, middle - what.size().y / 2.0), what, t.ink);
        let unit = if line.is_date { "made" } else { &line.unit };
        let unit = elided(ui, unit, theme::small(), t.soft, UNIT, 1);
        let at = pos2(rect.right() - UNIT + 2.0, middle - unit.size().y / 2.0);
        ui.painter().galley(at, unit, t.soft);
    }
    let place = egui::Rect::from_min_max(
        pos2(rect.right() - FIELD - UNIT - 4.0, rect.top() + 1.0),
        pos2(rect.right() - UNIT - 4.0, rect.bottom() - 1.0),
    );
    field(ui, t, walk, line, place, state, actions);
}

fn field(
    ui: &mut Ui,
    t: &Tokens,
    walk: &Walk<'_>,
    line: &Line,
    place: egui::Rect,
    state: &mut WalkState,
    actions: &mut Vec<Action>,
) {
    let (at, id) = (name(line), field_id(line));
    let mut text = match &state.typed {
        Some((of, text)) if *of == at => text.clone(),
        _ => String::new(),
    };
    let field = TextEdit::singleline(&mut text)
        .id(id)
        .hint_text(line.value.as_str())
        .min_size(place.size())
        .align(Align2::LEFT_CENTER);
    let response = ui.put(place, field.desired_width(place.width() - 10.0));
    let response = named(response, &format!("{}, {}: {}", line.place, line.name, word(line)));
    let wrong = state.wrong.as_ref().is_some_and(|(of, _)| *of == at);
    if wrong {
        ui.painter().rect_stroke(place, 3, Stroke::new(2.0, t.warm), StrokeKind::Inside);
    }
    if state.to.as_ref() == Some(&at) {
        state.to = None;
        response.request_focus();
        response.scroll_to_me(None);
    }
    if response.gained_focus() || response.has_focus() {
        state.at = Some(at.clone());
    }
    if response.changed() {
        state.typed = Some((at.clone(), text.clone()));
        state.wrong = None;
    }
    if !response.lost_focus() {
        return;
    }
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        state.typed = None;
        state.wrong = None;
        return;
    }
    let entered = ui.input(|i| i.key_pressed(Key::Enter));
    if text.trim().is_empty() {
        if entered {
            state.to = state.away(walk.found, &at, true, true);
        }
        return;
    }
    let (which, value) = match text.split_once(':') {
        Some((which, value)) => (which.trim().to_owned(), value),
        None => (String::new(), text.as_str()),
    };
    match typed(walk.catalogue, &line.inspection, value) {
        Ok(value) => {
            state.typed = None;
            state.wrong = None;
            state.last = Some(at.clone());
            actions.push(Action::Inspected {
                position: line.position.clone(),
                inspection: line.inspection.clone(),
                which,
                value,
                is_date: line.is_date,
            });
            if entered {
                state.to = state.away(walk.found, &at, true, true);
            }
        }
        Err(why) => {
            state.wrong = Some((at.clone(), why));
            // what was typed stays to be mended
            if entered {
                state.to = Some(at);
            }
        }
    }
}
