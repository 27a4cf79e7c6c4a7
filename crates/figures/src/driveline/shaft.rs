//! How a propeller shaft lies: its length and the angles of its joints, before and after a lift (geometry).

use uom::si::angle::{degree, radian};
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

use crate::error::FigureError;
use crate::range::Range;

const RUN: Range = Range::new(100.0, 10_000.0, "mm");
const DROP: Range = Range::new(-2_000.0, 2_000.0, "mm");
const SIDE: Range = Range::new(-1_000.0, 1_000.0, "mm");
const TILT: Range = Range::new(-30.0, 30.0, "°");
const LIFT: Range = Range::new(-500.0, 1_000.0, "mm");

/// Where the two joint centres of a shaft lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftRun {
    /// Level distance along the vehicle, 100 to 10,000 mm; a lift does not change it.
    pub run: Length,
    /// How much lower the joint at the axle lies, -2,000 to 2,000 mm.
    pub drop: Length,
    /// How far the joints stand apart seen from above across the vehicle, -1,000 to 1,000 mm.
    pub side: Length,
}

/// How the flanges at the two ends point, in side view.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlangeTilts {
    /// Output of the gearbox or transfer box pointing down toward the axle is positive, -30 to 30 deg.
    pub output_down: Angle,
    /// Pinion pointing up toward the gearbox is positive, -30 to 30 deg.
    pub pinion_up: Angle,
}

/// True angles of the two joints.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointAngles {
    /// At the gearbox or transfer box.
    pub output: Angle,
    /// At the axle.
    pub pinion: Angle,
}

impl ShaftRun {
    /// From a measured distance from joint centre to joint centre: the level run is what drop and side leave of it.
    ///
    /// * `length`: more than drop and side together, up to 10,000 mm.
    /// * `drop`, `side`: as in [`ShaftRun`].
    ///
    /// # Errors
    /// [`FigureError`] if a measure is out of its range or too little is left for the run.
    ///
    /// Source: geometry.
    pub fn from_length(length: Length, drop: Length, side: Length) -> Result<Self, FigureError> {
        let whole = RUN.check("shaft length", length.get::<millimeter>())?;
        let drop_mm = DROP.check("drop of the shaft", drop.get::<millimeter>())?;
        let side_mm = SIDE.check("side offset of the shaft", side.get::<millimeter>())?;
        let run =
            RUN.check("level run of the shaft", (whole.powi(2) - drop_mm.powi(2) - side_mm.powi(2)).sqrt())?;
        Ok(Self { run: Length::new::<millimeter>(run), drop, side })
    }

    /// The same shaft after the gearbox rose over the axle by a lift, or the axle fell from under it.
    ///
    /// * `lift`: -500 to 1,000 mm; bump travel is negative.
    ///
    /// # Errors
    /// [`FigureError`] if an argument is out of its range.
    ///
    /// Source: geometry; the axle is taken to move straight up and down and keep its tilt.
    pub fn lifted(self, lift: Length) -> Result<Self, FigureError> {
        LIFT.check("lift", lift.get::<millimeter>())?;
        let lifted = Self { drop: self.drop + lift, ..self };
        lifted.check()?;
        Ok(lifted)
    }

    /// Along, across and down, mm.
    fn check(&self) -> Result<[f64; 3], FigureError> {
        Ok([
            RUN.check("level run of the shaft", self.run.get::<millimeter>())?,
            SIDE.check("side offset of the shaft", self.side.get::<millimeter>())?,
            DROP.check("drop of the shaft", self.drop.get::<millimeter>())?,
        ])
    }
}

/// Distance from joint centre to joint centre: `sqrt(run^2 + side^2 + drop^2)`.
///
/// * `shaft`: within the ranges of [`ShaftRun`].
///
/// # Errors
/// [`FigureError`] if a measure is out of its range.
///
/// Source: geometry.
pub fn shaft_length(shaft: ShaftRun) -> Result<Length, FigureError> {
    let length2: f64 = shaft.check()?.iter().map(|part| part.powi(2)).sum();
    Ok(Length::new::<millimeter>(length2.sqrt()))
}

/// True angles of both joints, side view and plan view together.
///
/// * `shaft`: within the ranges of [`ShaftRun`].
/// * `tilts`: within the ranges of [`FlangeTilts`]; both flanges are taken to lie straight along the vehicle seen from
///   above.
///
/// A single cross joint: up to 3 deg for comfort at speed, 7 at low speed, 15 to 22 by its yoke; both ends equal within
/// 1 deg, so that they cancel. Common practice.
///
/// # Errors
/// [`FigureError`] if a measure is out of its range.
///
/// Source: scalar product of the directions.
pub fn joint_angles(shaft: ShaftRun, tilts: FlangeTilts) -> Result<JointAngles, FigureError> {
    let parts = shaft.check()?;
    let output = TILT.check("output tilt", tilts.output_down.get::<degree>())?;
    let pinion = TILT.check("pinion tilt", tilts.pinion_up.get::<degree>())?;
    Ok(JointAngles {
        output: between(parts, output.to_radians()),
        pinion: between(parts, pinion.to_radians()),
    })
}

