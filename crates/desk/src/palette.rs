//! Everything by name: commands, plans, positions and companions.

use egui::{Button, Key, ModalResponse, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::{Assessment, Edit, Sheet};

use crate::commands::Command;
use crate::fitup::Card;
use crate::rank::rank;
use crate::text::named;
use crate::theme::{self, tokens};
use crate::view::{Action, Spot};
use crate::words;

/// How many answers are shown.
const SHOWN: usize = 60;

/// An entry.
struct Entry {
    name: String,
    right: String,
    action: Action,
}

/// Draws the palette; returns what was chosen.
pub fn palette(
    ctx: &egui::Context,
    a: &Assessment,
    sheet: &Sheet,
    text: &mut String,
    at: &mut usize,
    fresh: &mut bool,
) -> Vec<Action> {
    let mut actions = Vec::new();
    let modal = crate::modal::over(ctx, "palette");
    let shown: ModalResponse<()> = modal.show(ctx, |ui| {
        ui.set_width(560.0);
        // the field would take the arrows to the ends of the text
        let (up, down) = ui.input_mut(|i| {
            let none = egui::Modifiers::NONE;
            (i.count_and_consume_key(none, Key::ArrowUp), i.count_and_consume_key(none, Key::ArrowDown))
        });
        let field = TextEdit::singleline(text)
            .id(egui::Id::unique("palette field"))
            .desired_width(f32::INFINITY)
            .hint_text("A command, a plan, a place on the vehicle");
        let response = named(ui.add(field), "Command or place");
        if std::mem::take(fresh) {
            response.request_focus();
        }
        if response.changed() {
            *at = 0;
        }
        let entries = entries(ui, a, sheet, text);
        *at = (*at + down).min(entries.len().saturating_sub(1)).saturating_sub(up);
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        list(ui, &entries, *at, up + down > 0, &mut actions);
        if enter {
            match entries.get(*at) {
                Some(entry) => actions.extend([Action::CloseDialog, entry.action.clone()]),
                None => response.request_focus(),
            }
        }
    });
    if shown.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

fn list(ui: &mut Ui, entries: &[Entry], at: usize, moved: bool, actions: &mut Vec<Action>) {
    let t = tokens(ui);
    ScrollArea::vertical().max_height(360.0).min_scrolled_height(360.0).auto_shrink([false, true]).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            for (i, entry) in entries.iter().enumerate() {
                let right = RichText::new(&entry.right).font(theme::small()).color(t.soft);
                let button = Button::selectable(i == at, &entry.name)
                    .right_text(right)
                    .min_size(Vec2::new(ui.available_width(), 28.0));
                let response = ui.add(button);
                if i == at && moved {
                    response.scroll_to_me(None);
                }
                if response.clicked() {
                    actions.extend([Action::CloseDialog, entry.action.clone()]);
                }
            }
            if entries.is_empty() {
                ui.colored_label(t.soft, "No command and no place is called that.");
            }
        },
    );
}

fn entries(ui: &Ui, a: &Assessment, sheet: &Sheet, text: &str) -> Vec<Entry> {
    let wanted = text.to_lowercase();
    let wanted: Vec<&str> = wanted.split_whitespace().collect();
    let has = |name: &str| {
        let name = name.to_lowercase();
        wanted.iter().all(|w| name.contains(w))
    };
    let commands = Command::ALL.iter().filter(|c| **c != Command::Palette).map(|c| Entry {
        name: c.label().to_owned(),
        right: c.keys(ui.ctx()),
        action: Action::Do(*c),
    });
    let plans = sheet.plans.iter().filter(|(id, _)| **id != sheet.plan).map(|(id, plan)| Entry {
        name: format!("Work on plan: {}", plan.name),
        right: "plan".to_owned(),
        action: Action::Edit(vec![Edit::SwitchPlan { plan: id.clone() }]),
    });
    let places = a.positions.iter().map(|p| Entry {
        name: p.name.clone(),
        right: words::mark(a, p).word().to_owned(),
        action: Action::Select(Some(Spot::Position(p.id.clone()))),
    });
    let companions = a.companions.iter().map(|c| Entry {
        name: words::sentence(&c.name),
        right: words::companion_state(c).to_owned(),
        action: Action::Select(Some(Spot::Companion(c.key.clone()))),
    });
    let cards = Card::ALL.iter().map(|card| Entry {
        name: format!("Fit-up: {}", card.name()),
        right: "drawing".to_owned(),
        action: Action::FitUp(*card),
    });
    let all = commands.chain(plans).chain(places).chain(companions).chain(cards);
    let mut all: Vec<Entry> = all.filter(|e| has(&e.name)).collect();
    if !wanted.is_empty() {
        all.sort_by_cached_key(|e| rank(&e.name, text));
    }
    all.truncate(SHOWN);
    all
}
