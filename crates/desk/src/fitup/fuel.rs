//! Fuel chain from tank to carburettor, with the pressure windows on the way.

use egui::{Align2, Color32, Rect, Stroke, StrokeKind, Ui, pos2};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, LineLoss, PETROL_DENSITY, PETROL_VISCOSITY, head, line_loss,
};
use knockon_figures::fuel::pressure::{PressureFit, Window, at_carburettor, fit};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length, MassDensity, Pressure, VolumeRate};
use uom::si::length::{meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{kilopascal, pascal, psi};
use uom::si::velocity::meter_per_second;
use uom::si::volume_rate::cubic_meter_per_second;

use super::card::{Fact, Shown, Source};
use super::field::{Ask, Field, Values};
use super::say;
use super::scale::words;
use super::vehicle::Vehicle;
use crate::tokens::{PEN, Tokens};

pub const SOURCES: &[Source] = &[
    Source {
        what: "What arrives",
        formula: "lowest: pump's lowest − head − loss at full flow; highest: pump's highest − head, since with the float valve shut nothing flows",
        from: "hydrostatics and Darcy-Weisbach",
    },
    Source {
        what: "Loss in the line",
        formula: "f × length / bore × ρ v² / 2; f = 64 / Re in smooth flow, Colebrook in turbulent flow, the worse of both between",
        from: "Darcy-Weisbach; Colebrook, J. Inst. Civ. Eng. 11 (1939); petrol at 745 kg/m³ (EN 228) and 0.5 mPa·s, common practice",
    },
    Source {
        what: "Head",
        formula: "ρ g × height of the float chamber over the fuel in the tank",
        from: "hydrostatics",
    },
    Source {
        what: "Whether it suits",
        formula: "what arrives must lie inside what the carburettor takes",
        from: "the float valve is the limit above, the fuel level at full flow the limit below",
    },
];

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let port = |class, port, field| v.and_then(|v| v.port(class, port, field));
    let window = Ask::Window(Dimension::Pressure);
    vec![
        Field::new("pump", "Pump gives", window, "4 to 7 psi", port("fuel-pump", "pressure", "pressure")),
        Field::new(
            "takes",
            "Carburettor takes",
            window,
            "2.5 to 3.5 psi",
            port("carburettor", "pressure", "pressure"),
        ),
        Field::new(
            "flow",
            "Full flow",
            Ask::Quantity(Dimension::Flow),
            "35 L/h",
            port("carburettor", "flow", "flow"),
        ),
        Field::length("bore", "Bore of the line", "6.5 mm", None),
        Field::length("length", "Length, pump to carburettor", "3 m", None),
        Field::length("lift", "Carburettor over the pump", "500 mm", None),
        Field::length("tank", "Pump over the tank", "0 mm", None),
    ]
}

/// A fuel chain worked out.
pub struct Chain {
    pump: Window,
    takes: Window,
    arrives: Window,
    loss: LineLoss,
    head: Pressure,
    fit: PressureFit,
    lift: Length,
    tank: Length,
}

/// Works the chain out.
pub fn work(v: &Values<'_>) -> Result<Chain, String> {
    let window = |id| {
        let (low, high) = v.window(id)?;
        Ok::<Window, String>(Window {
            low: Pressure::new::<pascal>(low),
            high: Pressure::new::<pascal>(high),
        })
    };
    let (pump, takes) = (window("pump")?, window("takes")?);
    let density = MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY);
    let line = FuelLine {
        flow: VolumeRate::new::<cubic_meter_per_second>(v.number("flow")?),
        bore: v.length("bore")?,
        length: v.length("length")?,
        density,
        viscosity: DynamicViscosity::new::<pascal_second>(PETROL_VISCOSITY),
        roughness: Length::new::<meter>(DRAWN_TUBE_ROUGHNESS),
    };
    let (lift, tank) = (v.length("lift")?, v.length("tank")?);
    let all = || -> Result<Chain, knockon_figures::FigureError> {
        let loss = line_loss(&line)?;
        let head_up = head(lift, density)?;
        // what stands against the pump on its suction side counts as well
        let suction = head(tank, density)?;
        let arrives = at_carburettor(pump, loss.most, head_up + suction)?;
        Ok(Chain {
            pump,
            takes,
            arrives,
            loss,
            head: head_up + suction,
            fit: fit(arrives, takes)?,
            lift,
            tank,
        })
    };
    all().map_err(|e| e.to_string())
}

