//! A place as one line: mark, name, route, part, price, state; and under it one line for all that its choice brings.

use egui::accesskit::Role;
use egui::{Align2, Id, Rect, Response, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};
use knockon_core::Amounts;
use knockon_core::assessment::{Assessment, Companion, PositionView};
use knockon_core::key::CompanionKey;
use knockon_core::library::Level;
use knockon_core::sheet::{Route, Verdict};

use crate::access::heard;
use crate::app::selection::Spot;
use crate::app::told::Told;
use crate::board::rows::{Look, frame, hint, seen};
use crate::look::icons;
use crate::look::icons::Mark;
use crate::look::text::{figures, figures_width, short};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

const NAME_X: f32 = 36.0;
/// Of the room of a line, what the name gets.
const NAME: f32 = 0.4;
const ROUTE: f32 = 54.0;
const CUP: f32 = 26.0;

/// Draws the line of a place.
pub fn place(ui: &mut Ui, t: &Tokens, a: &Assessment, p: &PositionView, look: Look) -> Response {
    let mark = wording::mark(a, p);
    let quiet = p.route == Route::Keep && !p.filled && !mark.open() && !p.surplus;
    let (name, seen) = (wording::with_qty(&p.name, p.qty), seen(p));
    let is_told = p.active && (p.price.is_some() || p.line.is_here());
    let price = if is_told { wording::counts_for(p.price.as_ref(), p.line) } else { String::new() };
    let fitted = p.fitted.as_ref().map_or("empty", |(_, name)| name.as_str());
    let is_gone = mark == Mark::Surplus && p.fitted.is_none();
    let route = match (is_gone, p.filled) {
        (true, _) => "goes",
        (false, true) => "comes",
        (false, false) => p.route.word(),
    };
    let fitted = if is_gone { mark.word() } else { fitted };
    let whole = if p.filled { "comes with the plan" } else { p.route.word() };
    let label = [&name, whole, fitted, seen, mark.word(), &price];
    let label = label.iter().filter(|s| !s.is_empty()).copied().collect::<Vec<_>>().join(", ");
    let (rect, response) = frame(ui, t, &Spot::Position(p.id.clone()), TARGET, look, &label);
    let mut cut = false;
    if ui.is_rect_visible(rect) {
        let bad = !seen.is_empty() && matches!(p.verdict, Some(Verdict::Renew | Verdict::Stop));
        let warm = mark.open() || mark == Mark::Without;
        let tone = if warm {
            t.warm
        } else if quiet {
            t.soft
        } else {
            t.ink
        };
        let paint = ui.painter();
        let middle = rect.center().y;
        mark.paint(paint, pos2(rect.left() + 18.0, middle), tone);
        let mut right = rect.right() - 8.0;
        // the price keeps its column also where there is none
        if is_told {
            icons::line_state(paint, pos2(right - 8.0, middle), p.line, t.ink);
        }
        right -= CUP;
        if is_told {
            figures(paint, pos2(right, middle - 9.0), &price, &theme::body(), t.ink);
            right -= figures_width(paint, &price, &theme::body()) + 10.0;
        }
        if bad {
            let word = paint.layout_no_wrap(seen.to_owned(), theme::small(), t.warm);
            right -= word.size().x;
            paint.galley(pos2(right, middle - word.size().y / 2.0), word, t.warm);
            right -= 10.0;
        }
        let text = |x: f32, said: &str, font, tone| {
            paint.text(pos2(x, middle), Align2::LEFT_CENTER, said, font, tone);
        };
        let font = if quiet { theme::body() } else { strong(BODY) };
        let room = (rect.width() - NAME_X - CUP) * NAME;
        let left = rect.left() + NAME_X;
        let shown = short(ui, &name, &font, room);
        cut |= shown != name;
        text(left, &shown, font, tone);
        let route_x = left + room + 8.0;
        text(route_x, route, theme::small(), t.soft);
        let part_x = route_x + ROUTE;
        if right - part_x > 30.0 {
            let shown = short(ui, fitted, &theme::small(), right - part_x);
            cut |= shown != fitted;
            text(part_x, &shown, theme::small(), if quiet { t.soft } else { t.ink });
        }
    }
    // a tip repeats nothing that stands there
    let found = p.as_found.as_ref().filter(|_| p.as_found != p.fitted).map(|(_, name)| name.as_str());
    if !cut && found.is_none() {
        return response;
    }
    hint(response, |ui| {
        if cut {
            ui.label(format!("{name}: {fitted}"));
        }
        if let Some(found) = found {
            ui.label(format!("As found: {found}"));
        }
    })
}

/// What a choice brings, summed up.
pub struct Brings<'a> {
    /// All of it.
    pub all: Vec<&'a Companion>,
    name: &'a str,
}

