//! The library page: a search over every part there is, and for the part that is open all that is known of it, where it fits on
//! this vehicle, and another beside it.

pub mod detail;
pub mod rows;
pub mod state;
pub mod tried;

use std::sync::Arc;

use egui::{
    Align, Frame, Key, Label, Layout, Margin, Modifiers, Panel, RichText, ScrollArea, TextEdit, Ui, Vec2,
};
use knockon_core::Catalogue;
use knockon_core::catalogue::ForSheet;
use knockon_core::library_search::LibrarySearch;
use knockon_core::library_search::fits::fits_while;
use knockon_core::showing::Measure;

use crate::access::heard;
use crate::app::App;
use crate::app::view::{Action, Page, Spot};
use crate::app::work::{Done, What};
use crate::library::state::{LibraryState, Shelf};
use crate::look::icons;
use crate::look::text::named;
use crate::look::theme;
use crate::look::theme::{strong, tokens};
use crate::look::tokens::{HEAD, TARGET, Tokens};
use crate::wording;

impl App {
    /// What the page shows is looked up where the sheet, the library or the query changed: a library is taken apart, and a
    /// part is tried on the vehicle, off the frame.
    pub(crate) fn look_in_library(&mut self) {
        if self.view.page != Page::Library {
            return;
        }
        let sheet = Arc::clone(self.document.sheet());
        let catalogue: Arc<Catalogue> = match self.catalogue.for_sheet(&sheet) {
            ForSheet::Same(_) => Arc::clone(&self.catalogue),
            ForSheet::Grown(grown) => grown,
        };
        let (revision, measure) = (self.document.revision(), self.view.measure);
        let address = LibraryState::address(&catalogue);
        let state = &mut self.view.library;
        let is_here = state.shelf.as_ref().is_some_and(|shelf| Arc::ptr_eq(&shelf.catalogue, &catalogue));
        if !is_here && state.awaited != Some(address) {
            state.awaited = Some(address);
            let catalogue = Arc::clone(&catalogue);
            self.work.start(What::Shelf, move |_| {
                let search = LibrarySearch::new(&catalogue);
                Done::Shelf(Arc::new(Shelf { catalogue, search }))
            });
        }
        let state = &mut self.view.library;
        state.look(revision, &self.assessment, &sheet.vehicle);
        state.open_pages(revision, measure);
        let Some(part) = state.part.clone() else { return };
        let is_of = |(of, id, told, _): &state::Tried| (*of, id, *told) == (revision, &part, measure);
        if state.tried.as_ref().is_some_and(is_of) {
            return;
        }
        state.tried = Some((revision, part.clone(), measure, None));
        self.work.overtake(&What::Fits);
        self.work.start(What::Fits, move |progress| {
            let fits =
                fits_while(&sheet, &sheet.plan, &catalogue, &part, measure, progress).unwrap_or_default();
            Done::Fits(revision, part, measure, fits)
        });
    }

    /// A library was taken apart.
    pub(crate) fn shelf_is_here(&mut self, shelf: Arc<Shelf>) {
        let state = &mut self.view.library;
        if state.awaited == Some(LibraryState::address(&shelf.catalogue)) {
            state.awaited = None;
            state.shelf = Some(shelf);
        }
    }
}

/// Draws the page.
pub fn page(ui: &mut Ui, measure: Measure, state: &mut LibraryState) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    if state.part.is_some() {
        let window = ui.ctx().content_rect().width();
        let two = state.other.is_some();
        let wide = if two { (window * 0.56).min(860.0) } else { (window * 0.36).clamp(400.0, 560.0) };
        let frame =
            Frame::new().fill(t.sheet).inner_margin(Margin { left: 14, right: 10, top: 8, bottom: 4 });
        let name = if two { "library two parts" } else { "library part" };
        Panel::right(name).default_size(wide).size_range(330.0..=window * 0.68).frame(frame).show(ui, |ui| {
            actions.extend(detail::panel(ui, &t, state));
        });
    }
    ui.vertical(|ui| {
        head(ui, &t, state);
        keys(ui, state, &mut actions);
        let Some(shelf) = state.shelf.clone() else {
            ui.add_space(24.0);
            ui.vertical_centered(|ui| ui.colored_label(t.soft, "The library is being looked through."));
            return;
        };
        on_the_vehicle(ui, &t, state, &mut actions);
        if state.entries.is_empty() {
            ui.add_space(24.0);
            let text =
                "No part answers. Fewer words find more; a size takes its unit, such as 470 mm or 5/16 in.";
            ui.vertical_centered(|ui| ui.colored_label(t.soft, text));
            return;
        }
        rows::list(ui, &t, &shelf, measure, state);
    });
    actions
}

