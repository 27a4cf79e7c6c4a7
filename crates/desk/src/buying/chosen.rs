//! Several lines of the buy list at once: chosen with the pointer or the keyboard, and set as one step.

use std::collections::BTreeSet;

use egui::accesskit::Role;
use egui::{
    Align, Button, Context, EventFilter, Id, Key, Label, Layout, Modifiers, Response, RichText, Sense,
    Stroke, StrokeKind, Ui, Vec2, WidgetInfo,
};
use knockon_core::assessment::BuyLine;
use knockon_core::sheet::LineState;
use knockon_core::{Amounts, Edit};

use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// The states and their keys.
pub const STATES: [(LineState, Key); 4] = [
    (LineState::ToBuy, Key::B),
    (LineState::OnOrder, Key::O),
    (LineState::InHand, Key::H),
    (LineState::Fitted, Key::F),
];

/// A name stands in from the edge of its line, so that the frame of the keyboard leaves it alone.
pub const INSET: f32 = 6.0;

/// A cell of a row that takes the keyboard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Cell {
    /// Its name.
    #[default]
    Name,
    /// The price each.
    Each,
    /// The supplier.
    Supplier,
    /// Where it stands.
    State,
}

/// How many rows a Page key passes.
const PAGE: isize = 10;

/// The lines chosen, by part.
#[derive(Clone, Debug, Default)]
pub struct Chosen {
    /// The parts.
    pub parts: BTreeSet<String>,
    /// From here a range is chosen.
    from: Option<String>,
    /// The row the keyboard is on, by its key: for a line its part.
    at: Option<String>,
    /// The cell of it.
    cell: Cell,
    /// A cell had the keyboard when the table was drawn last.
    in_table: bool,
    /// It was moved there by keys: it is to come into sight and take the focus.
    reveal: bool,
}

/// Sets these lines: the edits of one step.
pub fn set(parts: &BTreeSet<String>, state: LineState) -> Vec<Edit> {
    parts.iter().map(|part| Edit::SetLine { part: part.clone(), state }).collect()
}

impl Chosen {
    /// The row that is to come into sight, by its key.
    pub fn wanted(&self) -> Option<&str> {
        self.at.as_deref().filter(|_| self.reveal)
    }

    /// The lines that are meant: those chosen, else the one where the keyboard is.
    pub fn meant(&self) -> BTreeSet<String> {
        if self.parts.is_empty() { self.at.iter().cloned().collect() } else { self.parts.clone() }
    }

    /// Brings a line into sight and gives it the keyboard.
    pub fn lead_to(&mut self, part: String) {
        (self.at, self.cell, self.reveal) = (Some(part), Cell::Name, true);
    }

    /// The name of the row where the keyboard is.
    pub fn at_id(&self) -> Option<Id> {
        self.at.as_deref().map(line_id)
    }

    /// A cell other than the name has been drawn: it takes the keyboard where keys led there, and is where the keyboard is.
    pub fn cell(&mut self, response: &Response, row: &str, cell: Cell) {
        if self.reveal && self.cell == cell && self.at.as_deref() == Some(row) {
            self.reveal = false;
            response.request_focus();
            response.scroll_to_me(None);
        }
        if response.has_focus() && !self.reveal {
            self.in_table = true;
            self.at = Some(row.to_owned());
            self.cell = cell;
        }
    }

