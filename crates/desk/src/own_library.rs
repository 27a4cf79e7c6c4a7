//! The owner's library: a file or folder of somebody else's is looked at and taken in, and what stands in it and in one below it
//! is decided.

pub mod both;
pub mod jobs;
pub mod keys;
pub mod state;
pub mod taking;

use std::collections::BTreeMap;
use std::path::Path;

use egui::{Align, Frame, Label, Layout, RichText, ScrollArea, Stroke, Ui, Vec2};

use crate::access::heard;
use crate::app::view::Action;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, Tokens};
use crate::own_library::state::OwnLibrary;

/// A page with less room than this has its halves below each other.
const BESIDE: f32 = 900.0;

/// What the page shows beside its own state.
pub struct Shown<'a> {
    /// Where the owner's library lies; `None`: there is none.
    pub own: Option<&'a Path>,
    /// What was decided to stay as the owner has it: by path, with the mark of the other.
    pub kept: &'a BTreeMap<String, String>,
    /// Keys are meant for the page.
    pub keys: bool,
}

/// Draws the page.
pub fn page(ui: &mut Ui, shown: &Shown<'_>, state: &mut OwnLibrary) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    if shown.keys {
        keys::read(ui.ctx(), shown, state, &mut actions);
    }
    head(ui, &t, shown);
    let paper = Frame::new().fill(t.sheet).stroke(Stroke::new(1.0, t.line)).corner_radius(4).inner_margin(14);
    if ui.available_width() < BESIDE {
        paper.show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            ScrollArea::vertical().id_salt("my library").auto_shrink(false).show(ui, |ui| {
                taking::section(ui, &t, shown, state, &mut actions);
                both::section(ui, &t, shown, state, &mut actions);
            });
        });
        return actions;
    }
    ui.horizontal_top(|ui| {
        let gap = ui.spacing().item_spacing.x;
        let size = Vec2::new((ui.available_width() - gap) / 2.0, ui.available_height());
        for left in [true, false] {
            ui.allocate_ui_with_layout(size, Layout::top_down(Align::LEFT), |ui| {
                ui.set_width(size.x);
                paper.show(ui, |ui| {
                    ui.set_min_size(ui.available_size());
                    let area = ScrollArea::vertical().id_salt(("my library", left)).auto_shrink(false);
                    area.show(ui, |ui| {
                        if left {
                            taking::section(ui, &t, shown, state, &mut actions);
                        } else {
                            both::section(ui, &t, shown, state, &mut actions);
                        }
                    });
                });
            });
        }
    });
    actions
}

fn head(ui: &mut Ui, t: &Tokens, shown: &Shown<'_>) {
    heard::heading(ui, 2, RichText::new("My library").font(strong(HEAD)));
    let text = match shown.own {
        Some(own) => format!(
            "It lies in {}. What stands there counts before what the program brings, and an update leaves it alone.",
            own.display()
        ),
        None => {
            "There is none here: the program was started without one, or knows no folder of yours.".to_owned()
        }
    };
    ui.add(Label::new(RichText::new(text).color(t.soft)).wrap());
    ui.add_space(4.0);
}