/// The field, and under it what was understood.
fn head(ui: &mut Ui, t: &Tokens, state: &mut LibraryState) {
    ui.horizontal(|ui| {
        heard::heading(ui, 2, RichText::new("Library").font(strong(HEAD)));
        ui.add_space(8.0);
        let width = (ui.available_width() - 40.0).clamp(160.0, 620.0);
        let field = TextEdit::singleline(&mut state.query)
            .id(field_id())
            .desired_width(width)
            .align(egui::Align2::LEFT_CENTER)
            .min_size(Vec2::new(0.0, TARGET))
            .hint_text(
                "radiator under 470 mm · ends in 3/8-24 inverted flare · alternator over 60 A under 200 USD",
            );
        let response = named(ui.add(field), "Find in the library");
        if std::mem::take(&mut state.focus) {
            response.request_focus();
        }
        let (rect, _) = ui.allocate_exact_size(Vec2::splat(18.0), egui::Sense::hover());
        icons::lens(ui.painter(), rect.center(), t.soft);
    });
    let count = wording::count(state.answer.hits.len(), "part", "parts");
    let said = match (state.shelf.is_some(), state.answer.all) {
        (false, _) => String::new(),
        (true, true) => {
            format!("{count}. Type what it is called, what its ports are, or what its numbers must be.")
        }
        (true, false) => {
            let open = match state.answer.open.len() {
                0 => String::new(),
                n => format!(", {n} more not known"),
            };
            format!("{count}{open}. {}", state.answer.understood.say())
        }
    };
    ui.add(Label::new(RichText::new(said).font(theme::small()).color(t.soft)).wrap());
    ui.add_space(4.0);
}

/// The id of the field.
pub fn field_id() -> egui::Id {
    egui::Id::unique("library field")
}

/// Arrows walk the list, also from the field; Enter leads to the place of the open part; Escape closes one thing at a time.
fn keys(ui: &Ui, state: &mut LibraryState, actions: &mut Vec<Action>) {
    let in_field = ui.memory(|m| m.has_focus(field_id()));
    let elsewhere = ui.memory(|m| m.focused()).is_some() && !in_field;
    if elsewhere && ui.ctx().text_edit_focused() {
        return;
    }
    let took = |key| ui.input_mut(|i| i.count_and_consume_key(Modifiers::NONE, key));
    let (down, up) = (took(Key::ArrowDown), took(Key::ArrowUp));
    let (far_down, far_up) = (took(Key::PageDown), took(Key::PageUp));
    let step = down as isize - up as isize + 12 * (far_down as isize - far_up as isize);
    if step != 0 {
        state.step(step);
        // egui would walk one further with the same arrow
        ui.memory_mut(|m| m.move_focus(egui::FocusDirection::None));
    }
    let enter = ui.input(|i| i.key_pressed(Key::Enter));
    if enter && (in_field || ui.memory(|m| m.focused()).is_none()) {
        match &state.part {
            None => state.step(0),
            Some(part) => actions.extend(lead(state, part)),
        }
    }
}

/// To the first place of the open part on the board, with its route in view.
fn lead(state: &LibraryState, part: &str) -> Vec<Action> {
    let fits = state.tried.as_ref().filter(|(_, id, ..)| id == part).and_then(|(.., fits)| fits.as_ref());
    let Some(place) = fits.and_then(|fits| fits.places.first()) else { return Vec::new() };
    to_place(&place.position, part)
}

/// To a place on the board, with the route that fits a part in view.
pub fn to_place(position: &str, part: &str) -> Vec<Action> {
    vec![
        Action::Select(Some(Spot::Position(position.to_owned()))),
        Action::Offer { position: position.to_owned(), part: part.to_owned() },
    ]
}

/// Places of the plan where something sits that answers, each a button.
fn on_the_vehicle(ui: &mut Ui, t: &Tokens, state: &LibraryState, actions: &mut Vec<Action>) {
    if state.places.is_empty() || !state.answer.by_port {
        return;
    }
    ui.horizontal(|ui| {
        ui.add(Label::new(RichText::new("On this vehicle:").font(theme::small()).color(t.soft)));
        ScrollArea::horizontal().auto_shrink([false, true]).id_salt("places that have it").show(ui, |ui| {
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                for place in &state.places {
                    let button = egui::Button::new(RichText::new(&place.name).font(theme::small()));
                    let ports = place.ports.join(", ");
                    let tip = format!("{}: {ports}", place.part.1);
                    if ui.add(button.min_size(Vec2::new(0.0, TARGET))).on_hover_text(tip).clicked() {
                        actions.push(Action::Select(Some(Spot::Position(place.position.clone()))));
                    }
                }
            });
        });
    });
    ui.add_space(2.0);
}
