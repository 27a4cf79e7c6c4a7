//! Commands on what is selected, and how large and how lively the window is.

use egui::{Context, Theme};

use crate::app::App;
use crate::app::commands::Command;
use crate::app::view::{Action, Field, Page, Spot};
use crate::board::line::Brings;
use crate::board::menu;
use crate::buying::chosen::set;
use crate::look::theme::MOTION;

/// What large controls are drawn at.
const LARGE: f32 = 1.5;
/// One step larger.
const STEP: f32 = 0.1;

impl App {
    /// Size and motion as they are set.
    pub(crate) fn size_and_motion(&self, ctx: &Context) {
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
        ctx.set_zoom_factor(if self.config.large { LARGE } else { 1.0 });
        for theme in [Theme::Light, Theme::Dark] {
            ctx.style_mut_of(theme, |style| {
                style.animation_time = if self.config.still { 0.0 } else { MOTION };
                if self.config.still {
                    style.scroll_animation = egui::style::ScrollAnimation::none();
                    style.visuals.text_cursor.blink = false;
                } else {
                    style.scroll_animation = egui::style::ScrollAnimation::default();
                    style.visuals.text_cursor.blink = true;
                }
            });
        }
    }

    /// Everything a step larger or smaller, or as it is set.
    pub(crate) fn zoom(&mut self, ctx: &Context, command: Command) {
        let now = ctx.zoom_factor();
        let to = match command {
            Command::Larger => now + STEP,
            Command::Smaller => now - STEP,
            _ => 1.0,
        };
        let to = (to.clamp(0.6, 2.5) * 10.0).round() / 10.0;
        ctx.set_zoom_factor(to);
        self.tell(format!("Everything is drawn at {} %.", (to * 100.0).round()));
    }

    /// Says yes to the companion that is selected, or to all that the selected place brings.
    pub(crate) fn accept_here(&mut self) {
        match self.view.selected.clone() {
            Some(Spot::Companion(key)) => self.accept(key, true),
            Some(Spot::Position(id)) => {
                let here = self.assessment.positions.iter().find(|p| p.id == id);
                let open = here.and_then(|p| Brings::of(&self.assessment, &p.name, &p.companions));
                let open = open.map(|brings| brings.open()).unwrap_or_default();
                if open.is_empty() {
                    self.tell("Nothing that this place brings is open.".to_owned());
                } else {
                    self.accept_all(&open);
                }
            }
            None => self.tell("Select a companion, or a place that brings some.".to_owned()),
        }
    }

    /// Sets where the lines chosen in the buy list stand, or that of what is selected on the board.
    pub(crate) fn mark_here(&mut self, ctx: &Context, command: Command) {
        let Some((_, state)) = Command::MARK.into_iter().find(|(mark, _)| *mark == command) else { return };
        let action = if self.view.page == Page::Buying {
            let parts = self.view.buying.chosen.meant();
            (!parts.is_empty()).then(|| Action::Edit(set(&parts, state)))
        } else {
            let at = self.view.selected.clone().or_else(|| self.view.cursor.clone());
            at.and_then(|spot| menu::set(&self.assessment, &spot, state))
        };
        match action {
            Some(action) => self.perform(ctx, action),
            None => self.tell("Select a place or a companion for which something is bought, or choose lines of the buy list.".to_owned()),
        }
    }

    /// Into the field of the first measurement of the selected place, else of the plan.
    pub(crate) fn measure_here(&mut self, ctx: &Context) {
        let open = &self.assessment.to_measure;
        let is_here = |id: &String| matches!(&self.view.selected, Some(Spot::Position(here)) if here == id);
        let here = open.iter().find_map(|m| m.positions.iter().find(|id| is_here(id)));
        let first = here.or_else(|| open.iter().find_map(|m| m.positions.first())).cloned();
        match first {
            Some(id) => self.perform(ctx, Action::Measure(id)),
            None => self.tell("Nothing is to be measured.".to_owned()),
        }
    }

    /// Gives the keyboard to a field of the selected place.
    pub(crate) fn field_here(&mut self, field: Field) {
        if matches!(self.view.selected, Some(Spot::Position(_))) {
            self.view.page = Page::Board;
            self.view.behind = None;
            self.view.to_field = Some(field);
        } else {
            self.tell("Select a place; what you ask for is in the panel beside it.".to_owned());
        }
    }
}
