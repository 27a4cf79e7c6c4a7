//! Air and fuel an engine takes: half the displacement at each turn of a four-stroke (Heywood; Taylor).

use uom::si::f64::{MassDensity, MassPerEnergy, MassRate, Power, Pressure, Volume, VolumeRate};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::mass_per_energy::{gram_per_kilowatt_hour, kilogram_per_joule};
use uom::si::mass_rate::kilogram_per_second;
use uom::si::power::{kilowatt, watt};
use uom::si::pressure::kilopascal;
use uom::si::volume::{cubic_centimeter, cubic_meter};
use uom::si::volume_rate::{cubic_meter_per_hour, cubic_meter_per_second};

use crate::error::FigureError;
use crate::range::{RPM, Range};

const DISPLACEMENT: Range = Range::new(10.0, 100_000.0, "cm3");
const FILLING: Range = Range::new(0.05, 3.0, "");
const AIR_FLOW: Range = Range::new(0.001, 1_000_000.0, "m3/h");
const DEPRESSION: Range = Range::new(0.1, 100.0, "kPa");
const AIR_DENSITY: Range = Range::new(0.1, 10.0, "kg/m3");
const AIR_FUEL: Range = Range::new(1.0, 100.0, "");
const POWER: Range = Range::new(0.01, 10_000.0, "kW");
const CONSUMPTION: Range = Range::new(50.0, 5_000.0, "g/kWh");
const FUEL_DENSITY: Range = Range::new(300.0, 2_000.0, "kg/m3");

/// Air a four-stroke engine draws: `displacement * rpm / 2 * volumetric efficiency`.
///
/// * `displacement`: of all cylinders, 10 to 100,000 cm3.
/// * `rpm`: engine speed, 1 to 100,000 rev/min.
/// * `volumetric_efficiency`: share of the displacement really filled, 0.05 to 3; 0.75 for an old side- or
///   overhead-valve engine, 0.85 for a good one (common practice).
///
/// In cu in and cu ft/min this is `CID rpm VE / 3456`. A two-stroke draws twice as much. Carburettors are rated at a
/// depression, 1.5 or 3.0 inHg, so two ratings compare only at the same one.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of volumetric efficiency, Heywood, Internal Combustion Engine Fundamentals, ch. 2.
pub fn air_flow(
    displacement: Volume,
    rpm: f64,
    volumetric_efficiency: f64,
) -> Result<VolumeRate, FigureError> {
    DISPLACEMENT.check("engine displacement", displacement.get::<cubic_centimeter>())?;
    let rpm = RPM.check("engine speed", rpm)?;
    let filling = FILLING.check("volumetric efficiency", volumetric_efficiency)?;
    let per_second = rpm / 60.0 / 2.0;
    Ok(VolumeRate::new::<cubic_meter_per_second>(displacement.get::<cubic_meter>() * per_second * filling))
}

/// Fuel that goes with a flow of air: `air density * air / ratio`.
///
/// * `air`: 0.001 to 1,000,000 m3/h, see [`air_flow`].
/// * `air_density`: where the flow was taken, 0.1 to 10 kg/m3; 1.225 at sea level and 15 C (ISO 2533).
/// * `air_fuel_ratio`: mass of air for a mass of fuel, 1 to 100; 12.5 at full power on petrol, 14.7 exact burning.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of the air-fuel ratio, Heywood ch. 2.
pub fn fuel_flow(
    air: VolumeRate,
    air_density: MassDensity,
    air_fuel_ratio: f64,
) -> Result<MassRate, FigureError> {
    AIR_FLOW.check("air flow", air.get::<cubic_meter_per_hour>())?;
    let density = AIR_DENSITY.check("air density", air_density.get::<kilogram_per_cubic_meter>())?;
    let ratio = AIR_FUEL.check("air-fuel ratio", air_fuel_ratio)?;
    Ok(MassRate::new::<kilogram_per_second>(density * air.get::<cubic_meter_per_second>() / ratio))
}

