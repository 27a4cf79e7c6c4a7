//! Front share of the brakes against the ideal curve.

use egui::{Align2, Rect, Ui};
use egui_plot::{HLine, Line, PlotPoint, PlotPoints, Points, VLine};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::brakes::balance::{
    AxleLoads, Balance, Stance, axle_loads, balance, front_share, most_rear,
};
use uom::si::f64::Mass;
use uom::si::mass::kilogram;

use super::field::{Ask, Field, Values};
use super::gears::{CURVE, chart, inside, label};
use super::say;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::access::heard;
use crate::look::tokens::Tokens;

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let torque = |class| v.and_then(|v| v.figure(class, "brake-torque-per-pressure"));
    let per_pressure = Ask::Quantity(Dimension::TorquePerPressure);
    let ratio = Ask::Quantity(Dimension::Ratio);
    let fact = |figure| v.and_then(|v| v.fact(figure));
    let mass = fact("kerb-mass");
    let through = v.and_then(|v| v.figure("rear-proportioning-valve", "rear-through"));
    vec![
        Field::new("front", "Front brakes", per_pressure, "682 N·m/MPa", torque("front-brakes")),
        Field::new("rear", "Rear brakes", per_pressure, "537 N·m/MPa", torque("rear-brakes")),
        Field::new("mass", "Mass for the stop", Ask::Quantity(Dimension::Mass), "1474 kg", mass),
        Field::new("static", "Weight on the front at rest", ratio, "55 %", fact("front-static")),
        Field::length("height", "Centre of gravity up", "650 mm", fact("gravity-height")),
        Field::length("wheelbase", "Wheelbase", "2900 mm", fact("wheelbase")),
        Field::new("through", "Pressure let through to the rear", ratio, "100 %", through)
            .hint("All of it: no proportioning valve in this plan"),
        Field::number("stop", "Stop, in g", Dimension::Ratio, "0.7").choice(),
    ]
}

/// A braking vehicle worked out.
pub struct Share {
    stance: Stance,
    share: f64,
    stop: f64,
    loads: AxleLoads,
    balance: Balance,
    /// Deceleration in g, ideal front share.
    curve: Vec<(f64, f64)>,
    /// Rear brakes now, and the most at which the rear does not lock first, N·m/Pa.
    rear: (f64, f64),
}

/// Works the share out.
pub fn work(v: &Values<'_>) -> Result<Share, String> {
    let stance = Stance {
        mass: Mass::new::<kilogram>(v.number("mass")?),
        front_static: v.number("static")?,
        gravity_height: v.length("height")?,
        wheelbase: v.length("wheelbase")?,
    };
    let through = v.number("through")?;
    if !(0.05..=1.0).contains(&through) {
        return Err("pressure let through to the rear: expected 5 to 100 %".to_owned());
    }
    let (front, rear, stop) = (v.number("front")?, v.number("rear")? * through, v.number("stop")?);
    let all = || -> Result<Share, knockon_figures::FigureError> {
        let share = front_share(front, rear)?;
        let loads = axle_loads(&stance, stop)?;
        // the curve ends where the rear wheels would leave the ground
        let steps = (1..=CURVE_STEPS).map(|i| f64::from(i) * CURVE_END / f64::from(CURVE_STEPS));
        let curve =
            steps.map_while(|g| axle_loads(&stance, g).ok().map(|l| (g, l.ideal_front_share))).collect();
        let rear = (rear, most_rear(front, loads.ideal_front_share)?);
        Ok(Share { stance, share, stop, loads, balance: balance(&stance, share, stop)?, curve, rear })
    };
    all().map_err(|e| e.to_string())
}

const CURVE_STEPS: u32 = 48;
/// Past what any road tyre grips, g.
const CURVE_END: f64 = 1.2;

impl Share {
    fn verdict(&self) -> (String, bool) {
        if self.balance.over_ideal >= -1e-9 {
            ("the front wheels lock first, the vehicle stays straight".to_owned(), true)
        } else {
            ("the rear wheels lock first, and it turns round".to_owned(), false)
        }
    }
}

