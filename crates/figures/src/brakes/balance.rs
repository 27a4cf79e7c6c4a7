//! Axle loads in a stop, and the share of the front brakes against the ideal one (Limpert; Gillespie).

use uom::si::f64::{Force, Length, Mass};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::mass::kilogram;

use super::{DECELERATION, MASS, STANDARD_GRAVITY};
use crate::error::{Expected, FigureError};
use crate::range::Range;

const SHARE: Range = Range::new(0.05, 0.95, "");
const FRONT_SHARE: Range = Range::new(0.0, 1.0, "");
const HEIGHT: Range = Range::new(100.0, 4_000.0, "mm");
const WHEELBASE: Range = Range::new(500.0, 10_000.0, "mm");

/// Where the weight of a two-axle vehicle lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// Laden for the stop, 50 to 60,000 kg.
    pub mass: Mass,
    /// Share of the weight on the front axle at rest, 0.05 to 0.95.
    pub front_static: f64,
    /// Height of the centre of gravity over the road, 100 to 4,000 mm.
    pub gravity_height: Length,
    /// Between the axles, 500 to 10,000 mm.
    pub wheelbase: Length,
}

/// What each axle carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleLoads {
    /// On the front axle; more than zero.
    pub front: Force,
    /// On the rear axle; more than zero.
    pub rear: Force,
    /// Front share of the whole, which is the ideal share of the front brakes in this stop.
    pub ideal_front_share: f64,
}

/// Loads of the axles in a steady stop on a level road: `dN = m a h / L` moves from the rear to the front.
///
/// * `deceleration_g`: in units of standard gravity, 0.01 to 2.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or the rear wheels would leave the ground.
///
/// Source: Limpert, Brake Design and Safety; Gillespie, Fundamentals of Vehicle Dynamics.
pub fn axle_loads(stance: &Stance, deceleration_g: f64) -> Result<AxleLoads, FigureError> {
    let mass = MASS.check("mass", stance.mass.get::<kilogram>())?;
    let front_static = SHARE.check("front share of the weight", stance.front_static)?;
    HEIGHT.check("height of the centre of gravity", stance.gravity_height.get::<millimeter>())?;
    WHEELBASE.check("wheelbase", stance.wheelbase.get::<millimeter>())?;
    let z = DECELERATION.check("deceleration", deceleration_g)?;

    let slope = stance.gravity_height.get::<meter>() / stance.wheelbase.get::<meter>();
    let share = front_static + z * slope;
    if share >= 1.0 {
        let expected = Expected::Below { limit: (1.0 - front_static) / slope, unit: "g" };
        return Err(FigureError { quantity: "deceleration", found: z, expected });
    }
    let weight = mass * STANDARD_GRAVITY;
    Ok(AxleLoads {
        front: Force::new::<newton>(weight * share),
        rear: Force::new::<newton>(weight * (1.0 - share)),
        ideal_front_share: share,
    })
}

/// Share of the front axle in the braking force, both axles on one line pressure.
///
/// * `front_torque_per_pressure`, `rear_torque_per_pressure`: of the whole axle, in one unit, more than zero and up to
///   1 N·m/Pa. The rolling radii are taken as equal.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition.
pub fn front_share(
    front_torque_per_pressure: f64,
    rear_torque_per_pressure: f64,
) -> Result<f64, FigureError> {
    let front =
        super::TORQUE_PER_PRESSURE.check("front brake torque per pressure", front_torque_per_pressure)?;
    let rear =
        super::TORQUE_PER_PRESSURE.check("rear brake torque per pressure", rear_torque_per_pressure)?;
    Ok(front / (front + rear))
}

