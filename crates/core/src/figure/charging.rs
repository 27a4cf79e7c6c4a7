//! Charging and wiring figures: load list, drive, battery, wire, fuse.

use knockon_figures::charging::battery::{cold_current, reserve};
use knockon_figures::charging::loads::{Drive, Load, check_drive, demand, rating_for};
use knockon_figures::charging::{Run, awg_diameter, engine_speed_for_rotor, rotor_speed};
use knockon_figures::wiring::fuse::{Fuse, fuse_for, link_gauge};
use knockon_figures::wiring::gauge::{gauge_area, gauge_for, gauge_name, gauge_number, ohms_per_metre};
use knockon_figures::wiring::size::{Lay, wire_for};
use knockon_figures::wiring::strands::{area_for, wire_drop};
use uom::si::electric_current::ampere;
use uom::si::f64::{ElectricCurrent, Power as Watts, ThermodynamicTemperature};
use uom::si::power::watt;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{
    AMPERE, BARE, COPPER, FIT, MILLIOHM_M, MINUTE, MM, PERCENT, VOLT, WATT, number, rpm, text,
};
use super::trouble::Trouble;
use crate::units::Dimension::{
    Area, Charge, Current, Length, Power, Ratio, RotationalSpeed, Temperature, Voltage,
};

const CURRENT: Input = need("current", "current in the wire", Takes::One(Current), "20 A");
const RUN: Input = need("length", "from end to end of the run", Takes::One(Length), "3 m");
const HEAT: Input = or(
    "temperature",
    "of the copper; 70 °C is what ordinary PVC bears lastingly",
    Takes::One(Temperature),
    "70 °C",
)
.signed();
const RETURN: Input = or(
    "return",
    "body or frame, or a return wire of the same size",
    Takes::Choice(&["frame", "wire"]),
    "frame",
);

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "alternator-size",
        called: &["alternator size", "generator size", "electrical load", "amps of all loads"],
        group: Group::Charging,
        name: "Alternator size",
        meaning: "rating a list of loads asks of a generator",
        inputs: &[
            need(
                "loads",
                "each load with the share of the time it is on",
                Takes::Pairs(Power, Ratio),
                "110 W: 1, 40 W: 1, 60 W: 0.5, 42 W: 0.1",
            ),
            or("bus", "voltage on charge: 13.5 V for 12 V, 6.8 V for 6 V", Takes::One(Voltage), "13.5 V"),
            or("utilisation", "share of its rating it gives for hours", Takes::One(Ratio), "80 %"),
        ],
        formula: "demand = sum(power x share) / voltage; rating = demand / utilisation",
        source: "P = U I; the utilisation is common practice",
        cases: &[
            "loads=110 W: 1, 30 W: 1, 15 W: 1, 40 W: 1, 60 W: 1, 150 W: 1, 90 W: 1, 20 W: 1, 60 W: 1 -> rating: 53.2407407 A; arithmetic of the definition, P = U I",
        ],
        work: alternator,
        ..FIGURE
    },
    Figure {
        id: "charging-balance",
        called: &["charging balance", "alternator output at idle", "battery goes flat at idle", "charging"],
        group: Group::Charging,
        name: "Charging balance",
        meaning: "output against load at idle and on the road, and the pulley that carries the idle",
        inputs: &[
            need(
                "curve",
                "output of the generator by rotor speed, as its maker gives it",
                Takes::Pairs(RotationalSpeed, Current),
                "1300 rpm: 17 A, 2400 rpm: 35 A, 6000 rpm: 60 A",
            ),
            need("crank-pulley", "effective diameter", Takes::One(Length), "6.5 in"),
            need("generator-pulley", "effective diameter", Takes::One(Length), "2.7 in"),
            need("idle", "idle speed of the engine", Takes::One(RotationalSpeed), "550 rpm"),
            need("cruise", "engine speed on the road", Takes::One(RotationalSpeed), "2500 rpm"),
            need("idle-load", "switched on at idle, at night", Takes::One(Current), "24 A"),
            need("cruise-load", "switched on on the road, at night", Takes::One(Current), "28 A"),
        ],
        formula: "rotor = engine x crank pulley / generator pulley; output by straight lines between the points, nothing \
                  below the first, the last one beyond it; left = output - load, below zero out of the battery",
        source: "belt kinematics without slip; the maker's curve",
        cases: &[
            "curve=1000 rpm: 0 A, 1303 rpm: 34 A, 1520 rpm: 42 A, 6000 rpm: 100 A crank-pulley=165 mm generator-pulley=76 mm idle=600 rpm cruise=2073 rpm idle-load=31.7 A cruise-load=36.9 A -> rotor at idle: 1302.63 rpm; arithmetic of the definition",
        ],
        work: charging,
        ..FIGURE
    },
    Figure {
        id: "rotor-speed",
        called: &["alternator pulley", "pulley ratio", "cut-in speed"],
        group: Group::Charging,
        name: "Rotor speed",
        meaning: "rotor speed of a generator, and the engine speed at which it excites",
        inputs: &[
            need("crank-pulley", "effective diameter", Takes::One(Length), "6.5 in"),
            need("generator-pulley", "effective diameter", Takes::One(Length), "2.7 in"),
            need("engine", "engine speed", Takes::One(RotationalSpeed), "550 rpm"),
            or("excites-at", "rotor speed at which it excites", Takes::One(RotationalSpeed), "unknown")
                .example("1200 rpm"),
        ],
        formula: "rotor = engine x crank pulley / generator pulley",
        source: "belt kinematics",
        cases: &[
            "crank-pulley=165 mm generator-pulley=76 mm engine=600 rpm -> rotor speed: 1302.63 rpm; arithmetic of the definition",
        ],
        moves: &["generator-pulley -> rotor speed: falls"],
        work: rotor,
        ..FIGURE
    },
    Figure {
        id: "battery-reserve",
        called: &[
            "battery drain",
            "battery life",
            "how long a battery lasts",
            "flat battery",
            "standing drain",
            "reserve",
        ],
        group: Group::Charging,
        name: "Battery reserve",
        meaning: "how long a load runs from the battery alone",
        inputs: &[
            need("capacity", "at the 20-hour rate", Takes::One(Charge), "60 Ah"),
            need("load", "current drawn", Takes::One(Current), "15 A"),
            or("exponent", "Peukert's: 1.2 flooded, 1.1 absorbed mat", Takes::One(Ratio), "1.2"),
            or("usable", "share of the charge that may be drawn", Takes::One(Ratio), "50 %"),
        ],
        formula: "20 h x usable x (C / (20 h I))^k",
        source: "Peukert (1897); exponent and usable share are common practice",
        cases: &[
            "capacity=55 Ah load=2.75 A -> lasts: 600 min; EN 50342: the 20-hour rate draws all of it in 20 h",
        ],
        moves: &["load -> lasts: falls", "capacity -> lasts: rises"],
        work: battery,
        ..FIGURE
    },
    Figure {
        id: "cranking-current",
        called: &["cca", "cold cranking amps", "battery size", "starter current"],
        group: Group::Charging,
        name: "Cold current of a battery",
        meaning: "cold current a battery should be marked with for a starter",
        inputs: &[
            need("starter", "current while it turns the engine", Takes::One(Current), "180 A"),
            or("factor", "2.5 to 3", Takes::One(Ratio), "2.5"),
        ],
        formula: "cold current = running current x factor",
        source: "common practice",
        cases: &["starter=180 A -> cold current: 450 A; common practice: 2.5 times the running current"],
        moves: &["starter -> cold current: rises"],
        work: cranking,
        ..FIGURE
    },
    Figure {
        id: "wire-drop",
        called: &["voltage drop", "volts lost", "dim lights"],
        group: Group::Charging,
        name: "Voltage drop",
        meaning: "voltage lost in a copper wire",
        inputs: &[
            CURRENT,
            RUN,
            need("area", "copper area or gauge", Takes::One(Area), "14 AWG"),
            RETURN,
            HEAT,
            or("bus", "voltage of the system on charge", Takes::One(Voltage), "13.5 V"),
        ],
        formula: "U = I x length x resistance (1 + 0.00393 (T - 20 °C)); twice with a return wire",
        source: "Ohm's law; most resistance of flexible cable IEC 60228 class 5; IEC 60028 for the heat",
        cases: &[
            "current=20 A length=8 m area=4 mm2 temperature=20 °C -> voltage lost: 0.79 V; IEC 60228 class 5: 4.95 ohm/km at 4 mm2",
            "current=20 A length=8 m area=0.5 mm2 temperature=20 °C -> voltage lost: 6.2 V; IEC 60228 class 5: 39.0 ohm/km at 0.5 mm2",
            "current=20 A length=8 m area=0.75 mm2 temperature=20 °C -> voltage lost: 4.16 V; IEC 60228 class 5: 26.0 ohm/km at 0.75 mm2",
        ],
        moves: &["length -> voltage lost: rises"],
        work: drop,
        ..FIGURE
    },
    Figure {
        id: "wire-size",
        called: &["wire gauge for amps", "wire gauge", "what wire", "cable size", "wire thickness"],
        group: Group::Charging,
        name: "Wire size",
        meaning: "wire that is thick enough for heat and drop",
        inputs: &[
            CURRENT,
            RUN,
            or("allowed", "3 % for lamps and ignition, 4 % for the rest", Takes::One(Voltage), "0.4 V"),
            RETURN,
            or("lay", "in a loom, or by itself in free air", Takes::Choice(&["loom", "free"]), "loom"),
            HEAT,
        ],
        formula: "least size that is thick enough for the drop, carries the current, and is guarded by a fuse of 1.25 x the \
                  current",
        source: "Ohm's law; resistance IEC 60228 class 5; areas SAE J1128; currents and fuses are common practice for PVC",
        cases: &[
            "current=20 A length=8 m allowed=0.792 V temperature=20 °C -> area for the drop alone: 4 mm2; IEC 60228 class 5: 4.95 ohm/km at 4 mm2",
        ],
        work: wire,
        ..FIGURE
    },
    Figure {
        id: "fuse",
        called: &[
            "fuse size",
            "fuse for a wire gauge",
            "fuse for 14 gauge",
            "fuse rating",
            "circuit breaker",
        ],
        group: Group::Charging,
        name: "Fuse",
        meaning: "fuse for a lasting load on a wire",
        inputs: &[
            need("load", "lasting current; of a motor, its running current", Takes::One(Current), "12 A"),
            need("largest", "largest fuse that guards the wire, see wire-size", Takes::One(Current), "20 A"),
        ],
        formula: "least standard rating with rating >= 1.25 x load, at most what guards the wire",
        source: "common practice; ratings ISO 8820-3",
        cases: &[
            "load=12 A largest=20 A -> fuse: 15 A; ISO 8820-3 ratings; 1.25 times the load is common practice",
        ],
        work: fuse,
        ..FIGURE
    },
    Figure {
        id: "fusible-link",
        called: &["fuse link"],
        group: Group::Charging,
        name: "Fusible link",
        meaning: "gauge of the link that guards a wire",
        inputs: &[need("gauge", "gauge number of the wire, or 1/0 to 4/0", Takes::Text, "10")],
        formula: "four numbers thinner",
        source: "common practice",
        cases: &["gauge=10 -> gauge of the link: 14; common practice: four numbers thinner"],
        work: link,
        ..FIGURE
    },
    Figure {
        id: "awg",
        called: &["awg table", "gauge to mm2", "diameter of a gauge", "gauge conversion"],
        group: Group::Charging,
        name: "Wire gauge",
        meaning: "diameter, area and resistance of a gauge",
        inputs: &[
            need("gauge", "gauge number, or 1/0 to 4/0", Takes::Text, "10"),
            or("temperature", "of the wire", Takes::One(Temperature), "20 °C").signed(),
        ],
        formula: "d = 0.127 mm x 92^((36 - n) / 39); resistance 1/58 ohm mm2/m (1 + 0.00393 (T - 20 °C)) / area",
        source: "ASTM B258; IEC 60028",
        cases: &[
            "gauge=10 -> diameter: 2.59 mm; ASTM B258",
            "gauge=10 -> copper area: 5.26 mm2; ASTM B258",
            "gauge=4/0 -> diameter: 0.4600 in; ASTM B258",
            "gauge=2/0 -> copper area: 67 mm2; ASTM B258",
        ],
        work: awg,
        ..FIGURE
    },
    Figure {
        id: "gauge-of-area",
        called: &["mm2 to awg", "metric wire to gauge"],
        group: Group::Charging,
        name: "Gauge of a metric wire",
        meaning: "gauge that is as thick as an area of copper",
        inputs: &[need("area", "copper area", Takes::One(Area), "2.5 mm2")],
        formula: "n = 36 - 39 ln(d / 0.127 mm) / ln 92",
        source: "ASTM B258",
        cases: &["area=5.261 mm2 -> gauge number: 10; ASTM B258"],
        work: gauge,
        ..FIGURE
    },
];

