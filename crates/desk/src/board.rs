//! The board: a row a system, or systems as panels in columns that reflow with the width.

pub mod elevation;
pub mod head;
pub mod rows;

pub mod controls;
pub mod density;
pub mod filter;
pub mod goal;
mod ledger;
pub mod line;
pub mod menu;
pub mod sums;

use std::collections::BTreeSet;

use egui::{Rect, Response, ScrollArea, Sense, Ui, UiBuilder, Vec2, pos2};
use knockon_core::Sheet;
use knockon_core::assessment::{Assessment, PositionView};
use knockon_core::drawing::Drawing;
use knockon_core::key::CompanionKey;
use knockon_core::sheet::Route;

use crate::access::{self, Keys, Region};
use crate::app::told::Told;
use crate::app::view::{Action, Row, Spot, View, ties};
use crate::board::density::Density;
use crate::board::head::head;
use crate::board::line::{Brings, Did};
use crate::board::rows::{Branch, Look, branches};
use crate::look::icons;
use crate::look::theme::sheet;
use crate::look::theme::tokens;
use crate::look::tokens::Tokens;

/// The least width of a column.
const COLUMN: f32 = 400.0;
/// Between columns.
const GAP: f32 = 14.0;

/// Draws what stands over the board: the vehicle, how much is told, and what is looked for.
pub fn top(ui: &mut Ui, a: &Told, sheet: &Sheet, body: Option<&Drawing>, view: &mut View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    match body {
        Some(body) => {
            let mut beside = |ui: &mut Ui, view: &mut View, actions: &mut Vec<Action>| {
                controls::controls(ui, &t, a, view, actions);
                actions.extend(goal::line(ui, &t, a, sheet));
            };
            actions.extend(elevation::strip(ui, a, body, view, &mut beside));
        }
        None => controls::controls(ui, &t, a, view, &mut actions),
    }
    ui.add_space(2.0);
    actions
}

/// Draws the board.
pub fn board(ui: &mut Ui, a: &Told, view: &mut View) -> Vec<Action> {
    let mut actions = Vec::new();
    let t = tokens(ui);
    view.rows.clear();
    if view.density == Density::Systems && !a.positions.is_empty() {
        // no row is drawn for what has been opened: the keyboard goes to where it stands open
        if std::mem::take(&mut view.reveal) && view.selected.is_some() && ui.memory(|m| m.focused().is_none())
        {
            access::go_to(ui.ctx(), Region::Panel);
        }
        let shown = ScrollArea::vertical().id_salt("ledger").auto_shrink(false);
        let ledger = |ui: &mut Ui| {
            access::list(ui, Keys::Walk, None);
            ledger::ledger(ui, &t, a, view)
        };
        return shown.show(ui, ledger).inner;
    }
    let tied = ties(a, view.selected.as_ref());
    ScrollArea::vertical().id_salt("board").auto_shrink(false).show(ui, |ui| {
        let at = view.cursor.as_ref().or(view.selected.as_ref());
        access::list(ui, Keys::Walk, at.map(rows::row_id));
        // room at the right for the threads of the last column
        let width = ui.available_width() - 10.0;
        let n = (((width + GAP) / (COLUMN + GAP)).floor().max(1.0) as usize).min(4);
        let each = (width - GAP * (n as f32 - 1.0)) / n as f32;
        let stacks = columns(a, view, n);
        let top = ui.cursor().top() + 2.0;
        let mut bottom = top;
        if stacks.iter().all(Vec::is_empty) {
            nothing(ui, &t);
        }
        for (i, stack) in stacks.iter().enumerate() {
            let left = ui.max_rect().left() + (each + GAP) * i as f32;
            let place = Rect::from_min_size(pos2(left, top), Vec2::new(each, f32::INFINITY));
            let mut column = ui.new_child(UiBuilder::new().max_rect(place).id_salt(("column", i)));
            column.spacing_mut().item_spacing.y = 0.0;
            for group in stack {
                system(&mut column, &t, a, view, group, i, &tied, &mut actions);
                column.add_space(12.0);
            }
            bottom = bottom.max(column.min_rect().bottom());
        }
        ui.allocate_rect(
            Rect::from_min_max(pos2(ui.max_rect().left(), top), pos2(ui.max_rect().right(), bottom)),
            Sense::hover(),
        );
        across(ui, &t, a, view, &tied);
    });
    // a system was just brought up: its first row takes the keyboard once it is in sight
    view.reveal = view.to_system.take().is_some();
    if view.reveal {
        ui.ctx().request_repaint();
    }
    actions
}

