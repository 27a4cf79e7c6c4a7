//! Limits of charging and starting: belt, drive, output against load, battery.

use knockon_figures::charging::loads::rating_for;
use knockon_figures::charging::{output_at, rotor_speed};
use knockon_figures::driveline;
use uom::si::f64::Length as Measure;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, close, curve, less, more, one, qty, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Current, Length, PerLength, Ratio, RotationalSpeed, Speed, Time};

const CRANK: super::entry::Input = one("crank-pulley", Length);
const PULLEY: super::entry::Input = one("generator-pulley", Length);

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "excitation",
        figure: "rotor-speed",
        called: &[("idle", "engine")],
        fixed: &[],
        asks: &[],
        holds: Holds::AtLeast("rotor speed", "excites-at"),
        says: "at {idle:.0} rpm idle the rotor turns {rotor speed:.0} rpm, it excites at {excites-at:.0} rpm, which needs {engine speed at which it excites:.0} engine rpm",
        levers: &[
            less("excites-at", "rotor speed for excitation"),
            less("generator-pulley", "generator pulley diameter"),
            more("idle", "idle"),
        ],
    },
    Declared {
        name: "rotor-speed",
        figure: "rotor-speed",
        called: &[],
        fixed: &[("excites-at", "")],
        asks: &[one("most", RotationalSpeed)],
        holds: Holds::AtMost("rotor speed", "most"),
        says: "at {engine:.0} engine rpm the rotor turns {rotor speed:.0} rpm, it stands {most:.0} rpm",
        levers: &[more("generator-pulley", "generator pulley diameter"), less("engine", "engine speed")],
    },
    Declared {
        name: "battery-reserve",
        figure: "battery-reserve",
        called: &[("share", "usable")],
        fixed: &[],
        asks: &[one("want", Time)],
        holds: Holds::AtLeast("lasts", "want"),
        says: "the battery alone runs {load} for {lasts}, at least {want} wanted",
        levers: &[more("capacity", "battery"), less("load", "load")],
    },
    Declared {
        name: "cold-current",
        figure: "cranking-current",
        called: &[],
        fixed: &[],
        asks: &[one("cold", Current)],
        holds: Holds::AtLeast("cold", "cold current"),
        says: "the starter wants {cold current} cold, the battery is marked {cold}",
        levers: &[more("cold", "cold current of the battery"), less("starter", "starter current")],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
        name: "belt-power",
        inputs: &[one("belt-limit", Current), one("output", Current)],
        levers: &[more("belt-limit", "that the belt carries, by a wider belt"), less("output", "alternator")],
        work: belt,
    },
    Own {
        name: "idle-balance",
        inputs: &[CRANK, curve("curve"), PULLEY, one("idle", RotationalSpeed), one("load", Current)],
        levers: &[
            less("load", "load at idle"),
            less("generator-pulley", "generator pulley diameter"),
            more("idle", "idle"),
        ],
        work: idle,
    },
    Own {
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
    Own {
        name: "alternator-size",
        inputs: &[one("load", Current), one("output", Current), one("share", Ratio)],
        levers: &[more("output", "alternator"), less("load", "load")],
        work: size,
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
