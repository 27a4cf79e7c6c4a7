//! Figures of a stop: axle loads, balance, distance.

use knockon_figures::brakes::STANDARD_GRAVITY;
use knockon_figures::brakes::balance::{Stance, axle_loads, balance, front_share, most_rear};
use knockon_figures::brakes::stopping::{mean_deceleration, rule_distance, stopping_distance};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::Acceleration;

use super::brakes::{DECELERATION, FRONT, REAR};
use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{BARE, M_S2, METRE, NEWTON, NM_MPA, PERCENT, number, text};
use crate::units::Dimension::{Length, Mass, Ratio, Speed, Time};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "axle-loads",
        called: &["brake balance", "weight transfer", "brake bias", "proportioning"],
        group: Group::Brakes,
        name: "Brake balance",
        meaning: "axle loads in a stop, and which wheels lock first",
        inputs: &[
            need("mass", "mass laden for the stop", Takes::One(Mass), "1900 kg"),
            need("front-static", "share of the weight on the front axle at rest", Takes::One(Ratio), "55 %"),
            need("gravity-height", "height of the centre of gravity", Takes::One(Length), "26 in"),
            need("wheelbase", "between the axles", Takes::One(Length), "114 in"),
            FRONT,
            REAR,
            DECELERATION,
        ],
        formula: "load moved = m a h / L; ideal share = front static + z h / L; share = front / (front + rear); grip = z x \
                  share of the brakes / share of the load; most at the rear = front (1 - ideal) / ideal",
        source: "Limpert, Brake Design and Safety; Gillespie, Fundamentals of Vehicle Dynamics",
        cases: &[
            "mass=1900 kg front-static=57 % gravity-height=0.7 m wheelbase=2.9 m front=420 N·m/MPa rear=180 N·m/MPa -> front axle load: 13768.87476 N; Limpert; Gillespie; confirmed by a linear solve",
            "mass=1900 kg front-static=57 % gravity-height=0.7 m wheelbase=2.9 m front=420 N·m/MPa rear=180 N·m/MPa -> ideal front share: 73.8965517 %; Limpert; Gillespie; confirmed by a linear solve",
        ],
        work: axles,
        ..FIGURE
    },
    Figure {
        id: "stopping-distance",
        called: &["braking distance", "how far to stop"],
        group: Group::Brakes,
        name: "Stopping distance",
        meaning: "distance to a stand, with the driver's reaction and without, and what a modern car may take",
        inputs: &[
            need("speed", "where the driver sees it", Takes::One(Speed), "50 mph"),
            DECELERATION,
            or("reaction", "before the brakes bite", Takes::One(Time), "1 s"),
        ],
        formula: "braking v^2 / (2 a), stopping v t more; by the rule, from the pedal on and without the driver's reaction, 0.10 \
                  V + 0.0060 V^2 in metres and km/h",
        source: "kinematics; 49 CFR 571.135 S7.5.3(b), UN R13-H Annex 3",
        cases: &[
            "speed=100 km/h -> a modern car may take, without it: 70 m; 49 CFR 571.135 S7.5.3(b)",
            "speed=60 km/h -> a modern car may take, without it: 27.6 m; 49 CFR 571.135 S7.5.3(b)",
            "speed=80 km/h -> a modern car may take, without it: 46.4 m; 49 CFR 571.135 S7.5.3(b)",
        ],
        moves: &["speed -> stopping distance, with the reaction: rises"],
        work: stopping,
        ..FIGURE
    },
    Figure {
        id: "mean-deceleration",
        called: &["brake test", "retardation", "deceleration from a stop"],
        group: Group::Brakes,
        name: "Deceleration of a stop",
        meaning: "mean deceleration of a measured stop",
        inputs: &[
            need("speed", "where the brakes bite", Takes::One(Speed), "30 mph"),
            need("distance", "from there to the stand", Takes::One(Length), "50 ft"),
        ],
        formula: "v^2 / (2 s)",
        source: "kinematics",
        cases: &[
            "speed=100 km/h distance=60 m -> mean deceleration: 6.43004115 m/s2; UN R13-H asks 6.43 m/s2 for that distance",
        ],
        moves: &["distance -> mean deceleration: falls"],
        work: deceleration,
        ..FIGURE
    },
];

fn axles(g: &Given<'_>) -> Worked {
    let stance = Stance {
        mass: g.mass("mass"),
        front_static: g.si("front-static"),
        gravity_height: g.length("gravity-height"),
        wheelbase: g.length("wheelbase"),
    };
    let z = g.si("deceleration");
    let loads = axle_loads(&stance, z)?;
    let share = front_share(g.si("front"), g.si("rear"))?;
    let found = balance(&stance, share, z)?;
    let mut out = vec![
        number("front axle load", loads.front.value, &NEWTON),
        number("rear axle load", loads.rear.value, &NEWTON),
        number("ideal front share", loads.ideal_front_share, &PERCENT),
        number("front share", share, &PERCENT),
        number("grip the front tyres need", found.front_grip, &BARE),
        number("grip the rear tyres need", found.rear_grip, &BARE),
        text(
            "verdict",
            if found.over_ideal >= 0.0 {
                "the front wheels lock first: it stays straight"
            } else {
                "the rear wheels lock first: it turns round"
            },
        ),
    ];
    out.push(number(
        "most at the rear in this stop",
        most_rear(g.si("front"), loads.ideal_front_share)?,
        &NM_MPA,
    ));
    if let Some(at) = found.ideal_at_g {
        out.push(number("ideal at, in units of gravity", at, &BARE));
    }
    Ok(out)
}

fn stopping(g: &Given<'_>) -> Worked {
    let deceleration = Acceleration::new::<meter_per_second_squared>(g.si("deceleration") * STANDARD_GRAVITY);
    let (speed, reaction) = (g.speed("speed"), g.time("reaction"));
    let stopping = stopping_distance(speed, reaction, deceleration)?;
    let braking = stopping_distance(speed, reaction * 0.0, deceleration)?;
    let rule = rule_distance(speed)?;
    // both without the driver's reaction
    let said = if braking <= rule {
        "brakes as short as a modern car must"
    } else {
        "brakes longer than a modern car may: keep the distance"
    };
    Ok(vec![
        number("stopping distance, with the reaction", stopping.value, &METRE),
        number("braking distance, without it", braking.value, &METRE),
        number("a modern car may take, without it", rule.value, &METRE),
        text("verdict", said),
    ])
}

fn deceleration(g: &Given<'_>) -> Worked {
    let a = mean_deceleration(g.speed("speed"), g.length("distance"))?.value;
    Ok(vec![
        number("mean deceleration", a, &M_S2),
        number("in units of gravity", a / STANDARD_GRAVITY, &BARE),
    ])
}
