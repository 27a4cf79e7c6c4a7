//! Drawing to scale: millimetres become points of the screen, with dimension lines and a scale bar.

use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, Vec2, pos2};
use knockon_core::showing::Measure;
use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::say;
use crate::look::theme;
use crate::look::tokens::{PEN, Tokens};

/// A place on the drawing, mm: to the right, up.
pub type At = (f64, f64);

/// Where millimetres fall on the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    /// Points of the screen for each millimetre.
    pub per_mm: f32,
    origin: Pos2,
}

impl Scale {
    /// The largest scale at which all of `low` to `high` lies in the rectangle, in its middle.
    pub fn fit(rect: Rect, low: At, high: At) -> Self {
        let (wide, tall) = ((high.0 - low.0).max(1.0) as f32, (high.1 - low.1).max(1.0) as f32);
        let per_mm = (rect.width().max(1.0) / wide).min(rect.height().max(1.0) / tall);
        let middle = Vec2::new((low.0 + high.0) as f32 / 2.0, -(low.1 + high.1) as f32 / 2.0);
        Self { per_mm, origin: rect.center() - middle * per_mm }
    }

    /// The same scale with its zero at a place of this one.
    pub fn moved(&self, at: At) -> Self {
        Self { origin: self.at(at), ..*self }
    }

    /// On the screen.
    pub fn at(&self, (x, y): At) -> Pos2 {
        self.origin + Vec2::new(x as f32, -y as f32) * self.per_mm
    }
}

/// A sheet of the drawing board.
#[derive(Clone)]
pub struct Board<'a> {
    /// What draws.
    pub paint: &'a Painter,
    /// Colours.
    pub t: Tokens,
    /// Where.
    pub scale: Scale,
    /// The whole sheet.
    pub rect: Rect,
    measure: Measure,
}

impl<'a> Board<'a> {
    /// A sheet on which all of `low` to `high` has room, with a rim for dimension lines.
    pub fn new(paint: &'a Painter, t: Tokens, rect: Rect, measure: Measure, low: At, high: At) -> Self {
        Self::within(paint, t, (rect, Vec2::new(64.0, 44.0)), measure, low, high)
    }

    /// The same with a rim of its own: to the sides, and below; above it is 10 points less.
    pub fn within(
        paint: &'a Painter,
        t: Tokens,
        (rect, rim): (Rect, Vec2),
        measure: Measure,
        low: At,
        high: At,
    ) -> Self {
        let inner = Rect::from_min_max(rect.min + rim - Vec2::new(0.0, 10.0), rect.max - rim);
        Self { paint, t, scale: Scale::fit(inner, low, high), rect, measure }
    }

    /// On the screen.
    pub fn at(&self, at: At) -> Pos2 {
        self.scale.at(at)
    }

    /// The same sheet with the zero at a place of it.
    pub fn moved(&self, at: At) -> Self {
        Self { scale: self.scale.moved(at), ..self.clone() }
    }

    /// A pen.
    pub fn pen(&self, tone: Color32) -> Stroke {
        Stroke::new(PEN, tone)
    }

    /// A line through points.
    pub fn path(&self, points: &[At], stroke: Stroke) {
        let points: Vec<Pos2> = points.iter().map(|p| self.at(*p)).collect();
        self.paint.add(Shape::line(points, stroke));
    }

    /// A dashed line through points.
    pub fn dashed(&self, points: &[At], stroke: Stroke) {
        let points: Vec<Pos2> = points.iter().map(|p| self.at(*p)).collect();
        self.paint.extend(Shape::dashed_line(&points, stroke, 6.0, 4.0));
    }

    /// A closed outline; the points go round a shape without dents.
    pub fn body(&self, points: &[At], fill: Color32, stroke: Stroke) {
        let points: Vec<Pos2> = points.iter().map(|p| self.at(*p)).collect();
        self.paint.add(Shape::convex_polygon(points, fill, stroke));
    }

    /// A circle.
    pub fn circle(&self, at: At, radius: f64, stroke: Stroke) {
        self.paint.circle_stroke(self.at(at), radius as f32 * self.scale.per_mm, stroke);
    }

    /// Words beside a place, on the ground of the sheet so that lines do not run through them.
    pub fn words(&self, at: Pos2, align: Align2, text: &str, tone: Color32) {
        words(self.paint, &self.t, self.rect, at, align, text, tone);
    }

