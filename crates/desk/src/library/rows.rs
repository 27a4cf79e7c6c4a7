//! The list of parts: one line each under its system, and only the lines in sight are drawn.

use egui::accesskit::Role;
use egui::{Color32, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};
use knockon_core::showing::Measure;

use crate::library::state::{Entry, LibraryState, Shelf};
use crate::look::text::{elided, figures, figures_width};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};

/// Height of a line, with what parts it from the next.
const ROW: f32 = TARGET + 2.0;
/// Room of the price at the right.
const PRICE: f32 = 96.0;

/// Draws the list.
pub fn list(ui: &mut Ui, t: &Tokens, shelf: &Shelf, measure: Measure, state: &mut LibraryState) {
    let part = state.part.clone();
    let at = state.reveal.then(|| {
        let is_open = |entry: &Entry| state.id(entry) == part;
        state.entries.iter().position(|entry| matches!(entry, Entry::Part(..)) && is_open(entry))
    });
    state.reveal = false;
    let mut area = ScrollArea::vertical().auto_shrink(false).id_salt("library parts");
    let id = ui.make_persistent_id("library offset");
    let tall = ui.available_height();
    if let Some(at) = at.flatten() {
        let top = at as f32 * ROW;
        let now: f32 = ui.data(|d| d.get_temp(id)).unwrap_or(0.0);
        // a line that is in sight stays where it is
        if top < now || top + ROW > now + tall {
            area = area.vertical_scroll_offset((top - tall / 2.0).max(0.0));
        }
    }
    ui.spacing_mut().item_spacing.y = ROW - TARGET;
    let mut taken = None;
    let shown = area.show_rows(ui, TARGET, state.entries.len(), |ui, range| {
        for entry in state.entries.get(range).unwrap_or(&[]) {
            if let Some(id) = row(ui, t, shelf, measure, state, entry) {
                taken = Some(id);
            }
        }
    });
    ui.data_mut(|d| d.insert_temp(id, shown.state.clamped_offset().y));
    if let Some(id) = taken {
        state.take(id);
    }
}

/// A line; the part that was clicked.
fn row(
    ui: &mut Ui,
    t: &Tokens,
    shelf: &Shelf,
    measure: Measure,
    state: &LibraryState,
    entry: &Entry,
) -> Option<String> {
    let width = ui.available_width() - 6.0;
    match entry {
        Entry::System(name, count) => {
            heading(ui, name, &count.to_string(), t.soft, width);
            return None;
        }
        Entry::NotKnown(count) => {
            let text = "May answer: what was asked for is not known of these";
            heading(ui, text, &count.to_string(), t.warm, width);
            return None;
        }
        Entry::Part(..) => {}
    }
    let hit = state.hit(entry)?;
    let part = shelf.catalogue.parts.get(hit.part)?;
    let id = shelf.catalogue.part_names.id(hit.part);
    let class = shelf.catalogue.classes.get(part.class).map_or("", |class| class.name.as_str());
    let why = shelf.search.why(&shelf.catalogue, &state.answer, hit, measure);
    let why: Vec<String> = why.into_iter().filter(|why| !why.starts_with("price ")).collect();
    let why = why.join("; ");
    let price = part.part.price.as_ref().map(ToString::to_string).unwrap_or_default();
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, TARGET), Sense::click());
    let open = state.part.as_deref() == Some(id);
    let second = state.other.as_deref() == Some(id);
    let said: Vec<&str> = [part.part.name.as_str(), class, why.as_str(), price.as_str()]
        .into_iter()
        .filter(|s| !s.is_empty())
        .collect();
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, open, said.join(", ")));
    if !ui.is_rect_visible(rect) {
        return None;
    }
    ground(ui, t, rect, (open, second), response.hovered(), response.has_focus());
    let cut = line(ui, t, rect, &part.part.name, &class.to_lowercase(), &why, &price);
    if cut {
        let tip = [part.part.name.as_str(), class, why.as_str()].join("\n");
        return response.on_hover_text(tip.trim()).clicked().then(|| id.to_owned());
    }
    response.clicked().then(|| id.to_owned())
}

fn heading(ui: &mut Ui, name: &str, count: &str, tone: Color32, width: f32) {
    let (rect, response) = ui.allocate_exact_size(Vec2::new(width, TARGET), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, format!("{name}, {count}")));
    let text = elided(ui, name, strong(BODY), tone, width - 60.0, 1);
    let y = rect.bottom() - text.size().y - 4.0;
    let wide = text.size().x;
    ui.painter().galley(pos2(rect.left() + 2.0, y), text, tone);
    let number = ui.painter().layout_no_wrap(count.to_owned(), theme::small(), tone);
    ui.painter().galley(pos2(rect.left() + wide + 12.0, y + 1.0), number, tone);
}

fn ground(ui: &Ui, t: &Tokens, rect: Rect, (open, second): (bool, bool), hovered: bool, focused: bool) {
    let fill = match (open, second, hovered) {
        (true, ..) => t.cool_ground,
        (_, true, _) => t.tied_ground,
        (.., true) => t.hover,
        _ => t.sheet,
    };
    let edge = if open { Stroke::new(1.0, t.cool) } else { Stroke::NONE };
    ui.painter().rect(rect, 3, fill, edge, StrokeKind::Inside);
    if focused {
        ui.painter().rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
}

/// Name, class, why and price beside each other; whether something is cut off.
#[allow(clippy::too_many_arguments, reason = "the columns of one line")]
fn line(ui: &Ui, t: &Tokens, rect: Rect, name: &str, class: &str, why: &str, price: &str) -> bool {
    let inner = rect.shrink2(Vec2::new(8.0, 0.0));
    let right = figures_width(ui.painter(), price, &theme::body()).max(PRICE);
    let room = inner.width() - right - 12.0;
    // a class has no room in a narrow list, nor where the name says it
    let says = name.to_lowercase().starts_with(class);
    let class_room = if room > 560.0 && !says { 118.0 } else { 0.0 };
    let why_room = if why.is_empty() { 0.0 } else { (room * 0.46).min(room - 160.0) };
    let name_room = room - why_room - class_room - 10.0;
    let middle = |height: f32| inner.center().y - height / 2.0;
    let text = elided(ui, name, theme::body(), t.ink, name_room, 1);
    let mut cut = text.elided;
    let paint = ui.painter();
    paint.galley(pos2(inner.left(), middle(text.size().y)), text, t.ink);
    if class_room > 0.0 {
        let text = elided(ui, class, theme::small(), t.soft, class_room - 10.0, 1);
        cut |= text.elided;
        paint.galley(pos2(inner.left() + name_room + 10.0, middle(text.size().y)), text, t.soft);
    }
    if why_room > 0.0 {
        let text = elided(ui, why, theme::small(), t.soft, why_room - 10.0, 1);
        cut |= text.elided;
        let x = inner.left() + name_room + class_room + 10.0;
        paint.galley(pos2(x, middle(text.size().y)), text, t.soft);
    }
    let y = middle(paint.layout_no_wrap("0".to_owned(), theme::body(), t.ink).size().y);
    figures(paint, pos2(inner.right(), y), price, &theme::body(), t.ink);
    cut
}
