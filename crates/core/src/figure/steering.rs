//! Steering figures after a lift: drag link, bump steer, caster, wedge.

use knockon_figures::steering::{
    Arc, ShackleEnd, SpringPlace, ThickEnd, bump_steer, drop_arm_wanted, link_angle, link_shortening,
    rake_caster_change, shackle_caster_change, wedge_thickness, wedge_wanted,
};

use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{DEGREE, MM, number, text};
use super::{Figure, Group, Trouble, Worked};
use crate::units::Dimension::{Angle, Length};
use uom::si::f64::Length as Measure;

const LINK: Input = need("link", "drag link from end to end", Takes::One(Length), "720 mm");
const DROP: Input =
    need("drop", "how much lower its end at the axle lies, before a lift", Takes::One(Length), "40 mm")
        .signed();
const LIFT: Input =
    or("lift", "of the frame over the axle", Takes::One(Length), "0 mm").signed().example("75 mm");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "drag-link",
        group: Group::Steering,
        name: "Drag-link angle",
        meaning: "angle of a drag link after a lift, and the dropped arm it wants",
        inputs: &[LINK, DROP, LIFT, or("allowed", "angle that will do", Takes::One(Angle), "5°")],
        formula: "asin((drop + lift) / length); arm |drop| - L sin(allowed)",
        source: "geometry; 5° is common practice",
        work: drag_link,
    },
    Figure {
        id: "bump-steer",
        group: Group::Steering,
        name: "Bump steer",
        meaning: "how far the wheels turn by themselves over a travel of the axle: an estimate",
        inputs: &[
            LINK,
            DROP,
            LIFT,
            need("arm", "steering arm on the knuckle", Takes::One(Length), "150 mm"),
            or("travel", "of the axle away from the frame; bump is negative", Takes::One(Length), "-50 mm")
                .signed(),
            or(
                "guide",
                "track bar, or three quarters of the fixed half of the spring",
                Takes::One(Length),
                "unknown",
            )
            .example("420 mm"),
            or(
                "guide-drop",
                "how much lower its end at the axle lies, before a lift",
                Takes::One(Length),
                "0 mm",
            )
            .signed()
            .example("20 mm"),
        ],
        formula: "asin((link shift - guide shift) / arm); shift sqrt(L^2 - drop^2) - sqrt(L^2 - (drop + travel)^2)",
        source: "geometry of both arcs; the spring as a link of three quarters is from memory",
        work: bump,
    },
    Figure {
        id: "caster-change",
        group: Group::Steering,
        name: "Caster after a lift",
        meaning: "caster gained by longer shackles and by an uneven lift",
        inputs: &[
            need("longer", "by which the front shackles are longer", Takes::One(Length), "40 mm").signed(),
            need("span", "eye to eye along the front spring", Takes::One(Length), "1000 mm"),
            or("shackle", "where the shackle hangs from the axle", Takes::Choice(&["rear", "front"]), "rear"),
            or("front-lift", "at the front", Takes::One(Length), "0 mm").signed().example("20 mm"),
            or("rear-lift", "at the rear", Takes::One(Length), "0 mm").signed().example("50 mm"),
            or("wheelbase", "between the axles", Takes::One(Length), "unknown").example("114 in"),
        ],
        formula: "shackle asin(longer / span), lost with the shackle ahead; rake atan((front - rear) / wheelbase)",
        source: "geometry",
        work: caster,
    },
    Figure {
        id: "caster-wedge",
        group: Group::Steering,
        name: "Caster wedge",
        meaning: "wedge between spring and axle that brings caster to what is wanted",
        inputs: &[
            need("caster", "as it is; positive with the top leaning back", Takes::One(Angle), "0.5 deg")
                .signed(),
            or("wanted", "caster wanted", Takes::One(Angle), "3°").signed(),
            or("spring", "on the axle, or under it", Takes::Choice(&["on-top", "under"]), "on-top"),
            or("pad", "length of the wedge along the spring", Takes::One(Length), "unknown")
                .example("120 mm"),
        ],
        formula: "wedge = wanted - caster; thicker by pad x tan(angle)",
        source: "geometry; 2 to 6° of caster and wedges of 2, 4 and 6° are common practice",
        work: wedge,
    },
];

/// The drag link after the lift.
fn link(g: &Given) -> Arc {
    Arc { length: g.length("link"), drop: g.length("drop") + g.length("lift") }
}

fn drag_link(g: &Given) -> Worked {
    let link = link(g);
    let (angle, allowed) = (link_angle(link)?, g.angle("allowed"));
    let arm = drop_arm_wanted(link, allowed)?;
    let said = if angle.abs() > allowed { "it steers the wheels as the axle moves" } else { "will do" };
    Ok(vec![
        number("angle", angle.value, &DEGREE),
        number("dropped arm, lower by", arm.value, &MM),
        text("verdict", said),
    ])
}

fn bump(g: &Given) -> Worked {
    let link = link(g);
    let travel: Measure = g.length("travel");
    let guide = g
        .known("guide")
        .map(|_| Arc { length: g.length("guide"), drop: g.length("guide-drop") + g.length("lift") });
    Ok(vec![
        number("the wheels turn by", bump_steer(link, guide, travel, g.length("arm"))?.value, &DEGREE),
        number("end of the link comes nearer by", link_shortening(link, travel)?.value, &MM),
        text("it is", "an estimate: flex of springs and bushes is left out"),
    ])
}

fn caster(g: &Given) -> Worked {
    let end = if g.word("shackle") == "front" { ShackleEnd::Front } else { ShackleEnd::Rear };
    let shackle = shackle_caster_change(g.length("longer"), g.length("span"), end)?;
    let mut out = vec![number("gained by the shackles", shackle.value, &DEGREE)];
    let (front, rear) = (g.length("front-lift"), g.length("rear-lift"));
    if g.known("wheelbase").is_some() {
        let rake = rake_caster_change(front, rear, g.length("wheelbase"))?;
        out.push(number("gained by the rake", rake.value, &DEGREE));
        out.push(number("together", shackle.value + rake.value, &DEGREE));
    } else if front != rear {
        return Err(Trouble::Words(
            "an uneven lift wants the wheelbase, such as wheelbase=\"114 in\"".to_owned(),
        ));
    }
    Ok(out)
}

fn wedge(g: &Given) -> Worked {
    let place = match g.word("spring") {
        "on-top" => SpringPlace::OnTop,
        "under" => SpringPlace::Under,
        other => return Err(Trouble::Words(format!("spring: found {other}"))),
    };
    let wedge = wedge_wanted(g.angle("caster"), g.angle("wanted"), place)?;
    let end = match wedge.thick_end {
        Some(ThickEnd::Front) => "to the front",
        Some(ThickEnd::Rear) => "to the rear",
        None => "no wedge is wanted",
    };
    let mut out = vec![number("wedge", wedge.angle.value, &DEGREE), text("thick end", end)];
    if g.known("pad").is_some() {
        let thicker = wedge_thickness(g.length("pad"), wedge.angle)?;
        out.push(number("thicker there by", thicker.value, &MM));
    }
    Ok(out)
}