impl Chain {
    /// What it comes to, and whether it suits.
    fn verdict(&self, m: Measure) -> (String, bool) {
        match self.fit {
            PressureFit::Suits => ("suits as it is".to_owned(), true),
            PressureFit::WantsRegulator { set } => {
                (format!("too high: wants a regulator set to {}", say::pressure(set, m)), false)
            }
            PressureFit::TooLow { short_by } => (
                format!(
                    "too low at full flow by {}: a bigger line or a stronger pump",
                    say::pressure(short_by, m)
                ),
                false,
            ),
            PressureFit::WantsOtherPump { short_by } => (
                format!(
                    "too high at rest and {} too low at full flow: another pump with a regulator, or a bigger line",
                    say::pressure(short_by, m)
                ),
                false,
            ),
        }
    }
}

fn window_words(w: Window, m: Measure) -> String {
    format!("{} to {}", say::pressure(w.low, m), say::pressure(w.high, m))
}

impl Shown for Chain {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (verdict, holds) = self.verdict(m);
        let smooth = if self.loss.least == self.loss.most {
            String::new()
        } else {
            format!(", {} if the flow stays smooth", say::pressure(self.loss.least, m))
        };
        vec![
            Fact::judged("Pressure at the carburettor", verdict, holds),
            Fact::new("Arrives", window_words(self.arrives, m)),
            Fact::new(
                "Lost in the line at full flow",
                format!("{}{smooth}", say::pressure(self.loss.most, m)),
            ),
            Fact::new("Lost to height", say::pressure(self.head, m)),
            Fact::new(
                "Speed of the fuel",
                format!(
                    "{:.2} m/s, Reynolds number {:.0}",
                    self.loss.velocity.get::<meter_per_second>(),
                    self.loss.reynolds
                ),
            ),
        ]
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let split = rect.top() + rect.height() * 0.36;
        let xs = columns(rect.left() + 90.0, rect.right() - 40.0);
        self.heights(&paint, t, rect.with_max_y(split), xs, m);
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
        let (_, holds) = self.verdict(m);
        let settled = Window { low: self.pump.low - self.head, high: self.pump.high - self.head };
        let tone = if holds { t.cool } else { t.warm };
        let bars: [(&str, Window, Color32); 4] = [
            ("pump gives", self.pump, t.ink),
            ("after the height", settled, t.ink),
            ("arrives", self.arrives, tone),
            ("carburettor takes", self.takes, t.cool),
        ];
        for (x, (word, w, tone)) in xs.into_iter().zip(bars) {
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
            words(&paint, t, rect, pos2(x, rect.bottom() - 14.0), Align2::CENTER_CENTER, word, t.ink);
        }
    }
}

impl Chain {
    /// Tank, pump and float chamber at their heights.
    fn heights(&self, paint: &egui::Painter, t: &Tokens, rect: Rect, xs: [f32; 4], m: Measure) {
        let (tank, lift) = (self.tank.get::<millimeter>(), self.lift.get::<millimeter>());
        let levels = [0.0, tank, tank + lift];
        let (low, high) = levels.iter().fold((0.0_f64, 0.0_f64), |(l, h), v| (l.min(*v), h.max(*v)));
        let room = (rect.height() - 76.0).max(10.0);
        let per_mm = (room / (high - low).max(1.0) as f32).min(0.4);
        let y = |mm: f64| rect.bottom() - 34.0 - (mm - low) as f32 * per_mm;
        let places = [
            (xs[0] - 20.0, levels[0], "tank"),
            (xs[1], levels[1], "pump"),
            (xs[3], levels[2], "float chamber"),
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

/// Middles of four columns.
fn columns(left: f32, right: f32) -> [f32; 4] {
    let each = (right - left) / 4.0;
    [0.5, 1.5, 2.5, 3.5].map(|n| left + each * n)
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

    fn chain(pump: &'static str) -> Chain {
        let mut fields = fields(None);
        if let Some(field) = fields.first_mut() {
            *field = Field::new("pump", "Pump gives", Ask::Window(Dimension::Pressure), pump, None);
        }
        work(&Values(&fields)).unwrap_or_else(|why| unreachable!("{why}"))
    }

    #[test]
    fn words_follow_the_fit() {
        assert!(
            chain("4 to 7 psi")
                .verdict(Measure::Inch)
                .0
                .starts_with("too high: wants a regulator set to 3 psi")
        );
        // 500 mm of petrol at 745 kg/m3 are 3.65 kPa, 0.53 psi
        assert!((chain("4 to 7 psi").head.get::<kilopascal>() - 3.653).abs() < 1e-3);
        assert_eq!(chain("3.2 to 4 psi").verdict(Measure::Inch), ("suits as it is".to_owned(), true));
        assert!(chain("2.6 to 3 psi").verdict(Measure::Metric).0.starts_with("too low"));
        assert!(chain("2.6 to 8 psi").verdict(Measure::Metric).0.starts_with("too high at rest"));
    }

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