impl<'a> Brings<'a> {
    /// What hangs under a place, by its keys; `None` where nothing does.
    pub fn of(a: &'a Assessment, name: &'a str, keys: &[CompanionKey]) -> Option<Self> {
        let all: Vec<&Companion> =
            keys.iter().filter_map(|key| a.companions.iter().find(|c| c.key == *key)).collect();
        (!all.is_empty()).then_some(Self { all, name })
    }

    /// Those that want an answer.
    pub fn open(&self) -> Vec<CompanionKey> {
        self.all.iter().filter(|c| wording::open(c)).map(|c| c.key.clone()).collect()
    }

    /// "9 companions, 7 to decide, 2 in the box".
    pub fn words(&self) -> String {
        let count = |which: &dyn Fn(&&&Companion) -> bool| self.all.iter().filter(which).count();
        let mut parts = vec![wording::count(self.all.len(), "companion", "companions")];
        let told = [
            (count(&|c| wording::open(c)), "to decide"),
            (count(&|c| c.in_kit), "in the box"),
            (count(&|c| c.waived.is_some()), "left out"),
        ];
        parts.extend(told.iter().filter(|(n, _)| *n > 0).map(|(n, what)| format!("{n} {what}")));
        parts.join(", ")
    }

    /// What they cost together; empty where nothing.
    pub fn money(&self, currency: &str) -> String {
        let told = self.all.iter().filter(|c| c.waived.is_none() && !c.in_kit);
        let costs: Vec<_> = told.filter_map(|c| c.cost()).collect();
        let sum: Amounts = costs.iter().collect();
        if sum.is_zero() { String::new() } else { wording::amounts(&sum, currency) }
    }
}

/// What was done on the line of what a choice brings.
pub enum Did {
    /// Unfolded or folded.
    Fold,
    /// All that is open is accepted.
    Accept,
}

/// Draws the line of what a choice brings.
pub fn brings(ui: &mut Ui, t: &Tokens, a: &Told, b: &Brings<'_>, open: bool, salt: &str) -> Option<Did> {
    let (_, rect) = ui.allocate_space(Vec2::new(ui.available_width(), TARGET));
    let id = Id::unique(("brings", salt));
    let box_rect = Rect::from_center_size(pos2(rect.right() - 16.0, rect.center().y), Vec2::splat(TARGET));
    let line = Rect::from_min_max(rect.min, pos2(box_rect.left(), rect.bottom()));
    let response = ui.interact(line, id, Sense::click());
    let (words, money) = (b.words(), b.money(&a.totals.currency));
    let keys = b.open();
    let dangers = b.all.iter().filter(|c| c.danger.is_some()).count();
    let warm = dangers > 0 || b.all.iter().any(|c| wording::open(c) && c.level == Level::Required);
    response.widget_info(|| {
        let state = if open { "unfolded" } else { "folded" };
        WidgetInfo::labeled(Role::Button, true, format!("{} brings {words}, {money}, {state}", b.name))
    });
    heard::unfolds(&response, open);
    let tick =
        ui.interact(box_rect, id.with("tick"), if keys.is_empty() { Sense::hover() } else { Sense::click() });
    tick.widget_info(|| {
        let label = format!("All that {} brings is accepted", b.name);
        WidgetInfo::selected(Role::CheckBox, !keys.is_empty(), keys.is_empty(), label)
    });
    let paint = ui.painter();
    for (response, rect) in [(&response, line), (&tick, box_rect)] {
        if response.hovered() && (response.id == id || !keys.is_empty()) {
            paint.rect_filled(rect, 3, t.hover);
        }
        if response.has_focus() {
            paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
    }
    let middle = rect.center().y;
    let tone = if warm { t.warm } else { t.ink };
    let (x, tag) = (rect.left() + 18.0, rect.left() + 44.0);
    icons::thread(paint, &[pos2(x, rect.top()), pos2(x, middle), pos2(x + 16.0, middle)], true, tone);
    icons::tag(paint, pos2(tag, middle), tone);
    paint.text(pos2(tag + 14.0, middle), Align2::LEFT_CENTER, &words, theme::small(), t.soft);
    if dangers > 0 {
        let wide = paint.layout_no_wrap(words.clone(), theme::small(), t.soft).size().x;
        icons::caution(paint, pos2(tag + 14.0 + wide + 14.0, middle), t.warm);
    }
    figures(paint, pos2(rect.right() - 8.0 - CUP, middle - 8.0), &money, &theme::small(), t.ink);
    let square = Rect::from_center_size(box_rect.center(), Vec2::splat(15.0));
    let edge = if keys.is_empty() { t.line } else { t.ink };
    paint.rect_stroke(square, 3, Stroke::new(1.2, edge), StrokeKind::Inside);
    if keys.is_empty() {
        icons::tick(paint, square.center(), t.ink);
    }
    let n = keys.len();
    let clicked = tick.on_hover_text(match n {
        0 => "Nothing is open here".to_owned(),
        n => format!("Accept {}", wording::count(n, "open companion", "open companions")),
    });
    if clicked.clicked() {
        return Some(Did::Accept);
    }
    response.clicked().then_some(Did::Fold)
}
