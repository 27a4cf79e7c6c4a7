//! Compression test and leak-down test: what the gauge says (common practice; makers' service texts).

use uom::si::f64::Pressure;
use uom::si::pressure::{kilopascal, pascal};

use crate::error::FigureError;
use crate::range::Range;
use crate::verdict::Verdict;

/// One psi in pascals; the psi of `uom` is rounded to seven digits.
const PSI: f64 = 6_894.757_293_168;

const GAUGE: Range = Range::new(0.0, 5_000.0, "kPa");
const COUNT: Range = Range::new(1.0, 48.0, "cylinders");
const LEAK: Range = Range::new(0.0, 100.0, "%");
const LEAST_SHARE: Range = Range::new(0.3, 1.0, "");

/// What a compression test says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compression {
    /// Verdict over all cylinders.
    pub verdict: Verdict,
    /// Lowest of the readings.
    pub lowest: Pressure,
    /// Highest of the readings.
    pub highest: Pressure,
    /// How far the lowest is under the highest, as a share of the highest, 0 to 1.
    pub spread: f64,
}

/// Verdict on a compression test of an engine of 7 to 8 to 1: warm, throttle open, all plugs out, five pulses.
///
/// | verdict | lowest | spread |
/// |---|---|---|
/// | good | 115 psi or more | up to 15 % |
/// | watch | 90 psi or more | up to 25 % |
/// | renew | less | more |
///
/// * `readings`: one a cylinder, 1 to 48, each 0 to 5,000 kPa.
///
/// The spread tells more than the height, which goes with cranking speed, cam and altitude. The maker's figure wins.
///
/// # Errors
/// [`FigureError`] if a reading is out of its range or there is none.
///
/// Source: common practice; the 25 % is a maker's rule, the lowest at least 75 % of the highest.
pub fn compression_test(readings: &[Pressure]) -> Result<Compression, FigureError> {
    let (lowest, highest) = extremes(readings)?;
    let spread = if highest > 0.0 { 1.0 - lowest / highest } else { 0.0 };
    let lowest_psi = lowest / PSI;
    // a hair for readings given in other units
    let verdict = if lowest_psi >= 115.0 - 1e-4 && spread <= 0.15 + 1e-9 {
        Verdict::Good
    } else if lowest_psi >= 90.0 - 1e-4 && spread <= 0.25 + 1e-9 {
        Verdict::Watch
    } else {
        Verdict::Renew
    };
    let pascals = Pressure::new::<pascal>;
    Ok(Compression { verdict, lowest: pascals(lowest), highest: pascals(highest), spread })
}

/// Whether the lowest reading is a share of the highest at least, and not under a floor.
///
/// * `readings`: as for [`compression_test`].
/// * `least_share`: 0.3 to 1; 0.75 by one maker, 0.70 with a floor of 100 psi by another.
/// * `floor`: 0 to 5,000 kPa; 0 for none.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range or there is no reading.
///
/// Source: two makers' service texts.
pub fn compression_rule(
    readings: &[Pressure],
    least_share: f64,
    floor: Pressure,
) -> Result<bool, FigureError> {
    let (lowest, highest) = extremes(readings)?;
    let share = LEAST_SHARE.check("least share of the highest reading", least_share)?;
    GAUGE.check("least compression", floor.get::<kilopascal>())?;
    Ok(lowest >= highest * share * (1.0 - 1e-9) && lowest >= floor.get::<pascal>() * (1.0 - 1e-6))
}

/// Lowest and highest reading, Pa.
fn extremes(readings: &[Pressure]) -> Result<(f64, f64), FigureError> {
    COUNT.check("compression readings", readings.len() as f64)?;
    let (mut lowest, mut highest) = (f64::INFINITY, 0.0_f64);
    for reading in readings {
        GAUGE.check("compression reading", reading.get::<kilopascal>())?;
        lowest = lowest.min(reading.get::<pascal>());
        highest = highest.max(reading.get::<pascal>());
    }
    Ok((lowest, highest))
}

/// Where a low cylinder leaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeakPath {
    /// Oil on the piston sealed it: the rings or the bore.
    RingsOrBore,
    /// Oil changed nothing: a valve or the head gasket.
    ValvesOrGasket,
}

/// Reads a low cylinder again after a spoon of oil: a fifth more points to the rings.
///
/// * `dry`, `wet`: 0 to 5,000 kPa, the dry reading not zero.
///
/// # Errors
/// [`FigureError`] if a reading is out of its range.
///
/// Source: common practice.
pub fn wet_test(dry: Pressure, wet: Pressure) -> Result<LeakPath, FigureError> {
    let dry = Range::new(1.0, 5_000.0, "kPa").check("dry reading", dry.get::<kilopascal>())?;
    let wet = GAUGE.check("wet reading", wet.get::<kilopascal>())?;
    Ok(if wet >= 1.2 * dry * (1.0 - 1e-9) { LeakPath::RingsOrBore } else { LeakPath::ValvesOrGasket })
}

