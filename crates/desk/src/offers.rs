//! The routes on offer at a position, each with its consequences before it is chosen.

use egui::{Label, RichText, Ui};
use knockon_core::assessment::{Assessment, Offer, PositionView};
use knockon_core::change::Change;
use knockon_core::library::Reversible;
use knockon_core::sheet::Route;

use crate::choice_row::{self, Lead};
use crate::one_way::OneWay;
use crate::tokens::Tokens;
use crate::view::{Action, View};
use crate::ways::Way;
use crate::{ask, words};

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
            for (i, way) in list.iter().enumerate() {
                let change = changes.get(i).filter(|c| !c.idle.is_empty());
                if one(ui, t, i, way, change, &a.totals.currency) && !way.offer.current {
                    actions.push(way.take());
                }
                if about(way) {
                    ask::question(ui, t, view, actions);
                }
            }
        }
    }
}

fn one(ui: &mut Ui, t: &Tokens, i: usize, way: &Way, change: Option<&Change>, currency: &str) -> bool {
    let offer = &way.offer;
    // how the plan stands warns of nothing new
    let bad =
        !offer.clashes_added.is_empty() || offer.reversible == Reversible::No && offer.route != Route::Keep;
    let tone = if bad && !offer.current { t.warm } else { t.soft };
    let lines = [
        (words::consequences(offer, change, currency), tone),
        (change.map(words::lost).unwrap_or_default(), t.warm),
    ];
    let lead = if offer.current { Lead::Taken } else { Lead::Other((i < 9).then_some(i)) };
    let response = choice_row::show(ui, t, lead, &way.name(), &lines);
    let clicked = choice_row::taken(&response);
    response.on_hover_ui(|ui| hover(ui, offer, change));
    clicked
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
