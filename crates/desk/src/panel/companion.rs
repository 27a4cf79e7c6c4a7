//! A companion in the panel: why it is wanted, and what to do about it.

use egui::{Align, Button, Label, Layout, RichText, TextEdit, Ui, Vec2};
use knockon_core::assessment::Companion;
use knockon_core::library::Level;
use knockon_core::sheet::LineState;
use knockon_core::{Edit, Sheet};

use crate::access;
use crate::access::heard;
use crate::app::told::Told;
use crate::app::view::{Action, Spot, View};
use crate::buying::fields::state_combo;
use crate::dialogs::one_way::OneWay;
use crate::dialogs::question;
use crate::look::choice_row::taken;
use crate::look::margin::{fact, section};
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, HEAD, Tokens};
use crate::look::{icons, margin};
use crate::panel::{later, look_twice};
use crate::panel::{leave, paid, rule};
use crate::wording;

/// One line that leads to the details.
pub fn line(ui: &mut Ui, t: &Tokens, c: &Companion, actions: &mut Vec<Action>) {
    let name = wording::with_qty(&c.name, c.qty);
    let text = format!("{} {name}", wording::level(c.level));
    let mut rich = RichText::new(text).color(if wording::open(c) && c.level == Level::Required {
        t.warm
    } else {
        t.ink
    });
    if c.waived.is_some() {
        rich = rich.strikethrough();
    }
    let price = c.cost().map(|m| format!("{} · ", wording::price(Some(&m)))).unwrap_or_default();
    let state = format!("{price}{}", wording::companion_state(c));
    let right = RichText::new(state).font(theme::small()).color(t.soft);
    let button = Button::new(rich).right_text(right).wrap().min_size(Vec2::new(ui.available_width(), 28.0));
    if ui.add(button).clicked() {
        actions.push(Action::Select(Some(Spot::Companion(c.key.clone()))));
    }
}

/// Its head: what it is and how it stands. It stays while the rest scrolls.
pub fn head(ui: &mut Ui, t: &Tokens, c: &Companion, view: &View, actions: &mut Vec<Action>) {
    let lead = if c.safety {
        format!("{}, and people depend on it", wording::level(c.level))
    } else {
        wording::level(c.level).to_owned()
    };
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            leave(ui, view, actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                ui.label(RichText::new(wording::sentence(&lead)).font(theme::small()).color(t.soft));
            });
        });
    });
    heard::heading(ui, 2, RichText::new(wording::with_qty(&c.name, c.qty)).font(strong(HEAD)));
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::splat(18.0), egui::Sense::hover());
        let tone = if wording::open(c) { t.warm } else { t.ink };
        icons::line_state(ui.painter(), rect.center(), c.line, tone);
        ui.colored_label(tone, wording::sentence(wording::companion_state(c)));
    });
    rule(ui, t);
}

/// The details.
pub fn details(
    ui: &mut Ui,
    t: &Tokens,
    a: &Told,
    sheet: &Sheet,
    c: &Companion,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let price = if c.in_kit {
        "in the box of the kit".to_owned()
    } else if !c.to_be_had {
        "not for sale".to_owned()
    } else {
        wording::counts_for(c.price.as_ref(), c.line)
    };
    fact(ui, t, "Price each", &price, t.ink);
    if !c.in_kit {
        paid::field(ui, t, a, &c.part, view, actions);
    }
    if c.hours > 0.04 {
        fact(ui, t, "Time", &format!("{} each", wording::hours(c.hours)), t.ink);
    }
    look_twice::lines(ui, t, c, &view.bounds);
    if let Some(reason) = &c.waived {
        fact(ui, t, "Left out", reason, t.ink);
    }
    for note in a.cautions.iter().filter(|n| n.companions.contains(&c.key)) {
        margin::caution(ui, t, note, a.measure);
    }
    let half = a.half_line(c.reason);
    if !half.is_empty() {
        ui.add(Label::new(wording::sentence(&half)).wrap());
    }
    margin::why(ui, t, a, c.reason, &c.key);
    later::list(ui, t, a, |l| l.companions.contains(&c.key));
    answer(ui, t, sheet, c, view, actions);
    alternatives(ui, t, sheet, c, view, actions);
    belongs(ui, t, a, c, actions);
    look_twice::figures(ui, t, a, view, actions);
}

