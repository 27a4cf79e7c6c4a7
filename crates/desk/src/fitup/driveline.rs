//! Driveline angles: shaft and joints in side view, and what is left of the swing of the two joints.

use egui::{Align2, Color32, Rect, Stroke, Ui};
use knockon_core::showing::Measure;
use knockon_core::units::Dimension;
use knockon_figures::driveline::{
    COMFORT_DEG, FlangeTilts, JointAngles, Phase, ShaftRun, comfortable, joint_angles, most_lift,
    pinion_tilt_to_cancel, residual_angle, shaft_length, speed_swing,
};
use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use super::field::{Ask, Field, Values};
use super::say;
use super::scale::{At, Board};
use super::shown::{Advice, Fact, Shown};
use super::vehicle::Vehicle;
use crate::look::tokens::{PEN, Tokens};

/// The fields as they begin.
pub fn fields(v: Option<&Vehicle<'_>>) -> Vec<Field> {
    let angle = Ask::Quantity(Dimension::Angle);
    let fact = |figure| v.and_then(|v| v.fact(figure));
    vec![
        Field::length(
            "length",
            "Shaft, joint to joint",
            "1422 mm",
            v.and_then(|v| v.figure("prop-shaft", "shaft-length")),
        ),
        Field::length(
            "drop",
            "Axle joint lower by",
            "60 mm",
            v.and_then(|v| v.figure("prop-shaft", "shaft-drop")),
        ),
        Field::length("side", "Joints apart sideways", "0 mm", fact("shaft-side")),
        Field::new("output", "Gearbox output points down", angle, "3°", fact("output-down")),
        Field::new("pinion", "Pinion points up", angle, "3°", fact("pinion-up")),
        Field::length("lift", "Lift", "50 mm", None).choice(),
    ]
}

/// A shaft as it lies.
pub struct Lie {
    /// Its run.
    pub shaft: ShaftRun,
    /// Angles of its joints.
    pub joints: JointAngles,
    /// What is left of the swing.
    pub left: Angle,
}

impl Lie {
    /// Works out how a shaft lies.
    pub fn of(shaft: ShaftRun, tilts: FlangeTilts) -> Result<Self, knockon_figures::FigureError> {
        let joints = joint_angles(shaft, tilts)?;
        let left = residual_angle(joints.output, joints.pinion, Phase::InLine)?;
        Ok(Self { shaft, joints, left })
    }

    /// Level run and drop, mm.
    pub fn mm(&self) -> (f64, f64) {
        (self.shaft.run.get::<millimeter>(), self.shaft.drop.get::<millimeter>())
    }
}

/// A driveline before and after a lift.
pub struct Driveline {
    before: Lie,
    after: Lie,
    tilts: FlangeTilts,
    cancels: Angle,
    swing: f64,
    longer: Length,
    /// Lift at which every angle is still easy; `None`: not even without one.
    most: Option<Length>,
    lift: Length,
}

/// Works the angles out.
pub fn work(v: &Values<'_>) -> Result<Driveline, String> {
    let tilts = FlangeTilts { output_down: v.angle("output")?, pinion_up: v.angle("pinion")? };
    let (length, drop, side, lift) =
        (v.length("length")?, v.length("drop")?, v.length("side")?, v.length("lift")?);
    let all = || -> Result<Driveline, knockon_figures::FigureError> {
        let shaft = ShaftRun::from_length(length, drop, side)?;
        let lifted = shaft.lifted(lift)?;
        let after = Lie::of(lifted, tilts)?;
        Ok(Driveline {
            before: Lie::of(shaft, tilts)?,
            tilts,
            cancels: pinion_tilt_to_cancel(tilts.output_down)?,
            swing: speed_swing(after.left)?.swing,
            longer: shaft_length(lifted)? - length,
            most: most_lift(shaft, tilts, Angle::new::<degree>(COMFORT_DEG))?,
            lift,
            after,
        })
    };
    all().map_err(|e| e.to_string())
}

impl Shown for Driveline {
    fn facts(&self, m: Measure) -> Vec<Fact> {
        let pair =
            |before: Angle, after: Angle| format!("{}, lifted {}", say::angle(before), say::angle(after));
        let judged = |figure, name, before: Angle, after: Angle| {
            let text = pair(before, after);
            let text = if comfortable(after) { text } else { format!("{text}, more than {COMFORT_DEG}°") };
            Fact::judged(figure, name, text, comfortable(after))
        };
        vec![
            judged("joint-angles", "Left of both joints", self.before.left, self.after.left),
            judged(
                "joint-angles",
                "Joint at the gearbox",
                self.before.joints.output,
                self.after.joints.output,
            ),
            judged("joint-angles", "Joint at the axle", self.before.joints.pinion, self.after.joints.pinion),
            Fact::new("joint-swing", "Speed swing at the axle, lifted", say::percent(self.swing)),
            Fact::new("joint-angles", "Pinion that cancels", format!("{} up", say::angle(self.cancels))),
            Fact::new("shaft-order", "Shaft grows by", say::length(self.longer, m)),
        ]
    }

    fn advice(&self, m: Measure) -> Advice {
        let joints = [self.after.joints.output, self.after.joints.pinion].into_iter().all(comfortable);
        let turn = (self.tilts.pinion_up - self.cancels).abs();
        let way = if self.tilts.pinion_up > self.cancels { "down" } else { "up" };
        let wedge = format!("turn the pinion {way} by {} so that the joints cancel", say::angle(turn));
        match (joints, comfortable(self.after.left)) {
            (true, true) => Advice::nothing("the joints run easy"),
            (true, false) => Advice::to_do(wedge),
            (false, cancel) => {
                let lift = self.most.filter(|most| *most < self.lift);
                let lift = lift.map_or_else(
                    || "lower or raise an end of the shaft, or fit a joint for larger angles".to_owned(),
                    |most| {
                        format!("lift by {} at most, or fit a joint for larger angles", say::length(most, m))
                    },
                );
                Advice::to_do(if cancel { lift } else { format!("{lift}; {wedge}") })
            }
        }
    }

