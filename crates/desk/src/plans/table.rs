//! The plans side by side: a column each, the one that is worked on tinted through, and under each the way to stand on it.

use egui::accesskit::Role;
use egui::{
    Align2, Button, ComboBox, Label, Rect, RichText, Sense, Shape, Stroke, Ui, UiBuilder, Vec2, WidgetInfo,
    pos2,
};
use knockon_core::library::Reversible;
use knockon_core::{Edit, Money, Sheet};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::budget_bar;
use crate::look::icons::Mark;
use crate::look::text::{elided, figures, figures_width, short};
use crate::look::theme::{self, sheet as paper, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::plans::state::{BESIDE, PlansState};
use crate::plans::told::{SideBySide, Stands};
use crate::plans::worth;
use crate::wording;

/// Height of a row.
const ROW: f32 = TARGET;
/// Height of the heads.
const HEADS: f32 = 52.0;
/// The least width of the names of the rows.
const NAMES: f32 = 200.0;
/// The widest column of a plan.
const WIDEST: f32 = 190.0;
/// Left of the name of a row.
pub(super) const NAME: f32 = 34.0;
/// Left of the name of one that belongs to the row above, besides.
const UNDER: f32 = 14.0;
/// Right of the figures of a column.
pub(super) const RIM: f32 = 14.0;
/// Width of the bar against the budget.
const BAR: f32 = 62.0;

/// A row of the table.
struct Row {
    sign: Option<Mark>,
    name: String,
    /// What stands under each plan.
    cells: Vec<String>,
    /// Which of them must be looked at.
    warm: Vec<bool>,
    /// Its figures are what one looks for first.
    strong: bool,
    /// Rows under it belong to it.
    head: bool,
    /// It belongs to the row above.
    under: bool,
}

/// Where the columns lie.
pub(super) struct Columns {
    /// Left of the first plan.
    left: f32,
    /// Width of each.
    wide: f32,
    /// Which is the plan that is worked on.
    on: Option<usize>,
}

impl Columns {
    /// The cell of a plan.
    pub(super) fn of(&self, i: usize, y: egui::Rangef) -> Rect {
        #[allow(clippy::cast_precision_loss, reason = "three columns at most")]
        let left = self.left + self.wide * i as f32;
        Rect::from_x_y_ranges(left..=left + self.wide, y)
    }
}

/// Draws the table.
pub fn show(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    beside: &SideBySide,
    state: &mut PlansState,
    actions: &mut Vec<Action>,
) {
    paper(t).show(ui, |ui| {
        let width = ui.available_width();
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 0.0;
        let n = beside.plans.len().max(1);
        #[allow(clippy::cast_precision_loss, reason = "three columns at most")]
        let wide = ((width - NAMES) / n as f32).min(WIDEST);
        #[allow(clippy::cast_precision_loss, reason = "three columns at most")]
        let left = ui.max_rect().left() + width - wide * n as f32;
        let columns = Columns { left, wide, on: beside.plans.iter().position(|plan| plan.id == beside.on) };
        heads(ui, t, sheet, beside, &columns, state);
        for one in standing(beside) {
            row(ui, t, beside, &columns, &one);
        }
        budgets(ui, t, beside, &columns);
        for one in working(beside) {
            row(ui, t, beside, &columns, &one);
        }
        worth::rows(ui, t, sheet, beside, &columns, state, actions);
        if [Reversible::No, Reversible::Partly].into_iter().any(|kind| !beside.traced(kind).is_empty()) {
            const MORE: &str = "What stays: point at a system for each part";
            let rect = ground(ui, t, &columns, MORE);
            let at = pos2(rect.left() + NAME, rect.center().y);
            ui.painter().text(at, Align2::LEFT_CENTER, MORE, theme::small(), t.soft);
        }
        for reversible in [Reversible::No, Reversible::Partly] {
            left_behind(ui, t, beside, &columns, reversible);
        }
        feet(ui, t, beside, &columns, actions);
    });
    ui.add_space(8.0);
    worth::sold(ui, t, sheet, beside, state, actions);
}

fn plain(name: &str, cells: impl Iterator<Item = String>) -> Row {
    let cells: Vec<String> = cells.collect();
    Row {
        sign: None,
        name: name.to_owned(),
        warm: vec![false; cells.len()],
        cells,
        strong: false,
        head: false,
        under: false,
    }
}

/// What does not fit, is to be measured and decided, and the money.
fn standing(beside: &SideBySide) -> Vec<Row> {
    let count = |sign: Option<Mark>, name: &str, of: fn(&Stands) -> usize, warns: bool| {
        let counts = beside.plans.iter().map(of);
        let warm = counts.clone().map(|n| warns && n > 0).collect();
        Row { sign, warm, strong: true, ..plain(name, counts.map(|n| n.to_string())) }
    };
    let money = |of: fn(&Stands) -> &knockon_core::Amounts| {
        beside.plans.iter().map(move |plan| wording::amounts(of(plan), &beside.currency))
    };
    let mut rows = vec![
        count(Some(Mark::Clash), "Does not fit", |plan| plan.clashes, true),
        count(Some(Mark::Measure), "To measure", |plan| plan.to_measure, true),
        count(None, "To decide", |plan| plan.to_decide, false),
    ];
    if beside.plans.iter().any(|plan| !plan.spent.is_zero()) {
        rows.push(plain("Spent", money(|plan| &plan.spent)));
        rows.push(plain("On order and to come", money(|plan| &plan.to_come)));
    }
    let forecast = plain("In the end", money(|plan| &plan.spending.forecast));
    let warm = beside.plans.iter().map(|plan| plan.spending.over.is_some()).collect();
    rows.push(Row { strong: true, warm, ..forecast });
    rows
}

/// Hours, the day, and what comes off.
fn working(beside: &SideBySide) -> Vec<Row> {
    let hours = plain("Your hours", beside.plans.iter().map(|plan| wording::hours(plan.hours)));
    let off = plain("Come off the vehicle", beside.plans.iter().map(|plan| plan.off.to_string()));
    let off = Row { sign: Some(Mark::Surplus), ..off };
    let mut rows = vec![hours];
    if beside.plans.iter().any(|plan| plan.done.is_some()) {
        let day = |plan: &Stands| plan.done.map_or_else(|| "not known".to_owned(), |day| day.to_string());
        let warm: Vec<bool> = beside.plans.iter().map(|plan| plan.late).collect();
        rows.push(Row { warm: warm.clone(), ..plain("Done by", beside.plans.iter().map(day)) });
        // what the day is held against, so that its tone is no riddle
        if let Some(wanted) = beside.plans.iter().find_map(|plan| plan.wanted) {
            let name = format!("wanted {wanted}");
            let late = plain(&name, beside.plans.iter().map(|plan| plan.beside_wanted.clone()));
            rows.push(Row { warm, under: true, ..late });
        }
    }
    rows.push(off);
    rows
}

fn heads(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    beside: &SideBySide,
    columns: &Columns,
    state: &mut PlansState,
) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), HEADS), Sense::hover());
    let can_choose = sheet.plans.len() > BESIDE + 1;
    for (i, plan) in beside.plans.iter().enumerate() {
        let cell = columns.of(i, rect.y_range());
        let is_on = columns.on == Some(i);
        if is_on {
            ui.painter().rect_filled(cell, 0, t.cool_ground);
            ui.painter().hline(cell.x_range(), cell.top() + 1.5, Stroke::new(3.0, t.cool));
        }
        let room = cell.width() - RIM - 8.0;
        if can_choose && !is_on {
            let place =
                Rect::from_min_max(cell.min + Vec2::new(8.0, 6.0), cell.max - Vec2::new(RIM - 6.0, 14.0));
            ui.scope_builder(UiBuilder::new().max_rect(place), |ui| {
                exchange(ui, sheet, beside, plan, place.width(), state);
            });
            continue;
        }
        let name = elided(ui, &plan.name, strong(BODY), t.ink, room, 1);
        let low = name.size().y;
        let foot = 8.0;
        let at = pos2(cell.right() - RIM - name.size().x, cell.top() + foot);
        let cut = name.elided;
        ui.painter().galley(at, name, t.ink);
        if is_on {
            let y = cell.top() + foot + low + 8.0;
            ui.painter().text(
                pos2(cell.right() - RIM, y),
                Align2::RIGHT_CENTER,
                "you stand here",
                theme::small(),
                t.soft,
            );
        }
        let hover = ui.interact(cell, ui.unique_id().with(("head of", &plan.id)), Sense::hover());
        let said = if is_on { format!("{}, you stand here", plan.name) } else { plan.name.clone() };
        hover.widget_info(|| WidgetInfo::labeled(Role::ColumnHeader, true, &said));
        if cut || !plan.about.is_empty() {
            hover.on_hover_text(format!("{}\n{}", plan.name, plan.about).trim().to_owned());
        }
    }
    ui.painter().hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
}

