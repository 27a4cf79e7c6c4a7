//! The head of a system's panel on the board: its name, what is unresolved, how much is fitted, what it costs.

use egui::accesskit::Role;
use egui::{Response, Sense, Stroke, Ui, Vec2, pos2};

use crate::access::heard;
use crate::app::told::Told;
use crate::look::icons;
use crate::look::text::{elided, figures, figures_width};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, Tokens};
use crate::wording;

/// Where the name begins.
const NAME_X: f32 = 36.0;
/// Between two texts.
const GAP: f32 = 12.0;
/// Right of the money.
const RIM: f32 = 10.0;
/// A name with less room than this says nothing.
const LEAST: f32 = 72.0;

/// Where the texts of a head stand, from its left edge.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Places {
    /// Room for the name.
    name: f32,
    /// How much is fitted stands here too; in a narrow head it is only heard.
    fitted: bool,
}

/// Deals the width of a head to texts of these widths; zero: nothing is said.
fn places(width: f32, name: f32, unresolved: f32, fitted: f32, money: f32) -> Places {
    let taken = |text: f32| if text > 0.0 { text + GAP } else { 0.0 };
    let room = width - NAME_X - RIM - taken(unresolved) - taken(money);
    let beside = room - taken(fitted);
    // the name gives way first, but never so far that it cannot be read
    let fits = beside >= name.min(LEAST);
    Places { name: name.min(if fits { beside } else { room }).max(0.0), fitted: fits }
}

/// Draws the head of a system, given by id and name.
pub fn head(ui: &mut Ui, t: &Tokens, a: &Told, (id, name): (&str, &str), open: bool) -> Response {
    let sum = a.sums.iter().find(|sum| sum.id == id).cloned().unwrap_or_default();
    let has_lines = sum.lines > 0;
    let money = if has_lines { wording::amounts(&sum.money, &a.totals.currency) } else { String::new() };
    let fitted = if has_lines { format!("{} of {} fitted", sum.fitted, sum.lines) } else { String::new() };
    // folded or not: what is left out and can hurt somebody stays in view
    let unresolved = sum.unresolved();
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 32.0), Sense::click());
    response.widget_info(|| {
        let mut label = format!("{name}, {}", if open { "unfolded" } else { "folded" });
        for part in [&unresolved, &fitted, &money] {
            if !part.is_empty() {
                label = format!("{label}, {part}");
            }
        }
        egui::WidgetInfo::labeled(Role::Button, true, label)
    });
    heard::unfolds(&response, open);
    let paint = ui.painter();
    if response.hovered() {
        paint.rect_filled(rect, 3, t.hover);
    }
    if response.has_focus() {
        paint.rect_stroke(rect.shrink(1.0), 3, Stroke::new(2.0, t.cool), egui::StrokeKind::Inside);
    }
    icons::fold(paint, pos2(rect.left() + 18.0, rect.center().y), open, t.soft);
    let font = strong(BODY + 1.0);
    let unresolved = paint.layout_no_wrap(unresolved, theme::small(), t.warm);
    let fitted = paint.layout_no_wrap(fitted, theme::small(), t.soft);
    let money_width = figures_width(paint, &money, &strong(BODY));
    let whole = paint.layout_no_wrap(name.to_owned(), font.clone(), t.ink).size().x;
    let places = places(rect.width(), whole.ceil(), unresolved.size().x, fitted.size().x, money_width);
    let shown = elided(ui, name, font, t.ink, places.name, 1);
    let middle = |height: f32| rect.center().y - height / 2.0;
    let mut x = rect.left() + NAME_X;
    paint.galley(pos2(x, middle(shown.size().y)), shown.clone(), t.ink);
    x += shown.size().x + GAP;
    paint.galley(pos2(x, middle(unresolved.size().y)), unresolved, t.warm);
    let right = rect.right() - RIM;
    figures(paint, pos2(right, rect.center().y - 9.0), &money, &strong(BODY), t.ink);
    if places.fitted {
        let at = pos2(right - money_width - GAP - fitted.size().x, middle(fitted.size().y));
        paint.galley(at, fitted, t.soft);
    }
    if open {
        paint.hline(rect.x_range().shrink(8.0), rect.bottom(), Stroke::new(1.0, t.line));
    }
    let cut = shown.elided || !places.fitted;
    if cut { response.on_hover_text(name) } else { response }
}

#[cfg(test)]
mod tests {
    use super::{GAP, NAME_X, Places, RIM, places};

    #[test]
    fn a_wide_head_shows_everything_whole() {
        assert_eq!(places(600.0, 150.0, 80.0, 90.0, 70.0), Places { name: 150.0, fitted: true });
    }

    #[test]
    fn nothing_overlaps_in_any_width() {
        for width in 280..700 {
            let width = width as f32;
            for name in [30.0, 120.0, 260.0] {
                for (unresolved, fitted, money) in
                    [(0.0, 0.0, 0.0), (88.0, 0.0, 0.0), (88.0, 96.0, 84.0), (0.0, 96.0, 84.0)]
                {
                    let at = places(width, name, unresolved, fitted, money);
                    let from_left = NAME_X + at.name + if unresolved > 0.0 { GAP + unresolved } else { 0.0 };
                    let from_right = RIM + money + if at.fitted && fitted > 0.0 { GAP + fitted } else { 0.0 };
                    assert!(from_left + from_right <= width, "{width} {name}: {at:?}");
                    assert!(at.name <= name);
                }
            }
        }
    }

    #[test]
    fn the_name_gives_way_before_a_figure_is_only_heard() {
        let narrow = places(420.0, 260.0, 88.0, 96.0, 70.0);
        assert!(narrow.fitted && narrow.name < 260.0, "{narrow:?}");
        assert!(!places(330.0, 260.0, 88.0, 96.0, 70.0).fitted);
    }
}
