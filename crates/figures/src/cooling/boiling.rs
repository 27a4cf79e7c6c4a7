//! Boiling point of water and of glycol coolant under a cap (IAPWS-IF97; Raoult's law).

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};
use uom::si::pressure::{kilopascal, pascal};
use uom::si::thermodynamic_temperature::kelvin;

use crate::air::standard_air;
use crate::error::FigureError;
use crate::range::Range;

/// Density of ethylene glycol and of water at 20 C, kg/m3, at which a mixture is measured out.
///
/// Source: reference equations of state (water) and Landolt-Börnstein IV/8 (glycol), as in a properties library.
const DENSITY_GLYCOL_WATER: (f64, f64) = (1_113.37, 998.21);
/// Molar mass of ethylene glycol and of water, g/mol.
const MOLAR_GLYCOL_WATER: (f64, f64) = (62.067_84, 18.015_28);

const PRESSURE: Range = Range::new(10.0, 1_000.0, "kPa");
const CAP: Range = Range::new(0.0, 250.0, "kPa");
const SHARE: Range = Range::new(0.0, 0.9, "");

/// Saturation line of water, region 4 of IAPWS-IF97, n1 to n10.
const N: [f64; 10] = [
    0.116_705_214_527_67e4,
    -0.724_213_167_032_06e6,
    -0.170_738_469_400_92e2,
    0.120_208_247_024_70e5,
    -0.323_255_503_223_33e7,
    0.149_151_086_135_30e2,
    -0.482_326_573_615_91e4,
    0.405_113_405_420_57e6,
    -0.238_555_575_678_49,
    0.650_175_348_447_98e3,
];

/// Vapour pressure of water, Pa, from a temperature in K.
fn water_pressure(t: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = N;
    let theta = t + n9 / (t - n10);
    let a = theta * theta + n1 * theta + n2;
    let b = n3 * theta * theta + n4 * theta + n5;
    let c = n6 * theta * theta + n7 * theta + n8;
    1e6 * (2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt())).powi(4)
}

/// Boiling point of water, K, from a pressure in Pa.
fn water_temperature(p: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = N;
    let beta = (p / 1e6).powf(0.25);
    let e = beta * beta + n3 * beta + n6;
    let f = n1 * beta * beta + n4 * beta + n7;
    let g = n2 * beta * beta + n5 * beta + n8;
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    f64::midpoint(n10 + d, -((n10 + d).powi(2) - 4.0 * (n9 + n10 * d)).sqrt())
}

/// Vapour pressure of ethylene glycol, Pa, from a temperature in K: Antoine's equation, 50 to 200 C.
fn glycol_pressure(t: f64) -> f64 {
    133.322_368 * 10_f64.powf(8.794_5 - 2_615.4 / (244.91 + t - 273.15))
}

/// Boiling point of water.
///
/// * `pressure`: absolute, 10 to 1,000 kPa.
///
/// # Errors
/// [`FigureError`] if the pressure is out of its range.
///
/// Source: IAPWS-IF97, region 4.
pub fn water_boiling(pressure: Pressure) -> Result<ThermodynamicTemperature, FigureError> {
    PRESSURE.check("absolute pressure", pressure.get::<kilopascal>())?;
    Ok(ThermodynamicTemperature::new::<kelvin>(water_temperature(pressure.get::<pascal>())))
}

/// Boiling point of a mixture of water and ethylene glycol.
///
/// * `glycol_share`: by volume as measured out at 20 C, 0 to 0.9.
/// * `pressure`: absolute, 10 to 1,000 kPa.
///
/// The temperature at which the shares of both vapours make up the pressure, `xw pw + xg pg = p`. Inhibitors (3 to 5 % of
/// a coolant) shift it by less than 1 K. A mixture of half and half boils 8 K over water; the cap does more.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: Raoult's law; water IAPWS-IF97, glycol Antoine's equation (constants from memory, held to the normal boiling
/// point of 197.2 C and to three activity models within 0.5 K).
pub fn coolant_boiling(
    glycol_share: f64,
    pressure: Pressure,
) -> Result<ThermodynamicTemperature, FigureError> {
    PRESSURE.check("absolute pressure", pressure.get::<kilopascal>())?;
    let glycol = glycol_fraction(glycol_share)?;
    let p = pressure.get::<pascal>();
    // pure water boils below the mixture, pure glycol at 280 C at the highest pressure
    let (mut low, mut high) = (water_temperature(p), 600.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let vapour = (1.0 - glycol) * water_pressure(middle) + glycol * glycol_pressure(middle);
        if vapour < p { low = middle } else { high = middle }
    }
    Ok(ThermodynamicTemperature::new::<kelvin>(f64::midpoint(low, high)))
}

