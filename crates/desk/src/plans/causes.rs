//! Why another plan costs more or less than the one that is worked on: a stair of causes that ends at the difference, each with
//! what takes the other plan's choice over.

use egui::accesskit::Role;
use egui::{
    Align2, Button, Rect, RichText, Sense, Stroke, StrokeKind, Ui, UiBuilder, Vec2, WidgetInfo, pos2,
};
use knockon_core::compare::Cause;
use knockon_report::compare::what;
use rust_decimal::prelude::ToPrimitive;

use crate::access::{self, Keys, heard};
use crate::app::told::Told;
use crate::app::view::{Action, Spot};
use crate::dialogs::one_way::Over;
use crate::look::fold;
use crate::look::text::{elided, figures, figures_width};
use crate::look::theme::{self, sheet as paper, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::plans::told::{Pair, Reason, SideBySide};
use crate::wording;

/// Height of a cause: the place, and below it what is chosen there.
const ROW: f32 = 42.0;
/// So many are told before the rest is folded away.
const FIRST: usize = 6;
/// Room of the stair.
const STAIR: f32 = 96.0;
/// Room of the button.
const TAKE: f32 = 58.0;

/// The stair as a whole: how far left and right it goes, in money, and what its widest figure takes.
#[derive(Clone, Copy)]
struct Scale {
    least: f32,
    most: f32,
    figures: f32,
}

impl Scale {
    fn at(self, value: f32, x: egui::Rangef) -> f32 {
        let span = (self.most - self.least).max(f32::EPSILON);
        x.min + (value - self.least) / span * x.span()
    }
}

/// A step: from where to where.
type Step = (f32, f32);

/// The steps of the stair, each from where the one before ended.
fn steps(ui: &Ui, pair: &Pair, currency: &str) -> (Vec<Step>, Scale) {
    let mut at = 0.0_f32;
    let mut scale = Scale { least: 0.0, most: 0.0, figures: 0.0 };
    let step = |reason: &Reason| {
        let from = at;
        at += reason.cause.money.of(currency).to_f32().unwrap_or(0.0);
        let figure = wording::difference(&reason.cause.money, currency);
        let figures = scale.figures.max(figures_width(ui.painter(), &figure, &strong(BODY)));
        scale = Scale { least: scale.least.min(at), most: scale.most.max(at), figures };
        (from, at)
    };
    (pair.causes.iter().map(step).collect(), scale)
}

/// "+1.5 h", "−0.3 h"; nothing for nothing.
fn hours(value: f64) -> String {
    let plus = if value > 0.0 { "+" } else { "" };
    wording::hours_change(value).map_or_else(String::new, |told| format!("{plus}{told}"))
}

/// Draws it.
pub fn show(ui: &mut Ui, t: &Tokens, a: &Told, beside: &SideBySide, pair: &Pair, actions: &mut Vec<Action>) {
    let name = |id: &str| beside.plan(id).map_or_else(|| id.to_owned(), |plan| plan.name.clone());
    let (here, other) = (name(&beside.on), name(&pair.other));
    paper(t).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 0.0;
        head(ui, t, &here, &other, pair, &beside.currency);
        if pair.causes.is_empty() && pair.even.is_empty() {
            ui.horizontal(|ui| {
                ui.add_space(10.0);
                ui.label(RichText::new("Both decide alike.").color(t.soft));
            });
            return;
        }
        access::list(ui, Keys::Walk, None);
        let (steps, scale) = steps(ui, pair, &beside.currency);
        let all: Vec<(&Reason, Step)> = pair.causes.iter().zip(steps).collect();
        let (first, rest) = all.split_at(all.len().min(FIRST));
        for (reason, step) in first {
            cause(ui, t, a, beside, &other, reason, Some((*step, scale)), actions);
        }
        if !rest.is_empty() {
            let left =
                rest.iter().fold(knockon_core::Amounts::default(), |sum, (r, _)| &sum + &r.cause.money);
            let text = format!("{} more, {}", rest.len(), wording::difference(&left, &beside.currency));
            fold::behind(ui, t, &text, ("causes", &pair.other), |ui| {
                for (reason, step) in rest {
                    cause(ui, t, a, beside, &other, reason, Some((*step, scale)), actions);
                }
            });
        }
        if !pair.even.is_empty() {
            let text = format!("{} chosen otherwise, for the same money", pair.even.len());
            fold::behind(ui, t, &text, ("even", &pair.other), |ui| {
                for reason in &pair.even {
                    cause(ui, t, a, beside, &other, reason, None, actions);
                }
            });
        }
    });
}

/// From which plan to which, and what it comes to.
fn head(ui: &mut Ui, t: &Tokens, here: &str, other: &str, pair: &Pair, currency: &str) {
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 46.0), Sense::hover());
    let money = wording::difference(&pair.money, currency);
    let hours = hours(pair.hours);
    let said = format!("From {here} to {other}: {money}, {hours}");
    heard::as_heading(&response, 3, &said);
    let right = rect.right() - 12.0;
    figures(ui.painter(), pos2(right, rect.top() + 5.0), &money, &strong(BODY + 2.0), t.ink);
    ui.painter().text(pos2(right, rect.bottom() - 11.0), Align2::RIGHT_CENTER, hours, theme::small(), t.soft);
    let room = right - figures_width(ui.painter(), &money, &strong(BODY + 2.0)) - rect.left() - 24.0;
    let to = elided(ui, &format!("To “{other}”"), strong(BODY), t.ink, room, 1);
    let from = elided(ui, &format!("from “{here}”, cause by cause"), theme::small(), t.soft, room, 1);
    ui.painter().galley(pos2(rect.left() + 10.0, rect.top() + 6.0), to, t.ink);
    ui.painter().galley(pos2(rect.left() + 10.0, rect.top() + 25.0), from, t.soft);
    ui.painter().hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
}

