//! Cooling figures: heat, boiling point, thermostat, fan.

use knockon_figures::air::standard_air;
use knockon_figures::cooling::boiling::{boiling_under_cap, cap_suits, water_boiling};
use knockon_figures::cooling::fan::{Mount, air_for, at_other_speed, fan_room, shroud_cover, start_current};
use knockon_figures::cooling::heat::{PETROL_HEATING_VALUE, flow_for, heat_to_reject};
use knockon_figures::cooling::thermostat::{thermostat_margin, thermostat_test};
use uom::si::available_energy::joule_per_kilogram;
use uom::si::f64::{AvailableEnergy, MassPerEnergy, TemperatureInterval};
use uom::si::mass_per_energy::kilogram_per_kilowatt_hour;
use uom::si::temperature_interval::kelvin;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{
    AMPERE, COOLANT, KELVIN, KG_M3, KW, L_MIN, MM, PERCENT, WATT, celsius, number, text, verdict,
};
use crate::units::Dimension::{
    Area, Current, Flow, Length, Mass, Power, Pressure, Ratio, RotationalSpeed, Temperature,
};

const GLYCOL: Input = or("glycol", "share of undiluted glycol by volume", Takes::One(Ratio), "50 %");
const ALTITUDE: Input = or("altitude", "over the sea", Takes::One(Length), "0 m").signed().example("1600 m");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "heat-to-reject",
        called: &["radiator size", "cooling capacity", "overheating"],
        group: Group::Cooling,
        name: "Heat to reject",
        meaning: "heat an engine gives its coolant, and the flow that carries it",
        inputs: &[
            need("power", "at the flywheel", Takes::One(Power), "120 hp"),
            or("burnt", "fuel burnt for each kWh at full load", Takes::One(Mass), "300 g"),
            or("share", "of the fuel's heat that goes into the coolant", Takes::One(Ratio), "30 %"),
            or("hot", "coolant into the radiator", Takes::One(Temperature), "90 °C"),
            or("cold", "coolant out of it", Takes::One(Temperature), "82 °C"),
            GLYCOL,
        ],
        formula: "heat = power x consumption x 43.4 MJ/kg x share; flow = heat / (rho cp (hot - cold))",
        source: "Heywood ch. 12; the share is the rule of thirds, common practice; coolant ASHRAE (CoolProp 8.0.0)",
        cases: &[
            "power=100 kW burnt=304.138694 g -> heat: 110.00 kW; Heywood ch. 12, a third of the heat into the coolant",
        ],
        moves: &["power -> heat: rises"],
        work: heat,
        ..FIGURE
    },
    Figure {
        id: "coolant-boiling",
        called: &["boil over", "radiator cap", "cap pressure", "boiling point of coolant"],
        group: Group::Cooling,
        name: "Boiling point of coolant",
        meaning: "boiling point under a cap at an altitude",
        inputs: &[
            need("cap", "opening pressure of the cap; 0 for an open system", Takes::One(Pressure), "7 psi"),
            GLYCOL,
            ALTITUDE,
            or(
                "weakest",
                "rated pressure of the weakest of radiator, heater and hoses",
                Takes::One(Pressure),
                "unknown",
            )
            .example("7 psi"),
        ],
        formula: "xw pw(T) + xg pg(T) = air pressure + cap",
        source: "Raoult's law; water IAPWS-IF97, glycol Antoine (constants from memory); US Standard Atmosphere 1976",
        cases: &[
            "cap=7 psi glycol=0 % -> boils at: 111.3 °C; IAPWS-95 saturation, by a general-purpose library",
            "cap=0 psi glycol=0 % altitude=1609.344 m -> boils at: 95 °C; US Standard Atmosphere 1976 and IAPWS-95, by a general-purpose library",
            "cap=0 psi glycol=50 % -> boils at: 108 °C; bubble point by Raoult and by UNIFAC",
            "cap=13 psi glycol=50 % -> boils at: 127 °C; bubble point by Raoult and by UNIFAC",
        ],
        moves: &["cap -> boils at: rises"],
        work: boiling,
        ..FIGURE
    },
    Figure {
        id: "thermostat-margin",
        called: &["thermostat and cap", "margin to boiling"],
        group: Group::Cooling,
        name: "Thermostat margin",
        meaning: "room between a fully open thermostat and boiling",
        inputs: &[
            need("mark", "temperature at which it begins to open", Takes::One(Temperature), "82 °C"),
            need("cap", "opening pressure of the cap", Takes::One(Pressure), "7 psi"),
            GLYCOL,
            ALTITUDE,
        ],
        formula: "boiling - (mark + 15 K)",
        source: "common practice; 10 K at least should be left",
        cases: &[
            "mark=82 °C cap=7 psi glycol=0 % -> boils at: 111.3 °C; IAPWS-95 saturation, by a general-purpose library",
        ],
        work: margin,
        ..FIGURE
    },
    Figure {
        id: "thermostat-test",
        called: &["thermostat opening", "test a thermostat"],
        group: Group::Cooling,
        name: "Thermostat test",
        meaning: "verdict on a thermostat from a pan and a thermometer",
        inputs: &[
            need("mark", "temperature on it", Takes::One(Temperature), "82 °C"),
            need("opened-at", "where it began to open", Takes::One(Temperature), "83 °C"),
            need("lift", "of the valve 15 K over the mark", Takes::One(Length), "9 mm"),
        ],
        formula: "good within 2 K and 8 mm of lift, watch within 5 K, else renew",
        source: "common practice",
        cases: &["mark=82 °C opened-at=83 °C lift=9 mm -> verdict: good: within its limit; common practice"],
        work: test,
        ..FIGURE
    },
    Figure {
        id: "fan-air",
        called: &["fan size", "electric fan", "fan cfm", "air through the radiator"],
        group: Group::Cooling,
        name: "Air for a heat",
        meaning: "air flow that takes up a heat",
        inputs: &[
            need("heat", "heat to reject", Takes::One(Power), "60 kW"),
            or("outside", "air before the core", Takes::One(Temperature), "35 °C").signed(),
            or("behind", "air behind the core", Takes::One(Temperature), "60 °C").signed(),
            ALTITUDE,
        ],
        formula: "flow = Q / (rho cp (behind - outside))",
        source: "energy balance; air 1,006 J/(kg K) (handbooks); density by US Standard Atmosphere 1976 at the outside temperature",
        cases: &[
            "heat=60 kW -> air flow: 2.08 m3/s; energy balance with air as an ideal gas, by a general-purpose library",
        ],
        moves: &["heat -> air flow: rises"],
        work: air,
        ..FIGURE
    },
    Figure {
        id: "fan-speed",
        called: &["fan tip speed", "fan pulley"],
        group: Group::Cooling,
        name: "Fan at another speed",
        meaning: "flow and power of a fan at another speed, and its first rush of current",
        inputs: &[
            need("flow", "flow at its speed", Takes::One(Flow), "1800 cfm"),
            need("power", "power at its speed", Takes::One(Power), "150 W"),
            need("rpm", "its speed", Takes::One(RotationalSpeed), "2000 rpm"),
            need("other", "the other speed", Takes::One(RotationalSpeed), "1600 rpm"),
            or("running", "running current of an electric fan", Takes::One(Current), "unknown")
                .example("12 A"),
        ],
        formula: "flow x (n / n0); power x (n / n0)^3; rush 2 to 2.5 times the running current",
        source: "fan laws; the rush is common practice",
        cases: &[
            "flow=1800 cfm power=150 W rpm=2000 rpm other=1600 rpm -> flow: 1440 cfm; fan laws",
            "flow=1800 cfm power=150 W rpm=2000 rpm other=1600 rpm -> power: 76.8 W; fan laws",
        ],
        work: fan_speed,
        ..FIGURE
    },
    Figure {
        id: "fan-room",
        called: &["fan clearance", "shroud", "fan to radiator"],
        group: Group::Cooling,
        name: "Room of a fan",
        meaning: "what is left between core and pump nose, and how much of the core is covered",
        inputs: &[
            need("space", "core to pump nose", Takes::One(Length), "95 mm"),
            need("depth", "of the fan with its motor or spacer", Takes::One(Length), "68 mm"),
            need("core", "face area of the core", Takes::One(Area), "2100 cm2"),
            need("covered", "by the shroud, or the circle of a bare fan", Takes::One(Area), "1200 cm2"),
            or("mount", "on the water pump, or on the core", Takes::Choice(&["pump", "core"]), "core"),
        ],
        formula: "left = space - depth, 20 mm on the pump, 12 mm on the core; covered / core >= 70 %",
        source: "geometry; room and cover are common practice",
        cases: &[
            "space=95 mm depth=68 mm core=2100 cm2 covered=1200 cm2 -> room left: 27 mm; arithmetic of the definition",
        ],
        work: room,
        ..FIGURE
    },
    Figure {
        id: "water-boiling",
        called: &["water boiling altitude"],
        group: Group::Cooling,
        name: "Boiling point of water",
        meaning: "boiling point of plain water at a pressure",
        inputs: &[need("pressure", "absolute", Takes::One(Pressure), "101.325 kPa")],
        formula: "saturation line",
        source: "IAPWS-IF97, region 4",
        cases: &[
            "pressure=101.325 kPa -> boils at: 99.97 °C; IAPWS-IF97",
            "pressure=149.588302 kPa -> boils at: 111.3 °C; IAPWS-95",
        ],
        moves: &["pressure -> boils at: rises"],
        work: water,
        ..FIGURE
    },
];

