//! A form for each figure of the list: its inputs as fields, its results in the reader's units with what else the trade tells
//! them in, formula, source and what to mind.

use std::collections::BTreeMap;

use egui::{Label, Rect, RichText, ScrollArea, Ui};
use knockon_core::figure::{Figure, Output};
use knockon_core::showing::{Measure, reading};

use super::field::{Field, Good};
use super::shown::{Advice, Fact, Shown};
use crate::access::heard;
use crate::look::margin::left;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, HEAD, Tokens};
use crate::wording;

/// The fields as they begin.
pub fn fields(figure: &'static Figure) -> Vec<Field> {
    figure.inputs.iter().map(Field::of_figure).collect()
}

/// A figure worked out.
pub struct Worked {
    figure: &'static Figure,
    outputs: Vec<Output>,
}

/// Works a figure out from what stands in its fields.
pub fn work(figure: &'static Figure, fields: &[Field]) -> Result<Worked, String> {
    let said = |f: &Field| match &f.good {
        Good::Said(text) => Some((f.id.to_owned(), text.clone())),
        _ => None,
    };
    let given: BTreeMap<String, String> = fields.iter().filter_map(said).collect();
    let outputs = figure.run(&given).map_err(|e| e.to_string())?;
    Ok(Worked { figure, outputs })
}

/// A result, and what else it is told in: the reader's units first.
fn told(output: &Output, measure: Measure) -> (String, Option<String>) {
    let (shown, second) = (output.shown(), output.second());
    let here = reading(&shown, measure);
    match second {
        Some(second) if here != shown => (second, Some(shown)),
        second => (shown, second),
    }
}

impl Shown for Worked {
    fn facts(&self, measure: Measure) -> Vec<Fact> {
        let fact = |output: &Output| {
            let (first, second) = told(output, measure);
            let text = second.map_or_else(|| first.clone(), |second| format!("{first} ({second})"));
            Fact::new(self.figure.id, output.name, text)
        };
        self.outputs.iter().map(fact).collect()
    }

    fn advice(&self, measure: Measure) -> Advice {
        let facts = self.facts(measure);
        let said = facts.iter().find(|f| f.name == "verdict").or(facts.first());
        Advice::nothing(said.map_or_else(String::new, |f| f.text.clone()))
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, measure: Measure) {
        ui.scope_builder(egui::UiBuilder::new().max_rect(rect.shrink(16.0)), |ui| {
            ScrollArea::vertical().id_salt(("figure", self.figure.id)).auto_shrink(false).show(ui, |ui| {
                heard::heading(ui, 2, RichText::new(self.figure.name).font(strong(HEAD)));
                ui.add(Label::new(wording::sentence(self.figure.meaning)).wrap());
                ui.add_space(8.0);
                self.results(ui, t, measure);
                ui.add_space(8.0);
                let small = |text: String| RichText::new(text).font(theme::small()).color(t.soft);
                ui.add(Label::new(small(format!("Formula: {}", self.figure.formula))).wrap());
                ui.add(Label::new(small(format!("Source: {}", self.figure.source))).wrap());
                for caution in self.figure.cautions {
                    let text = RichText::new(format!("Caution: {caution}")).color(t.warm);
                    ui.add(Label::new(text).wrap());
                }
            });
        });
    }
}

impl Worked {
    fn results(&self, ui: &mut Ui, t: &Tokens, measure: Measure) {
        const NAME: f32 = 230.0;
        for output in &self.outputs {
            let (first, second) = told(output, measure);
            ui.horizontal_top(|ui| {
                left(ui, NAME, RichText::new(wording::sentence(output.name)).color(t.soft));
                ui.vertical(|ui| {
                    ui.add(Label::new(RichText::new(first).font(strong(BODY)).color(t.ink)).wrap());
                    if let Some(second) = second {
                        ui.add(Label::new(RichText::new(second).font(theme::small()).color(t.soft)).wrap());
                    }
                });
            });
            ui.add_space(4.0);
        }
    }
}
