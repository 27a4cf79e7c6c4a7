//! Diameter of a metric size and turns of a tyre over a length of road (ISO 4000-1; ETRTO; T&RA).

use std::f64::consts::PI;

use uom::si::f64::{Length, LinearNumberDensity};
use uom::si::length::{meter, millimeter};
use uom::si::linear_number_density::per_meter;

use crate::error::FigureError;
use crate::range::Range;

/// Rolling circumference over `pi` times the nominal diameter, steel-belted radial tyre at its rated load: 0.97.
///
/// Source: median of 0.969 over a table of cars of 1990 with published engine turns per mile (10 to 90 %: 0.9625 to
/// 0.9785); ETRTO gives 3.05/pi = 0.9708 for radials.
pub const ROLLING_FACTOR_RADIAL: f64 = 0.97;

/// The same for a bias-ply tyre: 0.952.
///
/// Source: ETRTO rolling circumference 2.99 times the diameter of a diagonal tyre, from memory and not confirmed; such
/// a tyre also grows with speed.
pub const ROLLING_FACTOR_BIAS: f64 = 0.952;

pub(crate) const SECTION: Range = Range::new(50.0, 700.0, "mm");
pub(crate) const ASPECT: Range = Range::new(20.0, 120.0, "%");
pub(crate) const RIM: Range = Range::new(4.0, 40.0, "in");
pub(crate) const DIAMETER: Range = Range::new(100.0, 3_000.0, "mm");
const ROLLING_FACTOR: Range = Range::new(0.8, 1.0, "");

/// Nominal diameter of a metric size such as 205/75 R 15: `25.4 rim + 2 section aspect / 100` mm.
///
/// * `section_mm`: nominal section width, 50 to 700 mm.
/// * `aspect_pct`: section height for each hundred of width, 20 to 120; where the code leaves it out, 82.
/// * `rim_in`: rim code in inches, 4 to 40; a metric rim code (390) is refused.
///
/// A real tyre is within 1.5 % of it. Letter sizes and flotation sizes have other rules, see [`super::parse`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: size code definition, ISO 4000-1, ETRTO Standards Manual, T&RA Year Book.
pub fn metric_diameter(section_mm: f64, aspect_pct: f64, rim_in: f64) -> Result<Length, FigureError> {
    let section = SECTION.check("tyre section width", section_mm)?;
    let aspect = ASPECT.check("tyre aspect ratio", aspect_pct)?;
    let rim = RIM.check("rim code", rim_in)?;
    Ok(Length::new::<millimeter>(25.4 * rim + 2.0 * section * aspect / 100.0))
}

/// Rim diameter as the lists of sizes give it: the code in inches, rounded to whole millimetres.
///
/// * `rim_in`: rim code in inches, 4 to 40.
///
/// The bead seat is a different measure, and the lists' tyre diameters are up to 0.5 mm off [`metric_diameter`].
///
/// # Errors
/// [`FigureError`] if the code is out of its range.
///
/// Source: UN R30 table of rim diameters, from memory; the values are those of the arithmetic.
pub fn nominal_rim_diameter(rim_in: f64) -> Result<Length, FigureError> {
    Ok(Length::new::<millimeter>((25.4 * RIM.check("rim code", rim_in)?).round()))
}

/// How many times as tall a new tyre is as an old one.
pub(crate) fn growth(old_diameter: Length, new_diameter: Length) -> Result<f64, FigureError> {
    let old = DIAMETER.check("old tyre diameter", old_diameter.get::<millimeter>())?;
    let new = DIAMETER.check("new tyre diameter", new_diameter.get::<millimeter>())?;
    Ok(new / old)
}

/// Turns over a length of road if the tyre were a hard wheel: `1 / (pi diameter)`.
///
/// * `diameter`: outside diameter, 100 to 3,000 mm.
///
/// A loaded tyre turns about 3 % more often, see [`rolling_revolutions_per_length`].
///
/// # Errors
/// [`FigureError`] if the diameter is out of its range.
///
/// Source: geometry.
pub fn revolutions_per_length(diameter: Length) -> Result<LinearNumberDensity, FigureError> {
    rolling_revolutions_per_length(diameter, 1.0)
}

