//! Figures of a stop: axle loads, balance, distance.

use knockon_figures::brakes::STANDARD_GRAVITY;
use knockon_figures::brakes::balance::{Stance, axle_loads, balance, front_share, most_rear};
use knockon_figures::brakes::stopping::{mean_deceleration, rule_distance, stopping_distance};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::Acceleration;

use super::brakes::{DECELERATION, FRONT, REAR};
use super::given::Given;
use super::input::{Takes, need, or};
use super::output::{BARE, M_S2, METRE, NEWTON, NM_MPA, PERCENT, number, text};
use super::{Figure, Group, Worked};
use crate::units::Dimension::{Length, Mass, Ratio, Speed, Time};

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "axle-loads",
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
        work: axles,
    },
    Figure {
        id: "stopping-distance",
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
        work: stopping,
    },
    Figure {
        id: "mean-deceleration",
        group: Group::Brakes,
        name: "Deceleration of a stop",
        meaning: "mean deceleration of a measured stop",
        inputs: &[
            need("speed", "where the brakes bite", Takes::One(Speed), "30 mph"),
            need("distance", "from there to the stand", Takes::One(Length), "50 ft"),
        ],
        formula: "v^2 / (2 s)",
        source: "kinematics",
        work: deceleration,
    },
];

fn axles(g: &Given) -> Worked {
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

fn stopping(g: &Given) -> Worked {
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

fn deceleration(g: &Given) -> Worked {
    let a = mean_deceleration(g.speed("speed"), g.length("distance"))?.value;
    Ok(vec![
        number("mean deceleration", a, &M_S2),
        number("in units of gravity", a / STANDARD_GRAVITY, &BARE),
    ])
}
