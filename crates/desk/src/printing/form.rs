//! The rows of the dialog "Print or save" above its path: which paper, in which format, on which size.

use egui::accesskit::Role;
use egui::{Button, ComboBox, Label, RichText, Ui, Vec2, WidgetInfo};
use knockon_core::Sheet;
use knockon_core::showing::Measure;
use knockon_report::kinds::Kind;
use knockon_report::write::{Format, Paper};

use crate::access::heard;
use crate::look::theme;
use crate::look::tokens::{TARGET, Tokens};
use crate::printing::state::{Printing, usual_size};

/// Width of the names in front.
const NAMES: f32 = 96.0;

/// What a paper is for, in half a sentence.
fn about(kind: Kind) -> &'static str {
    match kind {
        Kind::BuyList => "What is to be bought, by supplier, with subtotals.",
        Kind::Jobs => "The work in its order, with tools, cautions and boxes to tick.",
        Kind::WalkRound => "Every inspection in the order of the walk, with its limits and room to write.",
        Kind::Measure => "What is to be measured, on what, how well, with room to write.",
        Kind::Commissioning => "The checks before and on the road, with what passes.",
        Kind::Tags => "A tag for each original that comes off, to cut out and tie on.",
        Kind::Compare => "What one plan costs more than another, cause by cause.",
        Kind::Book => "All of it, to keep or to hand over: vehicle, plan, money, work, checks, photos.",
    }
}

/// A format as shown, and what it is for.
fn format(format: Format) -> (&'static str, &'static str) {
    match format {
        Format::Pdf => ("PDF", "To print and to hand over."),
        Format::Html => ("HTML", "To read and tick on a telephone; one file, no network."),
        Format::Xlsx => ("XLSX", "A workbook; its sums are formulas."),
        Format::Csv => ("CSV", "The list alone, for any program."),
    }
}

fn size(size: Paper) -> &'static str {
    match size {
        Paper::Letter => "Letter",
        Paper::A4 => "A4",
    }
}

/// Draws them; whether it can be made.
pub fn rows(
    ui: &mut Ui,
    t: &Tokens,
    sheet: &Sheet,
    measure: Measure,
    printing: &mut Printing,
    path: &mut String,
) -> bool {
    ui.add_space(4.0);
    row(ui, t, "Paper", |ui| kinds(ui, printing, path));
    if printing.kind == Kind::Compare && Printing::others(sheet).next().is_some() {
        row(ui, t, "Held against", |ui| plans(ui, sheet, printing));
    }
    row(ui, t, "Format", |ui| {
        for one in Format::ALL {
            if choice(ui, "Format", format(one).0, printing.format == one, true) {
                printing.change(path, |now| now.format = one);
            }
        }
    });
    let is_paged = printing.format == Format::Pdf;
    let now = printing.size.unwrap_or(usual_size(measure));
    row(ui, t, "Pages", |ui| {
        for one in [Paper::A4, Paper::Letter] {
            if choice(ui, "Pages", size(one), is_paged && now == one, is_paged) {
                printing.size = Some(one);
            }
        }
    });
    let lacks = printing.lacks(sheet);
    let (text, tone) = match lacks {
        Some(why) => (why.to_owned(), t.warm),
        None => (format!("{} {}", about(printing.kind), format(printing.format).1), t.soft),
    };
    ui.add_space(2.0);
    ui.add(Label::new(RichText::new(text).color(tone)).wrap());
    lacks.is_none()
}

fn row(ui: &mut Ui, t: &Tokens, name: &str, add: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        let layout = egui::Layout::left_to_right(egui::Align::Center);
        ui.allocate_ui_with_layout(Vec2::new(NAMES, TARGET), layout, |ui| {
            ui.set_min_width(NAMES);
            ui.label(RichText::new(name).font(theme::small()).color(t.soft));
        });
        add(ui);
    });
}

fn kinds(ui: &mut Ui, printing: &mut Printing, path: &mut String) {
    let now = printing.kind.title();
    let list = ComboBox::from_id_salt("paper").selected_text(now).width(300.0).height(320.0);
    let shown = list.show_ui(ui, |ui| {
        for kind in Kind::ALL {
            if ui.selectable_label(printing.kind == kind, kind.title()).clicked() {
                printing.change(path, |now| now.kind = kind);
            }
        }
    });
    heard::closed_list(&shown.response, "Paper", now);
}

fn plans(ui: &mut Ui, sheet: &Sheet, printing: &mut Printing) {
    let chosen = printing.held_against(sheet);
    let now = chosen.as_ref().and_then(|id| sheet.plans.get(id)).map_or("", |plan| plan.name.as_str());
    let list = ComboBox::from_id_salt("held against").selected_text(now).width(300.0).truncate();
    let shown = list.show_ui(ui, |ui| {
        for (id, name) in Printing::others(sheet) {
            if ui.selectable_label(chosen.as_ref() == Some(id), name).clicked() {
                printing.against = Some(id.clone());
            }
        }
    });
    heard::closed_list(&shown.response, "Held against", now);
}

/// One of several; whether it was chosen.
fn choice(ui: &mut Ui, of: &str, name: &str, chosen: bool, enabled: bool) -> bool {
    let button = Button::selectable(chosen, name).frame_when_inactive(true).min_size(Vec2::new(64.0, TARGET));
    let response = ui.add_enabled(enabled, button);
    response
        .widget_info(|| WidgetInfo::selected(Role::RadioButton, enabled, chosen, format!("{of}: {name}")));
    response.clicked() && !chosen
}
