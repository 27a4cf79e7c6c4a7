//! The head of the money page: the budget and its fields, the sums as figures and drawn against the budget, and what to know
//! about them.

use egui::{
    Align, Button, Color32, Frame, Label, Layout, Margin, Rect, RichText, Sense, Stroke, StrokeKind, Ui,
    Vec2, pos2,
};
use knockon_core::budget::Spending;
use knockon_core::{Amounts, Edit, Money, Sheet};
use rust_decimal::prelude::ToPrimitive;

use crate::access::heard;
use crate::app::told::Told;
use crate::app::view::{Action, Behind};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, HEAD, PEN, TARGET, Tokens};
use crate::look::typed::Typed;
use crate::look::{icons, text};
use crate::money::fields::{self, KEPT, TOTAL};
use crate::money::state::MoneyState;
use crate::wording;

/// Height of the bar.
const BAR: f32 = 14.0;

/// Draws it.
pub fn show(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    state: &mut MoneyState,
    actions: &mut Vec<Action>,
) {
    let b = &a.spending;
    ui.horizontal_wrapped(|ui| {
        heard::heading(ui, 2, RichText::new("Money").font(strong(HEAD)));
        ui.add_space(8.0);
        ui.label("Budget");
        let now = b.budget.as_ref().map_or_else(String::new, |m| wording::amount(m.amount, &m.currency));
        let field = Typed { name: TOTAL, now, hint: "nobody said", wide: 120.0 };
        typed(ui, t, a, sheet, state, &field, actions);
        ui.add_space(8.0);
        ui.label("kept back");
        let now = sheet.budget.contingency.map_or_else(String::new, |n| n.to_string());
        let field = Typed { name: KEPT, now, hint: "0", wide: 36.0 };
        typed(ui, t, a, sheet, state, &field, actions);
        ui.label("% of what is to come");
        let (rough, looked) = b.roughness;
        if looked > 0 {
            let text = format!("the survey would renew or stop {rough} of {looked} places");
            let hover = "The rougher the vehicle was found, the more is kept back for what nobody foresaw.";
            let soft = RichText::new(text).font(theme::small()).color(t.soft);
            ui.label(soft).on_hover_text(hover);
        }
        if let Some(said) = said_by_direction(sheet) {
            let text = format!("Take {} of your direction", wording::amount(said.amount, &said.currency));
            if ui.add(Button::new(text).min_size(Vec2::new(0.0, TARGET))).clicked() {
                let mut budget = sheet.budget.clone();
                budget.total = Some(said.clone());
                actions.push(Action::Edit(vec![Edit::SetBudget { budget: Box::new(budget) }]));
            }
        }
    });
    ui.add_space(2.0);
    let frame = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4);
    frame.inner_margin(Margin::symmetric(12, 8)).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 2.0;
        figures(ui, t, a);
        if !b.shares.is_empty() {
            ui.add_space(6.0);
            bar(ui, t, a);
        }
        notes(ui, t, a, actions);
    });
    ui.add_space(6.0);
}

/// What the direction says may be spent, where the budget says nothing.
fn said_by_direction(sheet: &Sheet) -> Option<&Money> {
    let said = sheet.directions.last().and_then(|direction| direction.budget.as_ref());
    said.filter(|_| sheet.budget.total.is_none())
}

/// A field of the budget.
pub fn typed(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    state: &mut MoneyState,
    field: &Typed<'_>,
    actions: &mut Vec<Action>,
) {
    let read = |text: &str| fields::read(sheet, a, &a.spending.currency, field.name, text);
    if let Some(Some(edit)) = field.show(ui, t, &mut state.fields, read) {
        actions.push(Action::Edit(vec![edit]));
    }
}

/// How a part of the bar is filled.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fill {
    /// Paid.
    Full,
    /// On order.
    Half,
    /// To come.
    Light,
    /// Kept back.
    Outline,
}

impl Fill {
    fn paint(self, ui: &Ui, t: &Tokens, rect: Rect) {
        let paint = ui.painter();
        let pen = Stroke::new(1.0, t.edge);
        match self {
            Self::Full => drop(paint.rect_filled(rect, 0, t.ink)),
            Self::Half => drop(paint.rect(rect, 0, t.cool, pen, StrokeKind::Inside)),
            Self::Light => drop(paint.rect(rect, 0, t.cool_ground, pen, StrokeKind::Inside)),
            Self::Outline => drop(paint.rect_stroke(rect, 0, pen, StrokeKind::Inside)),
        }
    }
}

/// The figures of the head: word, figure, how it is filled in the bar, and whether it must be looked at.
fn all(a: &Told) -> Vec<(&'static str, String, Option<Fill>, bool)> {
    let b = &a.spending;
    let m = &a.totals.money;
    let told = |sum: &Amounts| wording::amounts(sum, &b.currency);
    let least = if b.unpriced > 0 { "≥ " } else { "" };
    let mut all = vec![
        ("spent", told(&m.spent), Some(Fill::Full), false),
        ("on order", told(&m.committed), Some(Fill::Half), false),
        ("to come", told(&m.to_come), Some(Fill::Light), false),
    ];
    if b.contingency_percent > 0 {
        all.push(("kept back", told(&b.contingency), Some(Fill::Outline), false));
    }
    if !m.came_back.is_zero() {
        all.push(("came back", told(&m.came_back), None, false));
    }
    all.push(("in the end, if prices hold", format!("{least}{}", told(&b.forecast)), None, false));
    if b.contingency_percent > 0 {
        all.push(("at most, with what is kept back", told(&b.forecast_most), None, false));
    }
    if let Some(over) = &b.over {
        all.push(("over the budget", wording::amount(over.amount, &over.currency), None, true));
    } else if let Some(left) = b.left() {
        all.push(("left of the budget", wording::amount(left.amount, &left.currency), None, false));
    }
    all
}

