//! Figures of starting and drives: cables, standing drain, pulleys, belts, fuses over time.

use knockon_figures::belts::open_belt;
use knockon_figures::charging::battery::standing;
use knockon_figures::charging::{Run, rotor_speed};
use knockon_figures::wiring::fuse::BLADE_TIMES;
use knockon_figures::wiring::strands::wire_drop;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{COPPER, DEGREE, HOUR, MM, PERCENT, SECOND, VOLT, number, rpm, text};
use super::trouble::Trouble;
use crate::units::Dimension::{Area, Charge, Current, Length, Ratio, RotationalSpeed, Temperature, Voltage};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "starter-cable",
        called: &["starter cable voltage drop", "battery cable size", "slow cranking", "earth strap drop"],
        group: Group::Charging,
        name: "Starter cable",
        meaning: "volts a starter loses in its cables, there and back",
        inputs: &[
            need("current", "while it turns the engine", Takes::One(Current), "180 A"),
            need("length", "of the cable from battery to starter", Takes::One(Length), "1.5 m"),
            need("area", "copper area or gauge", Takes::One(Area), "35 mm2"),
            or("earth", "of the earth cable, as thick", Takes::One(Length), "0.4 m"),
            or("battery", "voltage of the system", Takes::One(Voltage), "12 V"),
            or("temperature", "of the copper", Takes::One(Temperature), "20 °C").signed(),
        ],
        formula: "U = I x (length + earth) x resistance (1 + 0.00393 (T - 20 °C)); body and frame are taken to lose nothing",
        source: "Ohm's law; most resistance of flexible cable IEC 60228 class 5; half a volt at 12 V is common practice",
        cautions: &["a short across a battery cable melts it: take the earth off first"],
        cases: &[
            "current=180 A length=2.6 m earth=0.4 m area=35 mm2 -> voltage lost: 0.299 V; IEC 60228 class 5: 0.554 ohm/km at 35 mm2",
            "current=20 A length=7.6 m earth=0.4 m area=4 mm2 -> voltage lost: 0.792 V; IEC 60228 class 5: 4.95 ohm/km at 4 mm2",
        ],
        moves: &["current -> voltage lost: rises"],
        work: starter,
    },
    Figure {
        id: "battery-standing",
        called: &["parasitic drain", "battery goes flat standing", "standing loss", "key off drain"],
        group: Group::Charging,
        name: "Battery standing",
        meaning: "how long a battery stands with a small drain",
        inputs: &[
            need("capacity", "at the 20-hour rate", Takes::One(Charge), "60 Ah"),
            need("drain", "with all switched off, self-discharge counted", Takes::One(Current), "50 mA"),
            or("usable", "share of the charge that may go", Takes::One(Ratio), "50 %"),
        ],
        formula: "capacity x usable / drain",
        source: "definition of the ampere-hour; 50 mA at most is common practice",
        cases: &["capacity=60 Ah drain=50 mA -> stands: 600 h; arithmetic of the definition"],
        moves: &["drain -> stands: falls"],
        work: stands,
        ..FIGURE
    },
    Figure {
        id: "generator-pulley",
        called: &["pulley for cut-in speed", "dynamo pulley size", "alternator pulley size"],
        group: Group::Charging,
        name: "Generator pulley",
        meaning: "pulley with which a generator cuts in at an engine speed",
        inputs: &[
            need("crank-pulley", "effective diameter", Takes::One(Length), "6.5 in"),
            need(
                "cut-in",
                "rotor speed at which it begins to charge",
                Takes::One(RotationalSpeed),
                "1200 rpm",
            ),
            need("engine", "engine speed at which it should", Takes::One(RotationalSpeed), "500 rpm"),
            or("top", "highest engine speed", Takes::One(RotationalSpeed), "4000 rpm"),
        ],
        formula: "pulley = crank pulley x engine / cut-in",
        source: "belt kinematics without slip",
        cautions: &["a rotor that is turned faster than it stands flies apart"],
        cases: &[
            "crank-pulley=165 mm cut-in=1302.63 rpm engine=600 rpm -> pulley at most: 76.0 mm; 165 / 76 x 600 rpm is 1,302.63 rpm",
        ],
        moves: &["engine -> pulley at most: rises"],
        work: pulley,
    },
    Figure {
        id: "belt-length",
        called: &["fan belt length", "v-belt length", "belt wrap", "belt size"],
        group: Group::Charging,
        name: "Belt length",
        meaning: "length of a belt over two pulleys, and how far it wraps the smaller",
        inputs: &[
            need("one", "effective diameter of a pulley", Takes::One(Length), "6.5 in"),
            need("other", "of the other", Takes::One(Length), "2.7 in"),
            need("centres", "from shaft to shaft", Takes::One(Length), "12 in"),
        ],
        formula: "2 sqrt(C^2 - (R - r)^2) + pi (R + r) + 2 (R - r) asin((R - r) / C); wrap 180° - 2 asin((R - r) / C)",
        source: "geometry; Machinery's Handbook; 120° of wrap at least is common practice",
        cautions: &["engine off and key out before a hand goes near a belt"],
        cases: &[
            "one=100 mm other=100 mm centres=300 mm -> length: 914.159 mm; two centres and one circumference",
            "one=200 mm other=100 mm centres=250 mm -> length: 981.273 mm; plane geometry by a general-purpose library",
            "one=200 mm other=100 mm centres=250 mm -> wraps the smaller by: 156.93°; plane geometry by a general-purpose library",
        ],
        moves: &["centres -> length: rises"],
        work: belt,
    },
    Figure {
        id: "fuse-time",
        called: &["how long a fuse takes to blow", "blade fuse time", "fuse curve"],
        group: Group::Charging,
        name: "Time of a blade fuse",
        meaning: "how long a blade fuse bears more than its rating",
        inputs: &[
            need("rating", "as marked", Takes::One(Current), "20 A"),
            need("current", "that flows", Takes::One(Current), "40 A"),
        ],
        formula: "bounds of the standard at 1.1, 1.35 and 2 times the rating",
        source: "ISO 8820-3, blade fuse type C",
        cases: &[
            "rating=20 A current=27 A -> at least: 0.75 s; ISO 8820-3",
            "rating=20 A current=27 A -> at most: 600 s; ISO 8820-3",
            "rating=20 A current=40 A -> at most: 5 s; ISO 8820-3",
        ],
        work: blows,
        ..FIGURE
    },
];