/// Fuel a pump must bring for a power: `power * consumption / fuel density`.
///
/// * `power`: at the flywheel, 0.01 to 10,000 kW.
/// * `consumption`: brake specific, 50 to 5,000 g/kWh; about 300 (0.5 lb/hp·h) on petrol at full load.
/// * `fuel_density`: 300 to 2,000 kg/m3; petrol 720 to 775 (EN 228).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of brake specific fuel consumption, Heywood ch. 2.
pub fn fuel_flow_for_power(
    power: Power,
    consumption: MassPerEnergy,
    fuel_density: MassDensity,
) -> Result<VolumeRate, FigureError> {
    POWER.check("engine power", power.get::<kilowatt>())?;
    CONSUMPTION.check("specific fuel consumption", consumption.get::<gram_per_kilowatt_hour>())?;
    let density = FUEL_DENSITY.check("fuel density", fuel_density.get::<kilogram_per_cubic_meter>())?;
    let mass_rate = power.get::<watt>() * consumption.get::<kilogram_per_joule>();
    Ok(VolumeRate::new::<cubic_meter_per_second>(mass_rate / density))
}

/// Power that a fuel flow feeds: `flow x density / consumption`, the inverse of [`fuel_flow_for_power`].
///
/// * `flow`: 0.01 to 100,000 L/h; the others as for [`fuel_flow_for_power`].
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: definition of brake specific fuel consumption, Heywood ch. 2.
pub fn power_for_fuel_flow(
    flow: VolumeRate,
    consumption: MassPerEnergy,
    fuel_density: MassDensity,
) -> Result<Power, FigureError> {
    let flow = flow.get::<cubic_meter_per_second>();
    Range::new(0.01, 100_000.0, "L/h").check("fuel flow", flow * 3.6e6)?;
    CONSUMPTION.check("specific fuel consumption", consumption.get::<gram_per_kilowatt_hour>())?;
    let density = FUEL_DENSITY.check("fuel density", fuel_density.get::<kilogram_per_cubic_meter>())?;
    Ok(Power::new::<watt>(flow * density / consumption.get::<kilogram_per_joule>()))
}

/// Flow of a carburettor at another depression than the one it is rated at: `flow sqrt(other / rated)`.
///
/// * `rated_flow`: 0.001 to 1,000,000 m3/h.
/// * `rated_depression`, `other_depression`: 0.1 to 100 kPa; four-barrels are rated at 1.5 inHg, one- and two-barrels at
///   3.0 inHg (common practice).
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: flow through an orifice, Heywood ch. 7, the air taken as of one density.
pub fn flow_at_depression(
    rated_flow: VolumeRate,
    rated_depression: Pressure,
    other_depression: Pressure,
) -> Result<VolumeRate, FigureError> {
    AIR_FLOW.check("rated air flow", rated_flow.get::<cubic_meter_per_hour>())?;
    let rated = DEPRESSION.check("rated depression", rated_depression.get::<kilopascal>())?;
    let other = DEPRESSION.check("depression", other_depression.get::<kilopascal>())?;
    Ok(rated_flow * (other / rated).sqrt())
}

