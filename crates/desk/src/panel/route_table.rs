//! The routes of a place as a table to compare: what each costs, brings, and leaves.

use egui::accesskit::Role;
use egui::{Align2, Color32, FontId, Response, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2};
use knockon_core::change::Change;
use knockon_core::library::Reversible;
use knockon_core::sheet::Route;

use crate::look::choice_row::{key_name, number};
use crate::look::icons;
use crate::look::text::{figures, short};
use crate::look::theme;
use crate::look::theme::strong;
use crate::look::tokens::{BODY, TARGET, Tokens};
use crate::panel::on_offer::Way;
use crate::wording;

/// A panel with less room than this tells the routes one under the other.
pub const LEAST: f32 = 620.0;

const KEY: f32 = 34.0;
const ROUTE: f32 = 62.0;

/// A column, from the right.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Then,
    Leaves,
    Measure,
    Brings,
    Hours,
    Money,
}

impl Column {
    const ALL: [Self; 6] = [Self::Then, Self::Leaves, Self::Measure, Self::Brings, Self::Hours, Self::Money];

    fn width(self) -> f32 {
        match self {
            Self::Then => 130.0,
            Self::Leaves | Self::Brings => 52.0,
            Self::Measure => 62.0,
            Self::Hours => 50.0,
            Self::Money => 86.0,
        }
    }

    fn head(self, currency: &str) -> &str {
        match self {
            Self::Then => "and then",
            Self::Leaves => "leaves",
            Self::Measure => "measure",
            Self::Brings => "brings",
            Self::Hours => "hours",
            Self::Money => currency,
        }
    }
}

/// What is said of the routes beside what they say of themselves.
pub struct Of<'a> {
    /// The currency of the sums.
    pub currency: &'a str,
    /// Clashes of the plan as it stands.
    pub clashes: usize,
    /// What tells this route from those whose names begin alike.
    pub apart: Option<&'a str>,
    /// The set of changes that clears all together has this route here, and so many changes.
    pub in_set: Option<usize>,
}

/// Draws the heads of the columns.
pub fn heads(ui: &mut Ui, t: &Tokens, currency: &str) {
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), 22.0), Sense::hover());
    let paint = ui.painter();
    let text = |at: Align2, x: f32, said: &str| {
        paint.text(pos2(x, rect.center().y), at, said, theme::small(), t.soft);
    };
    text(Align2::LEFT_CENTER, rect.left() + KEY, "Route and part");
    let mut right = rect.right() - 4.0;
    for column in Column::ALL {
        let left = right - column.width();
        match column {
            Column::Then => text(Align2::LEFT_CENTER, left + 12.0, column.head(currency)),
            _ => text(Align2::RIGHT_CENTER, right, column.head(currency)),
        }
        right = left;
    }
    paint.hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, t.line));
}

/// "+80.00" and "−112.00" for the eye: nothing where nothing changes.
fn signed(value: &str, less: bool) -> String {
    format!("{}{}", if less { "−" } else { "+" }, value.trim_start_matches('−'))
}

/// What is most worth saying of a route in a word or two, and whether it warns.
fn then(way: &Way, change: Option<&Change>, of: &Of<'_>) -> (String, bool) {
    let offer = &way.offer;
    // what the owner holds the plan to is said of what stands and of what is recommended too
    if !offer.breaks.is_empty() {
        let lead = if offer.current { "stands, breaks" } else { "breaks" };
        return (format!("{lead}: {}", offer.breaks.join(", ")), true);
    }
    if offer.current {
        return ("as it stands".to_owned(), false);
    }
    if let Some(n) = of.in_set {
        return (if n == 1 { "clears all".to_owned() } else { format!("in the set of {n}") }, false);
    }
    if !offer.clashes_added.is_empty() {
        return (wording::count(offer.clashes_added.len(), "new trouble", "new troubles"), true);
    }
    if offer.route != Route::Keep && offer.reversible == Reversible::No {
        return ("cannot be undone".to_owned(), true);
    }
    if change.is_some_and(|c| !c.idle.is_empty()) {
        return ("leaves bought idle".to_owned(), true);
    }
    if offer.unpriced {
        return ("has no price".to_owned(), false);
    }
    if offer.route != Route::Keep && offer.reversible == Reversible::Partly {
        return ("leaves a trace".to_owned(), false);
    }
    (String::new(), false)
}

/// What stands in a cell; empty where nothing changes.
struct Cell {
    text: String,
    font: FontId,
    tone: Color32,
}