fn run(g: &Given<'_>) -> Run {
    if g.word("return") == "wire" { Run::ThereAndBack } else { Run::OneWay }
}

fn alternator(g: &Given<'_>) -> Worked {
    let load = |(power, duty): &(f64, f64)| Load { power: Watts::new::<watt>(*power), duty: *duty };
    let loads: Vec<Load> = g.pairs("loads").iter().map(load).collect();
    let demand = demand(&loads, g.voltage("bus"))?;
    Ok(vec![
        number("demand", demand.value, &AMPERE),
        number("rating", rating_for(demand, g.si("utilisation"))?.value, &AMPERE),
    ])
}

fn charging(g: &Given<'_>) -> Worked {
    let curve: Vec<(f64, f64)> =
        g.pairs("curve").iter().map(|(speed, out)| (speed * 60.0 / std::f64::consts::TAU, *out)).collect();
    let drive = Drive {
        curve: &curve,
        crank_pulley: g.length("crank-pulley"),
        generator_pulley: g.length("generator-pulley"),
    };
    let check = check_drive(
        &drive,
        (g.rpm("idle"), g.current("idle-load")),
        (g.rpm("cruise"), g.current("cruise-load")),
    )?;
    let mut out = vec![
        rpm("rotor at idle", check.idle.rotor_rpm),
        number("output at idle", check.idle.output.value, &AMPERE),
        number("left at idle", check.idle.surplus.value, &AMPERE),
        rpm("rotor on the road", check.cruise.rotor_rpm),
        number("output on the road", check.cruise.output.value, &AMPERE),
        number("left on the road", check.cruise.surplus.value, &AMPERE),
    ];
    match (check.idle_rpm_wanted, check.largest_pulley) {
        (Some(idle), Some(pulley)) => {
            out.push(rpm("idle that carries the load", idle));
            out.push(number("largest generator pulley that does", pulley.value, &MM));
        }
        _ => out.push(text("verdict", "no speed carries the idle load: the generator is too small")),
    }
    Ok(out)
}

