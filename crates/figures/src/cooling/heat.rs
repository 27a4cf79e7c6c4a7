//! Heat the coolant must take from an engine, and the flow that carries it (energy balance; Heywood).

use uom::si::available_energy::joule_per_kilogram;
use uom::si::f64::{
    AvailableEnergy, MassDensity, MassPerEnergy, Power, SpecificHeatCapacity, TemperatureInterval, VolumeRate,
};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::mass_per_energy::{gram_per_kilowatt_hour, kilogram_per_joule};
use uom::si::power::{kilowatt, watt};
use uom::si::specific_heat_capacity::joule_per_kilogram_kelvin;
use uom::si::temperature_interval::kelvin;
use uom::si::volume_rate::{cubic_meter_per_hour, cubic_meter_per_second};

use crate::error::FigureError;
use crate::range::Range;

/// Share of the heat of the fuel that goes into the coolant at full load: 0.30, the rule of thirds, +/- a fifth.
pub const COOLANT_SHARE: f64 = 0.30;

/// Lower heating value of petrol, J/kg: 43.4 MJ/kg, common practice.
pub const PETROL_HEATING_VALUE: f64 = 43.4e6;

/// Density in kg/m3 and heat capacity in J/(kg·K) of water with ethylene glycol at 90 C, by share of volume.
///
/// Source: ASHRAE data of secondary coolants as fitted in CoolProp 8.0.0 (AEG); pure water IAPWS.
const AT_90_C: [(f64, f64, f64); 5] = [
    (0.0, 965.3, 4_205.0),
    (0.1, 979.16, 4_094.2),
    (0.3, 1_007.09, 3_843.8),
    (0.5, 1_030.95, 3_551.0),
    (0.6, 1_041.65, 3_389.1),
];

const POWER: Range = Range::new(0.1, 5_000.0, "kW");
const CONSUMPTION: Range = Range::new(50.0, 5_000.0, "g/kWh");
const HEATING_VALUE: Range = Range::new(5e6, 2e8, "J/kg");
const SHARE: Range = Range::new(0.05, 0.6, "");
const FLOW: Range = Range::new(0.001, 1_000.0, "m3/h");
const SPREAD: Range = Range::new(0.1, 100.0, "K");
const HEAT: Range = Range::new(0.01, 10_000.0, "kW");
const GLYCOL: Range = Range::new(0.0, 0.6, "");

/// Heat an engine gives to its coolant: `power * consumption * heating value * share`.
///
/// * `power`: at the flywheel, 0.1 to 5,000 kW.
/// * `consumption`: brake specific, 50 to 5,000 g/kWh; about 300 on petrol at full load.
/// * `heating_value`: 5 to 200 MJ/kg, see [`PETROL_HEATING_VALUE`].
/// * `share`: 0.05 to 0.6, see [`COOLANT_SHARE`].
///
/// The trade counts 0.8 to 1.1 kW for each kW at the flywheel, which is a share of 0.22 to 0.3 at 300 g/kWh; the rule of
/// thirds is on the safe side.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: energy balance, Heywood, Internal Combustion Engine Fundamentals, ch. 12; the share is common practice.
pub fn heat_to_reject(
    power: Power,
    consumption: MassPerEnergy,
    heating_value: AvailableEnergy,
    share: f64,
) -> Result<Power, FigureError> {
    POWER.check("engine power", power.get::<kilowatt>())?;
    CONSUMPTION.check("specific fuel consumption", consumption.get::<gram_per_kilowatt_hour>())?;
    let heating = HEATING_VALUE.check("heating value", heating_value.get::<joule_per_kilogram>())?;
    let share = SHARE.check("share of the heat to the coolant", share)?;
    let fuel = power.get::<watt>() * consumption.get::<kilogram_per_joule>();
    Ok(Power::new::<watt>(fuel * heating * share))
}

/// Density and heat capacity of coolant at 90 C, by straight lines.
///
/// * `glycol_share`: by volume, 0 to 0.6.
///
/// # Errors
/// [`FigureError`] if the share is out of its range.
///
/// Source: ASHRAE secondary coolant data (CoolProp 8.0.0, AEG).
pub fn coolant_at_90_c(glycol_share: f64) -> Result<(MassDensity, SpecificHeatCapacity), FigureError> {
    let share = GLYCOL.check("glycol share", glycol_share)?;
    let (mut density, mut heat) = (0.0, 0.0);
    for pair in AT_90_C.windows(2) {
        let [low, high] = pair else { continue };
        if share >= low.0 {
            let at = ((share - low.0) / (high.0 - low.0)).min(1.0);
            density = low.1 + at * (high.1 - low.1);
            heat = low.2 + at * (high.2 - low.2);
        }
    }
    Ok((
        MassDensity::new::<kilogram_per_cubic_meter>(density),
        SpecificHeatCapacity::new::<joule_per_kilogram_kelvin>(heat),
    ))
}

/// Heat a flow of coolant carries: `rho V cp dT`.
///
/// * `flow`: 0.001 to 1,000 m3/h.
/// * `spread`: between hot and cold side, 0.1 to 100 K; 6 to 10 K at full load (common practice).
/// * `glycol_share`: by volume, 0 to 0.6.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: energy balance with [`coolant_at_90_c`].
pub fn heat_carried(
    flow: VolumeRate,
    spread: TemperatureInterval,
    glycol_share: f64,
) -> Result<Power, FigureError> {
    FLOW.check("coolant flow", flow.get::<cubic_meter_per_hour>())?;
    let spread = SPREAD.check("temperature spread", spread.get::<kelvin>())?;
    Ok(Power::new::<watt>(flow.get::<cubic_meter_per_second>() * per_kelvin(glycol_share)? * spread))
}

