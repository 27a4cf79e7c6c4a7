//! The drawing of the fuel chain: heights above, pressures below.

use egui::{Align2, Color32, Rect, Stroke, StrokeKind, Ui, pos2};
use knockon_core::showing::Measure;
use uom::si::f64::{Length, Pressure};
use uom::si::length::millimeter;
use uom::si::pressure::{kilopascal, pascal, psi};

use super::{Chain, Window};
use crate::fitup::say;
use crate::fitup::scale::words;
use crate::look::tokens::{PEN, Tokens};

impl Chain {
    /// The drawing.
    pub(super) fn drawn(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let split = rect.top() + rect.height() * 0.36;
        let tone = if self.verdict(m).1 { t.cool } else { t.warm };
        let settled = Window { low: self.pump.low - self.head, high: self.pump.high - self.head };
        let mut bars: Vec<(&str, Window, Color32)> =
            vec![("pump gives", self.pump, t.ink), ("after the height", settled, t.ink)];
        if self.regulator.is_some() {
            bars.push(("after the line", self.before, t.ink));
            bars.push(("behind the regulator", self.arrives, tone));
        } else {
            bars.push(("arrives", self.arrives, tone));
        }
        bars.push(("carburettor takes", self.takes, t.cool));
        let xs = columns(rect.left() + 70.0, rect.right() - 20.0, bars.len());
        self.heights(&paint, t, rect.with_max_y(split), &xs, m);
        let (upper, foot) = (split + 26.0, rect.bottom() - 40.0);
        let high = self.pump.high.max(self.takes.high).max(self.arrives.high);
        let low = self.arrives.low.min(Pressure::new::<pascal>(0.0));
        let number = |p: Pressure| if m == Measure::Inch { p.get::<psi>() } else { p.get::<kilopascal>() };
        let (step, bottom, top) = axis(number(low), number(high));
        let y = |p: f64| foot - (foot - upper) * ((p - bottom) / (top - bottom)) as f32;
        let unit = if m == Measure::Inch { "psi" } else { "kPa" };
        for i in 0..=((top - bottom) / step).round() as u32 {
            let p = bottom + step * f64::from(i);
            paint.hline(rect.left() + 70.0..=rect.right() - 20.0, y(p), Stroke::new(1.0, t.line));
            words(
                &paint,
                t,
                rect,
                pos2(rect.left() + 64.0, y(p)),
                Align2::RIGHT_CENTER,
                &format!("{p:.0} {unit}"),
                t.soft,
            );
        }
        let band = Rect::from_min_max(
            pos2(rect.left() + 70.0, y(number(self.takes.high))),
            pos2(rect.right() - 20.0, y(number(self.takes.low))),
        );
        paint.rect_filled(band, 0, t.cool_ground);
        for (x, (word, w, tone)) in xs.iter().copied().zip(bars) {
            let half = 22.0;
            let (above, below) = (y(number(w.high)), y(number(w.low)));
            let bar = Rect::from_min_max(pos2(x - half, above.min(below - 2.0)), pos2(x + half, below));
            paint.rect(bar, 0, t.sheet, Stroke::new(PEN + 0.5, tone), StrokeKind::Inside);
            words(
                &paint,
                t,
                rect,
                pos2(x, above - 4.0),
                Align2::CENTER_BOTTOM,
                &say::pressure(w.high, m),
                tone,
            );
            words(&paint, t, rect, pos2(x, below + 3.0), Align2::CENTER_TOP, &say::pressure(w.low, m), tone);
            let foot = pos2(x, rect.bottom() - 18.0);
            let room = (rect.width() - 90.0) / xs.len() as f32 - 8.0;
            wrapped(&paint, t, foot, room, word);
        }
    }