fn rotor(g: &Given<'_>) -> Worked {
    let (crank, pulley) = (g.length("crank-pulley"), g.length("generator-pulley"));
    let mut out = vec![rpm("rotor speed", rotor_speed(crank, pulley, g.rpm("engine"))?)];
    if g.known("excites-at").is_some() {
        let engine = engine_speed_for_rotor(crank, pulley, g.rpm("excites-at"))?;
        out.push(rpm("engine speed at which it excites", engine));
    }
    Ok(out)
}

fn battery(g: &Given<'_>) -> Worked {
    let time = reserve(g.charge("capacity"), g.current("load"), g.si("exponent"), g.si("usable"))?;
    Ok(vec![number("lasts", time.value, &MINUTE)])
}

fn cranking(g: &Given<'_>) -> Worked {
    Ok(vec![number("cold current", cold_current(g.current("starter"), g.si("factor"))?.value, &AMPERE)])
}

fn drop(g: &Given<'_>) -> Worked {
    let (area, current, length) = (g.area("area"), g.current("current"), g.length("length"));
    let lost = wire_drop(current, length, area, run(g), g.temperature("temperature"))?;
    let bus = g.si("bus");
    if !(4.0..=60.0).contains(&bus) {
        return Err(Trouble::Words(format!("voltage of the system: found {bus}, expected 4 to 60 V")));
    }
    Ok(vec![
        number("voltage lost", lost.value, &VOLT),
        number("share of the system", lost.value / bus, &PERCENT),
        number("heat in the wire", lost.value * current.value, &WATT),
        number("copper area", area.value, &COPPER),
    ])
}

