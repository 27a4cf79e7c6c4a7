//! Charging balance: bars of load against output, at idle and on the road.

use egui::{Align2, Rect, Stroke, Ui, pos2};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::charging::loads::{Balance, Drive, DriveCheck, check_drive};
use uom::si::electric_current::ampere;
use uom::si::f64::ElectricCurrent;

use super::field::{Ask, Field, Found, Values};
use super::say;
use super::scale::words;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::look::tokens::{PEN, Tokens};

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let (current, turning) = (Dimension::Current, Dimension::RotationalSpeed);
    // one sum for both: what is on at idle at night is on on the road as well
    let load = || v.and_then(|v| v.taken("idle-load"));
    let road =
        load().map(|found| Found { parts: Vec::new(), of: format!("{}, as at idle", found.of), ..found });
    let curve = "1000 rpm: 5 A, 1500 rpm: 25 A, 2000 rpm: 38 A, 3000 rpm: 55 A, 6000 rpm: 65 A";
    vec![
        Field::new(
            "curve",
            "Output curve, rotor speed: current",
            Ask::Curve,
            curve,
            figure("generator", "idle-curve"),
        ),
        Field::length("crank", "Crank pulley", "165 mm", figure("crank-pulley", "crank-pulley-diameter")),
        Field::length("pulley", "Generator pulley", "76 mm", figure("generator-pulley", "pulley-diameter")),
        Field::new("idle", "Idle", Ask::Quantity(turning), "600 rpm", v.and_then(|v| v.fact("idle-speed"))),
        Field::new("idle-load", "Load at idle", Ask::Quantity(current), "24 A", load()),
        Field::number("cruise", "Engine speed on the road", turning, "2400 rpm").choice(),
        Field::new("cruise-load", "Load on the road", Ask::Quantity(current), "30 A", road),
    ]
}

/// A generator held against its loads.
pub struct Charging {
    check: DriveCheck,
    idle_load: ElectricCurrent,
    cruise_load: ElectricCurrent,
}

/// Works the balance out.
pub fn work(v: &Values<'_>) -> Result<Charging, String> {
    let curve = v.curve("curve")?;
    let drive =
        Drive { curve: &curve, crank_pulley: v.length("crank")?, generator_pulley: v.length("pulley")? };
    let load = |id| v.number(id).map(ElectricCurrent::new::<ampere>);
    let (idle_load, cruise_load) = (load("idle-load")?, load("cruise-load")?);
    let check = check_drive(&drive, (v.rpm("idle")?, idle_load), (v.rpm("cruise")?, cruise_load))
        .map_err(|e| e.to_string())?;
    Ok(Charging { check, idle_load, cruise_load })
}

fn balance_words(b: &Balance) -> (String, bool) {
    let holds = b.surplus.value >= 0.0;
    let word = if holds { "to spare" } else { "out of the battery" };
    (format!("{} {word}", say::current(b.surplus.abs())), holds)
}