fn heat(g: &Given<'_>) -> Worked {
    let burnt = MassPerEnergy::new::<kilogram_per_kilowatt_hour>(g.si("burnt"));
    let value = AvailableEnergy::new::<joule_per_kilogram>(PETROL_HEATING_VALUE);
    let heat = heat_to_reject(g.power("power"), burnt, value, g.si("share"))?;
    let spread = TemperatureInterval::new::<kelvin>(g.si("hot") - g.si("cold"));
    Ok(vec![
        number("heat", heat.value, &KW),
        number("coolant flow", flow_for(heat, spread, g.si("glycol"))?.value, &COOLANT),
    ])
}

fn boiling(g: &Given<'_>) -> Worked {
    let cap = g.pressure("cap");
    let boils = boiling_under_cap(g.si("glycol"), cap, g.length("altitude"))?;
    let suits = match g.known("weakest") {
        None => "to measure: it must not be above what the weakest of radiator, heater and hoses bears",
        Some(_) if cap_suits(cap, g.pressure("weakest"))? => "weak enough for what it seals",
        Some(_) => "too strong: the weakest part gives first",
    };
    Ok(vec![celsius("boils at", boils), text("cap", suits)])
}

fn margin(g: &Given<'_>) -> Worked {
    let boils = boiling_under_cap(g.si("glycol"), g.pressure("cap"), g.length("altitude"))?;
    let room = thermostat_margin(g.temperature("mark"), boils)?;
    let said = if room.value < 0.0 {
        "boils before the radiator gets its full flow"
    } else if room.value < 10.0 {
        "less than 10 K is left"
    } else {
        "enough room"
    };
    Ok(vec![
        celsius("boils at", boils),
        number("room to boiling", room.value, &KELVIN),
        text("verdict", said),
    ])
}