fn wire(g: &Given<'_>) -> Worked {
    let (current, length, allowed) = (g.current("current"), g.length("length"), g.voltage("allowed"));
    let lay = if g.word("lay") == "free" { Lay::Free } else { Lay::Bundled };
    let heat = g.temperature("temperature");
    let area = area_for(current, length, allowed, run(g), heat)?;
    let mut out = vec![number("area for the drop alone", area.value, &COPPER)];
    match wire_for(current, length, allowed, run(g), lay, heat)? {
        Some(size) => {
            out.push(number("wire", size.area_mm2 * 1e-6, &COPPER));
            out.push(text("nearest gauge", gauge_name(size.gauge)));
            match size.guarded_by(lay) {
                Some(most) => {
                    out.extend(fuse_of(current, ElectricCurrent::new::<ampere>(most))?);
                    out.push(number("largest fuse", most, &AMPERE));
                }
                None => out.push(text("largest fuse", "none: battery cable")),
            }
        }
        None => out.push(text("wire", "none of the table: two cables side by side, or a shorter run")),
    }
    Ok(out)
}

fn fuse(g: &Given<'_>) -> Worked {
    fuse_of(g.current("load"), g.current("largest"))
}

fn fuse_of(load: ElectricCurrent, largest: ElectricCurrent) -> Worked {
    let amps = |i: ElectricCurrent| i.get::<ampere>();
    Ok(match fuse_for(load, largest)? {
        Fuse::Rated(rating) => vec![number("fuse", rating.value, &AMPERE)],
        Fuse::WireTooThin { wanted } => vec![text(
            "fuse",
            format!("none: the load wants {} A, so a thicker wire whose largest fuse is that", amps(wanted)),
        )],
        Fuse::LoadTooLarge { most } => {
            vec![text("fuse", format!("none: at most {} A can be fused", amps(most)))]
        }
    })
}