impl Shown for Charging {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let (idle, idle_holds) = balance_words(&self.check.idle);
        let (cruise, cruise_holds) = balance_words(&self.check.cruise);
        let never = || "no speed does, the generator is too small".to_owned();
        let wanted = self.check.idle_rpm_wanted.map_or_else(never, say::rpm);
        let pulley = self.check.largest_pulley.map_or_else(never, |l| say::length(l, m));
        vec![
            Fact::judged("charging-balance", "At idle", idle, idle_holds),
            Fact::judged("charging-balance", "On the road", cruise, cruise_holds),
            Fact::new("rotor-speed", "Rotor at idle", say::rpm(self.check.idle.rotor_rpm)),
            Fact::new("rotor-speed", "Rotor on the road", say::rpm(self.check.cruise.rotor_rpm)),
            Fact::new("charging-balance", "Idle that carries the idle load", wanted),
            Fact::new("charging-balance", "Largest generator pulley that carries it", pulley),
        ]
    }

    fn advice(&self, m: Measure) -> Advice {
        let lacks = |b: &Balance| b.surplus.value < 0.0;
        let (idle, cruise) = (&self.check.idle, &self.check.cruise);
        match (lacks(idle), lacks(cruise)) {
            (false, false) => Advice::nothing("the generator carries what is on"),
            (_, true) => Advice::to_do(format!(
                "a generator that gives {} at {} of its rotor, or {} less load",
                say::current(self.cruise_load),
                say::rpm(cruise.rotor_rpm),
                say::current(cruise.surplus.abs())
            )),
            (true, false) => match (self.check.largest_pulley, self.check.idle_rpm_wanted) {
                (Some(pulley), Some(rpm)) => Advice::to_do(format!(
                    "a generator pulley of {} at most, or an idle of {}, or {} less load at idle",
                    say::length(pulley, m),
                    say::rpm(rpm),
                    say::current(idle.surplus.abs())
                )),
                _ => Advice::to_do(format!(
                    "a larger generator, or {} less load at idle",
                    say::current(idle.surplus.abs())
                )),
            },
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, _: Measure) {
        let paint = ui.painter_at(rect);
        let groups = [
            ("At idle", &self.check.idle, self.idle_load),
            ("On the road", &self.check.cruise, self.cruise_load),
        ];
        let largest =
            groups.iter().map(|(_, b, load)| b.output.max(*load).get::<ampere>()).fold(1.0, f64::max);
        let (step, top) = axis(largest);
        let (left, right) = (rect.left() + 96.0, rect.right() - 40.0);
        let (upper, foot) = (rect.top() + 26.0, rect.bottom() - 44.0);
        let x = |amps: f64| left + (right - left) * (amps / top) as f32;
        for i in 0..=(top / step).round() as u32 {
            let amps = step * f64::from(i);
            paint.line_segment([pos2(x(amps), upper), pos2(x(amps), foot)], Stroke::new(1.0, t.line));
            words(
                &paint,
                t,
                rect,
                pos2(x(amps), foot + 6.0),
                Align2::CENTER_TOP,
                &format!("{amps:.0} A"),
                t.soft,
            );
        }
        let tall = (foot - upper) / 2.0;
        for (i, (name, b, load)) in groups.into_iter().enumerate() {
            let top = upper + tall * i as f32 + 12.0;
            let thick = ((tall - 44.0) / 2.0).clamp(10.0, 64.0);
            words(&paint, t, rect, pos2(left, top), Align2::LEFT_TOP, name, t.ink);
            let (text, holds) = balance_words(b);
            let bar = |row: f32, amps: f64, fill, edge| {
                let y = top + 22.0 + row * (thick + 6.0);
                let bar = Rect::from_min_max(pos2(left, y), pos2(x(amps).max(left + 1.0), y + thick));
                paint.rect(bar, 0, fill, Stroke::new(PEN, edge), egui::StrokeKind::Inside);
                bar
            };
            let tone = if holds { t.cool } else { t.warm };
            let ground = if holds { t.cool_ground } else { t.warm_ground };
            let (load, output) = (load.get::<ampere>(), b.output.get::<ampere>());
            for (row, word, amps, fill, edge) in
                [(0.0, "load", load, t.hover, t.soft), (1.0, "output", output, ground, tone)]
            {
                let bar = bar(row, amps, fill, edge);
                words(&paint, t, rect, pos2(left - 8.0, bar.center().y), Align2::RIGHT_CENTER, word, t.ink);
                words(
                    &paint,
                    t,
                    rect,
                    pos2(bar.right() - 8.0, bar.center().y),
                    Align2::RIGHT_CENTER,
                    &format!("{amps:.1} A"),
                    t.ink,
                );
            }
            // what is left over, or missing, between the ends of the two bars
            let y = top + 22.0 + thick + 3.0;
            let ends = [pos2(x(load), y - thick * 0.3), pos2(x(load), y + thick + 6.0)];
            paint.extend(egui::Shape::dashed_line(&ends, Stroke::new(1.0, t.ink), 4.0, 3.0));
            let past = pos2(x(load.max(output)) + 10.0, y + thick * 0.5 + 3.0);
            words(&paint, t, rect, past, Align2::LEFT_CENTER, &text, tone);
        }
    }
}

/// Step and end of the axis: at most eight steps, with room for words past the longest bar.
fn axis(largest: f64) -> (f64, f64) {
    let room = largest * 1.25;
    let step =
        [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| room / step <= 8.0).unwrap_or(500.0);
    (step, (room / step).ceil().max(1.0) * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_example_lacks_at_idle_and_has_to_spare_on_the_road() {
        let c = work(&Values(&fields(None))).unwrap_or_else(|why| unreachable!("{why}"));
        // 600 × 165 / 76 = 1303 rpm; 5 + 20 × 303 / 500 = 17.1 A against 24 A
        assert!((c.check.idle.rotor_rpm - 600.0 * 165.0 / 76.0).abs() < 1e-6);
        assert!(
            (c.check.idle.surplus.get::<ampere>() + 24.0
                - 5.0
                - 20.0 * (c.check.idle.rotor_rpm - 1000.0) / 500.0)
                .abs()
                < 1e-6
        );
        let facts = c.facts(Measure::Metric);
        assert!(facts[0].warm && facts[0].text.ends_with("out of the battery"), "{}", facts[0].text);
        assert!(!facts[1].warm && facts[1].text.ends_with("to spare"), "{}", facts[1].text);
        // 24 A want 1000 + 500 × 19 / 20 = 1475 rpm of the rotor: 600 × 165 / 1475 = 67.1 mm, 1475 × 76 / 165 = 679 rpm
        let advice = c.advice(Measure::Metric);
        assert!(
            advice.due && advice.text.contains("67.1 mm at most, or an idle of 679 rpm"),
            "{}",
            advice.text
        );
    }

    #[test]
    fn the_axis_has_round_steps_and_room() {
        for (largest, wanted) in
            [(55.0, (10.0, 70.0)), (1.0, (1.0, 2.0)), (300.0, (50.0, 400.0)), (2000.0, (500.0, 2500.0))]
        {
            assert_eq!(axis(largest), wanted);
        }
    }
}
