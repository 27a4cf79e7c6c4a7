//! The drawing of a lift: vehicle in side view, damper and its travel.

use egui::{Align2, Color32, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use super::{Lie, Lift, leaf, lower_eye, upper_eye};
use crate::fitup::scale::{At, Board, words};
use crate::fitup::{driveline, say};
use crate::look::tokens::{PEN, Tokens};

impl Lift {
    /// The drawing.
    pub(super) fn drawn(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        // the damper below where there is height for it, else beside
        let (whole, detail) = if rect.height() > 300.0 {
            let split = rect.top() + rect.height() * 0.56;
            (rect.with_max_y(split), rect.with_min_y(split))
        } else {
            let split = rect.right() - (rect.width() * 0.36).clamp(140.0, 280.0);
            (rect.with_max_x(split), rect.with_min_x(split))
        };
        self.travel(&ui.painter_at(detail), t, (detail, whole.width() > detail.width()), m);
        let paint = ui.painter_at(whole);
        let s = self.sizes;
        let lift = self.lift.get::<millimeter>();
        let (run, _) = self.lies[0].mm();
        let eyes = s.radius + s.arch;
        let gearbox = self.lies.iter().map(|lie| s.radius + lie.mm().1).fold(0.0, f64::max);
        let top = (eyes + lift.max(0.0)).max(gearbox).max(s.radius * 2.0);
        let top = top.max(upper_eye(s.foot, &self.mounts[1]).1);
        let (left, right) = (-(run + s.nose + 170.0).max(s.front).max(s.radius), s.rear.max(s.radius) + 60.0);
        let b = Board::within(&paint, *t, (whole, egui::vec2(40.0, 40.0)), m, (left, 0.0), (right, top));
        b.path(&[(left, 0.0), (right, 0.0)], Stroke::new(1.0, t.edge));
        b.circle((0.0, s.radius), s.radius, Stroke::new(PEN, t.edge));
        b.circle((0.0, s.radius), 40.0, b.pen(t.ink));
        self.state(&b, 0, t.soft);
        self.state(&b, 1, t.ink);
        for (from, to, long) in [(-s.front, 0.0, s.front), (0.0, s.rear, s.rear)] {
            b.dimension((from, 0.0), (to, 0.0), 16.0, &say::length(Length::new::<millimeter>(long), m));
        }
        if lift.abs() > 0.5 {
            let x = s.rear + 40.0;
            b.dimension((x, eyes), (x, eyes + lift), 0.0, &format!("lift {}", say::length(self.lift, m)));
        }
        let [was, now] = &self.lies;
        let ends =
            |joint: fn(&Lie) -> Angle| format!("{}, was {}", say::angle(joint(now)), say::angle(joint(was)));
        let below = egui::vec2(0.0, 12.0);
        let axle = (-s.nose, s.radius);
        b.words(
            b.at(axle) + below,
            Align2::RIGHT_TOP,
            &format!("axle joint {}", ends(|l| l.joints.pinion)),
            t.ink,
        );
        let gearbox = (-s.nose - run, s.radius + now.mm().1);
        let text = format!("gearbox joint {}", ends(|l| l.joints.output));
        b.words(b.at(gearbox) - below, Align2::LEFT_BOTTOM, &text, t.ink);
        b.words(b.at((0.0, s.radius * 0.45)), Align2::CENTER_CENTER, "tyre", t.soft);
        let clear = egui::vec2(6.0, 0.0);
        b.words(b.at((-s.front, eyes + lift)) - clear, Align2::RIGHT_CENTER, "spring", t.ink);
        b.words(b.at(upper_eye(s.foot, &self.mounts[1])) + clear, Align2::LEFT_CENTER, "damper", t.ink);
        b.words(b.at((left, 0.0)) - egui::vec2(0.0, 3.0), Align2::LEFT_BOTTOM, "dashed: as it was", t.soft);
        b.bar();
    }

    /// The vehicle before (0) or after (1) the lift; the axle stays where it is.
    fn state(&self, b: &Board<'_>, which: usize, tone: Color32) {
        let s = self.sizes;
        let up = if which == 0 { 0.0 } else { self.lift.get::<millimeter>() };
        let (Some(mount), Some(lie)) = (self.mounts.get(which), self.lies.get(which)) else { return };
        let ghost = which == 0;
        let line = |points: &[At], wide: f32| {
            if ghost {
                b.dashed(points, Stroke::new(1.0, tone))
            } else {
                b.path(points, Stroke::new(wide, tone))
            }
        };
        let spring = leaf(s.front, s.rear, s.arch + up, (0.0, s.radius));
        line(&spring, 3.0);
        let eye = upper_eye(s.foot, mount);
        line(&[s.foot, eye], 4.0);
        if !ghost {
            let eyes = [spring.first().copied(), spring.last().copied(), Some(s.foot), Some(eye)];
            for at in eyes.into_iter().flatten() {
                b.paint.circle(b.at(at), 4.0, b.t.sheet, Stroke::new(PEN, tone));
            }
        }
        let (run, _) = lie.mm();
        // in the driveline's own drawing the axle joint lies at the right end and at height nothing
        let shifted = b.moved((-run - s.nose, s.radius));
        driveline::shaft(&shifted, lie, self.tilts, tone, ghost);
        line(&[(-s.nose, s.radius), (0.0, s.radius)], 5.0);
    }

    /// The damper hanging from its upper eye at bump, ride height and droop, at a scale of its own; what it can do
    /// against what it must do stands above it, or beside it where it lies below the vehicle.
    fn travel(&self, paint: &egui::Painter, t: &Tokens, (rect, beside): (Rect, bool), m: Measure) {
        let eye = (0.0, 0.0);
        let feet = self.places.map(|at| lower_eye(eye, &at));
        let aside = feet.iter().map(|foot| foot.0).fold(0.0, f64::min);
        let low = feet.iter().map(|foot| foot.1).fold(0.0, f64::min);
        let thin = Stroke::new(1.0, t.line);
        let (room, bars) = if beside {
            paint.vline(rect.left(), rect.top() + 10.0..=rect.bottom() - 10.0, thin);
            (rect.with_min_y(rect.top() + 66.0), rect)
        } else {
            paint.hline(rect.left() + 10.0..=rect.right() - 10.0, rect.top(), thin);
            let split = rect.left() + rect.width() * 0.45;
            (rect.with_max_x(split), rect.with_min_x(split))
        };
        // to the right of it there is room for the words
        let drawn = room.with_max_x(room.right() - 110.0);
        let mut b = Board::within(paint, *t, (drawn, egui::vec2(20.0, 36.0)), m, (aside, low), (20.0, 0.0));
        b.rect = room;
        let [_, fit] = &self.fits;
        let tone = |holds: bool| if holds { t.ink } else { t.warm };
        let tones = [tone(fit.at_bump.holds()), t.ink, tone(fit.at_droop.holds())];
        let places = feet.iter().zip(tones).zip(["at bump", "at ride height", "at droop"]).zip(&self.places);
        for (((foot, tone), word), _) in places.clone() {
            if word == "at ride height" {
                b.path(&[*foot, eye], Stroke::new(4.0, tone));
            } else {
                b.dashed(&[*foot, eye], Stroke::new(1.0, tone));
            }
        }
        for (((foot, tone), word), at) in places {
            b.paint.circle(b.at(*foot), 4.0, t.sheet, Stroke::new(PEN, tone));
            let text = format!("{word} {}", say::length(at.length, m));
            b.words(b.at(*foot) + egui::vec2(10.0, 0.0), Align2::LEFT_CENTER, &text, tone);
        }
        b.paint.circle(b.at(eye), 4.0, t.sheet, Stroke::new(PEN, t.ink));
        let [_, mount] = &self.mounts;
        let text = format!("damper, lifted; leans {}", say::angle(mount.lean));
        b.words(b.at(eye) + egui::vec2(8.0, -4.0), Align2::LEFT_CENTER, &text, t.ink);
        b.bar();
        self.stroke(paint, t, bars, m);
    }

    /// What the damper can do against what it must do, as two bars.
    fn stroke(&self, paint: &egui::Painter, t: &Tokens, rect: Rect, m: Measure) {
        let [_, fit] = &self.fits;
        let holds = fit.at_bump.holds() && fit.at_droop.holds();
        let (has, wants) =
            ([self.damper.closed, self.damper.open], [self.wanted.closed_at_most, self.wanted.open_at_least]);
        // a scale of their own, from the shortest to the longest: what counts is which end reaches further
        let least = self.damper.closed.min(self.wanted.closed_at_most);
        let span = (self.damper.open.max(self.wanted.open_at_least) - least).get::<millimeter>().max(1.0);
        let left = rect.left() + 12.0;
        let wide = rect.width() - 40.0;
        let x = |l: Length| left + ((l - least).get::<millimeter>() / span) as f32 * wide;
        for (row, word, [low, high], tone) in [
            (0.0, "damper wanted", wants, t.soft),
            (1.0, "damper fitted", has, if holds { t.cool } else { t.warm }),
        ] {
            let y = rect.top() + 16.0 + row * 30.0;
            let text = format!("{word}: {} to {}", say::length(low, m), say::length(high, m));
            words(paint, t, rect, egui::pos2(left, y), Align2::LEFT_CENTER, &text, tone);
            let y = y + 12.0;
            paint.line_segment([egui::pos2(x(low), y), egui::pos2(x(high), y)], Stroke::new(5.0, tone));
        }
    }
}
