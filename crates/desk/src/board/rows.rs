//! One row of the board: a position, or a companion on its thread.

use egui::accesskit::Role;
use egui::{Color32, EventFilter, Id, Pos2, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2, pos2, vec2};
use knockon_core::assessment::{Assessment, Companion, Origin, PositionView};
use knockon_core::key::CompanionKey;
use knockon_core::library::Level;
use knockon_core::look_twice::Bounds;
use knockon_core::sheet::{Route, Verdict};

use crate::app::told::Told;
use crate::app::view::Spot;
use crate::look::icons;
use crate::look::icons::Mark;
use crate::look::text::{Piece, elided, figures, figures_width, pieces, wrapped};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::panel::look_twice;
use crate::wording;

/// Where names begin.
const NAME_X: f32 = 36.0;
/// One step of a thread to the right.
const STEP: f32 = 20.0;

/// How a row is to be drawn.
#[derive(Clone, Copy, Debug, Default)]
pub struct Look {
    /// Selected.
    pub selected: bool,
    /// Tied to what is selected.
    pub tied: bool,
    /// The keyboard was moved here: bring it into sight and give it the focus.
    pub reveal: bool,
}

/// A companion's place in the tree of threads.
#[derive(Clone, Debug)]
pub struct Branch<'a> {
    /// The companion.
    pub companion: &'a Companion,
    /// For every level, whether its thread goes on below this row; the last is its own.
    pub goes_on: Vec<bool>,
}

/// The id of a row, the same wherever it is drawn.
pub fn row_id(spot: &Spot) -> Id {
    Id::unique(("board row", spot))
}

/// Companions of a position as a tree, flattened.
pub fn branches<'a>(a: &'a Assessment, keys: &[CompanionKey]) -> Vec<Branch<'a>> {
    let here: Vec<&Companion> =
        keys.iter().filter_map(|key| a.companions.iter().find(|c| c.key == *key)).collect();
    let roots: Vec<&Companion> = here
        .iter()
        .copied()
        .filter(|c| !here.iter().any(|o| Some(&o.key) == c.parent.as_ref() && o.key != c.key))
        .collect();
    let mut out = Vec::new();
    walk(&here, &roots, &[], &mut out);
    // whatever hangs on itself in a circle is shown all the same
    for c in &here {
        if !out.iter().any(|b: &Branch<'_>| b.companion.key == c.key) {
            out.push(Branch { companion: c, goes_on: vec![false] });
        }
    }
    out
}

fn walk<'a>(here: &[&'a Companion], level: &[&'a Companion], above: &[bool], out: &mut Vec<Branch<'a>>) {
    for (i, c) in level.iter().enumerate() {
        if out.iter().any(|b| b.companion.key == c.key) {
            continue;
        }
        let mut goes_on = above.to_vec();
        goes_on.push(i + 1 < level.len());
        out.push(Branch { companion: c, goes_on: goes_on.clone() });
        let below: Vec<&Companion> =
            here.iter().copied().filter(|o| o.parent.as_ref() == Some(&c.key) && o.key != c.key).collect();
        walk(here, &below, &goes_on, out);
    }
}

