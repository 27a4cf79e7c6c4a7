//! Generator drive and output, and the gauge of copper wire (belt kinematics; ASTM B258). The loads a generator must
//! carry and the battery's reserve stand below; drop, size and fuse of a wire in [`crate::wiring`].

pub mod battery;
pub mod loads;

use uom::si::f64::Length;
use uom::si::length::millimeter;

use crate::error::{Expected, FigureError};
use crate::range::{RPM, Range};

const PULLEY: Range = Range::new(10.0, 1_000.0, "mm");
const OUTPUT: Range = Range::new(0.0, 2_000.0, "A");
pub(crate) const CURRENT: Range = Range::new(1e-6, 10_000.0, "A");
pub(crate) const RUN_LENGTH: Range = Range::new(0.001, 1_000.0, "m");
pub(crate) const WIRE_AREA: Range = Range::new(0.001, 1_000.0, "mm2");
pub(crate) const GAUGE: Range = Range::new(-3.0, 40.0, "AWG");
pub(crate) const CURVE_POINTS: Range = Range::new(1.0, 10_000.0, "points");

/// Speed of a generator's rotor, rev/min: `engine * crank pulley / generator pulley`.
///
/// * `crank_pulley`, `generator_pulley`: effective diameters, 10 to 1,000 mm.
/// * `engine_rpm`: 1 to 100,000 rev/min. The belt is taken not to slip.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: belt kinematics.
pub fn rotor_speed(
    crank_pulley: Length,
    generator_pulley: Length,
    engine_rpm: f64,
) -> Result<f64, FigureError> {
    let engine = RPM.check("engine speed", engine_rpm)?;
    Ok(engine * pulley_ratio(crank_pulley, generator_pulley)?)
}

/// Speed of the engine that gives a rotor speed, rev/min: `rotor * generator pulley / crank pulley`.
///
/// * `crank_pulley`, `generator_pulley`: effective diameters, 10 to 1,000 mm.
/// * `rotor_rpm`: speed wanted at the rotor, say the one at which it excites, 1 to 100,000 rev/min.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: belt kinematics.
pub fn engine_speed_for_rotor(
    crank_pulley: Length,
    generator_pulley: Length,
    rotor_rpm: f64,
) -> Result<f64, FigureError> {
    let rotor = RPM.check("rotor speed", rotor_rpm)?;
    Ok(rotor / pulley_ratio(crank_pulley, generator_pulley)?)
}

/// Turns of the rotor for one of the crankshaft.
fn pulley_ratio(crank: Length, generator: Length) -> Result<f64, FigureError> {
    let crank = PULLEY.check("crank pulley diameter", crank.get::<millimeter>())?;
    let generator = PULLEY.check("generator pulley diameter", generator.get::<millimeter>())?;
    Ok(crank / generator)
}

/// Output of a generator at a rotor speed, A, by straight lines between the points of its curve.
///
/// * `curve`: pairs of rotor speed (1 to 100,000 rev/min, strictly rising) and output (0 to 2,000 A); at least one.
/// * `rotor_rpm`: 1 to 100,000 rev/min.
///
/// Below the first point the output is 0 A: a curve says nothing of what lies under it, and the idle balance must not
/// count on it. Begin the curve at the cut-in speed with 0 A to have the foot of it drawn. Above the last point the
/// last output holds.
///
/// # Errors
/// [`FigureError`] if the speed or a point is out of its range, the curve is empty, or its speeds do not rise.
///
/// Source: linear interpolation; the curve is the generator maker's.
pub fn output_at(curve: &[(f64, f64)], rotor_rpm: f64) -> Result<f64, FigureError> {
    let rpm = RPM.check("rotor speed", rotor_rpm)?;
    CURVE_POINTS.check("output curve", curve.len() as f64)?;
    check_curve(curve)?;

    let above = curve.partition_point(|(at, _)| *at <= rpm);
    let before = above.checked_sub(1).and_then(|i| curve.get(i));
    Ok(match (before, curve.get(above)) {
        (None, _) => 0.0,
        (Some((_, last)), None) => *last,
        (Some((rpm_0, amps_0)), Some((rpm_1, amps_1))) => {
            amps_0 + (amps_1 - amps_0) * (rpm - rpm_0) / (rpm_1 - rpm_0)
        }
    })
}

