//! Limits of the brakes: pedal force and travel, share of the axles, booster, drain-back.

use knockon_figures::brakes;
use knockon_figures::brakes::balance::{Stance, balance, front_share};
use knockon_figures::brakes::booster::{Booster, boosted};
use knockon_figures::brakes::hydraulics::{displaced, pedal_travel, share_of_stroke};

use super::Inputs;
use super::entry::{Answer, Entry, Way, close, less, more, one, qty, said, told};
use crate::phrase;
use crate::phrase::{Phrase, Piece};
use crate::quantity::Quantity;
use crate::units::Dimension::{Force, Length, Mass, Pressure, Ratio, TorquePerPressure, Volume};
use crate::value::Value;

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "pedal-force",
        inputs: &[
            one("deceleration", Ratio),
            one("front-gain", TorquePerPressure),
            one("gain", Ratio),
            one("mass", Mass),
            one("master-bore", Length),
            one("most", Force),
            one("pedal-ratio", Ratio),
            one("rear-gain", TorquePerPressure),
            one("rolling-radius", Length),
        ],
        levers: &[less("master-bore", "master cylinder bore"), more("pedal-ratio", "pedal ratio")],
        work: force,
    },
    Entry {
        name: "pedal-travel",
        inputs: &[
            one("bore", Length),
            one("free-play", Length),
            one("master-bore", Length),
            one("pedal-ratio", Ratio),
            one("piston-travel", Length),
            one("pistons", Ratio),
            one("share", Ratio),
            one("stroke", Length),
        ],
        levers: &[
            more("master-bore", "master cylinder bore"),
            more("stroke", "stroke of the master cylinder"),
        ],
        work: travel,
    },
    Entry {
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
    Entry {
        name: "booster-reach",
        inputs: &[
            one("diaphragm", Length),
            one("diaphragms", Ratio),
            one("gain", Ratio),
            one("rod-force", Force),
            one("vacuum", Pressure),
        ],
        levers: &[more("diaphragm", "diaphragm diameter"), said("vacuum", Way::More, inches_of_vacuum)],
        work: reach,
    },
    Entry {
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

/// `p = m a r / (front + rear); F = p (pi d^2 / 4) / (ratio x gain)` (physics; Limpert).
fn force(i: &Inputs<'_>) -> Answer {
    let deceleration = i.number("deceleration")?;
    let force = told(brakes::pedal_force(
        i.mass("mass")?,
        deceleration,
        i.length("rolling-radius")?,
        i.number("front-gain")?,
        i.number("rear-gain")?,
        i.length("master-bore")?,
        i.number("pedal-ratio")?,
        i.number("gain")?,
    ))?;
    let (newton, most) = (force.force.value, i.number("most")?);
    let text = || {
        phrase![
            "the pedal takes ",
            qty(newton, Force).beside(most),
            format!(" for {deceleration} g at "),
            qty(force.line_pressure.value, Pressure),
            " with the vacuum lost; at most ",
            qty(most, Force).beside(newton),
            " wanted"
        ]
    };
    Ok((newton <= most + close(newton, most), i.say(text)))
}

/// What the wheels displace, as a share of the master cylinder's stroke (conservation of volume).
fn travel(i: &Inputs<'_>) -> Answer {
    let master = i.length("master-bore")?;
    let volume = told(displaced(i.length("bore")?, i.length("piston-travel")?, i.whole("pistons")?))?;
    let pedal = told(pedal_travel(volume, master, i.number("pedal-ratio")?, i.length("free-play")?))?.value;
    let (share, most) = (told(share_of_stroke(volume, master, i.length("stroke")?))?, i.number("share")?);
    let text = || {
        phrase![
            "the wheels take ",
            qty(volume.value, Volume),
            ", ",
            qty(share, Ratio).percent().beside(most),
            " of the stroke and ",
            qty(pedal, Length),
            " of the pedal; at most ",
            qty(most, Ratio).percent().beside(share),
            " wanted"
        ]
    };
    Ok((share <= most + close(share, most), i.say(text)))
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

/// Force on the rod against the knee `vacuum x area / (gain - 1)` (force balance of the diaphragm; Limpert).
fn reach(i: &Inputs<'_>) -> Answer {
    let booster = Booster {
        gain: i.number("gain")?,
        diaphragm: i.length("diaphragm")?,
        diaphragms: u8::try_from(i.whole("diaphragms")?).unwrap_or(u8::MAX),
    };
    let force = i.force("rod-force")?;
    let out = told(boosted(&booster, force, i.pressure("vacuum")?))?;
    let knee = out.knee.map_or(f64::INFINITY, |k| k.value);
    let text = || {
        phrase![
            "the booster runs out at ",
            qty(knee, Force).beside(force.value),
            " on its rod, ",
            qty(force.value, Force).beside(knee),
            " is wanted; there it gives ",
            qty(out.output.value, Force)
        ]
    };
    Ok((force.value <= knee * (1.0 + 1e-9), i.say(text)))
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
