//! Engine figures: size, compression, carburettor size, health, timing, power.

use knockon_figures::air::standard_air;
use knockon_figures::carburation::{air_flow, flow_at_depression};
use knockon_figures::engine::geometry::{
    Cylinder, chamber_for, clearance_volume, compression_ratio, displacement, firing_interval,
    mean_piston_speed, piston_below_top, power, swept_volume,
};
use knockon_figures::engine::health::{LeakPath, compression_test, leak_down_test, wet_test};
use knockon_figures::engine::points::dwell_share;
use knockon_figures::engine::timing::{crank_turn, distributor_turn, rim_length};
use uom::si::f64::{Length as Measure, Pressure as Press, VolumeRate};
use uom::si::length::meter;
use uom::si::pressure::{inch_of_mercury, pascal};
use uom::si::volume_rate::cubic_foot_per_minute;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{
    BARE, CM3, DEGREE, DISPLACEMENT, KPA, KW, L_MIN, M_S, MM, PERCENT, number, text, verdict,
};
use crate::units::Dimension::{Angle, Length, Pressure, Ratio, RotationalSpeed, Torque, Volume};

const BORE: Input = need("bore", "bore of a cylinder", Takes::One(Length), "3.5625 in");
const STROKE: Input = need("stroke", "stroke of a piston", Takes::One(Length), "3.9375 in");
const RPM: Input = need("rpm", "engine speed", Takes::One(RotationalSpeed), "3800 rpm");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "displacement",
        called: &["cubic inches", "engine size", "bore and stroke", "cid"],
        group: Group::Engine,
        name: "Displacement",
        meaning: "displacement of an engine, and the turn between two firings",
        inputs: &[BORE, STROKE, need("cylinders", "how many", Takes::Whole, "6")],
        formula: "pi B^2 S / 4 x cylinders; 720° / cylinders",
        source: "geometry; Heywood ch. 2",
        cases: &[
            "bore=4.0 in stroke=3.48 in cylinders=8 -> displacement: 349.8478 in3; by a general-purpose library",
            "bore=4.0 in stroke=3.0 in cylinders=8 -> displacement: 301.593 in3; by a general-purpose library",
            "bore=4.0 in stroke=3.0 in cylinders=6 -> fires every: 120°; 720° / cylinders",
        ],
        moves: &["bore -> displacement: rises"],
        work: size,
        ..FIGURE
    },
    Figure {
        id: "compression-ratio",
        called: &["compression ratio", "head milling", "chamber volume", "cc a head"],
        group: Group::Engine,
        name: "Compression ratio",
        meaning: "compression ratio, and the chamber that gives another",
        inputs: &[
            BORE,
            STROKE,
            need("chamber", "chamber in the head, by plate and burette", Takes::One(Volume), "78 cm3"),
            or("dish", "hollow of the piston; below zero for a dome", Takes::One(Volume), "0 cm3")
                .signed()
                .example("4 cm3"),
            need("gasket", "thickness of the gasket when pressed", Takes::One(Length), "1.1 mm"),
            need("gasket-bore", "hole of the gasket", Takes::One(Length), "3.7 in"),
            or(
                "deck",
                "edge of the piston up to the block face; below zero where it stands proud",
                Takes::One(Length),
                "0 mm",
            )
            .signed()
            .example("0.4 mm"),
            or("wanted", "ratio wanted", Takes::One(Ratio), "unknown").example("8"),
        ],
        formula: "(swept + clearance) / clearance",
        source: "Heywood, Internal Combustion Engine Fundamentals, ch. 2",
        cases: &[
            "bore=4.0 in stroke=3.48 in chamber=64 cm3 dish=6 cm3 gasket-bore=4.1 in gasket=0.04 in deck=0.025 in -> compression ratio: 9.5513546213; by a general-purpose library",
            "bore=4.0 in stroke=3.48 in chamber=64 cm3 dish=6 cm3 gasket-bore=4.1 in gasket=0.04 in deck=0.025 in -> left over the piston: 83.8021848 cm3; by a general-purpose library",
        ],
        moves: &["chamber -> compression ratio: falls", "bore -> compression ratio: rises"],
        work: compression,
        ..FIGURE
    },
    Figure {
        id: "carburettor-size",
        called: &["carb size", "carb cfm", "carburetor cfm"],
        group: Group::Engine,
        name: "Carburettor size",
        meaning: "air an engine draws, and the rating a carburettor must have at either depression",
        inputs: &[
            need("displacement", "of all cylinders", Takes::One(Volume), "235 in3"),
            RPM,
            or("filling", "volumetric efficiency: 75 % old, 85 % good", Takes::One(Ratio), "75 %"),
        ],
        formula: "displacement x rpm / 2 x filling, in cu in and cfm CID x rpm x VE / 3456; rating x sqrt(3.0 / 1.5) at 3.0 inHg",
        source: "Heywood ch. 2 and 7; ratings at 1.5 and 3.0 inHg are common practice",
        cases: &[
            "displacement=350 in3 rpm=5500 rpm filling=85 % -> air: 473.452 cfm; cu in x rpm x filling / 3456, by a general-purpose library",
            "displacement=302 in3 rpm=6000 rpm filling=90 % -> air: 471.875 cfm; cu in x rpm x filling / 3456, by a general-purpose library",
        ],
        moves: &["rpm -> air: rises"],
        work: carburettor,
        ..FIGURE
    },
    Figure {
        id: "compression-test",
        called: &["low compression", "compression readings"],
        group: Group::Engine,
        name: "Compression test",
        meaning: "verdict on a compression test of an engine of 7 to 8 to 1",
        inputs: &[need(
            "readings",
            "one a cylinder, warm, throttle open",
            Takes::Several(Pressure),
            "135 psi, 130 psi, 128 psi, 132 psi, 110 psi, 131 psi",
        )],
        formula: "good from 115 psi and 15 % spread, watch from 90 psi and 25 %, else renew",
        source: "common practice; 25 % is a maker's rule",
        cases: &[
            "readings=160 psi, 150 psi, 120 psi -> spread: 25 %; a maker's service text: the lowest at least 75 % of the highest",
        ],
        work: readings,
        ..FIGURE
    },
    Figure {
        id: "wet-test",
        called: &["oil in the cylinder test"],
        group: Group::Engine,
        name: "Wet compression test",
        meaning: "where a low cylinder leaks, by a spoon of oil",
        inputs: &[
            need("dry", "reading before the oil", Takes::One(Pressure), "85 psi"),
            need("wet", "reading after it", Takes::One(Pressure), "120 psi"),
        ],
        formula: "a fifth more points to the rings",
        source: "common practice",
        cases: &["dry=85 psi wet=120 psi -> leaks at: rings or bore: the oil sealed it; common practice"],
        work: wet,
        ..FIGURE
    },
    Figure {
        id: "leak-down",
        called: &["leakdown", "cylinder leakage"],
        group: Group::Engine,
        name: "Leak-down test",
        meaning: "verdict on a leak-down test",
        inputs: &[need("leak", "share of the pressure fed that is lost", Takes::One(Ratio), "18 %")],
        formula: "up to 15 % good, up to 30 % watch, more renew",
        source: "common practice",
        cases: &["leak=18 % -> verdict: watch: usable, to be measured again; common practice"],
        work: leak,
        ..FIGURE
    },
    Figure {
        id: "timing-marks",
        called: &["ignition timing", "timing mark on the pulley", "degree the balancer"],
        group: Group::Engine,
        name: "Timing marks",
        meaning: "degrees of the crank in millimetres on the rim of its pulley",
        inputs: &[
            need("rim", "diameter where the mark is cut", Takes::One(Length), "6.5 in"),
            need("turn", "of the crank; above zero is before top dead centre", Takes::One(Angle), "8 deg")
                .signed(),
            or("found", "length of a mark that is on the rim", Takes::One(Length), "unknown")
                .signed()
                .example("10 mm"),
        ],
        formula: "pi D x turn / 360; the distributor turns half as far",
        source: "geometry",
        cases: &["rim=6.5 in turn=8 deg -> along the rim: 11.5262 mm; arc of a circle"],
        work: timing,
        ..FIGURE
    },
    Figure {
        id: "dwell",
        called: &["dwell angle", "points gap", "points dwell", "contact breaker"],
        group: Group::Engine,
        name: "Dwell",
        meaning: "dwell of the points in degrees and as a share",
        inputs: &[
            need("cylinders", "fired by this set of points", Takes::Whole, "6"),
            need("dwell", "turn of the distributor with the points closed", Takes::One(Angle), "38 deg"),
        ],
        formula: "share = dwell / (360° / cylinders); a smaller gap is more dwell",
        source: "definition; gap and timing are common practice: set the dwell before the timing",
        cautions: &["the coil stings, and can hurt who wears a pacemaker: ignition off at the points"],
        cases: &[
            "cylinders=8 dwell=30 deg -> closed for: 66.67 %; 30 of 45°, common practice for an eight",
            "cylinders=4 dwell=54 deg -> closed for: 60 %; 54 of 90°, common practice for a four",
            "cylinders=6 dwell=36 deg -> one lobe: 60°; 360° / cylinders",
        ],
        work: dwell,
        ..FIGURE
    },
    Figure {
        id: "piston-speed",
        called: &["redline", "rod length", "piston position"],
        group: Group::Engine,
        name: "Piston speed and place",
        meaning: "mean speed of a piston, and how far it is below the top",
        inputs: &[
            STROKE,
            RPM,
            or("rod", "connecting rod between centres, for the place", Takes::One(Length), "unknown")
                .example("6.81 in"),
            or("crank", "from top dead centre", Takes::One(Angle), "20°").signed(),
        ],
        formula: "2 S n; r + l - (r cos t + sqrt(l^2 - r^2 sin^2 t))",
        source: "Heywood ch. 2; above 20 m/s an old engine does not last (common practice)",
        cases: &[
            "stroke=3.48 in rpm=6000 rpm rod=5.7 in -> mean piston speed: 17.6784 m/s; 2 S n, by a general-purpose library",
            "stroke=3.48 in rpm=6000 rpm rod=5.7 in crank=77 deg -> below top dead centre: 40.8066994 mm; slider-crank, confirmed by vector geometry",
        ],
        moves: &["stroke -> mean piston speed: rises"],
        work: piston,
        ..FIGURE
    },
    Figure {
        id: "power",
        called: &["horsepower from torque", "torque to horsepower", "altitude power loss"],
        group: Group::Engine,
        name: "Power of a torque",
        meaning: "power of a torque at a speed, and what altitude leaves of it",
        inputs: &[
            need("torque", "at the flywheel", Takes::One(Torque), "210 lbf·ft"),
            RPM,
            or("altitude", "over the sea", Takes::One(Length), "0 m").signed().example("1600 m"),
        ],
        formula: "2 pi n T; less about the ratio of air density",
        source: "definition; US Standard Atmosphere 1976",
        cases: &["torque=100 lbf·ft rpm=5252.113 rpm -> power: 100 hp; NIST SP 811: 1 hp is 550 ft lbf/s"],
        moves: &["torque -> power: rises"],
        work: power_of,
        ..FIGURE
    },
];