/// Most brake torque per pressure the rear axle may have so that its wheels do not lock first in a stop:
/// `front (1 - ideal) / ideal`.
///
/// * `front_torque_per_pressure`: of the whole axle, more than zero and up to 1 N·m/Pa.
/// * `ideal_front_share`: see [`axle_loads`], above 0 and up to 1.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`front_share`] solved for the rear.
pub fn most_rear(front_torque_per_pressure: f64, ideal_front_share: f64) -> Result<f64, FigureError> {
    let front =
        super::TORQUE_PER_PRESSURE.check("front brake torque per pressure", front_torque_per_pressure)?;
    let ideal = Range::new(1e-6, 1.0, "").check("ideal front share", ideal_front_share)?;
    Ok(front * (1.0 - ideal) / ideal)
}

/// How a fixed share of the front brakes meets a stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Share of the front brakes less the ideal share: above zero the front wheels lock first and the vehicle stays
    /// straight, below zero the rear wheels lock first and it turns round.
    pub over_ideal: f64,
    /// Grip the front tyres need, braking force over load.
    pub front_grip: f64,
    /// Grip the rear tyres need, braking force over load.
    pub rear_grip: f64,
    /// Deceleration in g at which the share is ideal: beyond it the rear locks first. `None` if the front locks first
    /// at no deceleration above zero, that is if the share is not above the share of the weight at rest.
    pub ideal_at_g: Option<f64>,
}