/// Which plan stands in a column, where there are more than there is room for.
fn exchange(
    ui: &mut Ui,
    sheet: &Sheet,
    beside: &SideBySide,
    plan: &Stands,
    wide: f32,
    state: &mut PlansState,
) {
    let list =
        ComboBox::from_id_salt(("beside", &plan.id)).selected_text(&plan.name).width(wide - 8.0).truncate();
    let shown = list.show_ui(ui, |ui| {
        let free = |id: &&String| beside.plan(id).is_none() || **id == plan.id;
        for id in sheet.plans.keys().filter(free) {
            let name = sheet.plans.get(id).map_or(id.as_str(), |plan| plan.name.as_str());
            if ui.selectable_label(*id == plan.id, name).clicked() && *id != plan.id {
                state.exchange(sheet, &plan.id, id);
            }
        }
    });
    heard::closed_list(&shown.response, "Plan beside", &plan.name);
}

/// The ground of a row, with the column of the plan that is worked on.
pub(super) fn ground(ui: &mut Ui, t: &Tokens, columns: &Columns, said: &str) -> Rect {
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, said));
    if let Some(i) = columns.on {
        ui.painter().rect_filled(columns.of(i, rect.y_range()), 0, t.cool_ground);
    }
    ui.painter().hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
    rect
}