/// A position.
pub fn position(ui: &mut Ui, t: &Tokens, a: &Assessment, p: &PositionView, look: Look) -> Response {
    let mark = wording::mark(a, p);
    let quiet = p.route == Route::Keep && !p.filled && !mark.open() && !p.surplus;
    let tone = if mark.open() { t.warm } else { t.ink };
    let width = ui.available_width();
    let is_told = p.active && (p.price.is_some() || p.line.is_here());
    let price = if is_told { wording::counts_for(p.price.as_ref(), p.line) } else { String::new() };
    let price_width = figures_width(ui.painter(), &price, &theme::body());
    let route = route_word(p);
    let fitted = p.fitted.as_ref().map_or("", |(_, name)| name.as_str());
    let name = wording::with_qty(&p.name, p.qty);

    let seen = seen(p);
    let state = if quiet { seen } else { mark.word() };
    let state = if !quiet && !seen.is_empty() { format!("{seen} · {state}") } else { state.to_owned() };
    let bad = !seen.is_empty() && matches!(p.verdict, Some(Verdict::Renew | Verdict::Stop));
    let warm = mark.open() || mark == Mark::Without || bad;
    let state = ui.painter().layout_no_wrap(state, theme::small(), if warm { t.warm } else { t.soft });
    let first_width = width - NAME_X - price_width - 46.0;
    let (first, second) = if quiet {
        let tail = if fitted.is_empty() { "   empty".to_owned() } else { format!("   {fitted}") };
        let parts = [Piece(&name, theme::body(), t.ink, false), Piece(&tail, theme::small(), t.soft, false)];
        let room = if seen.is_empty() { 56.0 } else { 66.0 + state.size().x };
        (pieces(ui, &parts, width - NAME_X - room), None)
    } else {
        let dot = if fitted.is_empty() { String::new() } else { format!(" · {fitted}") };
        let parts = [Piece(route, theme::small(), t.ink, false), Piece(&dot, theme::small(), t.soft, false)];
        let first = wrapped(ui, &name, strong(BODY), tone, first_width);
        (first, Some(pieces(ui, &parts, width - NAME_X - state.size().x - 22.0)))
    };
    let below = second.as_ref().map_or(0.0, |g| g.size().y + 2.0);
    let height = (first.size().y + below + 10.0).max(TARGET);
    let label = [&name, route, fitted, seen, mark.word(), &price];
    let label = label.iter().filter(|s| !s.is_empty()).copied().collect::<Vec<_>>().join(", ");
    let (rect, response) = frame(ui, t, &Spot::Position(p.id.clone()), height, look, &label);
    if ui.is_rect_visible(rect) {
        let paint = ui.painter();
        let line = first.size().y.min(20.0);
        let top = if second.is_none() { rect.center().y - first.size().y / 2.0 } else { rect.top() + 5.0 };
        mark.paint(paint, pos2(rect.left() + 18.0, top + line / 2.0), if quiet { t.soft } else { tone });
        let right = rect.right() - 10.0;
        if quiet {
            let word = paint.layout_no_wrap(route.to_owned(), theme::small(), t.soft);
            let at = right - word.size().x;
            paint.galley(pos2(at, top + 1.0), word, t.soft);
            paint.galley(pos2(at - state.size().x - 10.0, top + 1.0), state, t.soft);
        } else {
            figures(paint, pos2(right, top), &price, &theme::body(), t.ink);
            if is_told {
                let at = pos2(right - price_width - 14.0, top + line / 2.0);
                icons::line_state(paint, at, p.line, t.ink);
            }
            let below = top + first.size().y + 2.0;
            paint.galley(pos2(right - state.size().x, below), state, t.soft);
            if let Some(second) = second {
                paint.galley(pos2(rect.left() + NAME_X, below), second, t.soft);
            }
        }
        paint.galley(pos2(rect.left() + NAME_X, top), first, t.ink);
    }
    hint(response, |ui| hover_position(ui, p, mark))
}

/// When keys last moved to a row.
fn keys_at() -> Id {
    Id::unique("keys moved the cursor at")
}

/// A hint under the pointer; none while a dialog lies over the row, or where keys brought the row under it.
pub fn hint(response: Response, add: impl FnOnce(&mut Ui)) -> Response {
    let keys = response.ctx.data(|d| d.get_temp::<f64>(keys_at())).unwrap_or(f64::MIN);
    let moved = response.ctx.input(|i| i.time - f64::from(i.pointer.time_since_last_movement()));
    if response.contains_pointer() && moved > keys {
        // beside the row, never over its neighbours
        let mut tip = egui::Tooltip::for_enabled(&response);
        tip.popup = tip.popup.align(egui::RectAlign::RIGHT_START);
        tip.show(add);
    }
    response
}

