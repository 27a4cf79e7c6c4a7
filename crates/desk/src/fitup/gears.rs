//! Gear chart: engine speed against road speed in each gear.

use egui::{Align2, Color32, Rect, RichText, Ui};
use egui_plot::{AxisHints, HLine, Line, LineStyle, Plot, PlotPoint, PlotPoints, Points, Text, VLine};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::gearing::{axle_ratio_for, engine_speeds, road_speed};
use uom::si::f64::{LinearNumberDensity, Velocity};
use uom::si::linear_number_density::per_meter;
use uom::si::velocity::{kilometer_per_hour, meter_per_second, mile_per_hour};

use super::field::{Ask, Field, Values};
use super::say;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::access::heard;
use crate::look::theme;
use crate::look::tokens::{PEN, Tokens};

/// Figures of a gearbox, lowest gear first.
const GEARS: [&str; 5] = ["first-gear", "second-gear", "third-gear", "fourth-gear", "top-gear"];

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let gears = v.and_then(|v| v.figures("gearbox", &GEARS));
    vec![
        Field::new("gears", "Gear ratios, lowest first", Ask::Ratios, "2.94, 1.68, 1.00", gears),
        Field::new(
            "axle",
            "Axle ratio",
            Ask::Quantity(Dimension::Ratio),
            "3.90",
            figure("rear-axle", "axle-ratio"),
        ),
        Field::new(
            "turns",
            "Turns of the tyre",
            Ask::Quantity(Dimension::PerLength),
            "741 rev/mile",
            figure("tyres", "tyre-revs"),
        ),
        Field::number("cruise", "Road speed", Dimension::Speed, "55 mph").choice(),
        Field::number("least", "Lowest engine speed that pulls", Dimension::RotationalSpeed, "1000 rpm")
            .choice(),
        Field::new(
            "most",
            "Highest engine speed",
            Ask::Quantity(Dimension::RotationalSpeed),
            "3800 rpm",
            v.and_then(|v| v.fact("engine-top-speed")),
        ),
    ]
}

/// A gearbox worked out.
pub struct Gears {
    ratios: Vec<f64>,
    cruise: Velocity,
    least_rpm: f64,
    most_rpm: f64,
    /// Engine speed in each gear at the road speed.
    rpm: Vec<f64>,
    /// Road speed at the lowest and highest engine speed in each gear.
    spans: Vec<(Velocity, Velocity)>,
    /// Axle ratio at which the last gear turns the engine at its lowest and at its highest speed at the road speed.
    axles: (f64, f64),
}

/// Works the gears out.
pub fn work(v: &Values<'_>) -> Result<Gears, String> {
    let told = |e: knockon_figures::FigureError| e.to_string();
    let (ratios, axle) = (v.list("gears")?, v.number("axle")?);
    let turns = LinearNumberDensity::new::<per_meter>(v.number("turns")?);
    let cruise = Velocity::new::<meter_per_second>(v.number("cruise")?);
    let (least_rpm, most_rpm) = (v.rpm("least")?, v.rpm("most")?);
    if least_rpm >= most_rpm {
        return Err("the lowest engine speed must lie below the highest".to_owned());
    }
    let at = |rpm, gear: f64| road_speed(rpm, turns, axle, gear).map_err(told);
    let rpm = engine_speeds(cruise, turns, axle, &ratios).map_err(told)?;
    let spans =
        ratios.iter().map(|g| Ok((at(least_rpm, *g)?, at(most_rpm, *g)?))).collect::<Result<_, String>>()?;
    let top = ratios.last().copied().unwrap_or(1.0);
    let axle_for = |rpm| axle_ratio_for(rpm, cruise, turns, top).map_err(told);
    let axles = (axle_for(least_rpm)?, axle_for(most_rpm)?);
    Ok(Gears { ratios, cruise, least_rpm, most_rpm, rpm, spans, axles })
}

