//! Gearing figures: engine speed, road speed, axle ratio after a tyre change, climb.

use knockon_figures::gearing;
use uom::si::f64::Force;
use uom::si::force::newton;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{BARE, KMH, NEWTON, Output, PERCENT, RPM, number, rpm, text};
use crate::units::Dimension::{Length, Mass, PerLength, Ratio, RotationalSpeed, Speed, Torque};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "engine-speed",
        called: &["rpm at 60 mph", "cruising rpm", "revs at a road speed", "overdrive rpm", "overdrive"],
        group: Group::Gearing,
        name: "Engine speed in each gear",
        meaning: "engine speed at a road speed in each gear",
        inputs: &[
            need("speed", "road speed", Takes::One(Speed), "55 mph"),
            need("tyre-revs", "turns of the road wheel, see tyre", Takes::One(PerLength), "728 rev/mile"),
            need("axle-ratio", "axle ratio", Takes::One(Ratio), "3.90"),
            or("gears", "gear ratios, first gear first; 1 is direct", Takes::Several(Ratio), "1")
                .example("2.94, 1.68, 1"),
        ],
        formula: "engine = road speed x tyre turns x axle ratio x gear",
        source: "gear kinematics; no slip in clutch, converter or tyre",
        cases: &[
            "speed=60 mph tyre-revs=698.391418 rev/mile axle-ratio=3.73 -> engine speed: 2605 rpm; 63,360 / (pi x 28.878 in) turns a mile, by a general-purpose library",
        ],
        moves: &["speed -> engine speed: rises"],
        work: engine_speed,
        ..FIGURE
    },
    Figure {
        id: "road-speed",
        called: &["top speed in a gear", "mph at rpm"],
        group: Group::Gearing,
        name: "Road speed",
        meaning: "road speed at an engine speed",
        inputs: &[
            need("engine", "engine speed", Takes::One(RotationalSpeed), "2500 rpm"),
            need("tyre-revs", "turns of the road wheel, see tyre", Takes::One(PerLength), "728 rev/mile"),
            need("axle-ratio", "axle ratio", Takes::One(Ratio), "3.90"),
            or("gear", "gear ratio; 1 is direct", Takes::One(Ratio), "1"),
        ],
        formula: "road speed = engine / (tyre turns x axle ratio x gear)",
        source: "gear kinematics",
        cases: &[
            "engine=2605 rpm tyre-revs=698.391418 rev/mile axle-ratio=3.73 -> road speed: 60 mph; 63,360 / (pi x 28.878 in) turns a mile, by a general-purpose library",
        ],
        moves: &["engine -> road speed: rises", "axle-ratio -> road speed: falls"],
        work: road_speed,
        ..FIGURE
    },
    Figure {
        id: "axle-ratio",
        called: &["effective gear ratio with bigger tires", "rear-end ratio", "differential ratio"],
        group: Group::Gearing,
        name: "Axle ratio after a tyre change",
        meaning: "what the axle ratio comes to on other tyres, and the ratio that restores it",
        inputs: &[
            need("axle-ratio", "axle ratio as fitted", Takes::One(Ratio), "3.90"),
            need("old-diameter", "diameter of the old tyre", Takes::One(Length), "28.2 in"),
            need("new-diameter", "diameter of the new tyre", Takes::One(Length), "31 in"),
        ],
        formula: "effective = ratio x old / new; restoring = ratio x new / old",
        source: "proportion",
        cases: &[
            "axle-ratio=3.90 old-diameter=28.2 in new-diameter=31 in -> restoring axle ratio: 4.28723; arithmetic of the definition",
        ],
        work: axle_ratio,
        ..FIGURE
    },
    Figure {
        id: "axle-ratio-wanted",
        called: &[
            "gear ratio for rpm at a speed",
            "rear-end gears",
            "which differential ratio",
            "final drive ratio wanted",
        ],
        group: Group::Gearing,
        name: "Axle ratio wanted",
        meaning: "axle ratio that gives an engine speed at a road speed",
        inputs: &[
            need("engine", "engine speed wanted", Takes::One(RotationalSpeed), "2500 rpm"),
            need("speed", "road speed", Takes::One(Speed), "60 mph"),
            need("tyre-revs", "turns of the road wheel, see tyre", Takes::One(PerLength), "728 rev/mile"),
            or("gear", "gear ratio; 1 is direct, an overdrive is less", Takes::One(Ratio), "1")
                .example("0.7"),
        ],
        formula: "axle ratio = engine / (road speed x tyre turns x gear)",
        source: "gear kinematics; no slip in clutch, converter or tyre",
        cases: &[
            "engine=2605 rpm speed=60 mph tyre-revs=698.391418 rev/mile -> axle ratio: 3.73; 63,360 / (pi x 28.878 in) turns a mile, by a general-purpose library",
        ],
        moves: &["engine -> axle ratio: rises", "speed -> axle ratio: falls"],
        work: ratio_wanted,
        ..FIGURE
    },
    Figure {
        id: "climb",
        called: &["grade", "hill", "crawl ratio", "steepest slope"],
        group: Group::Gearing,
        name: "Climb",
        meaning: "steepest grade a gear can hold",
        inputs: &[
            need("torque", "torque of the engine", Takes::One(Torque), "180 lbf·ft"),
            need("gear", "gear ratio, transfer box counted", Takes::One(Ratio), "2.94"),
            need("axle-ratio", "axle ratio", Takes::One(Ratio), "3.90"),
            need("rolling-radius", "axle to road, laden", Takes::One(Length), "14.2 in"),
            need("mass", "mass of the vehicle as driven", Takes::One(Mass), "1900 kg"),
            or("efficiency", "of gears and joints", Takes::One(Ratio), "85 %"),
            or(
                "rolling",
                "rolling resistance over weight: 1.5 % on asphalt, 10 to 30 % in sand",
                Takes::One(Ratio),
                "1.5 %",
            ),
        ],
        formula: "force = torque x ratios x efficiency / radius = weight (sin a + rolling cos a), solved for tan a",
        source: "equilibrium on a slope, without air resistance; efficiency and rolling are common practice",
        cases: &[
            "torque=180 lbf·ft gear=2.94 axle-ratio=3.90 rolling-radius=14.2 in mass=1900 kg -> force at the road: 6594.5 N; arithmetic of the definition",
        ],
        moves: &["torque -> force at the road: rises", "mass -> grade held: falls"],
        work: climb,
        ..FIGURE
    },
];

