//! A lift in side view, to scale: spring, damper and shaft before and after, and the damper over its travel beside it.

use egui::{Align2, Color32, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::driveline::{COMFORT_DEG, FlangeTilts, ShaftRun, comfortable, most_lift};
use knockon_figures::gap::GapRule;
use knockon_figures::springs::{
    Damper, DamperAt, DamperFit, DamperMount, DamperWanted, damper_at, damper_fit, damper_wanted, stop_wanted,
};
use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use super::driveline::{self, Lie};
use super::field::{Ask, Field, Values};
use super::say;
use super::scale::{At, Board, words};
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use super::wheel::gap_words;
use crate::tokens::{PEN, Tokens};

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let angle = Ask::Quantity(Dimension::Angle);
    vec![
        Field::length("lift", "Lift", "40 mm", None).choice(),
        Field::length("stop", "Bump stop longer by", "30 mm", None).choice(),
        Field::length("spacing", "Damper eyes apart at ride", "350 mm", None),
        Field::new("lean", "Damper leans", angle, "15°", None),
        Field::length("bump", "Bump travel", "65 mm", None),
        Field::length("droop", "Droop travel", "80 mm", None),
        Field::length("open", "Damper pulled out", "450 mm", figure("dampers", "damper-open")),
        Field::length("closed", "Damper pushed in", "262 mm", figure("dampers", "damper-closed")),
        Field::length("reserve", "Reserve at either end", "10 mm", None).choice(),
        Field::length("behind", "Damper foot behind the axle", "140 mm", None),
        Field::length("under", "Damper foot below the axle", "60 mm", None),
        Field::length("front", "Front spring eye to axle", "560 mm", None),
        Field::length("rear", "Axle to rear spring eye", "590 mm", None),
        Field::length("arch", "Spring eyes over the axle", "70 mm", None),
        Field::length("tyre", "Tyre diameter", "716 mm", figure("tyres", "tyre-outside")),
        Field::length("shaft", "Shaft, joint to joint", "1422 mm", figure("prop-shaft", "shaft-length")),
        Field::length("drop", "Axle joint lower by", "60 mm", None),
        Field::length("nose", "Axle joint ahead of the axle", "240 mm", None),
        Field::new("tilt", "Gearbox down, pinion up", angle, "3°", None),
    ]
}

/// Where things sit, mm; the axle stays, the frame rises. Forward is to the left, from the axle; up is from the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Sizes {
    front: f64,
    rear: f64,
    arch: f64,
    radius: f64,
    foot: At,
    nose: f64,
}

/// A lift worked out.
pub struct Lift {
    lift: Length,
    mounts: [DamperMount; 2],
    fits: [DamperFit; 2],
    wanted: DamperWanted,
    damper: Damper,
    /// The damper of the lifted vehicle at bump, ride height and droop.
    places: [DamperAt; 3],
    /// By how much longer a stop would have to be still; `None`: no stop helps.
    stop: Option<Length>,
    lies: [Lie; 2],
    /// Lift at which the joints are still easy; `None`: not even without one.
    most: Option<Length>,
    tilts: FlangeTilts,
    sizes: Sizes,
}

/// Works the lift out.
pub fn work(v: &Values<'_>) -> Result<Lift, String> {
    let mm = |id| v.length(id).map(|l| l.get::<millimeter>());
    let (lift, stop, reserve) = (v.length("lift")?, v.length("stop")?, v.length("reserve")?);
    let mount = DamperMount {
        spacing: v.length("spacing")?,
        lean: v.angle("lean")?,
        bump: v.length("bump")?,
        droop: v.length("droop")?,
    };
    let damper = Damper { open: v.length("open")?, closed: v.length("closed")? };
    let tilts = FlangeTilts { output_down: v.angle("tilt")?, pinion_up: v.angle("tilt")? };
    let (length, drop) = (v.length("shaft")?, v.length("drop")?);
    let radius = mm("tyre")? / 2.0;
    let foot = (mm("behind")?, radius - mm("under")?);
    let sizes =
        Sizes { front: mm("front")?, rear: mm("rear")?, arch: mm("arch")?, radius, foot, nose: mm("nose")? };
    drawable(&sizes)?;
    let none = Length::new::<millimeter>(0.0);
    let all = || -> Result<Lift, knockon_figures::FigureError> {
        let lifted = mount.lifted(lift, stop)?;
        let rule = GapRule::exact(reserve);
        let shaft = ShaftRun::from_length(length, drop, none)?;
        let [bump, ride, droop] = [-lifted.bump, none, lifted.droop].map(|down| damper_at(lifted, down));
        Ok(Lift {
            lift,
            mounts: [mount, lifted],
            fits: [damper_fit(mount, damper, rule)?, damper_fit(lifted, damper, rule)?],
            wanted: damper_wanted(lifted, reserve)?,
            damper,
            places: [bump?, ride?, droop?],
            stop: stop_wanted(lifted, damper, rule)?,
            lies: [Lie::of(shaft, tilts)?, Lie::of(shaft.lifted(lift)?, tilts)?],
            most: most_lift(shaft, tilts, Angle::new::<degree>(COMFORT_DEG))?,
            tilts,
            sizes,
        })
    };
    all().map_err(|e| e.to_string())
}

