//! A lift in side view: spring, damper and shaft before and after.

use egui::{Align2, Color32, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::driveline::{FlangeTilts, ShaftRun};
use knockon_figures::gap::GapRule;
use knockon_figures::springs::{Damper, DamperFit, DamperMount, DamperWanted, damper_fit, damper_wanted};
use uom::si::angle::{degree, radian};
use uom::si::f64::Length;
use uom::si::length::millimeter;

use super::card::{Fact, Shown, Source};
use super::driveline::{self, Lie};
use super::field::{Ask, Field, Values};
use super::say;
use super::scale::{At, Board};
use super::vehicle::Vehicle;
use super::wheel::gap_words;
use crate::tokens::{PEN, Tokens};

pub const SOURCES: &[Source] = &[
    Source {
        what: "Damper",
        formula: "eyes apart at travel x: √((s cos lean + x)² + (s sin lean)²); closed must be shorter at bump, open longer at droop, with the reserve",
        from: "geometry, the axle moving straight up and down; 10 mm of reserve is common practice",
    },
    Source {
        what: "After the lift",
        formula: "the upright part of the spacing grows by the lift, the bump travel by the lift less what the stop is lengthened by",
        from: "geometry; the droop is taken as before, so measure it on the new spring",
    },
    Source {
        what: "Shaft",
        formula: "the drop grows by the lift; angles as in Driveline angles",
        from: "geometry; up to 3° for comfort at speed, common practice",
    },
];

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let angle = Ask::Quantity(Dimension::Angle);
    vec![
        Field::length("lift", "Lift", "40 mm", None),
        Field::length("stop", "Bump stop longer by", "30 mm", None),
        Field::length("spacing", "Damper eyes apart at ride", "350 mm", None),
        Field::new("lean", "Damper leans", angle, "15 deg", None),
        Field::length("bump", "Bump travel", "65 mm", None),
        Field::length("droop", "Droop travel", "80 mm", None),
        Field::length("open", "Damper pulled out", "450 mm", figure("dampers", "damper-open")),
        Field::length("closed", "Damper pushed in", "262 mm", figure("dampers", "damper-closed")),
        Field::length("reserve", "Reserve at either end", "10 mm", None),
        Field::length("span", "Spring, eye to eye", "1150 mm", None),
        Field::length("arch", "Spring arch at ride", "70 mm", None),
        Field::length("tyre", "Tyre diameter", "716 mm", figure("tyres", "tyre-outside")),
        Field::length("shaft", "Shaft, joint to joint", "1422 mm", figure("prop-shaft", "shaft-length")),
        Field::length("drop", "Axle joint lower by", "60 mm", None),
        Field::new("tilt", "Gearbox down, pinion up", angle, "3 deg", None),
    ]
}

/// A lift worked out.
pub struct Lift {
    lift: Length,
    mounts: [DamperMount; 2],
    fits: [DamperFit; 2],
    wanted: DamperWanted,
    damper: Damper,
    lies: [Lie; 2],
    tilts: FlangeTilts,
    /// Span, arch, tyre radius, mm.
    sizes: [f64; 3],
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
    let sizes = [mm("span")?, mm("arch")?, mm("tyre")? / 2.0];
    let [span, arch, radius] = sizes;
    if !(200.0..=3_000.0).contains(&span) || arch.abs() > span / 2.0 || !(50.0..=1_500.0).contains(&radius) {
        return Err("spring and tyre: expected a span of 200 to 3000 mm, an arch of at most half of it, a tyre of 100 to 3000 mm".to_owned());
    }
    let all = || -> Result<Lift, knockon_figures::FigureError> {
        let lifted = mount.lifted(lift, stop)?;
        let rule = GapRule::exact(reserve);
        let shaft = ShaftRun::from_length(length, drop, Length::new::<millimeter>(0.0))?;
        Ok(Lift {
            lift,
            mounts: [mount, lifted],
            fits: [damper_fit(mount, damper, rule)?, damper_fit(lifted, damper, rule)?],
            wanted: damper_wanted(lifted, reserve)?,
            damper,
            lies: [Lie::of(shaft, tilts)?, Lie::of(shaft.lifted(lift)?, tilts)?],
            tilts,
            sizes,
        })
    };
    all().map_err(|e| e.to_string())
}

