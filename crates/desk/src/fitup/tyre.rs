//! Tyre old beside new: height, turns over the road, speedometer and gearing.

use egui::{Align2, Rect, Shape, Stroke, Ui, Vec2, pos2};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::gearing::{effective_axle_ratio, restoring_axle_ratio};
use knockon_figures::speedometer::{cable_correction, reads_high_on_new_tyres, true_speed_on_new_tyres};
use knockon_figures::tyres::TyreSize;
use uom::si::f64::{Length, LinearNumberDensity, Velocity};
use uom::si::length::{inch, millimeter};
use uom::si::velocity::{kilometer_per_hour, meter_per_second, mile_per_hour};

use super::field::{Ask, Field, Values};
use super::say;
use super::scale::{At, Board, words};
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::look::tokens::{PEN, Tokens};

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let old = v.and_then(|v| v.figure_as_found("tyres", "tyre-size"));
    let new = v.filter(|v| v.exchanged("tyres")).and_then(|v| v.figure("tyres", "tyre-size"));
    vec![
        Field::new("old", "Old tyre", Ask::Tyre, "6.70-15", old),
        Field::new("new", "New tyre", Ask::Tyre, "P235/75R15", new),
        Field::number("shown", "Speed shown", Dimension::Speed, "60 mph").choice(),
        Field::new(
            "axle",
            "Axle ratio",
            Ask::Quantity(Dimension::Ratio),
            "3.90",
            v.and_then(|v| v.figure("rear-axle", "axle-ratio")),
        ),
    ]
}

/// Less than is shown counts as true.
const TRUE: f64 = 5e-4;

/// A tyre change worked out.
pub struct Change {
    old: TyreSize,
    new: TyreSize,
    old_turns: LinearNumberDensity,
    new_turns: LinearNumberDensity,
    shown: Velocity,
    /// True speed where the head shows `shown`.
    pub true_speed: Velocity,
    /// By which share the head shows too much.
    pub high: f64,
    /// Axle ratio that acts the same on the old tyres.
    pub acts_like: f64,
    /// Axle ratio that brings the gearing back.
    pub restores: f64,
    /// How much the two sizes leave open, either way.
    within: f64,
    /// Turns of the cable that bring the speedometer back.
    cable: f64,
}

/// Works the change out.
pub fn work(v: &Values<'_>) -> Result<Change, String> {
    let (old, new) = (v.tyre("old")?, v.tyre("new")?);
    let shown = Velocity::new::<meter_per_second>(v.number("shown")?);
    let (before, after, axle) = (old.rolling_diameter(), new.rolling_diameter(), v.number("axle")?);
    let all = || -> Result<Change, knockon_figures::FigureError> {
        let high = reads_high_on_new_tyres(0.0, before, after)?;
        Ok(Change {
            old,
            new,
            old_turns: old.revolutions()?,
            new_turns: new.revolutions()?,
            shown,
            true_speed: true_speed_on_new_tyres(shown, before, after)?,
            high,
            within: old.open_against(&new),
            cable: cable_correction(high)?,
            acts_like: effective_axle_ratio(axle, before, after)?,
            restores: restoring_axle_ratio(axle, before, after)?,
        })
    };
    all().map_err(|e| e.to_string())
}

impl Change {
    /// The change is more than the sizes leave open.
    fn sure(&self) -> bool {
        self.high.abs() > self.within
    }
}

