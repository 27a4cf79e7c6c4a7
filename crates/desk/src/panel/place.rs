//! A place in the panel: what does not fit, what to measure, routes with what they bring, as found, ports and notes.

use egui::{Label, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::{Clash, PortRow, PositionView};
use knockon_core::showing::Measure;
use knockon_core::{Edit, Sheet, explain};

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Field, View};
use crate::board::line::Brings;
use crate::cures::rows;
use crate::look::fold;
use crate::look::fold::{Fold, Sign};
use crate::look::margin::{left, section};
use crate::look::text::{named, quantity};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};
use crate::look::{icons, margin};
use crate::panel::routes;
use crate::panel::{as_found, clash, companion, later, made, measuring, photos, survey, unknown};
use crate::wording;

/// Draws what stands under the head of a place: what has to be looked at first, then the routes, then the rest.
pub fn body(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    // what shows here comes first, what only involves this place after the routes
    let clashes = rows::at(a, &p.id);
    let shown = clashes.iter().filter(|c| p.clashes.contains(&c.key)).count();
    let (shows, involved) = clashes.split_at(shown);
    let is_told = |i: usize, one: &Clash| clashes[..i].iter().any(|other| one.one_with.contains(&other.key));
    // the first is open, the others a line each: none pushes the routes out of sight
    let firsts = shows.iter().enumerate().filter(|(i, one)| !is_told(*i, one));
    for (n, (i, one)) in firsts.enumerate() {
        folded_clash(ui, t, a, p, one, n == 0, &clashes[..i], view, actions);
    }
    for m in a.to_measure.iter().filter(|m| m.positions.contains(&p.id)) {
        unknown::card(ui, t, a, m, view, actions);
    }
    section(ui, t, "What to do here");
    routes::list(ui, t, a, p, view, actions);
    let own = Command::OwnPart;
    if ui.add(egui::Button::new(own.label()).min_size(Vec2::new(0.0, 28.0))).clicked() {
        actions.push(Action::Do(own));
    }
    let mut lead = Some("This place has a part in");
    for (i, one) in involved.iter().enumerate().filter(|(i, one)| !is_told(shown + i, one)) {
        if let Some(lead) = lead.take() {
            section(ui, t, lead);
        }
        folded_clash(ui, t, a, p, one, false, &clashes[..shown + i], view, actions);
    }
    for (n, note) in a.cautions.iter().filter(|n| n.positions.contains(&p.id)).enumerate() {
        margin::caution_line(ui, t, note, a.measure, (&p.id, n));
    }
    for s in a.surplus.iter().filter(|s| s.position == p.id) {
        let lead =
            if s.lost_job { "No longer needed, for the keep shelf" } else { "Comes off, for the keep shelf" };
        section(ui, t, lead);
        ui.add(Label::new(&s.name).wrap());
        margin::why(ui, t, a, s.reason, &s.position);
    }
    if !p.companions.is_empty() {
        brings(ui, t, a, p, actions);
        for key in &p.companions {
            if let Some(c) = a.companions.iter().find(|c| c.key == *key) {
                companion::line(ui, t, c, actions);
            }
        }
    }
    section(ui, t, "As found");
    as_found::as_found(ui, t, sheet, p, &view.details, actions);
    survey::finding(ui, t, sheet, p, view, actions);
    made::field(ui, t, sheet, p, view, actions);
    for u in a.unmet.iter().filter(|u| u.positions.contains(&p.id)) {
        ui.add_space(4.0);
        let line = wording::sentence(&explain::unmet_line(a, u, a.measure));
        ui.add(Label::new(RichText::new(line).color(t.soft)).wrap());
        margin::why(ui, t, a, u.reason, &u.key);
    }
    later::list(ui, t, a, |l| l.positions.contains(&p.id));
    measuring::measured(ui, t, a, p, view, actions);
    looked_at(ui, t, a, p);
    checks(ui, t, a, p);
    ports(ui, t, p, &view.details.ports, view.measure);
    photos::list(ui, t, sheet, p, view, actions);
    note(ui, t, sheet, p, view, actions);
}

/// The heading of what a choice brings: how many, what they cost, and one button that accepts all of them.
fn brings(ui: &mut Ui, t: &Tokens, a: &Told, p: &PositionView, actions: &mut Vec<Action>) {
    let Some(all) = Brings::of(a, &p.name, &p.companions) else { return };
    let money = all.money(&a.totals.currency);
    let title = if money.is_empty() { String::new() } else { format!(", {money}") };
    section(ui, t, &format!("What it brings with it: {}{title}", all.words()));
    let open = all.open();
    if open.len() > 1 {
        let label = format!("Accept all {} that are open", open.len());
        if ui.add(egui::Button::new(label).min_size(Vec2::new(0.0, 28.0))).clicked() {
            actions.push(Action::AcceptAll(open));
        }
    }
}

