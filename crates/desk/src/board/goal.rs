//! Beside the picture: where it goes, by when it is wanted, and how much of the budget the plan takes; a click leads to the plans.

use egui::accesskit::Role;
use egui::{Button, Rect, RichText, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};
use knockon_core::Sheet;

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::Action;
use crate::look::budget_bar;
use crate::look::text::elided;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::wording;

/// Width of the bar.
const BAR: f32 = 84.0;

/// Draws the line; where nobody has said where it goes, the button that asks.
pub fn line(ui: &mut Ui, t: &Tokens, a: &Told, sheet: &Sheet) -> Option<Action> {
    let way = sheet.direction().map(|direction| wording::sentence(direction.way.words()));
    let Some(way) = way else {
        let text = RichText::new("Where does it go?").font(theme::small());
        let asked = ui.add(Button::new(text).min_size(Vec2::new(0.0, TARGET)));
        return asked.clicked().then_some(Action::Do(Command::Direct));
    };
    let day = sheet.direction().and_then(|direction| direction.deadline.as_ref());
    let b = &a.spending;
    let left = match (&b.over, b.left()) {
        (Some(over), _) => Some(format!("{} over the budget", wording::amount(over.amount, &over.currency))),
        (None, Some(left)) => {
            Some(format!("{} of the budget left", wording::amount(left.amount, &left.currency)))
        }
        (None, None) => None,
    };
    let is_over = b.over.is_some();
    let said = [Some(way), day.map(|day| format!("wanted by {day}")), left];
    let said = said.into_iter().flatten().collect::<Vec<_>>().join(" · ");
    let bar = if b.used().is_some() { BAR + 10.0 } else { 0.0 };
    let room = (ui.available_width() - 12.0).max(60.0);
    let text =
        elided(ui, &said, theme::small(), if is_over { t.warm } else { t.ink }, (room - bar).max(40.0), 1);
    let size = Vec2::new(text.size().x + bar + 8.0, TARGET);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, format!("Plans: {said}")));
    if response.hovered() {
        ui.painter().rect_filled(rect, 3, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect, 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let (cut, wide) = (text.elided, text.size().x);
    ui.painter().galley(pos2(rect.left() + 4.0, rect.center().y - text.size().y / 2.0), text, t.ink);
    let at = pos2(rect.left() + 4.0 + wide + 10.0, rect.center().y - budget_bar::HIGH / 2.0);
    budget_bar::paint(ui, t, b, Rect::from_min_size(at, Vec2::new(BAR - 4.0, budget_bar::HIGH)));
    let clicked = response.clicked();
    if cut {
        response.on_hover_text(&said);
    }
    clicked.then_some(Action::Do(Command::Plans))
}
