//! Where the open part fits on this vehicle: at each place how it stands, what comes along, what makes way.

use egui::{Button, Color32, Label, RichText, Ui, Vec2};
use knockon_core::library::Level;
use knockon_core::library_search::fits::{Fit, Fits, Outcome};

use crate::app::view::{Action, Spot};
use crate::library::to_place;
use crate::look::icons::Mark;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Companions told before the rest is counted.
const TOLD: usize = 6;

/// Draws it; `None` while it is worked out.
pub fn show(ui: &mut Ui, t: &Tokens, fits: Option<&Fits>, part: &str, actions: &mut Vec<Action>) {
    let Some(fits) = fits else {
        ui.colored_label(t.soft, "Being tried on the vehicle…");
        return;
    };
    if !fits.none.is_empty() {
        ui.add(Label::new(RichText::new(&fits.none).color(t.soft)).wrap());
    }
    for meets in &fits.meets {
        let text = format!("Its {} joins, as it is:", meets.port);
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
        ui.horizontal_wrapped(|ui| {
            for (position, name, port) in &meets.places {
                let button =
                    Button::new(RichText::new(name).font(theme::small())).min_size(Vec2::new(0.0, TARGET));
                if ui.add(button).on_hover_text(format!("Its {port}")).clicked() {
                    actions.push(Action::Select(Some(Spot::Position(position.clone()))));
                }
            }
        });
    }
    for fit in &fits.places {
        place(ui, t, fit, part, actions);
        ui.add_space(6.0);
    }
}

fn mark(outcome: Outcome) -> Mark {
    match outcome {
        Outcome::Fitted | Outcome::AsItIs => Mark::Fits,
        Outcome::WithBridges => Mark::FitsWith,
        Outcome::ToMeasure => Mark::Measure,
        Outcome::DoesNot => Mark::Clash,
    }
}

fn place(ui: &mut Ui, t: &Tokens, fit: &Fit, part: &str, actions: &mut Vec<Action>) {
    let warm = matches!(fit.outcome, Outcome::DoesNot | Outcome::ToMeasure);
    let tone = if warm { t.warm } else { t.ink };
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::new(22.0, TARGET), egui::Sense::hover());
        mark(fit.outcome).paint(ui.painter(), rect.center(), tone);
        let text = format!("{}: {}", fit.name, fit.outcome.words());
        ui.add(Label::new(RichText::new(text).font(strong(BODY)).color(tone)).wrap());
    });
    let line = |ui: &mut Ui, text: String, tone: Color32| {
        ui.indent(("fit", &fit.position, &text), |ui| {
            ui.add(Label::new(RichText::new(text.as_str()).font(theme::small()).color(tone)).wrap());
        });
    };
    if let Some(other) = &fit.replaces {
        line(ui, format!("Takes the place of: {other}"), t.ink);
    }
    for (name, why) in &fit.clashes {
        line(ui, wording::sentence(&format!("{name}: {}", wording::under(name, why))), t.warm);
    }
    for name in &fit.clears {
        line(ui, format!("Fits again: {name}"), t.ink);
    }
    for what in &fit.to_measure {
        line(ui, format!("To measure: {what}"), t.warm);
    }
    for (level, lead) in [(Level::Required, "Needs"), (Level::Advised, "Better with")] {
        let all: Vec<_> = fit.drags.iter().filter(|dragged| dragged.level == level).collect();
        if all.is_empty() {
            continue;
        }
        let names: Vec<String> =
            all.iter().take(TOLD).map(|dragged| wording::with_qty(&dragged.name, dragged.qty)).collect();
        let more = match all.len().saturating_sub(TOLD) {
            0 => String::new(),
            n => format!("; and {n} more"),
        };
        line(ui, format!("{lead} {}: {}{more}", all.len(), names.join("; ")), t.ink);
    }
    for name in &fit.surplus {
        line(ui, format!("No longer needed: {name}"), t.ink);
    }
    ui.indent(("go", &fit.position), |ui| {
        let button = Button::new(format!("Show {} on the board", fit.name)).min_size(Vec2::new(0.0, TARGET));
        if ui.add(button).clicked() {
            actions.extend(to_place(&fit.position, part));
        }
    });
}
