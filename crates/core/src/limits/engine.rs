//! Limits of the engine: compression for the fuel, piston speed.

use knockon_figures::engine::geometry::{Cylinder, compression_ratio, mean_piston_speed};

use super::Inputs;
use super::entry::{Answer, Entry, close, less, more, one, told};
use crate::units::Dimension::{Length, Ratio, RotationalSpeed, Speed, Volume};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "compression",
        inputs: &[
            one("bore", Length),
            one("chamber", Volume),
            one("deck", Length),
            one("dish", Volume),
            one("gasket", Length),
            one("gasket-bore", Length),
            one("most", Ratio),
            one("stroke", Length),
        ],
        levers: &[
            more("chamber", "chamber"),
            more("gasket", "thickness of the head gasket"),
            more("dish", "dish of the piston"),
        ],
        work: compression,
    },
    Entry {
        name: "piston-speed",
        inputs: &[one("most", Speed), one("rpm", RotationalSpeed), one("stroke", Length)],
        levers: &[less("rpm", "engine speed")],
        work: piston,
    },
];

/// `(swept + clearance) / clearance` against what the fuel stands (Heywood ch. 2).
fn compression(i: &Inputs<'_>) -> Answer {
    let cylinder = Cylinder {
        bore: i.length("bore")?,
        stroke: i.length("stroke")?,
        chamber: i.volume("chamber")?,
        dish: i.volume("dish")?,
        gasket_bore: i.length("gasket-bore")?,
        gasket: i.length("gasket")?,
        deck: i.length("deck")?,
    };
    let (ratio, most) = (told(compression_ratio(&cylinder))?, i.number("most")?);
    let text = || format!("compression comes to {ratio:.2}, the fuel stands {most:.2}").into();
    Ok((ratio <= most + close(ratio, most), i.say(text)))
}

/// `2 S n` (Heywood ch. 2).
fn piston(i: &Inputs<'_>) -> Answer {
    let rpm = i.rpm("rpm")?;
    let (speed, most) = (told(mean_piston_speed(i.length("stroke")?, rpm))?.value, i.number("most")?);
    let text =
        || format!("the pistons move {speed:.1} m/s at {rpm:.0} rpm, at most {most:.1} m/s wanted").into();
    Ok((speed <= most + close(speed, most), i.say(text)))
}
