//! A clash in the panel: what does not fit, why, and what each remedy would bring.

use std::sync::Arc;

use egui::{Label, Ui};
use knockon_core::assessment::{Clash, Remedy};

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, View};
use crate::cures;
use crate::cures::Cures;
use crate::cures::rows::{FAILED, Rows, STOPPED, WORKING, cut_off, quiet, with_keys};
use crate::cures::search::Clearing;
use crate::dialogs::one_way::Place;
use crate::look::choice_row;
use crate::look::choice_row::Lead;
use crate::look::fold;
use crate::look::tokens::Tokens;
use crate::look::{icons, margin};
use crate::panel::misfits;
use crate::wording;

/// Draws the clash, with those that are one trouble with it; `above` are the clashes that are told above it.
pub fn card(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    c: &Clash,
    above: &[&Clash],
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let also = a.clashes.iter().filter(|other| c.one_with.contains(&other.key));
    let trouble: Vec<&Clash> = std::iter::once(c).chain(also).collect();
    margin::bordered(ui, t, |ui| {
        let hurts = trouble.iter().any(|clash| clash.safety);
        let lead = if hurts { "does not fit, and people can be hurt" } else { "does not fit" };
        margin::titled(ui, t, icons::Mark::Clash, &format!("{}: {lead}", misfits::names(&trouble)));
        for clash in &trouble {
            let half = a.half_line(clash.reason);
            let half = wording::under(&clash.name, &half);
            if !half.is_empty() {
                ui.add(Label::new(wording::sentence(half)).wrap());
            }
        }
        let told = together(ui, t, a, &trouble, above, view, actions);
        let mut alone: Vec<(&Clash, &Remedy)> = Vec::new();
        for clash in &trouble {
            for remedy in cures::ranked(a, clash, &view.cures) {
                if alone.iter().all(|(_, other)| other.text != remedy.text) {
                    alone.push((clash, remedy));
                }
            }
        }
        let mut all = |ui: &mut Ui| {
            for (clash, remedy) in &alone {
                one(ui, t, a, clash, remedy, &view.cures, actions);
            }
        };
        match alone.len() {
            0 => {}
            n if told => {
                let title = format!("{} by itself", wording::count(n, "change", "changes, each"));
                fold::behind(ui, t, &title, ("by itself", &c.key), all);
            }
            _ => {
                quiet(ui, t, "What would clear it");
                all(ui);
            }
        }
        for clash in &trouble {
            margin::why(ui, t, a, clash.reason, &clash.key);
        }
    });
}

/// What clears the knot of the trouble; whether something is told of it, or will be.
fn together(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    trouble: &[&Clash],
    above: &[&Clash],
    view: &mut View,
    actions: &mut Vec<Action>,
) -> bool {
    let found = match &view.clearing {
        Clearing::Found(found) => Arc::clone(found),
        Clearing::Working(..) => {
            quiet(ui, t, WORKING);
            return true;
        }
        Clearing::Stopped => {
            quiet(ui, t, STOPPED);
            return false;
        }
        Clearing::Failed => {
            quiet(ui, t, FAILED);
            return false;
        }
        Clearing::Idle => return false,
    };
    let knot = trouble.iter().find_map(|clash| found.knot(&clash.key)).filter(|knot| !knot.sets.is_empty());
    let Some(knot) = knot else { return false };
    if let Some(told) = above.iter().find(|other| knot.clashes.contains(&other.key)) {
        quiet(ui, t, &format!("What clears it with {} stands there.", told.name));
        return true;
    }
    let is_other = |other: &&Clash| {
        knot.clashes.contains(&other.key) && trouble.iter().all(|clash| clash.key != other.key)
    };
    let others: Vec<&str> = a.clashes.iter().filter(is_other).map(|other| other.name.as_str()).collect();
    let lead = match others.len() {
        0 => "What would clear it".to_owned(),
        _ => format!("What would clear it together with {}", others.join(" and ")),
    };
    quiet(ui, t, &lead);
    let here =
        with_keys(a, view.selected.as_ref(), &found).is_some_and(|first| first.clashes == knot.clashes);
    let keys: &[Command] = if here { &Command::CLEAR_HERE } else { &[] };
    Rows { t, a, place: Place::Panel }.all(ui, &knot.sets, keys, view, actions);
    cut_off(ui, t, &found);
    true
}

fn one(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    c: &Clash,
    remedy: &Remedy,
    cures: &Cures,
    actions: &mut Vec<Action>,
) {
    let Some((position, part)) = &remedy.choice else {
        ui.add(Label::new(wording::sentence(&remedy.text.say(a.measure))).wrap());
        return;
    };
    let name = format!("{}{}", wording::sentence(&remedy.text.say(a.measure)), price(a, remedy, position));
    let lines = match cures.offer(remedy) {
        Some((offer, change)) => {
            let change = change.filter(|c| !c.idle.is_empty());
            let (verdict, warm) = cures::verdict(a, c, offer);
            vec![
                (wording::consequences(offer, change, &a.totals.currency), t.soft),
                (verdict, if warm { t.warm } else { t.soft }),
                (change.map(wording::lost).unwrap_or_default(), t.warm),
            ]
        }
        None if cures.stopped => vec![("What it would bring was not worked out: stopped".to_owned(), t.soft)],
        None if cures.list.is_none() => vec![("Working out what it would bring…".to_owned(), t.soft)],
        None => vec![("What it would bring cannot be worked out".to_owned(), t.warm)],
    };
    if choice_row::taken(&choice_row::show(ui, t, Lead::Do, &name, &lines)) {
        actions.push(Action::Choose(position.clone(), Some(cures::choice(a, position, part))));
    }
}

/// What the part costs there, for all of the place.
fn price(a: &Told, remedy: &Remedy, position: &str) -> String {
    let Some(each) = &remedy.price else { return String::new() };
    let qty = a.positions.iter().find(|p| p.id == position).map_or(1, |p| p.qty);
    let all = wording::price(Some(&each.times(qty)));
    match qty {
        0 | 1 => format!(", {all}"),
        n => format!(", {n} × {} = {all}", wording::price(Some(each))),
    }
}