/// Front share of the brakes against the ideal curve `front static + z h / L`.
///
/// * `front_share`: see [`front_share`], 0 to 1.
/// * `deceleration_g`: 0.01 to 2.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or the rear wheels would leave the ground.
///
/// Source: Limpert, Brake Design and Safety.
pub fn balance(stance: &Stance, front_share: f64, deceleration_g: f64) -> Result<Balance, FigureError> {
    let share = FRONT_SHARE.check("front share of the brakes", front_share)?;
    let ideal = axle_loads(stance, deceleration_g)?.ideal_front_share;
    let slope = stance.gravity_height.get::<meter>() / stance.wheelbase.get::<meter>();
    let crossing = (share - stance.front_static) / slope;
    Ok(Balance {
        over_ideal: share - ideal,
        front_grip: deceleration_g * share / ideal,
        rear_grip: deceleration_g * (1.0 - share) / (1.0 - ideal),
        ideal_at_g: (crossing > 0.0).then_some(crossing),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    /// mass kg, front share, height m, wheelbase m
    const CAR: [f64; 4] = [1900.0, 0.57, 0.7, 2.9];

    fn stance(a: [f64; 4]) -> Stance {
        Stance {
            mass: Mass::new::<kilogram>(a[0]),
            front_static: a[1],
            gravity_height: Length::new::<meter>(a[2]),
            wheelbase: Length::new::<meter>(a[3]),
        }
    }

    #[test]
    fn with_the_most_rear_brake_the_share_is_ideal() {
        let rear = most_rear(682e-6, 0.7).unwrap_or(f64::NAN);
        close(front_share(682e-6, rear), 0.7, 1e-12);
        refuses(most_rear(682e-6, 0.0), "ideal front share");
        refuses(most_rear(f64::NAN, 0.7), "front brake torque per pressure");
    }

    #[test]
    fn loads_against_an_equilibrium_solve() {
        // worked out another way, numerically: m=1900, L=2.9, h=0.7, 0.7 g
        let found = axle_loads(&stance(CAR), 0.7);
        close(found.map(|l| l.front.get::<newton>()), 13_768.874_760_3, 1e-9);
        close(found.map(|l| l.rear.get::<newton>()), 4_863.760_239_66, 1e-9);
        close(found.map(|l| l.ideal_front_share), 0.738_965_517_241, 1e-9);
    }

    #[test]
    fn trade_front_share() {
        // an example vehicle: front share 0.70 at 0.8 g, 493 of 930 kg at rest. The height over the wheelbase
        // that goes with it is (0.70 - 0.53) / 0.8 = 0.2125
        let car = stance([1089.0, 493.0 / 930.0, 0.2125 * 2.3, 2.3]);
        close(axle_loads(&car, 0.8).map(|l| l.ideal_front_share), 0.70, 2e-3);
        close(front_share(8.2e-4, 4.931_6e-4), 8.2 / 13.131_6, 1e-12);
    }

    #[test]
    fn the_ideal_share_locks_both_axles_together() {
        let ideal = 0.738_965_517_241;
        let found = balance(&stance(CAR), ideal, 0.7);
        close(found.map(|b| b.front_grip), 0.7, 1e-9);
        close(found.map(|b| b.rear_grip), 0.7, 1e-9);
        close(found.map(|b| b.ideal_at_g.unwrap_or(f64::NAN)), 0.7, 1e-9);
        assert!(found.is_ok_and(|b| b.over_ideal.abs() < 1e-9));
        // all in the rear: never ideal
        assert_eq!(balance(&stance(CAR), 0.3, 0.7).map(|b| b.ideal_at_g), Ok(None));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        let names = ["mass", "front share of the weight", "height of the centre of gravity", "wheelbase"];
        for (at, name) in names.into_iter().enumerate() {
            for bad in REFUSED {
                let mut a = CAR;
                a[at] = bad;
                refuses(axle_loads(&stance(a), 0.7), name);
                refuses(balance(&stance(a), 0.7, 0.7), name);
            }
        }
        for bad in REFUSED {
            refuses(axle_loads(&stance(CAR), bad), "deceleration");
            refuses(front_share(bad, 1e-4), "front brake torque per pressure");
            refuses(front_share(1e-4, bad), "rear brake torque per pressure");
        }
        for bad in [f64::NAN, f64::INFINITY, -0.1, 1.1] {
            refuses(balance(&stance(CAR), bad, 0.7), "front share of the brakes");
        }
        // a short, tall vehicle stands on its nose
        refuses(axle_loads(&stance([1900.0, 0.6, 1.5, 1.5]), 0.5), "deceleration");
    }

    proptest! {
        #[test]
        fn the_axles_carry_the_weight_and_the_front_gains(
            share in 0.3..0.7, height in 0.3..0.9, base in 2.0..4.0, z in 0.05..0.6, more in 0.01..0.2,
        ) {
            let car = stance([1500.0, share, height, base]);
            let (soft, hard) = (axle_loads(&car, z), axle_loads(&car, z + more));
            // the rear stays on the road while the weight thrown forward is less than what stood on it
            let stands = |z: f64| share + z * height / base < 1.0;
            prop_assert_eq!((soft.is_ok(), hard.is_ok()), (stands(z), stands(z + more)));
            if let (Ok(soft), Ok(hard)) = (soft, hard) {
                let sum = (soft.front + soft.rear).get::<newton>();
                prop_assert!((sum / (1500.0 * STANDARD_GRAVITY) - 1.0).abs() < 1e-12);
                prop_assert!(hard.front > soft.front && hard.rear < soft.rear);
            }
        }

        #[test]
        fn more_front_brake_is_more_front_grip(share in 0.1..0.9, more in 0.001_f64..0.1, z in 0.05..0.9) {
            let (a, b) = (balance(&stance(CAR), share, z), balance(&stance(CAR), share + more, z));
            prop_assert!(a.is_ok() && b.is_ok());
            if let (Ok(a), Ok(b)) = (a, b) {
                prop_assert!(b.front_grip > a.front_grip && b.rear_grip < a.rear_grip);
                prop_assert_eq!(a.over_ideal > 0.0, a.front_grip > a.rear_grip);
                prop_assert!(a.over_ideal.abs() < 1e-9 || (a.over_ideal > 0.0) == a.ideal_at_g.is_some_and(|g| g > z));
            }
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<[f64; 4]>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(balance(&stance(a), b, c).map_or(true, |f| f.front_grip.is_finite() && f.rear_grip.is_finite()));
            prop_assert!(balance(&stance(CAR), b, c).map_or(true, |f| f.front_grip >= 0.0 && f.rear_grip >= 0.0));
        }
    }
}
