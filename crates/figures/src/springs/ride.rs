//! Ride frequency and ride height on springs: deflection under load, blocks, shackles, other springs.

use std::f64::consts::PI;

use uom::si::f64::{Force, Frequency, Length, Mass};
use uom::si::force::newton;
use uom::si::frequency::hertz;
use uom::si::length::{meter, millimeter};
use uom::si::mass::kilogram;
use uom::si::surface_tension::{kilonewton_per_meter as newton_per_millimeter, newton_per_meter};

use super::leaf::SpringRate;
use crate::error::FigureError;
use crate::gearing::STANDARD_GRAVITY;
use crate::range::Range;

const RATE: Range = Range::new(0.5, 5_000.0, "N/mm");
const MASS: Range = Range::new(1.0, 20_000.0, "kg");
const DEFLECTION: Range = Range::new(0.5, 1_000.0, "mm");
const ARCH: Range = Range::new(-300.0, 600.0, "mm");
const FORCE: Range = Range::new(1.0, 200_000.0, "N");
const SHACKLE: Range = Range::new(-200.0, 300.0, "mm");
const ARM: Range = Range::new(50.0, 2_000.0, "mm");

/// A leaf pack as it matters for the height it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PackAtLoad {
    /// Height of the unloaded pack's eyes over its seat, -300 to 600 mm.
    pub free_arch: Length,
    /// Rate, 0.5 to 5,000 N/mm.
    pub rate: SpringRate,
}

/// Deflection of a spring under the mass it carries: `m g / rate`.
///
/// * `rate`: 0.5 to 5,000 N/mm.
/// * `sprung_mass`: on this spring, 1 to 20,000 kg.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the rate, standard gravity.
pub fn static_deflection(rate: SpringRate, sprung_mass: Mass) -> Result<Length, FigureError> {
    let kg = MASS.check("sprung mass", sprung_mass.get::<kilogram>())?;
    Ok(Length::new::<meter>(kg * STANDARD_GRAVITY / newtons_per_metre(rate)?))
}

/// Ride frequency by the static deflection: `sqrt(g / deflection) / (2 pi)`.
///
/// * `deflection`: of the springs under the vehicle, 0.5 to 1,000 mm.
///
/// 1 to 1.5 Hz is a comfortable car, 1.5 to 2 a light truck, common practice.
///
/// # Errors
/// [`FigureError`] if the deflection is out of its range.
///
/// Source: mass on a linear spring.
pub fn ride_frequency(deflection: Length) -> Result<Frequency, FigureError> {
    DEFLECTION.check("static deflection", deflection.get::<millimeter>())?;
    Ok(Frequency::new::<hertz>((STANDARD_GRAVITY / deflection.get::<meter>()).sqrt() / (2.0 * PI)))
}

/// Ride frequency by rate and mass: `sqrt(rate / m) / (2 pi)`.
///
/// * `rate`: at the wheel, 0.5 to 5,000 N/mm.
/// * `sprung_mass`: on it, 1 to 20,000 kg; a mass, not a weight.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: mass on a linear spring.
pub fn ride_frequency_of(rate: SpringRate, sprung_mass: Mass) -> Result<Frequency, FigureError> {
    let kg = MASS.check("sprung mass", sprung_mass.get::<kilogram>())?;
    Ok(Frequency::new::<hertz>((newtons_per_metre(rate)? / kg).sqrt() / (2.0 * PI)))
}

/// How much higher a vehicle stands on other springs: `(arch + load / rate)` of old and new:
/// `(new arch - old arch) + load (1/old rate - 1/new rate)`.
///
/// * `old`, `new`: within the ranges of [`PackAtLoad`].
/// * `load`: on one spring, 1 to 200,000 N.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: linear springs.
pub fn ride_height_change(old: PackAtLoad, new: PackAtLoad, load: Force) -> Result<Length, FigureError> {
    ARCH.check("free arch of the old spring", old.free_arch.get::<millimeter>())?;
    ARCH.check("free arch of the new spring", new.free_arch.get::<millimeter>())?;
    let newtons = FORCE.check("load on the spring", load.get::<newton>())?;
    let stiffer = 1.0 / newtons_per_metre(old.rate)? - 1.0 / newtons_per_metre(new.rate)?;
    Ok(new.free_arch - old.free_arch + Length::new::<meter>(newtons * stiffer))
}

