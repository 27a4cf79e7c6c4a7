//! What is switched on against what the generator gives, at idle and on the road (Ohm's law; common practice).

use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::f64::{ElectricCurrent, ElectricPotential, Length, Power};
use uom::si::power::watt;

use super::{CURVE_POINTS, check_curve, output_at, rotor_speed};
use crate::error::FigureError;
use crate::range::Range;

/// Share of its rating an alternator gives for hours: 0.8, common practice.
pub const UTILISATION: f64 = 0.8;

const LOAD_POWER: Range = Range::new(0.01, 10_000.0, "W");
const BUS: Range = Range::new(4.0, 60.0, "V");
const UTILISED: Range = Range::new(0.1, 1.0, "");
const LOAD_COUNT: Range = Range::new(1.0, 10_000.0, "loads");
const LOAD_CURRENT: Range = Range::new(1e-6, 10_000.0, "A");

/// One thing that takes current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// As marked on it, 0.01 to 10,000 W each.
    pub power: Power,
    /// Share of the time it is on, above 0 up to 1: 1 for lamps, 0.3 for a thermostatic fan on the road, 0.1 for stop lamps.
    pub duty: f64,
}

/// Mean current of a list of loads: `sum(power duty) / bus`.
///
/// * `loads`: at least one.
/// * `bus`: voltage at which they run, 4 to 60 V; 13.5 V for a 12 V system on charge, 6.8 V for 6 V.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range or the list is empty.
///
/// Source: `P = U I`.
pub fn demand(loads: &[Load], bus: ElectricPotential) -> Result<ElectricCurrent, FigureError> {
    LOAD_COUNT.check("list of loads", loads.len() as f64)?;
    let bus = BUS.check("bus voltage", bus.get::<volt>())?;
    let mut watts = 0.0;
    for load in loads {
        let power = LOAD_POWER.check("power of a load", load.power.get::<watt>())?;
        let duty = Range::new(0.000_1, 1.0, "").check("duty of a load", load.duty)?;
        watts += power * duty;
    }
    Ok(ElectricCurrent::new::<ampere>(watts / bus))
}

/// Rating of a generator for a lasting demand: `demand / utilisation`.
///
/// * `demand`: 1e-6 to 10,000 A.
/// * `utilisation`: 0.1 to 1, see [`UTILISATION`].
///
/// This is the rating on the road; whether the idle suffices says [`balance`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice.
pub fn rating_for(demand: ElectricCurrent, utilisation: f64) -> Result<ElectricCurrent, FigureError> {
    let demand = LOAD_CURRENT.check("current wanted", demand.get::<ampere>())?;
    Ok(ElectricCurrent::new::<ampere>(demand / UTILISED.check("utilisation", utilisation)?))
}

/// A generator, its drive and what hangs on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive<'a> {
    /// Points of rotor speed in rev/min and output in A, as for [`output_at`].
    pub curve: &'a [(f64, f64)],
    /// Effective diameter of the crankshaft pulley, 10 to 1,000 mm.
    pub crank_pulley: Length,
    /// Effective diameter of the generator's pulley, 10 to 1,000 mm.
    pub generator_pulley: Length,
}

/// Output against load at one engine speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Speed of the rotor, rev/min.
    pub rotor_rpm: f64,
    /// What the generator gives.
    pub output: ElectricCurrent,
    /// Output less load; below zero the battery empties by it.
    pub surplus: ElectricCurrent,
}

/// Whether the generator carries a load at an engine speed.
///
/// * `engine_rpm`: 1 to 100,000 rev/min.
/// * `load`: 1e-6 to 10,000 A, see [`demand`].
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or the curve is none.
///
/// Source: belt kinematics and the maker's curve.
pub fn balance(drive: &Drive<'_>, engine_rpm: f64, load: ElectricCurrent) -> Result<Balance, FigureError> {
    let load = LOAD_CURRENT.check("load", load.get::<ampere>())?;
    let rotor_rpm = rotor_speed(drive.crank_pulley, drive.generator_pulley, engine_rpm)?;
    let output = output_at(drive.curve, rotor_rpm)?;
    Ok(Balance {
        rotor_rpm,
        output: ElectricCurrent::new::<ampere>(output),
        surplus: ElectricCurrent::new::<ampere>(output - load),
    })
}