    /// A dimension line from `a` to `b`, moved aside by `aside` points of the screen: looking from `a` to `b`, to the
    /// right where that is more than nothing.
    pub fn dimension(&self, a: At, b: At, aside: f32, text: &str) {
        let (from, to) = (self.at(a), self.at(b));
        let along = (to - from).normalized();
        let side = Vec2::new(-along.y, along.x) * aside;
        let (p, q) = (from + side, to + side);
        let thin = Stroke::new(1.0, self.t.soft);
        if aside.abs() > 2.0 {
            let past = side.normalized() * 4.0;
            self.paint.line_segment([from + past, p + past], thin);
            self.paint.line_segment([to + past, q + past], thin);
        }
        let size = self.paint.layout_no_wrap(text.to_owned(), theme::small(), self.t.ink).size();
        let level = along.x.abs() > along.y.abs();
        let short = p.distance(q) < if level { size.x } else { size.y } + 26.0;
        let reach = if short { along * 16.0 } else { Vec2::ZERO };
        self.paint.line_segment([p - reach, q + reach], thin);
        let out = if short { -1.0 } else { 1.0 };
        self.arrow(p, along * out);
        self.arrow(q, -along * out);
        // where there is no room between the arrows the figure stands behind the second one
        let text_at = if short { q + along * 20.0 } else { p + (q - p) / 2.0 };
        let align = match (short && level, along.x > 0.0) {
            (false, _) => Align2::CENTER_CENTER,
            (true, true) => Align2::LEFT_CENTER,
            (true, false) => Align2::RIGHT_CENTER,
        };
        self.words(text_at, align, text, self.t.ink);
    }

    /// An arrow head whose point lies at `tip`; the shaft runs along.
    fn arrow(&self, tip: Pos2, along: Vec2) {
        let side = Vec2::new(along.y, -along.x) * 3.0;
        let base = tip + along * 9.0;
        self.paint.add(Shape::convex_polygon(vec![tip, base + side, base - side], self.t.soft, Stroke::NONE));
    }

    /// The scale bar, at the lower left.
    pub fn bar(&self) {
        let mm = bar_mm(f64::from(self.scale.per_mm), self.measure);
        let long = mm as f32 * self.scale.per_mm;
        let left = pos2(self.rect.left() + 14.0, self.rect.bottom() - 14.0);
        let pen = Stroke::new(1.0, self.t.soft);
        self.paint.line_segment([left, left + Vec2::new(long, 0.0)], pen);
        for x in [0.0, long] {
            self.paint.line_segment([left + Vec2::new(x, -4.0), left + Vec2::new(x, 4.0)], pen);
        }
        let text = say::length(Length::new::<millimeter>(mm), self.measure);
        self.words(left + Vec2::new(long + 8.0, 0.0), Align2::LEFT_CENTER, &text, self.t.soft);
    }
}

/// Words on the ground of the sheet, pushed inside the rectangle where they would leave it.
pub fn words(paint: &Painter, t: &Tokens, within: Rect, at: Pos2, align: Align2, text: &str, tone: Color32) {
    let font: FontId = theme::small();
    let galley = paint.layout_no_wrap(text.to_owned(), font, tone);
    let mut place = align.anchor_size(at, galley.size()).expand2(Vec2::new(3.0, 1.0));
    let room = within.shrink(2.0);
    let right = (room.right() - place.right()).min(0.0);
    place = place.translate(Vec2::new(right, (room.bottom() - place.bottom()).min(0.0)));
    let left = (room.left() - place.left()).max(0.0);
    place = place.translate(Vec2::new(left, (room.top() - place.top()).max(0.0)));
    paint.rect_filled(place, 2, t.sheet.gamma_multiply(0.85));
    paint.galley(place.min + Vec2::new(3.0, 1.0), galley, tone);
}

/// The longest of 1, 2, 5, 10, .. mm, or 1/2, 1, 2, 4, .. in, that is no longer than 120 points on the screen, in mm.
fn bar_mm(per_mm: f64, measure: Measure) -> f64 {
    const MOST: f64 = 120.0;
    let steps: [f64; 9] = match measure {
        Measure::Metric => [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0],
        Measure::Inch => [12.7, 25.4, 50.8, 101.6, 152.4, 203.2, 304.8, 609.6, 914.4],
    };
    let first = steps.first().copied().unwrap_or(1.0);
    steps.into_iter().rfind(|mm| mm * per_mm <= MOST).unwrap_or(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn everything_has_room_and_nothing_is_stretched() {
        let rect = Rect::from_min_max(pos2(10.0, 20.0), pos2(410.0, 220.0));
        for (low, high) in
            [((0.0, 0.0), (700.0, 700.0)), ((-50.0, 10.0), (950.0, 60.0)), ((3.0, 3.0), (3.0, 3.0))]
        {
            let scale = Scale::fit(rect, low, high);
            for corner in [low, high, (low.0, high.1)] {
                assert!(rect.expand(0.01).contains(scale.at(corner)), "{corner:?}");
            }
            let (a, b) = (scale.at(low), scale.at((low.0 + 10.0, low.1 + 10.0)));
            assert!(((b.x - a.x) - (a.y - b.y)).abs() < 1e-3, "one scale both ways, up is up");
        }
        assert!((Scale::fit(rect, (0.0, 0.0), (800.0, 100.0)).per_mm - 0.5).abs() < 1e-6);
    }

    #[test]
    fn the_bar_is_round_and_short_enough() {
        for per_mm in [0.01, 0.2, 0.5, 1.0, 3.7, 40.0] {
            for measure in [Measure::Inch, Measure::Metric] {
                let mm = bar_mm(per_mm, measure);
                assert!(mm * per_mm <= 120.0 || mm <= 12.7, "{per_mm}: {mm}");
            }
        }
        assert!((bar_mm(0.5, Measure::Metric) - 200.0).abs() < 1e-9);
    }
}
