//! While it is apart: what the plan leaves and what is cheap to do now, since the way to it lies open anyway; each with the
//! button that takes it into the plan.

use egui::accesskit::Role;
use egui::{
    Align2, Button, Label, Rect, RichText, Sense, Stroke, StrokeKind, Ui, UiBuilder, Vec2, WidgetInfo, pos2,
};
use knockon_core::assessment::Assessment;
use knockon_core::jobs::while_apart::{Cheap, Taken};
use knockon_core::sheet::Choice;
use knockon_report::apart::{does, hours, with};

use crate::access::{self, Keys};
use crate::app::view::{Action, Spot};
use crate::jobs::state::ToDo;
use crate::look::icons;
use crate::look::text::{elided, figures, figures_width};
use crate::look::theme::{self, strong};
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Height of a row.
const ROW: f32 = 44.0;
/// Room of the button.
const TAKE: f32 = 64.0;
/// Room of the money.
const MONEY: f32 = 96.0;

/// Draws the list.
pub fn list(ui: &mut Ui, t: &Tokens, a: &Assessment, work: &ToDo, actions: &mut Vec<Action>) {
    let text = if work.apart.is_empty() {
        "Nothing lies behind what this plan opens that would save an hour or more and is not in the plan already."
    } else {
        "What the plan leaves as it is, or only advises and nobody has said yes to, where doing it now saves an hour or more, \
         and more than it takes: the way to it lies open anyway. What was found good is not here. What stands open now stands \
         first, then what saves most."
    };
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
    ui.add_space(6.0);
    access::list(ui, Keys::Walk, None);
    for one in &work.apart {
        row(ui, t, a, work, one, actions);
    }
    ui.add_space(24.0);
}

fn row(ui: &mut Ui, t: &Tokens, a: &Assessment, work: &ToDo, one: &Cheap, actions: &mut Vec<Action>) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width() - 6.0, ROW), Sense::hover());
    let mut own = rect;
    own.set_right(rect.right() - TAKE - 8.0);
    let response = ui.interact(
        own,
        ui.unique_id().with(("apart", &one.position, format!("{:?}", one.take))),
        Sense::click(),
    );
    let seen = one.verdict.map_or_else(String::new, |verdict| format!("{}, ", verdict.word()));
    let open = if one.is_open { "open now, " } else { "" };
    let half = format!("{open}{seen}with {}", with(one, &work.jobs));
    let money = wording::price(one.money.as_ref());
    let label = [one.name.as_str(), does(one), &hours(one), &money, &half].join(", ");
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.hovered() {
        ui.painter().rect_filled(own, 3, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(own.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let right = own.right() - 8.0;
    figures(ui.painter(), pos2(right, rect.top() + 4.0), &money, &strong(BODY), t.ink);
    let saved = format!("saves {}", wording::hours(one.saves()));
    let told = hours(one);
    let at = right - MONEY;
    figures(ui.painter(), pos2(at, rect.top() + 4.0), &saved, &strong(BODY), t.ink);
    ui.painter().text(pos2(at, rect.bottom() - 12.0), Align2::RIGHT_CENTER, &told, theme::small(), t.soft);
    let left = rect.left() + if one.is_open { 26.0 } else { 8.0 };
    if one.is_open {
        icons::turn(ui.painter(), pos2(rect.left() + 14.0, rect.top() + 13.0), false, t.cool);
    }
    let taken = figures_width(ui.painter(), &saved, &strong(BODY)).max(118.0);
    let room = at - taken - left - 12.0;
    let name = elided(ui, &format!("{} · {}", one.name, does(one)), theme::body(), t.ink, room, 1);
    let below = elided(ui, &half, theme::small(), if one.is_open { t.cool } else { t.soft }, room, 1);
    let cut = name.elided || below.elided;
    ui.painter().galley(pos2(left, rect.top() + 4.0), name, t.ink);
    ui.painter().galley(pos2(left, rect.top() + 23.0), below, t.soft);
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, t.line));
    if response.clicked() && a.positions.iter().any(|p| p.id == one.position) {
        actions.push(Action::Select(Some(match &one.take {
            Taken::Route(_) => Spot::Position(one.position.clone()),
            Taken::Companion(key) => Spot::Companion(key.clone()),
        })));
    }
    if cut {
        response.on_hover_text(&label);
    }
    take(ui, one, rect, actions);
}

/// The button that takes it into the plan.
fn take(ui: &mut Ui, one: &Cheap, rect: Rect, actions: &mut Vec<Action>) {
    let size = Vec2::new(TAKE, TARGET);
    let place = Rect::from_min_size(pos2(rect.right() - TAKE, rect.center().y - TARGET / 2.0), size);
    let mut over = ui.new_child(UiBuilder::new().max_rect(place));
    let response = over.add(Button::new("Take").min_size(size));
    let label = format!("Take into the plan: {}, {}, {}", one.name, does(one), hours(one));
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &label));
    if response.clicked() {
        actions.push(match &one.take {
            Taken::Route(route) => {
                Action::Choose(one.position.clone(), Some(Choice { route: *route, part: None }))
            }
            Taken::Companion(key) => Action::Accept(key.clone(), true),
        });
    }
}