/// How much higher a longer shackle makes the axle end stand: `longer * arm / span`, about half of it.
///
/// * `longer`: by which the shackle is longer, -200 to 300 mm.
/// * `fixed_arm`: from the fixed eye to the axle, 50 to 2,000 mm.
/// * `shackle_arm`: from the axle to the shackled eye, 50 to 2,000 mm.
///
/// It also turns the axle, see [`crate::steering::shackle_caster_change`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: lever about the fixed eye, shackle near upright.
pub fn shackle_lift(longer: Length, fixed_arm: Length, shackle_arm: Length) -> Result<Length, FigureError> {
    SHACKLE.check("longer shackle", longer.get::<millimeter>())?;
    Ok(longer * share_of_fixed_arm(fixed_arm, shackle_arm)?)
}

/// By how much a shackle must be longer for a lift: the reverse of [`shackle_lift`].
///
/// * `lift`: at the axle, -200 to 300 mm.
/// * `fixed_arm`, `shackle_arm`: 50 to 2,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: lever about the fixed eye.
pub fn longer_shackle(lift: Length, fixed_arm: Length, shackle_arm: Length) -> Result<Length, FigureError> {
    SHACKLE.check("lift by the shackle", lift.get::<millimeter>())?;
    Ok(lift / share_of_fixed_arm(fixed_arm, shackle_arm)?)
}

fn share_of_fixed_arm(fixed_arm: Length, shackle_arm: Length) -> Result<f64, FigureError> {
    let fixed = ARM.check("arm to the fixed eye", fixed_arm.get::<millimeter>())?;
    let shackled = ARM.check("arm to the shackled eye", shackle_arm.get::<millimeter>())?;
    Ok(fixed / (fixed + shackled))
}