fn cell(t: &Tokens, column: Column, way: &Way, change: Option<&Change>, of: &Of<'_>) -> Cell {
    let offer = &way.offer;
    let plain = |text: String| Cell { text, font: theme::body(), tone: t.ink };
    match column {
        Column::Then => match (then(way, change, of), of.in_set) {
            ((text, true), _) => Cell { text, font: theme::small(), tone: t.warm },
            ((text, false), Some(_)) => Cell { text, font: strong(BODY - 1.0), tone: t.ink },
            ((text, false), None) => Cell { text, font: theme::small(), tone: t.soft },
        },
        Column::Leaves => {
            let (more, fewer) = (offer.clashes_added.len(), offer.clashes_removed.len());
            let left = (of.clashes + more).saturating_sub(fewer);
            let warm = more > 0 || offer.current && left > 0;
            let font = if left > 0 { strong(BODY) } else { theme::body() };
            Cell { text: left.to_string(), font, tone: if warm { t.warm } else { t.ink } }
        }
        Column::Measure if offer.to_measure == 0 => plain(String::new()),
        Column::Measure => plain(signed(&offer.to_measure.unsigned_abs().to_string(), offer.to_measure < 0)),
        Column::Brings => {
            let (more, fewer) = (offer.companions_added.len(), offer.companions_removed.len());
            match more.abs_diff(fewer) {
                0 => plain(String::new()),
                n => plain(signed(&n.to_string(), fewer > more)),
            }
        }
        Column::Hours if offer.hours.abs() <= 0.04 => plain(String::new()),
        Column::Hours => plain(signed(&format!("{:.1}", offer.hours.abs()), offer.hours < 0.0)),
        Column::Money => {
            let money = change.map_or(&offer.money, |c| &c.to_come);
            let sum = money.of(of.currency);
            plain(match money.each().count() {
                0 => String::new(),
                1 if !sum.is_zero() => signed(&wording::amount(sum.abs(), ""), sum.is_sign_negative()),
                // they do not stand under each other; the tip tells each
                _ => "several".to_owned(),
            })
        }
    }
}

/// Draws a route; `i` is its number key, from nothing.
pub fn row(ui: &mut Ui, t: &Tokens, i: usize, way: &Way, change: Option<&Change>, of: &Of<'_>) -> Response {
    let offer = &way.offer;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), TARGET), Sense::click());
    response.widget_info(|| {
        let lines = [
            wording::consequences(offer, change, of.currency),
            change.map(wording::lost).unwrap_or_default(),
        ];
        let told = lines.into_iter().chain(key_name(i, offer.current)).filter(|line| !line.is_empty());
        let label = std::iter::once(way.name()).chain(told).collect::<Vec<_>>().join(", ");
        WidgetInfo::selected(Role::RadioButton, true, offer.current, label)
    });
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let paint = ui.painter();
    if offer.current {
        paint.rect(rect.shrink(0.5), 4, t.cool_ground, Stroke::new(1.0, t.cool), StrokeKind::Inside);
    } else if response.hovered() {
        paint.rect_filled(rect, 4, t.hover);
    }
    if response.has_focus() {
        paint.rect_stroke(rect.shrink(1.0), 4, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    let middle = rect.center().y;
    let chip = pos2(rect.left() + 16.0, middle);
    if offer.current {
        icons::tick(paint, chip, t.cool);
    } else if i < 9 {
        number(ui, t, i, chip);
    }
    let mut right = rect.right() - 4.0;
    for column in Column::ALL {
        let from = right - column.width();
        let cell = cell(t, column, way, change, of);
        if column == Column::Then {
            let text = short(ui, &cell.text, &cell.font, column.width() - 14.0);
            paint.text(pos2(from + 12.0, middle), Align2::LEFT_CENTER, text, cell.font, cell.tone);
        } else {
            figures(paint, pos2(right, middle - 9.0), &cell.text, &cell.font, cell.tone);
        }
        right = from;
    }
    let route = if way.left { "plan" } else { offer.route.word() };
    let x = rect.left() + KEY;
    paint.text(pos2(x, middle), Align2::LEFT_CENTER, route, theme::small(), t.soft);
    let x = x + ROUTE;
    let font = if of.in_set.is_some() || offer.current { strong(BODY) } else { theme::body() };
    let room = right - x - 8.0;
    let mut name = short(ui, &offer.name, &font, room);
    if let Some(quality) = of.apart.filter(|quality| !name.contains(quality)) {
        let noun = offer.name.split(", ").next().unwrap_or(&offer.name);
        name = short(ui, &format!("{noun}, {quality}"), &font, room);
    }
    paint.text(pos2(x, middle), Align2::LEFT_CENTER, name, font, t.ink);
    response
}