/// What the survey says against what sits here still.
pub fn seen(p: &PositionView) -> &'static str {
    p.verdict.filter(|_| p.verdict_stands).map_or("", wording::seen)
}

fn route_word(p: &PositionView) -> &'static str {
    if p.filled { "comes with the plan" } else { p.route.word() }
}

pub fn hover_position(ui: &mut Ui, p: &PositionView, mark: Mark) {
    ui.strong(format!("{}: {}", p.name, mark.word()));
    if let Some((_, name)) = &p.as_found {
        ui.label(format!("As found: {name}"));
    }
    if let Some(v) = p.verdict {
        ui.label(format!("Survey: {}", wording::verdict(v)));
    }
    if p.active {
        ui.label(format!("{}, {}", p.line.word(), wording::reversible(p.reversible)));
    }
}

/// A companion on its thread.
pub fn companion(ui: &mut Ui, t: &Tokens, a: &Told, b: &Branch<'_>, look: Look, bounds: &Bounds) -> Response {
    let c = b.companion;
    let open = wording::open(c);
    let tone = if open && c.level == Level::Required { t.warm } else { t.ink };
    let depth = (b.goes_on.len().clamp(1, 4) - 1) as f32;
    let tag_x = 18.0 + STEP * (depth + 1.0);
    let name_x = tag_x + 14.0;
    let width = ui.available_width();
    let price =
        if c.in_kit { "in the box".to_owned() } else { wording::counts_for(c.cost().as_ref(), c.line) };
    let price_width = figures_width(ui.painter(), &price, &theme::small());
    let level = if c.origin == Origin::Cap { "closed by" } else { wording::level(c.level) };
    let name = wording::with_qty(&c.name, c.qty);
    let waived = c.waived.is_some();
    let lead = format!("{level} ");
    let parts = [
        Piece(&lead, theme::small(), t.soft, false),
        Piece(&name, theme::small(), if waived { t.soft } else { t.ink }, waived),
    ];
    let first = pieces(ui, &parts, width - name_x - price_width - 58.0);
    let why = match &c.waived {
        Some(reason) => format!("left out: {reason}"),
        None => a.half_line(c.reason),
    };
    // two lines on the board; all of it where it or its position is selected, under the pointer and in the panel
    let rows = if look.selected || look.tied { 12 } else { 2 };
    let second = elided(ui, &why, theme::small(), t.soft, width - name_x - 16.0, rows);
    let second_height = if why.is_empty() { 0.0 } else { second.size().y };
    // left out or not: what can hurt somebody stays in view
    let danger = c.danger.clone().unwrap_or_default();
    let third = elided(ui, &danger, theme::small(), t.warm, width - name_x - 36.0, 2);
    let third_height = if danger.is_empty() { 0.0 } else { third.size().y };
    let height = (first.size().y + second_height + third_height + 8.0).max(TARGET);
    let label = format!("{level} {name}, {}, {price}, {why}", wording::companion_state(c));
    let label = if danger.is_empty() { label } else { format!("{label}, caution: {danger}") };
    let twice = look_twice::line(c, bounds);
    let label = if twice.is_empty() { label } else { format!("{label}, look twice: {twice}") };
    let (rect, response) = frame(ui, t, &Spot::Companion(c.key.clone()), height, look, &label);
    if ui.is_rect_visible(rect) {
        let paint = ui.painter();
        let top = rect.top() + 4.0;
        let middle = top + first.size().y.min(18.0) / 2.0;
        threads(ui, t, rect, middle, b, tone);
        icons::tag(paint, pos2(rect.left() + tag_x, middle), if waived { t.soft } else { tone });
        let right = rect.right() - 10.0;
        figures(paint, pos2(right, top), &price, &theme::small(), if waived { t.soft } else { t.ink });
        let at = pos2(right - price_width - 14.0, middle);
        if !twice.is_empty() {
            icons::twice(paint, at - vec2(18.0, 0.0), if waived { t.soft } else { t.ink });
        }
        if c.accepted && c.line == knockon_core::sheet::LineState::ToBuy && !waived {
            icons::tick(paint, at, t.ink);
        } else if !waived && !c.in_kit {
            icons::line_state(paint, at, c.line, tone);
        }
        let below = top + first.size().y;
        paint.galley(pos2(rect.left() + name_x, top), first, t.ink);
        paint.galley(pos2(rect.left() + name_x, below), second, t.soft);
        if !danger.is_empty() {
            let below = below + second_height;
            icons::caution(paint, pos2(rect.left() + name_x + 8.0, below + 8.0), t.warm);
            paint.galley(pos2(rect.left() + name_x + 20.0, below), third, t.warm);
        }
    }
    hint(response, |ui| {
        ui.strong(format!("{level} {}", c.name));
        ui.label(wording::sentence(&a.half_line(c.reason)));
        if !twice.is_empty() {
            ui.label(format!("Look twice: {twice}."));
        }
        let state = wording::sentence(wording::companion_state(c));
        let space = match (c.in_kit || waived, c.accepted) {
            (true, _) => "",
            (false, true) => "Space takes the yes back, ",
            (false, false) => "Space accepts it, ",
        };
        ui.label(format!("{state}. {space}Enter opens it."));
    })
}