fn size(g: &Given<'_>) -> Worked {
    let (bore, stroke, cylinders) = (g.length("bore"), g.length("stroke"), g.whole("cylinders"));
    Ok(vec![
        number("displacement", displacement(bore, stroke, cylinders)?.value, &DISPLACEMENT),
        number("of one cylinder", swept_volume(bore, stroke)?.value, &DISPLACEMENT),
        number("fires every", firing_interval(cylinders)?.value, &DEGREE),
    ])
}

fn compression(g: &Given<'_>) -> Worked {
    let cylinder = Cylinder {
        bore: g.length("bore"),
        stroke: g.length("stroke"),
        chamber: g.volume("chamber"),
        dish: g.volume("dish"),
        gasket_bore: g.length("gasket-bore"),
        gasket: g.length("gasket"),
        deck: g.length("deck"),
    };
    let mut out = vec![
        number("compression ratio", compression_ratio(&cylinder)?, &BARE),
        number("left over the piston", clearance_volume(&cylinder)?.value, &CM3),
    ];
    if let Some(wanted) = g.known("wanted") {
        out.push(number("chamber for the ratio wanted", chamber_for(wanted, &cylinder)?.value, &CM3));
    }
    Ok(out)
}

fn carburettor(g: &Given<'_>) -> Worked {
    let air = air_flow(g.volume("displacement"), g.rpm("rpm"), g.si("filling"))?;
    let depression = Press::new::<inch_of_mercury>;
    let small = flow_at_depression(air, depression(1.5), depression(3.0))?;
    let cfm = |flow: VolumeRate| format!("{:.0} cfm", flow.get::<cubic_foot_per_minute>());
    Ok(vec![
        number("air", air.value, &L_MIN),
        text("four-barrel, rated at 1.5 inHg", cfm(air)),
        text("one- or two-barrel, rated at 3.0 inHg", cfm(small)),
    ])
}

