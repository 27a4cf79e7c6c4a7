//! Limits of the brakes: pedal force and travel, share of the axles, booster, drain-back.

use knockon_figures::brakes::balance::{Stance, balance, front_share};

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, less, more, one, qty, said, told};
use crate::phrase;
use crate::phrase::{Phrase, Piece};
use crate::quantity::Quantity;
use crate::units::Dimension::{Force, Length, Mass, Ratio, TorquePerPressure};
use crate::value::Value;

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "pedal-force",
        figure: "pedal-force",
        called: &[("front-gain", "front"), ("rear-gain", "rear"), ("gain", "booster-gain")],
        fixed: &[],
        asks: &[one("most", Force)],
        holds: Holds::AtMost("pedal force", "most"),
        says: "the pedal takes {pedal force} for {deceleration:plain} g at {line pressure} with the vacuum lost; at most {most} wanted",
        levers: &[less("master-bore", "master cylinder bore"), more("pedal-ratio", "pedal ratio")],
    },
    Declared {
        name: "pedal-travel",
        figure: "pedal-travel",
        called: &[],
        fixed: &[],
        asks: &[one("share", Ratio)],
        holds: Holds::AtMost("share of the stroke", "share"),
        says: "the wheels take {fluid displaced}, {share of the stroke} of the stroke and {pedal travel} of the pedal; at most {share} wanted",
        levers: &[
            more("master-bore", "master cylinder bore"),
            more("stroke", "stroke of the master cylinder"),
        ],
    },
    Declared {
        name: "booster-reach",
        figure: "booster",
        called: &[("rod-force", "force")],
        fixed: &[],
        asks: &[],
        holds: Holds::AtMost("rod-force", "force in at the knee"),
        says: "the booster runs out at {force in at the knee} on its rod, {rod-force} is wanted; there it gives {force out}",
        levers: &[more("diaphragm", "diaphragm diameter"), said("vacuum", Way::More, inches_of_vacuum)],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
        name: "brake-share",
        inputs: &[
            one("deceleration", Ratio),
            one("front-gain", TorquePerPressure),
            one("front-static", Ratio),
            one("gravity-height", Length),
            one("mass", Mass),
            one("rear-gain", TorquePerPressure),
            one("through", Ratio),
            one("wheelbase", Length),
        ],
        levers: &[
            said("through", Way::Less, |x| {
                let share = (x * 100.0 + 1e-6).floor();
                format!("a proportioning valve that lets {share:.0} % through to the rear").into()
            }),
            less("rear-gain", "rear brake torque for the pressure"),
            more("front-gain", "front brake torque for the pressure"),
        ],
        work: share,
    },
    Own {
        name: "drain-back",
        inputs: &[one("caliper-height", Length), one("master-height", Length)],
        levers: &[more("master-height", "height of the master cylinder")],
        work: drain_back,
    },
];

/// Vacuum is told in inches of mercury, upwards to a tenth.
fn inches_of_vacuum(pressure: f64) -> Phrase {
    let vacuum = format!("{:.1} inHg", (pressure / 338.638_8).ceil() / 10.0);
    let vacuum =
        Quantity::parse(&vacuum).map(|q| Piece::from(&Value::Quantity(q))).unwrap_or(Piece::from(vacuum));
    phrase![vacuum, " of vacuum"]
}

/// Share of the front brakes against `front static + z h / L`, of the line pressure only what the valve lets through to
/// the rear (Limpert; Gillespie).
fn share(i: &Inputs<'_>) -> Answer {
    let stance = Stance {
        mass: i.mass("mass")?,
        front_static: i.number("front-static")?,
        gravity_height: i.length("gravity-height")?,
        wheelbase: i.length("wheelbase")?,
    };
    let deceleration = i.number("deceleration")?;
    let through = i.number("through")?;
    if !(0.05..=1.0).contains(&through) {
        return Err(format!("through: found {through}, expected 0.05 to 1"));
    }
    let front = told(front_share(i.number("front-gain")?, i.number("rear-gain")? * through))?;
    let found = told(balance(&stance, front, deceleration))?;
    let text = || {
        let carries = front - found.over_ideal;
        let first = if found.over_ideal >= -1e-9 { "front wheels" } else { "rear wheels" };
        phrase![
            format!("the {first} lock first: the front brakes have "),
            qty(front, Ratio).percent().beside(carries),
            format!(" of the whole, at {deceleration} g the front axle carries "),
            qty(carries, Ratio).percent().beside(front)
        ]
    };
    Ok((found.over_ideal >= -1e-9, i.say(text)))
}

/// A caliper above its reservoir drains back to it (common practice).
fn drain_back(i: &Inputs<'_>) -> Answer {
    let (master, caliper) = (i.number("master-height")?, i.number("caliper-height")?);
    let text = || {
        phrase![
            "the master cylinder sits at ",
            qty(master, Length).beside(caliper),
            " and the calipers at ",
            qty(caliper, Length).beside(master)
        ]
    };
    Ok((master > caliper, i.say(text)))
}
