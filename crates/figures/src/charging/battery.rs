//! How long a battery lasts, and the cold current a starter wants (Peukert; SAE J537; common practice).

use uom::si::electric_charge::ampere_hour;
use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCharge, ElectricCurrent, Time};
use uom::si::time::{hour, minute};

use crate::error::FigureError;
use crate::range::Range;

/// Hours over which the capacity of a vehicle battery is rated (EN 50342-1, SAE J537).
pub const RATED_HOURS: f64 = 20.0;
/// Peukert's exponent of a flooded lead battery: 1.2, common practice; 1.1 for absorbed mat.
pub const PEUKERT_FLOODED: f64 = 1.2;
/// Current of the reserve capacity test (SAE J537).
pub const RESERVE_AMPERES: f64 = 25.0;

const CAPACITY: Range = Range::new(1.0, 1_000.0, "Ah");
const LOAD: Range = Range::new(0.001, 5_000.0, "A");
const EXPONENT: Range = Range::new(1.0, 1.6, "");
const USABLE: Range = Range::new(0.05, 1.0, "");
const RESERVE: Range = Range::new(1.0, 2_000.0, "min");
const RUNNING: Range = Range::new(1.0, 5_000.0, "A");
const FACTOR: Range = Range::new(1.0, 10.0, "");

/// Time a load can run from the battery alone: `20 h usable (C / (20 h I))^k`.
///
/// * `capacity`: at the 20-hour rate, 1 to 1,000 Ah.
/// * `load`: 0.001 to 5,000 A.
/// * `exponent`: after Peukert, 1 to 1.6, see [`PEUKERT_FLOODED`].
/// * `usable`: share of the full charge that may be drawn, 0.05 to 1; half for a starter battery, which must still
///   start the engine (common practice).
///
/// A load below the 20-hour rate is given no more than its ampere-hours: self-discharge takes what Peukert would add.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Peukert, Elektrotechnische Zeitschrift 20 (1897); rated at 20 h.
pub fn reserve(
    capacity: ElectricCharge,
    load: ElectricCurrent,
    exponent: f64,
    usable: f64,
) -> Result<Time, FigureError> {
    let capacity = CAPACITY.check("battery capacity", capacity.get::<ampere_hour>())?;
    let load = LOAD.check("load", load.get::<ampere>())?;
    let exponent = EXPONENT.check("Peukert exponent", exponent)?;
    let usable = USABLE.check("usable share of the charge", usable)?;
    let rate = capacity / (RATED_HOURS * load);
    let hours = RATED_HOURS * if rate < 1.0 { rate.powf(exponent) } else { rate };
    Ok(Time::new::<hour>(usable * hours))
}

/// How long a battery may stand with a small drain: `C share / I`.
///
/// * `capacity`: 1 to 1,000 Ah; `share`: that may go, 0.05 to 1; `drain`: 0.001 to 5,000 A, self-discharge counted.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the ampere-hour.
pub fn standing(capacity: ElectricCharge, share: f64, drain: ElectricCurrent) -> Result<Time, FigureError> {
    let capacity = CAPACITY.check("battery capacity", capacity.get::<ampere_hour>())?;
    let share = USABLE.check("share of the charge", share)?;
    let drain = LOAD.check("drain", drain.get::<ampere>())?;
    Ok(Time::new::<hour>(capacity * share / drain))
}

/// Charge that a reserve capacity stands for: `25 A * minutes`.
///
/// * `reserve_capacity`: time to 10.5 V at 25 A and 27 C, 1 to 2,000 min.
///
/// It is less than the capacity at the 20-hour rate, which is drawn more slowly.
///
/// # Errors
/// [`FigureError`] if the time is out of its range.
///
/// Source: SAE J537, reserve capacity.
pub fn charge_of_reserve(reserve_capacity: Time) -> Result<ElectricCharge, FigureError> {
    let minutes = RESERVE.check("reserve capacity", reserve_capacity.get::<minute>())?;
    Ok(ElectricCharge::new::<ampere_hour>(RESERVE_AMPERES * minutes / 60.0))
}

