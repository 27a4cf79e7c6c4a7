//! Propeller shaft and road: critical speed, engine speed, joints and their angles, shaft length and slip.

mod joints;
mod lift;
mod shaft;
mod slip;

pub use joints::{
    Phase, SpeedSwing, compound_angle, hooke_ratio, peak_acceleration, residual_angle, speed_swing,
};
pub use lift::{COMFORT_DEG, MOST_DEG, comfortable, most_lift};
pub use shaft::{FlangeTilts, JointAngles, ShaftRun, joint_angles, pinion_tilt_to_cancel, shaft_length};
pub use slip::{ShaftOrder, SlipFit, SlipJoint, SlipSplit, shaft_order, slip_fit, slip_split};

use std::f64::consts::FRAC_PI_2;

use uom::si::f64::{Length, LinearNumberDensity, Velocity};
use uom::si::length::{meter, millimeter};
use uom::si::linear_number_density::{per_meter, per_mile};
use uom::si::velocity::{kilometer_per_hour, meter_per_second};

use crate::error::{Expected, FigureError};
use crate::range::{GEAR_RATIO, REVS_PER_MILE, Range};

/// Young's modulus of steel, Pa (handbook value, 30e6 psi).
pub const STEEL_MODULUS: f64 = 206.8e9;

/// Density of steel, kg/m3 (handbook value).
pub const STEEL_DENSITY: f64 = 7850.0;

const TUBE_OUTSIDE: Range = Range::new(10.0, 500.0, "mm");
const TUBE_INSIDE: Range = Range::new(1.0, 500.0, "mm");
const SHAFT_LENGTH: Range = Range::new(100.0, 10_000.0, "mm");
const ROAD_SPEED: Range = Range::new(0.1, 1_000.0, "km/h");

/// First bending critical speed of a steel tube between two joints, rev/min.
///
/// `f = (pi/2) sqrt(E I / (rho A L^4))`, which for a tube is `(pi/8) sqrt(E/rho) sqrt(outside^2 + inside^2) / L^2`.
///
/// * `outside`: outside diameter of the tube, 10 to 500 mm.
/// * `inside`: inside diameter, 1 to 500 mm, less than `outside`.
/// * `length`: from joint centre to joint centre, 100 to 10,000 mm.
///
/// The ends are taken as pinned and stiff: a real shaft lies 5 to 15 % lower, so common practice uses at most 70 % of
/// it. The workshop rule `4.7e6 sqrt(OD^2 + ID^2) / L^2` in inches is the same law, 1.3 % lower.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or the inside is not less than the outside.
///
/// Source: Euler beam, first mode, pinned ends, with [`STEEL_MODULUS`] and [`STEEL_DENSITY`].
pub fn critical_speed(outside: Length, inside: Length, length: Length) -> Result<f64, FigureError> {
    let outer_mm = TUBE_OUTSIDE.check("tube outside diameter", outside.get::<millimeter>())?;
    let inner_mm = TUBE_INSIDE.check("tube inside diameter", inside.get::<millimeter>())?;
    SHAFT_LENGTH.check("shaft length", length.get::<millimeter>())?;
    if inner_mm >= outer_mm {
        let expected = Expected::Below { limit: outer_mm, unit: "mm" };
        return Err(FigureError { quantity: "tube inside diameter", found: inner_mm, expected });
    }

    // sqrt(I / A) of a tube
    let gyration = outside.get::<meter>().hypot(inside.get::<meter>()) / 4.0;
    let wave_speed = (STEEL_MODULUS / STEEL_DENSITY).sqrt();
    let hertz = FRAC_PI_2 * wave_speed * gyration / length.get::<meter>().powi(2);
    Ok(60.0 * hertz)
}

