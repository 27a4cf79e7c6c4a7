//! Limits of charging and starting: belt, drive, output against load, battery.

use knockon_figures::charging::battery::{cold_current, reserve};
use knockon_figures::charging::loads::rating_for;
use knockon_figures::charging::{engine_speed_for_rotor, output_at, rotor_speed};
use knockon_figures::driveline;
use uom::si::f64::Length as Measure;

use super::Inputs;
use super::entry::{Answer, Entry, close, curve, less, more, one, told};
use crate::units::Dimension::{Charge, Current, Length, PerLength, Ratio, RotationalSpeed, Speed, Time};

const CRANK: super::entry::Input = one("crank-pulley", Length);
const PULLEY: super::entry::Input = one("generator-pulley", Length);

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "belt-power",
        inputs: &[one("belt-limit", Current), one("output", Current)],
        levers: &[more("belt-limit", "that the belt carries, by a wider belt"), less("output", "alternator")],
        work: belt,
    },
    Entry {
        name: "excitation",
        inputs: &[CRANK, one("excites-at", RotationalSpeed), PULLEY, one("idle", RotationalSpeed)],
        levers: &[
            less("excites-at", "rotor speed at which the unit excites"),
            less("generator-pulley", "generator pulley"),
            more("idle", "idle"),
        ],
        work: excitation,
    },
    Entry {
        name: "idle-balance",
        inputs: &[CRANK, curve("curve"), PULLEY, one("idle", RotationalSpeed), one("load", Current)],
        levers: &[
            less("load", "load at idle"),
            less("generator-pulley", "generator pulley"),
            more("idle", "idle"),
        ],
        work: idle,
    },
    Entry {
        name: "road-balance",
        inputs: &[
            one("axle-ratio", Ratio),
            CRANK,
            curve("curve"),
            PULLEY,
            one("load", Current),
            one("speed", Speed),
            one("top-gear", Ratio),
            one("tyre-revs", PerLength),
        ],
        levers: &[
            less("load", "load on the road"),
            less("generator-pulley", "generator pulley"),
            more("top-gear", "top gear"),
        ],
        work: road,
    },
    Entry {
        name: "rotor-speed",
        inputs: &[CRANK, one("engine", RotationalSpeed), PULLEY, one("most", RotationalSpeed)],
        levers: &[more("generator-pulley", "generator pulley"), less("engine", "engine speed")],
        work: rotor,
    },
    Entry {
        name: "alternator-size",
        inputs: &[one("load", Current), one("output", Current), one("share", Ratio)],
        levers: &[more("output", "alternator"), less("load", "load")],
        work: size,
    },
    Entry {
        name: "battery-reserve",
        inputs: &[
            one("capacity", Charge),
            one("exponent", Ratio),
            one("load", Current),
            one("share", Ratio),
            one("want", Time),
        ],
        levers: &[more("capacity", "battery"), less("load", "load")],
        work: lasts,
    },
    Entry {
        name: "cold-current",
        inputs: &[one("cold", Current), one("factor", Ratio), one("starter", Current)],
        levers: &[more("cold", "cold current of the battery"), less("starter", "starter current")],
        work: cold,
    },
];

/// Current a belt carries against what the generator gives (common practice).
fn belt(i: &Inputs<'_>) -> Answer {
    let (limit, output) = (i.number("belt-limit")?, i.number("output")?);
    let text = || format!("the belt carries {limit:.0} A of alternator, which gives {output:.0} A");
    Ok((limit >= output - close(limit, output), i.say(text)))
}

fn pulleys(i: &Inputs<'_>) -> Result<(Measure, Measure), String> {
    Ok((i.length("crank-pulley")?, i.length("generator-pulley")?))
}