/// A spring drawn as an arc of a parabola: eyes at the ends, the axle's seat in the middle, an arch above it.
fn leaf(span: f64, arch: f64, seat: At) -> Vec<At> {
    (0..=24)
        .map(|i| {
            let share = f64::from(i) / 12.0 - 1.0;
            (seat.0 + share * span / 2.0, seat.1 + arch * share * share)
        })
        .collect()
}

/// Upper eye of a damper whose lower eye lies at `foot`.
fn upper_eye(foot: At, mount: &DamperMount) -> At {
    let (long, lean) = (mount.spacing.get::<millimeter>(), mount.lean.get::<radian>());
    (foot.0 + long * lean.sin(), foot.1 + long * lean.cos())
}

impl Shown for Lift {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let [_, fit] = &self.fits;
        let (bump, bump_holds) = gap_words(&fit.at_bump, m);
        let (droop, droop_holds) = gap_words(&fit.at_droop, m);
        let [before, after] = &self.lies;
        let angle = |lie: &Lie| lie.joints.output.max(lie.joints.pinion);
        let eased = angle(after).get::<degree>() <= 3.0 + 1e-9;
        let shaft = format!("{}, lifted {}", say::angle(angle(before)), say::angle(angle(after)));
        vec![
            Fact::judged("Damper at bump, lifted", bump, bump_holds),
            Fact::judged("Damper at droop, lifted", droop, droop_holds),
            Fact::judged(
                "Larger joint angle",
                if eased { shaft } else { format!("{shaft}, more than 3°") },
                eased,
            ),
            Fact::new("Damper pushed in, at most", say::length(self.wanted.closed_at_most, m)),
            Fact::new("Damper pulled out, at least", say::length(self.wanted.open_at_least, m)),
            Fact::new(
                "Damper leans, lifted",
                self.mounts.last().map_or_else(String::new, |mount| say::angle(mount.lean)),
            ),
        ]
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let [span, arch, radius] = self.sizes;
        let lift = self.lift.get::<millimeter>();
        let (run, _) = self.lies[0].mm();
        let eye = upper_eye((140.0, radius - 60.0), &self.mounts[1]);
        let top = eye.1.max(radius + arch + lift.max(0.0) + 120.0).max(radius * 2.0) + 40.0;
        let (left, right) = (-(run + 320.0).max(radius + 60.0), (span / 2.0 + 80.0).max(radius + 60.0));
        let b = Board::new(&paint, *t, rect, m, (left, 0.0), (right, top));
        b.path(&[(left, 0.0), (right, 0.0)], Stroke::new(1.0, t.edge));
        b.circle((0.0, radius), radius, Stroke::new(PEN, t.line));
        b.circle((0.0, radius), 40.0, b.pen(t.ink));
        self.state(&b, 0, t.soft);
        self.state(&b, 1, t.ink);
        let rail = radius + arch + 60.0;
        b.dimension((right - 20.0, rail), (right - 20.0, rail + lift), 0.0, &say::length(self.lift, m));
        let length = |mount: &DamperMount| say::length(mount.spacing, m);
        let [before, after] = &self.mounts;
        b.words(
            b.at(eye) + egui::vec2(8.0, -6.0),
            Align2::LEFT_BOTTOM,
            &format!("damper {}, was {}", length(after), length(before)),
            t.ink,
        );
        let [was, now] = &self.lies;
        let (x, y) = (-run - 150.0, radius + now.mm().1);
        b.words(
            b.at((x, y)) + egui::vec2(0.0, -12.0),
            Align2::LEFT_BOTTOM,
            &format!("shaft {}, was {}", say::angle(now.joints.output), say::angle(was.joints.output)),
            t.ink,
        );
        self.stroke(&b, m);
        b.bar();
    }
}