    /// Reads the keys of the list; `parts` are the lines that can be chosen, `rows` all rows shown, in their order. Where
    /// somebody writes in a cell, only what leads to another row is read.
    pub fn read(&mut self, ctx: &Context, parts: &[&str], rows: &[String]) -> Option<Vec<Edit>> {
        self.parts.retain(|part| parts.contains(&part.as_str()));
        let in_table = std::mem::take(&mut self.in_table) && ctx.memory(|m| m.focused().is_some());
        let writes = ctx.text_edit_focused();
        if egui::Popup::is_any_open(ctx) || writes && !in_table {
            return None;
        }
        let took = |modifiers, key| ctx.input_mut(|i| i.consume_key(modifiers, key));
        if in_table || ctx.memory(|m| m.focused().is_none()) {
            self.walk(ctx, parts, rows, writes);
        }
        if writes {
            return None;
        }
        if took(Modifiers::COMMAND, Key::A) {
            self.parts = parts.iter().map(|part| (*part).to_owned()).collect();
        }
        let focused = ctx.memory(egui::Memory::focused);
        let on_name = focused.is_none() || self.at_id() == focused;
        if on_name
            && let Some(at) = self.at.clone().filter(|at| parts.contains(&at.as_str()))
            && took(Modifiers::NONE, Key::Space)
        {
            self.toggle(&at);
        }
        let acted = STATES.iter().find(|(_, key)| !self.parts.is_empty() && took(Modifiers::NONE, *key));
        acted.map(|(state, _)| set(&self.parts, *state))
    }

    /// Arrows, Home, End and the Page keys lead from row to row, in the column where one is.
    fn walk(&mut self, ctx: &Context, parts: &[&str], rows: &[String], writes: bool) {
        let all = isize::try_from(rows.len()).unwrap_or(isize::MAX);
        let keys = [
            (Key::ArrowDown, 1),
            (Key::ArrowUp, -1),
            (Key::PageDown, PAGE),
            (Key::PageUp, -PAGE),
            (Key::Home, -all),
            (Key::End, all),
        ];
        for (key, step) in keys {
            // in a field these are the text's
            if writes && matches!(key, Key::Home | Key::End) {
                continue;
            }
            for (modifiers, reach) in [(Modifiers::SHIFT, true), (Modifiers::NONE, false)] {
                if ctx.input_mut(|i| i.consume_key(modifiers, key)) {
                    ctx.memory_mut(|m| m.move_focus(egui::FocusDirection::None));
                    self.go(parts, rows, step, reach && !writes);
                }
            }
        }
        // out of a field with what was typed, to the name of its row
        if writes
            && self.cell != Cell::Name
            && ctx.input(|i| i.key_pressed(Key::Enter) || i.key_pressed(Key::Escape))
        {
            self.cell = Cell::Name;
            self.reveal = true;
        }
    }

    fn go(&mut self, parts: &[&str], rows: &[String], step: isize, reach: bool) {
        // what lies in a box goes with its kit: several are chosen by their lines
        let lines: Vec<String>;
        let rows = if reach {
            lines = parts.iter().map(|part| (*part).to_owned()).collect();
            &lines
        } else {
            rows
        };
        let now = self.at.as_deref().and_then(|at| rows.iter().position(|row| row == at));
        let next = match now {
            Some(now) => now.saturating_add_signed(step).min(rows.len().saturating_sub(1)),
            None if step > 1 => rows.len().saturating_sub(1),
            None => 0,
        };
        let Some(row) = rows.get(next) else { return };
        if reach {
            let from = self.from.clone().or_else(|| self.at.clone()).unwrap_or_else(|| row.clone());
            self.range(parts, &from, row);
        } else {
            self.from = None;
        }
        self.at = Some(row.clone());
        self.reveal = true;
    }

    fn toggle(&mut self, part: &str) {
        if !self.parts.remove(part) {
            self.parts.insert(part.to_owned());
        }
        self.from = Some(part.to_owned());
    }

    /// All between two of them, and no others.
    fn range(&mut self, parts: &[&str], from: &str, to: &str) {
        let at = |wanted: &str| parts.iter().position(|part| *part == wanted);
        let (Some(a), Some(b)) = (at(from), at(to)) else { return };
        let all = parts.iter().take(a.max(b) + 1).skip(a.min(b));
        self.parts = all.map(|part| (*part).to_owned()).collect();
        self.from = Some(from.to_owned());
    }

