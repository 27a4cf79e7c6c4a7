//! Turns of a speedometer cable over a mile and what the head makes of them (gear kinematics; SAE J678 head rates).

use uom::si::f64::{Length, LinearNumberDensity, Velocity};
use uom::si::linear_number_density::per_mile;
use uom::si::velocity::kilometer_per_hour;

use crate::error::FigureError;
use crate::range::{GEAR_RATIO, REVS_PER_MILE, Range};
use crate::tyres::growth;

const TEETH: Range = Range::new(1.0, 200.0, "teeth");
const SPEED: Range = Range::new(0.1, 1_000.0, "km/h");
const READS_HIGH: Range = Range::new(-0.9, 9.0, "");

/// Turns of the cable over a length of road: `tyre turns * axle ratio * drive teeth / driven teeth`.
///
/// * `tyre_revs`: turns of the road wheel, 10 to 100,000 rev/mile, see [`crate::tyres`].
/// * `axle_ratio`: turns of the propeller shaft for one of the wheel, 0.05 to 100.
/// * `drive_teeth`: on the gearbox shaft (starts, for a worm), 1 to 200.
/// * `driven_teeth`: on the cable's gear, 1 to 200.
///
/// The drive is taken off behind the gears, so the gear engaged plays no part.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: gear kinematics.
pub fn cable_revs(
    tyre_revs: LinearNumberDensity,
    axle_ratio: f64,
    drive_teeth: u32,
    driven_teeth: u32,
) -> Result<LinearNumberDensity, FigureError> {
    let tyre = REVS_PER_MILE.check("tyre turns per mile", tyre_revs.get::<per_mile>())?;
    let axle = GEAR_RATIO.check("axle ratio", axle_ratio)?;
    let drive = TEETH.check("speedometer drive teeth", f64::from(drive_teeth))?;
    let driven = TEETH.check("speedometer driven teeth", f64::from(driven_teeth))?;
    Ok(LinearNumberDensity::new::<per_mile>(tyre * axle * drive / driven))
}

/// By which fraction the head shows more than the true speed: `cable / head - 1`; 0.03 is 3 % high, negative is low.
///
/// * `cable`: turns the cable makes, 10 to 100,000 rev/mile.
/// * `head`: turns the head is made for, marked on its face, 10 to 100,000 rev/mile; 1,000 is usual.
///
/// From 0 to 0.04 is common practice; the law (UN R39) never allows a reading below the true speed.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: proportion.
pub fn reads_high_by(cable: LinearNumberDensity, head: LinearNumberDensity) -> Result<f64, FigureError> {
    let cable = REVS_PER_MILE.check("cable turns per mile", cable.get::<per_mile>())?;
    let head = REVS_PER_MILE.check("speedometer head turns per mile", head.get::<per_mile>())?;
    Ok(cable / head - 1.0)
}

/// True speed after a tyre change on a head that read true before: `indicated * new / old`.
///
/// * `indicated`: what the head shows, 0.1 to 1,000 km/h.
/// * `old_diameter`, `new_diameter`: of tyres of one construction, 100 to 3,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: proportion, the head counts turns.
pub fn true_speed_on_new_tyres(
    indicated: Velocity,
    old_diameter: Length,
    new_diameter: Length,
) -> Result<Velocity, FigureError> {
    SPEED.check("indicated speed", indicated.get::<kilometer_per_hour>())?;
    Ok(indicated * growth(old_diameter, new_diameter)?)
}

/// By which fraction the head shows more than the true speed after a tyre change: `(1 + before) * old / new - 1`.
///
/// * `before`: by which fraction it read high on the old tyres, -0.9 to 9; 0 if it read true, see [`reads_high_by`].
/// * `old_diameter`, `new_diameter`: of tyres of one construction, 100 to 3,000 mm.
///
/// A taller tyre makes the head read low, which the law (UN R39) never allows.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: proportion.
pub fn reads_high_on_new_tyres(
    before: f64,
    old_diameter: Length,
    new_diameter: Length,
) -> Result<f64, FigureError> {
    let before = READS_HIGH.check("share read high before", before)?;
    Ok((1.0 + before) / growth(old_diameter, new_diameter)? - 1.0)
}

