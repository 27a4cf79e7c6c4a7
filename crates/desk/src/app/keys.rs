//! Keys outside text fields: walking the board, taking routes, accepting companions.

use egui::{Context, Key, Modifiers};
use knockon_core::{Assessment, Sheet};

use crate::access::{self, Region};
use crate::app::commands::Command;
use crate::app::view::{Action, Field, Page, Row, Spot, View};
use crate::board::menu;
use crate::buying::chosen::STATES;
use crate::panel::measuring;

const DIGITS: [Key; 9] =
    [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];

/// Reads the keys of this frame; what is taken here does not reach the widgets.
pub fn read(ctx: &Context, a: &Assessment, example: &Sheet, view: &mut View) -> Vec<Action> {
    if view.dialog.is_some() {
        return Vec::new();
    }
    let mut actions: Vec<Action> = Command::pressed(ctx).into_iter().map(Action::Do).collect();
    if ctx.text_edit_focused() || egui::Popup::is_any_open(ctx) {
        return actions;
    }
    let took = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if took(Key::Slash) {
        actions.push(Action::Do(Command::Find));
        // the slash itself is not to land in the field
        ctx.input_mut(|i| i.events.retain(|e| !matches!(e, egui::Event::Text(text) if text == "/")));
    }
    if took(Key::Escape) {
        if view.page == Page::How {
            actions.push(Action::Do(Command::HowItWorks));
        } else if view.ask.is_some() {
            actions.push(Action::Answer(false));
        } else if view.page == Page::Jobs && view.jobs.bench.is_some() {
            view.jobs.bench = None;
        } else if view.page == Page::Buying && !view.buying.chosen.parts.is_empty() {
            view.buying.chosen.parts.clear();
        } else if view.behind.is_some() {
            actions.push(Action::Behind(None));
        } else if view.page == Page::Library && view.library.step_back() {
            // one thing at a time
        } else if view.page == Page::OwnLibrary && view.own_library.step_back() {
            // here too
        } else if let Some(place) = view.came_from_place.clone() {
            actions.push(Action::Select(Some(Spot::Position(place))));
        } else if view.came_from.is_some() {
            actions.push(Action::Behind(view.came_from));
        } else if view.filter.is_some() && view.selected.is_none() {
            view.filter = None;
        } else if !view.find.is_empty() {
            view.find.clear();
        } else {
            actions.push(Action::Select(None));
        }
    }
    match view.page {
        Page::Board => board(ctx, a, view, &mut actions),
        Page::Start => {
            for (i, key) in DIGITS.into_iter().enumerate() {
                if took(key)
                    && let Some(id) = example.plans.keys().nth(i)
                {
                    actions.push(Action::StartWith(id.clone()));
                }
            }
        }
        // the other pages read their own
        _ => {}
    }
    actions
}

fn board(ctx: &Context, a: &Assessment, view: &mut View, actions: &mut Vec<Action>) {
    let focused = ctx.memory(egui::Memory::focused);
    let on_row =
        focused.is_none() || view.rows.iter().any(|r| Some(crate::board::rows::row_id(&r.spot)) == focused);
    let took = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if on_row {
        for key in [Key::ArrowDown, Key::ArrowUp, Key::ArrowLeft, Key::ArrowRight] {
            if took(key)
                && let Some(spot) = next(view, key)
            {
                view.cursor = Some(spot);
                view.reveal = true;
                // egui would walk one further with the same arrow
                ctx.memory_mut(|m| m.move_focus(egui::FocusDirection::None));
            }
        }
        let at = view.cursor.clone().or_else(|| view.selected.clone());
        for (state, key) in STATES {
            if let Some(spot) = &at
                && took(key)
            {
                actions.extend(menu::set(a, spot, state));
            }
        }
        if took(Key::Enter) && view.cursor.is_some() {
            if view.cursor == view.selected && view.behind.is_none() {
                // it is open: once more leads into it
                access::go_to(ctx, Region::Panel);
            } else {
                actions.push(Action::Select(view.cursor.clone()));
            }
        }
        if let Some(Spot::Companion(key)) = at
            && let Some(c) = a.companions.iter().find(|c| c.key == key)
            && took(Key::Space)
            && !c.in_kit
            && c.waived.is_none()
        {
            actions.push(Action::Accept(key, !c.accepted));
        }
    }
    // figures typed where a measurement is asked are meant for it, not for a route
    let asked = matches!(&view.selected, Some(Spot::Position(id)) if measuring::is_asked(a, id));
    if asked && DIGITS.iter().any(|key| ctx.input(|i| i.key_pressed(*key))) {
        view.to_field = Some(Field::Measuring);
        return;
    }
    // a digit is meant for the routes from a row of the board, a system's too, from one of theirs, and where no control has
    // the keyboard
    let in_rows = matches!(access::at(ctx), Some(Region::Page | Region::Panel)) && access::in_list(ctx);
    if !(on_row || in_rows) {
        return;
    }
    for (i, key) in DIGITS.into_iter().enumerate() {
        if took(key) && matches!(view.selected, Some(Spot::Position(_))) {
            match &view.offers.list {
                Some(list) => {
                    if let Some(way) = list.get(i).filter(|way| !way.offer.current) {
                        actions.push(way.take());
                    }
                }
                None => view.offers.wanted = Some(i),
            }
        }
    }
}

/// The row an arrow leads to.
fn next(view: &View, key: Key) -> Option<Spot> {
    let now = view.cursor.as_ref().or(view.selected.as_ref());
    let Some(at) = view.rows.iter().find(|r| Some(&r.spot) == now) else {
        return view.rows.first().map(|r| r.spot.clone());
    };
    let below = |r: &&Row| r.column == at.column && r.rect.top() > at.rect.top();
    let above = |r: &&Row| r.column == at.column && r.rect.top() < at.rect.top();
    let far = |r: &&Row| (r.rect.center().y - at.rect.center().y).abs() as i64;
    let found = match key {
        Key::ArrowDown => view.rows.iter().filter(below).min_by_key(far),
        Key::ArrowUp => view.rows.iter().filter(above).min_by_key(far),
        Key::ArrowLeft => view.rows.iter().filter(|r| r.column + 1 == at.column).min_by_key(far),
        _ => view.rows.iter().filter(|r| r.column == at.column + 1).min_by_key(far),
    };
    found.map(|r| r.spot.clone())
}
