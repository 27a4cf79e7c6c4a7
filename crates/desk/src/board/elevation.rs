//! The vehicle in side elevation above the panels: its systems as regions that carry their state.

use std::collections::BTreeMap;

use egui::accesskit::Role;
use egui::{Color32, Pos2, Rect, Response, Sense, Shape, Stroke, StrokeKind, Ui, Vec2, pos2};
use knockon_core::Assessment;
use knockon_core::assessment::PositionView;
use knockon_core::drawing::{Drawing, Point};

use crate::app::commands::Command;
use crate::app::told::Told;
use crate::app::view::{Action, Spot, View};
use crate::board::sums::Sum;
use crate::look::icons;
use crate::look::theme::tokens;
use crate::look::tokens::{PEN, TARGET, Tokens};
use crate::wording;

/// Height of the drawing.
pub const HEIGHT: f32 = 100.0;
/// Below this height of the window it is folded unless the user says otherwise.
const TALL: f32 = 700.0;

/// How a system stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct State {
    clashes: usize,
    measure: usize,
    open: usize,
    /// Parts that stay and that nobody has looked at.
    unseen: usize,
}

impl State {
    /// All of it.
    fn whole(self) -> String {
        let mut parts = Vec::new();
        if self.clashes > 0 {
            parts.push(wording::misfits(self.clashes));
        }
        if self.measure > 0 {
            parts.push(format!("{} to measure", self.measure));
        }
        if self.open > 0 {
            parts.push(format!("{} to decide", wording::count(self.open, "companion", "companions")));
        }
        if self.unseen > 0 {
            parts.push(format!("{} to survey", wording::count(self.unseen, "part", "parts")));
        }
        if parts.is_empty() { "nothing is unresolved".to_owned() } else { parts.join(", ") }
    }

    /// It must be looked at.
    fn unresolved(self) -> bool {
        self.clashes > 0 || self.measure > 0
    }
}

/// How the systems stand, by their ids: the same counts as in the ledger, so that they add up to the strip.
fn states(a: &Told) -> BTreeMap<&str, State> {
    // what goes needs no looking at
    let stays = |p: &&PositionView| p.as_found.is_some() && p.fitted == p.as_found && p.verdict.is_none();
    let unseen = |id: &str| a.positions.iter().filter(|p| p.system == id).filter(stays).count();
    let state = |sum: &Sum| State {
        clashes: sum.clashes,
        measure: sum.measure,
        open: sum.open,
        unseen: unseen(&sum.id),
    };
    a.sums.iter().map(|sum| (sum.id.as_str(), state(sum))).collect()
}

/// Whether the drawing is shown: as the user set it, else where the window is tall enough.
pub fn shown(set: Option<bool>, height: f32) -> bool {
    set.unwrap_or(height >= TALL)
}

/// What is drawn beside the vehicle.
pub type Beside<'b> = &'b mut dyn FnMut(&mut Ui, &mut View, &mut Vec<Action>);

/// Draws the strip.
pub fn strip(ui: &mut Ui, a: &Told, body: &Drawing, view: &mut View, beside: Beside<'_>) -> Vec<Action> {
    let t = tokens(ui);
    let mut actions = Vec::new();
    let states = states(a);
    let systems: Vec<(&str, &str, State)> = a
        .systems
        .iter()
        .filter(|(id, _)| a.positions.iter().any(|p| p.system == *id))
        .filter_map(|(id, _)| {
            let state = states.get(id.as_str()).copied().unwrap_or_default();
            Some((id.as_str(), body.regions.get(id)?.label.as_str(), state))
        })
        .collect();
    let selected = selected(a, view);
    // what was under the pointer in the last frame: the names are drawn after the drawing
    let memory = egui::Id::unique("system under the pointer");
    let mut over: Option<String> = ui.data(|d| d.get_temp(memory)).flatten();
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 10.0;
        if fold(ui, &t).clicked() {
            actions.push(Action::Do(Command::Elevation));
        }
        let (place, response) = drawing(ui, body);
        let look = Look { systems: &systems, selected: selected.as_deref(), over: over.as_deref() };
        paint(ui, &t, body, place, &look);
        over = None;
        let pointer = response.hover_pos().map(|p| place.back(p)).and_then(|p| body.at(p));
        if let Some((id, label, state)) = pointer.and_then(|id| systems.iter().find(|(s, ..)| *s == id)) {
            over = Some((*id).to_owned());
            if ui.input(|i| i.pointer.primary_clicked()) {
                actions.push(Action::System((*id).to_owned()));
            }
            response.on_hover_text_at_pointer(format!("{label}: {}", state.whole()));
        }
        ui.vertical(|ui| {
            ui.add_space(8.0);
            beside(ui, view, &mut actions);
        });
    });
    ui.data_mut(|d| d.insert_temp(memory, over));
    actions
}

/// The system of what is selected.
fn selected(a: &Assessment, view: &View) -> Option<String> {
    let id = match view.selected.as_ref()? {
        Spot::Position(id) => id.clone(),
        Spot::Companion(key) => {
            let c = a.companions.iter().find(|c| c.key == *key)?;
            c.position.clone().or_else(|| c.cause.clone())?
        }
    };
    a.positions.iter().find(|p| p.id == id).map(|p| p.system.clone())
}