/// What is so far off that nothing else could be seen beside it.
fn drawable(s: &Sizes) -> Result<(), String> {
    let within = |name: &str, found: f64, low: f64, high: f64| {
        if (low..=high).contains(&found) {
            Ok(())
        } else {
            Err(format!("{name}: found {found:.0} mm, expected {low:.0} to {high:.0} mm"))
        }
    };
    within("front spring eye to axle", s.front, 100.0, 2_000.0)?;
    within("axle to rear spring eye", s.rear, 100.0, 2_000.0)?;
    within("spring eyes over the axle", s.arch, -600.0, 600.0)?;
    within("tyre diameter", 2.0 * s.radius, 100.0, 3_000.0)?;
    within("damper foot behind the axle", s.foot.0, -1_000.0, 1_000.0)?;
    within("damper foot below the axle", s.radius - s.foot.1, -600.0, 600.0)?;
    within("axle joint ahead of the axle", s.nose, 0.0, 1_000.0)
}

/// A spring as two arms of parabolas: flat at the axle's seat, an arch higher at its eyes.
fn leaf(front: f64, rear: f64, arch: f64, seat: At) -> Vec<At> {
    (-12..=12)
        .map(|i| {
            let share = f64::from(i) / 12.0;
            let arm = if i < 0 { front } else { rear };
            (seat.0 + share * arm, seat.1 + arch * share * share)
        })
        .collect()
}

/// Upper eye of a damper whose lower eye lies at `foot`.
fn upper_eye(foot: At, mount: &DamperMount) -> At {
    let (long, lean) = (mount.spacing.get::<millimeter>(), mount.lean.get::<radian>());
    (foot.0 + long * lean.sin(), foot.1 + long * lean.cos())
}

/// Lower eye of a damper that hangs from `eye`.
fn lower_eye(eye: At, at: &DamperAt) -> At {
    let (long, lean) = (at.length.get::<millimeter>(), at.lean.get::<radian>());
    (eye.0 - long * lean.sin(), eye.1 - long * lean.cos())
}

impl Lift {
    /// The larger of the two joint angles.
    fn larger(lie: &Lie) -> Angle {
        lie.joints.output.max(lie.joints.pinion)
    }
}

