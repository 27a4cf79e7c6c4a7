//! A lift in side view, to scale: spring, damper and shaft before and after, and the damper over its travel beside it.

mod drawing;

use egui::{Rect, Ui};
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

use super::driveline::Lie;
use super::field::{Ask, Field, Values};
use super::say;
use super::scale::At;
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use super::wheel::gap_words;
use crate::look::tokens::Tokens;

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let figure = |class, figure| v.and_then(|v| v.figure(class, figure));
    let fact = |figure| v.and_then(|v| v.fact(figure));
    let angle = Ask::Quantity(Dimension::Angle);
    vec![
        Field::length("lift", "Lift", "40 mm", None).choice(),
        Field::length("stop", "Bump stop longer by", "30 mm", None).choice(),
        Field::length("spacing", "Damper eyes apart at ride", "350 mm", None),
        Field::new("lean", "Damper leans", angle, "15°", None),
        Field::length("bump", "Bump travel", "65 mm", fact("rear-bump")),
        Field::length("droop", "Droop travel", "80 mm", fact("rear-droop")),
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
        Field::length("drop", "Axle joint lower by", "60 mm", figure("prop-shaft", "shaft-drop")),
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
        self.drawn(ui, t, rect, m);
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
                *field = Field::new(field.id, "", field.ask, "0 mm", Some(found));
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
