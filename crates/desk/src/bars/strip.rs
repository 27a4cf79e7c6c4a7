//! The running strip: figures of the plan, each opening the list behind it; in as many rows as the width asks for.

use egui::accesskit::Role;
use egui::{Color32, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};
use knockon_core::Amounts;
use knockon_core::assessment::Assessment;

use crate::access::{self, Keys};
use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Behind, Page, View};
use crate::look::icons;
use crate::look::text::{figures, figures_width};
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{BODY, Tokens};
use crate::wording;

/// Height of a row.
const ROW: f32 = 46.0;
/// Between cells.
const GAP: f32 = 2.0;
/// What the sign takes beside a figure.
const SIGN: f32 = 22.0;

/// What a figure opens.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Opens {
    /// The list behind it.
    List(Behind),
    /// The money page: the plan passes what may be spent.
    Money,
}

/// A figure with its caption.
struct Cell {
    opens: Opens,
    word: &'static str,
    figure: String,
    warm: bool,
    width: f32,
}

/// The strip laid out for the width at hand.
pub struct Strip {
    rows: Vec<Vec<Cell>>,
    tail: String,
}

impl Strip {
    /// Deals the figures to rows.
    pub fn new(ui: &Ui, a: &Told) -> Self {
        let room = ui.available_width() - 16.0;
        let tail = tail(a);
        let tail_width =
            ui.painter().layout_no_wrap(tail.clone(), theme::small(), Color32::PLACEHOLDER).size().x + 20.0;
        let mut rows: Vec<Vec<Cell>> = vec![Vec::new()];
        let mut used = 0.0;
        for mut cell in cells(a) {
            let caption =
                ui.painter().layout_no_wrap(cell.word.to_owned(), theme::small(), Color32::PLACEHOLDER);
            let figure = figures_width(ui.painter(), &cell.figure, &strong(BODY + 2.0));
            let sign = if cell.opens == Opens::Money { SIGN } else { 0.0 };
            cell.width = (figure + sign).max(caption.size().x) + 20.0;
            if used + cell.width > room && used > 0.0 {
                rows.push(Vec::new());
                used = 0.0;
            }
            used += cell.width + GAP;
            if let Some(row) = rows.last_mut() {
                row.push(cell);
            }
        }
        if used + tail_width > room {
            rows.push(Vec::new());
        }
        Self { rows, tail }
    }

    /// What the strip takes of the window.
    pub fn height(&self) -> f32 {
        let last_is_text = self.rows.last().is_some_and(Vec::is_empty);
        let full = self.rows.len() - usize::from(last_is_text);
        full as f32 * ROW + if last_is_text { 20.0 } else { 0.0 } + 8.0
    }

    /// Draws the strip.
    pub fn show(&self, ui: &mut Ui, view: &View) -> Vec<Action> {
        let t = tokens(ui);
        let mut actions = Vec::new();
        ui.spacing_mut().item_spacing = Vec2::new(GAP, 0.0);
        access::list(ui, Keys::Walk, None);
        for (i, row) in self.rows.iter().enumerate() {
            let height = if row.is_empty() { 20.0 } else { ROW };
            ui.allocate_ui(Vec2::new(ui.available_width(), height), |ui| {
                ui.horizontal_centered(|ui| {
                    for cell in row {
                        let open = match cell.opens {
                            Opens::List(which) => view.behind == Some(which),
                            Opens::Money => view.page == Page::Money,
                        };
                        if one(ui, &t, cell, open) {
                            actions.push(match cell.opens {
                                Opens::List(which) => Action::Behind((!open).then_some(which)),
                                Opens::Money => Action::Do(Command::Money),
                            });
                        }
                    }
                    if i + 1 == self.rows.len() {
                        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                            ui.add_space(8.0);
                            let text = egui::RichText::new(&self.tail).font(theme::small()).color(t.soft);
                            ui.add(egui::Label::new(text).wrap());
                        });
                    }
                });
            });
        }
        actions
    }
}