/// Verdict on a leak-down test: up to 15 % good, up to 30 % watch, more is to be renewed.
///
/// * `leak_percent`: of the pressure fed at 80 to 100 psi, piston at the top of its firing stroke, 0 to 100.
///
/// Hissing at the tail pipe is the exhaust valve, at the carburettor the inlet valve, at the oil filler the rings; bubbles
/// in the radiator are the gasket.
///
/// # Errors
/// [`FigureError`] if the share is out of its range.
///
/// Source: common practice.
pub fn leak_down_test(leak_percent: f64) -> Result<Verdict, FigureError> {
    let leak = LEAK.check("leakage", leak_percent)?;
    Ok(if leak <= 15.0 {
        Verdict::Good
    } else if leak <= 30.0 {
        Verdict::Watch
    } else {
        Verdict::Renew
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    fn psi(values: &[f64]) -> Vec<Pressure> {
        values.iter().map(|v| Pressure::new::<pascal>(v * PSI)).collect()
    }

    fn verdict(values: &[f64]) -> Result<Verdict, FigureError> {
        compression_test(&psi(values)).map(|c| c.verdict)
    }

    fn rule(values: &[f64], share: f64, floor: f64) -> Result<bool, FigureError> {
        compression_rule(&psi(values), share, Pressure::new::<pascal>(floor * PSI))
    }

    #[test]
    fn makers_rules() {
        // a maker's service text: 75 % rule: 160 psi, lowest 120
        assert_eq!(rule(&[160.0, 120.0], 0.75, 0.0), Ok(true));
        assert_eq!(rule(&[160.0, 119.9], 0.75, 0.0), Ok(false));
        // tier P: engine.compression_spread/70 % and 100 psi rule: 150 psi, lowest 105; 1035 kPa, lowest 725
        assert_eq!(rule(&[150.0, 105.0], 0.70, 100.0), Ok(true));
        assert_eq!(rule(&[150.0, 104.9], 0.70, 100.0), Ok(false));
        let kpa = [1035.0, 725.0].map(Pressure::new::<kilopascal>);
        assert_eq!(compression_rule(&kpa, 0.70, Pressure::new::<kilopascal>(690.0)), Ok(true));
        assert_eq!(rule(&[135.0, 99.0], 0.70, 100.0), Ok(false));
    }

    #[test]
    fn trade_compression() {
        // common practice, and two engines of an example vehicle: 148 to 155 psi good, 112 to 121 psi watch
        assert_eq!(verdict(&[148.0, 155.0, 150.0, 152.0]), Ok(Verdict::Good));
        assert_eq!(verdict(&[112.0, 121.0, 118.0, 115.0, 120.0, 117.0]), Ok(Verdict::Watch));
        assert_eq!(verdict(&[150.0, 127.5]), Ok(Verdict::Good));
        assert_eq!(verdict(&[115.0, 115.0]), Ok(Verdict::Good));
        assert_eq!(verdict(&[114.9, 114.9]), Ok(Verdict::Watch));
        assert_eq!(verdict(&[90.0, 90.0]), Ok(Verdict::Watch));
        assert_eq!(verdict(&[150.0, 120.0]), Ok(Verdict::Watch));
        assert_eq!(verdict(&[150.0, 110.0]), Ok(Verdict::Renew));
        assert_eq!(verdict(&[89.0, 89.0]), Ok(Verdict::Renew));
        assert_eq!(verdict(&[0.0, 0.0]), Ok(Verdict::Renew));
        close(compression_test(&psi(&[160.0, 120.0])).map(|c| c.spread), 0.25, 1e-12);
    }

    #[test]
    fn trade_oil_and_leak() {
        // common practice
        let wet = |dry: f64, wet: f64| {
            wet_test(Pressure::new::<pascal>(dry * PSI), Pressure::new::<pascal>(wet * PSI))
        };
        assert_eq!(wet(90.0, 108.0), Ok(LeakPath::RingsOrBore));
        assert_eq!(wet(90.0, 92.0), Ok(LeakPath::ValvesOrGasket));
        refuses(wet(0.0, 92.0), "dry reading");
        refuses(wet(90.0, f64::NAN), "wet reading");
        for (leak, verdict) in [
            (0.0, Verdict::Good),
            (15.0, Verdict::Good),
            (15.1, Verdict::Watch),
            (22.0, Verdict::Watch),
            (30.0, Verdict::Watch),
            (31.0, Verdict::Renew),
        ] {
            assert_eq!(leak_down_test(leak), Ok(verdict));
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 101.0] {
            refuses(leak_down_test(bad), "leakage");
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        refuses(verdict(&[]), "compression readings");
        refuses(verdict(&[100.0; 49]), "compression readings");
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e6] {
            refuses(verdict(&[120.0, bad]), "compression reading");
            refuses(rule(&[120.0, 120.0], bad, 0.0), "least share of the highest reading");
            refuses(rule(&[120.0, 120.0], 0.75, bad), "least compression");
        }
    }

    proptest! {
        #[test]
        fn the_order_of_the_cylinders_is_all_one(mut readings in proptest::collection::vec(50.0..200.0, 1..12)) {
            let found = verdict(&readings);
            readings.reverse();
            prop_assert_eq!(found, verdict(&readings));
        }

        #[test]
        fn a_lower_cylinder_is_never_better(readings in proptest::collection::vec(60.0..200.0, 1..12), low in 0.0..60.0) {
            let mut worse = readings.clone();
            worse.push(low);
            prop_assert!(verdict(&worse).unwrap() >= verdict(&readings).unwrap());
        }

        #[test]
        fn any_numbers_are_refused_or_answered(readings in proptest::collection::vec(any::<f64>(), 0..6)) {
            let found = compression_test(&readings.iter().map(|v| Pressure::new::<pascal>(*v)).collect::<Vec<_>>());
            prop_assert!(found.map_or(true, |c| (0.0..=1.0).contains(&c.spread) && c.lowest <= c.highest));
        }
    }
}