/// Turns over a length of road of a loaded tyre: `1 / (pi diameter factor)`.
///
/// * `diameter`: nominal outside diameter, 100 to 3,000 mm.
/// * `rolling_factor`: rolling over geometric circumference, 0.8 to 1; [`ROLLING_FACTOR_RADIAL`] for a radial,
///   [`ROLLING_FACTOR_BIAS`] for a bias-ply tyre.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: ETRTO Standards Manual, rolling circumference as a fixed multiple of the diameter.
pub fn rolling_revolutions_per_length(
    diameter: Length,
    rolling_factor: f64,
) -> Result<LinearNumberDensity, FigureError> {
    DIAMETER.check("tyre diameter", diameter.get::<millimeter>())?;
    let factor = ROLLING_FACTOR.check("rolling factor", rolling_factor)?;
    Ok(LinearNumberDensity::new::<per_meter>(1.0 / (PI * diameter.get::<meter>() * factor)))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::linear_number_density::{per_kilometer, per_mile};

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn millimetres(section: f64, aspect: f64, rim: f64) -> Result<f64, FigureError> {
        metric_diameter(section, aspect, rim).map(|d| d.get::<millimeter>())
    }

    fn per_mile_of(mm: f64, factor: f64) -> Result<f64, FigureError> {
        let diameter = Length::new::<millimeter>(mm);
        rolling_revolutions_per_length(diameter, factor).map(|r| r.get::<per_mile>())
    }

    #[test]
    fn diameters_of_size_codes() {
        // arithmetic of the definition
        for (section, aspect, rim, mm) in [
            (235.0, 75.0, 15.0, 733.5),
            (205.0, 55.0, 16.0, 631.9),
            (265.0, 75.0, 16.0, 803.9),
            (165.0, 82.0, 15.0, 651.6),
        ] {
            close(millimetres(section, aspect, rim), mm, 1e-12);
        }
        // tier L: the diameters in dataset.car90.row/row 1 and row 2
        close(millimetres(195.0, 60.0, 14.0), 589.6, 1e-12);
        close(millimetres(195.0, 65.0, 14.0), 609.1, 1e-12);
        // physics: 215/75R15 is 703 mm
        close(millimetres(215.0, 75.0, 15.0), 703.0, 1e-3);
    }

    #[test]
    fn turns_per_mile_against_real_cars() {
        // tier L: dataset.car90.row/row 1 and 2: geometric engine turns per mile, the published ones, and their ratio
        for (mm, ratio, geometric, published, factor) in [
            (589.6, 3.26, 2_832.429_687_64, 2935.0, 0.965_052_704_478),
            (609.1, 3.02, 2_539.904_315_42, 2625.0, 0.967_582_596_35),
        ] {
            let hard = revolutions_per_length(Length::new::<millimeter>(mm));
            close(hard.map(|r| r.get::<per_mile>() * ratio), geometric, 1e-9);
            close(per_mile_of(mm, factor).map(|r| r * ratio), published, 1e-9);
            // the constant is good to 1 % on a single car
            close(per_mile_of(mm, ROLLING_FACTOR_RADIAL).map(|r| r * ratio), published, 0.01);
        }
        // common practice: 716 mm turns 741 times, 703 mm 755 times a mile
        close(per_mile_of(716.0, ROLLING_FACTOR_RADIAL), 741.0, 0.006);
        close(per_mile_of(703.0, ROLLING_FACTOR_RADIAL), 755.0, 0.006);
        // B.2 and C.2 WHL-02, bias tyres: 655 mm 810 times, 729 mm 728 times. The notes reckon with one factor of 0.965
        // for all tyres, so the bias factor comes 1.4 % higher
        close(per_mile_of(655.0, ROLLING_FACTOR_BIAS), 810.0, 0.015);
        close(per_mile_of(729.0, ROLLING_FACTOR_BIAS), 728.0, 0.015);
    }

    #[test]
    fn rim_diameters_in_whole_millimetres() {
        // arithmetic of the definition
        for (code, mm) in [(10.0, 254.0), (15.0, 381.0), (18.0, 457.0)] {
            close(nominal_rim_diameter(code).map(|d| d.get::<millimeter>()), mm, 1e-12);
        }
        refuses(nominal_rim_diameter(390.0), "rim code");
        refuses(nominal_rim_diameter(f64::NAN), "rim code");
    }

    #[test]
    fn a_mile_is_longer_than_a_kilometre() {
        // definition: 1.609344 km to the mile
        let turns = revolutions_per_length(Length::new::<millimeter>(733.5));
        let ratio = turns.map(|t| t.get::<per_mile>() / t.get::<per_kilometer>());
        close(ratio, 1.609_344, 1e-12);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(metric_diameter(bad, 75.0, 15.0), "tyre section width");
            refuses(metric_diameter(215.0, bad, 15.0), "tyre aspect ratio");
            refuses(metric_diameter(215.0, 75.0, bad), "rim code");
            refuses(revolutions_per_length(Length::new::<meter>(bad)), "tyre diameter");
            refuses(per_mile_of(703.0, bad), "rolling factor");
        }
        refuses(metric_diameter(190.0, 65.0, 390.0), "rim code");
    }

    proptest! {
        #[test]
        fn diameter_rises_with_each_part_of_the_code(
            section in 50.0..600.0, aspect in 20.0..100.0, rim in 4.0..30.0, more in 1.0..9.0,
        ) {
            let base = millimetres(section, aspect, rim).unwrap_or(f64::NAN);
            prop_assert!(base > 25.4 * rim);
            for bigger in [
                millimetres(section + more, aspect, rim),
                millimetres(section, aspect + more, rim),
                millimetres(section, aspect, rim + more),
            ] {
                prop_assert!(bigger.unwrap_or(f64::NAN) > base);
            }
        }

        #[test]
        fn turns_fall_as_the_tyre_grows(mm in 101.0..2000.0, factor in 1.001_f64..1.4) {
            let (small, big) = (per_mile_of(mm, 0.97), per_mile_of(mm * factor, 0.97));
            prop_assert!((small.unwrap_or(f64::NAN) / big.unwrap_or(f64::NAN) - factor).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sound(millimetres(a, b, c)) && sound(per_mile_of(a, b)));
        }
    }
}