fn starter(g: &Given<'_>) -> Worked {
    let (out, back) = (g.length("length"), g.length("earth"));
    if !(out.value > 0.0 && back.value >= 0.0) {
        let found = format!("{} m and {} m", out.value, back.value);
        return Err(Trouble::Words(format!("cables: found {found}, expected more than 0 m there")));
    }
    let length = out + back;
    let heat = g.temperature("temperature");
    let lost = wire_drop(g.current("current"), length, g.area("area"), Run::OneWay, heat)?.value;
    let battery = g.si("battery");
    if !(4.0..=60.0).contains(&battery) {
        return Err(Trouble::Words(format!("voltage of the system: found {battery}, expected 4 to 60 V")));
    }
    let share = lost / battery;
    let said =
        if share <= 0.5 / 12.0 + 1e-9 { "thick enough" } else { "too thin or too long: over 0.5 V at 12 V" };
    Ok(vec![
        number("voltage lost", lost, &VOLT),
        number("share of the system", share, &PERCENT),
        number("copper area", g.si("area"), &COPPER),
        text("verdict", said),
    ])
}

fn stands(g: &Given<'_>) -> Worked {
    let time = standing(g.charge("capacity"), g.si("usable"), g.current("drain"))?;
    Ok(vec![number("stands", time.value, &HOUR)])
}

fn pulley(g: &Given<'_>) -> Worked {
    // the pulley is to the crank's as the engine to the rotor
    let (crank, engine, cut_in) = (g.length("crank-pulley"), g.rpm("engine"), g.rpm("cut-in"));
    rotor_speed(crank, crank, engine)?;
    rotor_speed(crank, crank, cut_in)?;
    let most = crank * (engine / cut_in);
    Ok(vec![
        number("pulley at most", most.value, &MM),
        rpm("rotor at the highest engine speed", rotor_speed(crank, most, g.rpm("top"))?),
    ])
}

fn belt(g: &Given<'_>) -> Worked {
    let belt = open_belt(g.length("one"), g.length("other"), g.length("centres"))?;
    let said =
        if belt.wrap.value >= 120_f64.to_radians() { "wraps far enough" } else { "slips: under 120°" };
    Ok(vec![
        number("length", belt.length.value, &MM),
        number("wraps the smaller by", belt.wrap.value, &DEGREE),
        text("verdict", said),
    ])
}

fn blows(g: &Given<'_>) -> Worked {
    let (rating, current) = (g.si("rating"), g.si("current"));
    if !(0.1..=500.0).contains(&rating) || !(0.0..=10_000.0).contains(&current) || current <= 0.0 {
        let found = format!("found {rating} A and {current} A");
        return Err(Trouble::Words(format!("{found}, expected a rating of 0.1 to 500 A and a current")));
    }
    let times = current / rating;
    let mut out = vec![number("times its rating", times, &super::output::BARE)];
    // the standard speaks of three points: one that is no further than this holds no longer, one beyond no shorter
    let before = BLADE_TIMES.iter().rev().find(|(m, ..)| *m <= times * (1.0 + 1e-9));
    let beyond = BLADE_TIMES.iter().find(|(m, ..)| *m >= times * (1.0 - 1e-9));
    match beyond {
        Some((_, least, _)) => out.push(number("at least", *least, &SECOND)),
        None => out.push(text("at least", "not said beyond twice the rating")),
    }
    match before.filter(|(.., most)| most.is_finite()) {
        Some((.., most)) => out.push(number("at most", *most, &SECOND)),
        None => out.push(text("at most", "it need not blow: 100 h at least at 1.1 times its rating")),
    }
    Ok(out)
}