/// Turns the cable must make for each it makes now, so that a head reads true: `1 / (1 + reads high)`. What a changed
/// driven gear or a ratio box must come to.
///
/// * `reads_high`: -0.9 to 9.
///
/// # Errors
/// [`FigureError`] if the argument is out of its range.
///
/// Source: proportion, the head counts turns.
pub fn cable_correction(reads_high: f64) -> Result<f64, FigureError> {
    Ok(1.0 / (1.0 + READS_HIGH.check("how far the speedometer reads high", reads_high)?))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::millimeter;
    use uom::si::velocity::mile_per_hour;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn revs(per: f64) -> LinearNumberDensity {
        LinearNumberDensity::new::<per_mile>(per)
    }

    fn cable(tyre: f64, axle: f64, drive: u32, driven: u32) -> Result<f64, FigureError> {
        cable_revs(revs(tyre), axle, drive, driven).map(|r| r.get::<per_mile>())
    }

    #[test]
    fn trade_cable_turns() {
        // physics: 755 x 3.90 x 7/20 = 1,031, +3.1 %; 21 teeth give 982 (981.5), low
        let twenty = cable(755.0, 3.90, 7, 20);
        assert_eq!(twenty.map(f64::round), Ok(1031.0));
        close(reads_high_by(revs(twenty.unwrap_or(f64::NAN)), revs(1000.0)), 0.031, 0.02);
        let low = cable(755.0, 3.90, 7, 21);
        close(low, 982.0, 1e-3);
        assert!(reads_high_by(revs(low.unwrap_or(f64::NAN)), revs(1000.0)).is_ok_and(|f| f < 0.0));
        // an example vehicle: 810 to 823 turns of the tyre: 1.6 % high
        close(reads_high_by(revs(823.0), revs(810.0)), 0.016, 0.01);
    }

    #[test]
    fn true_speed_after_a_tyre_change() {
        // arithmetic of the definition: 235/75R15 -> 31 in, indicated 60: 7.34832992502 % more
        // road for the same turns, so the head reads low: true = indicated / (1 + high)
        let high = reads_high_by(revs(1000.0 * 733.5 / 787.4), revs(1000.0));
        close(high.map(|h| 60.0 / (1.0 + h)), 64.408_997_955, 1e-9);
    }

    fn on_new(mph: f64, old: f64, new: f64) -> Result<f64, FigureError> {
        let [old, new] = [old, new].map(Length::new::<millimeter>);
        true_speed_on_new_tyres(Velocity::new::<mile_per_hour>(mph), old, new)
            .map(|v| v.get::<mile_per_hour>())
    }

    fn high_on_new(before: f64, old: f64, new: f64) -> Result<f64, FigureError> {
        let [old, new] = [old, new].map(Length::new::<millimeter>);
        reads_high_on_new_tyres(before, old, new)
    }

    #[test]
    fn a_head_that_reads_low_wants_a_faster_cable() {
        // 810 turns made, 823 wanted: the head reads 1.6 % low
        close(cable_correction(810.0 / 823.0 - 1.0), 823.0 / 810.0, 1e-12);
        refuses(cable_correction(-0.95), "how far the speedometer reads high");
        refuses(cable_correction(f64::NAN), "how far the speedometer reads high");
    }

    #[test]
    fn true_speed_against_the_reference() {
        // arithmetic of the definition: 235/75R15 -> 31 in, indicated 60: 64.408997955 mph and
        // 7.34832992502 % more road than shown
        close(on_new(60.0, 733.5, 787.4), 64.408_997_955, 1e-9);
        close(high_on_new(0.0, 733.5, 787.4).map(|h| 1.0 / (1.0 + h) - 1.0), 0.073_483_299_250_2, 1e-9);
        // physics C: reads true on 729 mm; on a 31 in tyre 7.4 % low
        close(high_on_new(0.0, 729.0, 787.4), -0.0742, 1e-3);
        // 716 to 703 mm after a change that had read true: 1.8 % high
        close(high_on_new(0.0, 716.0, 703.0), 0.0185, 2e-3);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(on_new(bad, 733.5, 787.4), "indicated speed");
            refuses(on_new(60.0, bad, 787.4), "old tyre diameter");
            refuses(high_on_new(0.0, 733.5, bad), "new tyre diameter");
            refuses(cable(bad, 3.9, 7, 20), "tyre turns per mile");
            refuses(cable(755.0, bad, 7, 20), "axle ratio");
            refuses(reads_high_by(revs(bad), revs(1000.0)), "cable turns per mile");
            refuses(reads_high_by(revs(1000.0), revs(bad)), "speedometer head turns per mile");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 10.0] {
            refuses(high_on_new(bad, 733.5, 787.4), "share read high before");
        }
        refuses(cable(755.0, 3.9, 0, 20), "speedometer drive teeth");
        refuses(cable(755.0, 3.9, 7, 0), "speedometer driven teeth");
    }

    proptest! {
        #[test]
        fn more_driven_teeth_turn_the_cable_less(
            tyre in 300.0..1500.0, axle in 2.0..7.0, drive in 1_u32..20, driven in 1_u32..40,
        ) {
            let turns = |drive, driven| cable(tyre, axle, drive, driven).unwrap_or(f64::NAN);
            prop_assert!(turns(drive, driven) > turns(drive, driven + 1));
            prop_assert!(turns(drive, driven) < turns(drive + 1, driven));
        }

        #[test]
        fn changing_there_and_back_changes_nothing(before in -0.1..0.1, old in 500.0..900.0, new in 500.0..900.0) {
            let there = high_on_new(before, old, new).unwrap_or(f64::NAN);
            prop_assert!(high_on_new(there, new, old).is_ok_and(|h| (h - before).abs() < 1e-12));
            prop_assert_eq!(there < before, new > old);
        }

        #[test]
        fn a_matched_head_reads_true(turns in 10.1..99_000.0) {
            prop_assert!(reads_high_by(revs(turns), revs(turns)).is_ok_and(|f| f.abs() < 1e-12));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), m in any::<u32>(), n in any::<u32>(),
        ) {
            prop_assert!(sound(cable(a, b, m, n)));
            prop_assert!(reads_high_by(revs(a), revs(b)).map_or(true, |f| f.is_finite() && f > -1.0));
        }
    }
}