fn link(g: &Given<'_>) -> Worked {
    let gauge = link_gauge(gauge_of(g)?)?;
    Ok(vec![
        text("gauge of the link", gauge_name(gauge)),
        number("copper area", gauge_area(gauge)?.value, &COPPER),
    ])
}

/// The number of a gauge as it is written: "10", or -1 for "2/0".
fn gauge_of(g: &Given<'_>) -> Result<i32, Trouble> {
    let text = g.word("gauge").trim_end_matches("AWG").trim();
    let number = match text.split_once('/') {
        Some((zeros, "0")) => zeros.parse::<i32>().ok().filter(|z| (1..=4).contains(z)).map(|z| 1 - z),
        Some(_) => None,
        None => text.parse::<u8>().ok().map(i32::from),
    };
    number.ok_or_else(|| {
        Trouble::Words(format!("gauge: \"{text}\" is no gauge; expected 0 to 40, or 1/0 to 4/0"))
    })
}

fn awg(g: &Given<'_>) -> Worked {
    let n = gauge_of(g)?;
    let area = gauge_area(n)?;
    let heat = ThermodynamicTemperature::new::<degree_celsius>(g.si("temperature"));
    let ohms = ohms_per_metre(area, heat)?;
    Ok(vec![
        number("diameter", awg_diameter(n)?.value, &FIT),
        number("copper area", area.value, &COPPER),
        number("resistance", ohms, &MILLIOHM_M),
    ])
}

fn gauge(g: &Given<'_>) -> Worked {
    let area = g.area("area");
    let at_least = gauge_for(area)?;
    Ok(vec![
        number("gauge number", gauge_number(area)?, &BARE),
        text("thinnest gauge with at least that", gauge_name(at_least)),
        number("which has", gauge_area(at_least)?.value, &COPPER),
    ])
}
