//! Fuel figures: fuel flow, line loss and size, pressure at the carburettor, air at an altitude.

use knockon_figures::air::standard_air;
use knockon_figures::carburation::{air_flow, fuel_flow, fuel_flow_for_power, power_for_fuel_flow};
use knockon_figures::fuel::line::{
    DRAWN_TUBE_ROUGHNESS, FuelLine, PETROL_VISCOSITY, TRANSITION, head, line_loss, tube_for,
};
use knockon_figures::fuel::pressure::{ACCEPTED_PSI, PressureFit, Window, at_carburettor, fit};
use knockon_figures::fuel::regulator::{regulated, setting};
use uom::si::dynamic_viscosity::pascal_second;
use uom::si::f64::{DynamicViscosity, Length as Measure, MassDensity, MassPerEnergy, Pressure as Press};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::mass_per_energy::kilogram_per_kilowatt_hour;
use uom::si::pressure::psi;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{BARE, KG_M3, KPA, KW, L_H, L_MIN, M_S, celsius, number, text};
use super::trouble::Trouble;
use crate::units::Dimension::{Flow, Length, Mass, Power, Pressure, Ratio, RotationalSpeed, Volume};

const DENSITY: Input =
    or("litre", "mass of a litre of fuel; petrol 0.72 to 0.775 kg", Takes::One(Mass), "0.745 kg");