/// Engine speed on the road, rev/min: `road speed * tyre turns per length * axle ratio * gear`.
///
/// * `road_speed`: 0.1 to 1,000 km/h.
/// * `tyre_revs`: turns of the road wheel, 10 to 100,000 rev/mile, see [`crate::tyres`].
/// * `axle_ratio`: turns of the propeller shaft for one of the wheel, 0.05 to 100.
/// * `gear`: turns of the engine for one of the propeller shaft, 0.05 to 100; 1 is direct.
///
/// No slip in clutch, converter or tyre. By the propeller shaft's speed: give 1 for `gear`.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: gear kinematics.
pub fn engine_speed(
    road_speed: Velocity,
    tyre_revs: LinearNumberDensity,
    axle_ratio: f64,
    gear: f64,
) -> Result<f64, FigureError> {
    ROAD_SPEED.check("road speed", road_speed.get::<kilometer_per_hour>())?;
    REVS_PER_MILE.check("tyre turns per mile", tyre_revs.get::<per_mile>())?;
    let axle = GEAR_RATIO.check("axle ratio", axle_ratio)?;
    let gear = GEAR_RATIO.check("gear ratio", gear)?;
    let wheel_rpm = 60.0 * road_speed.get::<meter_per_second>() * tyre_revs.get::<per_meter>();
    Ok(wheel_rpm * axle * gear)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::velocity::mile_per_hour;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};
    use crate::tyres::revolutions_per_length;

    fn critical(outside: f64, inside: f64, length: f64) -> Result<f64, FigureError> {
        let [outside, inside, length] = [outside, inside, length].map(Length::new::<millimeter>);
        critical_speed(outside, inside, length)
    }

    /// With a hard tyre of a diameter in mm.
    fn engine(speed: Velocity, diameter: f64, axle: f64, gear: f64) -> Result<f64, FigureError> {
        engine_speed(speed, revolutions_per_length(Length::new::<millimeter>(diameter))?, axle, gear)
    }

    fn mph(speed: f64) -> Velocity {
        Velocity::new::<mile_per_hour>(speed)
    }

    fn rule_of_thumb(outside: f64, inside: f64, length: f64) -> f64 {
        4.7e6 * (outside / 25.4).hypot(inside / 25.4) / (length / 25.4).powi(2)
    }

    #[test]
    fn critical_speeds_against_a_finite_element_beam() {
        // 40-element beam, inches
        for (outside, wall, length, rpm) in [
            (3.0, 0.083, 50.0, 7_859.682_688_85),
            (2.5, 0.065, 60.0, 4_556.002_973_7),
            (3.5, 0.083, 72.0, 4_439.570_177_15),
            (2.0, 0.12, 40.0, 7_927.817_347_97),
        ] {
            let inside = outside - 2.0 * wall;
            close(critical(outside * 25.4, inside * 25.4, length * 25.4), rpm, 1e-6);
        }
    }

    #[test]
    fn trade_critical_speed() {
        // physics: 76 x 72 mm, 1,247 mm, about 8,050 rpm, worked there by the rule of thumb
        close(critical(76.0, 72.0, 1247.0), 8050.0, 0.015);
        close(Ok(rule_of_thumb(76.0, 72.0, 1247.0)), 8050.0, 0.002);
        // common practice: 3.0 x 2.83 tube, 56 in: 6,190 by the rule, which lies 1.3 % below the beam
        let (outside, inside, length) = (76.2, 2.83 * 25.4, 56.0 * 25.4);
        close(Ok(rule_of_thumb(outside, inside, length)), 6190.0, 2e-3);
        close(
            critical(outside, inside, length).map(|n| rule_of_thumb(outside, inside, length) / n),
            0.987,
            1e-3,
        );
    }

    #[test]
    fn engine_speeds_against_the_unit_library() {
        // by a general-purpose library
        close(engine(mph(60.0), 28.877_952_755_9 * 25.4, 3.73, 1.0), 2_604.999_991_01, 1e-9);
        close(engine(mph(65.0), 31.0 * 25.4, 4.1, 0.67), 1_936.084_765_94, 1e-9);
        let metric = Velocity::new::<kilometer_per_hour>(100.0);
        close(engine(metric, 619.0, 3.909, 0.82), 2_747.184_014_47, 1e-9);
        // tier L: gearing.constant 336.13523981 rpm in/mph
        close(engine(mph(1.0), 254.0, 1.0, 1.0), 33.613_523_981, 1e-9);
    }

    #[test]
    fn trade_engine_speeds() {
        // physics: 60 mph, 716 mm, direct 2,789; fifth 0.73 with 703 mm 2,073
        close(engine(mph(60.0), 716.0, 3.90, 1.0), 2789.0, 2e-3);
        close(engine(mph(60.0), 703.0, 3.90, 0.73), 2073.0, 2e-3);
        // an example vehicle: 70 mph, 645 mm, 4.10: 3,798 direct, 3,038 in 0.80
        close(engine(mph(70.0), 645.0, 4.10, 1.0), 3798.0, 2e-3);
        close(engine(mph(70.0), 645.0, 4.10, 0.80), 3038.0, 2e-3);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let revs = LinearNumberDensity::new::<per_mile>;
        for bad in REFUSED {
            refuses(critical(bad, 72.0, 1247.0), "tube outside diameter");
            refuses(critical(76.0, bad, 1247.0), "tube inside diameter");
            refuses(critical(76.0, 72.0, bad), "shaft length");
            refuses(engine_speed(mph(bad), revs(755.0), 3.9, 1.0), "road speed");
            refuses(engine_speed(mph(60.0), revs(bad), 3.9, 1.0), "tyre turns per mile");
            refuses(engine_speed(mph(60.0), revs(755.0), bad, 1.0), "axle ratio");
            refuses(engine_speed(mph(60.0), revs(755.0), 3.9, bad), "gear ratio");
        }
        refuses(critical(76.0, 76.0, 1247.0), "tube inside diameter");
        refuses(critical(72.0, 76.0, 1247.0), "tube inside diameter");
    }

    proptest! {
        #[test]
        fn a_fatter_tube_turns_faster_and_a_longer_one_slower(
            outside in 21.0..200.0, wall in 0.5..5.0, length in 200.0..3000.0, factor in 1.01_f64..2.0,
        ) {
            let inside = outside - 2.0 * wall;
            let base = critical(outside, inside, length).unwrap_or(f64::NAN);
            prop_assert!(critical(outside * factor, inside * factor, length).unwrap_or(f64::NAN) > base);
            let long = critical(outside, inside, length * factor).unwrap_or(f64::NAN);
            prop_assert!((base / long - factor * factor).abs() < 1e-9);
        }

        #[test]
        fn engine_speed_is_in_proportion(
            speed in 1.0..200.0, axle in 2.0..7.0, gear in 0.5..5.0, factor in 1.01_f64..2.0,
        ) {
            let base = engine(mph(speed), 703.0, axle, gear).unwrap_or(f64::NAN) * factor;
            for found in [
                engine(mph(speed * factor), 703.0, axle, gear),
                engine(mph(speed), 703.0, axle * factor, gear),
                engine(mph(speed), 703.0, axle, gear * factor),
                engine(mph(speed), 703.0 / factor, axle, gear),
            ] {
                prop_assert!((found.unwrap_or(f64::NAN) / base - 1.0).abs() < 1e-9);
            }
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>(),
        ) {
            prop_assert!(sound(critical(a, b, c)));
            prop_assert!(sound(engine(mph(a), b, c, d)));
        }
    }
}