/// Lowest rotor speed at which the curve gives a current, rev/min; `None` if it never does.
///
/// * `curve`: as for [`output_at`].
/// * `load`: 1e-6 to 10,000 A.
///
/// With [`super::engine_speed_for_rotor`] this is the idle that carries the load; the crank pulley times the idle over
/// this speed is the largest generator pulley that does.
///
/// # Errors
/// [`FigureError`] if the load is out of its range or the curve is none.
///
/// Source: linear interpolation, the inverse of [`output_at`].
pub fn rotor_speed_for(curve: &[(f64, f64)], load: ElectricCurrent) -> Result<Option<f64>, FigureError> {
    let load = LOAD_CURRENT.check("load", load.get::<ampere>())?;
    CURVE_POINTS.check("output curve", curve.len() as f64)?;
    check_curve(curve)?;
    let mut before: Option<(f64, f64)> = None;
    for (rpm, amps) in curve {
        if *amps >= load {
            // the output jumps up at the first point
            return Ok(Some(
                before.map_or(*rpm, |(rpm_0, amps_0)| {
                    rpm_0 + (rpm - rpm_0) * (load - amps_0) / (amps - amps_0)
                }),
            ));
        }
        before = Some((*rpm, *amps));
    }
    Ok(None)
}

/// A drive at idle and on the road, and what would carry the idle load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DriveCheck {
    /// At idle.
    pub idle: Balance,
    /// On the road.
    pub cruise: Balance,
    /// Idle speed that carries the idle load, rev/min; `None` if no speed does: the generator is too small.
    pub idle_rpm_wanted: Option<f64>,
    /// Largest generator pulley that carries the idle load at the idle there is; `None` likewise.
    pub largest_pulley: Option<Length>,
}

