//! Notes in the margin: cautions always legible, and the unfolding chain of reasons.

use std::hash::Hash;

use egui::{Frame, Label, Margin, RichText, Stroke, Ui, Vec2};
use knockon_core::assessment::CautionNote;
use knockon_core::explain;
use knockon_core::reason::ReasonId;
use knockon_core::showing::Measure;

use crate::access::heard;
use crate::app::told::Told;
use crate::look::fold;
use crate::look::fold::{Fold, Sign};
use crate::look::icons;
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, SMALL, Tokens};

/// A caution: what can happen, what to do.
pub fn caution(ui: &mut Ui, t: &Tokens, note: &CautionNote, measure: Measure) {
    bordered(ui, t, |ui| {
        ui.horizontal_top(|ui| {
            let (rect, _) = ui.allocate_exact_size(Vec2::splat(20.0), egui::Sense::hover());
            icons::caution(ui.painter(), rect.center(), t.warm);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 2.0;
                ui.add(Label::new(RichText::new(&note.danger).color(t.ink).font(strong(SMALL))).wrap());
                ui.add(
                    Label::new(RichText::new(note.guard.say(measure)).color(t.ink).font(theme::small()))
                        .wrap(),
                );
            });
        });
    });
}

/// A caution as a line that opens, and does not close by itself.
pub fn caution_line(
    ui: &mut Ui,
    t: &Tokens,
    note: &CautionNote,
    measure: Measure,
    salt: impl Hash + std::fmt::Debug,
) {
    let line =
        Fold { sign: Sign::Caution, text: &note.danger, half: "", right: "", warm: false, open: false };
    if line.show(ui, t, ("caution", salt)) {
        bordered(ui, t, |ui| {
            ui.add(Label::new(RichText::new(&note.danger).color(t.ink).font(strong(SMALL))).wrap());
            ui.add(
                Label::new(RichText::new(note.guard.say(measure)).color(t.ink).font(theme::small())).wrap(),
            );
        });
    }
}

/// A note with the border of what must be looked at.
pub fn bordered(ui: &mut Ui, t: &Tokens, add: impl FnOnce(&mut Ui)) {
    Frame::new()
        .fill(t.warm_ground)
        .stroke(Stroke::new(1.0, t.warm))
        .corner_radius(4)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            add(ui);
        });
}

/// The heading of a note, with its mark.
pub fn titled(ui: &mut Ui, t: &Tokens, mark: icons::Mark, text: &str) {
    ui.horizontal_top(|ui| {
        let (rect, _) = ui.allocate_exact_size(Vec2::new(20.0, 18.0), egui::Sense::hover());
        mark.paint(ui.painter(), rect.center(), t.warm);
        heard::heading(ui, 3, RichText::new(text).font(strong(BODY)).color(t.warm));
    });
}

/// The chain of reasons, folded until it is asked for.
pub fn why(ui: &mut Ui, t: &Tokens, a: &Told, root: ReasonId, salt: impl Hash + std::fmt::Debug) {
    fold::behind(ui, t, "Why", ("why", salt), |ui| {
        let chain = explain::chain(a, root, a.measure);
        if chain.is_empty() {
            ui.colored_label(t.soft, "No reasons are recorded.");
        }
        for (depth, sentence) in chain {
            ui.horizontal_top(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                let step = 14.0 * depth.min(6) as f32;
                let (rect, _) = ui.allocate_exact_size(Vec2::new(step + 8.0, 16.0), egui::Sense::hover());
                let dot = egui::pos2(rect.right() - 4.0, rect.center().y);
                if depth > 0 {
                    let from = egui::pos2(dot.x - 10.0, rect.top() - 4.0);
                    let bend = egui::pos2(dot.x - 10.0, dot.y);
                    icons::thread(ui.painter(), &[from, bend, dot], true, t.edge);
                }
                ui.painter().circle_filled(dot, 2.0, t.soft);
                ui.add(Label::new(RichText::new(sentence).font(theme::small())).wrap());
            });
        }
    });
}

/// A heading inside the panel.
pub fn section(ui: &mut Ui, t: &Tokens, text: &str) {
    ui.add_space(8.0);
    heard::heading(ui, 3, RichText::new(text).font(strong(BODY)).color(t.ink));
}

/// A line with its name in front.
pub fn fact(ui: &mut Ui, t: &Tokens, name: &str, text: &str, tone: egui::Color32) {
    ui.horizontal_top(|ui| {
        left(ui, 84.0, RichText::new(name).color(t.soft).font(theme::small()));
        ui.add(Label::new(RichText::new(text).color(tone)).wrap());
    });
}

/// Text at the left of a column of this width.
pub fn left(ui: &mut Ui, width: f32, text: RichText) {
    let layout = egui::Layout::left_to_right(egui::Align::TOP);
    ui.allocate_ui_with_layout(Vec2::new(width, 18.0), layout, |ui| {
        ui.set_min_width(width);
        ui.add(Label::new(text).wrap());
    });
}