impl Shown for Share {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (verdict, holds) = self.verdict();
        let crossing = self.balance.ideal_at_g.map_or_else(
            || "at no stop: the rear locks first in every one".to_owned(),
            |g| format!("{g:.2} g"),
        );
        vec![
            Fact::judged("axle-loads", "In this stop", verdict, holds),
            Fact::new("axle-loads", "Front share of the brakes", say::percent(self.share)),
            Fact::new("axle-loads", "Ideal in this stop", say::percent(self.loads.ideal_front_share)),
            Fact::new("axle-loads", "The share is ideal", crossing),
            Fact::new(
                "axle-loads",
                "Load, front and rear",
                format!("{} and {}", say::force(self.loads.front, m), say::force(self.loads.rear, m)),
            ),
            Fact::new(
                "axle-loads",
                "Grip needed, front and rear",
                format!("{:.2} and {:.2}", self.balance.front_grip, self.balance.rear_grip),
            ),
        ]
    }

    fn advice(&self, _: Measure) -> Advice {
        if self.verdict().1 {
            return Advice::nothing("the front wheels lock first in this stop");
        }
        let (now, most) = self.rear;
        Advice::to_do(format!(
            "rear brakes of {:.0} N·m/MPa at most instead of {:.0} in this stop: a valve that holds the rear pressure back, \
             or smaller rear cylinders",
            (most * 1e6).floor(),
            now * 1e6
        ))
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, _: Measure) {
        let percent = |share: f64| share * 100.0;
        let ideal = self.curve.iter().map(|(_, share)| percent(*share));
        let (low, high) = ideal
            .chain([percent(self.share), percent(self.stance.front_static)])
            .fold((100.0_f64, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
        let (low, high) = ((low - 6.0).max(0.0), (high + 6.0).min(100.0));
        let plot = chart("brake share", t, rect, "Deceleration, g", "Front share, %")
            .default_x_bounds(0.0, CURVE_END.max(self.stop * 1.05))
            .default_y_bounds(low, high);
        inside(ui, rect, |ui| {
            let shown = plot.show(ui, |p| {
                let rest = [0.0, percent(self.stance.front_static)];
                let points: Vec<[f64; 2]> = std::iter::once(rest)
                    .chain(self.curve.iter().map(|(g, share)| [*g, percent(*share)]))
                    .collect();
                let end = points.get(points.len() * 4 / 5).copied().unwrap_or(rest);
                p.line(
                    Line::new("ideal", PlotPoints::from(points)).color(t.ink).width(CURVE).allow_hover(false),
                );
                p.text(label(
                    "ideal",
                    PlotPoint::new(end[0], end[1]),
                    "ideal share ".to_owned(),
                    t.ink,
                    Align2::RIGHT_BOTTOM,
                ));
                for (name, at, text, align) in [
                    (
                        "over",
                        [0.01, high],
                        "over the ideal line: the front locks first, it stays straight",
                        Align2::LEFT_TOP,
                    ),
                    (
                        "under",
                        [CURVE_END - 0.01, low],
                        "under it: the rear locks first, it turns round",
                        Align2::RIGHT_BOTTOM,
                    ),
                ] {
                    p.text(label(name, PlotPoint::new(at[0], at[1]), text.to_owned(), t.soft, align));
                }
                let (_, holds) = self.verdict();
                let tone = if holds { t.cool } else { t.warm };
                let share = percent(self.share);
                p.hline(HLine::new("fitted", share).color(tone).width(CURVE).allow_hover(false));
                let name = format!("brakes fitted, {}", say::percent(self.share));
                p.text(label(
                    "fitted",
                    PlotPoint::new(CURVE_END - 0.01, share),
                    name,
                    tone,
                    Align2::RIGHT_BOTTOM,
                ));
                p.vline(VLine::new("stop", self.stop).color(t.soft).width(1.0).allow_hover(false));
                p.text(label(
                    "stop",
                    PlotPoint::new(self.stop, low + (high - low) * 0.14),
                    format!(" this stop, {:.2} g", self.stop),
                    t.soft,
                    Align2::LEFT_TOP,
                ));
                let here: PlotPoints<'_> =
                    vec![[self.stop, percent(self.loads.ideal_front_share)], [self.stop, share]].into();
                p.points(Points::new("stop", here).color(tone).radius(4.0).allow_hover(false));
                if let Some(g) = self.balance.ideal_at_g.filter(|g| *g <= CURVE_END) {
                    let here: PlotPoints<'_> = vec![[g, share]].into();
                    p.points(Points::new("crossing", here).color(t.ink).radius(3.0).allow_hover(false));
                    p.text(label(
                        "crossing",
                        PlotPoint::new(g, share),
                        format!("  rear locks first beyond {g:.2} g"),
                        t.ink,
                        Align2::LEFT_TOP,
                    ));
                }
            });
            heard::picture(&shown.response, "Chart: share of the front brakes over deceleration");
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn share(changes: &[(&str, &'static str)]) -> Share {
        let mut fields = fields(None);
        for field in &mut fields {
            if let Some((_, text)) = changes.iter().find(|(id, _)| *id == field.id) {
                *field = Field::new(field.id, "", field.ask, text, None);
            }
        }
        work(&Values(&fields)).unwrap_or_else(|why| unreachable!("{why}"))
    }

    #[test]
    fn the_verdict_turns_where_the_curves_cross() {
        let s = share(&[]);
        let crossing = s.balance.ideal_at_g.unwrap_or(f64::NAN);
        // 682 / (682 + 537) = 0.5595; (0.5595 - 0.55) × 2900 / 650
        assert!((crossing - (682.0 / 1219.0 - 0.55) * 2900.0 / 650.0).abs() < 1e-9);
        assert!(!s.verdict().1 && s.facts(Measure::Inch)[0].warm);
        // ideal 0.55 + 0.7 × 650 / 2900 = 0.7069: 682 × 0.2931 / 0.7069 = 282.8
        assert!(
            s.advice(Measure::Inch).text.starts_with("rear brakes of 282 N·m/MPa at most instead of 537")
        );
        assert!(share(&[("rear", "282 N·m/MPa")]).verdict().1);
        assert!(share(&[("stop", "0.04")]).verdict().1);
        assert!(share(&[("front", "1400 N·m/MPa")]).verdict().1);
    }

    #[test]
    fn the_curve_ends_where_the_rear_wheels_leave_the_ground() {
        let s = share(&[("height", "1500 mm"), ("static", "60 %"), ("stop", "0.5")]);
        let last = s.curve.last().copied().unwrap_or_default();
        assert!(last.0 < 0.4 * 2900.0 / 1500.0 && last.1 < 1.0 && last.1 > 0.95, "{last:?}");
        assert_eq!(share(&[]).curve.len(), CURVE_STEPS as usize);
    }
}
