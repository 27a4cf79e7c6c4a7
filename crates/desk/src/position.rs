//! The position on the right: as found, routes with what they bring, what does not fit, why, ports and notes.

use egui::{Label, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::assessment::{Clash, Companion, PortRow, PositionView};
use knockon_core::showing::Measure;
use knockon_core::{Edit, Sheet, explain};

use crate::cache::Told;
use crate::commands::Command;
use crate::notes::{fact, left, section};
use crate::one_way::Place;
use crate::text::{named, quantity};
use crate::theme::{self, strong, tokens};
use crate::tokens::{BODY, HEAD, Tokens};
use crate::view::{Action, Behind, Details, Spot, View};
use crate::{
    clash, companion, cure_rows, found, later, made, measuring, misfits, notes, offers, photos, survey,
    unknown, words,
};

/// Draws the panel for what is selected.
pub fn panel(ui: &mut Ui, a: &Told, sheet: &Sheet, view: &mut View) -> Vec<Action> {
    let mut actions = Vec::new();
    let t = tokens(ui);
    ScrollArea::vertical().id_salt(("position", &view.selected)).auto_shrink(false).show(ui, |ui| {
        ui.set_width(ui.available_width());
        match view.selected.clone() {
            Some(Spot::Position(id)) => match a.positions.iter().find(|p| p.id == id) {
                Some(p) => position(ui, &t, a, sheet, p, view, &mut actions),
                None => gone(ui, &t),
            },
            Some(Spot::Companion(key)) => match a.companions.iter().find(|c| c.key == key) {
                Some(c) => companion::details(ui, &t, a, sheet, c, view, &mut actions),
                None => gone(ui, &t),
            },
            None => {
                // the list of the strip says the same
                if !a.clashes.is_empty() && view.behind != Some(Behind::Clashes) {
                    section(ui, &t, &words::sentence(&words::misfits(a.clashes.len())));
                    misfits::list(ui, &t, a, false, Place::Panel, view, &mut actions);
                }
                ui.add_space(12.0);
                ui.add(Label::new(RichText::new("Pick a position on the board").font(strong(HEAD))).wrap());
                ui.add(
                    Label::new(
                        RichText::new(
                            "Arrow keys walk the board, Enter opens a row. Here you see what the survey found, what can \
                             be done, and what each choice drags in before you make it.",
                        )
                        .color(t.soft),
                    )
                    .wrap(),
                );
            }
        }
        ui.add_space(16.0);
    });
    actions
}

fn gone(ui: &mut Ui, t: &Tokens) {
    ui.add_space(12.0);
    ui.colored_label(t.soft, "What was selected is no longer part of the plan. Undo brings it back.");
}

fn position(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    p: &PositionView,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    head(ui, t, a, p, &view.details);
    // what shows here comes first, what only involves this place after the routes
    let clashes = cure_rows::at(a, &p.id);
    let shown = clashes.iter().filter(|c| p.clashes.contains(&c.key)).count();
    let (shows, involved) = clashes.split_at(shown);
    let is_told = |i: usize, one: &Clash| clashes[..i].iter().any(|other| one.one_with.contains(&other.key));
    for (i, one) in shows.iter().enumerate().filter(|(i, one)| !is_told(*i, one)) {
        clash::card(ui, t, a, one, &clashes[..i], view, actions);
    }
    found::as_found(ui, t, sheet, p, &view.details, actions);
    survey::finding(ui, t, sheet, p, view, actions);
    made::field(ui, t, sheet, p, view, actions);
    for note in a.cautions.iter().filter(|n| n.positions.contains(&p.id)) {
        notes::caution(ui, t, note, a.measure);
    }
    for m in a.to_measure.iter().filter(|m| m.positions.contains(&p.id)) {
        unknown::card(ui, t, a, m, view, actions);
    }
    section(ui, t, "What to do here");
    offers::list(ui, t, a, p, view, actions);
    let own = Command::OwnPart;
    if ui.add(egui::Button::new(own.label()).min_size(Vec2::new(0.0, 28.0))).clicked() {
        actions.push(Action::Do(own));
    }
    let mut lead = Some("This place has a part in");
    for (i, one) in involved.iter().enumerate().filter(|(i, one)| !is_told(shown + i, one)) {
        if let Some(lead) = lead.take() {
            section(ui, t, lead);
        }
        clash::card(ui, t, a, one, &clashes[..shown + i], view, actions);
    }
    for s in a.surplus.iter().filter(|s| s.position == p.id) {
        let lead =
            if s.lost_job { "No longer needed, for the keep shelf" } else { "Comes off, for the keep shelf" };
        section(ui, t, lead);
        ui.add(Label::new(&s.name).wrap());
        notes::why(ui, t, a, s.reason, &s.position);
    }
    if !p.companions.is_empty() {
        section(ui, t, "What it brings with it");
        for key in &p.companions {
            if let Some(c) = a.companions.iter().find(|c| c.key == *key) {
                companion::line(ui, t, c, actions);
            }
        }
    }
    for u in a.unmet.iter().filter(|u| u.positions.contains(&p.id)) {
        ui.add_space(4.0);
        let line = words::sentence(&explain::unmet_line(a, u, a.measure));
        ui.add(Label::new(RichText::new(line).color(t.soft)).wrap());
        notes::why(ui, t, a, u.reason, &u.key);
    }
    later::list(ui, t, a, |l| l.positions.contains(&p.id));
    measuring::measured(ui, t, a, p, view, actions);
    looked_at(ui, t, a, p);
    checks(ui, t, a, p);
    ports(ui, t, p, &view.details.ports, view.measure);
    photos::list(ui, t, sheet, p, view, actions);
    note(ui, t, sheet, p, view, actions);
}

fn head(ui: &mut Ui, t: &Tokens, a: &Told, p: &PositionView, details: &Details) {
    let system = a.systems.iter().find(|(id, _)| *id == p.system).map_or("", |(_, name)| name.as_str());
    ui.add_space(4.0);
    ui.label(RichText::new(system).font(theme::small()).color(t.soft));
    ui.add(Label::new(RichText::new(words::with_qty(&p.name, p.qty)).font(strong(HEAD))).wrap());
    let mark = words::mark(a, p);
    let tone = if mark.open() { t.warm } else { t.ink };
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
        mark.paint(ui.painter(), rect.center(), tone);
        ui.add(Label::new(RichText::new(words::sentence(&words::mark_text(a, p))).color(tone)).wrap());
    });
    let now = match (&p.fitted, p.route) {
        (None, _) => "nothing".to_owned(),
        (Some((_, name)), _) if p.filled => format!("{name}, comes with the plan"),
        (Some((_, name)), _) => name.clone(),
    };
    // nobody chose what comes with the plan: no route stands before it
    let text = if p.filled { words::sentence(&now) } else { format!("{}: {now}", p.route.word()) };
    fact(ui, t, "In this plan", &text, t.ink);
    if let Some(by) = put_by(a, p, details) {
        fact(ui, t, "", &by, t.soft);
    }
}