    /// A click on a line: alone it chooses that line, with Ctrl one more or one fewer, with Shift all up to it.
    fn click(&mut self, parts: &[&str], part: &str, modifiers: Modifiers) {
        let from = self.from.clone();
        if let (true, Some(from)) = (modifiers.shift, from) {
            self.range(parts, &from, part);
        } else if modifiers.command {
            self.toggle(part);
        } else if self.parts.len() == 1 && self.parts.contains(part) {
            self.parts.clear();
        } else {
            self.parts = BTreeSet::from([part.to_owned()]);
            self.from = Some(part.to_owned());
        }
        self.at = Some(part.to_owned());
    }

    /// The name of a line, to be chosen by; its menu opens under the right button.
    pub fn name(&mut self, ui: &mut Ui, t: &Tokens, l: &BuyLine, parts: &[&str], steps: &mut Vec<Vec<Edit>>) {
        let on = self.parts.contains(&l.part);
        let mut text = RichText::new(&l.name);
        if l.waived.is_some() {
            text = text.strikethrough().color(t.soft);
        }
        let rect = ui.max_rect();
        let response = ui.interact(rect, line_id(&l.part), Sense::click());
        let (state, cells): (&str, &[Cell]) = match l.waived {
            Some(_) => ("left out", &[Cell::Supplier]),
            None => (l.state.word(), &[Cell::Each, Cell::Supplier, Cell::State]),
        };
        let label = format!("{}, {state}", l.name);
        self.heard(ui, &response, &l.part, (&label, on), cells);
        if response.hovered() {
            ui.painter().rect_filled(rect, 3, t.hover);
        }
        if on {
            ui.painter().rect_filled(rect, 3, t.cool_ground);
        }
        ui.add_space(INSET);
        ui.add(Label::new(text).wrap().selectable(false).sense(Sense::hover()));
        if response.has_focus() {
            ui.painter().rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        if response.clicked() {
            let modifiers = ui.input(|i| i.modifiers);
            self.click(parts, &l.part, modifiers);
        }
        if l.waived.is_none() {
            let of: BTreeSet<String> = if on { self.parts.clone() } else { BTreeSet::from([l.part.clone()]) };
            response.context_menu(|ui| menu(ui, &of, steps));
        }
    }

    /// The name of what lies in the box of a kit: it goes where the kit goes, so a click means the kit.
    pub fn boxed(&mut self, ui: &mut Ui, t: &Tokens, name: &str, row: &str, kit: &str, parts: &[&str]) {
        let on = self.parts.contains(kit);
        let rect = ui.max_rect();
        let response = ui.interact(rect, line_id(row), Sense::click());
        let label = format!("{name}, goes with its kit");
        self.heard(ui, &response, row, (&label, on), &[Cell::State]);
        if response.hovered() || on {
            ui.painter().rect_filled(rect, 3, if on { t.cool_ground } else { t.hover });
        }
        ui.add(Label::new(name).wrap().selectable(false).sense(Sense::hover()));
        if response.has_focus() {
            ui.painter().rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
        }
        if response.clicked() && parts.contains(&kit) {
            let modifiers = ui.input(|i| i.modifiers);
            self.click(parts, kit, modifiers);
        }
    }

    /// What a name says, and the keyboard that is led to it; `cells` are the others of its row.
    fn heard(&mut self, ui: &Ui, response: &Response, row: &str, (label, on): (&str, bool), cells: &[Cell]) {
        response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, on, label));
        if response.has_focus() {
            let arrows = EventFilter { vertical_arrows: true, ..EventFilter::default() };
            ui.memory_mut(|m| m.set_focus_lock_filter(response.id, arrows));
        }
        // where the row has no such cell its name is what one comes to
        let is_cell = self.cell == Cell::Name || !cells.contains(&self.cell);
        if self.at.as_deref() == Some(row) && self.reveal && is_cell {
            self.reveal = false;
            response.request_focus();
            response.scroll_to_me(None);
        }
        if response.has_focus() && !self.reveal {
            self.in_table = true;
            self.at = Some(row.to_owned());
            // on the way down a column a row without its cell does not end the way
            if cells.contains(&self.cell) {
                self.cell = Cell::Name;
            }
        }
    }

    /// What can be done with those that are chosen, at the foot of the list where the hand is.
    pub fn foot(&mut self, ui: &mut Ui, t: &Tokens, shown: &[&BuyLine], steps: &mut Vec<Vec<Edit>>) {
        let lines: Vec<_> = shown.iter().filter(|l| self.parts.contains(&l.part)).collect();
        let sum: Amounts = lines.iter().filter_map(|l| l.total.as_ref()).collect();
        let currency = sum.each().next().map(|m| m.currency).unwrap_or_default();
        let hint = "Shift and Ctrl choose several, Space one, Ctrl+A all";
        ui.horizontal(|ui| {
            ui.set_min_height(TARGET);
            if lines.is_empty() {
                let text = format!("Choose lines by their names to set them at once. {hint}.");
                ui.label(RichText::new(text).font(theme::small()).color(t.soft));
                return;
            }
            ui.label(RichText::new(format!("{} chosen", lines.len())).font(strong(BODY)).color(t.ink));
            ui.label(RichText::new(wording::amounts(&sum, &currency)).font(strong(BODY)).color(t.ink));
            ui.add_space(12.0);
            for (state, key) in STATES {
                let button = Button::new(wording::sentence(state.word())).shortcut_text(key.name());
                let response = ui.add(button.min_size(Vec2::new(0.0, TARGET)));
                response.widget_info(|| {
                    WidgetInfo::labeled(Role::Button, true, format!("Set those chosen: {}", state.word()))
                });
                if response.clicked() {
                    steps.push(set(&self.parts, state));
                }
            }
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if ui.add(Button::new("Choose none").shortcut_text("Esc")).clicked() {
                    self.parts.clear();
                }
                ui.label(RichText::new(hint).font(theme::small()).color(t.soft));
            });
        });
    }
}