fn answer(ui: &mut Ui, t: &Tokens, sheet: &Sheet, c: &Companion, view: &mut View, actions: &mut Vec<Action>) {
    section(ui, t, "Your answer");
    let plan = sheet.plan.clone();
    let key = c.key.clone();
    if c.waived.is_some() {
        let key = c.left_out_by.clone().unwrap_or(key);
        if ui.button("Take it in again").clicked() {
            actions.push(Action::Edit(vec![Edit::Waive { plan, key, reason: None }]));
        }
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let label = if c.accepted { "Take the yes back" } else { "Accept" };
        // the second click of two is no answer to the button that has just come there
        let asked = (!c.in_kit).then(|| ui.button(label));
        if let Some(answer) = &asked {
            // who comes from a board that shows no row of it arrives here
            access::first(ui.ctx(), answer.id);
        }
        if asked.is_some_and(|answer| taken(&answer)) {
            actions.push(Action::Accept(key.clone(), !c.accepted));
        }
        if !c.in_kit && c.line != LineState::InHand && ui.button("I have it in hand").clicked() {
            actions
                .push(Action::Edit(vec![Edit::SetLine { part: c.part.clone(), state: LineState::InHand }]));
        }
        let typing = view.waive.as_ref().is_some_and(|(k, _)| *k == key);
        if !typing && ui.button("Leave out…").clicked() {
            view.waive = Some((key.clone(), String::new()));
        }
    });
    if view.ask.as_ref().is_some_and(|ask| matches!(&ask.step, OneWay::Accept(k, _) if *k == c.key)) {
        question::question(ui, t, view, actions);
    }
    if !c.in_kit {
        ui.horizontal(|ui| {
            ui.label("Its line");
            state_combo(
                ui,
                ("companion state", &c.part),
                &format!("State of {}", c.name),
                &c.part,
                c.line,
                actions,
            );
        });
    }
    reason(ui, t, plan, c, view, actions);
}

fn reason(ui: &mut Ui, t: &Tokens, plan: String, c: &Companion, view: &mut View, actions: &mut Vec<Action>) {
    let Some((key, text)) = view.waive.as_mut().filter(|(key, _)| *key == c.key) else { return };
    let mut close = false;
    ui.label("Why it is left out");
    let field = TextEdit::singleline(text)
        .id(egui::Id::unique(("waive", &*key)))
        .desired_width(f32::INFINITY)
        .hint_text("The shop that fits it supplies its own");
    let response = named(ui.add(field), "Why it is left out");
    if text.is_empty() && !response.has_focus() && !response.lost_focus() {
        response.request_focus();
    }
    let enter = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
    let escape = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Escape));
    let given = !text.trim().is_empty();
    ui.horizontal(|ui| {
        if ui.add_enabled(given, Button::new("Leave it out")).clicked() || enter && given {
            let reason = Some(text.trim().to_owned());
            actions.push(Action::Edit(vec![Edit::Waive { plan, key: key.clone(), reason }]));
            close = true;
        }
        close |= ui.button("Keep it").clicked() || escape;
    });
    if c.level == Level::Required {
        let text = "The plan does not work without it unless something else does its job.";
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    }
    if close {
        view.waive = None;
    }
}

fn alternatives(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    c: &Companion,
    view: &mut View,
    actions: &mut Vec<Action>,
) {
    let others = view.details.alternatives.clone();
    if others.is_empty() {
        return;
    }
    section(ui, t, "Others that would serve");
    let asked = view.ask.as_ref().map(|ask| ask.step.clone());
    for other in &others {
        let right = RichText::new(wording::price(other.price.as_ref())).font(theme::small()).color(t.soft);
        let button =
            Button::new(&other.name).right_text(right).wrap().min_size(Vec2::new(ui.available_width(), 28.0));
        if ui.add(button).clicked() {
            actions.push(Action::Pick(c.key.clone(), Some(other.part.clone())));
        }
        if matches!(&asked, Some(OneWay::Pick(_, part)) if *part == other.part) {
            question::question(ui, t, view, actions);
        }
    }
    let picked = sheet.plans.get(&sheet.plan).is_some_and(|p| p.picks.contains_key(&c.key));
    if picked && ui.button("Back to the cheapest").clicked() {
        actions.push(Action::Pick(c.key.clone(), None));
    }
}

fn belongs(ui: &mut Ui, t: &Tokens, a: &Told, c: &Companion, actions: &mut Vec<Action>) {
    section(ui, t, "Belongs to");
    let mut links: Vec<(String, Spot)> = Vec::new();
    if let Some(id) = &c.cause {
        links.push((format!("Caused by {}", wording::place(a, id)), Spot::Position(id.clone())));
    }
    if let Some(id) = c.position.as_ref().filter(|id| Some(*id) != c.cause.as_ref()) {
        links.push((format!("Sits in {}", wording::place(a, id)), Spot::Position(id.clone())));
    }
    if let Some(parent) = c.parent.as_ref().and_then(|key| a.companions.iter().find(|o| o.key == *key)) {
        links.push((format!("Comes with {}", parent.name), Spot::Companion(parent.key.clone())));
    }
    for (text, spot) in links {
        let text = RichText::new(text).size(BODY);
        let button = Button::new(text).wrap().min_size(Vec2::new(ui.available_width(), 28.0));
        if ui.add(button).clicked() {
            actions.push(Action::Select(Some(spot)));
        }
    }
}