impl Lift {
    /// The vehicle before (0) or after (1) the lift; the axle stays where it is.
    fn state(&self, b: &Board<'_>, which: usize, tone: Color32) {
        let [span, arch, radius] = self.sizes;
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
        let rail = radius + arch + 60.0 + up;
        line(&[(-span / 2.0 - 60.0, rail), (span / 2.0 + 60.0, rail)], 4.0);
        let spring = leaf(span, arch + up, (0.0, radius));
        line(&spring, 3.0);
        for end in [spring.first(), spring.last()].into_iter().flatten() {
            line(&[*end, (end.0, rail)], PEN);
        }
        let foot = (140.0, radius - 60.0);
        let eye = upper_eye(foot, mount);
        line(&[foot, eye], if ghost { 1.0 } else { 4.0 });
        if !ghost {
            for at in [foot, eye] {
                b.paint.circle(b.at(at), 4.0, b.t.sheet, Stroke::new(PEN, tone));
            }
        }
        let (run, _) = lie.mm();
        // in the driveline's own drawing the axle joint lies at the right end and at height nothing
        let shifted = b.moved((-run - 60.0, radius));
        driveline::shaft(&shifted, lie, self.tilts, tone, ghost);
    }

    /// What the damper can do against what it must do, as two bars at the upper left.
    fn stroke(&self, b: &Board<'_>, m: Measure) {
        let [_, fit] = &self.fits;
        let holds = fit.at_bump.holds() && fit.at_droop.holds();
        let (has, wants) =
            ([self.damper.closed, self.damper.open], [self.wanted.closed_at_most, self.wanted.open_at_least]);
        // a scale of their own, from the shortest to the longest: what counts is which end reaches further
        let least = self.damper.closed.min(self.wanted.closed_at_most);
        let span = (self.damper.open.max(self.wanted.open_at_least) - least).get::<millimeter>().max(1.0);
        let x = |l: Length| b.rect.left() + 116.0 + ((l - least).get::<millimeter>() / span) as f32 * 110.0;
        let ends = x(self.damper.open).max(x(self.wanted.open_at_least));
        for (row, word, [low, high], tone) in [
            (0.0, "damper wanted", wants, b.t.soft),
            (1.0, "damper fitted", has, if holds { b.t.cool } else { b.t.warm }),
        ] {
            let y = b.rect.top() + 22.0 + row * 24.0;
            b.paint.line_segment([egui::pos2(x(low), y), egui::pos2(x(high), y)], Stroke::new(6.0, tone));
            b.words(egui::pos2(b.rect.left() + 12.0, y), Align2::LEFT_CENTER, word, tone);
            let text = format!("{} to {}", say::length(low, m), say::length(high, m));
            b.words(egui::pos2(ends + 10.0, y), Align2::LEFT_CENTER, &text, tone);
        }
    }
}

#[cfg(test)]
mod tests {
    use uom::si::f64::Angle;

    use super::*;

    #[test]
    fn the_drawn_damper_is_as_long_as_the_figures_say_and_moves_with_the_lift() {
        let lift = work(&Values(&fields(None))).unwrap_or_else(|why| unreachable!("{why}"));
        let foot = (0.0, 0.0);
        let [before, after] = lift.mounts.map(|mount| upper_eye(foot, &mount));
        assert!((before.0.hypot(before.1) - 350.0).abs() < 1e-9);
        assert!((after.0 - before.0).abs() < 1e-9 && (after.1 - before.1 - 40.0).abs() < 1e-9);
        let angle = Angle::new::<degree>(15.0);
        assert!((before.0 - 350.0 * angle.get::<radian>().sin()).abs() < 1e-9);
    }

    #[test]
    fn the_spring_keeps_its_span_and_arch() {
        let points = leaf(1000.0, 80.0, (10.0, 300.0));
        assert_eq!(
            (points.first(), points.last(), points.get(12)),
            (Some(&(-490.0, 380.0)), Some(&(510.0, 380.0)), Some(&(10.0, 300.0)))
        );
    }

    #[test]
    fn a_long_lift_pulls_the_damper_out() {
        let mut fields = fields(None);
        if let Some(field) = fields.first_mut() {
            *field = Field::length("lift", "Lift", "90 mm", None);
        }
        let lift = work(&Values(&fields)).unwrap_or_else(|why| unreachable!("{why}"));
        assert!(
            lift.facts(Measure::Metric)[1].text.starts_with("does not fit"),
            "{}",
            lift.facts(Measure::Metric)[1].text
        );
    }
}