fn newtons_per_metre(rate: SpringRate) -> Result<f64, FigureError> {
    RATE.check("spring rate", rate.get::<newton_per_millimeter>())?;
    Ok(rate.get::<newton_per_meter>())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::frequency::cycle_per_minute;
    use uom::si::mass::pound;
    use uom::si::surface_tension::pound_force_per_inch;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    fn rate(value: f64) -> SpringRate {
        SpringRate::new::<newton_per_millimeter>(value)
    }

    fn frequency(deflection: f64) -> Result<f64, FigureError> {
        ride_frequency(mm(deflection)).map(|f| f.get::<hertz>())
    }

    fn of_mass(k: f64, kg: f64) -> Result<f64, FigureError> {
        ride_frequency_of(rate(k), Mass::new::<kilogram>(kg)).map(|f| f.get::<hertz>())
    }

    fn deflection(k: f64, kg: f64) -> Result<f64, FigureError> {
        static_deflection(rate(k), Mass::new::<kilogram>(kg)).map(|l| l.get::<millimeter>())
    }

    fn higher(old: [f64; 2], new: [f64; 2], newtons: f64) -> Result<f64, FigureError> {
        let pack = |[arch, k]: [f64; 2]| PackAtLoad { free_arch: mm(arch), rate: rate(k) };
        ride_height_change(pack(old), pack(new), Force::new::<newton>(newtons)).map(|l| l.get::<millimeter>())
    }

    fn by_shackle(longer: f64, fixed: f64, shackled: f64) -> Result<f64, FigureError> {
        shackle_lift(mm(longer), mm(fixed), mm(shackled)).map(|l| l.get::<millimeter>())
    }

    #[test]
    fn frequencies_against_the_unit_library() {
        // by a general-purpose library: static deflection ..., Hz and cycles per minute
        for (deflection, hz, cpm) in [
            (50.0, 2.228_925_061_06, 133.735_503_664),
            (100.0, 1.576_088_025_43, 94.565_281_526),
            (150.0, 1.286_870_484_01, 77.212_229_040_5),
            (254.0, 0.988_925_580_967, 59.335_534_858),
        ] {
            close(frequency(deflection), hz, 1e-9);
            close(ride_frequency(mm(deflection)).map(|f| f.get::<cycle_per_minute>()), cpm, 1e-9);
        }
        // tier L: spring.ride_frequency/150 lbf/in, 700 lbf sprung corner; the unit library rounds the pound-force
        let k = SpringRate::new::<pound_force_per_inch>(150.0);
        let found = ride_frequency_of(k, Mass::new::<pound>(700.0));
        close(found.map(|f| f.get::<hertz>()), 1.447_638_819_91, 1e-7);
    }

    #[test]
    fn deflections_by_hand() {
        // arithmetic: 300 kg on 30 N/mm: 2,941.995 N, 98.0665 mm
        close(deflection(30.0, 300.0), 98.066_5, 1e-9);
        // a rear axle of 1,100 kg sprung mass on two springs of 45 N/mm
        close(deflection(45.0, 550.0), 119.859_055_555_6, 1e-9);
    }

    #[test]
    fn heights_by_hand() {
        // arithmetic: 20 mm more arch and 30 to 36 N/mm under 3 kN: 20 + 100 - 83.333
        close(higher([120.0, 30.0], [140.0, 36.0], 3000.0), 36.666_666_666_7, 1e-9);
        // a leaf added to six alike without more arch: 3,000/30 - 3,000/35
        close(higher([120.0, 30.0], [120.0, 35.0], 3000.0), 14.285_714_285_7, 1e-9);
        // common practice: half of what a shackle is longer, axle in the middle
        close(by_shackle(50.0, 600.0, 600.0), 25.0, 1e-12);
        close(by_shackle(50.0, 500.0, 700.0), 20.833_333_333_3, 1e-9);
        close(longer_shackle(mm(25.4), mm(600.0), mm(600.0)).map(|l| l.get::<millimeter>()), 50.8, 1e-12);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(frequency(bad), "static deflection");
            refuses(of_mass(bad, 300.0), "spring rate");
            refuses(of_mass(30.0, bad), "sprung mass");
            refuses(deflection(bad, 300.0), "spring rate");
            refuses(deflection(30.0, bad), "sprung mass");
            refuses(higher([120.0, bad], [140.0, 36.0], 3000.0), "spring rate");
            refuses(higher([120.0, 30.0], [140.0, 36.0], bad), "load on the spring");
            refuses(by_shackle(50.0, bad, 600.0), "arm to the fixed eye");
            refuses(by_shackle(50.0, 600.0, bad), "arm to the shackled eye");
        }
        for bad in [f64::NAN, f64::INFINITY, -1e9, 1e9] {
            refuses(higher([bad, 30.0], [140.0, 36.0], 3000.0), "free arch of the old spring");
            refuses(higher([120.0, 30.0], [bad, 36.0], 3000.0), "free arch of the new spring");
            refuses(by_shackle(bad, 600.0, 600.0), "longer shackle");
            refuses(longer_shackle(mm(bad), mm(600.0), mm(600.0)), "lift by the shackle");
        }
    }

    proptest! {
        #[test]
        fn both_ways_to_the_frequency_agree(k in 5.0..200.0, kg in 50.0..1000.0) {
            let by_deflection = deflection(k, kg).and_then(frequency);
            prop_assume!(by_deflection.is_ok());
            let ratio = by_deflection.unwrap_or(f64::NAN) / of_mass(k, kg).unwrap_or(f64::NAN);
            prop_assert!((ratio - 1.0).abs() < 1e-9);
        }

        #[test]
        fn changing_springs_there_and_back_changes_nothing(
            a in 50.0..200.0, b in 50.0..200.0, k in 10.0..100.0, n in 10.0..100.0, load in 500.0..9000.0,
        ) {
            let (there, back) = (higher([a, k], [b, n], load), higher([b, n], [a, k], load));
            prop_assert!((there.unwrap_or(f64::NAN) + back.unwrap_or(f64::NAN)).abs() < 1e-9);
        }

        #[test]
        fn a_shackle_and_its_lift_undo_each_other(lift in -50.0..100.0, fixed in 300.0..900.0, shackled in 300.0..900.0) {
            let longer = longer_shackle(mm(lift), mm(fixed), mm(shackled)).map(|l| l.get::<millimeter>());
            let back = longer.and_then(|l| by_shackle(l, fixed, shackled));
            prop_assert!(back.map_or(true, |b| (b - lift).abs() < 1e-9));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>()) {
            prop_assert!(sound(frequency(a)) && sound(of_mass(a, b)) && sound(deflection(a, b)));
        }
    }
}
