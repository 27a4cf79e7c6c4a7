//! Parts that jobs wait for: what to order today, what later, what is on its way, and how long what nobody knows takes.

use std::collections::BTreeMap;

use egui::{Button, Label, RichText, Ui, Vec2};
use knockon_core::Edit;
use knockon_core::date::Dated;
use knockon_core::schedule::supply::{Coming, Known, Order};
use knockon_core::sheet::LineState;
use knockon_report::schedule::{day, name_of, to_order, weeks};

use crate::app::view::Action;
use crate::jobs::state::{JobsState, ToDo};
use crate::look::fold::{Fold, Sign};
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::look::typed::{Typed, number};

/// Draws the folds.
pub fn folds(ui: &mut Ui, t: &Tokens, work: &ToDo, state: &mut JobsState, actions: &mut Vec<Action>) {
    let all = &work.schedule.orders;
    let mut list = |title: &str, salt: &str, warm: bool, orders: Vec<&Order>| {
        if orders.is_empty() {
            return;
        }
        let right = orders.len().to_string();
        let half = if orders.len() == 1 { to_order(orders[0]) } else { String::new() };
        let fold = Fold { sign: Sign::None, text: title, half: &half, right: &right, warm, open: false };
        if fold.show(ui, t, ("orders", salt)) {
            ui.indent(("orders", salt), |ui| {
                orders.into_iter().for_each(|order| one(ui, t, work, order, state, actions));
            });
        }
    };
    list("Order today", "today", true, all.iter().filter(|order| order.today).collect());
    list(
        "Order later",
        "later",
        false,
        all.iter().filter(|order| !order.today && order.latest.is_some()).collect(),
    );
    list("How long do these take?", "ask", false, all.iter().filter(|order| order.weeks.is_none()).collect());
    let mut coming: BTreeMap<&str, (&Coming, &str)> = BTreeMap::new();
    for (job, slot) in &work.schedule.slots {
        for part in slot.waits.iter().filter(|part| part.state == LineState::OnOrder) {
            coming.entry(&part.part).or_insert((part, job));
        }
    }
    if coming.is_empty() {
        return;
    }
    let late = coming.values().any(|(part, _)| part.known == Known::Late);
    let right = coming.len().to_string();
    let half = if late { "one is late" } else { "" };
    let fold = Fold { sign: Sign::None, text: "On its way", half, right: &right, warm: late, open: false };
    if fold.show(ui, t, "on its way") {
        ui.indent("on its way", |ui| {
            coming.into_values().for_each(|(part, job)| on_its_way(ui, t, work, part, job, state, actions));
        });
    }
}

/// It is on order: the edits of one step.
pub fn ordered(order: &Order) -> Vec<Edit> {
    let part = || order.part.clone();
    let mut edits = vec![Edit::SetLine { part: part(), state: LineState::OnOrder }];
    // the rest of what is on order already: then all of it is
    if order.short > 0 {
        edits.push(Edit::SetQty { part: part(), qty: Some(order.qty) });
    }
    edits
}

fn one(
    ui: &mut Ui,
    t: &Tokens,
    work: &ToDo,
    order: &Order,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    ui.add(Label::new(to_order(order)).wrap());
    let by = order.latest.map_or_else(String::new, |at| format!(", by {}", day(at)));
    let on = order.wanted.map_or_else(String::new, |at| format!(" on {}", day(at)));
    let takes = order.weeks.map_or_else(String::new, |of| format!("{}{by}; ", weeks(of)));
    let text = format!("{takes}for {}{on}", name_of(&work.jobs, &order.job));
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    ui.horizontal_wrapped(|ui| {
        let own = work.lines.get(&order.part).and_then(|line| line.weeks);
        let name = format!("Weeks until it is here: {}", order.name);
        let now = own.map_or_else(String::new, |weeks| weeks.to_string());
        let field = Typed { name: &name, now, hint: "weeks", wide: 60.0 };
        if let Some(weeks) =
            field.show(ui, t, &mut state.fields, |text| number(text, "weeks, such as 3 or 0.5"))
        {
            actions.push(Action::Edit(vec![Edit::SetWeeks { part: order.part.clone(), weeks }]));
        }
        ui.colored_label(t.soft, "weeks");
        let button = ui.add(Button::new("Ordered").min_size(Vec2::new(0.0, TARGET)));
        button.widget_info(|| {
            let name = format!("Ordered: {}", order.name);
            egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, name)
        });
        if button.clicked() {
            actions.push(Action::Edit(ordered(order)));
        }
    });
    ui.add_space(4.0);
}

fn on_its_way(
    ui: &mut Ui,
    t: &Tokens,
    work: &ToDo,
    part: &Coming,
    job: &str,
    state: &mut JobsState,
    actions: &mut Vec<Action>,
) {
    ui.add(Label::new(&part.name).wrap());
    let (text, tone) = match (part.known, part.day) {
        (Known::Late, _) => ("its day has gone by and it is not here; ask".to_owned(), t.warm),
        (Known::Promised, Some(at)) => (format!("promised for {}", day(at)), t.soft),
        (Known::Ordered, Some(at)) => {
            (format!("no day promised; by its weeks here on {} at the latest", day(at)), t.soft)
        }
        _ => ("no day promised; ask".to_owned(), t.soft),
    };
    let text = format!("{text}; for {}", name_of(&work.jobs, job));
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(tone)).wrap());
    ui.horizontal_wrapped(|ui| {
        let name = format!("Promised for: {}", part.name);
        let now = work.lines.get(&part.part).and_then(|line| line.promised.clone()).unwrap_or_default();
        let field = Typed { name: &name, now, hint: "2026-04-18", wide: 112.0 };
        let read = |text: &str| {
            let dated = (!text.is_empty()).then(|| Dated::parse(text)).transpose();
            dated.map(|dated| dated.map(|d| d.text)).map_err(|why| format!("{why}."))
        };
        if let Some(promised) = field.show(ui, t, &mut state.fields, read) {
            actions.push(Action::Edit(vec![Edit::SetPromised { part: part.part.clone(), promised }]));
        }
        let button = ui.add(Button::new("It is here").min_size(Vec2::new(0.0, TARGET)));
        button.widget_info(|| {
            let name = format!("It is here: {}", part.name);
            egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, name)
        });
        if button.clicked() {
            actions.push(Action::Edit(vec![Edit::SetLine {
                part: part.part.clone(),
                state: LineState::InHand,
            }]));
        }
    });
    ui.add_space(4.0);
}
