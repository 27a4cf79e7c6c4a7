//! The desk's own shapes, drawn as strokes.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};
use knockon_core::sheet::LineState;

use crate::look::tokens::PEN;

/// How a position stands, as shape and word.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Joint closed.
    Fits,
    /// Closed with a bridge.
    FitsWith,
    /// A part it needs is left out.
    Without,
    /// A clash.
    Clash,
    /// A dimension is wanted.
    Measure,
    /// Lost its job.
    Surplus,
    /// Nothing there.
    Empty,
}

impl Mark {
    /// The word beside the shape.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fits => "fits",
            Self::FitsWith => "fits with a part between",
            Self::Without => "goes without",
            Self::Clash => "does not fit",
            Self::Measure => "measure",
            Self::Surplus => "no longer needed",
            Self::Empty => "empty",
        }
    }

    /// It is unresolved.
    pub fn open(self) -> bool {
        matches!(self, Self::Clash | Self::Measure)
    }

    /// Draws it around a centre, about 16 wide.
    pub fn paint(self, p: &Painter, c: Pos2, color: Color32) {
        let pen = Stroke::new(PEN, color);
        match self {
            Self::Fits => {
                half(p, c + vec2(-1.2, 0.0), 4.6, true, pen);
                half(p, c + vec2(1.2, 0.0), 4.6, false, pen);
            }
            Self::FitsWith => {
                half(p, c + vec2(-3.0, 0.0), 4.5, true, pen);
                half(p, c + vec2(3.0, 0.0), 4.5, false, pen);
                p.line_segment([c - vec2(3.0, 0.0), c + vec2(3.0, 0.0)], Stroke::new(2.5, color));
            }
            Self::Without => {
                half(p, c + vec2(-3.0, 0.0), 4.5, true, pen);
                half(p, c + vec2(3.0, 0.0), 4.5, false, pen);
                p.line_segment([c + vec2(-2.0, 5.0), c + vec2(2.0, -5.0)], pen);
            }
            Self::Clash => {
                let pen = Stroke::new(2.0, color);
                half(p, c + vec2(-2.5, -2.5), 4.5, true, pen);
                half(p, c + vec2(2.5, 2.5), 4.5, false, pen);
            }
            Self::Measure => dimension(p, c, pen),
            Self::Surplus => {
                p.rect_stroke(
                    Rect::from_center_size(c - vec2(0.0, 2.5), vec2(9.0, 6.0)),
                    1,
                    pen,
                    egui::StrokeKind::Middle,
                );
                p.line_segment([c + vec2(-7.0, 5.0), c + vec2(7.0, 5.0)], pen);
            }
            Self::Empty => dashes(p, &[c + vec2(-6.0, 5.0), c + vec2(6.0, 5.0)], pen),
        }
    }
}

fn half(p: &Painter, c: Pos2, r: f32, left: bool, pen: Stroke) {
    let side = if left { std::f32::consts::FRAC_PI_2 } else { -std::f32::consts::FRAC_PI_2 };
    let points = (0..=10_u8)
        .map(|i| {
            let a = side + f32::from(i) / 10.0 * std::f32::consts::PI;
            c + Vec2::angled(a) * r
        })
        .collect();
    p.line(points, pen);
}

fn dimension(p: &Painter, c: Pos2, pen: Stroke) {
    for s in [-1.0, 1.0] {
        let tip = c + vec2(7.0 * s, 0.0);
        p.line_segment([c + vec2(2.5 * s, 0.0), tip], pen);
        p.line(vec![tip + vec2(-3.0 * s, -3.0), tip, tip + vec2(-3.0 * s, 3.0)], pen);
        p.line_segment([tip + vec2(1.0 * s, -5.0), tip + vec2(1.0 * s, 5.0)], pen);
    }
}

/// A tag on its thread.
pub fn tag(p: &Painter, c: Pos2, color: Color32) {
    let pen = Stroke::new(PEN, color);
    let (x, y) = (c.x, c.y);
    p.add(Shape::closed_line(
        vec![
            pos2(x - 6.0, y),
            pos2(x - 2.0, y - 4.5),
            pos2(x + 6.0, y - 4.5),
            pos2(x + 6.0, y + 4.5),
            pos2(x - 2.0, y + 4.5),
        ],
        pen,
    ));
    p.circle_filled(pos2(x - 2.0, y), 1.2, color);
}

/// A thread: solid where required, dashed where advised, cut where left out.
pub fn thread(p: &Painter, points: &[Pos2], solid: bool, color: Color32) {
    let pen = Stroke::new(1.2, color);
    if solid {
        p.line(points.to_vec(), pen);
    } else {
        dashes(p, points, pen);
    }
}

fn dashes(p: &Painter, points: &[Pos2], pen: Stroke) {
    p.extend(Shape::dashed_line(points, pen, 3.0, 3.0));
}