/// Cold current a battery should be marked with: `running current * factor`.
///
/// * `starter`: current while the starter turns the engine, not the first peak, 1 to 5,000 A.
/// * `factor`: 1 to 10; 2.5 to 3 is common practice.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice.
pub fn cold_current(starter: ElectricCurrent, factor: f64) -> Result<ElectricCurrent, FigureError> {
    let running = RUNNING.check("starter current", starter.get::<ampere>())?;
    Ok(ElectricCurrent::new::<ampere>(running * FACTOR.check("cold current factor", factor)?))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn hours(ah: f64, amps: f64, exponent: f64, usable: f64) -> Result<f64, FigureError> {
        let (capacity, load) = (ElectricCharge::new::<ampere_hour>(ah), ElectricCurrent::new::<ampere>(amps));
        reserve(capacity, load, exponent, usable).map(|t| t.get::<hour>())
    }

    fn cold(amps: f64, factor: f64) -> Result<f64, FigureError> {
        cold_current(ElectricCurrent::new::<ampere>(amps), factor).map(|i| i.get::<ampere>())
    }

    fn charge(minutes: f64) -> Result<f64, FigureError> {
        charge_of_reserve(Time::new::<minute>(minutes)).map(|q| q.get::<ampere_hour>())
    }

    #[test]
    fn reserves() {
        // definition: at the rated current the rated time
        close(hours(60.0, 3.0, PEUKERT_FLOODED, 1.0), 20.0, 1e-12);
        // 55 Ah, 40 W of side lamps at 12 V, half of it: 8.25 h without Peukert
        close(hours(55.0, 40.0 / 12.0, 1.0, 0.5), 8.25, 1e-12);
        // Peukert's law by hand: 60 Ah at 25 A, k 1.2: 1,200 min * 0.12^1.2 = 94.2 min
        close(hours(60.0, 25.0, 1.2, 1.0).map(|h| h * 60.0), 94.2, 1e-3);
        // SAE J537: 120 min at 25 A are 50 Ah
        close(charge(120.0), 50.0, 1e-12);
        // a drain of 30 mA, the most allowed, empties half of 55 Ah in 38 days
        close(hours(55.0, 0.03, 1.2, 0.5).map(|h| h / 24.0), 38.2, 1e-3);
    }

    #[test]
    fn trade_cold_current() {
        // common practice: 2.75 x 110 A = 303 A; a starter of 105 A would take the 300 A battery
        close(cold(110.0, 2.75), 303.0, 2e-3);
        assert!(cold(105.0, 2.75).is_ok_and(|a| a < 300.0));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(hours(bad, 3.0, 1.2, 1.0), "battery capacity");
            refuses(hours(60.0, bad, 1.2, 1.0), "load");
            refuses(hours(60.0, 3.0, bad, 1.0), "Peukert exponent");
            refuses(hours(60.0, 3.0, 1.2, bad), "usable share of the charge");
            refuses(cold(bad, 2.75), "starter current");
            refuses(cold(110.0, bad), "cold current factor");
            refuses(charge(bad), "reserve capacity");
        }
    }

    proptest! {
        #[test]
        fn a_heavier_load_is_over_sooner(ah in 20.0..200.0, amps in 0.1..100.0, factor in 1.01_f64..3.0, k in 1.0..1.5) {
            let (light, heavy) = (hours(ah, amps, k, 0.5), hours(ah, amps * factor, k, 0.5));
            prop_assert!(heavy.unwrap_or(f64::NAN) < light.unwrap_or(f64::NAN));
            prop_assert!(hours(ah * factor, amps, k, 0.5).unwrap_or(f64::NAN) > light.unwrap_or(f64::NAN));
            // and never gives more than its ampere-hours
            prop_assert!(light.unwrap_or(f64::NAN) * amps <= 0.5 * ah * (1.0 + 1e-12));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>(),
        ) {
            prop_assert!(sound(hours(a, b, c, d)) && sound(cold(a, b)) && sound(charge(a)));
        }
    }
}