impl Shown for Change {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let diameter = |tyre: &TyreSize| {
            let within = say::percent(tyre.diameter_within);
            format!("{} ±{within}, height {}", say::length(tyre.diameter, m), tyre.aspect_from)
        };
        let reads = if self.high.abs() < TRUE {
            "true".to_owned()
        } else {
            format!(
                "{} {}",
                say::percent(self.high.abs()),
                match (self.high > 0.0, self.sure()) {
                    (true, _) => "too high",
                    (false, true) => "too low, which is never allowed",
                    (false, false) => "too low, which is never allowed; the sizes alone do not settle it",
                }
            )
        };
        let rise = (self.new.diameter - self.old.diameter) / 2.0;
        vec![
            Fact::judged("speedometer-error", "Speedometer reads", reads, self.high > -TRUE),
            Fact::new("speedometer-error", "True speed at the speed shown", say::speed(self.true_speed, m)),
            Fact::new("tyre", "Turns, old", say::turns(self.old_turns, m)),
            Fact::new("tyre", "Turns, new", say::turns(self.new_turns, m)),
            Fact::new("axle-ratio", "Axle ratio acts like", format!("{:.2}", self.acts_like)),
            Fact::new("axle-ratio", "Axle ratio that restores the gearing", format!("{:.2}", self.restores)),
            Fact::new("tyre", "Diameter, old", diameter(&self.old)),
            Fact::new("tyre", "Diameter, new", diameter(&self.new)),
            Fact::new(
                "tyre",
                "Axle",
                format!(
                    "{} {}",
                    if rise.value < 0.0 { "sinks" } else { "rises" },
                    say::length(rise.abs(), m)
                ),
            ),
        ]
    }

    fn advice(&self, _: Measure) -> Advice {
        let by = say::percent((self.cable - 1.0).abs());
        let cable = format!(
            "gear the speedometer cable {by} {}, or fit an axle of {:.2}",
            if self.cable > 1.0 { "faster" } else { "slower" },
            self.restores
        );
        if self.high.abs() < TRUE {
            Advice::nothing("the speedometer stays as it is")
        } else if self.high < 0.0 && self.sure() {
            Advice::to_do(cable)
        } else if self.high < 0.0 {
            let within = say::percent(self.within);
            Advice::to_do(format!(
                "measure ten turns of a wheel on the road with either tyre, for the sizes leave {within} open; if it is \
                 so, {cable}"
            ))
        } else {
            Advice::nothing(format!("the speedometer reads high, which may stay; to put it right, {cable}"))
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let split = rect.top() + rect.height() * 0.66;
        let (upper, lower) = (rect.with_max_y(split), rect.with_min_y(split));
        let places = Places::of(&self.old, &self.new);
        let board = Board::new(&paint, *t, upper, m, (0.0, 0.0), (places.wide, places.tall));
        board.path(&[(-60.0, 0.0), (places.wide + 60.0, 0.0)], Stroke::new(1.0, t.edge));
        // the old height carried over to the new tyre shows how much taller that stands
        let top = places.old.diameter;
        board.dashed(&[(places.old.side, top), (places.wide, top)], Stroke::new(1.0, t.soft));
        side_and_front(&board, &places.old, t.soft, "Old");
        side_and_front(&board, &places.new, t.ink, "New");
        for (place, aside) in [(&places.old, -40.0), (&places.new, 40.0)] {
            let x = if aside < 0.0 { place.side - place.diameter / 2.0 } else { place.front + place.section };
            let text = say::length(Length::new::<millimeter>(place.diameter), m);
            board.dimension((x, 0.0), (x, place.diameter), aside, &text);
        }
        board.bar();
        dial(&paint, t, lower, (self.shown, self.true_speed), m);
    }
}

/// Where a tyre stands, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Place {
    /// Middle of the side view.
    side: f64,
    /// Left edge of the front view.
    front: f64,
    diameter: f64,
    section: f64,
    rim: f64,
}

/// Both tyres on the ground beside each other.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Places {
    old: Place,
    new: Place,
    wide: f64,
    tall: f64,
}

impl Places {
    fn of(old: &TyreSize, new: &TyreSize) -> Self {
        let mm = |l: Length| l.get::<millimeter>();
        let gap = 0.12 * mm(old.diameter).max(mm(new.diameter));
        let place = |left: f64, tyre: &TyreSize| Place {
            side: left + mm(tyre.diameter) / 2.0,
            front: left + mm(tyre.diameter) + gap,
            diameter: mm(tyre.diameter),
            section: mm(tyre.section),
            rim: mm(Length::new::<inch>(tyre.rim_in)),
        };
        let first = place(0.0, old);
        let second = place(first.front + first.section + 2.0 * gap, new);
        let tall = first.diameter.max(second.diameter);
        Self { old: first, new: second, wide: second.front + second.section, tall }
    }
}

fn side_and_front(board: &Board<'_>, p: &Place, tone: egui::Color32, word: &str) {
    let centre = (p.side, p.diameter / 2.0);
    let pen = Stroke::new(PEN, tone);
    board.circle(centre, p.diameter / 2.0, pen);
    board.circle(centre, p.rim / 2.0, pen);
    board.circle(centre, 12.0, pen);
    let low_high: [At; 2] = [(p.front, p.diameter), (p.front + p.section, 0.0)];
    let front = Rect::from_two_pos(board.at(low_high[0]), board.at(low_high[1]));
    let round = (p.section as f32 * 0.22 * board.scale.per_mm).clamp(1.0, 200.0) as u8;
    board.paint.rect_stroke(front, round, pen, egui::StrokeKind::Inside);
    let rim: [At; 2] =
        [(p.front, (p.diameter - p.rim) / 2.0), (p.front + p.section, (p.diameter - p.rim) / 2.0)];
    board.dashed(&rim, Stroke::new(1.0, tone));
    let up = (p.diameter + p.rim) / 2.0;
    board.dashed(&[(p.front, up), (p.front + p.section, up)], Stroke::new(1.0, tone));
    board.words(board.at((p.side, p.diameter * 0.5 + 0.28 * p.rim)), Align2::CENTER_CENTER, word, tone);
}