/// A road speed as the axis counts it.
fn number(v: Velocity, m: Measure) -> f64 {
    if m == Measure::Inch { v.get::<mile_per_hour>() } else { v.get::<kilometer_per_hour>() }
}

impl Gears {
    /// Engine speed in top gear at the road speed lies between lowest and highest.
    fn pulls(&self, rpm: f64) -> bool {
        (self.least_rpm..=self.most_rpm).contains(&rpm)
    }
}

impl Shown for Gears {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let road = say::speed(self.cruise, m);
        let list = |one: &dyn Fn(usize) -> Option<String>| -> String {
            (0..self.ratios.len())
                .filter_map(|i| Some(format!("{:.2}: {}", self.ratios.get(i)?, one(i)?)))
                .collect::<Vec<_>>()
                .join(", ")
        };
        let top = self.rpm.last().copied().unwrap_or(0.0);
        let pulls = if self.pulls(top) {
            say::rpm(top)
        } else if top > self.most_rpm {
            format!("{}, faster than the engine may turn", say::rpm(top))
        } else {
            format!("{}, slower than the engine pulls", say::rpm(top))
        };
        vec![
            Fact::judged("engine-speed", "In the last gear", format!("{pulls} at {road}"), self.pulls(top)),
            Fact::new(
                "engine-speed",
                "Engine speed in each gear at the road speed",
                list(&|i| self.rpm.get(i).map(|rpm| say::rpm(*rpm))),
            ),
            Fact::new(
                "road-speed",
                "Road speed in each gear at the highest engine speed",
                list(&|i| self.spans.get(i).map(|s| say::speed(s.1, m))),
            ),
        ]
    }

    fn advice(&self, m: Measure) -> Advice {
        let (top, road) = (self.rpm.last().copied().unwrap_or(0.0), say::speed(self.cruise, m));
        let (least, most) = self.axles;
        if self.pulls(top) {
            Advice::nothing(format!("the last gear pulls at {road}"))
        } else if top > self.most_rpm {
            Advice::to_do(format!(
                "an axle of {most:.2} or less, a longer last gear or a taller tyre, for {road}"
            ))
        } else {
            Advice::to_do(format!("an axle of {least:.2} or more, or a shorter last gear, for {road}"))
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let unit = if m == Measure::Inch { "mph" } else { "km/h" };
        let ends = self.spans.iter().map(|s| number(s.1, m)).chain([number(self.cruise, m)]);
        let fastest = ends.fold(1.0, f64::max);
        let top_rpm = self
            .rpm
            .iter()
            .copied()
            .filter(|rpm| self.pulls(*rpm))
            .chain([self.most_rpm])
            .fold(0.0, f64::max);
        let plot = chart("gear chart", t, rect, &format!("Road speed, {unit}"), "Engine speed, rpm")
            .default_x_bounds(0.0, fastest * 1.08)
            .default_y_bounds(0.0, top_rpm * 1.12);
        let cruise = number(self.cruise, m);
        inside(ui, rect, |ui| {
            let shown = plot.show(ui, |p| {
                for (name, rpm) in [("highest", self.most_rpm), ("lowest", self.least_rpm)] {
                    let line =
                        HLine::new(name, rpm).color(t.soft).width(1.0).style(LineStyle::dashed_loose());
                    p.hline(line.allow_hover(false));
                    let at = PlotPoint::new(fastest * 1.07, rpm);
                    p.text(label(
                        name,
                        at,
                        format!("{name} {}", say::rpm(rpm)),
                        t.soft,
                        Align2::RIGHT_BOTTOM,
                    ));
                }
                let line = VLine::new("road speed", cruise).color(t.cool).width(1.5);
                p.vline(line.allow_hover(false));
                for ((span, rpm), ratio) in self.spans.iter().zip(&self.rpm).zip(&self.ratios) {
                    let (low, high) = (number(span.0, m), number(span.1, m));
                    let name = format!("{ratio:.2}");
                    let points: PlotPoints<'_> = vec![[low, self.least_rpm], [high, self.most_rpm]].into();
                    p.line(Line::new(name.clone(), points).color(t.ink).width(2.0).allow_hover(false));
                    let share = 0.72;
                    let at = PlotPoint::new(
                        low + (high - low) * share,
                        self.least_rpm + (self.most_rpm - self.least_rpm) * share,
                    );
                    p.text(label(&name, at, format!("{name} "), t.ink, Align2::RIGHT_BOTTOM));
                    if self.pulls(*rpm) {
                        let here: PlotPoints<'_> = vec![[cruise, *rpm]].into();
                        p.points(
                            Points::new(name.clone(), here).color(t.cool).radius(4.0).allow_hover(false),
                        );
                        let at = PlotPoint::new(cruise, *rpm);
                        p.text(label(&name, at, format!("  {}", say::rpm(*rpm)), t.cool, Align2::LEFT_TOP));
                    }
                }
            });
            heard::picture(&shown.response, "Chart: engine speed over road speed, a line for each gear");
        });
    }
}