/// Holds a generator and its pulleys against the loads at idle and on the road.
///
/// * `idle_rpm`, `cruise_rpm`: of the engine, 1 to 100,000 rev/min.
/// * `idle_load`, `cruise_load`: 1e-6 to 10,000 A, see [`demand`].
///
/// A smaller pulley turns the rotor faster everywhere: hold the highest engine speed against the rotor's limit, 15,000
/// rev/min for an alternator and 6,000 to 9,000 for a dynamo (common practice).
///
/// # Errors
/// [`FigureError`] if a figure is out of its range, or the curve is none.
///
/// Source: [`balance`] and [`rotor_speed_for`].
pub fn check_drive(
    drive: &Drive<'_>,
    (idle_rpm, idle_load): (f64, ElectricCurrent),
    (cruise_rpm, cruise_load): (f64, ElectricCurrent),
) -> Result<DriveCheck, FigureError> {
    let idle = balance(drive, idle_rpm, idle_load)?;
    let cruise = balance(drive, cruise_rpm, cruise_load)?;
    let rotor = rotor_speed_for(drive.curve, idle_load)?;
    Ok(DriveCheck {
        idle,
        cruise,
        idle_rpm_wanted: rotor.map(|rpm| rpm * idle_rpm / idle.rotor_rpm),
        largest_pulley: rotor.map(|rpm| drive.generator_pulley * (idle.rotor_rpm / rpm)),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::millimeter;

    use super::*;
    use crate::charging::engine_speed_for_rotor;
    use crate::testing::{REFUSED, close, refuses};

    const CURVE: [(f64, f64); 4] = [(1000.0, 0.0), (1303.0, 34.0), (1520.0, 42.0), (6000.0, 100.0)];

    fn amps(value: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(value)
    }

    fn load(watts: f64, duty: f64) -> Load {
        Load { power: Power::new::<watt>(watts), duty }
    }

    fn sum(loads: &[Load], volts: f64) -> Result<f64, FigureError> {
        demand(loads, ElectricPotential::new::<volt>(volts)).map(|i| i.get::<ampere>())
    }

    fn drive(curve: &[(f64, f64)], crank: f64, generator: f64) -> Drive<'_> {
        let [crank_pulley, generator_pulley] = [crank, generator].map(Length::new::<millimeter>);
        Drive { curve, crank_pulley, generator_pulley }
    }

    #[test]
    fn a_night_in_the_rain() {
        // regression: sum/13.5 V then /0.8: 575 W
        let loads = [110.0, 30.0, 15.0, 40.0, 60.0, 150.0, 90.0, 60.0, 20.0].map(|watts| load(watts, 1.0));
        close(sum(&loads, 13.5), 42.592_592_592_6, 1e-9);
        let rating = sum(&loads, 13.5).and_then(|i| rating_for(amps(i), UTILISATION));
        close(rating.map(|i| i.get::<ampere>()), 53.240_740_740_7, 1e-9);
        // two headlamps of 55 W on 6.8 V draw twice the current and more
        close(sum(&[load(110.0, 1.0)], 6.8), 110.0 / 6.8, 1e-12);
        // a duty of a third is a third
        close(sum(&[load(300.0, 1.0 / 3.0)], 12.5), 8.0, 1e-12);
    }

    #[test]
    fn trade_idle_balances() {
        // common practice: 45 A unit, 127 on 63 mm, idle 700: 1,411 rotor, 16 to 18 A, against 28.8 A
        // (filament), 26.1 A, 20.7 A (no electric fan); idle 850: 1,713 rotor, about 20 A. The curve here runs through
        // 17 A and 20 A
        let curve = [(1000.0, 0.0), (1411.0, 17.0), (1713.0, 20.7), (2400.0, 35.0), (6000.0, 45.0)];
        let unit = drive(&curve, 127.0, 63.0);
        for (load, surplus) in [(28.8, -11.8), (26.1, -9.1), (20.7, -3.7)] {
            close(balance(&unit, 700.0, amps(load)).map(|b| b.surplus.get::<ampere>()), surplus, 5e-3);
        }
        let faster = balance(&unit, 850.0, amps(20.7));
        close(faster.map(|b| b.rotor_rpm), 1713.0, 1e-3);
        assert!(faster.is_ok_and(|b| b.surplus.get::<ampere>().abs() < 0.05));
        // the idle that carries 20.7 A is that one
        let rotor = rotor_speed_for(&curve, amps(20.7)).map(|r| r.unwrap_or(f64::NAN));
        let pulley = Length::new::<millimeter>;
        close(rotor.and_then(|r| engine_speed_for_rotor(pulley(127.0), pulley(63.0), r)), 850.0, 1e-3);
        // the 100 A class at 1,520 rotor gives 42 A against 36.9 A, the worst night: 5.1 A to spare
        let truck = balance(&drive(&CURVE, 165.0, 76.0), 700.0, amps(36.9));
        close(truck.map(|b| b.surplus.get::<ampere>()), 5.1, 2e-2);
    }

    #[test]
    fn a_drive_at_idle_and_on_the_road() {
        // an example vehicle: 165/76 at 600: 1,303 rotor, 34 A (curve), against 31.7 A; 3,038 engine on 127/63 are
        // 6,125 rotor
        let truck = drive(&CURVE, 165.0, 76.0);
        let found = check_drive(&truck, (600.0, amps(31.7)), (2073.0, amps(31.7))).unwrap();
        close(Ok(found.idle.rotor_rpm), 1303.0, 1e-3);
        close(Ok(found.idle.surplus.get::<ampere>()), 2.3, 0.02);
        assert!(found.cruise.surplus > found.idle.surplus);
        close(
            rotor_speed(Length::new::<millimeter>(127.0), Length::new::<millimeter>(63.0), 3038.0),
            6125.0,
            1e-3,
        );
        // with the pulley and the idle it names, the load is just carried
        let pulley = found.largest_pulley.unwrap().get::<millimeter>();
        let just = balance(&drive(&CURVE, 165.0, pulley), 600.0, amps(31.7)).unwrap();
        assert!(just.surplus.get::<ampere>().abs() < 1e-9);
        let just = balance(&truck, found.idle_rpm_wanted.unwrap(), amps(31.7)).unwrap();
        assert!(just.surplus.get::<ampere>().abs() < 1e-9);
        // a load beyond the generator
        let none = check_drive(&truck, (600.0, amps(120.0)), (2073.0, amps(31.7))).unwrap();
        assert_eq!((none.idle_rpm_wanted, none.largest_pulley), (None, None));
        refuses(check_drive(&truck, (f64::NAN, amps(1.0)), (2073.0, amps(31.7))), "engine speed");
        refuses(check_drive(&truck, (600.0, amps(1.0)), (2073.0, amps(0.0))), "load");
    }

    #[test]
    fn a_load_no_speed_carries() {
        assert_eq!(rotor_speed_for(&CURVE, amps(101.0)), Ok(None));
        assert_eq!(rotor_speed_for(&[(1500.0, 25.0)], amps(20.0)), Ok(Some(1500.0)));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        refuses(sum(&[], 13.5), "list of loads");
        for bad in REFUSED {
            refuses(sum(&[load(bad, 1.0)], 13.5), "power of a load");
            refuses(sum(&[load(60.0, bad)], 13.5), "duty of a load");
            refuses(sum(&[load(60.0, 1.0)], bad), "bus voltage");
            refuses(rating_for(amps(bad), 0.8), "current wanted");
            refuses(rating_for(amps(40.0), bad), "utilisation");
            refuses(balance(&drive(&CURVE, bad, 76.0), 700.0, amps(30.0)), "crank pulley diameter");
            refuses(balance(&drive(&CURVE, 165.0, bad), 700.0, amps(30.0)), "generator pulley diameter");
            refuses(balance(&drive(&CURVE, 165.0, 76.0), bad, amps(30.0)), "engine speed");
            refuses(balance(&drive(&CURVE, 165.0, 76.0), 700.0, amps(bad)), "load");
            refuses(rotor_speed_for(&CURVE, amps(bad)), "load");
        }
        refuses(sum(&[load(60.0, 1.1)], 13.5), "duty of a load");
        refuses(rotor_speed_for(&[], amps(30.0)), "output curve");
        refuses(balance(&drive(&[], 165.0, 76.0), 700.0, amps(30.0)), "output curve");
        refuses(rotor_speed_for(&[(2.0, 1.0), (1.0, 2.0)], amps(30.0)), "speed on the output curve");
    }

    proptest! {
        #[test]
        fn curve_and_its_inverse_undo_each_other(load in 0.001..99.9) {
            let rotor = rotor_speed_for(&CURVE, amps(load)).unwrap_or_default().unwrap_or(f64::NAN);
            prop_assert!((output_at(&CURVE, rotor).unwrap_or(f64::NAN) - load).abs() < 1e-9);
        }

        #[test]
        fn a_smaller_generator_pulley_never_gives_less(pulley in 55.0..120.0, factor in 1.01_f64..1.5, rpm in 400.0..3e3) {
            let at = |p| balance(&drive(&CURVE, 165.0, p), rpm, amps(30.0)).map_or(f64::NAN, |b| b.surplus.get::<ampere>());
            prop_assert!(at(pulley) >= at(pulley * factor));
        }

        #[test]
        fn loads_add_up(a in 1.0..500.0, b in 1.0..500.0, volts in 6.0..14.0) {
            let one = |w| sum(&[load(w, 1.0)], volts).unwrap_or(f64::NAN);
            let both = sum(&[load(a, 1.0), load(b, 1.0)], volts).unwrap_or(f64::NAN);
            prop_assert!((both - one(a) - one(b)).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>(),
        ) {
            prop_assert!(sum(&[load(a, b)], c).map_or(true, |i| i.is_finite() && i > 0.0));
            let found = balance(&drive(&CURVE, a, b), c, amps(d));
            prop_assert!(found.map_or(true, |f| f.surplus.is_finite() && f.output.get::<ampere>() >= 0.0));
            let curve = [(a, b), (c, d)];
            prop_assert!(rotor_speed_for(&curve, amps(30.0)).map_or(true, |r| r.is_none_or(f64::is_finite)));
        }
    }
}
