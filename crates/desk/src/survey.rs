//! The survey: the walk round the vehicle, zone by zone, a line for each inspection; what is typed and entered leads to the next.

mod beside;
pub mod for_sale;
pub mod identity;
mod keys;
mod row;
pub mod state;

use egui::{Align, Button, Frame, Label, Layout, Margin, Panel, RichText, ScrollArea, TextEdit, Ui, Vec2};
use knockon_core::library::Posture;
use knockon_core::sheet::{ForSale, NotDriven, Verdict};
use knockon_core::showing::Measure;
use knockon_core::survey::{Line, Survey};
use knockon_core::{Catalogue, Edit};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::fold;
use crate::look::text::named;
use crate::look::theme::{self, strong, tokens};
use crate::look::tick_box;
use crate::look::tokens::{BODY, HEAD, TARGET, Tokens};
use crate::survey::state::{Reads, Shown, WalkState, name};
use crate::wording;

/// What the page looks at.
pub struct Walk<'a> {
    /// The survey of the sheet as it stands.
    pub found: &'a Survey,
    /// The library, for what is typed.
    pub catalogue: &'a Catalogue,
    /// The plan that is worked on, by id.
    pub plan: &'a str,
    /// Whose units.
    pub measure: Measure,
    /// What is asked for it; `None`: it is not looked at as something for sale.
    pub sale: Option<&'a ForSale>,
    /// The currency of what is typed without one.
    pub currency: &'a str,
}

/// Draws the page.
pub fn page(ui: &mut Ui, walk: &Walk<'_>, state: &mut WalkState) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    if state.shown == Shown::BeforeBuying {
        head(ui, &t, walk, state, &mut actions);
        for_sale::page(ui, &t, walk, &mut state.sale, &mut actions);
        return actions;
    }
    if state.shown == Shown::WhatItIs {
        head(ui, &t, walk, state, &mut actions);
        identity::page(ui, &t, walk.found, &mut state.fields, &mut actions);
        return actions;
    }
    if walk.found.lines.is_empty() {
        head(ui, &t, walk, state, &mut actions);
        ui.add_space(24.0);
        let text =
            "Nothing of this vehicle is inspected: its library has no inspections for the places it has.";
        ui.vertical_centered(|ui| ui.colored_label(t.soft, text));
        return actions;
    }
    keys::read(ui.ctx(), walk, state, &mut actions);
    head(ui, &t, walk, state, &mut actions);
    let frame = Frame::new().fill(t.sheet).inner_margin(Margin::same(12));
    // a narrow page has what belongs to a line below it
    let is_narrow = ui.available_width() < NARROW;
    let below = state.here(walk.found).filter(|_| is_narrow).map(name);
    if !is_narrow {
        Panel::right("beside the survey").frame(frame).resizable(false).exact_size(336.0).show(ui, |ui| {
            ScrollArea::vertical().id_salt("beside").auto_shrink(false).show(ui, |ui| {
                beside::line(ui, &t, walk, state, &mut actions);
            });
        });
    }
    ScrollArea::vertical().auto_shrink(false).id_salt("walk").show(ui, |ui| {
        for zone in &walk.found.zones {
            let lines: Vec<&Line> = walk.found.of_zone(&zone.id).collect();
            let open = lines.iter().filter(|line| line.is_open()).count();
            ui.add_space(10.0);
            ui.horizontal(|ui| {
                heard::heading(ui, 3, RichText::new(&zone.name).font(strong(BODY + 1.0)));
                let how = match zone.posture {
                    Posture::Lying => " · lying",
                    Posture::Sitting => " · sitting",
                    Posture::Standing | Posture::AtTheBench => "",
                };
                let left = match zone.posture {
                    Posture::AtTheBench => "waits until it is off".to_owned(),
                    _ if open == 0 => "all measured".to_owned(),
                    _ => format!("{open} to measure"),
                };
                ui.colored_label(t.soft, format!("{left}{how}"));
            });
            ui.add(Label::new(RichText::new(&zone.before).font(theme::small()).color(t.soft)).wrap());
            let cautions: Vec<&str> = walk.found.cautions_of(&zone.cautions).collect();
            if !cautions.is_empty() {
                let title = wording::count(cautions.len(), "caution", "cautions");
                fold::behind(ui, &t, &title, ("cautions of a zone", &zone.id), |ui| {
                    for caution in cautions {
                        ui.add(Label::new(RichText::new(caution).color(t.warm)).wrap());
                    }
                });
            }
            for line in lines {
                row::show(ui, &t, walk, line, state, &mut actions);
                if below.as_ref() == Some(&name(line)) {
                    frame.show(ui, |ui| {
                        ui.set_width(ui.available_width());
                        beside::line(ui, &t, walk, state, &mut actions);
                    });
                }
            }
        }
        ui.add_space(24.0);
    });
    actions
}

