//! The board as a ledger: a row a system, the worst first, with columns that add up to the strip.

use egui::accesskit::Role;
use egui::{Align2, Color32, Rect, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};
use knockon_core::assessment::PositionView;
use rust_decimal::prelude::ToPrimitive;

use crate::app::told::Told;
use crate::app::view::{Action, View};
use crate::board::filter::Filter;
use crate::board::sums::{Standing, Sum, system_of_companion};
use crate::look::icons;
use crate::look::icons::Mark;
use crate::look::text::{figures, short};
use crate::look::theme;
use crate::look::theme::sheet;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};
use crate::wording;

const ROW: f32 = 28.0;
const HEAD: f32 = 24.0;
/// Where names begin.
const NAME_X: f32 = 36.0;
/// The least width of a name.
const NAME: f32 = 170.0;

/// A column beside the name, from the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Share,
    Money,
    Lines,
    Open,
    Measure,
    Clashes,
    State,
}

impl Column {
    fn width(self) -> f32 {
        match self {
            Self::Share => 84.0,
            Self::Money => 86.0,
            Self::Lines => 84.0,
            Self::Measure => 76.0,
            Self::Open | Self::Clashes => 68.0,
            Self::State => 100.0,
        }
    }

    fn head(self, currency: &str) -> &str {
        match self {
            Self::Share => "share",
            Self::Money => currency,
            Self::Lines => "lines fitted",
            Self::Open => "to decide",
            Self::Measure => "to measure",
            Self::Clashes => "do not fit",
            Self::State => "State",
        }
    }
}

/// The columns for a width, from the right; those that say least go first where there is little room.
fn columns(width: f32) -> Vec<Column> {
    use Column::{Clashes, Lines, Measure, Money, Open, Share, State};
    let mut all = vec![Share, Money, Lines, Open, Measure, Clashes, State];
    for goes in [State, Share, Lines, Money, Open] {
        let taken: f32 = all.iter().map(|c| c.width()).sum();
        if NAME_X + NAME + taken + 28.0 <= width {
            break;
        }
        all.retain(|c| *c != goes);
    }
    all
}

/// Draws the ledger.
pub fn ledger(ui: &mut Ui, t: &Tokens, a: &Told, view: &View) -> Vec<Action> {
    let mut actions = Vec::new();
    let all = &a.sums;
    let worth = |sum: &Sum| sum.money.of(&a.totals.currency).to_f32().unwrap_or(0.0);
    let most = all.iter().map(worth).fold(0.0, f32::max);
    sheet(t).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 0.0;
        let columns = columns(ui.available_width());
        heads(ui, t, &columns, &a.totals.currency);
        let mut before = None;
        for sum in all.iter() {
            let standing = sum.standing();
            if before.is_some_and(|b| b != standing) {
                let x = ui.max_rect().x_range().shrink(8.0);
                ui.painter().hline(x, ui.cursor().top(), Stroke::new(1.0, t.line));
            }
            let first = before != Some(standing);
            before = Some(standing);
            let meant = view.filter.is_none_or(|filter| is_meant(a, sum, filter));
            let clicked = ui
                .scope(|ui| {
                    if !meant {
                        ui.multiply_opacity(0.45);
                    }
                    row(ui, t, a, sum, &columns, first, most)
                })
                .inner;
            if clicked {
                actions.push(Action::System(sum.id.clone()));
            }
        }
    });
    actions
}

fn is_meant(a: &Told, sum: &Sum, filter: Filter) -> bool {
    let place = |p: &PositionView| p.system == sum.id && filter.place(a, p);
    a.positions.iter().any(place)
        || a.companions.iter().any(|c| filter.companion(c) && system_of_companion(a, c) == sum.id)
}

fn heads(ui: &mut Ui, t: &Tokens, columns: &[Column], currency: &str) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), HEAD), Sense::hover());
    let paint = ui.painter();
    let text = |at: Align2, x: f32, said: &str| {
        paint.text(pos2(x, rect.center().y), at, said, theme::small(), t.soft);
    };
    text(Align2::LEFT_CENTER, rect.left() + NAME_X, "System");
    let mut right = rect.right() - 28.0;
    for column in columns {
        let left = right - column.width();
        match column {
            Column::State | Column::Share => {
                text(Align2::LEFT_CENTER, left + 12.0, column.head(currency));
            }
            _ => text(Align2::RIGHT_CENTER, right, column.head(currency)),
        }
        right = left;
    }
    paint.hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
}

/// How a standing is shown: its word.
fn word(standing: Standing) -> &'static str {
    match standing {
        Standing::Clash => "does not fit",
        Standing::Measure => "measure",
        Standing::Decide => "to decide",
        Standing::Settled => "settled",
    }
}

