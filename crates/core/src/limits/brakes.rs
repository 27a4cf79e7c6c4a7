//! Limits of the brakes: pedal force and travel, share of the axles, booster, drain-back.

use knockon_figures::brakes;
use knockon_figures::brakes::balance::{Stance, balance, front_share};
use knockon_figures::brakes::booster::{Booster, boosted};
use knockon_figures::brakes::hydraulics::{displaced, pedal_travel, share_of_stroke};

use super::Inputs;
use super::entry::{Answer, Entry, Way, close, less, more, one, said, told};
use crate::units::Dimension::{Force, Length, Mass, Pressure, Ratio, TorquePerPressure};

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
                format!(
                    "a proportioning valve that lets {:.0} % through to the rear",
                    (x * 100.0 + 1e-6).floor()
                )
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
        levers: &[
            more("diaphragm", "diaphragm diameter"),
            said("vacuum", Way::More, |p| format!("{:.1} inHg of vacuum", (p / 338.638_8).ceil() / 10.0)),
        ],
        work: reach,
    },
    Entry {
        name: "drain-back",
        inputs: &[one("caliper-height", Length), one("master-height", Length)],
        levers: &[more("master-height", "height of the master cylinder")],
        work: drain_back,
    },
];

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
        format!(
            "{newton:.0} N on the pedal for {deceleration} g at {:.2} MPa, with the vacuum lost; at most {most:.0} N",
            force.line_pressure.value / 1e6
        )
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
        format!(
            "the wheels take {:.1} cm3, {:.0} % of the stroke and {:.0} mm of the pedal; at most {:.0} % wanted",
            volume.value * 1e6,
            share * 100.0,
            pedal * 1e3,
            most * 100.0
        )
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
        format!(
            "the front brakes have {:.0} % of the whole, at {deceleration} g the front axle carries {:.0} %: the {} lock first",
            front * 100.0,
            (front - found.over_ideal) * 100.0,
            if found.over_ideal >= -1e-9 { "front wheels" } else { "rear wheels" }
        )
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
        format!(
            "the booster runs out at {knee:.0} N on its rod, {:.0} N is wanted; there it gives {:.0} N",
            force.value, out.output.value
        )
    };
    Ok((force.value <= knee * (1.0 + 1e-9), i.say(text)))
}

/// A caliper above its reservoir drains back to it (common practice).
fn drain_back(i: &Inputs<'_>) -> Answer {
    let (master, caliper) = (i.number("master-height")?, i.number("caliper-height")?);
    let text = || {
        format!(
            "the master cylinder sits at {:.0} mm and the calipers at {:.0} mm",
            master * 1e3,
            caliper * 1e3
        )
    };
    Ok((master > caliper, i.say(text)))
}
