//! The figures held to what general-purpose libraries give: `tests/reference/values.json`, which `run.sh` regenerates.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use knockon_core::quantity::Quantity;
use knockon_figures::FigureError;
use knockon_figures::air::standard_air;
use knockon_figures::carburation::{air_flow, fuel_flow_for_power};
use knockon_figures::charging::awg_diameter;
use knockon_figures::cooling::boiling::water_boiling;
use knockon_figures::cooling::heat::coolant_at_90_c;
use knockon_figures::driveline::engine_speed;
use knockon_figures::engine::geometry::power;
use knockon_figures::fluids::antifreeze::freezing_point;
use knockon_figures::fluids::containers::{Container, Goal, cover};
use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, PETROL_DENSITY, PETROL_VISCOSITY, line_loss,
};
use knockon_figures::tyres::revolutions_per_length;
use serde_json::Value;
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{
    DynamicViscosity, Length, MassDensity, MassPerEnergy, Power, Pressure, Torque, Velocity, Volume,
    VolumeRate,
};
use uom::si::length::{inch, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::mass_per_energy::gram_per_kilowatt_hour;
use uom::si::power::horsepower;
use uom::si::pressure::kilopascal;
use uom::si::thermodynamic_temperature::degree_celsius;
use uom::si::torque::pound_force_foot;
use uom::si::velocity::mile_per_hour;
use uom::si::volume::{cubic_inch, liter};
use uom::si::volume_rate::cubic_meter_per_hour;

/// What the program works out for a row, SI or degrees Celsius; `None` for a row it does not know.
fn worked_out(id: &str, inputs: &Value) -> Result<Option<f64>, FigureError> {
    let number = |name: &str| inputs[name].as_f64().unwrap_or(f64::NAN);
    let metres = |name: &str| Length::new::<meter>(number(name));
    Ok(Some(match id {
        "unit" => inputs["text"].as_str().and_then(|t| Quantity::parse(t).ok()).map_or(f64::NAN, |q| q.si),
        "power" => power(Torque::new::<pound_force_foot>(number("torque_lbf_ft")), number("rpm"))?.value,
        "air-flow" => {
            air_flow(Volume::new::<cubic_inch>(number("in3")), number("rpm"), number("filling"))?.value
        }
        "engine-speed" => {
            let turns = revolutions_per_length(Length::new::<inch>(number("diameter_in")))?;
            engine_speed(
                Velocity::new::<mile_per_hour>(number("mph")),
                turns,
                number("axle"),
                number("gear"),
            )?
        }
        "fuel-for-power" => {
            let consumption = MassPerEnergy::new::<gram_per_kilowatt_hour>(number("g_kwh"));
            let density = MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY);
            fuel_flow_for_power(Power::new::<horsepower>(number("hp")), consumption, density)?.value
        }
        "awg-diameter" => awg_diameter(number("gauge") as i32)?.value,
        "air-density" => standard_air(metres("altitude_m"))?.density.value,
        "air-pressure" => standard_air(metres("altitude_m"))?.pressure.value,
        "water-boiling" => water_boiling(Pressure::new::<kilopascal>(number("kpa")))?.get::<degree_celsius>(),
        "glycol-freezing" => freezing_point(number("share"))?.get::<degree_celsius>(),
        "coolant-density" => coolant_at_90_c(number("share"))?.0.value,
        "coolant-heat" => coolant_at_90_c(number("share"))?.1.value,
        "line-loss" => {
            let line = FuelLine {
                flow: VolumeRate::new::<cubic_meter_per_hour>(number("l_h") / 1e3),
                bore: Length::new::<millimeter>(number("bore_mm")),
                length: metres("length_m"),
                density: MassDensity::new::<kilogram_per_cubic_meter>(PETROL_DENSITY),
                viscosity: DynamicViscosity::new::<pascal_second>(PETROL_VISCOSITY),
                roughness: Length::new::<meter>(DRAWN_TUBE_ROUGHNESS),
            };
            let loss = line_loss(&line)?;
            // the rows keep out of the band between smooth and turbulent
            assert_eq!(loss.least, loss.most, "{inputs}");
            loss.most.value
        }
        "containers" => {
            let list = |name: &str| inputs[name].as_array().into_iter().flatten();
            let sizes = list("sizes_l").filter_map(Value::as_f64).map(Volume::new::<liter>);
            let prices = list("hundredths").filter_map(Value::as_u64);
            let sold: Vec<_> = sizes.zip(prices).map(|(volume, price)| Container { volume, price }).collect();
            cover(Volume::new::<liter>(number("litres")), &sold, Goal::Cheapest)?.price as f64
        }
        _ => return Ok(None),
    }))
}

#[test]
fn the_figures_agree_with_general_purpose_libraries() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/values.json");
    let rows: Vec<Value> = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    assert!(rows.len() >= 80, "{} rows", rows.len());
    let mut wrong = Vec::new();
    let mut furthest: BTreeMap<String, f64> = BTreeMap::new();
    for row in &rows {
        let id = row["id"].as_str().unwrap();
        let named = format!("{id} {} ({})", row["inputs"], row["from"].as_str().unwrap());
        let expected = row["value"].as_f64().unwrap();
        let absolute = row["absolute"].as_bool().unwrap();
        let tolerance = row["tolerance"].as_f64().unwrap();
        assert!(!row["why"].as_str().unwrap().is_empty(), "{named}");
        let found = worked_out(id, &row["inputs"])
            .unwrap_or_else(|e| panic!("{named}: {e}"))
            .unwrap_or_else(|| panic!("{named}: nothing here works this out"));
        let scale = if absolute { 1.0 } else { expected.abs() };
        let off = (found - expected).abs() / scale;
        // what is not a number is within no tolerance
        if off.is_nan() || off > tolerance {
            wrong.push(format!("{named}: {found} against {expected}, off by {off:e}, allowed {tolerance:e}"));
        }
        let far = furthest.entry(id.to_owned()).or_default();
        *far = far.max(off);
    }
    // seen with --nocapture, and when the test fails
    println!("furthest off: {furthest:#?}");
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}
