//! The limit of a wheel over its brake by their outlines, in the half plane through the axle.

use knockon_figures::gap::GapRule;
use knockon_figures::wheels::{ProfilePoint, wheel_over_brake};
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::Inputs;
use super::entry::{Answer, Entry, Way, more, one, outline, said, told};
use crate::units::Dimension::Length;

const INCH: f64 = 0.0254;

pub(super) const ALL: &[Entry] = &[Entry {
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

fn larger(wider: f64) -> String {
    format!("a wheel {:.0} in larger in the rim, else alike", wider / INCH)
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
        let z = found.brake.z.value * 1e3;
        format!(
            "{:.1} mm at the narrowest, {:.0} mm from the axle and {:.0} mm {} of the hub face; at least {:.0} mm wanted",
            least.value * 1e3,
            found.brake.r.value * 1e3,
            z.abs(),
            if z < 0.0 { "inboard" } else { "outboard" },
            gap.value * 1e3
        )
    };
    Ok((least.value >= gap.value - 1e-9, i.say(text)))
}