/// What the other plan does there, in half a line.
fn chosen(cause: &Cause) -> String {
    let word = cause.to.clone().unwrap_or_else(|| "nothing".to_owned());
    match (&cause.position, cause.from == cause.to) {
        (None, _) => String::new(),
        (_, true) => format!("the same, with what it brings: {word}"),
        _ => word,
    }
}

#[allow(clippy::too_many_arguments, reason = "a row knows what it stands in")]
fn cause(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    beside: &SideBySide,
    other: &str,
    reason: &Reason,
    scale: Option<(Step, Scale)>,
    actions: &mut Vec<Action>,
) {
    let cause = &reason.cause;
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::hover());
    let mut own = rect;
    own.set_right(rect.right() - TAKE - 10.0);
    let salt = (&beside.on, cause.position.as_deref(), &cause.to);
    let response = ui.interact(own, ui.unique_id().with(("cause", salt, other)), Sense::click());
    let money = wording::difference(&cause.money, &beside.currency);
    let work = hours(cause.hours);
    let label = [format!("To {other}: {}", what(cause)), money.clone(), work.clone()];
    let label = label.into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join(", ");
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.hovered() {
        ui.painter().rect_filled(own, 3, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(own.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let right = own.right() - 6.0;
    if !cause.money.is_zero() || scale.is_some() {
        figures(ui.painter(), pos2(right, rect.top() + 3.0), &money, &strong(BODY), t.ink);
    }
    ui.painter().text(pos2(right, rect.bottom() - 12.0), Align2::RIGHT_CENTER, work, theme::small(), t.soft);
    let wide =
        scale.map_or(0.0, |(_, scale)| scale.figures).max(figures_width(ui.painter(), &money, &strong(BODY)));
    let stair = egui::Rangef::new(right - wide - 12.0 - STAIR, right - wide - 12.0);
    let has_stair = stair.min - rect.left() > 170.0;
    if let Some((step, scale)) = scale.filter(|_| has_stair) {
        draw(ui, t, step, scale, stair, rect);
    }
    let room = if has_stair { stair.min } else { right - wide } - rect.left() - 20.0;
    let name = if cause.position.is_some() { cause.place.as_str() } else { "The plan as a whole" };
    let name = elided(ui, &wording::sentence(name), theme::body(), t.ink, room, 1);
    let below = elided(ui, &chosen(cause), theme::small(), t.soft, room, 1);
    ui.painter().galley(pos2(rect.left() + 10.0, rect.top() + 3.0), name, t.ink);
    ui.painter().galley(pos2(rect.left() + 10.0, rect.top() + 22.0), below, t.soft);
    ui.painter().hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
    if response.clicked()
        && let Some(id) = cause.position.as_ref().filter(|id| a.positions.iter().any(|p| p.id == **id))
    {
        actions.push(Action::Select(Some(Spot::Position(id.clone()))));
    }
    response.on_hover_ui(|ui| parts(ui, t, cause));
    take(ui, beside, other, reason, rect, actions);
}

/// A step of the stair, filled where it costs more, and the line on which it begins.
fn draw(ui: &Ui, t: &Tokens, (from, to): Step, scale: Scale, x: egui::Rangef, rect: Rect) {
    let zero = scale.at(0.0, x);
    ui.painter().vline(zero, rect.y_range(), Stroke::new(1.0, t.line));
    let (a, b) = (scale.at(from, x), scale.at(to, x));
    let bar = Rect::from_x_y_ranges(
        a.min(b)..=a.max(b).max(a.min(b) + 1.5),
        rect.center().y - 6.0..=rect.center().y + 6.0,
    );
    if to >= from {
        ui.painter().rect_filled(bar, 1, t.soft);
    } else {
        ui.painter().rect(bar, 1, t.sheet, Stroke::new(1.0, t.soft), StrokeKind::Inside);
    }
    ui.painter().vline(b, bar.bottom()..=rect.bottom() + rect.height() / 2.0 - 6.0, Stroke::new(1.0, t.edge));
}

/// What it brings and what it spares, whole.
fn parts(ui: &mut Ui, t: &Tokens, cause: &Cause) {
    ui.set_max_width(440.0);
    ui.add(egui::Label::new(wording::sentence(&what(cause))).wrap());
    for (lead, names) in [("Brings", &cause.added), ("Spares", &cause.saved)] {
        if !names.is_empty() {
            let text = format!("{lead}: {}", names.join("; "));
            ui.add(egui::Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
        }
    }
}

/// The button that brings the other plan's choice over; none where both choose alike.
fn take(
    ui: &mut Ui,
    beside: &SideBySide,
    other: &str,
    reason: &Reason,
    rect: Rect,
    actions: &mut Vec<Action>,
) {
    let Some(position) = reason.cause.position.as_ref().filter(|_| !reason.take.is_empty()) else { return };
    let place = Rect::from_min_size(
        pos2(rect.right() - TAKE - 6.0, rect.center().y - TARGET / 2.0),
        Vec2::new(TAKE, TARGET),
    );
    // over the end of the row that was drawn last, which has its room already
    let mut over = ui.new_child(UiBuilder::new().max_rect(place));
    let response = over.add(Button::new("Take").min_size(place.size()));
    let to = reason.cause.to.as_deref().unwrap_or("nothing");
    let label = format!("Take over: {}, {to}, as in {other}", reason.cause.place);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.on_hover_text("Do it as the other plan does, here. What else that asks for depends on the rest of this plan; one undo takes it back.").clicked() {
        actions.push(Action::TakeOver(Over::of(position, &beside.on, reason.take.clone())));
    }
}