/// `rotor = engine x crank pulley / generator pulley` (belt kinematics).
fn excitation(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let (idle, excites) = (i.rpm("idle")?, i.rpm("excites-at")?);
    let rotor = told(rotor_speed(crank, pulley, idle))?;
    let engine = told(engine_speed_for_rotor(crank, pulley, excites))?;
    let text = || {
        format!(
            "at {idle:.0} rpm idle the rotor turns {rotor:.0} rpm, it excites at {excites:.0} rpm, which needs {engine:.0} engine rpm"
        )
    };
    Ok((rotor >= excites - close(rotor, excites), i.say(text)))
}

/// By how much a generator must give more.
fn short(output: f64, load: f64) -> String {
    if output < load { format!(", {:.1} A short", load - output) } else { String::new() }
}

/// Output at idle by the maker's curve against the load.
fn idle(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let load = i.number("load")?;
    let rotor = told(rotor_speed(crank, pulley, i.rpm("idle")?))?;
    let output = told(output_at(&i.curve("curve")?, rotor))?;
    let text = || {
        format!(
            "at idle the generator gives {output:.1} A at {rotor:.0} rotor rpm, the load is {load:.1} A{}",
            short(output, load)
        )
    };
    Ok((output >= load - close(output, load), i.say(text)))
}

/// Output on the road by the maker's curve against the load; a longer top gear slows the generator too.
fn road(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let load = i.number("load")?;
    let engine = told(driveline::engine_speed(
        i.speed("speed")?,
        i.density("tyre-revs")?,
        i.number("axle-ratio")?,
        i.number("top-gear")?,
    ))?;
    let rotor = told(rotor_speed(crank, pulley, engine))?;
    let output = told(output_at(&i.curve("curve")?, rotor))?;
    let text = || {
        let speed = i.value("speed").map_or_else(String::new, crate::value::Value::text);
        format!(
            "at {speed} in top gear the engine turns {engine:.0} rpm and the rotor {rotor:.0} rpm, which gives {output:.1} A; the load is {load:.1} A{}",
            short(output, load)
        )
    };
    Ok((output >= load - close(output, load), i.say(text)))
}

/// Rotor speed at the highest engine speed against what the unit stands.
fn rotor(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let (engine, most) = (i.rpm("engine")?, i.rpm("most")?);
    let rotor = told(rotor_speed(crank, pulley, engine))?;
    let text =
        || format!("at {engine:.0} engine rpm the rotor turns {rotor:.0} rpm, it stands {most:.0} rpm");
    Ok((rotor <= most + close(rotor, most), i.say(text)))
}

/// `rating = demand / share` (P = U I; the share it gives for hours is common practice).
fn size(i: &Inputs<'_>) -> Answer {
    let (load, output, share) = (i.number("load")?, i.number("output")?, i.number("share")?);
    let rating = told(rating_for(i.current("load")?, share))?.value;
    let text = || {
        let of =
            if share < 1.0 { format!(" at {:.0} % of its rating", share * 100.0) } else { String::new() };
        format!("the load is {load:.1} A, which wants {rating:.1} A{of}; the generator gives {output:.0} A")
    };
    Ok((output >= rating - close(output, rating), i.say(text)))
}

/// `20 h x share x (C / (20 h I))^k` (Peukert).
fn lasts(i: &Inputs<'_>) -> Answer {
    let (load, want) = (i.number("load")?, i.number("want")?);
    let time = reserve(i.charge("capacity")?, i.current("load")?, i.number("exponent")?, i.number("share")?);
    let time = told(time)?.value;
    let text = || {
        format!(
            "the battery alone runs {load:.1} A for {:.0} min, at least {:.0} min wanted",
            time / 60.0,
            want / 60.0
        )
    };
    Ok((time >= want - close(time, want), i.say(text)))
}

/// `cold current = starter x factor`, 2.5 to 3 (common practice).
fn cold(i: &Inputs<'_>) -> Answer {
    let have = i.number("cold")?;
    let want = told(cold_current(i.current("starter")?, i.number("factor")?))?.value;
    let text = || format!("the starter wants {want:.0} A cold, the battery is marked {have:.0} A");
    Ok((have >= want - close(have, want), i.say(text)))
}
