//! Limits of the steering after a lift: drag link, bump steer, caster.

use knockon_figures::steering::{Arc, bump_steer, link_angle, rake_caster_change};
use uom::si::f64::Length as Measure;

use super::Inputs;
use super::entry::{Answer, Entry, Way, less, one, qty, said, told};
use crate::phrase;
use crate::phrase::Phrase;
use crate::units::Dimension::{Angle, Length};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "drag-link",
        inputs: &[one("drop", Length), one("lift", Length), one("link", Length), one("most", Angle)],
        levers: &[less("drop", "drop, by a dropped arm or a raised steering arm"), less("lift", "lift")],
        work: drag_link,
    },
    Entry {
        name: "bump-steer",
        inputs: &[
            one("arm", Length),
            one("drop", Length),
            one("guide", Length),
            one("guide-drop", Length),
            one("lift", Length),
            one("link", Length),
            one("most", Angle),
            one("travel", Length),
        ],
        levers: &[less("drop", "drop, by a dropped arm or a raised steering arm"), less("lift", "lift")],
        work: bump,
    },
    Entry {
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
    },
];

/// `asin((drop + lift) / length)` (geometry; 5 to 6 deg is common practice).
fn drag_link(i: &Inputs<'_>) -> Answer {
    let link = Arc { length: i.length("link")?, drop: i.length("drop")? + i.length("lift")? };
    let (angle, most) = (told(link_angle(link))?.value.abs(), i.number("most")?);
    let text = || {
        let (angle, most) = (qty(angle, Angle).beside(most), qty(most, Angle).beside(angle));
        phrase!["the drag link leans ", angle, ", at most ", most, " wanted"]
    };
    Ok((angle <= most + 1e-9, i.say(text)))
}

/// `asin((link shift - guide shift) / arm)` over a travel (geometry of both arcs: an estimate).
fn bump(i: &Inputs<'_>) -> Answer {
    let lift: Measure = i.length("lift")?;
    let link = Arc { length: i.length("link")?, drop: i.length("drop")? + lift };
    let guide = Arc { length: i.length("guide")?, drop: i.length("guide-drop")? + lift };
    let travel = i.length("travel")?;
    let turn = told(bump_steer(link, Some(guide), travel, i.length("arm")?))?.value;
    let most = i.number("most")?;
    let text = || {
        let turn = turn.abs();
        phrase![
            "the wheels turn ",
            qty(turn, Angle).beside(most),
            " by themselves over ",
            qty(travel.value.abs(), Length),
            " of travel, at most ",
            qty(most, Angle).beside(turn),
            " wanted; an estimate"
        ]
    };
    Ok((turn.abs() <= most + 1e-9, i.say(text)))
}

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