/// A clash: open, or a line that opens.
#[allow(clippy::too_many_arguments, reason = "one part of the panel, split off for its length")]
fn folded_clash(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    p: &PositionView,
    one: &Clash,
    first: bool,
    above: &[&Clash],
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    if !first {
        let half = a.half_line(one.reason);
        let line = Fold {
            sign: Sign::State(icons::Mark::Clash),
            text: &wording::sentence(&one.name),
            half: wording::under(&one.name, &half),
            right: "",
            warm: true,
            open: false,
        };
        if !line.show(ui, t, ("clash", &p.id, &one.key)) {
            return;
        }
    }
    clash::card(ui, t, a, one, above, view, actions);
}

/// What holds with little left, and what stays undone where a part came off.
fn looked_at(ui: &mut Ui, t: &Tokens, a: &Told, p: &PositionView) {
    for c in a.close.iter().filter(|c| c.positions.contains(&p.id) && !c.left.is_empty()) {
        let text = format!("{}: {}", wording::sentence(&c.name), c.left.say(a.measure));
        ui.add(Label::new(RichText::new(text).color(t.ink)).wrap());
    }
    for s in a.surplus.iter().filter(|s| s.position == p.id && !s.leaves.is_empty()) {
        ui.add(Label::new(RichText::new(&s.leaves).color(t.warm)).wrap());
    }
}

fn checks(ui: &mut Ui, t: &Tokens, a: &Told, p: &PositionView) {
    let here: Vec<_> = a.checks.iter().filter(|c| c.positions.contains(&p.id)).collect();
    if here.is_empty() {
        return;
    }
    let title = format!("Checked here: {}", here.len());
    fold::behind(ui, t, &title, ("checks", &p.id), |ui| {
        for c in here {
            let tone = match c.answer {
                knockon_core::assessment::Answer::Broken | knockon_core::assessment::Answer::ToMeasure => {
                    t.warm
                }
                _ => t.ink,
            };
            ui.add(Label::new(RichText::new(wording::sentence(&c.name)).color(tone)).wrap());
            let text = c
                .reason
                .and_then(|r| a.reasons.get(r.0 as usize))
                .map(|r| explain::sentence(&r.fact, a.measure));
            if let Some(text) = text {
                ui.add(Label::new(RichText::new(text).color(t.soft).font(theme::small())).wrap());
            }
        }
    });
}

fn ports(ui: &mut Ui, t: &Tokens, p: &PositionView, rows: &[PortRow], measure: Measure) {
    if rows.is_empty() {
        return;
    }
    fold::behind(ui, t, "Ports of the fitted part", ("ports", &p.id), |ui| {
        let width = ui.available_width();
        let mut last = "";
        for row in rows {
            if row.port != last {
                last = &row.port;
                ui.add_space(2.0);
                ui.add(
                    Label::new(
                        RichText::new(format!("{} ({})", wording::sentence(&row.port), row.kind))
                            .font(strong(BODY)),
                    )
                    .wrap(),
                );
            }
            ui.horizontal_top(|ui| {
                left(ui, width * 0.45, RichText::new(&row.field).color(t.soft).font(theme::small()));
                let value = quantity(ui, &row.value, measure, theme::small(), t.ink);
                if !row.source.is_empty() {
                    value.on_hover_text(wording::sentence(&row.source));
                }
            });
        }
    });
}

fn note(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let stored = sheet.notes.get(&p.id).cloned().unwrap_or_default();
    let first = stored.lines().next().unwrap_or_default();
    let wanted = view.takes(Field::Note);
    let open = wanted || matches!(&view.note, Some((id, _)) if *id == p.id);
    let line = Fold { sign: Sign::None, text: "Notes", half: first, right: "", warm: false, open };
    if !line.show(ui, t, ("notes", &p.id)) && !open {
        return;
    }
    let mut text = match &view.note {
        Some((id, text)) if *id == p.id => text.clone(),
        _ => stored.clone(),
    };
    let field = TextEdit::multiline(&mut text)
        .id_salt(("note", &p.id))
        .desired_rows(2)
        .desired_width(f32::INFINITY)
        .hint_text("What you saw, measured or decided here");
    let response = named(ui.add(field), &format!("Notes on {}", p.name));
    if wanted {
        response.request_focus();
    }
    if response.changed() {
        view.note = Some((p.id.clone(), text.clone()));
    }
    if response.lost_focus() {
        view.note = None;
        if text != stored {
            actions.push(Action::Edit(vec![Edit::Note { position: p.id.clone(), text }]));
        }
    }
}