impl Shown for Lift {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let [_, fit] = &self.fits;
        let (bump, bump_holds) = gap_words(&fit.at_bump, m);
        let (droop, droop_holds) = gap_words(&fit.at_droop, m);
        let [before, after] = &self.lies;
        let easy = comfortable(Self::larger(after));
        let shaft =
            format!("{}, lifted {}", say::angle(Self::larger(before)), say::angle(Self::larger(after)));
        let lengths = self.places.map(|at| say::length(at.length, m)).join(", ");
        let damper = "damper-length";
        vec![
            Fact::judged(damper, "Damper at bump, lifted", bump, bump_holds),
            Fact::judged(damper, "Damper at droop, lifted", droop, droop_holds),
            Fact::judged(
                "joint-angles",
                "Larger joint angle",
                if easy { shaft } else { format!("{shaft}, more than {COMFORT_DEG}°") },
                easy,
            ),
            Fact::new(damper, "Damper at bump, ride and droop", lengths),
            Fact::new(damper, "Damper pushed in, at most", say::length(self.wanted.closed_at_most, m)),
            Fact::new(damper, "Damper pulled out, at least", say::length(self.wanted.open_at_least, m)),
        ]
    }

    fn advice(&self, m: Measure) -> Advice {
        let len = |l: Length| say::length(l, m);
        let [_, fit] = &self.fits;
        let damper = format!(
            "a damper of {} at most pushed in and {} at least pulled out",
            len(self.wanted.closed_at_most),
            len(self.wanted.open_at_least)
        );
        let mut ways = Vec::new();
        match (fit.at_bump.holds(), fit.at_droop.holds(), self.stop) {
            (true, true, _) => {}
            (false, true, Some(stop)) => {
                ways.push(format!("{damper}, or a bump stop {} longer still", len(stop)))
            }
            _ => ways.push(damper),
        }
        if !comfortable(Self::larger(&self.lies[1])) {
            ways.push(match self.most.filter(|most| *most < self.lift) {
                Some(most) => {
                    format!("for the shaft a lift of {} at most, or a joint for larger angles", len(most))
                }
                None => "for the shaft a joint for larger angles, or its ends nearer in height".to_owned(),
            });
        }
        if ways.is_empty() {
            Advice::nothing("damper and shaft take this lift")
        } else {
            Advice::to_do(ways.join("; "))
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
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
}

impl Lift {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fitup::field::Found;

    fn lift(changes: &[(&str, &str)]) -> Result<Lift, String> {
        let mut fields = fields(None);
        for field in &mut fields {
            if let Some((_, text)) = changes.iter().find(|(id, _)| *id == field.id) {
                let found = Found::new((*text).to_owned(), String::new());
                *field = Field::new(field.id, field.name, field.ask, "0 mm", Some(found));
            }
        }
        work(&Values(&fields))
    }

    fn good(changes: &[(&str, &str)]) -> Lift {
        lift(changes).unwrap_or_else(|why| unreachable!("{why}"))
    }

    #[test]
    fn the_drawn_damper_is_as_long_as_the_figures_say_and_moves_with_the_lift() {
        let lift = good(&[]);
        let foot = (0.0, 0.0);
        let [before, after] = lift.mounts.map(|mount| upper_eye(foot, &mount));
        assert!((before.0.hypot(before.1) - 350.0).abs() < 1e-9);
        assert!((after.0 - before.0).abs() < 1e-9 && (after.1 - before.1 - 40.0).abs() < 1e-9);
        let angle = Angle::new::<degree>(15.0);
        assert!((before.0 - 350.0 * angle.get::<radian>().sin()).abs() < 1e-9);
        // over the travel the lower eye moves straight up and down
        let feet = lift.places.map(|at| lower_eye(after, &at));
        assert!(feet.iter().all(|f| f.0.abs() < 1e-9), "{feet:?}");
        // bump 65 + 40 - 30 = 75 mm up, droop 80 mm down
        assert!((feet[0].1 - 75.0).abs() < 1e-9 && (feet[2].1 + 80.0).abs() < 1e-9, "{feet:?}");
    }

    #[test]
    fn the_spring_keeps_its_arms_and_arch() {
        let points = leaf(400.0, 600.0, 80.0, (10.0, 300.0));
        assert_eq!(
            (points.first(), points.last(), points.get(12)),
            (Some(&(-390.0, 380.0)), Some(&(610.0, 380.0)), Some(&(10.0, 300.0)))
        );
    }

    #[test]
    fn a_long_lift_pulls_the_damper_out_and_says_what_to_do() {
        let long = good(&[("lift", "90 mm")]);
        let facts = long.facts(Measure::Metric);
        assert!(facts[1].text.starts_with("does not fit"), "{}", facts[1].text);
        let advice = long.advice(Measure::Metric);
        assert!(advice.due && advice.text.contains("at least pulled out"), "{}", advice.text);
        // a short stop bottoms the damper: what the stop lacks is what is named
        let bottoms = good(&[("stop", "0 mm"), ("bump", "120 mm"), ("lift", "0 mm"), ("droop", "60 mm")]);
        let advice = bottoms.advice(Measure::Metric).text;
        let stop = bottoms.stop.map(|l| say::length(l, Measure::Metric)).unwrap_or_default();
        assert!(advice.contains(&format!("a bump stop {stop} longer still")), "{advice}");
        let cured =
            good(&[("stop", stop.as_str()), ("bump", "120 mm"), ("lift", "0 mm"), ("droop", "60 mm")]);
        assert!(cured.fits[1].at_bump.holds());
    }

    #[test]
    fn what_could_not_be_seen_is_refused_by_name() {
        for (id, text, name) in [
            ("front", "9 m", "front spring eye"),
            ("tyre", "50 mm", "tyre"),
            ("nose", "-1 mm", "axle joint ahead"),
        ] {
            assert!(lift(&[(id, text)]).is_err_and(|why| why.starts_with(name)), "{id}");
        }
    }
}