    fn draw(&self, ui: &mut Ui, t: &Tokens, rect: Rect, m: Measure) {
        let paint = ui.painter_at(rect);
        let (run, before) = self.before.mm();
        let (_, after) = self.after.mm();
        let (high, low) = (before.max(after).max(0.0) + 160.0, before.min(after).min(0.0) - 160.0);
        let b = Board::new(&paint, *t, rect, m, (-190.0, low), (run + 190.0, high));
        // the axle stays, the gearbox rises with the lift
        shaft(&b, &self.before, self.tilts, t.soft, true);
        shaft(&b, &self.after, self.tilts, t.ink, false);
        let middle = |lie: &Lie| {
            let (run, drop) = lie.mm();
            (run / 2.0, drop / 2.0)
        };
        b.words(
            b.at(middle(&self.after)) - egui::vec2(0.0, 14.0),
            Align2::CENTER_BOTTOM,
            &format!("lifted, {} left", say::angle(self.after.left)),
            t.ink,
        );
        b.words(
            b.at(middle(&self.before)) + egui::vec2(0.0, 14.0),
            Align2::CENTER_TOP,
            &format!("as it was, {} left", say::angle(self.before.left)),
            t.soft,
        );
        b.words(
            b.at((0.0, after)) + egui::vec2(12.0, -16.0),
            Align2::LEFT_BOTTOM,
            &format!("gearbox joint {}", say::angle(self.after.joints.output)),
            t.ink,
        );
        b.words(
            b.at((run, 0.0)) + egui::vec2(-12.0, 16.0),
            Align2::RIGHT_TOP,
            &format!("axle joint {}", say::angle(self.after.joints.pinion)),
            t.ink,
        );
        b.dimension((-150.0, 0.0), (-150.0, after), -14.0, &say::length(self.after.shaft.drop, m));
        b.dashed(&[(-170.0, 0.0), (run, 0.0)], Stroke::new(1.0, t.line));
        b.bar();
    }
}

/// Draws a shaft with its joints: the axle's at the right and at height nothing, the gearbox's at the left.
pub fn shaft(b: &Board<'_>, lie: &Lie, tilts: FlangeTilts, tone: Color32, ghost: bool) {
    let (run, drop) = lie.mm();
    let (gearbox, axle) = ((0.0, drop), (run, 0.0));
    let (output, pinion) = flanges(gearbox, axle, tilts, 130.0);
    let pen = Stroke::new(if ghost { 1.0 } else { 3.0 }, tone);
    let thin = Stroke::new(PEN, tone);
    if ghost {
        b.dashed(&[gearbox, axle], pen);
        b.dashed(&[output, gearbox], thin);
    } else {
        b.path(&[gearbox, axle], pen);
        b.path(&[output, gearbox], Stroke::new(5.0, tone));
        b.path(&[axle, pinion], Stroke::new(5.0, tone));
    }
    for joint in [gearbox, axle] {
        b.paint.circle(b.at(joint), 6.0, b.t.sheet, thin);
    }
}

/// Far ends of the stubs of gearbox output and pinion, so long.
fn flanges(gearbox: At, axle: At, tilts: FlangeTilts, long: f64) -> (At, At) {
    let (down, up) = (tilts.output_down.get::<radian>(), tilts.pinion_up.get::<radian>());
    // an output that points down toward the axle comes from above; a pinion that points up goes on downward
    (
        (gearbox.0 - long * down.cos(), gearbox.1 + long * down.sin()),
        (axle.0 + long * up.cos(), axle.1 - long * up.sin()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn deg(angle: Angle) -> f64 {
        angle.get::<degree>()
    }

    #[test]
    fn parallel_flanges_leave_nothing_at_any_lift() {
        let d = work(&Values(&fields(None))).unwrap_or_else(|why| unreachable!("{why}"));
        assert!(deg(d.before.left) < 1e-5 && deg(d.after.left) < 1e-5);
        assert!(deg(d.after.joints.output) > deg(d.before.joints.output));
        assert!(d.longer.value > 0.0 && (deg(d.cancels) - 3.0).abs() < 1e-9);
        // 3 deg of tilt and 3 deg of joint: the shaft may slope by 6 deg, 1420.7 × tan 6° - 60 = 89.3 mm
        assert_eq!(d.most.map(|l| l.get::<millimeter>().round()), Some(89.0));
        assert!(!d.advice(Measure::Metric).due);
    }

    #[test]
    fn the_stubs_make_the_angles_the_figures_give() {
        let tilts =
            FlangeTilts { output_down: Angle::new::<degree>(2.0), pinion_up: Angle::new::<degree>(5.0) };
        let mm = Length::new::<millimeter>;
        let lie = Lie::of(ShaftRun { run: mm(1000.0), drop: mm(100.0), side: mm(0.0) }, tilts)
            .unwrap_or_else(|e| unreachable!("{e}"));
        let (gearbox, axle) = ((0.0, 100.0), (1000.0, 0.0));
        let (output, pinion) = flanges(gearbox, axle, tilts, 130.0);
        let slope = |a: At, b: At| (a.1 - b.1).atan2(b.0 - a.0).to_degrees();
        assert!(
            ((slope(gearbox, axle) - slope(output, gearbox)).abs() - deg(lie.joints.output)).abs() < 1e-9
        );
        assert!(((slope(gearbox, axle) - slope(axle, pinion)).abs() - deg(lie.joints.pinion)).abs() < 1e-9);
    }
}