fn test(g: &Given<'_>) -> Worked {
    let found = thermostat_test(g.temperature("mark"), Some(g.temperature("opened-at")), g.length("lift"))?;
    Ok(vec![verdict(found)])
}

fn air(g: &Given<'_>) -> Worked {
    let rise = TemperatureInterval::new::<kelvin>(g.si("behind") - g.si("outside"));
    let air = standard_air(g.length("altitude"))?;
    // hot air is thinner than that of a standard day at the same pressure (ideal gas)
    let density = air.density * (air.temperature.value / g.temperature("outside").value);
    Ok(vec![
        number("air flow", air_for(g.power("heat"), density, rise)?.value, &L_MIN),
        number("air density", density.value, &KG_M3),
    ])
}

fn fan_speed(g: &Given<'_>) -> Worked {
    let (flow, power) = at_other_speed(g.flow("flow"), g.power("power"), g.rpm("rpm"), g.rpm("other"))?;
    let mut out = vec![number("flow", flow.value, &L_MIN), number("power", power.value, &WATT)];
    if g.known("running").is_some() {
        let (least, most) = start_current(g.current("running"))?;
        out.push(number("first rush, least", least.value, &AMPERE));
        out.push(number("first rush, most", most.value, &AMPERE));
    }
    Ok(out)
}

fn room(g: &Given<'_>) -> Worked {
    let mount = if g.word("mount") == "pump" { Mount::Pump } else { Mount::Core };
    let room = fan_room(g.length("space"), g.length("depth"), mount)?;
    let (share, enough) = shroud_cover(g.area("core"), g.area("covered"))?;
    let short = room.short_by.value;
    Ok(vec![
        number("room left", room.left.value, &MM),
        number("room wanted", room.wanted.value, &MM),
        text(
            "room",
            if short <= 1e-9 {
                "holds".to_owned()
            } else {
                format!("does not hold: {:.1} mm short", short * 1e3)
            },
        ),
        number("core covered", share, &PERCENT),
        text("cover", if enough { "enough" } else { "too little: a shroud is wanted" }),
    ])
}

fn water(g: &Given<'_>) -> Worked {
    Ok(vec![celsius("boils at", water_boiling(g.pressure("pressure"))?)])
}
