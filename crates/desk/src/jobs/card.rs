//! How a job is done, step by step: its procedure card, dangers first.

use egui::{Align, Label, Layout, RichText, Ui, Vec2};
use knockon_core::jobs::Jobs;

use crate::look::theme::strong;
use crate::look::tokens::Tokens;

/// Width of the number of a step.
const NUMBER: f32 = 34.0;

/// Draws a card, by its id; nothing where there is none. `size`: of its text. Cautions that stand above already are left out.
pub fn show(ui: &mut Ui, t: &Tokens, jobs: &Jobs, id: Option<&str>, told: &[String], size: f32) {
    let Some(card) = id.and_then(|id| jobs.cards.get(id)) else { return };
    ui.add_space(8.0);
    ui.add(Label::new(RichText::new(&card.name).font(strong(size + 2.0))).wrap());
    let when = format!(
        "{} The maker's manual, local codes and a licensed practice stand above it.",
        sentence(&card.when)
    );
    ui.add(Label::new(RichText::new(when).size(size - 2.0).color(t.soft)).wrap());
    let text = |ui: &mut Ui, text: &str, tone| {
        ui.add(Label::new(RichText::new(text).size(size).color(tone)).wrap());
    };
    let more: Vec<String> = card.cautions.iter().filter(|id| !told.contains(id)).cloned().collect();
    for caution in jobs.cautions_of(&more) {
        text(ui, &format!("Caution: {caution}"), t.warm);
    }
    if !card.tools.is_empty() {
        text(ui, &format!("Tools: {}", card.tools.join(", ")), t.soft);
    }
    ui.add_space(4.0);
    for (n, step) in card.steps.iter().enumerate() {
        ui.horizontal_top(|ui| {
            let left = Layout::left_to_right(Align::Min);
            ui.allocate_ui_with_layout(Vec2::new(NUMBER, size + 6.0), left, |ui| {
                ui.set_min_width(NUMBER);
                ui.label(RichText::new(format!("{}.", n + 1)).size(size).color(t.soft));
            });
            ui.add(Label::new(RichText::new(step).size(size).color(t.ink)).wrap());
        });
        ui.add_space(2.0);
    }
    for [seen, means] in &card.wrong {
        text(ui, &format!("{}: {means}", seen.trim_end_matches('.')), t.ink);
    }
    text(ui, &format!("Done: {}", card.done), t.cool);
    text(ui, &card.manual, t.soft);
}

fn sentence(when: &str) -> String {
    format!("{}.", crate::wording::sentence(when).trim_end_matches('.'))
}
