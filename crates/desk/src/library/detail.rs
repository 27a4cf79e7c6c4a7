//! The panel of the open part: what it is, where it fits, its ports and numbers; or two parts side by side.

use egui::{Button, Color32, Label, RichText, ScrollArea, Ui, Vec2};
use knockon_core::library_search::beside::{Row, Stands};
use knockon_core::library_search::part_page::{Line, PartPage};

use crate::app::view::Action;
use crate::library::state::LibraryState;
use crate::library::tried;
use crate::look::fold;
use crate::look::fold::{Fold, Sign};
use crate::look::margin::section;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::wording;

/// Draws the panel.
pub fn panel(ui: &mut Ui, t: &Tokens, state: &mut LibraryState) -> Vec<Action> {
    let mut actions = Vec::new();
    let Some(page) = state.open.page.clone() else {
        ui.colored_label(t.soft, "This part is no longer in the library.");
        if ui.button("Close").clicked() {
            state.part = None;
        }
        return actions;
    };
    let second = state.open.second.clone();
    head(ui, t, &page, second.as_ref(), state);
    let salt = ("library detail", page.id.clone(), second.as_ref().map(|other| other.id.clone()));
    ScrollArea::vertical().auto_shrink(false).id_salt(salt).show(ui, |ui| {
        ui.set_width(ui.available_width() - 8.0);
        match &second {
            Some(second) => two(ui, t, &page, second, &state.open.rows),
            None => one(ui, t, &page, state, &mut actions),
        }
        ui.add_space(16.0);
    });
    actions
}

fn head(ui: &mut Ui, t: &Tokens, page: &PartPage, second: Option<&PartPage>, state: &mut LibraryState) {
    let title = match second {
        None => page.name.clone(),
        Some(_) => "Two parts side by side".to_owned(),
    };
    ui.add(Label::new(RichText::new(title).font(strong(BODY + 2.0)).color(t.ink)).wrap());
    if second.is_none() {
        let mut facts = vec![page.class.to_lowercase()];
        facts.push(page.price.as_ref().map_or_else(|| "price not known".to_owned(), ToString::to_string));
        facts.extend(page.hours.map(|hours| format!("{} to fit", wording::hours(hours))));
        let text = facts.join(" · ");
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    }
    ui.horizontal_wrapped(|ui| {
        let button = |text: &str| Button::new(text.to_owned()).min_size(Vec2::new(0.0, TARGET));
        if second.is_some() {
            if ui.add(button("Close the second")).clicked() {
                state.other = None;
            }
        } else if state.picking {
            ui.colored_label(t.cool, "Click the part to lay beside it");
            if ui.add(button("Never mind")).clicked() {
                state.picking = false;
            }
        } else if ui.add(button("Lay another beside it…")).clicked() {
            state.picking = true;
        }
        if ui.add(button("Close")).clicked() {
            (state.part, state.other, state.picking) = (None, None, false);
        }
    });
    ui.add_space(4.0);
}

fn one(ui: &mut Ui, t: &Tokens, page: &PartPage, state: &LibraryState, actions: &mut Vec<Action>) {
    section(ui, t, "Where it fits");
    let fits = state.tried.as_ref().filter(|(_, id, ..)| *id == page.id).and_then(|(.., fits)| fits.as_ref());
    tried::show(ui, t, fits, &page.id, actions);
    for caution in &page.cautions {
        let line = Fold {
            sign: Sign::Caution,
            text: &caution.danger,
            half: "",
            right: "",
            warm: false,
            open: false,
        };
        if line.show(ui, t, ("library caution", &page.id, &caution.danger)) {
            ui.indent("guard", |ui| {
                ui.add(Label::new(RichText::new(&caution.danger).color(t.ink)).wrap());
                ui.add(Label::new(RichText::new(&caution.guard).color(t.ink)).wrap());
            });
        }
    }
    if !page.ports.is_empty() {
        section(ui, t, "Ports");
    }
    for port in &page.ports {
        let name = format!("{} ({})", wording::sentence(&port.name), port.kind);
        ui.add(Label::new(RichText::new(name).font(strong(BODY - 1.0)).color(t.ink)).wrap());
        port.fields.iter().for_each(|line| value(ui, t, line));
        ui.add_space(3.0);
    }
    for (title, lines) in [("Numbers", &page.numbers), ("Needs", &page.needs)] {
        if !lines.is_empty() {
            section(ui, t, title);
            lines.iter().for_each(|line| value(ui, t, line));
        }
    }
    if !page.contents.is_empty() || !page.not_in_box.is_empty() {
        section(ui, t, "In the box");
        for (qty, _, name) in &page.contents {
            ui.add(Label::new(RichText::new(wording::with_qty(name, *qty)).color(t.ink)).wrap());
        }
        for missing in &page.not_in_box {
            ui.add(Label::new(RichText::new(format!("Not in it: {missing}")).color(t.soft)).wrap());
        }
    }
    let said = [page.undone.as_str(), page.leaves.as_str(), page.note.as_str()];
    let said: Vec<&str> = said.into_iter().filter(|text| !text.is_empty()).collect();
    if !said.is_empty() {
        fold::behind(ui, t, "Undoing it, and notes", ("library notes", &page.id), |ui| {
            for text in said {
                ui.add(Label::new(RichText::new(wording::sentence(text)).color(t.ink)).wrap());
            }
        });
    }
    let mut small = vec![format!("Id for the command line: {}", page.id)];
    if !page.supplier.is_empty() {
        small.push(format!("Supplier: {}", page.supplier));
    }
    ui.add_space(6.0);
    for text in small {
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    }
}

