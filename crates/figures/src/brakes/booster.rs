//! Vacuum booster: what the vacuum adds to the foot, and where it can add no more (physics; Limpert).

use std::f64::consts::FRAC_PI_4;

use uom::si::f64::{Force, Length, Pressure};
use uom::si::force::newton;
use uom::si::length::{meter, millimeter};
use uom::si::pressure::{kilopascal, pascal};

use super::BOOSTER_GAIN;
use crate::error::FigureError;
use crate::range::Range;

const DIAPHRAGM: Range = Range::new(50.0, 500.0, "mm");
const DIAPHRAGMS: Range = Range::new(1.0, 3.0, "");
/// A perfect vacuum at sea level is 101.3 kPa; an engine that does not run gives none.
const VACUUM: Range = Range::new(0.0, 101.325, "kPa");
const PUSHROD_FORCE: Range = Range::new(1.0, 20_000.0, "N");

/// A booster between pedal and master cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Booster {
    /// Force out for force in as long as the vacuum lasts, 1 to 30: set by the reaction disc, not by the size.
    pub gain: f64,
    /// Effective diameter of one diaphragm, 50 to 500 mm; 25 mm less than the outside of the shell (common practice).
    pub diaphragm: Length,
    /// Diaphragms one behind the other, 1 to 3.
    pub diaphragms: u8,
}

/// What comes out of a booster.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Boosted {
    /// Force on the piston of the master cylinder.
    pub output: Force,
    /// Output over input here: the gain of the booster before the knee, less and less after it.
    pub gain: f64,
    /// Input at the knee, from which on the vacuum adds no more; `None` for a gain of 1, which adds nothing.
    pub knee: Option<Force>,
}

/// Force out of a booster: `min(gain F, F + vacuum area)`.
///
/// * `input`: force of the pedal on the booster's rod, 1 to 20,000 N.
/// * `vacuum`: under the air outside, 0 to 101.325 kPa; 15 inHg (50.8 kPa) is the least a booster should be given
///   (common practice). Without vacuum the output is the input.
///
/// Springs and the area of the rod take a few per cent off.
///
/// # Errors
/// [`FigureError`] if a figure is out of its range.
///
/// Source: force balance of the diaphragm; Limpert, Brake Design and Safety.
pub fn boosted(booster: &Booster, input: Force, vacuum: Pressure) -> Result<Boosted, FigureError> {
    let gain = BOOSTER_GAIN.check("booster gain", booster.gain)?;
    DIAPHRAGM.check("booster diaphragm", booster.diaphragm.get::<millimeter>())?;
    let count = DIAPHRAGMS.check("booster diaphragms", f64::from(booster.diaphragms))?;
    let force = PUSHROD_FORCE.check("force on the booster rod", input.get::<newton>())?;
    VACUUM.check("vacuum", vacuum.get::<kilopascal>())?;

    let area = count * FRAC_PI_4 * booster.diaphragm.get::<meter>().powi(2);
    let most = vacuum.get::<pascal>() * area;
    let output = (gain * force).min(force + most);
    let knee = (gain > 1.0).then(|| Force::new::<newton>(most / (gain - 1.0)));
    Ok(Boosted { output: Force::new::<newton>(output), gain: output / force, knee })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    const INCH_OF_MERCURY: f64 = 3_386.388_640_34;

    fn run(gain: f64, mm: f64, count: u8, newtons: f64, pascals: f64) -> Result<Boosted, FigureError> {
        let booster = Booster { gain, diaphragm: Length::new::<millimeter>(mm), diaphragms: count };
        boosted(&booster, Force::new::<newton>(newtons), Pressure::new::<pascal>(pascals))
    }

    fn out(gain: f64, mm: f64, count: u8, newtons: f64, pascals: f64) -> Result<f64, FigureError> {
        run(gain, mm, count, newtons, pascals).map(|b| b.output.get::<newton>())
    }

    #[test]
    fn the_vacuum_sets_the_knee() {
        // physics: 8 in at 20 inHg (3,386.39 Pa each, units/inHg->Pa, tier L): 50.2655 in2 x 9.8231 psi = 493.76 lbf
        let mm = Length::new::<inch>(8.0).get::<millimeter>();
        let most = 493.76 * 4.448_221_615_260_5;
        close(out(30.0, mm, 1, 500.0, 20.0 * INCH_OF_MERCURY).map(|f| f - 500.0), most, 1e-4);
        let knee = run(4.0, mm, 1, 500.0, 20.0 * INCH_OF_MERCURY).map(|b| b.knee.unwrap_or_default());
        close(knee.map(|k| k.get::<newton>()), most / 3.0, 1e-4);
        // two diaphragms reach twice as far
        close(out(30.0, mm, 2, 500.0, 20.0 * INCH_OF_MERCURY).map(|f| f - 500.0), 2.0 * most, 1e-4);
    }

    #[test]
    fn trade_loss_of_vacuum() {
        // common practice: losing the vacuum raises the pedal force two to four times
        // UB11: a booster of gain 1.9
        for gain in [1.9, 2.0, 4.0] {
            close(run(gain, 200.0, 1, 300.0, 60e3).map(|b| b.gain), gain, 1e-12);
            close(run(gain, 200.0, 1, 300.0, 0.0).map(|b| b.gain), 1.0, 1e-12);
        }
        assert_eq!(run(1.0, 200.0, 1, 300.0, 60e3).map(|b| b.knee), Ok(None));
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(run(bad, 200.0, 1, 300.0, 60e3), "booster gain");
            refuses(run(4.0, bad, 1, 300.0, 60e3), "booster diaphragm");
            refuses(run(4.0, 200.0, 1, bad, 60e3), "force on the booster rod");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 2e5] {
            refuses(run(4.0, 200.0, 1, 300.0, bad), "vacuum");
        }
        refuses(run(4.0, 200.0, 0, 300.0, 60e3), "booster diaphragms");
        refuses(run(4.0, 200.0, 4, 300.0, 60e3), "booster diaphragms");
    }

    proptest! {
        #[test]
        fn output_rises_and_its_gain_never_does(
            gain in 1.0..10.0, mm in 150.0..300.0, n in 10.0..5_000.0, factor in 1.01_f64..2.0, pa in 0.0..100e3,
        ) {
            let (low, high) = (run(gain, mm, 1, n, pa), run(gain, mm, 1, n * factor, pa));
            prop_assert!(low.is_ok() && high.is_ok());
            if let (Ok(low), Ok(high)) = (low, high) {
                prop_assert!(high.output > low.output && high.gain <= low.gain * (1.0 + 1e-12));
                prop_assert!(low.gain >= 1.0 && low.gain <= gain * (1.0 + 1e-12));
                let before = low.knee.is_none_or(|k| n <= k.get::<newton>());
                prop_assert!(!before || (low.gain / gain - 1.0).abs() < 1e-9);
            }
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(
            a in any::<f64>(), b in any::<f64>(), n in any::<u8>(), c in any::<f64>(), d in any::<f64>(),
        ) {
            prop_assert!(out(a, b, n, c, d).map_or(true, |f| f.is_finite() && f > 0.0));
        }
    }
}
