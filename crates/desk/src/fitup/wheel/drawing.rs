//! The drawing of a wheel over its brake, in section.

use egui::{Align2, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use knockon_figures::wheels::USUAL_FLANGE_MM;
use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::{Section, gap_words, mm};
use crate::fitup::say;
use crate::fitup::scale::{At, Board};
use crate::look::tokens::Tokens;

impl Section {
    /// The drawing.
    pub(super) fn drawn(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let len = |l: Length| l.get::<millimeter>();
        let spacer = len(self.spacer);
        let (inner, outer) = (len(self.edges.0) + spacer, len(self.edges.1) + spacer);
        let wheel: Vec<At> = self.wheel.iter().map(mm).map(|(z, r)| (z + spacer, r)).collect();
        let brake: Vec<At> = self.brake.iter().map(mm).collect();
        let all = || wheel.iter().chain(&brake);
        let least = |pick: fn(&At) -> f64| all().map(pick).fold(f64::INFINITY, f64::min);
        let most = |pick: fn(&At) -> f64| all().map(pick).fold(f64::NEG_INFINITY, f64::max);
        let simple = self.measured.0 == 0;
        let seat = if simple { len(self.wheel_sizes.rim) / 2.0 } else { most(|p| p.1) };
        let low = (least(|p| p.0).min(0.0) - 20.0, least(|p| p.1) - 34.0);
        let high = (outer.max(most(|p| p.0)) + 30.0, seat.max(most(|p| p.1)) + 34.0);
        let b = Board::new(&paint, *t, rect, m, low, high);
        // hub face and what the wheel stands on
        b.dashed(&[(0.0, low.1), (0.0, high.1)], Stroke::new(1.0, t.soft));
        b.words(b.at((0.0, low.1)), Align2::CENTER_TOP, "hub face", t.soft);
        let (bore, pad) = (len(self.wheel_sizes.bore) / 2.0, len(self.wheel_sizes.pad) / 2.0);
        if spacer > 0.0 {
            let foot = wheel.last().map_or(bore, |p| p.1);
            let top = if simple { pad } else { foot + 30.0 };
            b.body(&[(0.0, foot), (spacer, foot), (spacer, top), (0.0, top)], t.tied_ground, b.pen(t.edge));
            b.words(b.at((spacer, foot)), Align2::LEFT_TOP, "spacer", t.soft);
        }
        if self.measured.1 == 0 {
            self.caliper(&b, &brake);
        } else {
            b.path(&brake, Stroke::new(2.5, t.ink));
            if let (Some(first), Some(last)) = (brake.first(), brake.last()) {
                b.dashed(&[*first, *last], b.pen(t.soft));
                b.words(b.at(*first), Align2::LEFT_TOP, "brake, as measured", t.ink);
            }
        }
        // the wheel: inner outline heavy, its outside after the thickness of the metal
        b.path(&wheel, Stroke::new(3.5, t.ink));
        if simple {
            let (join, barrel) = wheel.get(2).copied().unwrap_or_default();
            b.path(&[(join, barrel), (outer - 10.0, barrel + 2.0), (outer, seat)], Stroke::new(3.5, t.ink));
            for z in [inner, outer] {
                b.path(&[(z, seat), (z, seat + USUAL_FLANGE_MM)], Stroke::new(3.5, t.ink));
            }
            b.words(b.at((inner + 16.0, barrel + 9.0)), Align2::LEFT_CENTER, "wheel", t.ink);
            let edge = seat + USUAL_FLANGE_MM;
            b.dimension((inner, edge), (outer, edge), -14.0, &say::length(self.whole, m));
        } else {
            for p in &wheel {
                b.paint.circle_filled(b.at(*p), 3.0, t.ink);
            }
            if let Some(first) = wheel.first() {
                b.words(
                    b.at(*first) - egui::vec2(0.0, 6.0),
                    Align2::LEFT_BOTTOM,
                    "wheel, as measured",
                    t.ink,
                );
            }
        }
        // the gap at its nearest points
        let (wheel_at, brake_at) = (mm(&self.over.wheel), mm(&self.over.brake));
        let (words, holds) = gap_words(&self.over.gap, m);
        let tone = if holds { t.cool } else { t.warm };
        b.path(&[wheel_at, brake_at], Stroke::new(2.0, tone));
        for p in [wheel_at, brake_at] {
            b.paint.circle_filled(b.at(p), 3.5, tone);
        }
        // on the free side of the two points
        let beside = b.at(((wheel_at.0 + brake_at.0) / 2.0, (wheel_at.1 + brake_at.1) / 2.0));
        let inboard = wheel_at.0 < 0.0;
        let (step, align) = if inboard { (-44.0, Align2::RIGHT_CENTER) } else { (44.0, Align2::LEFT_CENTER) };
        let tag = beside + egui::vec2(step, 0.0);
        b.paint.line_segment([beside, tag], Stroke::new(1.0, tone));
        b.words(tag, align, &format!("gap {}", say::length(self.over.gap.found, m)), tone);
        let foot = egui::pos2(rect.right() - 14.0, rect.bottom() - 14.0);
        b.words(foot, Align2::RIGHT_CENTER, &words, tone);
        if self.measured.1 == 0 && len(self.brake_sizes.out).abs() > 0.5 {
            let (out, low) = (len(self.brake_sizes.out), brake.first().map_or(0.0, |p| p.1));
            b.dimension((0.0, low), (out, low), 20.0, &say::length(self.brake_sizes.out, m));
        }
        b.bar();
    }

    /// Rotor with its hat to the hub face, caliper over it.
    fn caliper(&self, b: &Board<'_>, brake: &[At]) {
        let len = |l: Length| l.get::<millimeter>();
        let (near, far) = (len(self.rotor.0), len(self.rotor.1));
        let (bore, pad) = (len(self.wheel_sizes.bore) / 2.0, len(self.wheel_sizes.pad) / 2.0);
        let (hat, rim, reach) = (pad - 6.0, len(self.brake_sizes.rotor) / 2.0, len(self.brake_sizes.reach));
        let foot = (rim - reach).max(hat).min(rim);
        let rotor = [(near, foot), (far, foot), (far, rim), (near, rim)];
        b.path(&[(far, foot), (far, hat), (0.0, hat), (0.0, bore)], b.pen(b.t.soft));
        b.body(brake, b.t.tied_ground, b.pen(b.t.ink));
        b.body(&rotor, b.t.hover, b.pen(b.t.soft));
        let middle = (near + far) / 2.0;
        b.words(b.at((middle, rim - reach * 0.55)), Align2::CENTER_CENTER, "rotor", b.t.soft);
        let top = len(self.brake_sizes.envelope) / 2.0;
        let left = len(self.brake_sizes.out) - len(self.brake_sizes.width) * 0.86;
        b.words(b.at((left, top - 12.0)), Align2::LEFT_CENTER, "caliper", b.t.ink);
    }
}
