//! Limits of the steering after a lift: drag link, bump steer, caster.

use knockon_figures::steering::rake_caster_change;

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Own, Way, less, one, qty, said, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Angle, Length};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[
    Declared {
        name: "drag-link",
        figure: "drag-link",
        called: &[],
        fixed: &[("allowed", "")],
        asks: &[one("most", Angle)],
        holds: Holds::Within("angle", "most"),
        says: "the drag link leans {angle}, at most {most} wanted",
        levers: &[less("drop", "drop, by a dropped arm or a raised steering arm"), less("lift", "lift")],
    },
    Declared {
        name: "bump-steer",
        figure: "bump-steer",
        called: &[],
        fixed: &[],
        asks: &[one("most", Angle)],
        holds: Holds::Within("the wheels turn by", "most"),
        says: "the wheels turn {the wheels turn by} by themselves over {travel:size} of travel, at most {most} wanted; an estimate",
        levers: &[less("drop", "drop, by a dropped arm or a raised steering arm"), less("lift", "lift")],
    },
];

pub(super) const ALL: &[Own] = &[Own {
    name: "caster",
    inputs: &[
        one("caster", Angle),
        one("front-lift", Length),
        one("least", Angle),
        one("most", Angle),
        one("rear-lift", Length),
        one("wedge", Angle),
        one("wheelbase", Length),
    ],
    levers: &[said("wedge", Way::Sizes(wedges), wedge)],
    work: caster,
}];

/// Wedges by half degrees, rad; those of the trade are 2, 4 and 6 deg.
fn wedges() -> Vec<f64> {
    (-12..=12).map(|half| (f64::from(half) / 2.0).to_radians()).collect()
}

fn wedge(angle: f64) -> Phrase {
    let way = if angle < 0.0 { "leaning the axle forward" } else { "leaning the axle back" };
    phrase!["a wedge of ", qty(angle.abs(), Angle), format!(", {way}")]
}

/// Caster as found, the rake `atan((front - rear) / wheelbase)` and the wedge (geometry; 2 to 6 deg is common practice).
fn caster(i: &Inputs<'_>) -> Answer {
    let rake = rake_caster_change(i.length("front-lift")?, i.length("rear-lift")?, i.length("wheelbase")?);
    let rake = told(rake)?.value;
    let now = i.number("caster")? + rake + i.number("wedge")?;
    let (least, most) = (i.number("least")?, i.number("most")?);
    let text = || {
        let near = if now < least { least } else { most };
        phrase![
            "caster comes to ",
            qty(now, Angle).beside(near),
            ", ",
            qty(rake, Angle).signed(),
            " of it by the rake; ",
            qty(least, Angle).beside(now).to(most),
            " wanted"
        ]
    };
    Ok((now >= least - 1e-9 && now <= most + 1e-9, i.say(text)))
}