fn nothing(ui: &mut Ui, t: &Tokens) {
    ui.add_space(24.0);
    ui.vertical_centered(|ui| {
        ui.colored_label(
            t.soft,
            "This vehicle has no place yet. Say what it has on the page Vehicle (Ctrl+6), or open another sheet or the example \
             from the file menu.",
        );
    });
}

/// A system with the positions that are to be shown.
struct Group<'a> {
    id: &'a str,
    name: &'a str,
    positions: Vec<&'a PositionView>,
    loose: Vec<CompanionKey>,
}

/// Systems dealt to columns, always the next to the shortest.
fn columns<'a>(a: &'a Assessment, view: &View, n: usize) -> Vec<Vec<Group<'a>>> {
    let mut stacks: Vec<(f32, Vec<Group<'a>>)> = (0..n).map(|_| (0.0, Vec::new())).collect();
    let mut groups: Vec<Group<'a>> = a
        .systems
        .iter()
        .map(|(id, name)| {
            let positions = a.positions.iter().filter(|p| p.system == *id).collect();
            Group { id, name, positions, loose: Vec::new() }
        })
        .collect();
    let held = |key: &CompanionKey| a.positions.iter().any(|p| p.companions.contains(key));
    let loose: Vec<CompanionKey> =
        a.companions.iter().filter(|c| !held(&c.key)).map(|c| c.key.clone()).collect();
    if !loose.is_empty() {
        groups.push(Group { id: "\u{1}whole", name: "The plan as a whole", positions: Vec::new(), loose });
    }
    for group in groups.into_iter().filter(|g| !g.positions.is_empty() || !g.loose.is_empty()) {
        let folded = is_folded(view, &group);
        let companions: usize =
            group.loose.len() + group.positions.iter().map(|p| p.companions.len()).sum::<usize>();
        let quiet = group.positions.iter().filter(|p| p.route == Route::Keep && !p.filled).count();
        let loud = group.positions.len() - quiet;
        // near enough to balance the columns
        let rows = match view.density {
            Density::Everything => quiet as f32 * 28.0 + loud as f32 * 50.0 + companions as f32 * 50.0,
            _ => {
                let bring = group.positions.iter().filter(|p| !p.companions.is_empty()).count();
                (group.positions.len() + bring) as f32 * 28.0
            }
        };
        let height = 60.0 + if folded { 0.0 } else { rows };
        let mut shortest = 0;
        for (i, (tall, _)) in stacks.iter().enumerate() {
            if *tall < stacks.get(shortest).map_or(f32::MAX, |s| s.0) {
                shortest = i;
            }
        }
        if let Some((tall, stack)) = stacks.get_mut(shortest) {
            *tall += height;
            stack.push(group);
        }
    }
    stacks.into_iter().map(|(_, stack)| stack).collect()
}

/// A folded system opens for what was found in it.
fn is_folded(view: &View, group: &Group<'_>) -> bool {
    let hits = &view.search.hits;
    let found = |key: &CompanionKey| hits.contains(&Spot::Companion(key.clone()));
    let has_hit =
        |p: &&PositionView| hits.contains(&Spot::Position(p.id.clone())) || p.companions.iter().any(found);
    let loose = group.loose.iter().any(found);
    view.folded.contains(group.id) && !loose && !group.positions.iter().any(has_hit)
}

#[allow(clippy::too_many_arguments, reason = "one panel of the board, split off for its length")]
fn system(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    view: &mut View,
    group: &Group<'_>,
    column: usize,
    tied: &BTreeSet<Spot>,
    actions: &mut Vec<Action>,
) {
    sheet(t).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let folded = is_folded(view, group);
        let head = head(ui, t, a, (group.id, group.name), !folded);
        if view.to_system.as_deref() == Some(group.id) {
            ui.scroll_to_rect_animation(
                head.rect.expand(8.0),
                Some(egui::Align::TOP),
                egui::style::ScrollAnimation::none(),
            );
        }
        if head.clicked() && !view.folded.remove(group.id) {
            view.folded.insert(group.id.to_owned());
        }
        if folded {
            return;
        }
        for p in &group.positions {
            let spot = Spot::Position(p.id.clone());
            let looks = look(view, &spot, tied);
            let response = lit(ui, a, view, &spot, |ui| match view.density {
                Density::Everything => rows::position(ui, t, a, p, looks),
                _ => line::place(ui, t, a, p, looks),
            });
            drawn(a, view, actions, spot, &response, column);
            brought(ui, t, a, view, (&p.name, &p.id), &p.companions, column, tied, actions);
        }
        brought(ui, t, a, view, (group.name, group.id), &group.loose, column, tied, actions);
    });
}

