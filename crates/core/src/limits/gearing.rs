//! Limits of gearing: engine speed on the road, pull away, speedometer.

use knockon_figures::{driveline, gearing, speedometer};
use uom::si::linear_number_density::per_meter;

use super::Inputs;
use super::entry::{Answer, Entry, Input, Way, close, less, more, one, qty, said, told};
use crate::phrase;
use crate::units::Dimension::{Length, PerLength, Ratio, RotationalSpeed, Speed};

const AXLE: Input = one("axle-ratio", Ratio);
const REVS: Input = one("tyre-revs", PerLength);

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "cruise-rpm",
        inputs: &[AXLE, one("least", RotationalSpeed), one("speed", Speed), one("top-gear", Ratio), REVS],
        levers: &[more("top-gear", "top gear ratio"), more("axle-ratio", "axle ratio")],
        work: labours,
    },
    Entry {
        name: "cruise-rpm-most",
        inputs: &[AXLE, one("most", RotationalSpeed), one("speed", Speed), one("top-gear", Ratio), REVS],
        levers: &[
            less("top-gear", "top gear ratio"),
            less("axle-ratio", "axle ratio"),
            less("tyre-revs", "tyre revolutions, by a taller tyre"),
        ],
        work: races,
    },
    Entry {
        name: "pull-away",
        inputs: &[
            AXLE,
            one("diameter", Length),
            one("first-gear", Ratio),
            one("old-axle-ratio", Ratio),
            one("old-diameter", Length),
            one("old-first-gear", Ratio),
            one("share", Ratio),
        ],
        levers: &[
            more("axle-ratio", "axle ratio"),
            more("first-gear", "first gear ratio"),
            less("diameter", "diameter of the tyres"),
        ],
        work: pull,
    },
    Entry {
        name: "speedometer",
        inputs: &[
            AXLE,
            one("drive-teeth", Ratio),
            one("driven-teeth", Ratio),
            one("head", PerLength),
            one("reads-high-least", Ratio),
            one("reads-high-most", Ratio),
            REVS,
        ],
        levers: &[
            said("driven-teeth", Way::Sizes(teeth), |x| format!("a driven gear of {x} teeth").into()),
            said("drive-teeth", Way::Sizes(teeth), |x| format!("a drive gear of {x} teeth").into()),
        ],
        work: speedo,
    },
];

/// `engine = road speed x tyre turns x axle ratio x gear` (gear kinematics).
fn engine(i: &Inputs<'_>) -> Result<f64, String> {
    told(driveline::engine_speed(
        i.speed("speed")?,
        i.density("tyre-revs")?,
        i.number("axle-ratio")?,
        i.number("top-gear")?,
    ))
}

fn labours(i: &Inputs<'_>) -> Answer {
    let (turns, least) = (engine(i)?, i.rpm("least")?);
    let text = || {
        phrase![
            format!("the engine turns {turns:.0} rpm in top gear at "),
            i.written("speed"),
            format!(", at least {least:.0} rpm wanted")
        ]
    };
    Ok((turns >= least - close(turns, least), i.say(text)))
}

fn races(i: &Inputs<'_>) -> Answer {
    let (turns, most) = (engine(i)?, i.rpm("most")?);
    let text = || {
        phrase![
            format!("the engine turns {turns:.0} rpm in top gear at "),
            i.written("speed"),
            format!(", at most {most:.0} rpm wanted")
        ]
    };
    Ok((turns <= most + close(turns, most), i.say(text)))
}

/// First gear times axle ratio, brought to the old tyres, against what it was (proportion).
fn pull(i: &Inputs<'_>) -> Answer {
    let (axle, share) = (i.number("axle-ratio")?, i.number("share")?);
    let (first, old_first) = (i.number("first-gear")?, i.number("old-first-gear")?);
    let like = told(gearing::effective_axle_ratio(axle, i.length("old-diameter")?, i.length("diameter")?))?;
    let (now, was) = (first * like, old_first * i.number("old-axle-ratio")?);
    if !(now > 0.0 && was > 0.0) {
        return Err(format!("first gear overall: found {now:.2} and {was:.2}, expected more than 0"));
    }
    let text = || {
        format!(
            "first gear comes to {:.1} overall, which pulls like {now:.1} on the old tyres; as found it was {was:.1}, at least {:.1} wanted",
            first * axle,
            was * share
        )
        .into()
    };
    Ok((now >= was * share - close(now, was), i.say(text)))
}

/// Teeth of gears that are made.
fn teeth() -> Vec<f64> {
    (5..=40).map(f64::from).collect()
}

/// `cable = tyre turns x axle ratio x drive teeth / driven teeth`; reads high by `cable / head - 1` (SAE J678). Of gears that
/// all read outside what is wanted the nearest goes in.
fn speedo(i: &Inputs<'_>) -> Answer {
    let (least, most) = (i.number("reads-high-least")?, i.number("reads-high-most")?);
    let (drive, driven) = (i.whole("drive-teeth")?, i.whole("driven-teeth")?);
    let head = i.density("head")?;
    let cable =
        told(speedometer::cable_revs(i.density("tyre-revs")?, i.number("axle-ratio")?, drive, driven))?;
    let high = told(speedometer::reads_high_by(cable, head))?;
    i.is_beyond((least - high).max(high - most));
    let text = || {
        let (cable, head) = (cable.get::<per_meter>(), head.get::<per_meter>());
        let reads = format!(
            ": it reads {:+.1} %, {:+.0} to {:+.0} % is wanted",
            high * 100.0,
            least * 100.0,
            most * 100.0
        );
        phrase![
            "the cable turns ",
            qty(cable, PerLength).beside(head),
            format!(" through {drive}/{driven} teeth, the head wants "),
            qty(head, PerLength).beside(cable),
            reads
        ]
    };
    Ok((high >= least - 1e-9 && high <= most + 1e-9, i.say(text)))
}
