//! A clash in the panel: what does not fit, why, and what each remedy would bring.

use egui::{Label, RichText, Ui};
use knockon_core::assessment::{Clash, Remedy};

use crate::cache::Told;
use crate::choice_row::{self, Lead};
use crate::cures::{self, Cures};
use crate::theme;
use crate::tokens::Tokens;
use crate::view::Action;
use crate::{icons, notes, words};

/// Draws the clash.
pub fn card(ui: &mut Ui, t: &Tokens, a: &Told, c: &Clash, cures: &Cures, actions: &mut Vec<Action>) {
    notes::bordered(ui, t, |ui| {
        let lead = if c.safety { "does not fit, and people can be hurt" } else { "does not fit" };
        notes::titled(ui, t, icons::Mark::Clash, &format!("{}: {lead}", words::sentence(&c.name)));
        let half = a.half_line(c.reason);
        let half = words::under(&c.name, &half);
        if !half.is_empty() {
            ui.add(Label::new(words::sentence(half)).wrap());
        }
        if !c.remedies.is_empty() {
            ui.label(RichText::new("What would clear it").font(theme::small()).color(t.soft));
        }
        for remedy in cures::ranked(a, c, cures) {
            one(ui, t, a, c, remedy, cures, actions);
        }
        notes::why(ui, t, a, c.reason, &c.key);
    });
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
        ui.add(Label::new(words::sentence(&remedy.text.say(a.measure))).wrap());
        return;
    };
    let name = format!("{}{}", words::sentence(&remedy.text.say(a.measure)), price(a, remedy, position));
    let lines = match cures.offer(remedy) {
        Some((offer, change)) => {
            let change = change.filter(|c| !c.idle.is_empty());
            let (verdict, warm) = cures::verdict(a, c, offer);
            vec![
                (words::consequences(offer, change, &a.totals.currency), t.soft),
                (verdict, if warm { t.warm } else { t.soft }),
                (change.map(words::lost).unwrap_or_default(), t.warm),
            ]
        }
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
    let all = words::price(Some(&each.times(qty)));
    match qty {
        0 | 1 => format!(", {all}"),
        n => format!(", {n} × {} = {all}", words::price(Some(each))),
    }
}
