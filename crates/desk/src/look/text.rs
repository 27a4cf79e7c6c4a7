//! Text painted by hand: figures in columns of equal width, and short helpers.

use std::sync::Arc;

use egui::text::{LayoutJob, TextFormat};
use egui::{Color32, FontId, Galley, Painter, Pos2, Stroke, Ui, Vec2};
use knockon_core::showing::{self, Measure};

/// Gives a field the name a screen reader says; a hint inside the field is no name.
pub fn named(response: egui::Response, name: &str) -> egui::Response {
    response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
    response
}

/// Selects all of a field: typing replaces it.
pub fn select_all(ui: &egui::Ui, id: egui::Id, text: &str) {
    let mut state = egui::TextEdit::load_state(ui.ctx(), id).unwrap_or_default();
    let end = egui::text::CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(egui::text::CCursorRange::two(egui::text::CCursor::default(), end)));
    egui::TextEdit::store_state(ui.ctx(), id, state);
}

/// Lays out text that wraps at a width.
pub fn wrapped(ui: &Ui, text: &str, font: FontId, color: Color32, width: f32) -> Arc<Galley> {
    ui.painter().layout(text.to_owned(), font, color, width.max(20.0))
}

/// Lays out text in at most so many rows; what does not fit ends in an ellipsis.
pub fn elided(ui: &Ui, text: &str, font: FontId, color: Color32, width: f32, rows: usize) -> Arc<Galley> {
    let mut job = LayoutJob::simple(text.to_owned(), font, color, width.max(20.0));
    job.wrap.max_rows = rows;
    job.wrap.break_anywhere = rows == 1;
    ui.painter().layout_job(job)
}

/// A name with as many of its qualities as a width has room for: "Alternator, 100 A, three-wire" gives up what stands behind
/// its last comma first. Only what is still too long then loses letters.
pub fn short(ui: &Ui, name: &str, font: &FontId, width: f32) -> String {
    let wide = |text: &str| {
        ui.painter().layout_no_wrap(text.to_owned(), font.clone(), Color32::PLACEHOLDER).size().x
    };
    let mut shown = name;
    while wide(shown) > width {
        match shown.rsplit_once(", ") {
            Some((rest, _)) => shown = rest,
            None => return lettered(shown, width, wide),
        }
    }
    shown.to_owned()
}

/// Names beside each other that only differ far behind: for each, the first of its qualities that those which begin alike do
/// not have; `None` where its beginning tells it already.
pub fn apart(names: &[&str]) -> Vec<Option<String>> {
    let begin = |name: &str| name.split(", ").take(TOLD).collect::<Vec<_>>().join(", ");
    let one = |(i, name): (usize, &&str)| {
        let alike = names.iter().enumerate().filter(|(j, other)| *j != i && begin(other) == begin(name));
        let others: Vec<&str> = alike.flat_map(|(_, other)| other.split(", ")).collect();
        let own = name.split(", ").skip(TOLD).find(|quality| !others.contains(quality));
        own.filter(|_| !others.is_empty()).map(str::to_owned)
    };
    names.iter().enumerate().map(one).collect()
}

/// Qualities of a name, its noun with them, that are told where room is short.
const TOLD: usize = 3;

/// As many letters as there is room for, with an ellipsis.
fn lettered(name: &str, width: f32, wide: impl Fn(&str) -> f32) -> String {
    let mut kept: String = name.to_owned();
    while kept.pop().is_some() {
        let shown = format!("{}…", kept.trim_end());
        if wide(&shown) <= width {
            return shown;
        }
    }
    String::new()
}

/// A piece of a line.
pub struct Piece<'a>(pub &'a str, pub FontId, pub Color32, pub bool);

/// Several pieces in one wrapping text; the last field of a piece strikes it through.
pub fn pieces(ui: &Ui, parts: &[Piece<'_>], width: f32) -> Arc<Galley> {
    let mut job = LayoutJob::default();
    job.wrap.max_width = width.max(20.0);
    for Piece(text, font, color, struck) in parts {
        let mut format = TextFormat::simple(font.clone(), *color);
        if *struck {
            format.strikethrough = Stroke::new(1.0, *color);
        }
        job.append(text, 0.0, format);
    }
    ui.painter().layout_job(job)
}

/// Width of figures as [`figures`] paints them.
pub fn figures_width(painter: &Painter, text: &str, font: &FontId) -> f32 {
    let cell = digit(painter, font);
    text.chars().map(|c| step(painter, c, font, cell)).sum()
}

/// Paints figures that end at `right`: every digit takes the same width, so that columns stand under each other.
pub fn figures(painter: &Painter, right: Pos2, text: &str, font: &FontId, color: Color32) {
    let cell = digit(painter, font);
    let mut x = right.x - text.chars().map(|c| step(painter, c, font, cell)).sum::<f32>();
    for c in text.chars() {
        let width = step(painter, c, font, cell);
        let galley = painter.layout_no_wrap(c.to_string(), font.clone(), color);
        painter.galley(Pos2::new(x + (width - galley.size().x) / 2.0, right.y), galley, color);
        x += width;
    }
}

/// Figures as a widget, right-aligned in at least `width`.
pub fn figures_ui(ui: &mut Ui, text: &str, font: &FontId, color: Color32, width: f32) -> egui::Response {
    let height = ui.painter().layout_no_wrap("0".to_owned(), font.clone(), color).size().y;
    let own = figures_width(ui.painter(), text, font);
    let (rect, response) = ui.allocate_exact_size(Vec2::new(own.max(width), height), egui::Sense::hover());
    figures(ui.painter(), rect.right_top(), text, font, color);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Label, true, text));
    response
}

/// A value in the system the user reads; both systems under the pointer.
pub fn quantity(ui: &mut Ui, text: &str, measure: Measure, font: FontId, color: Color32) -> egui::Response {
    let shown = showing::reading(text, measure);
    let rich = egui::RichText::new(&shown).font(font).color(color);
    let response = ui.add(egui::Label::new(rich).wrap());
    match showing::reading_other(text, measure) {
        Some(other) => response.on_hover_text(format!("{shown} = {other}")),
        None => response,
    }
}

fn digit(painter: &Painter, font: &FontId) -> f32 {
    painter.layout_no_wrap("0".to_owned(), font.clone(), Color32::PLACEHOLDER).size().x
}

fn step(painter: &Painter, c: char, font: &FontId, cell: f32) -> f32 {
    if c.is_ascii_digit() {
        cell
    } else {
        painter.layout_no_wrap(c.to_string(), font.clone(), Color32::PLACEHOLDER).size().x
    }
}

#[cfg(test)]
mod tests {
    use super::apart;

    #[test]
    fn names_that_begin_alike_are_told_apart() {
        let names = [
            "Wheel, steel, welded, 15 x 6, five studs",
            "Wheel, steel, welded, 15 x 6, six studs, chromed",
            "Wheel, alloy, 15 x 6",
            "Wheel, steel, welded",
        ];
        let told = apart(&names);
        let told: Vec<_> = told.iter().map(|t| t.as_deref()).collect();
        assert_eq!(told, [Some("five studs"), Some("six studs"), None, None]);
    }
}