fn fold(ui: &mut Ui, t: &Tokens) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(TARGET), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Button, true, "Fold the vehicle away"));
    if response.hovered() {
        ui.painter().rect_filled(rect, 4, t.hover);
    }
    if response.has_focus() {
        ui.painter().rect_stroke(rect, 4, Stroke::new(2.0, t.cool), StrokeKind::Inside);
    }
    icons::fold(ui.painter(), rect.center(), true, t.soft);
    response.on_hover_text("Fold the vehicle away; the button beside Buying brings it back")
}

/// From millimetres to the screen.
#[derive(Clone, Copy)]
struct Place {
    corner: Pos2,
    scale: f32,
}

impl Place {
    fn to(self, p: Point) -> Pos2 {
        pos2(self.corner.x + p[0] * self.scale, self.corner.y - p[1] * self.scale)
    }

    fn back(self, p: Pos2) -> Point {
        [(p.x - self.corner.x) / self.scale, (self.corner.y - p.y) / self.scale]
    }
}

fn drawing(ui: &mut Ui, body: &Drawing) -> (Place, Response) {
    let [long, high] = body.size;
    let scale = HEIGHT / high;
    let (rect, response) = ui.allocate_exact_size(Vec2::new(long * scale, HEIGHT), Sense::hover());
    response.widget_info(|| egui::WidgetInfo::labeled(Role::Image, true, &body.about));
    (Place { corner: rect.left_bottom(), scale }, response)
}

/// What the painter must know of the systems.
struct Look<'a> {
    systems: &'a [(&'a str, &'a str, State)],
    selected: Option<&'a str>,
    over: Option<&'a str>,
}

fn paint(ui: &Ui, t: &Tokens, body: &Drawing, place: Place, look: &Look<'_>) {
    let p = ui.painter();
    // large regions first, so that what lies inside them stays visible
    let mut shapes: Vec<(&str, State, Vec<Pos2>)> = Vec::new();
    for (id, _, state) in look.systems {
        for shape in body.regions.get(*id).into_iter().flat_map(|r| &r.shapes) {
            shapes.push((id, *state, shape.iter().map(|q| place.to(*q)).collect()));
        }
    }
    let size = |points: &[Pos2]| {
        let r = Rect::from_points(points);
        r.width() * r.height()
    };
    shapes.sort_by(|a, b| size(&b.2).total_cmp(&size(&a.2)));
    for (id, state, points) in shapes {
        let (chosen, over) = (look.selected == Some(id), look.over == Some(id));
        let fill = if chosen {
            t.cool_ground
        } else if over {
            t.hover
        } else if state.unresolved() {
            t.warm_ground
        } else {
            Color32::TRANSPARENT
        };
        p.add(Shape::convex_polygon(points.clone(), fill, Stroke::NONE));
        let edge = |wide: f32, tone: Color32| Shape::closed_line(points.clone(), Stroke::new(wide, tone));
        let mut ring = points.clone();
        ring.extend(points.first().copied());
        if chosen || over {
            p.add(edge(2.0, t.cool));
        } else if state.clashes > 0 {
            p.add(edge(2.0, t.warm));
            hatch(ui, &points, t.warm);
        } else if state.measure > 0 {
            p.extend(Shape::dashed_line(&ring, Stroke::new(PEN, t.warm), 3.0, 2.5));
        } else if state.open > 0 {
            p.add(edge(1.0, t.soft));
        }
    }
    for line in body.lines.values() {
        p.line(line.iter().map(|q| place.to(*q)).collect(), Stroke::new(1.2, t.ink));
    }
    for shape in body.regions.get("wheels").into_iter().flat_map(|r| &r.shapes) {
        p.add(Shape::closed_line(shape.iter().map(|q| place.to(*q)).collect(), Stroke::new(PEN, t.ink)));
    }
}

/// Slanting lines inside a convex shape: what does not fit.
fn hatch(ui: &Ui, points: &[Pos2], tone: Color32) {
    let r = Rect::from_points(points);
    let mut c = r.left() + r.top();
    while c < r.right() + r.bottom() {
        // where x + y = c crosses the edges
        let mut cuts: Vec<Pos2> = Vec::new();
        for (a, b) in points.iter().zip(points.iter().cycle().skip(1)) {
            let (da, db) = (a.x + a.y - c, b.x + b.y - c);
            if (da < 0.0) != (db < 0.0) {
                cuts.push(a.lerp(*b, da / (da - db)));
            }
        }
        if let [a, b] = cuts.as_slice() {
            ui.painter().line_segment([*a, *b], Stroke::new(1.0, tone));
        }
        c += 5.0;
    }
}

#[cfg(test)]
mod tests {
    use super::{State, shown};

    #[test]
    fn all_of_it_is_said_under_the_pointer_the_worst_first() {
        let state = State { clashes: 1, measure: 2, open: 3, unseen: 4 };
        assert_eq!(state.whole(), "1 does not fit, 2 to measure, 3 companions to decide, 4 parts to survey");
        assert_eq!(State::default().whole(), "nothing is unresolved");
    }

    #[test]
    fn a_low_window_folds_it_unless_the_user_says_otherwise() {
        assert!(shown(None, 768.0) && !shown(None, 640.0));
        assert!(shown(Some(true), 640.0) && !shown(Some(false), 900.0));
    }
}