fn threads(ui: &Ui, t: &Tokens, rect: Rect, middle: f32, b: &Branch<'_>, tone: Color32) {
    let paint = ui.painter();
    let c = b.companion;
    let solid = c.level == Level::Required;
    let own = b.goes_on.len().clamp(1, 4) - 1;
    for (level, goes_on) in b.goes_on.iter().take(4).enumerate() {
        let x = rect.left() + 18.0 + STEP * level as f32;
        if *goes_on {
            icons::thread(paint, &[pos2(x, rect.top()), pos2(x, rect.bottom())], true, t.edge);
        }
        if level == own {
            let end = if c.waived.is_some() { 6.0 } else { 12.0 };
            let points = [pos2(x, rect.top()), pos2(x, middle), pos2(x + end, middle)];
            icons::thread(paint, &points, solid, if c.waived.is_some() { t.edge } else { tone });
            if c.waived.is_some() {
                let cut = pos2(x + 9.0, middle);
                let pen = Stroke::new(1.2, t.soft);
                paint.line_segment([cut + vec2(-2.0, 5.0), cut + vec2(2.0, -5.0)], pen);
            }
        }
    }
}

/// Ground, focus and name of a row.
pub fn frame(ui: &mut Ui, t: &Tokens, spot: &Spot, height: f32, look: Look, label: &str) -> (Rect, Response) {
    let (_, rect) = ui.allocate_space(Vec2::new(ui.available_width(), height));
    let id = row_id(spot);
    let response = ui.interact(rect, id, Sense::click());
    response.widget_info(|| egui::WidgetInfo::selected(Role::Button, true, look.selected, label));
    if look.reveal {
        response.request_focus();
        response.scroll_to_me((!ui.is_rect_visible(rect)).then_some(egui::Align::Center));
        let now = ui.input(|i| i.time);
        ui.data_mut(|d| d.insert_temp(keys_at(), now));
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
    }
    let fill = if look.selected {
        t.cool_ground
    } else if response.hovered() {
        t.hover
    } else if look.tied {
        t.tied_ground
    } else {
        Color32::TRANSPARENT
    };
    let paint = ui.painter();
    paint.rect_filled(rect, 3, fill);
    if look.selected || look.tied {
        let bar =
            Rect::from_min_size(rect.min, Vec2::new(if look.selected { 4.0 } else { 2.0 }, rect.height()));
        paint.rect_filled(bar, 0, t.cool);
    }
    if response.has_focus() {
        paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    (rect, response)
}

/// The side of a row where threads to other panels leave.
pub fn side(rect: Rect, left: bool) -> Pos2 {
    if left { rect.left_center() } else { rect.right_center() }
}
