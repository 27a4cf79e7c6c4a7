//! The routes on offer at a position, each with its consequences before it is chosen.

use egui::{Button, Label, Response, RichText, Ui, Vec2};
use knockon_core::assessment::{Assessment, Offer, PositionView};
use knockon_core::change::Change;
use knockon_core::library::Reversible;
use knockon_core::sheet::Route;

use super::route_table::{self, LEAST, Of};
use crate::access::{self, Keys};
use crate::app::view::{Action, View};
use crate::dialogs::one_way::OneWay;
use crate::dialogs::question;
use crate::look::choice_row;
use crate::look::choice_row::Lead;
use crate::look::text::apart;
use crate::look::tokens::{TARGET, Tokens};
use crate::panel::measuring;
use crate::panel::on_offer::Way;
use crate::wording;

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
    let list = view.offers.list.clone().or_else(|| view.offers.before.clone()).filter(|_| of_here);
    let about = |way: &Way| asked.is_some() && way.choice == asked;
    if asked.is_some() && !list.as_ref().is_some_and(|list| list.iter().any(about)) {
        question::question(ui, t, view, actions);
    }
    match list {
        None if view.offers.stopped => {
            ui.horizontal(|ui| {
                ui.label(RichText::new("The routes were not worked out: stopped.").color(t.soft));
                if ui.add(Button::new("Work them out").min_size(Vec2::new(0.0, TARGET))).clicked() {
                    actions.push(Action::WorkOut);
                }
            });
        }
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
            let table = ui.available_width() >= LEAST;
            let currency = &a.totals.currency;
            let in_set = |way: &Way| {
                let found = view.clearing.found()?;
                let set = found.sets.first()?;
                let choice = way.choice.as_ref()?;
                let is_in = set.choices.iter().any(|(place, other)| *place == p.id && other == choice);
                is_in.then_some(set.choices.len())
            };
            let names: Vec<&str> = list.iter().map(|way| way.offer.name.as_str()).collect();
            let apart = apart(&names);
            let sets: Vec<Option<usize>> = list.iter().map(in_set).collect();
            if table {
                ui.spacing_mut().item_spacing.y = 2.0;
                route_table::heads(ui, t, currency);
            }
            // once the row of the board has had the keyboard
            let now = !view.reveal;
            let found = view.search.offer.take_if(|(position, _)| now && *position == p.id);
            // figures are meant for the measurement where one is asked
            let asks = measuring::is_asked(a, &p.id);
            let rows = ui.unique_id().with("routes");
            for (i, way) in list.iter().enumerate() {
                let key = if asks { usize::MAX } else { i };
                let change = changes.get(i).filter(|c| !c.idle.is_empty());
                let draw = |ui: &mut Ui| {
                    access::part_of_list(ui, rows, Keys::Walk, None);
                    if !table {
                        return one(ui, t, key, way, change, currency);
                    }
                    let in_set = sets.get(i).copied().flatten();
                    let apart = apart.get(i).and_then(Option::as_deref);
                    let of = Of { currency, clashes: a.clashes.len(), apart, in_set };
                    let row = route_table::row(ui, t, key, way, change, &of);
                    // beside the table, never over its rows
                    let mut tip = egui::Tooltip::for_enabled(&row);
                    tip.popup = tip.popup.align(egui::RectAlign::LEFT_START);
                    tip.show(|ui| {
                        if way.offer.money.each().count() > 1 {
                            ui.label(wording::consequences(&way.offer, change, currency));
                        }
                        hover(ui, &way.offer, change);
                    });
                    row
                };
                // one stop of Tab for all of them; what a step that cannot be undone asks is not in the list
                let response = ui.scope(draw).inner;
                if choice_row::taken(&response) && !way.offer.current {
                    actions.push(way.take());
                }
                if found.as_ref().is_some_and(|(_, part)| way.offer.part.as_ref() == Some(part)) {
                    // Enter takes it, Tab and the arrows go on from it
                    response.request_focus();
                    response.scroll_to_me(Some(egui::Align::Center));
                }
                if about(way) {
                    question::question(ui, t, view, actions);
                }
            }
        }
    }
}

fn one(ui: &mut Ui, t: &Tokens, i: usize, way: &Way, change: Option<&Change>, currency: &str) -> Response {
    let offer = &way.offer;
    // how the plan stands warns of nothing new
    let bad =
        !offer.clashes_added.is_empty() || offer.reversible == Reversible::No && offer.route != Route::Keep;
    let tone = if bad && !offer.current { t.warm } else { t.soft };
    let lines = [
        (wording::consequences(offer, change, currency), tone),
        (change.map(wording::lost).unwrap_or_default(), t.warm),
    ];
    let lead = if offer.current { Lead::Taken } else { Lead::Other((i < 9).then_some(i)) };
    let response = choice_row::show(ui, t, lead, &way.name(), &lines);
    response.on_hover_ui(|ui| hover(ui, offer, change))
}

/// What the row does not say: by name what comes, goes, and no longer fits.
fn hover(ui: &mut Ui, offer: &Offer, change: Option<&Change>) {
    ui.strong(&offer.name);
    for line in change.into_iter().flat_map(|c| &c.idle) {
        ui.label(format!("Lies idle afterwards: {}", wording::idle(line)));
    }
    let noun = |name: &String| name.split(", ").next().unwrap_or(name).to_owned();
    for (lead, names) in [
        ("Brings", &offer.companions_added),
        ("Spares", &offer.companions_removed),
        ("Does not fit", &offer.clashes_added),
        ("Clears", &offer.clashes_removed),
    ] {
        if !names.is_empty() {
            ui.label(format!("{lead}: {}", names.iter().map(noun).collect::<Vec<_>>().join(", ")));
        }
    }
    ui.label(wording::sentence(wording::reversible(offer.reversible)));
}
