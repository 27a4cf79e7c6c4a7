//! Everything by name: commands, and whatever the search finds in the plan.

use egui::{Key, ModalResponse, TextEdit, Ui};
use knockon_core::find::Found;
use knockon_core::{Assessment, Edit, Sheet};

use crate::app::view::{Action, Spot};
use crate::find::deeds::{Deed, deeds};
use crate::find::found_list::{Line, arrows, lines};
use crate::find::leads;
use crate::look::text::named;
use crate::look::theme::tokens;
use crate::wording;

/// How many answers are shown.
const SHOWN: usize = 60;

/// An entry, and what it does.
struct Entry {
    line: Line,
    actions: Vec<Action>,
}

/// Draws the palette; returns what was chosen.
pub fn palette(
    ctx: &egui::Context,
    a: &Assessment,
    sheet: &Sheet,
    found: &[Found],
    text: &mut String,
    at: &mut usize,
    fresh: &mut bool,
) -> Vec<Action> {
    let mut actions = Vec::new();
    let modal = crate::dialogs::modal::over(ctx, "palette", "All commands and places");
    let shown: ModalResponse<()> = modal.show(ctx, |ui| {
        ui.set_width(560.0);
        let tall = (ctx.content_rect().height() - 120.0).clamp(96.0, 360.0);
        let (up, down) = arrows(ui);
        let field = TextEdit::singleline(text)
            .id(egui::Id::unique("palette field"))
            .desired_width(f32::INFINITY)
            .hint_text("A command, a place, a part, a plan");
        let response = named(ui.add(field), "Command or place");
        if std::mem::take(fresh) {
            response.request_focus();
        }
        if response.changed() {
            *at = 0;
        }
        let entries = entries(ui, a, sheet, found, text);
        *at = (*at + down).min(entries.len().saturating_sub(1)).saturating_sub(up);
        let enter = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if entries.is_empty() {
            let t = tokens(ui);
            ui.colored_label(t.soft, "No command and nothing on the sheet is called that.");
        }
        let (shown, mut doing): (Vec<Line>, Vec<Vec<Action>>) =
            entries.into_iter().map(|entry| (entry.line, entry.actions)).unzip();
        let clicked = lines(ui, &response, &shown, *at, up + down > 0, tall);
        match clicked.or(enter.then_some(*at)) {
            Some(i) if i < doing.len() => {
                actions.push(Action::CloseDialog);
                actions.append(&mut doing.swap_remove(i));
            }
            Some(_) => response.request_focus(),
            None => {}
        }
    });
    if shown.should_close() && actions.is_empty() {
        actions.push(Action::CloseDialog);
    }
    actions
}

/// Commands and what the plan has, by how well they answer; everything there is where nothing is asked.
fn entries(ui: &Ui, a: &Assessment, sheet: &Sheet, found: &[Found], text: &str) -> Vec<Entry> {
    let deed = |deed: Deed| match deed {
        Deed::Do(command) => entry(deed.label(), command.keys(ui.ctx()), vec![Action::Do(command)]),
        Deed::FitUp(card) => entry(deed.label(), "drawing".to_owned(), vec![Action::FitUp(card)]),
    };
    let mut all: Vec<Entry> = if text.trim().is_empty() {
        let plans = sheet.plans.iter().filter(|(id, _)| **id != sheet.plan).map(|(id, plan)| {
            let switch = Action::Edit(vec![Edit::SwitchPlan { plan: id.clone() }]);
            entry(format!("Work on plan: {}", plan.name), "plan".to_owned(), vec![switch])
        });
        let places = a.positions.iter().map(|p| {
            let select = Action::Select(Some(Spot::Position(p.id.clone())));
            entry(p.name.clone(), wording::mark(a, p).word().to_owned(), vec![select])
        });
        Deed::all().map(deed).chain(plans).chain(places).collect()
    } else {
        let deeds = deeds(text).into_iter().map(|(of, score)| (deed(of), score));
        let things = found
            .iter()
            .map(|f| (entry(wording::sentence(&f.name), leads::beside(f), leads::lead(f)), f.score));
        let mut all: Vec<(Entry, f64)> = deeds.chain(things).collect();
        all.sort_by(|a, b| b.1.total_cmp(&a.1));
        all.into_iter().map(|(entry, _)| entry).collect()
    };
    all.truncate(SHOWN);
    all
}

fn entry(name: String, right: String, actions: Vec<Action>) -> Entry {
    Entry { line: Line { name, right }, actions }
}
