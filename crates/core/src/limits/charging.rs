//! Limits of charging and starting: belt, drive, output against load, battery.

use knockon_figures::charging::battery::{cold_current, reserve};
use knockon_figures::charging::loads::rating_for;
use knockon_figures::charging::{engine_speed_for_rotor, output_at, rotor_speed};
use knockon_figures::driveline;
use uom::si::f64::Length as Measure;

use super::Inputs;
use super::entry::{Answer, Entry, close, curve, less, more, one, qty, told};
use crate::phrase;
use crate::phrase::Phrase;
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
            less("excites-at", "rotor speed for excitation"),
            less("generator-pulley", "generator pulley diameter"),
            more("idle", "idle"),
        ],
        work: excitation,
    },
    Entry {
        name: "idle-balance",
        inputs: &[CRANK, curve("curve"), PULLEY, one("idle", RotationalSpeed), one("load", Current)],
        levers: &[
            less("load", "load at idle"),
            less("generator-pulley", "generator pulley diameter"),
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
            less("generator-pulley", "generator pulley diameter"),
            more("top-gear", "top gear"),
        ],
        work: road,
    },
    Entry {
        name: "rotor-speed",
        inputs: &[CRANK, one("engine", RotationalSpeed), PULLEY, one("most", RotationalSpeed)],
        levers: &[more("generator-pulley", "generator pulley diameter"), less("engine", "engine speed")],
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
    let text = || {
        let (limit, output) = (qty(limit, Current).beside(output), qty(output, Current).beside(limit));
        phrase!["the belt carries ", limit, " of alternator, which gives ", output]
    };
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
        .into()
    };
    Ok((rotor >= excites - close(rotor, excites), i.say(text)))
}

/// By how much a generator must give more.
fn short(output: f64, load: f64) -> Phrase {
    if output < load { phrase![", ", qty(load - output, Current), " short"] } else { phrase![] }
}

/// Output at idle by the maker's curve against the load.
fn idle(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let load = i.number("load")?;
    let rotor = told(rotor_speed(crank, pulley, i.rpm("idle")?))?;
    let output = told(output_at(&i.curve("curve")?, rotor))?;
    let text = || {
        phrase![
            "at idle the generator gives ",
            qty(output, Current).beside(load),
            format!(" at {rotor:.0} rotor rpm, the load is "),
            qty(load, Current).beside(output)
        ]
        .then(short(output, load))
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
        phrase![
            "at ",
            i.written("speed"),
            format!(
                " in top gear the engine turns {engine:.0} rpm and the rotor {rotor:.0} rpm, which gives "
            ),
            qty(output, Current).beside(load),
            "; the load is ",
            qty(load, Current).beside(output)
        ]
        .then(short(output, load))
    };
    Ok((output >= load - close(output, load), i.say(text)))
}

/// Rotor speed at the highest engine speed against what the unit stands.
fn rotor(i: &Inputs<'_>) -> Answer {
    let (crank, pulley) = pulleys(i)?;
    let (engine, most) = (i.rpm("engine")?, i.rpm("most")?);
    let rotor = told(rotor_speed(crank, pulley, engine))?;
    let text = || {
        format!("at {engine:.0} engine rpm the rotor turns {rotor:.0} rpm, it stands {most:.0} rpm").into()
    };
    Ok((rotor <= most + close(rotor, most), i.say(text)))
}

/// `rating = demand / share` (P = U I; the share it gives for hours is common practice).
fn size(i: &Inputs<'_>) -> Answer {
    let (load, output, share) = (i.number("load")?, i.number("output")?, i.number("share")?);
    let rating = told(rating_for(i.current("load")?, share))?.value;
    let text = || {
        let of =
            if share < 1.0 { format!(" at {:.0} % of its rating", share * 100.0) } else { String::new() };
        phrase![
            "the load is ",
            qty(load, Current),
            ", which wants ",
            qty(rating, Current).beside(output),
            format!("{of}; the generator gives "),
            qty(output, Current).beside(rating)
        ]
    };
    Ok((output >= rating - close(output, rating), i.say(text)))
}

/// `20 h x share x (C / (20 h I))^k` (Peukert).
fn lasts(i: &Inputs<'_>) -> Answer {
    let (load, want) = (i.number("load")?, i.number("want")?);
    let time = reserve(i.charge("capacity")?, i.current("load")?, i.number("exponent")?, i.number("share")?);
    let time = told(time)?.value;
    let text = || {
        phrase![
            "the battery alone runs ",
            qty(load, Current),
            " for ",
            qty(time, Time).beside(want),
            ", at least ",
            qty(want, Time).beside(time),
            " wanted"
        ]
    };
    Ok((time >= want - close(time, want), i.say(text)))
}

/// `cold current = starter x factor`, 2.5 to 3 (common practice).
fn cold(i: &Inputs<'_>) -> Answer {
    let have = i.number("cold")?;
    let want = told(cold_current(i.current("starter")?, i.number("factor")?))?.value;
    let text = || {
        let (want, have) = (qty(want, Current).beside(have), qty(have, Current).beside(want));
        phrase!["the starter wants ", want, " cold, the battery is marked ", have]
    };
    Ok((have >= want - close(have, want), i.say(text)))
}