fn readings(g: &Given<'_>) -> Worked {
    let readings: Vec<Press> = g.numbers("readings").iter().map(|p| Press::new::<pascal>(*p)).collect();
    let found = compression_test(&readings)?;
    Ok(vec![
        number("lowest", found.lowest.value, &KPA),
        number("highest", found.highest.value, &KPA),
        number("spread", found.spread, &PERCENT),
        verdict(found.verdict),
    ])
}

fn wet(g: &Given<'_>) -> Worked {
    let said = match wet_test(g.pressure("dry"), g.pressure("wet"))? {
        LeakPath::RingsOrBore => "rings or bore: the oil sealed it",
        LeakPath::ValvesOrGasket => "a valve or the head gasket: the oil changed nothing",
    };
    Ok(vec![text("leaks at", said)])
}

fn leak(g: &Given<'_>) -> Worked {
    Ok(vec![verdict(leak_down_test(g.si("leak") * 100.0)?)])
}

fn timing(g: &Given<'_>) -> Worked {
    let (rim, turn): (Measure, _) = (g.length("rim"), g.angle("turn"));
    let mut out = vec![
        number("along the rim", rim_length(rim, turn)?.value, &MM),
        number("turn of the distributor", distributor_turn(turn)?.value, &DEGREE),
    ];
    if g.known("found").is_some() {
        out.push(number("turn of the mark found", crank_turn(rim, g.length("found"))?.value, &DEGREE));
    }
    Ok(out)
}