/// Each point in range, each speed above the one before.
pub(crate) fn check_curve(curve: &[(f64, f64)]) -> Result<(), FigureError> {
    let quantity = "speed on the output curve";
    let mut before = 0.0;
    for (rpm, amps) in curve {
        let found = RPM.check(quantity, *rpm)?;
        OUTPUT.check("current on the output curve", *amps)?;
        if found <= before {
            return Err(FigureError {
                quantity,
                found,
                expected: Expected::Above { limit: before, unit: "rpm" },
            });
        }
        before = found;
    }
    Ok(())
}

/// Which way of the current a drop is taken over.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Run {
    /// The feed alone: the body or frame is the return.
    OneWay,
    /// Feed and an equal return wire: twice the length.
    ThereAndBack,
}

impl Run {
    /// How often the current passes the one-way length.
    pub(crate) fn times(self) -> f64 {
        match self {
            Self::OneWay => 1.0,
            Self::ThereAndBack => 2.0,
        }
    }
}

/// Diameter of a solid conductor by American wire gauge: `0.127 mm * 92^((36 - n) / 39)`.
///
/// * `n`: gauge number, -3 to 40; 1/0, 2/0, 3/0 and 4/0 are 0, -1, -2 and -3.
///
/// # Errors
/// [`FigureError`] if the number is out of its range.
///
/// Source: ASTM B258.
pub fn awg_diameter(n: i32) -> Result<Length, FigureError> {
    let gauge = GAUGE.check("wire gauge", f64::from(n))?;
    Ok(Length::new::<millimeter>(0.127 * 92_f64.powf((36.0 - gauge) / 39.0)))
}

#[cfg(test)]
mod tests {
    use std::f64::consts::FRAC_PI_4;

    use proptest::prelude::*;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    /// A unit of the 100 A class: common practice.
    const CURVE: [(f64, f64); 4] = [(1000.0, 0.0), (1303.0, 34.0), (1520.0, 42.0), (6000.0, 100.0)];

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    #[test]
    fn trade_rotor_speeds() {
        // physics: 165/76 = 2.17, 600 rpm gives 1,303; excites at 1,800 rotor, which is 829 crank
        assert_eq!(rotor_speed(mm(165.0), mm(76.0), 600.0).map(f64::round), Ok(1303.0));
        assert_eq!(engine_speed_for_rotor(mm(165.0), mm(76.0), 1800.0).map(f64::round), Ok(829.0));
        // idle 700 gives 1,520
        assert_eq!(rotor_speed(mm(165.0), mm(76.0), 700.0).map(f64::round), Ok(1520.0));
        // 127/63 at 700 gives 1,411, at 850 1,713; excites at 1,600 to 2,200 rotor: crank 792
        // (1,600 exactly is 794) to 1,091
        assert_eq!(rotor_speed(mm(127.0), mm(63.0), 700.0).map(f64::round), Ok(1411.0));
        close(rotor_speed(mm(127.0), mm(63.0), 850.0), 1713.0, 1e-3);
        close(engine_speed_for_rotor(mm(127.0), mm(63.0), 1600.0), 792.0, 3e-3);
        assert_eq!(engine_speed_for_rotor(mm(127.0), mm(63.0), 2200.0).map(f64::round), Ok(1091.0));
    }

    #[test]
    fn output_runs_straight_between_points() {
        for (rpm, amps) in CURVE.into_iter().skip(1) {
            close(output_at(&CURVE, rpm), amps, 1e-12);
        }
        close(output_at(&CURVE, 1151.5), 17.0, 1e-12);
        close(output_at(&CURVE, 3760.0), 71.0, 1e-12);
        assert_eq!(output_at(&CURVE, 999.0), Ok(0.0));
        assert_eq!(output_at(&CURVE, 1000.0), Ok(0.0));
        assert_eq!(output_at(&CURVE, 18_000.0), Ok(100.0));
        // one point: nothing below it, all of it from there
        assert_eq!(output_at(&[(1500.0, 25.0)], 1499.0), Ok(0.0));
        assert_eq!(output_at(&[(1500.0, 25.0)], 1500.0), Ok(25.0));
    }