/// Where a line stands: an open cup that fills, with a lid once it is fitted. Never a square, which is a box to tick.
pub fn line_state(p: &Painter, c: Pos2, state: LineState, color: Color32) {
    let part = match state {
        LineState::ToBuy | LineState::SentBack => 0.0,
        LineState::OnOrder => 1.0 / 3.0,
        LineState::InHand => 2.0 / 3.0,
        LineState::Fitted => 1.0,
    };
    let pen = Stroke::new(PEN, color);
    let r = Rect::from_center_size(c, vec2(11.0, 11.0));
    let mut fill = r;
    fill.set_top(r.bottom() - r.height() * part);
    p.rect_filled(fill, 0, color);
    p.line(vec![r.left_top(), r.left_bottom(), r.right_bottom(), r.right_top()], pen);
    match state {
        LineState::Fitted => {
            let lid = r.top() - 1.5;
            p.line_segment([pos2(r.left() - 2.0, lid), pos2(r.right() + 2.0, lid)], pen);
        }
        LineState::SentBack => drop(p.line_segment([r.left_bottom(), r.right_top()], pen)),
        _ => {}
    }
}

/// A tick.
pub fn tick(p: &Painter, c: Pos2, color: Color32) {
    p.line(vec![c + vec2(-4.5, 0.0), c + vec2(-1.0, 4.0), c + vec2(5.0, -4.0)], Stroke::new(2.0, color));
}

/// A caution: a bordered mark with a bar and a dot.
pub fn caution(p: &Painter, c: Pos2, color: Color32) {
    let pen = Stroke::new(PEN, color);
    p.add(Shape::closed_line(vec![c + vec2(0.0, -7.0), c + vec2(7.5, 6.0), c + vec2(-7.5, 6.0)], pen));
    p.line_segment([c + vec2(0.0, -2.5), c + vec2(0.0, 2.0)], pen);
    p.circle_filled(c + vec2(0.0, 4.0), 1.0, color);
}

/// Two rings side by side, as of a pair of eyes: to be looked at twice.
pub fn twice(p: &Painter, c: Pos2, color: Color32) {
    let pen = Stroke::new(1.2, color);
    for side in [-1.0, 1.0] {
        p.circle_stroke(c + vec2(3.6 * side, 0.0), 3.0, pen);
        p.circle_filled(c + vec2(3.6 * side, 0.0), 1.0, color);
    }
}

/// A bent arrow: back, or mirrored for forward.
pub fn turn(p: &Painter, c: Pos2, back: bool, color: Color32) {
    let s = if back { 1.0 } else { -1.0 };
    let pen = Stroke::new(PEN, color);
    let at = |x: f32, y: f32| c + vec2(x * s, y);
    let arc = (0..=10_u8).map(|i| {
        let a = -std::f32::consts::FRAC_PI_2 + f32::from(i) / 10.0 * std::f32::consts::PI;
        at(2.0 + 4.0 * a.cos(), 1.0 + 4.0 * a.sin())
    });
    p.line(std::iter::once(at(-6.0, -3.0)).chain(arc).chain([at(-3.0, 5.0)]).collect(), pen);
    p.line(vec![at(-3.0, -6.0), at(-6.0, -3.0), at(-3.0, 0.0)], pen);
}

/// Half filled disc: light and dark.
pub fn shade(p: &Painter, c: Pos2, color: Color32) {
    p.circle_stroke(c, 6.0, Stroke::new(PEN, color));
    let points = (0..=12_u8)
        .map(|i| {
            c + Vec2::angled(std::f32::consts::FRAC_PI_2 + f32::from(i) / 12.0 * std::f32::consts::PI) * 6.0
        })
        .collect();
    p.add(Shape::convex_polygon(points, color, Stroke::NONE));
}

/// A lens.
pub fn lens(p: &Painter, c: Pos2, color: Color32) {
    let pen = Stroke::new(PEN, color);
    p.circle_stroke(c - vec2(1.5, 1.5), 4.5, pen);
    p.line_segment([c + vec2(2.0, 2.0), c + vec2(6.0, 6.0)], pen);
}

/// A small open corner: folded to the right, or down.
pub fn fold(p: &Painter, c: Pos2, open: bool, color: Color32) {
    let pen = Stroke::new(PEN, color);
    let points = if open {
        vec![c + vec2(-4.0, -2.0), c + vec2(0.0, 2.0), c + vec2(4.0, -2.0)]
    } else {
        vec![c + vec2(-2.0, -4.0), c + vec2(2.0, 0.0), c + vec2(-2.0, 4.0)]
    };
    p.line(points, pen);
}

/// A vehicle from the side; its wheels are filled while its drawing is shown.
pub fn vehicle(p: &Painter, c: Pos2, shown: bool, color: Color32) {
    let pen = Stroke::new(PEN, color);
    let at = |x: f32, y: f32| c + vec2(x, y);
    let body = [
        at(-10.0, 4.0),
        at(-10.0, -0.5),
        at(-3.5, -1.0),
        at(-1.0, -5.5),
        at(3.0, -5.5),
        at(3.0, -0.5),
        at(10.0, -0.5),
        at(10.0, 4.0),
    ];
    p.add(Shape::closed_line(body.to_vec(), pen));
    for x in [-6.0, 6.0] {
        p.circle(at(x, 4.5), 2.6, if shown { color } else { Color32::TRANSPARENT }, pen);
    }
}
