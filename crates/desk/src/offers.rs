//! The routes on offer at a position, each with its consequences before it is chosen.

use egui::accesskit::Role;
use egui::{Color32, Label, RichText, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};
use knockon_core::assessment::{Assessment, Offer, PositionView};
use knockon_core::change::Change;
use knockon_core::library::Reversible;
use knockon_core::sheet::{Choice, Route};

use crate::one_way::OneWay;
use crate::text::wrapped;
use crate::theme::{self, strong};
use crate::tokens::{BODY, Tokens};
use crate::view::{Action, View};
use crate::words;
use crate::{ask, icons};

/// The action that takes an offer.
pub fn take(offer: &Offer) -> Action {
    let choice = Choice { route: offer.route, part: offer.part.clone() };
    Action::Choose(offer.position.clone(), (offer.route != Route::Keep).then_some(choice))
}

/// Draws the offers.
pub fn list(
    ui: &mut Ui,
    t: &Tokens,
    a: &Assessment,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let asked = view.ask.as_ref().and_then(|ask| match &ask.step {
        OneWay::Route(position, choice) if *position == p.id => Some(choice.clone()),
        _ => None,
    });
    let of_here = view.offers.of.as_ref().is_some_and(|(_, id)| *id == p.id);
    let list = view.offers.list.clone().filter(|_| of_here);
    let about = |o: &Offer| asked.as_ref().is_some_and(|c| c.route == o.route && c.part == o.part);
    if asked.is_some() && !list.as_ref().is_some_and(|list| list.iter().any(about)) {
        ask::question(ui, t, view, actions);
    }
    match list {
        None => {
            ui.add(
                Label::new(RichText::new("Working out what each route would bring…").color(t.soft)).wrap(),
            );
        }
        Some(list) if list.is_empty() => {
            ui.add(
                Label::new(RichText::new("The library offers nothing else for this place.").color(t.soft))
                    .wrap(),
            );
        }
        Some(list) => {
            let changes = view.offers.changes.clone();
            for (i, offer) in list.iter().enumerate() {
                let change = changes.get(i).filter(|c| !c.idle.is_empty());
                if one(ui, t, i, offer, change, &a.totals.currency) && !offer.current {
                    actions.push(take(offer));
                }
                if about(offer) {
                    ask::question(ui, t, view, actions);
                }
            }
        }
    }
}

fn one(ui: &mut Ui, t: &Tokens, i: usize, offer: &Offer, change: Option<&Change>, currency: &str) -> bool {
    let name = words::sentence(&words::offer_name(offer));
    let consequences = words::consequences(offer, change, currency);
    let width = ui.available_width();
    let first = wrapped(ui, &name, strong(BODY), t.ink, width - 46.0);
    let lost = change.map(words::lost);
    let third = wrapped(ui, lost.as_deref().unwrap_or_default(), theme::small(), t.warm, width - 46.0);
    // how the plan stands warns of nothing new
    let bad =
        !offer.clashes_added.is_empty() || offer.reversible == Reversible::No && offer.route != Route::Keep;
    let warm = bad && !offer.current;
    let tone = if warm { t.warm } else { t.soft };
    // a piece stays together: the line breaks between pieces
    let pieces: Vec<String> = consequences.split(" · ").map(|p| p.replace(' ', "\u{a0}")).collect();
    let second = wrapped(ui, &pieces.join(" · "), theme::small(), tone, width - 46.0);
    let third_height = if lost.is_some() { third.size().y } else { 0.0 };
    let height = first.size().y + second.size().y + third_height + 12.0;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, height), Sense::click());
    response.widget_info(|| {
        let lost = lost.as_ref().map_or_else(String::new, |lost| format!(", {lost}"));
        let label = format!("{name}, {consequences}{lost}");
        egui::WidgetInfo::selected(Role::RadioButton, true, offer.current, label)
    });
    if ui.is_rect_visible(rect) {
        let paint = ui.painter();
        let (fill, edge) = if offer.current {
            (t.cool_ground, t.cool)
        } else if response.hovered() {
            (t.hover, t.ink)
        } else {
            (t.sheet, t.edge)
        };
        paint.rect(rect.shrink(0.5), 4, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
        if response.has_focus() {
            paint.rect_stroke(rect.shrink(1.0), 4, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        let centre = pos2(rect.left() + 18.0, rect.top() + 6.0 + 9.0);
        if offer.current {
            icons::tick(paint, centre, t.cool);
        } else if i < 9 {
            number(ui, t, i, centre);
        }
        let top = rect.top() + 6.0;
        let x = rect.left() + 36.0;
        let below = top + first.size().y;
        ui.painter().galley(pos2(x, top), first, t.ink);
        let last = below + second.size().y;
        ui.painter().galley(pos2(x, below), second, tone);
        if lost.is_some() {
            ui.painter().galley(pos2(x, last), third, t.warm);
        }
    }
    let clicked = response.clicked();
    response.on_hover_ui(|ui| hover(ui, offer, change));
    clicked
}

fn number(ui: &Ui, t: &Tokens, i: usize, centre: egui::Pos2) {
    let text = ui.painter().layout_no_wrap((i + 1).to_string(), theme::small(), t.soft);
    let key = egui::Rect::from_center_size(centre, Vec2::new(18.0, 18.0));
    ui.painter().rect(key, 3, Color32::TRANSPARENT, Stroke::new(1.0, t.line), StrokeKind::Inside);
    ui.painter().galley(centre - text.size() / 2.0, text, t.soft);
}

fn hover(ui: &mut Ui, offer: &Offer, change: Option<&Change>) {
    for line in change.into_iter().flat_map(|c| &c.idle) {
        ui.label(format!("Lies idle afterwards: {}", words::idle(line)));
    }
    for (lead, names) in [
        ("Brings", &offer.companions_added),
        ("Spares", &offer.companions_removed),
        ("Does not fit", &offer.clashes_added),
        ("Clears", &offer.clashes_removed),
    ] {
        if !names.is_empty() {
            ui.label(format!("{lead}: {}", names.join(", ")));
        }
    }
    ui.label(words::sentence(words::reversible(offer.reversible)));
}
