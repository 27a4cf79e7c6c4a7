//! The limit of a wheel over its brake by their outlines, in the half plane through the axle.

use knockon_figures::gap::GapRule;
use knockon_figures::wheels::{ProfilePoint, wheel_over_brake};
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::Inputs;
use super::entry::{Answer, Own, Way, more, one, outline, qty, said, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::Length;

const INCH: f64 = 0.0254;

pub(super) const ALL: &[Own] = &[Own {
    name: "wheel-over-brake",
    inputs: &[
        outline("brake"),
        one("gap", Length),
        one("outlines", Length),
        one("spacer", Length),
        outline("wheel"),
        one("wider", Length),
    ],
    levers: &[more("spacer", "spacer"), said("wider", Way::Sizes(rims), larger)],
    work: over_brake,
}];

/// Rims grow in inches, and their inside with them (common practice).
fn rims() -> Vec<f64> {
    [1.0, 2.0, 3.0].map(|inches| inches * INCH).to_vec()
}

fn larger(wider: f64) -> Phrase {
    // rims are told in inches in both systems
    format!("a wheel {:.0} in larger in the rim, else alike", wider / INCH).into()
}

/// The least distance between the two outlines, negative where they foul; `outlines` is by how much they may be out
/// (plane geometry; 3 mm is common practice).
fn over_brake(i: &Inputs<'_>) -> Answer {
    let (gap, out) = (i.length("gap")?, i.length("outlines")?);
    let wider = i.length("wider")? / 2.0;
    let out_by = |p: ProfilePoint| ProfilePoint { z: p.z, r: p.r + wider };
    let wheel: Vec<ProfilePoint> = i.outline("wheel")?.into_iter().map(out_by).collect();
    let none = Measure::new::<meter>(0.0);
    let rule = GapRule { wanted: gap, accuracy: none };
    let found = told(wheel_over_brake(&wheel, &i.outline("brake")?, i.length("spacer")?, rule))?;
    let least = found.gap.found + out;
    if !least.value.is_finite() {
        return Err(format!("outlines: found {}, expected a length", out.value));
    }
    let text = || {
        let z = found.brake.z.value;
        phrase![
            "the wheel clears the brake by ",
            qty(least.value, Length).beside(gap.value),
            " at the narrowest, ",
            qty(found.brake.r.value, Length),
            " from the axle and ",
            qty(z.abs(), Length),
            format!(" {} of the hub face; at least ", if z < 0.0 { "inboard" } else { "outboard" }),
            qty(gap.value, Length).beside(least.value),
            " wanted"
        ]
    };
    Ok((least.value >= gap.value - 1e-9, i.say(text)))
}