/// "Does not fit: Sound first 0, Owner's first choices 7".
pub(super) fn said(beside: &SideBySide, name: &str, cells: &[String]) -> String {
    let of = beside.plans.iter().zip(cells).map(|(plan, cell)| {
        let cell = if cell.is_empty() { "none" } else { cell };
        format!("{} {cell}", plan.name)
    });
    format!("{name}: {}", of.collect::<Vec<_>>().join(", "))
}

fn row(ui: &mut Ui, t: &Tokens, beside: &SideBySide, columns: &Columns, row: &Row) {
    let rect = ground(ui, t, columns, &said(beside, &row.name, &row.cells));
    let middle = rect.center().y;
    if let Some(sign) = row.sign {
        let tone = if row.warm.iter().any(|warm| *warm) { t.warm } else { t.soft };
        sign.paint(ui.painter(), pos2(rect.left() + 18.0, middle), tone);
    }
    let at = rect.left() + NAME + if row.under { UNDER } else { 0.0 };
    let font = if row.strong { strong(BODY) } else { theme::body() };
    let named = if row.head { strong(BODY) } else { theme::body() };
    let name = short(ui, &row.name, &named, columns.left - at - 4.0);
    let tone = if row.under { t.soft } else { t.ink };
    ui.painter().text(pos2(at, middle), Align2::LEFT_CENTER, name, named, tone);
    for (i, (cell, warm)) in row.cells.iter().zip(&row.warm).enumerate() {
        let right = columns.of(i, rect.y_range()).right() - RIM;
        let tone = if *warm { t.warm } else { t.ink };
        figures(ui.painter(), pos2(right, middle - 9.0), cell, &font, tone);
    }
}

/// What is left of the budget, as a bar and in figures; no row where nobody has said what may be spent.
fn budgets(ui: &mut Ui, t: &Tokens, beside: &SideBySide, columns: &Columns) {
    let Some(budget) = beside.plans.iter().find_map(|plan| plan.spending.budget.as_ref()) else { return };
    let told = |money: &Money| wording::amount(money.amount, &money.currency);
    let cell = |plan: &Stands| match (&plan.spending.over, plan.spending.left()) {
        (Some(over), _) => format!("{} over", told(over)),
        (None, Some(left)) => told(&left),
        (None, None) => String::new(),
    };
    let cells: Vec<String> = beside.plans.iter().map(cell).collect();
    let name = format!("of {} left", told(budget));
    let rect = ground(ui, t, columns, &said(beside, &name, &cells));
    let middle = rect.center().y;
    ui.painter().text(pos2(rect.left() + NAME, middle), Align2::LEFT_CENTER, &name, theme::body(), t.ink);
    for (i, (plan, cell)) in beside.plans.iter().zip(&cells).enumerate() {
        let own = columns.of(i, rect.y_range());
        let right = own.right() - RIM;
        let tone = if plan.spending.over.is_some() { t.warm } else { t.ink };
        figures(ui.painter(), pos2(right, middle - 9.0), cell, &theme::body(), tone);
        let taken = figures_width(ui.painter(), cell, &theme::body());
        let size = Vec2::new(BAR, budget_bar::HIGH);
        let bar = Rect::from_center_size(pos2(own.left() + 10.0 + BAR / 2.0, middle), size);
        if bar.right() + 8.0 <= right - taken {
            budget_bar::paint(ui, t, &plan.spending, bar);
        }
    }
}