/// Share of the molecules that is glycol, from the share by volume, 0 to 0.9.
fn glycol_fraction(share: f64) -> Result<f64, FigureError> {
    let share = SHARE.check("glycol share", share)?;
    let glycol = share * DENSITY_GLYCOL_WATER.0 / MOLAR_GLYCOL_WATER.0;
    let water = (1.0 - share) * DENSITY_GLYCOL_WATER.1 / MOLAR_GLYCOL_WATER.1;
    Ok(glycol / (glycol + water))
}

/// Boiling point of coolant under a cap at an altitude.
///
/// * `glycol_share`: by volume, 0 to 0.9.
/// * `cap`: opening pressure over that of the air, 0 to 250 kPa; 0 for an open system. It must not be above what the
///   weakest of radiator, heater and hoses bears: 4 to 7 psi for an old soldered radiator (common practice).
/// * `altitude`: -500 to 11,000 m; thin air takes off what the cap gives.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: [`coolant_boiling`] and [`standard_air`].
pub fn boiling_under_cap(
    glycol_share: f64,
    cap: Pressure,
    altitude: Length,
) -> Result<ThermodynamicTemperature, FigureError> {
    CAP.check("cap pressure", cap.get::<kilopascal>())?;
    let outside = standard_air(altitude)?.pressure;
    if glycol_share == 0.0 {
        water_boiling(outside + cap)
    } else {
        coolant_boiling(glycol_share, outside + cap)
    }
}