fn figures(ui: &mut Ui, t: &Tokens, a: &Told) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = Vec2::new(26.0, 6.0);
        for (word, figure, fill, warm) in all(a) {
            one(ui, t, word, &figure, fill, warm);
        }
    });
}

fn one(ui: &mut Ui, t: &Tokens, word: &str, figure: &str, fill: Option<Fill>, warm: bool) {
    let font = strong(BODY + 2.0);
    let (tone, soft) = if warm { (t.warm, t.warm) } else { (t.ink, t.soft) };
    let caption = ui.painter().layout_no_wrap(word.to_owned(), theme::small(), soft);
    let wide = text::figures_width(ui.painter(), figure, &font);
    let lead = if fill.is_some() || warm { 18.0 } else { 0.0 };
    let size = Vec2::new(wide.max(caption.size().x + lead), 38.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let label = format!("{word}: {figure}");
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Label, true, &label));
    text::figures(ui.painter(), pos2(rect.left() + wide, rect.top()), figure, &font, tone);
    let middle = rect.top() + 21.0 + caption.size().y / 2.0;
    if let Some(fill) = fill {
        fill.paint(ui, t, Rect::from_center_size(pos2(rect.left() + 6.0, middle), Vec2::splat(10.0)));
    } else if warm {
        icons::caution(ui.painter(), pos2(rect.left() + 7.0, middle), t.warm);
    }
    ui.painter().galley(pos2(rect.left() + lead, rect.top() + 21.0), caption, soft);
}

/// The sums beside each other against the budget, which is a mark on them.
fn bar(ui: &mut Ui, t: &Tokens, a: &Told) {
    let b: &Spending = &a.spending;
    let m = &a.totals.money;
    let own = |sum: &Amounts| sum.of(&b.currency).to_f32().unwrap_or(0.0).max(0.0);
    let parts = [
        (Fill::Full, own(&m.spent)),
        (Fill::Half, own(&m.committed)),
        (Fill::Light, own(&m.to_come)),
        (Fill::Outline, own(&b.contingency)),
    ];
    let budget = b.budget.as_ref().and_then(|m| m.amount.to_f32());
    let sum: f32 = parts.iter().map(|(_, part)| part).sum();
    let most = sum.max(budget.unwrap_or(0.0)).max(1.0);
    // the mark has its word below it
    let size = Vec2::new(ui.available_width(), BAR + if budget.is_some() { 18.0 } else { 4.0 });
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    let all: Vec<String> = all(a).into_iter().map(|(word, figure, ..)| format!("{word} {figure}")).collect();
    heard::picture(&response, &format!("Bar: {}", all.join(", ")));
    let mut x = rect.left();
    for (fill, part) in parts.into_iter().filter(|(_, part)| *part > 0.0) {
        let wide = part / most * rect.width();
        fill.paint(ui, t, Rect::from_min_size(pos2(x, rect.top()), Vec2::new(wide, BAR)));
        x += wide;
    }
    let Some(budget) = budget else { return };
    let at = rect.left() + budget / most * rect.width();
    let tone = if b.over.is_some() { t.warm } else { t.ink };
    let foot = rect.top() + BAR + 3.0;
    ui.painter().vline(at.min(rect.right() - 1.0), rect.top() - 3.0..=foot, Stroke::new(PEN + 0.6, tone));
    let words = ui.painter().layout_no_wrap("budget".to_owned(), theme::small(), tone);
    let left = (at - words.size().x / 2.0).clamp(rect.left(), rect.right() - words.size().x);
    ui.painter().galley(pos2(left, foot), words, tone);
}

/// What to know about the sums.
fn notes(ui: &mut Ui, t: &Tokens, a: &Told, actions: &mut Vec<Action>) {
    let b = &a.spending;
    let told = |sum: &Amounts| wording::amounts(sum, &b.currency);
    let mut all: Vec<(String, Color32)> = Vec::new();
    if b.budget.is_none() {
        all.push(("Nobody has said what may be spent: type it above.".to_owned(), t.soft));
    }
    if let (None, Some(over)) = (&b.over, &b.over_with_contingency) {
        let over = wording::amount(over.amount, &over.currency);
        all.push((
            format!("The plan keeps to the budget; with what is kept back it would pass it by {over}."),
            t.ink,
        ));
    }
    if b.unpriced > 0 {
        let lines = wording::count(b.unpriced, "line has no price and is", "lines have no price and are");
        all.push((format!("{lines} not in the sums."), t.warm));
    }
    if b.budget.is_some() && !b.other_currencies.is_zero() {
        let other = told(&b.other_currencies);
        all.push((format!("{other} is of another currency, and held against nothing."), t.soft));
    }
    for (text, tone) in all {
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(tone)).wrap());
    }
    let idle = &b.idle;
    if !idle.is_zero() || !b.could_be_called_off.is_zero() {
        ui.horizontal_wrapped(|ui| {
            let parts = [
                (!idle.is_zero())
                    .then(|| format!("{} is spent for what this plan does not want", told(idle))),
                (!b.could_be_called_off.is_zero())
                    .then(|| format!("{} is on order and could be called off", told(&b.could_be_called_off))),
            ];
            let text = parts.into_iter().flatten().collect::<Vec<_>>().join("; ");
            ui.with_layout(Layout::left_to_right(Align::Center).with_main_wrap(true), |ui| {
                ui.add(
                    Label::new(RichText::new(format!("{text}.")).font(theme::small()).color(t.warm)).wrap(),
                );
                if ui.add(Button::new("Show it").min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::Behind(Some(Behind::Idle)));
                }
            });
        });
    }
}