/// Angle between a shaft and a flange that points down along the vehicle by `tilt`: from sine and cosine, which stays
/// exact for small angles.
fn between([along, across, down]: [f64; 3], tilt: f64) -> Angle {
    let (sine, cosine) = tilt.sin_cos();
    let in_line = along * cosine + down * sine;
    let aside = (down * cosine - along * sine).hypot(across);
    Angle::new::<radian>(aside.atan2(in_line))
}

/// Pinion tilt with which two single joints cancel: parallel to the output, so as much up as that points down.
///
/// With a double joint at the gearbox the pinion points at it instead, which is the slope of the shaft, less 1 to 2 deg
/// for the wind-up of the springs, common practice.
///
/// * `output_down`: -30 to 30 deg.
///
/// # Errors
/// [`FigureError`] if the tilt is out of its range.
///
/// Source: two joints cancel at equal angles, see [`super::residual_angle`].
pub fn pinion_tilt_to_cancel(output_down: Angle) -> Result<Angle, FigureError> {
    TILT.check("output tilt", output_down.get::<degree>())?;
    Ok(output_down)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::driveline::{Phase, compound_angle, residual_angle};
    use crate::testing::{REFUSED, close, refuses};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn run(run: f64, drop: f64, side: f64) -> ShaftRun {
        ShaftRun { run: mm(run), drop: mm(drop), side: mm(side) }
    }

    fn angles(shaft: ShaftRun, output: f64, pinion: f64) -> Result<[f64; 2], FigureError> {
        let [output_down, pinion_up] = [output, pinion].map(Angle::new::<degree>);
        let found = joint_angles(shaft, FlangeTilts { output_down, pinion_up })?;
        Ok([found.output, found.pinion].map(|a| a.get::<degree>()))
    }

    fn length(shaft: ShaftRun) -> Result<f64, FigureError> {
        shaft_length(shaft).map(|l| l.get::<millimeter>())
    }

    /// Rear shaft of an example vehicle: 559 mm from joint to joint, 112 mm drop.
    fn scree() -> ShaftRun {
        ShaftRun::from_length(mm(559.0), mm(112.0), mm(0.0)).unwrap_or_else(|error| panic!("{error}"))
    }

    #[test]
    fn trade_shaft_at_ride() {
        // an example vehicle: 11.5 degrees; output 3 down and pinion 5 up leave 8.56 and 6.56 (by hand, asin 112/559)
        close(angles(scree(), 0.0, 0.0).map(|a| a[0]), 11.5, 0.006);
        close(angles(scree(), 3.0, 5.0).map(|a| a[0]), 8.557_881_909_7, 1e-9);
        close(angles(scree(), 3.0, 5.0).map(|a| a[1]), 6.557_881_909_7, 1e-9);
        // front shaft: 699 and 91 mm: asin gives 7.4803
        let front = ShaftRun::from_length(mm(699.0), mm(91.0), mm(0.0)).and_then(|s| angles(s, 0.0, 0.0));
        close(front.map(|a| a[0]), 7.480_339_515_7, 1e-9);
    }

    #[test]
    fn trade_angles_added_by_a_lift() {
        // physics, rear shaft 560 mm: 1 in adds 2.5 deg, 2 in 5.0, 3 in 7.4, 4 in 9.8
        let at_ride = angles(scree(), 0.0, 0.0).map_or(f64::NAN, |a| a[1]);
        for (inches, added) in [(1.0, 2.5), (2.0, 5.0), (3.0, 7.4), (4.0, 9.8)] {
            let lifted = scree().lifted(mm(inches * 25.4)).and_then(|s| angles(s, 0.0, 0.0));
            close(lifted.map(|a| a[1] - at_ride), added, 0.012);
        }
        // a front shaft that is longer is hurt less
        let front =
            ShaftRun::from_length(mm(699.0), mm(91.0), mm(0.0)).unwrap_or_else(|error| panic!("{error}"));
        let before = angles(front, 0.0, 0.0).map_or(f64::NAN, |a| a[1]);
        let after = front.lifted(mm(63.5)).and_then(|s| angles(s, 0.0, 0.0));
        assert!(after.is_ok_and(|a| a[1] - before < 6.0));
    }

    #[test]
    fn trade_length_at_droop() {
        // common practice: measured at droop the shaft comes 15 to 30 mm wrong; 75 mm of droop, by hand 578.71
        close(scree().lifted(mm(75.0)).and_then(length), 578.710_635_810_3, 1e-9);
        let off = scree().lifted(mm(75.0)).and_then(length).map(|l| l - 559.0);
        assert!(off.is_ok_and(|o| (15.0..30.0).contains(&o)));
        close(scree().lifted(mm(0.0)).and_then(length), 559.0, 1e-12);
    }

    #[test]
    fn angles_in_space() {
        // a 1-2-2 block: run 200, drop 100, side 200: length 300, cos = 2/3
        close(length(run(200.0, 100.0, 200.0)), 300.0, 1e-12);
        close(angles(run(200.0, 100.0, 200.0), 0.0, 0.0).map(|a| a[0]), 48.189_685_104, 1e-9);
        // numerical: scalar product outside this program
        close(angles(run(1200.0, 90.0, 40.0), 3.0, 2.0).map(|a| a[0]), 2.299_085_677, 1e-8);
        close(angles(run(1200.0, 90.0, 40.0), 3.0, 2.0).map(|a| a[1]), 2.977_042_897, 1e-8);
    }

    #[test]
    fn a_parallel_pinion_cancels() {
        let tilt = pinion_tilt_to_cancel(Angle::new::<degree>(3.0)).map_or(f64::NAN, |a| a.get::<degree>());
        let found = angles(run(548.0, 112.0, 30.0), 3.0, tilt);
        let [output, pinion] = found.unwrap_or_default().map(Angle::new::<degree>);
        let left = residual_angle(output, pinion, Phase::InLine).map(|a| a.get::<degree>());
        assert!(left.is_ok_and(|l| l < 1e-6) && output.get::<degree>() > 1.0);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(length(run(bad, 112.0, 0.0)), "level run of the shaft");
            refuses(ShaftRun::from_length(mm(bad), mm(0.0), mm(0.0)), "shaft length");
        }
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -1e9, 1e9] {
            refuses(length(run(548.0, bad, 0.0)), "drop of the shaft");
            refuses(length(run(548.0, 112.0, bad)), "side offset of the shaft");
            refuses(scree().lifted(mm(bad)), "lift");
            refuses(angles(scree(), bad, 0.0), "output tilt");
            refuses(angles(scree(), 0.0, bad), "pinion tilt");
            refuses(pinion_tilt_to_cancel(Angle::new::<degree>(bad)), "output tilt");
        }
        // a shaft that is shorter than its drop
        refuses(ShaftRun::from_length(mm(559.0), mm(560.0), mm(0.0)), "level run of the shaft");
        refuses(run(548.0, 1900.0, 0.0).lifted(mm(200.0)), "drop of the shaft");
    }

    proptest! {
        #[test]
        fn level_flanges_show_the_compound_angle(l in 400.0..1500.0, drop in -200.0..200.0, side in -150.0..150.0) {
            let found = angles(run(l, drop, side), 0.0, 0.0).map_or(f64::NAN, |a| a[0]);
            let [a, b] = [drop, side].map(|d| Angle::new::<radian>((d / l).atan()));
            let expected = compound_angle(a, b).map_or(f64::NAN, |c| c.get::<degree>());
            prop_assert!((found - expected).abs() < 1e-9);
        }

        #[test]
        fn length_and_run_undo_each_other(l in 400.0..1500.0, drop in -200.0..200.0, side in -150.0..150.0) {
            let whole = length(run(l, drop, side)).unwrap_or(f64::NAN);
            let back = ShaftRun::from_length(mm(whole), mm(drop), mm(side)).map(|s| s.run.get::<millimeter>());
            prop_assert!(back.is_ok_and(|b| (b - l).abs() < 1e-9));
        }

        #[test]
        fn a_lift_makes_a_dropping_shaft_steeper_and_longer(l in 400.0..1500.0, drop in 0.0..200.0, lift in 1.0..150.0) {
            let (low, high) = (run(l, drop, 20.0), run(l, drop + lift, 20.0));
            prop_assert!(length(high).unwrap_or(f64::NAN) > length(low).unwrap_or(f64::NAN));
            let angle = |s| angles(s, 0.0, 0.0).map_or(f64::NAN, |a| a[0]);
            prop_assert!(angle(high) > angle(low));
        }

        #[test]
        fn a_shaft_to_either_side_is_the_same(l in 400.0..1500.0, drop in -200.0..200.0, side in -150.0..150.0) {
            let angle = |side| angles(run(l, drop, side), 3.0, 2.0).unwrap_or([f64::NAN; 2]);
            prop_assert_eq!(angle(side), angle(-side));
        }

        #[test]
        fn any_numbers_are_refused_or_finite(a in any::<[f64; 5]>()) {
            prop_assert!(length(run(a[0], a[1], a[2])).map_or(true, f64::is_finite));
            prop_assert!(angles(run(a[0], a[1], a[2]), a[3], a[4]).map_or(true, |v| v.iter().all(|x| x.is_finite())));
        }
    }
}