/// A speedometer: where the needle stands, and where it would stand if it told the truth.
fn dial(paint: &egui::Painter, t: &Tokens, rect: Rect, (shown, real): (Velocity, Velocity), m: Measure) {
    let number = |v: Velocity| {
        if m == Measure::Inch { v.get::<mile_per_hour>() } else { v.get::<kilometer_per_hour>() }
    };
    let (step, top) = full_scale(number(shown).max(number(real)));
    let radius = (rect.height() - 44.0).min(rect.width() / 2.0 - 60.0).max(20.0);
    let centre = pos2(rect.center().x, rect.bottom() - 22.0);
    let toward = |speed: f64, at: f32| {
        let angle = std::f32::consts::PI * (1.0 - (speed / top) as f32);
        centre + Vec2::new(angle.cos(), -angle.sin()) * at
    };
    let arc = (0..=60).map(|i| toward(top * f64::from(i) / 60.0, radius)).collect();
    paint.add(Shape::line(arc, Stroke::new(PEN, t.edge)));
    for i in 0..=(top / step * 2.0).round() as u32 {
        let speed = step * f64::from(i) / 2.0;
        paint.line_segment([toward(speed, radius - 7.0), toward(speed, radius)], Stroke::new(1.0, t.soft));
        let end = i == 0 || i == (top / step * 2.0).round() as u32;
        let crowded = (radius < 90.0 && i % 4 != 0) || (radius < 60.0 && !end);
        if i % 2 == 0 && !crowded {
            words(
                paint,
                t,
                rect,
                toward(speed, radius - 18.0),
                Align2::CENTER_CENTER,
                &format!("{speed:.0}"),
                t.soft,
            );
        }
    }
    let needle = |speed, tone, wide: f32| {
        paint.line_segment([centre, toward(speed, radius - 30.0)], Stroke::new(wide, tone));
    };
    needle(number(real), t.cool, 2.5);
    needle(number(shown), t.ink, 1.5);
    paint.circle_filled(centre, 4.0, t.ink);
    let left = pos2(centre.x - radius - 12.0, centre.y - radius * 0.5);
    let right = pos2(centre.x + radius + 12.0, centre.y - radius * 0.5);
    words(paint, t, rect, left, Align2::RIGHT_CENTER, &format!("Shows {}", say::speed(shown, m)), t.ink);
    words(paint, t, rect, right, Align2::LEFT_CENTER, &format!("True {}", say::speed(real, m)), t.cool);
}

/// Step between the numbers of the dial, and its end: at most eight steps, with a third of room above the speed.
fn full_scale(speed: f64) -> (f64, f64) {
    let room = speed.max(1.0) * 1.33;
    let step = [5.0, 10.0, 20.0, 50.0, 100.0].into_iter().find(|step| room / step <= 8.0).unwrap_or(200.0);
    (step, (room / step).ceil() * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(old: &str, new: &str) -> Change {
        let mut fields = fields(None);
        for (field, text) in fields.iter_mut().zip([old, new]) {
            *field = Field::new(
                field.id,
                "",
                Ask::Tyre,
                "235/75R15",
                Some(super::super::field::Found::new(text.to_owned(), String::new())),
            );
        }
        work(&Values(&fields)).unwrap_or_else(|why| unreachable!("{why}"))
    }

    #[test]
    fn the_figures_are_those_of_the_figures_crate() {
        // arithmetic of the definition: 235/75R15 -> 31 in, indicated 60: 64.408997955 mph
        let c = change("235/75R15", "31x10.50R15LT");
        assert!((c.true_speed.get::<mile_per_hour>() - 64.408_997_955).abs() < 1e-6);
        assert!(c.high < 0.0 && c.facts(Measure::Inch)[0].warm);
        assert!((c.restores * c.acts_like - 3.9 * 3.9).abs() < 1e-9);
        // a bias-ply tyre of the same height turns more often than a radial: the head reads higher
        let same = change("31x10.50R15LT", "31x10.50-15LT");
        assert!(same.high > 0.0 && !same.facts(Measure::Metric)[0].warm);
        // 787.4 / 733.5 is 7.3 % more, and so much faster the cable
        let advice = c.advice(Measure::Inch);
        assert!(
            advice.due && advice.text.starts_with("gear the speedometer cable 7.3 % faster"),
            "{}",
            advice.text
        );
        // 1.7 % between a size that leaves its height out, 3.5 %, and one that has it, 1.5 %: not settled
        let near = change("6.70-15", "215/75R15");
        assert!(near.high < 0.0 && near.high > -near.within && (near.within - 0.05).abs() < 1e-9);
        assert!(
            near.advice(Measure::Inch).text.starts_with("measure ten turns"),
            "{}",
            near.advice(Measure::Inch).text
        );
        assert!(
            !same.advice(Measure::Inch).due && !change("235/75R15", "235/75R15").advice(Measure::Inch).due
        );
    }

    #[test]
    fn the_tyres_stand_side_by_side() {
        let c = change("6.70-15", "P235/75R15");
        let p = Places::of(&c.old, &c.new);
        assert!(p.old.side + p.old.diameter / 2.0 < p.old.front);
        assert!(p.old.front + p.old.section < p.new.side - p.new.diameter / 2.0);
        assert!((p.new.diameter - 733.5).abs() < 1e-9 && p.tall >= p.old.diameter);
        assert_eq!(
            (full_scale(60.0), full_scale(0.0), full_scale(96.6)),
            ((10.0, 80.0), (5.0, 5.0), (20.0, 140.0))
        );
    }
}