/// The smallest of a choice of rated flows that is enough, or `None` if none is. All at one depression.
///
/// * `wanted`: 0.001 to 1,000,000 m3/h, see [`air_flow`].
/// * `ratings`: each 0.001 to 1,000,000 m3/h, in any order.
///
/// # Errors
/// [`FigureError`] if a flow is out of its range.
///
/// Source: common practice; one much bigger than the need meters badly at low speed.
pub fn carburettor_for(
    wanted: VolumeRate,
    ratings: &[VolumeRate],
) -> Result<Option<VolumeRate>, FigureError> {
    AIR_FLOW.check("air flow", wanted.get::<cubic_meter_per_hour>())?;
    let mut best: Option<VolumeRate> = None;
    for rating in ratings {
        AIR_FLOW.check("rated air flow", rating.get::<cubic_meter_per_hour>())?;
        if *rating >= wanted && best.is_none_or(|b| *rating < b) {
            best = Some(*rating);
        }
    }
    Ok(best)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use uom::si::power::horsepower_imperial;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    /// Cubic inch and cubic foot in m3, exact; those of `uom` are rounded to seven digits.
    const CUBIC_INCH: f64 = 16.387_064e-6;
    const CUBIC_FOOT: f64 = 0.028_316_846_592;

    fn air(cid: f64, rpm: f64, filling: f64) -> Result<VolumeRate, FigureError> {
        air_flow(Volume::new::<cubic_meter>(cid * CUBIC_INCH), rpm, filling)
    }

    /// cu ft/min
    fn cfm(cid: f64, rpm: f64, filling: f64) -> Result<f64, FigureError> {
        air(cid, rpm, filling).map(|q| q.get::<cubic_meter_per_second>() * 60.0 / CUBIC_FOOT)
    }

    /// kg/h
    fn fuel(cfm: f64, density: f64, ratio: f64) -> Result<f64, FigureError> {
        let density = MassDensity::new::<kilogram_per_cubic_meter>(density);
        let flow =
            fuel_flow(VolumeRate::new::<cubic_meter_per_second>(cfm * CUBIC_FOOT / 60.0), density, ratio)?;
        Ok(flow.get::<kilogram_per_second>() * 3600.0)
    }

    /// L/h
    fn pumped(watts: f64, kg_per_joule: f64, density: f64) -> Result<f64, FigureError> {
        let consumption = MassPerEnergy::new::<kilogram_per_joule>(kg_per_joule);
        let density = MassDensity::new::<kilogram_per_cubic_meter>(density);
        let flow = fuel_flow_for_power(Power::new::<watt>(watts), consumption, density)?;
        Ok(flow.get::<cubic_meter_per_hour>() * 1000.0)
    }

    #[test]
    fn air_against_the_unit_library() {
        // by a general-purpose library
        for (cid, rpm, filling, expected, m3_per_h) in [
            (350.0, 5500.0, 0.85, 473.451_967_593, 804.400_004_1),
            (302.0, 6000.0, 0.90, 471.875, 801.720_719_136),
            (110.0, 6000.0, 0.85, 162.326_388_889, 275.794_287_12),
        ] {
            close(cfm(cid, rpm, filling), expected, 1e-9);
            close(air(cid, rpm, filling).map(|q| q.get::<cubic_meter_per_hour>()), m3_per_h, 1e-9);
        }
    }

    #[test]
    fn trade_carburettor_air() {
        // physics: 238 cu in at 4,000 rpm, 0.75: 206 cfm (206.6)
        close(cfm(238.0, 4000.0, 0.75), 206.0, 4e-3);
        close(cfm(238.0, 4000.0, 0.75), 238.0 * 4000.0 / 3456.0 * 0.75, 1e-12);
    }

    #[test]
    fn fuel_against_the_unit_library() {
        // by a general-purpose library: 473.45 cfm air, AFR 12.5
        close(fuel(473.451_967_593, 1.225, 12.5), 78.831_200_401_8, 1e-9);
        // tier L: fuel.flow_bsfc/150 hp, 0.5 lb/hp-h and 90 hp, 0.55 lb/hp-h, density 745
        let horse = Power::new::<horsepower_imperial>(1.0).get::<watt>();
        for (hp, bsfc, litres) in [(150.0, 0.5, 45.663_661_409_4), (90.0, 0.55, 30.138_016_530_2)] {
            let kg_per_joule = bsfc * 0.453_592_37 / (horse * 3600.0);
            close(pumped(hp * horse, kg_per_joule, 745.0), litres, 1e-9);
        }
        // an example vehicle: 100 hp at 0.50 lb/hp·h and 0.73 kg/L want 31 L/h
        close(pumped(100.0 * horse, 0.5 * 0.453_592_37 / (horse * 3600.0), 730.0), 31.0, 3e-3);
    }

    fn per_hour(value: f64) -> VolumeRate {
        VolumeRate::new::<cubic_meter_per_hour>(value)
    }

    fn at_depression(flow: f64, rated: f64, other: f64) -> Result<f64, FigureError> {
        let [rated, other] = [rated, other].map(Pressure::new::<kilopascal>);
        flow_at_depression(per_hour(flow), rated, other).map(|q| q.get::<cubic_meter_per_hour>())
    }

    #[test]
    fn ratings_at_two_depressions() {
        // physics: twice the depression is the square root of two in flow
        close(at_depression(100.0, 5.0, 10.0), 2.0_f64.sqrt() * 100.0, 1e-12);
        close(at_depression(100.0, 10.0, 2.5), 50.0, 1e-12);
        for bad in REFUSED {
            refuses(at_depression(bad, 5.0, 10.0), "rated air flow");
            refuses(at_depression(100.0, bad, 10.0), "rated depression");
            refuses(at_depression(100.0, 5.0, bad), "depression");
        }
    }

    #[test]
    fn the_smallest_that_is_enough() {
        // 206 cfm are 350 m3/h; of these the third
        let choice = [600.0, 250.0, 380.0, 340.0].map(per_hour);
        let wanted = air(238.0, 4000.0, 0.75).unwrap();
        assert_eq!(carburettor_for(wanted, &choice), Ok(Some(per_hour(380.0))));
        assert_eq!(carburettor_for(per_hour(601.0), &choice), Ok(None));
        assert_eq!(carburettor_for(wanted, &[]), Ok(None));
        refuses(carburettor_for(wanted, &[per_hour(f64::NAN)]), "rated air flow");
        refuses(carburettor_for(per_hour(0.0), &choice), "air flow");
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(air(bad, 4000.0, 0.75), "engine displacement");
            refuses(air(238.0, bad, 0.75), "engine speed");
            refuses(air(238.0, 4000.0, bad), "volumetric efficiency");
            refuses(fuel(bad, 1.225, 12.5), "air flow");
            refuses(fuel(206.0, bad, 12.5), "air density");
            refuses(fuel(206.0, 1.225, bad), "air-fuel ratio");
            refuses(pumped(bad, 8.4e-8, 745.0), "engine power");
            refuses(pumped(75e3, 8.4e-8, bad), "fuel density");
        }
        for bad in [f64::NAN, f64::INFINITY, 0.0, -8.4e-8, 1.0] {
            refuses(pumped(75e3, bad, 745.0), "specific fuel consumption");
        }
    }

    proptest! {
        #[test]
        fn air_is_in_proportion(
            cid in 20.0..600.0, rpm in 300.0..8000.0, filling in 0.3..1.1, factor in 1.01_f64..2.0,
        ) {
            let base = cfm(cid, rpm, filling).unwrap_or(f64::NAN) * factor;
            for found in [
                cfm(cid * factor, rpm, filling),
                cfm(cid, rpm * factor, filling),
                cfm(cid, rpm, filling * factor),
            ] {
                prop_assert!((found.unwrap_or(f64::NAN) / base - 1.0).abs() < 1e-9);
            }
        }

        #[test]
        fn a_leaner_mixture_takes_less_fuel(
            flow in 10.0..900.0, density in 0.8..1.4, ratio in 8.0..18.0, factor in 1.01_f64..2.0,
        ) {
            let base = fuel(flow, density, ratio).unwrap_or(f64::NAN);
            prop_assert!(fuel(flow, density, ratio * factor).unwrap_or(f64::NAN) < base);
            prop_assert!(fuel(flow, density * factor, ratio).unwrap_or(f64::NAN) > base);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>()) {
            prop_assert!(sound(cfm(a, b, c)) && sound(fuel(a, b, c)) && sound(pumped(a, b, c)));
        }
    }
}