/// What a row says to the ear: only what there is.
fn said(sum: &Sum, currency: &str) -> String {
    let mut parts = vec![sum.name.clone()];
    let unresolved = sum.unresolved();
    if !unresolved.is_empty() {
        parts.push(unresolved);
    }
    if sum.open > 0 {
        parts.push(format!("{} to decide", sum.open));
    }
    if sum.standing() == Standing::Settled {
        parts.push("settled".to_owned());
    }
    if sum.lines > 0 {
        parts.push(format!("{} of {} fitted", sum.fitted, sum.lines));
        parts.push(wording::amounts(&sum.money, currency));
    }
    parts.join(", ")
}

fn row(ui: &mut Ui, t: &Tokens, a: &Told, sum: &Sum, columns: &[Column], first: bool, most: f32) -> bool {
    let currency = &a.totals.currency;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::click());
    let label = said(sum, currency);
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, &label));
    if !ui.is_rect_visible(rect) {
        return response.clicked();
    }
    let standing = sum.standing();
    let warm = standing < Standing::Decide;
    let (tone, quiet) = (if warm { t.warm } else { t.ink }, standing == Standing::Settled);
    let paint = ui.painter();
    if response.hovered() {
        paint.rect_filled(rect, 3, t.hover);
    }
    if response.has_focus() {
        paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let middle = rect.center().y;
    let mark = pos2(rect.left() + 18.0, middle);
    match standing {
        Standing::Clash => Mark::Clash.paint(paint, mark, t.warm),
        Standing::Measure => Mark::Measure.paint(paint, mark, t.warm),
        Standing::Decide => icons::tag(paint, mark, t.ink),
        Standing::Settled => Mark::Fits.paint(paint, mark, t.soft),
    }
    icons::fold(paint, pos2(rect.right() - 14.0, middle), false, t.soft);
    let mut right = rect.right() - 28.0;
    let top = middle - 9.0;
    let number = |right: f32, n: usize, font: &egui::FontId, tone: Color32| {
        if n > 0 {
            figures(paint, pos2(right, top), &n.to_string(), font, tone);
        }
    };
    for column in columns {
        let left = right - column.width();
        match column {
            Column::Clashes => number(right, sum.clashes, &strong(BODY), t.warm),
            Column::Measure => number(right, sum.measure, &strong(BODY), t.warm),
            Column::Open => number(right, sum.open, &theme::body(), t.ink),
            Column::Lines if sum.lines > 0 => {
                let text = format!("{} of {}", sum.fitted, sum.lines);
                figures(paint, pos2(right, top), &text, &theme::body(), t.ink);
            }
            Column::Money if sum.lines > 0 => {
                let text = wording::amounts(&sum.money, currency);
                figures(paint, pos2(right, top), &text, &strong(BODY), t.ink);
            }
            Column::Share => {
                let share = sum.money.of(currency).to_f32().unwrap_or(0.0) / most.max(1.0);
                let long = (share * (column.width() - 20.0)).max(if share > 0.0 { 2.0 } else { 0.0 });
                let bar = Rect::from_min_size(pos2(left + 12.0, middle - 4.0), Vec2::new(long, 8.0));
                paint.rect_filled(bar, 1, t.edge);
            }
            // the word stands once for its group: each row has its mark
            Column::State if first => {
                let tone = if warm { t.warm } else { t.soft };
                let at = pos2(left + 12.0, middle);
                paint.text(at, Align2::LEFT_CENTER, word(standing), theme::small(), tone);
            }
            _ => {}
        }
        right = left;
    }
    let font = if quiet { theme::body() } else { strong(BODY) };
    let name = short(ui, &sum.name, &font, right - rect.left() - NAME_X - 8.0);
    let tone = if quiet {
        t.soft
    } else if warm {
        tone
    } else {
        t.ink
    };
    let galley = paint.layout_no_wrap(name, font, tone);
    paint.galley(pos2(rect.left() + NAME_X, middle - galley.size().y / 2.0), galley, tone);
    response.clicked()
}

#[cfg(test)]
mod tests {
    use super::{Column, NAME, NAME_X, columns};

    #[test]
    fn what_does_not_fit_is_in_sight_in_every_width() {
        for width in 390..1400 {
            let all = columns(width as f32);
            assert!(all.contains(&Column::Clashes) && all.contains(&Column::Measure), "{width}");
            let taken: f32 = all.iter().map(|c| c.width()).sum();
            assert!(NAME_X + NAME + taken + 28.0 <= width as f32, "{width}: {all:?}");
        }
        assert_eq!(columns(946.0).len(), 7);
    }
}