/// What a value is called, and the value; its source under the pointer.
fn value(ui: &mut Ui, t: &Tokens, line: &Line) {
    let width = ui.available_width();
    ui.horizontal_top(|ui| {
        cell(ui, &line.name, t.soft, width * 0.5);
        let tone = if line.how.is_empty() { t.ink } else { t.warm };
        let text = RichText::new(&line.value).font(theme::small()).color(tone);
        let shown = ui.add(Label::new(text).wrap());
        let tip = [line.source.as_str(), line.how.as_str()].into_iter().find(|text| !text.is_empty());
        if let Some(tip) = tip {
            shown.on_hover_text(wording::sentence(tip));
        }
    });
}

fn cell(ui: &mut Ui, text: &str, tone: Color32, width: f32) {
    let size = Vec2::new(width, 18.0);
    ui.allocate_ui_with_layout(size, egui::Layout::left_to_right(egui::Align::Min), |ui| {
        ui.set_min_width(width);
        ui.set_max_width(width);
        ui.add(Label::new(RichText::new(text).font(theme::small()).color(tone)).wrap());
    });
}

fn two(ui: &mut Ui, t: &Tokens, first: &PartPage, second: &PartPage, rows: &[Row]) {
    let differs = rows.iter().filter(|row| row.stands == Stands::Differs).count();
    let alone =
        rows.iter().filter(|row| matches!(row.stands, Stands::OnlyFirst | Stands::OnlySecond)).count();
    let same = rows.len() - differs - alone;
    let text = format!("{same} the same · {differs} differ · {alone} only one has");
    ui.add(Label::new(RichText::new(text).font(theme::small()).color(t.soft)).wrap());
    let width = ui.available_width() - 20.0;
    let columns = [width * 0.28, width * 0.34, width * 0.34];
    row_of(ui, columns, ("", t.soft), (&first.name, t.ink), (&second.name, t.ink), true);
    let mut group = "";
    for row in rows {
        if row.group != group {
            group = &row.group;
            section(ui, t, &wording::sentence(group));
        }
        let text = |value: &Option<String>| value.clone().unwrap_or_else(|| "—".to_owned());
        let (mark, tone) = match row.stands {
            Stands::Same => ("", t.soft),
            Stands::Differs => ("differs", t.ink),
            Stands::OnlyFirst | Stands::OnlySecond => ("only one", t.ink),
        };
        let name = if mark.is_empty() { row.name.clone() } else { format!("{} ({mark})", row.name) };
        row_of(
            ui,
            columns,
            (&name, t.soft),
            (&text(&row.first), tone),
            (&text(&row.second), tone),
            row.stands != Stands::Same,
        );
    }
}

fn row_of(
    ui: &mut Ui,
    columns: [f32; 3],
    name: (&str, Color32),
    first: (&str, Color32),
    second: (&str, Color32),
    heavy: bool,
) {
    ui.horizontal_top(|ui| {
        for (n, ((text, tone), width)) in [name, first, second].into_iter().zip(columns).enumerate() {
            let font = if heavy && n > 0 { strong(BODY - 1.5) } else { theme::small() };
            ui.allocate_ui_with_layout(
                Vec2::new(width, 18.0),
                egui::Layout::left_to_right(egui::Align::Min),
                |ui| {
                    ui.set_min_width(width);
                    ui.set_max_width(width);
                    ui.add(Label::new(RichText::new(text).font(font).color(tone)).wrap());
                },
            );
        }
    });
}
