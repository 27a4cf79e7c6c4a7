//! Limits of gearing: engine speed on the road, pull away, speedometer.

use knockon_figures::{gearing, speedometer};
use uom::si::linear_number_density::per_meter;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Input, Own, Way, close, less, more, one, qty, said, told};
use crate::phrase;
use crate::units::Dimension::{Length, PerLength, Ratio, RotationalSpeed};

const AXLE: Input = one("axle-ratio", Ratio);
const REVS: Input = one("tyre-revs", PerLength);

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "cruise-rpm",
        figure: "engine-speed",
        called: &[("top-gear", "gears")],
        fixed: &[],
        asks: &[one("least", RotationalSpeed)],
        holds: Holds::AtLeast("engine speed", "least"),
        says: "the engine turns {engine speed:.0} rpm in top gear at {speed:written}, at least {least:.0} rpm wanted",
        levers: &[more("top-gear", "top gear ratio"), more("axle-ratio", "axle ratio")],
    },
    Declared {
        name: "cruise-rpm-most",
        figure: "engine-speed",
        called: &[("top-gear", "gears")],
        fixed: &[],
        asks: &[one("most", RotationalSpeed)],
        holds: Holds::AtMost("engine speed", "most"),
        says: "the engine turns {engine speed:.0} rpm in top gear at {speed:written}, at most {most:.0} rpm wanted",
        levers: &[
            less("top-gear", "top gear ratio"),
            less("axle-ratio", "axle ratio"),
            less("tyre-revs", "tyre revolutions, by a taller tyre"),
        ],
    },
];

pub(super) const ALL: &[Own] = &[
    Own {
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
    Own {
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