/// What a choice brings: as one line until it is unfolded, or all of it.
#[allow(clippy::too_many_arguments, reason = "one part of a panel, split off for its length")]
fn brought(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    view: &mut View,
    (name, id): (&str, &str),
    keys: &[CompanionKey],
    column: usize,
    tied: &BTreeSet<Spot>,
    actions: &mut Vec<Action>,
) {
    let mut open = true;
    if view.density == Density::Places
        && let Some(all) = Brings::of(a, name, keys)
    {
        // it opens for what is selected or was found in it
        let is_in = |spot: &Spot| matches!(spot, Spot::Companion(key) if keys.contains(key));
        let wanted = view.selected.as_ref().is_some_and(is_in) || view.search.hits.iter().any(is_in);
        open = wanted || view.unfolded.contains(id);
        match line::brings(ui, t, a, &all, open, id) {
            Some(Did::Fold) if !view.unfolded.remove(id) => drop(view.unfolded.insert(id.to_owned())),
            Some(Did::Accept) => actions.push(Action::AcceptAll(all.open())),
            _ => {}
        }
    }
    if open {
        for branch in branches(a, keys) {
            companion(ui, t, a, view, &branch, column, tied, actions);
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "one row of the board, split off for its length")]
fn companion(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    view: &mut View,
    branch: &Branch<'_>,
    column: usize,
    tied: &BTreeSet<Spot>,
    actions: &mut Vec<Action>,
) {
    let spot = Spot::Companion(branch.companion.key.clone());
    let looks = look(view, &spot, tied);
    let response = lit(ui, a, view, &spot, |ui| rows::companion(ui, t, a, branch, looks, &view.bounds));
    drawn(a, view, actions, spot, &response, column);
}

/// Draws a row; while somebody looks for something else it steps back.
fn lit(ui: &mut Ui, a: &Told, view: &View, spot: &Spot, row: impl FnOnce(&mut Ui) -> Response) -> Response {
    let hits = &view.search.hits;
    let is_found = !view.search.open || hits.is_empty() || hits.contains(spot);
    if is_found && view.filter.is_none_or(|filter| filter.row(a, spot)) {
        return row(ui);
    }
    let back = |ui: &mut Ui| {
        ui.multiply_opacity(0.45);
        row(ui)
    };
    ui.scope(back).inner
}

fn look(view: &View, spot: &Spot, tied: &BTreeSet<Spot>) -> Look {
    Look {
        selected: view.selected.as_ref() == Some(spot),
        tied: tied.contains(spot),
        reveal: view.reveal && view.cursor.as_ref() == Some(spot),
    }
}

fn drawn(
    a: &Told,
    view: &mut View,
    actions: &mut Vec<Action>,
    spot: Spot,
    response: &Response,
    column: usize,
) {
    menu::menu(response, a, &spot, actions);
    if response.clicked() {
        actions.push(Action::Select(Some(spot.clone())));
    }
    // while the cursor is on its way to another row, the old one still has the focus
    if response.has_focus() && !view.reveal {
        view.cursor = Some(spot.clone());
    }
    view.rows.push(Row { spot, rect: response.rect, column });
}

/// Threads from the selected row to the positions tied to it, through the gutters between the panels.
fn across(ui: &Ui, t: &Tokens, a: &Told, view: &View, tied: &BTreeSet<Spot>) {
    let Some(from) = view.rows.iter().find(|r| view.selected.as_ref() == Some(&r.spot)) else { return };
    for to in view.rows.iter().filter(|r| tied.contains(&r.spot) && matches!(r.spot, Spot::Position(_))) {
        if to.column.abs_diff(from.column) > 1 || hangs(a, &from.spot, &to.spot) {
            continue;
        }
        let same = to.column == from.column;
        let leftward = same && from.column > 0 || to.column < from.column;
        let start = rows::side(from.rect, leftward);
        let end = rows::side(to.rect, if same { leftward } else { !leftward });
        let x = start.x + if leftward { -GAP / 2.0 - 2.0 } else { GAP / 2.0 + 2.0 };
        icons::thread(ui.painter(), &[start, pos2(x, start.y), pos2(x, end.y), end], true, t.cool);
        ui.painter().circle_filled(end, 2.5, t.cool);
    }
}

/// A companion hangs on this position's thread already.
fn hangs(a: &Told, from: &Spot, to: &Spot) -> bool {
    match (from, to) {
        (Spot::Companion(key), Spot::Position(id)) => {
            a.positions.iter().any(|p| p.id == *id && p.companions.contains(key))
        }
        _ => false,
    }
}