fn cells(a: &Told) -> Vec<Cell> {
    let s = &a.totals;
    let money = |sum: &Amounts| wording::amounts(sum, &s.currency);
    let many = |n: usize, one, many| if n == 1 { one } else { many };
    let cell = |which, word, figure, warm| Cell { opens: Opens::List(which), word, figure, warm, width: 0.0 };
    let mut cells = vec![
        cell(Behind::Spent, "spent", money(&s.money.spent), false),
        cell(Behind::Committed, "on order", money(&s.money.committed), false),
        cell(Behind::ToCome, "to come", money(&s.money.to_come), false),
        cell(
            Behind::Companions,
            many(s.companions_open, "companion open", "companions open"),
            s.companions_open.to_string(),
            s.companions_open > 0,
        ),
        cell(
            Behind::Clashes,
            many(s.clashes, "does not fit", "do not fit"),
            s.clashes.to_string(),
            s.clashes > 0,
        ),
        cell(Behind::Measure, "to measure", s.to_measure.to_string(), s.to_measure > 0),
        cell(
            Behind::Cautions,
            many(a.cautions.len(), "caution", "cautions"),
            a.cautions.len().to_string(),
            false,
        ),
        cell(Behind::Surplus, "off the vehicle", a.surplus.len().to_string(), false),
        cell(Behind::Later, "to do later", a.later.len().to_string(), a.later.iter().any(|l| l.overdue)),
        cell(Behind::Fitted, "lines fitted", format!("{} of {}", s.fitted, s.lines), false),
    ];
    if !a.idle.is_empty() {
        let is_more = a.idle.iter().any(|l| l.price.is_none() || l.qty.is_none());
        let at_least = if is_more { "≥ " } else { "" };
        let figure = format!("{at_least}{}", money(&(&s.money.idle + &s.money.idle_on_order)));
        // beside the rest of the money
        cells.insert(3, cell(Behind::Idle, "bought, not wanted", figure, true));
    }
    if let Some(over) = &a.spending.over {
        let figure = wording::amount(over.amount, &over.currency);
        cells
            .insert(0, Cell { opens: Opens::Money, word: "over the budget", figure, warm: true, width: 0.0 });
    }
    if !a.problems.is_empty() {
        cells.push(cell(Behind::Problems, "to put right", a.problems.len().to_string(), true));
    }
    cells
}

fn tail(a: &Assessment) -> String {
    let s = &a.totals;
    let mut tail = vec![format!("{} of your time", wording::hours(s.hours))];
    if s.unpriced > 0 {
        tail.push(format!("{} without a price", s.unpriced));
    }
    match s.money.no_price_paid {
        0 => {}
        n => tail.push(format!("{n} here with no price paid")),
    }
    if let Some(from) = &s.old_prices_from {
        let prices = wording::count(s.old_prices, "old price", "old prices");
        tail.push(format!("{prices}, from {from}"));
    }
    tail.join(" · ")
}

fn one(ui: &mut Ui, t: &Tokens, cell: &Cell, open: bool) -> bool {
    let font = strong(BODY + 2.0);
    let (tone, soft) = if cell.warm { (t.warm, t.warm) } else { (t.ink, t.soft) };
    let (rect, response) = ui.allocate_exact_size(Vec2::new(cell.width, 44.0), Sense::click());
    let label = format!("{} {}", cell.figure, cell.word);
    response.widget_info(|| egui::WidgetInfo::selected(Role::Button, true, open, &label));
    let paint = ui.painter();
    let fill = if open {
        t.cool_ground
    } else if response.hovered() {
        t.hover
    } else {
        Color32::TRANSPARENT
    };
    paint.rect_filled(rect, 4, fill);
    if open || response.has_focus() {
        let wide = if response.has_focus() { 2.0 } else { 1.0 };
        paint.rect_stroke(rect, 4, Stroke::new(wide, t.cool), StrokeKind::Inside);
    }
    let right = rect.right() - 10.0;
    figures(paint, pos2(right, rect.top() + 4.0), &cell.figure, &font, tone);
    if cell.opens == Opens::Money {
        let wide = figures_width(paint, &cell.figure, &font);
        icons::caution(paint, pos2(right - wide - SIGN + 9.0, rect.top() + 13.0), t.warm);
    }
    let caption = paint.layout_no_wrap(cell.word.to_owned(), theme::small(), soft);
    paint.galley(pos2(right - caption.size().x, rect.top() + 24.0), caption, soft);
    let hover = match cell.opens {
        Opens::List(_) => "Show what stands behind this figure",
        Opens::Money => "The plan passes what may be spent: show by what",
    };
    response.on_hover_text(hover).clicked()
}
