//! The money by system: a row each, which leads to its system on the board, with a field for what it may come to.

use egui::accesskit::Role;
use egui::{Align2, Rect, RichText, Sense, Stroke, StrokeKind, Ui, UiBuilder, Vec2, WidgetInfo, pos2};
use knockon_core::budget::Share;
use knockon_core::{Amounts, Sheet};

use crate::access::{self, Keys, heard};
use crate::app::told::Told;
use crate::app::view::{Action, Behind};
use crate::look::icons;
use crate::look::text::{figures, short};
use crate::look::theme;
use crate::look::theme::{sheet as paper, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::look::typed::Typed;
use crate::money::fields::{self, of_system};
use crate::money::state::MoneyState;
use crate::wording;

/// Height of a row.
const ROW: f32 = TARGET + 2.0;
/// Height of the heads.
const HEADS: f32 = 24.0;
/// Width of the field at the right.
const FIELD: f32 = 104.0;
/// What the sign takes beside a figure.
const SIGN: f32 = 18.0;
/// The least width of a name.
const NAME: f32 = 150.0;

/// A column of figures.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Spent,
    OnOrder,
    ToCome,
    All,
    Left,
}

impl Column {
    fn head(self) -> &'static str {
        match self {
            Self::Spent => "spent",
            Self::OnOrder => "on order",
            Self::ToCome => "to come",
            Self::All => "in all",
            Self::Left => "over",
        }
    }

    /// What stands in it; nothing for nothing.
    fn figure(self, share: &Share, currency: &str) -> String {
        let told =
            |sum: &Amounts| if sum.is_zero() { String::new() } else { wording::amounts(sum, currency) };
        match self {
            Self::Spent => told(&share.spent),
            Self::OnOrder => told(&share.committed),
            Self::ToCome => told(&share.to_come),
            Self::All => told(&share.all()),
            Self::Left => {
                share.over.as_ref().map_or_else(String::new, |m| wording::amount(m.amount, &m.currency))
            }
        }
    }
}

/// Draws the table.
pub fn table(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    state: &mut MoneyState,
    actions: &mut Vec<Action>,
) {
    let b = &a.spending;
    let all = Share { name: "In all".to_owned(), over: b.over.clone(), ..b.in_all() };
    paper(t).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = 0.0;
        let columns = columns(ui, b.shares.iter().chain([&all]), &b.currency);
        heads(ui, t, &columns);
        access::list(ui, Keys::Walk, None);
        for share in &b.shares {
            if row(ui, t, share, &columns, &b.currency) {
                actions.push(match &share.system {
                    Some(id) => Action::System(id.clone()),
                    None => Action::Behind(Some(Behind::Idle)),
                });
            }
            if share.system.is_some() {
                field(ui, t, a, sheet, share, state, actions);
            }
        }
        let x = ui.max_rect().x_range().shrink(8.0);
        ui.painter().hline(x, ui.cursor().top(), Stroke::new(1.0, t.line));
        sum(ui, t, &all, &columns, &b.currency);
    });
}

/// The columns with their widths, from the left: those in which nothing stands are left out, and where there is no room, those
/// that say least.
fn columns<'a>(
    ui: &Ui,
    shares: impl Iterator<Item = &'a Share> + Clone,
    currency: &str,
) -> Vec<(Column, f32)> {
    let wide = |column: Column| {
        let figure = |share: &Share| {
            let text = column.figure(share, currency);
            crate::look::text::figures_width(ui.painter(), &text, &strong(BODY))
        };
        let figures = shares.clone().map(figure).fold(0.0, f32::max);
        let sign = if column == Column::Left { SIGN } else { 0.0 };
        (figures > 0.0).then(|| (column, figures.max(58.0) + sign + 14.0))
    };
    let mut all: Vec<(Column, f32)> =
        [Column::Spent, Column::OnOrder, Column::ToCome, Column::All, Column::Left]
            .into_iter()
            .filter_map(wide)
            .collect();
    for goes in [Column::OnOrder, Column::Spent, Column::ToCome, Column::Left] {
        let taken: f32 = all.iter().map(|(_, wide)| wide).sum();
        if NAME + taken + FIELD + 20.0 <= ui.available_width() {
            break;
        }
        all.retain(|(column, _)| *column != goes);
    }
    all
}

fn heads(ui: &mut Ui, t: &Tokens, columns: &[(Column, f32)]) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), HEADS), Sense::hover());
    let paint = ui.painter();
    let text = |at: Align2, x: f32, said: &str| {
        paint.text(pos2(x, rect.center().y), at, said, theme::small(), t.soft);
    };
    text(Align2::LEFT_CENTER, rect.left() + 10.0, "System");
    let mut right = rect.right() - FIELD - 12.0;
    text(Align2::RIGHT_CENTER, rect.right() - 12.0, "budget");
    for (column, wide) in columns.iter().rev() {
        text(Align2::RIGHT_CENTER, right, column.head());
        right -= wide;
    }
    paint.hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
}

