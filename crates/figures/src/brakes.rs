//! Pedal force of a hydraulic brake: `p = F ratio gain / (pi d^2 / 4)` (physics; Limpert, Brake Design and Safety).
//! What the pressure does at the wheel, the fluid, the balance and the stop stand in the modules below.

pub mod balance;
pub mod booster;
pub mod drum;
pub mod fluid;
pub mod hydraulics;
pub mod lining;
pub mod residual;
pub mod stopping;

use std::f64::consts::FRAC_PI_4;

use uom::si::f64::{Force, Length, Mass, Pressure};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::mass::kilogram;
use uom::si::pressure::pascal;

use crate::error::FigureError;
use crate::range::{CYLINDER_BORE, Range};

/// Standard acceleration of free fall, m/s2 (ISO 80000-3, exact).
pub const STANDARD_GRAVITY: f64 = 9.806_65;

pub(crate) const MASS: Range = Range::new(50.0, 60_000.0, "kg");
pub(crate) const DECELERATION: Range = Range::new(0.01, 2.0, "g");
const ROLLING_RADIUS: Range = Range::new(100.0, 1_500.0, "mm");
/// From one small drum to a heavy axle; 4e-4 is a disc brake of a car, one wheel.
const TORQUE_PER_PRESSURE: Range = Range::new(1e-7, 1.0, "N·m/Pa");
pub(crate) const PEDAL_RATIO: Range = Range::new(1.0, 20.0, "");
pub(crate) const BOOSTER_GAIN: Range = Range::new(1.0, 30.0, "");

/// What a stop asks of the foot and of the pipes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalForce {
    /// Force on the pedal pad; more than zero.
    pub force: Force,
    /// Pressure in both circuits over that of the reservoir; more than zero.
    pub line_pressure: Pressure,
}