fn piston(g: &Given<'_>) -> Worked {
    let speed = mean_piston_speed(g.length("stroke"), g.rpm("rpm"))?;
    let said = if speed.value > 20.0 { "too fast for an old engine" } else { "an old engine bears it" };
    let mut out = vec![number("mean piston speed", speed.value, &M_S), text("verdict", said)];
    if g.known("rod").is_some() {
        let below = piston_below_top(g.angle("crank"), g.length("stroke"), g.length("rod"))?;
        out.push(number("below top dead centre", below.value, &MM));
    }
    Ok(out)
}

fn dwell(g: &Given<'_>) -> Worked {
    let cylinders = g.whole("cylinders");
    let share = dwell_share(cylinders, g.angle("dwell"))?;
    let lobe = firing_interval(cylinders)?.value / 2.0;
    Ok(vec![
        number("closed for", share, &PERCENT),
        number("one lobe", lobe, &DEGREE),
        number("open for", lobe - g.si("dwell"), &DEGREE),
    ])
}

fn power_of(g: &Given<'_>) -> Worked {
    let power = power(g.torque("torque"), g.rpm("rpm"))?;
    let left = standard_air(Measure::new::<meter>(g.si("altitude")))?.density_ratio;
    Ok(vec![number("power", power.value, &KW), number("about left at the altitude", power.value * left, &KW)])
}