/// Whether a cap is weak enough for what it seals.
///
/// * `cap`: 0 to 250 kPa.
/// * `weakest`: rated pressure of the weakest part, 0 to 1,000 kPa.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice: the cap is the fuse of the system.
pub fn cap_suits(cap: Pressure, weakest: Pressure) -> Result<bool, FigureError> {
    let cap = CAP.check("cap pressure", cap.get::<kilopascal>())?;
    let weakest = Range::new(0.0, 1_000.0, "kPa").check("rated pressure", weakest.get::<kilopascal>())?;
    // the same pressure in two units may differ in the last digits
    Ok(cap <= weakest * (1.0 + 1e-6))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::length::meter;
    use uom::si::thermodynamic_temperature::degree_celsius;

    use super::*;
    use crate::testing::{REFUSED, close, refuses};

    const PSI: f64 = 6_894.757_293_168;

    /// C
    fn under(share: f64, cap_psi: f64, altitude: f64) -> Result<f64, FigureError> {
        let (cap, altitude) = (Pressure::new::<pascal>(cap_psi * PSI), Length::new::<meter>(altitude));
        boiling_under_cap(share, cap, altitude).map(|t| t.get::<degree_celsius>())
    }

    #[track_caller]
    fn near(found: Result<f64, FigureError>, expected: f64, within: f64) {
        assert!(found.is_ok_and(|f| (f - expected).abs() <= within), "{found:?} against {expected}");
    }

    #[test]
    fn check_values_of_the_formulation() {
        // IAPWS-IF97, tables 35 and 36 (release R7-97): Pa from K and K from MPa
        for (t, p) in [(300.0, 0.353_658_941e4), (500.0, 0.263_889_776e7), (600.0, 0.123_443_146e8)] {
            close(Ok(water_pressure(t)), p, 2e-9);
        }
        for (mpa, t) in [(0.1, 0.372_755_919e3), (1.0, 0.453_035_632e3), (10.0, 0.584_149_488e3)] {
            close(Ok(water_temperature(mpa * 1e6)), t, 2e-9);
        }
    }

    #[test]
    fn water_under_a_cap() {
        // by a general-purpose library: cap 0, 7, 13, 15, 16 psi; 4, 10, 20 psi: CoolProp 8.0.0
        for (cap, celsius) in [
            (0.0, 99.974_296),
            (4.0, 106.861_555),
            (7.0, 111.266_920),
            (10.0, 115.197_080),
            (13.0, 118.753_577),
            (15.0, 120.953_138),
            (16.0, 122.007_856),
            (20.0, 125.965_223),
        ] {
            near(under(0.0, cap, 0.0), celsius, 0.005);
        }
        // tier L: cooling.water_boiling_altitude/1609.344 m, cap 0 psi and 2500 m, cap 7 psi
        near(under(0.0, 0.0, 1_609.344), 94.619_953, 0.005);
        near(under(0.0, 7.0, 2_500.0), 105.486_893, 0.005);
    }

    #[test]
    fn half_and_half_under_a_cap() {
        // tier L: cooling.glycol50_boiling/cap 0, 13, 16 psi: Raoult, and the mean of two activity models
        for (cap, raoult, unifac, dortmund) in [
            (0.0, 107.803_633, 107.638_656, 107.931_775),
            (13.0, 127.440_461, 127.119_278, 127.530_548),
            (16.0, 130.845_771, 130.495_858, 130.930_081),
        ] {
            near(under(0.5, cap, 0.0), raoult, 0.02);
            near(under(0.5, cap, 0.0), f64::midpoint(unifac, dortmund), 0.2);
        }
        // common practice: 107 C open, 118 C at 7 psi, 130 C at 15 psi
        for (cap, celsius) in [(0.0, 107.0), (7.0, 118.0), (15.0, 130.0)] {
            near(under(0.5, cap, 0.0), celsius, 2.0);
        }
        // a third and 60 %: CoolProp 8.0.0 water with the same glycol, bubble point by another solver (scipy brentq)
        for (share, cap, celsius) in [
            (0.25, 0.0, 102.802),
            (0.25, 15.0, 124.133),
            (0.33, 7.0, 115.633),
            (0.6, 0.0, 111.091),
            (0.6, 15.0, 133.436),
            (0.7, 7.0, 128.251),
        ] {
            near(under(share, cap, 0.0), celsius, 0.01);
        }
    }

    #[test]
    fn half_by_volume_is_a_quarter_of_the_molecules() {
        // tier L: cooling.glycol50_composition/50 % v/v at 20 degC
        close(glycol_fraction(0.5), 0.244_563_523_387, 1e-4);
        // chemicals 1.5.2: pure glycol boils at 197.16 C; Perry's equation gives 5,659.5 Pa at 120 C and 13,607 at 140
        close(Ok(glycol_pressure(197.163_5 + 273.15)), 101_325.0, 6e-3);
        close(Ok(glycol_pressure(120.0 + 273.15)), 5_659.492_5, 3e-3);
        close(Ok(glycol_pressure(140.0 + 273.15)), 13_607.179_9, 0.025);
    }

    #[test]
    fn caps_against_the_weakest_part() {
        // common practice: 13 psi against a heater rated 7 psi is a clash, 7 psi is none
        let suits = |cap: f64, weakest: f64| {
            cap_suits(Pressure::new::<pascal>(cap * PSI), Pressure::new::<pascal>(weakest * PSI))
        };
        assert_eq!(suits(13.0, 7.0), Ok(false));
        assert_eq!(suits(7.0, 7.0), Ok(true));
        refuses(suits(f64::NAN, 7.0), "cap pressure");
        refuses(suits(7.0, f64::INFINITY), "rated pressure");
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(water_boiling(Pressure::new::<pascal>(bad)), "absolute pressure");
            refuses(coolant_boiling(0.5, Pressure::new::<pascal>(bad)), "absolute pressure");
        }
        for bad in [f64::NAN, f64::INFINITY, -0.1, 0.91, 50.0] {
            refuses(under(bad, 7.0, 0.0), "glycol share");
        }
        for bad in [f64::NAN, f64::INFINITY, -0.1, 50.0] {
            refuses(under(0.5, bad, 0.0), "cap pressure");
        }
        refuses(under(0.5, 7.0, f64::NAN), "altitude");
        refuses(under(0.5, 7.0, 12_000.0), "altitude");
    }

    proptest! {
        #[test]
        fn pressure_and_temperature_undo_each_other(p in 1e4..1e6) {
            prop_assert!((water_pressure(water_temperature(p)) / p - 1.0).abs() < 1e-6);
        }

        #[test]
        fn more_cap_and_more_glycol_boil_later_and_height_sooner(
            share in 0.0..0.85, cap in 0.0..20.0, altitude in 0.0..4_000.0,
        ) {
            let base = under(share, cap, altitude).unwrap_or(f64::NAN);
            prop_assert!(under(share, cap + 1.0, altitude).unwrap_or(f64::NAN) > base);
            prop_assert!(under(share + 0.01, cap, altitude).unwrap_or(f64::NAN) > base);
            prop_assert!(under(share, cap, altitude + 100.0).unwrap_or(f64::NAN) < base);
        }

        #[test]
        fn no_glycol_is_water(p in 2e4..9e5) {
            let p = Pressure::new::<pascal>(p);
            let (mixture, water) = (coolant_boiling(0.0, p), water_boiling(p));
            let off = mixture.unwrap_or_default().get::<kelvin>() - water.unwrap_or_default().get::<kelvin>();
            prop_assert!(off.abs() < 1e-5);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(under(a, b, c).map_or(true, |t| (30.0..300.0).contains(&t)));
        }
    }
}