fn engine_speed(g: &Given<'_>) -> Worked {
    const NAMES: [&str; 8] = [
        "first gear",
        "second gear",
        "third gear",
        "fourth gear",
        "fifth gear",
        "sixth gear",
        "seventh gear",
        "eighth gear",
    ];
    let gears = g.numbers("gears");
    let speeds =
        gearing::engine_speeds(g.speed("speed"), g.per_length("tyre-revs"), g.si("axle-ratio"), gears)?;
    if let [one] = speeds[..] {
        return Ok(vec![rpm("engine speed", one)]);
    }
    Ok(speeds
        .iter()
        .enumerate()
        .map(|(i, speed)| rpm(NAMES.get(i).copied().unwrap_or("next gear"), *speed))
        .collect::<Vec<Output>>())
}

fn road_speed(g: &Given<'_>) -> Worked {
    let speed =
        gearing::road_speed(g.rpm("engine"), g.per_length("tyre-revs"), g.si("axle-ratio"), g.si("gear"))?;
    Ok(vec![number("road speed", speed.value, &KMH), number("at engine speed", g.si("engine"), &RPM)])
}

fn axle_ratio(g: &Given<'_>) -> Worked {
    let (ratio, old, new) = (g.si("axle-ratio"), g.length("old-diameter"), g.length("new-diameter"));
    Ok(vec![
        number("acts like, on the old tyres", gearing::effective_axle_ratio(ratio, old, new)?, &BARE),
        number("restoring axle ratio", gearing::restoring_axle_ratio(ratio, old, new)?, &BARE),
    ])
}

fn ratio_wanted(g: &Given<'_>) -> Worked {
    let ratio =
        gearing::axle_ratio_for(g.rpm("engine"), g.speed("speed"), g.per_length("tyre-revs"), g.si("gear"))?;
    Ok(vec![number("axle ratio", ratio, &BARE)])
}

fn climb(g: &Given<'_>) -> Worked {
    let overall = g.si("gear") * g.si("axle-ratio");
    let force =
        gearing::tractive_force(g.torque("torque"), overall, g.si("efficiency"), g.length("rolling-radius"))?;
    // what would lift the vehicle straight up climbs anything the tyres grip
    let weight = Force::new::<newton>(g.si("mass") * gearing::STANDARD_GRAVITY);
    let mut out = vec![
        number("force at the road", force.value, &NEWTON),
        number("force over weight", force.value / weight.value, &PERCENT),
    ];
    let grade = gearing::grade_held(force, g.mass("mass"), g.si("rolling"))?;
    out.push(number("grade held", grade, &PERCENT));
    if grade < 0.0 {
        out.push(text("verdict", "does not even roll on the level"));
    } else if grade > 0.6 {
        out.push(text("verdict", "the tyres slip before the engine stalls"));
    }
    Ok(out)
}