/// Pedal force and line pressure for a steady deceleration.
///
/// `p = m a r / (front + rear)`, then `F = p * (pi d^2 / 4) / (ratio * gain)`.
///
/// * `mass`: of the vehicle as laden for the stop, 50 to 60,000 kg.
/// * `deceleration_g`: in units of [`STANDARD_GRAVITY`], 0.01 to 2.
/// * `rolling_radius`: of the tyres, the same on both axles, 100 to 1,500 mm.
/// * `front_torque_per_pressure`, `rear_torque_per_pressure`: brake torque of the whole axle for each pascal of line
///   pressure, N·m/Pa, 1e-7 to 1. A disc gives `2 mu A r_e` a wheel, `A` being the pistons of one side.
/// * `master_bore`: bore of the master cylinder, 5 to 100 mm.
/// * `pedal_ratio`: travel of the pad for each travel of the pushrod, 1 to 20.
/// * `booster_gain`: force out for force in, 1 to 30; 1 is no booster, or one that has lost its vacuum.
///
/// Both circuits carry the same pressure: a proportioning valve past its knee needs more force than this, and no wheel
/// is taken to lock. The force is proportional to mass and deceleration.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: physics; `p = F*ratio/(pi d^2/4)` and `T = 2 mu p A r` as in Limpert, Brake Design and Safety.
#[expect(clippy::too_many_arguments, reason = "eight independent quantities, each with its own type or name")]
pub fn pedal_force(
    mass: Mass,
    deceleration_g: f64,
    rolling_radius: Length,
    front_torque_per_pressure: f64,
    rear_torque_per_pressure: f64,
    master_bore: Length,
    pedal_ratio: f64,
    booster_gain: f64,
) -> Result<PedalForce, FigureError> {
    let mass = MASS.check("mass", mass.get::<kilogram>())?;
    let deceleration = DECELERATION.check("deceleration", deceleration_g)? * STANDARD_GRAVITY;
    ROLLING_RADIUS.check("rolling radius", rolling_radius.get::<millimeter>())?;
    let front = TORQUE_PER_PRESSURE.check("front brake torque per pressure", front_torque_per_pressure)?;
    let rear = TORQUE_PER_PRESSURE.check("rear brake torque per pressure", rear_torque_per_pressure)?;
    CYLINDER_BORE.check("master bore", master_bore.get::<millimeter>())?;
    let ratio = PEDAL_RATIO.check("pedal ratio", pedal_ratio)?;
    let gain = BOOSTER_GAIN.check("booster gain", booster_gain)?;

    let torque = mass * deceleration * rolling_radius.get::<meter>();
    let pressure = torque / (front + rear);
    let area = FRAC_PI_4 * master_bore.get::<meter>().powi(2);
    Ok(PedalForce {
        force: Force::new::<newton>(pressure * area / (ratio * gain)),
        line_pressure: Pressure::new::<pascal>(pressure),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    /// One pound-force in newtons, exact; that of `uom` is rounded to seven digits.
    const POUND_FORCE: f64 = 4.448_221_615_260_5;

    /// A pickup laden to 2,268 kg; the torques are chosen here, see `trade_pedal_forces`.
    const PICKUP: [f64; 8] = [2268.0, 0.65, 0.341, 8.2e-4, 4.931_6e-4, 0.0254, 6.0, 1.0];

    fn stop(a: [f64; 8]) -> Result<PedalForce, FigureError> {
        let (mass, radius, bore) =
            (Mass::new::<kilogram>(a[0]), Length::new::<meter>(a[2]), Length::new::<meter>(a[5]));
        pedal_force(mass, a[1], radius, a[3], a[4], bore, a[6], a[7])
    }

    fn newtons(a: [f64; 8]) -> Result<f64, FigureError> {
        stop(a).map(|p| p.force.get::<newton>())
    }

    /// `PICKUP` with one argument replaced.
    fn with(at: usize, value: f64) -> [f64; 8] {
        let mut a = PICKUP;
        a[at] = value;
        a
    }

    #[test]
    fn line_pressure_and_disc_torque_agree_with_the_unit_library() {
        // by a general-purpose library: one 2.9375 in piston, mu .38, r 4.5 in, at the pressure of
        // brake.line_pressure/100 lbf x 6.0, 1.0 in bore. Four such wheels stop m = 4 T / (a r).
        let (pressure, wheel_torque) = (5.267_206_582_21e6, 2_000.567_640_57);
        let axle = 2.0 * wheel_torque / pressure;
        let mass = 4.0 * wheel_torque / (0.65 * STANDARD_GRAVITY * 0.35);
        for (bore_in, factor) in [(1.0, 1.0), (0.875, 0.765_625)] {
            let bore = Length::new::<inch>(bore_in).get::<meter>();
            let found = stop([mass, 0.65, 0.35, axle, axle, bore, 6.0, 1.0]);
            close(found.map(|p| p.line_pressure.get::<pascal>()), pressure, 1e-9);
            close(found.map(|p| p.force.get::<newton>() / POUND_FORCE), 100.0 * factor, 1e-9);
        }
        // tier L: brake.line_pressure/112.4 lbf x 5.0, 0.75 in bore gives 8.770874368 MPa
        let bore = Length::new::<inch>(0.75).get::<meter>();
        let mass = 8.770_874_368e6 * 2.0 * axle / (0.65 * STANDARD_GRAVITY * 0.35);
        let found = stop([mass, 0.65, 0.35, axle, axle, bore, 5.0, 1.0]);
        close(found.map(|p| p.force.get::<newton>() / POUND_FORCE), 112.4, 1e-9);
    }

    #[test]
    fn trade_pedal_forces() {
        // physics: 317 N at 0.65 g, 1.0 in bore, 6:1, no booster. The brake torques are not
        // given there: theirs here are chosen to meet the 317 N, so only the steps from it are checks.
        close(newtons(PICKUP), 317.0, 1e-3);
        // pin moved to 4.0:1, vacuum lost: 475 N; 3.6:1: 528 N
        close(newtons(with(6, 4.0)), 475.0, 2e-3);
        close(newtons(with(6, 3.6)), 528.0, 2e-3);
        // 0.75 in bore 282 N, 7/8 in 384 N: the ratio of the areas
        let small = newtons(with(5, 0.019_05)).unwrap_or(f64::NAN);
        close(newtons(with(5, 0.022_225)).map(|n| n / small), 384.0 / 282.0, 2e-3);
        // B.4 UB11: a booster of gain 1.9 divides the force
        close(newtons(with(7, 1.9)), 317.0 / 1.9, 1e-3);
    }

    #[test]
    fn a_harder_stop_with_the_rear_held_back() {
        // physics: 410 N at 0.8 g against 317 N at 0.65 g, and 364 against 282 N. Both are
        // steeper than 0.8/0.65: there the rear axle gives only its share of the load (tier N: brake.load_transfer,
        // ideal front share = static + h/L * z). The caller says so by the rear torque per pressure at that stop.
        // a second vehicle: front share 0.70 at 0.8 g, 0.53 static (493/930 kg).
        let at = |z: f64| {
            let share = 0.530 + (0.70 - 0.530) * z / 0.8;
            newtons([1089.0, z, 0.31, 8.2e-4, 8.2e-4 * (1.0 / share - 1.0), 0.019_05, 5.0, 1.0])
        };
        let easy = at(0.65).unwrap_or(f64::NAN);
        close(at(0.8).map(|n| n / easy), 364.0 / 282.0, 3e-3);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = [
            "mass",
            "deceleration",
            "rolling radius",
            "front brake torque per pressure",
            "rear brake torque per pressure",
            "master bore",
            "pedal ratio",
            "booster gain",
        ];
        for (at, name) in names.into_iter().enumerate() {
            for bad in REFUSED {
                refuses(stop(with(at, bad)), name);
            }
        }
        // metres given for millimetres
        refuses(stop(with(5, 25.4)), "master bore");
    }

    proptest! {
        #[test]
        fn more_of_the_load_asks_more_and_more_of_the_help_asks_less(at in 0_usize..8, factor in 1.01_f64..1.5) {
            let (base, more) = (newtons(PICKUP), newtons(with(at, PICKUP[at] * factor)));
            prop_assert!(base.is_ok() && more.is_ok());
            let rises = matches!(at, 0 | 1 | 2 | 5);
            prop_assert_eq!(more.unwrap_or(f64::NAN) > base.unwrap_or(f64::NAN), rises);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<[f64; 8]>()) {
            prop_assert!(sound(newtons(a)));
        }

        #[test]
        fn one_argument_gone_wild_is_refused_or_sound(at in 0_usize..8, value in proptest::num::f64::ANY) {
            prop_assert!(sound(newtons(with(at, value))));
        }
    }
}
