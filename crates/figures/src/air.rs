//! Air at an altitude: pressure, temperature and density below 11 km (US Standard Atmosphere 1976).

use uom::si::f64::{Length, MassDensity, Pressure, ThermodynamicTemperature};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

use crate::error::FigureError;
use crate::range::Range;

/// From the shore of the deepest lake that has a road to the top of the lowest layer of the standard atmosphere.
const ALTITUDE: Range = Range::new(-500.0, 11_000.0, "m");

const SEA_LEVEL_PRESSURE: f64 = 101_325.0;
const SEA_LEVEL_TEMPERATURE: f64 = 288.15;
/// K for each metre of geopotential height.
const LAPSE: f64 = 0.006_5;
/// J/(kg·K), gas constant of the standard over the molar mass of dry air.
const GAS_CONSTANT: f64 = 8_314.32 / 28.964_4;
/// m, earth radius of the standard.
const EARTH_RADIUS: f64 = 6_356_766.0;
const GRAVITY: f64 = 9.806_65;

/// Still air of a standard day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Absolute pressure.
    pub pressure: Pressure,
    /// Temperature.
    pub temperature: ThermodynamicTemperature,
    /// Density.
    pub density: MassDensity,
    /// Density over that at sea level.
    pub density_ratio: f64,
}

/// Air of a standard day at an altitude.
///
/// `T = 288.15 K - 6.5 K/km H`, `p = 101,325 Pa (T / 288.15 K)^5.2559`, `H` being the height corrected for the pull of the
/// earth, `r z / (r + z)`.
///
/// * `altitude`: over the sea, -500 to 11,000 m.
///
/// An engine takes in less by the density ratio, and gives about as much less power; a cap keeps its pressure over that
/// of this air.
///
/// # Errors
/// [`FigureError`] if the altitude is out of its range.
///
/// Source: US Standard Atmosphere 1976, lowest layer; the same as ISO 2533.
pub fn standard_air(altitude: Length) -> Result<Air, FigureError> {
    let z = ALTITUDE.check("altitude", altitude.get::<meter>())?;
    let height = EARTH_RADIUS * z / (EARTH_RADIUS + z);
    let temperature = SEA_LEVEL_TEMPERATURE - LAPSE * height;
    let exponent = GRAVITY / (LAPSE * GAS_CONSTANT);
    let pressure = SEA_LEVEL_PRESSURE * (temperature / SEA_LEVEL_TEMPERATURE).powf(exponent);
    let density = pressure / (GAS_CONSTANT * temperature);
    let at_sea_level = SEA_LEVEL_PRESSURE / (GAS_CONSTANT * SEA_LEVEL_TEMPERATURE);
    Ok(Air {
        pressure: Pressure::new::<pascal>(pressure),
        temperature: ThermodynamicTemperature::new::<kelvin>(temperature),
        density: MassDensity::new::<kilogram_per_cubic_meter>(density),
        density_ratio: density / at_sea_level,
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{close, refuses};

    fn at(metres: f64) -> Result<Air, FigureError> {
        standard_air(Length::new::<meter>(metres))
    }

    #[test]
    fn air_against_the_standard() {
        // by a general-purpose library: 0, 1000, 1609.344, 2500 m; 500 and 3,000 m: fluids 1.3.1,
        // ATMOSPHERE_1976
        for (metres, pressure, temperature, density) in [
            (0.0, 101_325.0, 288.15, 1.224_999_155_89),
            (500.0, 95_461.289_496_945_06, 284.900_255_613_026_1, 1.167_272_512_324_385_4),
            (1_000.0, 89_876.285_187_3, 281.651_022_372, 1.111_658_985_06),
            (1_609.344, 83_431.769_068_8, 277.691_911_677, 1.046_660_954_17),
            (2_500.0, 74_691.756_467, 271.906_388_316, 0.956_954_000_242),
            (3_000.0, 70_121.162_236_429_98, 268.659_198_451_641_15, 0.909_253_940_845_147_9),
        ] {
            close(at(metres).map(|a| a.pressure.get::<pascal>()), pressure, 1e-6);
            close(at(metres).map(|a| a.temperature.get::<kelvin>()), temperature, 1e-8);
            close(at(metres).map(|a| a.density.get::<kilogram_per_cubic_meter>()), density, 2e-6);
        }
        // tier L, the ratio of densities: 1000, 1609.344 and 2500 m
        for (metres, ratio) in
            [(1_000.0, 0.907_476_722_495), (1_609.344, 0.854_417_105_448), (2_500.0, 0.781_186_938_973)]
        {
            close(at(metres).map(|a| a.density_ratio), ratio, 2e-6);
        }
    }

    #[test]
    fn refuses_an_altitude_that_is_none() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, -501.0, 11_001.0, 36_000.0] {
            refuses(at(bad), "altitude");
        }
    }

    proptest! {
        #[test]
        fn higher_air_is_thinner_and_colder(metres in -499.0..10_900.0, more in 1.0..90.0) {
            let (low, high) = (at(metres), at(metres + more));
            prop_assert!(low.is_ok() && high.is_ok());
            if let (Ok(low), Ok(high)) = (low, high) {
                prop_assert!(high.pressure < low.pressure && high.temperature < low.temperature);
                prop_assert!(high.density < low.density && high.density_ratio < low.density_ratio);
            }
        }
    }
}