/// A chart that stays where it is: wheel and drag belong to the page.
pub fn chart<'a>(id: &'static str, t: &Tokens, rect: Rect, x: &str, y: &str) -> Plot<'a> {
    // a number is either legible or left out, never faded
    let axis = |hints: AxisHints<'a>, apart: f32| {
        hints.tick_label_color(t.soft).tick_label_font(theme::small()).label_spacing(apart..=apart + 0.1)
    };
    let name = |text: &str| RichText::new(text).font(theme::small()).color(t.ink);
    Plot::new(id)
        .width(rect.width() - 24.0)
        .height(rect.height() - 20.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .allow_axis_zoom_drag(false)
        .show_background(false)
        .auto_bounds(false)
        .grid_color(t.line)
        .custom_x_axes(vec![axis(AxisHints::new_x(), 40.0).label(name(x))])
        .custom_y_axes(vec![axis(AxisHints::new_y(), 18.0).label(name(y))])
}

/// The room of a chart inside its sheet.
pub fn inside(ui: &mut Ui, rect: Rect, add: impl FnOnce(&mut Ui)) {
    let room = Rect::from_min_max(rect.min + egui::vec2(12.0, 12.0), rect.max - egui::vec2(12.0, 8.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(room), add);
}

/// Words in a chart.
pub fn label(name: &str, at: PlotPoint, text: String, tone: Color32, align: Align2) -> Text {
    Text::new(name, at, RichText::new(text).font(theme::small())).color(tone).anchor(align).allow_hover(false)
}

/// Width of the pen of a curve.
pub const CURVE: f32 = PEN + 0.5;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_run_through_the_engine_speeds() {
        let gears = work(&Values(&fields(None))).unwrap_or_else(|why| unreachable!("{why}"));
        assert_eq!((gears.ratios.len(), gears.rpm.len(), gears.spans.len()), (3, 3, 3));
        // 55 mph × 741 rev/mile × 3.90 / 60 = 2649 rpm in direct gear
        assert!((gears.rpm[2] - 55.0 * 741.0 * 3.9 / 60.0).abs() < 1e-6);
        for ((low, high), rpm) in gears.spans.iter().zip(&gears.rpm) {
            let share = (55.0 - low.get::<mile_per_hour>())
                / (high.get::<mile_per_hour>() - low.get::<mile_per_hour>());
            assert!((1000.0 + share * 2800.0 - rpm).abs() < 1e-6);
        }
        assert!(!gears.pulls(gears.rpm[0]) && gears.pulls(gears.rpm[2]));
        // 2649 rpm with 3.90: 1000 rpm is 1.47 of it, 3800 rpm 5.59
        assert!((gears.axles.0 - 1000.0 / (55.0 * 741.0 / 60.0)).abs() < 1e-9, "{:?}", gears.axles);
        assert!(!gears.advice(Measure::Inch).due);
    }
}