const LIFT: Input = or(
    "lift",
    "float chamber over the fuel in the tank; below zero where it lies lower",
    Takes::One(Length),
    "0 mm",
)
.signed()
.example("600 mm");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "fuel-flow",
        called: &["fuel pump flow", "pump size", "gph"],
        group: Group::Fuel,
        name: "Fuel flow at power",
        meaning: "fuel a pump must bring for a power",
        inputs: &[
            need("power", "at the flywheel", Takes::One(Power), "120 hp"),
            or("burnt", "fuel burnt for each kWh at full load", Takes::One(Mass), "300 g"),
            or("spare", "times as much as is burnt, to spare", Takes::One(Ratio), "1"),
            DENSITY,
        ],
        formula: "flow = power x specific consumption / fuel density x spare",
        source: "Heywood, Internal Combustion Engine Fundamentals, ch. 2; 300 g for each kWh is common practice",
        cases: &[
            "power=150 hp burnt=304.138694 g -> fuel flow: 45.6637 L/h; power x consumption / density, by a general-purpose library",
            "power=90 hp burnt=334.552563 g -> fuel flow: 30.1380 L/h; power x consumption / density, by a general-purpose library",
        ],
        moves: &["power -> fuel flow: rises"],
        work: flow,
        ..FIGURE
    },
    Figure {
        id: "fuel-power",
        called: &[
            "bsfc",
            "brake specific fuel consumption",
            "horsepower from fuel flow",
            "pump enough for power",
        ],
        group: Group::Fuel,
        name: "Power of a fuel flow",
        meaning: "power that a fuel flow feeds, so what a pump or line is good for",
        inputs: &[
            need("flow", "of fuel", Takes::One(Flow), "12 US gph"),
            or("burnt", "fuel burnt for each kWh at full load", Takes::One(Mass), "300 g"),
            DENSITY,
        ],
        formula: "power = flow x fuel density / specific consumption",
        source: "Heywood, Internal Combustion Engine Fundamentals, ch. 2; 300 g for each kWh is common practice",
        cautions: &["petrol vapour burns: no spark near an open line"],
        cases: &[
            "flow=45.6636614 L/h burnt=304.138694 g -> power: 150.00 hp; power x consumption / density, by a general-purpose library",
            "flow=30.1380165 L/h burnt=334.552563 g -> power: 90.00 hp; power x consumption / density, by a general-purpose library",
        ],
        moves: &["flow -> power: rises"],
        work: fed,
    },
    Figure {
        id: "fuel-for-air",
        called: &["fuel for air", "air fuel ratio", "mixture"],
        group: Group::Fuel,
        name: "Fuel for the air",
        meaning: "air an engine draws at a speed and the fuel that goes with it",
        inputs: &[
            need("displacement", "of all cylinders", Takes::One(Volume), "235 in3"),
            need("rpm", "engine speed", Takes::One(RotationalSpeed), "3800 rpm"),
            or("filling", "volumetric efficiency: 75 % old, 85 % good", Takes::One(Ratio), "75 %"),
            or("mixture", "mass of air for a mass of fuel", Takes::One(Ratio), "12.5"),
            or("altitude", "over the sea", Takes::One(Length), "0 m").signed().example("1600 m"),
            DENSITY,
        ],
        formula: "air = displacement x rpm / 2 x filling; fuel = air density x air / mixture",
        source: "Heywood ch. 2; US Standard Atmosphere 1976; filling and mixture are common practice",
        cases: &[
            "displacement=350 in3 rpm=5500 rpm filling=85 % -> fuel flow: 105.8 L/h; air density x flow / mixture, by a general-purpose library",
        ],
        work: for_air,
        ..FIGURE
    },
    Figure {
        id: "fuel-line",
        called: &["fuel hose size", "fuel line pressure loss", "line size"],
        group: Group::Fuel,
        name: "Fuel line",
        meaning: "pressure a fuel line loses, and the tube that is thick enough",
        inputs: &[
            need("flow", "fuel flow at full power", Takes::One(Flow), "45 L/h"),
            need("bore", "inside diameter of the tube", Takes::One(Length), "1/4 in"),
            need("length", "straight length; add 30 bores for a sharp elbow", Takes::One(Length), "4 m"),
            or(
                "allowed",
                "loss that is allowed; a tenth of the pump pressure",
                Takes::One(Pressure),
                "0.5 psi",
            ),
            DENSITY,
        ],
        formula: "loss = f L/D rho v^2 / 2; f = 64/Re smooth, Colebrook turbulent, a band between",
        source: "Darcy-Weisbach; Colebrook (1939); Avila et al. (2011); petrol 0.5 mPa s is common practice; tubes SAE J526",
        cases: &[
            "flow=60 L/h bore=6.5 mm length=4 m -> pressure lost, most: 2194.24346 Pa; Darcy-Weisbach with Colebrook, by a general-purpose library",
            "flow=150 L/h bore=7.9 mm length=5 m -> pressure lost, most: 5310.04535 Pa; Darcy-Weisbach with Colebrook, by a general-purpose library",
        ],
        moves: &["length -> pressure lost, most: rises", "bore -> pressure lost, most: falls"],
        work: line,
        ..FIGURE
    },
    Figure {
        id: "fuel-pressure",
        called: &["fuel pressure regulator", "fuel pump pressure", "float needle", "flooding"],
        group: Group::Fuel,
        name: "Pressure at the carburettor",
        meaning: "what arrives from the pump, and whether a regulator is wanted",
        inputs: &[
            need("pump-low", "pump pressure at full flow", Takes::One(Pressure), "4 psi"),
            need("pump-high", "pump pressure with the outlet shut", Takes::One(Pressure), "7 psi"),
            need("accepts-low", "least the carburettor takes", Takes::One(Pressure), "2.5 psi"),
            need("accepts-high", "most the float valve holds", Takes::One(Pressure), "3.5 psi"),
            need(
                "loss",
                "lost in line and filter at full flow, see fuel-line",
                Takes::One(Pressure),
                "0.4 psi",
            ),
            LIFT,
            or("regulator", "setting of a regulator at the carburettor", Takes::One(Pressure), "unknown")
                .example("3 psi"),
            DENSITY,
        ],
        formula: "low = pump low - loss - head; high = pump high - head; head = rho g h; behind a regulator at most its \
                  setting; all of it must lie in what the carburettor takes",
        source: "hydrostatics, Darcy-Weisbach; with the float valve shut nothing flows and nothing is lost; a carburettor \
                 maker's window wins; petrol at 745 kg/m3 (EN 228)",
        cases: &[
            "pump-low=4 psi pump-high=7 psi accepts-low=2.5 psi accepts-high=3.5 psi loss=0.4 psi lift=0.8 m -> head: 5844.8 Pa; rho g h, by a general-purpose library",
        ],
        work: pressure,
        ..FIGURE
    },
    Figure {
        id: "carburettor-window",
        called: &["carb fuel pressure", "pressure a carburettor takes"],
        group: Group::Fuel,
        name: "Usual carburettor pressure",
        meaning: "pressure a kind of carburettor usually takes",
        inputs: &[need(
            "kind",
            "kind of carburettor",
            Takes::Choice(&["side-draught", "one-barrel", "two-barrel", "four-barrel"]),
            "two-barrel",
        )],
        formula: "by the table",
        source: "common practice; the maker's figure wins",
        cases: &["kind=two-barrel -> most: 3.5 psi; common practice"],
        work: window,
        ..FIGURE
    },
    Figure {
        id: "air",
        called: &["air density", "altitude"],
        group: Group::Fuel,
        name: "Air at an altitude",
        meaning: "pressure, temperature and density of still air, and the power that is left",
        inputs: &[need("altitude", "over the sea", Takes::One(Length), "1600 m").signed()],
        formula: "T = 288.15 K - 6.5 K/km H; p = 101,325 Pa (T / 288.15 K)^5.2559",
        source: "US Standard Atmosphere 1976, ISO 2533",
        cases: &[
            "altitude=1500 m -> density: 1.058 kg/m3; US Standard Atmosphere 1976, table",
            "altitude=1000 m -> pressure: 89876 Pa; US Standard Atmosphere 1976, table",
        ],
        moves: &["altitude -> density: falls"],
        work: air,
        ..FIGURE
    },
];

fn density(g: &Given<'_>) -> MassDensity {
    MassDensity::new::<kilogram_per_cubic_meter>(g.si("litre") * 1e3)
}

