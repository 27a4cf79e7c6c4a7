//! The running strip: figures of the plan, each opening the list behind it.

use egui::accesskit::Role;
use egui::{Color32, Sense, Stroke, StrokeKind, Ui, Vec2, pos2};
use knockon_core::assessment::Assessment;

use crate::text::{figures, figures_width};
use crate::theme::{self, strong, tokens};
use crate::tokens::{BODY, Tokens};
use crate::view::{Action, Behind, View};
use crate::words;

/// Draws the strip.
pub fn strip(ui: &mut Ui, a: &Assessment, view: &View) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let s = &a.totals;
    let money = |v| words::amount(v, &s.currency);
    let surplus = a.surplus.len();
    let cells = [
        (Behind::Spent, "spent", money(s.spent), false),
        (Behind::Committed, "on order", money(s.committed), false),
        (Behind::ToCome, "to come", money(s.to_come), false),
        (Behind::Companions, "companions open", s.companions_open.to_string(), s.companions_open > 0),
        (
            Behind::Clashes,
            if s.clashes == 1 { "does not fit" } else { "do not fit" },
            s.clashes.to_string(),
            s.clashes > 0,
        ),
        (Behind::Measure, "to measure", s.to_measure.to_string(), s.to_measure > 0),
        (Behind::Cautions, "cautions", a.cautions.len().to_string(), false),
        (Behind::Surplus, "off the vehicle", surplus.to_string(), false),
        (Behind::Fitted, "lines fitted", format!("{} of {}", s.fitted, s.lines), false),
    ];
    ui.horizontal_centered(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (which, word, figure, warm) in cells {
            if cell(ui, &t, word, &figure, warm, view.behind == Some(which)) {
                actions.push(Action::Behind((view.behind != Some(which)).then_some(which)));
            }
        }
        if !a.problems.is_empty() {
            let n = a.problems.len().to_string();
            if cell(ui, &t, "not in the library", &n, true, view.behind == Some(Behind::Problems)) {
                let which = Behind::Problems;
                actions.push(Action::Behind((view.behind != Some(which)).then_some(which)));
            }
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let mut tail = vec![format!("{} of your time", words::hours(s.hours))];
            if s.unpriced > 0 {
                tail.push(format!("{} without a price", s.unpriced));
            }
            for (currency, sum) in &s.other_currency {
                tail.push(format!("and {}", words::amount(*sum, currency)));
            }
            ui.add_space(8.0);
            ui.add(
                egui::Label::new(egui::RichText::new(tail.join(" · ")).font(theme::small()).color(t.soft))
                    .wrap(),
            );
        });
    });
    actions
}

fn cell(ui: &mut Ui, t: &Tokens, word: &str, figure: &str, warm: bool, open: bool) -> bool {
    let font = strong(BODY + 2.0);
    let tone = if warm { t.warm } else { t.ink };
    let caption =
        ui.painter().layout_no_wrap(word.to_owned(), theme::small(), if warm { t.warm } else { t.soft });
    let width = figures_width(ui.painter(), figure, &font).max(caption.size().x) + 20.0;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, 44.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::selected(Role::Button, true, open, format!("{figure} {word}")));
    let paint = ui.painter();
    let fill = if open {
        t.cool_ground
    } else if response.hovered() {
        t.hover
    } else {
        Color32::TRANSPARENT
    };
    paint.rect_filled(rect, 4, fill);
    if open || response.has_focus() {
        let wide = if response.has_focus() { 2.0 } else { 1.0 };
        paint.rect_stroke(rect, 4, Stroke::new(wide, t.cool), StrokeKind::Inside);
    }
    let right = rect.right() - 10.0;
    figures(paint, pos2(right, rect.top() + 4.0), figure, &font, tone);
    paint.galley(pos2(right - caption.size().x, rect.top() + 24.0), caption, tone);
    response.on_hover_text("Show what stands behind this figure").clicked()
}