/// What a row says to the ear.
fn said(share: &Share, currency: &str) -> String {
    let parts = [Column::Spent, Column::OnOrder, Column::ToCome, Column::All];
    let told = |column: Column| {
        let figure = column.figure(share, currency);
        (!figure.is_empty()).then(|| format!("{} {figure}", column.head()))
    };
    let over = share
        .over
        .as_ref()
        .map(|m| format!("passes its budget by {}", wording::amount(m.amount, &m.currency)));
    let figures = parts.into_iter().filter_map(told).chain(over);
    [wording::sentence(&share.name)].into_iter().chain(figures).collect::<Vec<_>>().join(", ")
}

/// A row; whether it was clicked.
fn row(ui: &mut Ui, t: &Tokens, share: &Share, columns: &[(Column, f32)], currency: &str) -> bool {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::hover());
    let mut own = rect;
    own.set_right(rect.right() - FIELD - 4.0);
    let id = ui.unique_id().with(("money of", &share.name));
    let response = ui.interact(own, id, Sense::click());
    let label = said(share, currency);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if !ui.is_rect_visible(rect) {
        return response.clicked();
    }
    if response.hovered() {
        ui.painter().rect_filled(own, 3, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(own.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    cells(ui, t, share, columns, currency, rect, false);
    response.clicked()
}

/// The last row: all of it.
fn sum(ui: &mut Ui, t: &Tokens, share: &Share, columns: &[(Column, f32)], currency: &str) {
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::hover());
    let label = said(share, currency);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &label));
    cells(ui, t, share, columns, currency, rect, true);
    if let Some(budget) = &share.budget {
        let text = wording::amount(budget.amount, &budget.currency);
        let at = pos2(rect.right() - 12.0, rect.center().y - 9.0);
        figures(ui.painter(), at, &text, &strong(BODY), t.ink);
    }
}

fn cells(
    ui: &Ui,
    t: &Tokens,
    share: &Share,
    columns: &[(Column, f32)],
    currency: &str,
    rect: Rect,
    is_sum: bool,
) {
    let middle = rect.center().y;
    let mut right = rect.right() - FIELD - 12.0;
    for (column, wide) in columns.iter().rev() {
        let over = *column == Column::Left;
        let strongly = is_sum || over || *column == Column::All;
        let font = if strongly { strong(BODY) } else { theme::body() };
        let text = column.figure(share, currency);
        let tone = if over { t.warm } else { t.ink };
        figures(ui.painter(), pos2(right, middle - 9.0), &text, &font, tone);
        if over && !text.is_empty() {
            let wide = crate::look::text::figures_width(ui.painter(), &text, &font);
            icons::caution(ui.painter(), pos2(right - wide - 11.0, middle), t.warm);
        }
        right -= wide;
    }
    let font = if is_sum { strong(BODY) } else { theme::body() };
    let tone = if share.system.is_none() && !is_sum { t.soft } else { t.ink };
    let name = short(ui, &wording::sentence(&share.name), &font, right - rect.left() - 20.0);
    let galley = ui.painter().layout_no_wrap(name, font, tone);
    ui.painter().galley(pos2(rect.left() + 10.0, middle - galley.size().y / 2.0), galley, tone);
}

/// The field of a system, over the right end of the row that was drawn last.
fn field(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    share: &Share,
    state: &mut MoneyState,
    actions: &mut Vec<Action>,
) {
    let bottom = ui.cursor().top();
    let right = ui.max_rect().right();
    let place = Rect::from_min_max(pos2(right - FIELD, bottom - ROW + 1.0), pos2(right - 4.0, bottom - 1.0));
    let name = of_system(&share.name);
    let now = share.budget.as_ref().map_or_else(String::new, |m| wording::amount(m.amount, &m.currency));
    let read = |text: &str| fields::read(sheet, a, &a.spending.currency, &name, text);
    let field = Typed { name: &name, now: now.clone(), hint: "", wide: place.width() - 12.0 };
    let drawn = ui.scope_builder(UiBuilder::new().max_rect(place), |ui| {
        field.draw(ui, &mut state.fields, Align2::RIGHT_CENTER, read)
    });
    let (response, edit) = drawn.inner;
    let text = state.fields.typed.get(&name).unwrap_or(&now);
    heard::field_of_row(ui, &response, text);
    if let Some(Some(edit)) = edit {
        actions.push(Action::Edit(vec![edit]));
    }
    if let Some(why) = state.fields.trouble_of(&name) {
        let told = ui.label(RichText::new(why).font(theme::small()).color(t.warm));
        heard::wrong(&response, &told, why);
    }
}