fn flow(g: &Given<'_>) -> Worked {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(g.si("burnt"));
    let (flow, spare) = (fuel_flow_for_power(g.power("power"), burnt, density(g))?, g.si("spare"));
    if !(0.1..=100.0).contains(&spare) {
        return Err(Trouble::Words(format!("spare: found {spare}, expected 0.1 to 100")));
    }
    Ok(vec![number("fuel flow", flow.value * spare, &L_H)])
}

fn fed(g: &Given<'_>) -> Worked {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(g.si("burnt"));
    Ok(vec![number("power", power_for_fuel_flow(g.flow("flow"), burnt, density(g))?.value, &KW)])
}

fn for_air(g: &Given<'_>) -> Worked {
    let flow = air_flow(g.volume("displacement"), g.rpm("rpm"), g.si("filling"))?;
    let air = standard_air(g.length("altitude"))?;
    let fuel = fuel_flow(flow, air.density, g.si("mixture"))?;
    let density = density(g).value;
    if !(300.0..=2_000.0).contains(&density) {
        return Err(Trouble::Words(format!(
            "mass of a litre of fuel: found {} kg, expected 0.3 to 2 kg",
            density / 1e3
        )));
    }
    Ok(vec![
        number("air", flow.value, &L_MIN),
        number("air density", air.density.value, &KG_M3),
        number("fuel flow", fuel.value / density, &L_H),
    ])
}

fn line(g: &Given<'_>) -> Worked {
    let line = FuelLine {
        flow: g.flow("flow"),
        bore: g.length("bore"),
        length: g.length("length"),
        density: density(g),
        viscosity: DynamicViscosity::new::<pascal_second>(PETROL_VISCOSITY),
        roughness: Measure::new::<meter>(DRAWN_TUBE_ROUGHNESS),
    };
    let loss = line_loss(&line)?;
    let kind = if loss.reynolds < TRANSITION.0 {
        "smooth"
    } else if loss.reynolds > TRANSITION.1 {
        "turbulent"
    } else {
        "between smooth and turbulent: the loss is a band"
    };
    let tube = tube_for(&line, g.pressure("allowed"))?;
    Ok(vec![
        number("pressure lost, most", loss.most.value, &KPA),
        number("pressure lost, least", loss.least.value, &KPA),
        number("mean speed", loss.velocity.value, &M_S),
        number("Reynolds number", loss.reynolds, &BARE),
        text("flow is", kind),
        text("thinnest tube that will do", tube.unwrap_or("none: the thickest of the table loses more")),
    ])
}

fn pressure(g: &Given<'_>) -> Worked {
    let head = head(g.length("lift"), density(g))?;
    let pump = Window { low: g.pressure("pump-low"), high: g.pressure("pump-high") };
    let accepted = Window { low: g.pressure("accepts-low"), high: g.pressure("accepts-high") };
    let before = at_carburettor(pump, g.pressure("loss"), head)?;
    let regulator = g.known("regulator").map(|_| g.pressure("regulator"));
    let arrives = regulator.map_or(Ok(before), |set| regulated(before, set))?;
    let in_psi = |p: Press| format!("{:.2} psi", p.get::<psi>());
    let said = match fit(arrives, accepted)? {
        PressureFit::Suits => "suits as it is".to_owned(),
        PressureFit::WantsRegulator { set } => format!("wants a regulator, set to {}", in_psi(set)),
        PressureFit::TooLow { short_by } => {
            format!("too low at full flow by {}: a bigger line or a stronger pump", in_psi(short_by))
        }
        PressureFit::WantsOtherPump { short_by } => format!(
            "too high at rest and too low at full flow by {}: another pump with a regulator, or a bigger line",
            in_psi(short_by)
        ),
    };
    let mut out = vec![
        number("arrives at full flow", arrives.low.value, &KPA),
        number("arrives with the float valve shut", arrives.high.value, &KPA),
        number("head", head.value, &KPA),
        text("verdict", said),
    ];
    if let (Some(_), Some(set)) = (regulator, setting(before, accepted, accepted)?) {
        out.push(number("a setting that suits", set.value, &KPA));
    }
    Ok(out)
}

fn window(g: &Given<'_>) -> Worked {
    // "side-draught" against "constant-depression, side draught"
    let kind = g.word("kind").replace("side-draught", "side draught");
    let Some((name, low, high)) = ACCEPTED_PSI.iter().find(|(name, ..)| name.contains(&kind)) else {
        return Err(Trouble::Words(format!("kind: the table has no {kind}")));
    };
    Ok(vec![
        text("kind", *name),
        number("least", Press::new::<psi>(*low).value, &KPA),
        number("most", Press::new::<psi>(*high).value, &KPA),
    ])
}

fn air(g: &Given<'_>) -> Worked {
    let air = standard_air(g.length("altitude"))?;
    Ok(vec![
        number("pressure", air.pressure.value, &KPA),
        celsius("temperature", air.temperature),
        number("density", air.density.value, &KG_M3),
        number("density, and about the power left", air.density_ratio, &super::output::PERCENT),
    ])
}