/// Who put there what nobody chose.
fn put_by(a: &Told, p: &PositionView, details: &Details) -> Option<String> {
    let brought = |c: &&Companion| c.position.as_ref() == Some(&p.id) && c.waived.is_none();
    if !p.filled {
        return None;
    }
    if let Some((place, kit)) = &details.kit {
        let place = words::place(a, place).to_lowercase();
        return Some(match p.fitted {
            Some(_) => format!("In the box of {kit}, chosen as {place}"),
            None => format!("{kit}, chosen as {place}, leaves it empty"),
        });
    }
    let c = a.companions.iter().find(brought)?;
    let half = a.half_line(c.reason);
    let by = c.cause.as_ref().map(|id| format!("Brought by {}", words::place(a, id).to_lowercase()));
    let told = [by, (!half.is_empty()).then_some(half)];
    Some(words::sentence(&told.into_iter().flatten().collect::<Vec<_>>().join(", ")))
}

/// What holds with little left, and what stays undone where a part came off.
fn looked_at(ui: &mut Ui, t: &Tokens, a: &Told, p: &PositionView) {
    for c in a.close.iter().filter(|c| c.positions.contains(&p.id) && !c.left.is_empty()) {
        let text = format!("{}: {}", words::sentence(&c.name), c.left.say(a.measure));
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
    egui::CollapsingHeader::new(title).id_salt(("checks", &p.id)).show(ui, |ui| {
        for c in here {
            let tone = match c.answer {
                knockon_core::assessment::Answer::Broken | knockon_core::assessment::Answer::ToMeasure => {
                    t.warm
                }
                _ => t.ink,
            };
            ui.add(Label::new(RichText::new(words::sentence(&c.name)).color(tone)).wrap());
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
    egui::CollapsingHeader::new("Ports of the fitted part").id_salt(("ports", &p.id)).show(ui, |ui| {
        let width = ui.available_width();
        let mut last = "";
        for row in rows {
            if row.port != last {
                last = &row.port;
                ui.add_space(2.0);
                ui.add(
                    Label::new(
                        RichText::new(format!("{} ({})", words::sentence(&row.port), row.kind))
                            .font(strong(BODY)),
                    )
                    .wrap(),
                );
            }
            ui.horizontal_top(|ui| {
                left(ui, width * 0.45, RichText::new(&row.field).color(t.soft).font(theme::small()));
                let value = quantity(ui, &row.value, measure, theme::small(), t.ink);
                if !row.source.is_empty() {
                    value.on_hover_text(words::sentence(&row.source));
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
    section(ui, t, "Notes");
    let stored = sheet.notes.get(&p.id).cloned().unwrap_or_default();
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