/// What can be done with lines, each with its key.
fn menu(ui: &mut Ui, of: &BTreeSet<String>, steps: &mut Vec<Vec<Edit>>) {
    for (state, key) in STATES {
        if ui.add(Button::new(wording::sentence(state.word())).shortcut_text(key.name())).clicked() {
            steps.push(set(of, state));
            ui.close();
        }
    }
}

/// The id of a line.
fn line_id(part: &str) -> Id {
    Id::unique(("buy line", part))
}

#[cfg(test)]
mod tests {
    use super::Chosen;
    use egui::Modifiers;

    #[test]
    fn one_several_and_a_range_are_chosen() {
        let parts = ["a", "b", "c", "d"];
        let mut chosen = Chosen::default();
        let all = |c: &Chosen| c.parts.iter().cloned().collect::<Vec<_>>().concat();
        chosen.click(&parts, "b", Modifiers::NONE);
        assert_eq!(all(&chosen), "b");
        chosen.click(&parts, "d", Modifiers::COMMAND);
        assert_eq!(all(&chosen), "bd");
        chosen.click(&parts, "b", Modifiers::SHIFT);
        assert_eq!(all(&chosen), "bcd");
        chosen.click(&parts, "a", Modifiers::NONE);
        assert_eq!(all(&chosen), "a");
        // once more takes it back
        chosen.click(&parts, "a", Modifiers::NONE);
        assert_eq!(all(&chosen), "");
        chosen.click(&parts, "b", Modifiers::NONE);
        let rows = parts.map(str::to_owned);
        chosen.go(&parts, &rows, 1, true);
        chosen.go(&parts, &rows, 1, true);
        assert_eq!(all(&chosen), "bcd");
        chosen.go(&parts, &rows, -1, true);
        assert_eq!(all(&chosen), "bc");
        // at the end it stays at the end
        chosen.go(&parts, &rows, 9, false);
        assert_eq!(chosen.at.as_deref(), Some("d"));
    }
}