/// Below this width who reads stands under the counts, and what belongs to a line below it.
const NARROW: f32 = 900.0;

fn head(ui: &mut Ui, t: &Tokens, walk: &Walk<'_>, state: &mut WalkState, actions: &mut Vec<Action>) {
    let found = walk.found;
    let is_narrow = ui.available_width() < NARROW;
    let mut shown = state.shown;
    let mut counts = |ui: &mut Ui| {
        heard::heading(ui, 2, RichText::new("Survey").font(strong(HEAD)));
        ui.add_space(4.0);
        for (one, name) in [
            (Shown::BeforeBuying, "before buying"),
            (Shown::Walk, "walk round"),
            (Shown::WhatItIs, "what it is"),
        ] {
            let button = Button::selectable(shown == one, name).min_size(Vec2::new(0.0, TARGET));
            if ui.add(button).clicked() {
                shown = one;
            }
        }
        ui.add_space(4.0);
        let looked: Vec<&Line> = match shown {
            Shown::BeforeBuying => found.quick().into_iter().map(|(line, _)| line).collect(),
            Shown::Walk | Shown::WhatItIs => found.lines.iter().collect(),
        };
        let count = |verdict| looked.iter().filter(|line| line.verdict() == Some(verdict)).count();
        for verdict in [Verdict::Stop, Verdict::Renew, Verdict::Watch, Verdict::Good] {
            let tone = if verdict >= Verdict::Renew && count(verdict) > 0 { t.warm } else { t.soft };
            row::shape(ui, Reads::Verdict(verdict), tone);
            ui.colored_label(tone, format!("{} {}", count(verdict), verdict.word()));
        }
        if shown == Shown::BeforeBuying {
            let open = looked.iter().filter(|line| line.is_open()).count();
            ui.colored_label(t.soft, format!("· {open} to look at"));
            return;
        }
        let open = found.open().count();
        ui.colored_label(t.soft, format!("· {open} to measure"));
        let before = found.open_before_the_road().count();
        if before > 0 {
            ui.colored_label(t.warm, format!("{before} to know before the first road"));
        }
    };
    let mut who = |ui: &mut Ui| {
        ui.add_space(12.0);
        let field = TextEdit::singleline(&mut state.by)
            .desired_width(44.0)
            .min_size(Vec2::new(0.0, TARGET))
            .align(egui::Align2::LEFT_CENTER);
        named(ui.add(field), "Initials of who reads");
        ui.colored_label(t.soft, "who");
        let off = found.not_driven.is_some();
        // from the right: the name, then its box
        const NAME: &str = "not driven on the road";
        let label = ui.add(Label::new(NAME).sense(egui::Sense::click()).selectable(false));
        ui.spacing_mut().item_spacing.x = 0.0;
        let clicked = tick_box::show(ui, t, off, NAME) | label.clicked();
        if clicked {
            let not_driven = (!off).then(NotDriven::default);
            actions.push(Action::Edit(vec![Edit::NotDriven { not_driven }]));
        }
    };
    let to_the_right = Layout::right_to_left(Align::Center);
    if is_narrow {
        ui.horizontal_wrapped(&mut counts);
        ui.allocate_ui_with_layout(Vec2::new(ui.available_width(), TARGET), to_the_right, who);
    } else {
        ui.horizontal(|ui| {
            counts(ui);
            ui.with_layout(to_the_right, &mut who);
        });
    }
    state.shown = shown;
    if shown != Shown::Walk {
        ui.add_space(4.0);
        return;
    }
    let bad = found.proposals().count();
    let text = match state.proposed(found) {
        Some((line, route)) => {
            format!("F2 takes the proposal: {} {} (stage {})", route.word(), line.place, line.stage.word())
        }
        None if bad > 0 => format!(
            "{}; Enter stores a reading and leads to the next, F2 takes what is proposed",
            wording::count(bad, "route is proposed", "routes are proposed")
        ),
        None => "Type what you read; Enter stores it and leads to the next. Up and down walk the lines."
            .to_owned(),
    };
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).truncate());
    ui.add_space(4.0);
}
