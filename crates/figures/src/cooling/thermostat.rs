//! Thermostat: its test in a pan of water, and its room under the boiling point (common practice).

use uom::si::f64::{Length, TemperatureInterval, ThermodynamicTemperature};
use uom::si::length::millimeter;
use uom::si::temperature_interval::kelvin as kelvin_interval;
use uom::si::thermodynamic_temperature::degree_celsius;

use crate::error::FigureError;
use crate::range::Range;
use crate::verdict::Verdict;

/// How far above its mark a sound thermostat is fully open at the latest, K: 15, common practice; many are at 11.
pub const FULLY_OPEN_OVER_MARK: f64 = 15.0;

const MARK: Range = Range::new(40.0, 120.0, "C");
const TEST: Range = Range::new(0.0, 150.0, "C");
const BOILING: Range = Range::new(40.0, 200.0, "C");
const LIFT: Range = Range::new(0.0, 50.0, "mm");

/// Room between a fully open thermostat and the boiling point: `boiling - (mark + 15 K)`.
///
/// * `mark`: temperature at which it begins to open, 40 to 120 C.
/// * `boiling`: of the coolant under its cap, 40 to 200 C, see [`super::boiling::boiling_under_cap`].
///
/// Below zero the coolant boils before the radiator gets its full flow. Leave 10 K at least: metal by the exhaust valves
/// is hotter than the coolant at the thermostat (common practice).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice, see [`FULLY_OPEN_OVER_MARK`].
pub fn thermostat_margin(
    mark: ThermodynamicTemperature,
    boiling: ThermodynamicTemperature,
) -> Result<TemperatureInterval, FigureError> {
    let mark = MARK.check("thermostat mark", mark.get::<degree_celsius>())?;
    let boiling = BOILING.check("boiling point", boiling.get::<degree_celsius>())?;
    Ok(TemperatureInterval::new::<kelvin_interval>(boiling - mark - FULLY_OPEN_OVER_MARK))
}

/// Verdict on a thermostat from a pan and a thermometer.
///
/// * `mark`: 40 to 120 C.
/// * `opened_at`: where it began to open, 0 to 150 C; `None` if it stayed shut, or stood open in the cold.
/// * `lift`: of the valve at 15 K over the mark, 0 to 50 mm.
///
/// Within 2 K of the mark and 8 mm of lift is good; within 5 K is to be watched; the rest is to be renewed.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice.
pub fn thermostat_test(
    mark: ThermodynamicTemperature,
    opened_at: Option<ThermodynamicTemperature>,
    lift: Length,
) -> Result<Verdict, FigureError> {
    let mark = MARK.check("thermostat mark", mark.get::<degree_celsius>())?;
    let lift = LIFT.check("thermostat lift", lift.get::<millimeter>())?;
    let Some(opened_at) = opened_at else { return Ok(Verdict::Renew) };
    let off = (TEST.check("opening temperature", opened_at.get::<degree_celsius>())? - mark).abs();
    // a hair for a mark and a reading given in other units
    Ok(if off <= 2.0 + 1e-6 && lift >= 8.0 {
        Verdict::Good
    } else if off <= 5.0 + 1e-6 && lift >= 8.0 {
        Verdict::Watch
    } else {
        Verdict::Renew
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    fn celsius(value: f64) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(value)
    }

    fn margin(mark: f64, boils: f64) -> Result<f64, FigureError> {
        thermostat_margin(celsius(mark), celsius(boils)).map(|m| m.get::<kelvin_interval>())
    }

    fn test(mark: f64, opened: Option<f64>, lift: f64) -> Result<Verdict, FigureError> {
        thermostat_test(celsius(mark), opened.map(celsius), Length::new::<millimeter>(lift))
    }

    #[test]
    fn margins() {
        // 82 C in plain water without a cap (99.97 C, tier L): 3 K; half glycol at 7 psi, 119.6 C: 22.6 K
        close(margin(82.0, 99.974_296), 2.974_296, 1e-6);
        close(margin(82.0, 119.607_69), 22.607_69, 1e-6);
        // at 1,609 m plain water boils at 94.6 C (tier L), before an 82 C thermostat is open
        assert!(margin(82.0, 94.619_953).is_ok_and(|m| m < 0.0));
    }

    #[test]
    fn trade_limits() {
        // common practice: mark +/-2 C good, +/-4 watch, more than 5 off or stuck renew; lift 8 mm
        for (opened, lift, verdict) in [
            (Some(83.0), 9.0, Verdict::Good),
            (Some(80.0), 8.0, Verdict::Good),
            (Some(78.0), 8.0, Verdict::Watch),
            (Some(78.0), 7.9, Verdict::Renew),
            (Some(82.0), 7.9, Verdict::Renew),
            (Some(86.0), 9.0, Verdict::Watch),
            (Some(88.0), 9.0, Verdict::Renew),
            (Some(82.0), 5.0, Verdict::Renew),
            (None, 0.0, Verdict::Renew),
        ] {
            assert_eq!(test(82.0, opened, lift), Ok(verdict), "{opened:?} {lift}");
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(margin(bad, 110.0), "thermostat mark");
            refuses(margin(82.0, bad), "boiling point");
            refuses(test(bad, Some(82.0), 9.0), "thermostat mark");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1_000.0] {
            refuses(test(82.0, Some(bad), 9.0), "opening temperature");
            refuses(test(82.0, Some(82.0), bad), "thermostat lift");
        }
    }

    proptest! {
        #[test]
        fn further_off_is_never_better(off in 0.0..20.0, more in 0.0..10.0, lift in 0.0..15.0) {
            for sign in [-1.0, 1.0] {
                let at = |off: f64| test(82.0, Some(82.0 + sign * off), lift).unwrap();
                prop_assert!(at(off) <= at(off + more));
            }
        }
    }
}