    /// Tank, pump and float chamber at their heights.
    fn heights(&self, paint: &egui::Painter, t: &Tokens, rect: Rect, xs: &[f32], m: Measure) {
        let (tank, lift) = (self.tank.get::<millimeter>(), self.lift.get::<millimeter>());
        let levels = [0.0, tank, tank + lift];
        let (low, high) = levels.iter().fold((0.0_f64, 0.0_f64), |(l, h), v| (l.min(*v), h.max(*v)));
        let room = (rect.height() - 76.0).max(10.0);
        let per_mm = (room / (high - low).max(1.0) as f32).min(0.4);
        let y = |mm: f64| rect.bottom() - 34.0 - (mm - low) as f32 * per_mm;
        let (Some(first), Some(last)) = (xs.first(), xs.last()) else { return };
        let middle = first + (last - first) * 0.42;
        let places = [
            (first - 20.0, levels[0], "tank"),
            (middle, levels[1], "pump"),
            (*last, levels[2], "float chamber"),
        ];
        let pen = Stroke::new(PEN, t.soft);
        for pair in places.windows(2) {
            let [(a, from, _), (b, to, _)] = pair else { continue };
            let bend = b - 50.0;
            for line in [
                [pos2(*a, y(*from)), pos2(bend, y(*from))],
                [pos2(bend, y(*from)), pos2(bend, y(*to))],
                [pos2(bend, y(*to)), pos2(*b, y(*to))],
            ] {
                paint.line_segment(line, pen);
            }
            if (to - from).abs() > 1.0 {
                let text = say::length(Length::new::<millimeter>(to - from), m);
                words(
                    paint,
                    t,
                    rect,
                    pos2(bend - 6.0, (y(*from) + y(*to)) / 2.0),
                    Align2::RIGHT_CENTER,
                    &text,
                    t.ink,
                );
            }
        }
        // on the last run of the line, right before the float chamber
        if let Some(regulator) = &self.regulator {
            let at = pos2(last - 33.0, y(levels[2]));
            paint.circle(at, 8.0, t.sheet, Stroke::new(PEN, t.cool));
            paint.line_segment(
                [at - egui::vec2(5.0, -5.0), at + egui::vec2(5.0, -5.0)],
                Stroke::new(PEN, t.cool),
            );
            let text = format!("regulator {}", say::pressure(regulator.set, m));
            words(paint, t, rect, at - egui::vec2(0.0, 12.0), Align2::RIGHT_BOTTOM, &text, t.cool);
        }
        for (x, level, word) in places {
            let size = if word == "tank" { egui::vec2(70.0, 30.0) } else { egui::vec2(34.0, 26.0) };
            let body = Rect::from_center_size(pos2(x, y(level)), size);
            paint.rect(
                body,
                if word == "pump" { 13 } else { 2 },
                t.tied_ground,
                Stroke::new(PEN, t.ink),
                StrokeKind::Inside,
            );
            words(paint, t, rect, pos2(x, body.bottom() + 3.0), Align2::CENTER_TOP, word, t.ink);
        }
    }
}

/// Middles of columns.
fn columns(left: f32, right: f32, many: usize) -> Vec<f32> {
    let each = (right - left) / many.max(1) as f32;
    (0..many).map(|n| left + each * (n as f32 + 0.5)).collect()
}

/// Words under a column, on as many lines as its width asks for.
fn wrapped(paint: &egui::Painter, t: &Tokens, at: egui::Pos2, room: f32, text: &str) {
    let mut job =
        egui::text::LayoutJob::simple(text.to_owned(), crate::look::theme::small(), t.ink, room.max(30.0));
    job.halign = egui::Align::Center;
    let galley = paint.layout_job(job);
    paint.galley(at - egui::vec2(0.0, galley.size().y / 2.0), galley, t.ink);
}

/// Step, bottom and top of an axis that holds `low` to `high` in at most eight steps.
fn axis(low: f64, high: f64) -> (f64, f64, f64) {
    let span = (high - low).max(1e-3) * 1.1;
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| span / step <= 8.0).unwrap_or(500.0);
    let bottom = (low / step).floor() * step;
    (step, bottom, ((high + 0.05 * span) / step).ceil().max(bottom / step + 1.0) * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_axis_holds_everything() {
        for (low, high) in [(0.0, 7.0), (-3.0, 5.0), (0.0, 60.0), (0.0, 413.0), (0.0, 0.5)] {
            let (step, bottom, top) = axis(low, high);
            assert!(
                bottom <= low && top >= high && (top - bottom) / step <= 10.5,
                "{low} {high}: {step} {bottom} {top}"
            );
        }
    }
}