    #[test]
    fn a_curve_that_is_none_is_refused() {
        refuses(output_at(&[], 1500.0), "output curve");
        let speed = "speed on the output curve";
        refuses(output_at(&[(1500.0, 20.0), (1500.0, 30.0)], 1500.0), speed);
        refuses(output_at(&[(2000.0, 20.0), (1500.0, 30.0)], 9000.0), speed);
        refuses(output_at(&[(1500.0, 20.0), (f64::NAN, 30.0)], 1000.0), speed);
        for amps in [f64::NAN, f64::INFINITY, -1.0] {
            refuses(output_at(&[(1500.0, amps)], 1000.0), "current on the output curve");
        }
        for bad in REFUSED {
            refuses(output_at(&CURVE, bad), "rotor speed");
        }
    }

    #[test]
    fn gauges() {
        // by a general-purpose library and ASTM B258 and IEC 60028, diameter mm and area mm2
        for (n, diameter, area) in [
            (-3, 11.684, 107.219_302_577),
            (-1, 9.265_833_249_05, 67.430_882_235_9),
            (2, 6.543_707_496_2, 33.630_834_019_3),
            (4, 5.189_395_968_02, 21.150_639_425_4),
            (12, 2.052_525_388_49, 3.308_772_876_11),
            (18, 1.023_687_342_83, 0.823_046_833_731),
            (22, 0.643_803_298_49, 0.325_533_941_245),
        ] {
            let found = awg_diameter(n).map(|d| d.get::<millimeter>());
            close(found, diameter, 1e-9);
            close(found.map(|d| FRAC_PI_4 * d * d), area, 1e-9);
        }
        // the two fixed sizes of ASTM B258
        close(awg_diameter(36).map(|d| d.get::<inch>()), 0.005, 1e-12);
        close(awg_diameter(-3).map(|d| d.get::<inch>()), 0.46, 1e-12);
        for n in [i32::MIN, -4, 41, i32::MAX] {
            refuses(awg_diameter(n), "wire gauge");
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(rotor_speed(mm(bad), mm(76.0), 600.0), "crank pulley diameter");
            refuses(rotor_speed(mm(165.0), mm(bad), 600.0), "generator pulley diameter");
            refuses(rotor_speed(mm(165.0), mm(76.0), bad), "engine speed");
            refuses(engine_speed_for_rotor(mm(165.0), mm(76.0), bad), "rotor speed");
        }
    }

    proptest! {
        #[test]
        fn rotor_and_engine_speeds_undo_each_other(
            crank in 11.0..999.0, generator in 11.0..999.0, rpm in 200.0..900.0,
        ) {
            let (crank, generator) = (mm(crank), mm(generator));
            let rotor = rotor_speed(crank, generator, rpm).unwrap_or(f64::NAN);
            let back = engine_speed_for_rotor(crank, generator, rotor).unwrap_or(f64::NAN);
            prop_assert!((back - rpm).abs() < 1e-6);
        }

        #[test]
        fn a_rising_curve_gives_a_rising_output_within_its_points(rpm in 1.0..90_000.0, more in 0.0..9_000.0) {
            let low = output_at(&CURVE, rpm).unwrap_or(f64::NAN);
            let high = output_at(&CURVE, rpm + more).unwrap_or(f64::NAN);
            prop_assert!((0.0..=100.0).contains(&low) && low <= high && high <= 100.0);
        }

        #[test]
        fn any_curve_is_refused_or_read_within_its_points(
            curve in proptest::collection::vec(any::<(f64, f64)>(), 0..6), rpm in any::<f64>(),
        ) {
            prop_assert!(output_at(&curve, rpm).map_or(true, |v| v.is_finite() && v >= 0.0));
        }

        #[test]
        fn each_gauge_is_thinner_than_the_one_before(n in -3..40) {
            let [this, next] = [n, n + 1].map(|n| awg_diameter(n).map_or(f64::NAN, |d| d.get::<millimeter>()));
            prop_assert!(next < this);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sound(rotor_speed(mm(a), mm(b), c)));
            prop_assert!(sound(engine_speed_for_rotor(mm(a), mm(b), c)));
        }
    }
}