/// What stays on the vehicle, by the system where it stays.
fn left_behind(ui: &mut Ui, t: &Tokens, beside: &SideBySide, columns: &Columns, reversible: Reversible) {
    let rows = beside.traced(reversible);
    if rows.is_empty() {
        return;
    }
    let name = match reversible {
        Reversible::No => "Cannot be undone",
        Reversible::Partly => "Undone only with repair",
        Reversible::Yes => return,
    };
    let sums = beside.plans.iter().enumerate().map(|(i, _)| {
        let sum: usize = rows.iter().filter_map(|(.., counts)| counts.get(i)).sum();
        sum.to_string()
    });
    let warm = reversible == Reversible::No;
    let head = plain(name, sums);
    let warm = head.cells.iter().map(|cell| warm && cell != "0").collect();
    row(ui, t, beside, columns, &Row { strong: true, head: true, warm, ..head });
    for (id, system, counts) in rows {
        let cells = counts.iter().map(|n| if *n == 0 { String::new() } else { n.to_string() });
        let under = plain(&wording::sentence(&system), cells);
        row(ui, t, beside, columns, &Row { under: true, ..under });
        let last = ui.min_rect();
        let rect = Rect::from_x_y_ranges(last.x_range(), last.bottom() - ROW..=last.bottom());
        let salt = ui.unique_id().with(("traces", reversible.words(), id));
        let hover = ui.interact(rect, salt, Sense::hover());
        let said: Vec<String> = all_of(beside, reversible, id)
            .into_iter()
            .map(|(name, told)| format!("{name}: {}", told.join("; ")))
            .collect();
        hover.widget_info(|| {
            WidgetInfo::labeled(Role::Label, true, format!("What stays: {}", said.join(". ")))
        });
        // a dotted line under its name: there is more under the pointer
        let name = short(
            ui,
            &wording::sentence(&system),
            &theme::body(),
            columns.left - (rect.left() + NAME + UNDER) - 4.0,
        );
        let wide = ui.painter().layout_no_wrap(name, theme::body(), t.soft).size().x;
        let foot = rect.center().y + 9.0;
        let from = pos2(rect.left() + NAME + UNDER, foot);
        let dots = Shape::dotted_line(&[from, from + Vec2::new(wide, 0.0)], t.soft, 3.0, 0.7);
        ui.painter().extend(dots);
        hover.on_hover_ui(|ui| whole(ui, beside, reversible, id));
    }
}

/// All that leaves a trace in a system, plan by plan.
fn whole(ui: &mut Ui, beside: &SideBySide, reversible: Reversible, id: Option<&String>) {
    ui.set_max_width(420.0);
    for (plan, told) in all_of(beside, reversible, id) {
        ui.label(RichText::new(plan).font(strong(BODY)));
        told.iter().for_each(|line| drop(ui.add(Label::new(line).wrap())));
    }
}

/// The plans that leave a trace in a system, by name, each with what it leaves.
fn all_of<'a>(
    beside: &'a SideBySide,
    reversible: Reversible,
    id: Option<&String>,
) -> Vec<(&'a str, Vec<String>)> {
    let of = |plan: &'a Stands| {
        let here = plan.traces.iter().filter(|t| t.reversible == reversible && t.system.as_ref() == id);
        let told = here.map(|trace| match trace.undone.trim_end_matches('.') {
            "" => trace.name.clone(),
            lost => format!("{}: {lost}", trace.name),
        });
        (plan.name.as_str(), told.collect::<Vec<_>>())
    };
    beside.plans.iter().map(of).filter(|(_, told)| !told.is_empty()).collect()
}

/// The buttons that stand on a plan.
fn feet(ui: &mut Ui, t: &Tokens, beside: &SideBySide, columns: &Columns, actions: &mut Vec<Action>) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), ROW + 16.0), Sense::hover());
    let key = |i: usize| if i < 3 { format!(" {}", i + 1) } else { String::new() };
    for (i, plan) in beside.plans.iter().enumerate() {
        let cell = columns.of(i, rect.y_range());
        if columns.on == Some(i) {
            ui.painter().rect_filled(cell, 0, t.cool_ground);
            continue;
        }
        let place = Rect::from_center_size(cell.center(), Vec2::new(cell.width() - 2.0 * RIM, TARGET + 2.0));
        let button = Button::new("Stand on it").shortcut_text(key(i)).min_size(place.size());
        let mut over = ui.new_child(UiBuilder::new().max_rect(place));
        let response = over.add(button);
        let name = format!("Stand on it: {}", plan.name);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
        if response.clicked() {
            actions.push(Action::Edit(vec![Edit::SwitchPlan { plan: plan.id.clone() }]));
        }
    }
}