/// Flow of coolant that carries a heat at a spread, the inverse of [`heat_carried`].
///
/// * `heat`: 0.01 to 10,000 kW.
/// * `spread`: 0.1 to 100 K.
/// * `glycol_share`: by volume, 0 to 0.6.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: energy balance with [`coolant_at_90_c`].
pub fn flow_for(
    heat: Power,
    spread: TemperatureInterval,
    glycol_share: f64,
) -> Result<VolumeRate, FigureError> {
    HEAT.check("heat", heat.get::<kilowatt>())?;
    let spread = SPREAD.check("temperature spread", spread.get::<kelvin>())?;
    Ok(VolumeRate::new::<cubic_meter_per_second>(heat.get::<watt>() / (per_kelvin(glycol_share)? * spread)))
}

/// J/(m3·K) of coolant at 90 C.
fn per_kelvin(glycol_share: f64) -> Result<f64, FigureError> {
    let (density, heat) = coolant_at_90_c(glycol_share)?;
    Ok(density.get::<kilogram_per_cubic_meter>() * heat.get::<joule_per_kilogram_kelvin>())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn rejected(kw: f64, kg_per_joule: f64, heating: f64, share: f64) -> Result<f64, FigureError> {
        let consumption = MassPerEnergy::new::<kilogram_per_joule>(kg_per_joule);
        let heating = AvailableEnergy::new::<joule_per_kilogram>(heating);
        heat_to_reject(Power::new::<kilowatt>(kw), consumption, heating, share).map(|p| p.get::<kilowatt>())
    }

    /// kW from L/min
    fn carried(litres: f64, spread: f64, share: f64) -> Result<f64, FigureError> {
        let flow = VolumeRate::new::<cubic_meter_per_second>(litres / 60e3);
        heat_carried(flow, TemperatureInterval::new::<kelvin>(spread), share).map(|p| p.get::<kilowatt>())
    }

    /// L/min from kW
    fn flow(kw: f64, spread: f64, share: f64) -> Result<f64, FigureError> {
        flow_for(Power::new::<kilowatt>(kw), TemperatureInterval::new::<kelvin>(spread), share)
            .map(|q| q.get::<cubic_meter_per_second>() * 60e3)
    }

    #[test]
    fn heat_of_an_engine() {
        // energy balance by hand: 0.5 lb/hp·h is 304.14 g/kWh; 60 kW * 304.14 g/kWh = 18.248 kg/h, of 43.4 MJ/kg
        // = 220.0 kW of fuel, a quarter of it 55.0 kW; common practice: a 60 kW engine rejects 45 to 55 kW flat out
        let found = rejected(60.0, 8.448_297_053_36e-8, PETROL_HEATING_VALUE, 0.25);
        close(found, 55.0, 1e-3);
    }

    #[test]
    fn coolant_against_the_properties_library() {
        // by a general-purpose library: 100 L/min, dT 6 K, 50/50 at 90 degC
        close(carried(100.0, 6.0, 0.5), 36.609_011_721_7, 1e-5);
        // CoolProp 8.0.0, water and AEG at 90 C: density, heat capacity
        for (share, density, heat) in [
            (0.0, 965.309_590, 4_205.205_606),
            (0.1, 979.160_082, 4_094.185_546),
            (0.3, 1_007.087_996, 3_843.841_296),
            (0.6, 1_041.649_204, 3_389.108_051),
        ] {
            let found = coolant_at_90_c(share);
            close(found.map(|f| f.0.get::<kilogram_per_cubic_meter>()), density, 1e-4);
            close(found.map(|f| f.1.get::<joule_per_kilogram_kelvin>()), heat, 1e-4);
        }
        // half glycol holds 15 % less heat than water, mass for mass
        let ratio = coolant_at_90_c(0.5).map(|f| f.1.get::<joule_per_kilogram_kelvin>() / 4_205.0);
        close(ratio, 0.845, 2e-3);
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(rejected(bad, 8.4e-8, 43e6, 0.3), "engine power");
            refuses(rejected(60.0, 8.4e-8, bad, 0.3), "heating value");
            refuses(rejected(60.0, 8.4e-8, 43e6, bad), "share of the heat to the coolant");
            refuses(carried(bad, 6.0, 0.5), "coolant flow");
            refuses(carried(100.0, bad, 0.5), "temperature spread");
            refuses(flow(bad, 6.0, 0.5), "heat");
            refuses(flow(40.0, bad, 0.5), "temperature spread");
        }
        for bad in [f64::NAN, f64::INFINITY, 0.0, -8.4e-8, 1.0] {
            refuses(rejected(60.0, bad, 43e6, 0.3), "specific fuel consumption");
        }
        for bad in [f64::NAN, f64::INFINITY, -0.1, 0.61, 50.0] {
            refuses(carried(100.0, 6.0, bad), "glycol share");
            refuses(coolant_at_90_c(bad), "glycol share");
        }
    }

    proptest! {
        #[test]
        fn flow_and_heat_undo_each_other(kw in 1.0..300.0, spread in 1.0..30.0, share in 0.0..0.6) {
            let back = flow(kw, spread, share).and_then(|l| carried(l, spread, share)).unwrap_or(f64::NAN);
            prop_assert!((back / kw - 1.0).abs() < 1e-9);
        }

        #[test]
        fn more_glycol_carries_less(share in 0.0..0.59, more in 0.001..0.01) {
            let at = |s| carried(100.0, 6.0, s).unwrap_or(f64::NAN);
            prop_assert!(at(share + more) < at(share));
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
            prop_assert!(sound(rejected(a, b, c, d)) && sound(carried(a, b, c)) && sound(flow(a, b, c)));
        }
    }
}
