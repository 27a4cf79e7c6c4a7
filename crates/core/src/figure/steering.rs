//! Steering figures after a lift: drag link, bump steer, caster, wedge.

use knockon_figures::steering::{
    Arc, ShackleEnd, SpringPlace, ThickEnd, bump_steer, drop_arm_wanted, link_angle, link_shortening,
    rake_caster_change, shackle_caster_change, wedge_thickness, wedge_wanted,
};

use knockon_figures::wheels::rock_at_rim;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{BARE, DEGREE, FIT, MM, number, text};
use super::trouble::Trouble;
use crate::units::Dimension::{Angle, Length, Ratio};
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
        called: &["drag link length", "drag link after a lift"],
        group: Group::Steering,
        name: "Drag-link angle",
        meaning: "angle of a drag link after a lift, and the dropped arm it wants",
        inputs: &[LINK, DROP, LIFT, or("allowed", "angle that will do", Takes::One(Angle), "5°")],
        formula: "asin((drop + lift) / length); arm |drop| - L sin(allowed)",
        source: "geometry; 5° is common practice",
        cases: &[
            "link=900 mm drop=40 mm -> angle: 2.54731818°; rigid link, by a general-purpose library",
            "link=900 mm drop=40 mm lift=76.2 mm -> angle: 7.41822986°; rigid link, by a general-purpose library",
        ],
        moves: &["drop -> angle: rises"],
        work: drag_link,
        ..FIGURE
    },
    Figure {
        id: "bump-steer",
        called: &["bump steer", "toe change", "toe", "steers over bumps"],
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
        cases: &[
            "link=720 mm drop=40 mm arm=150 mm -> end of the link comes nearer by: -1.043 mm; plane geometry by a general-purpose library",
        ],
        work: bump,
        ..FIGURE
    },
    Figure {
        id: "caster-change",
        called: &["caster after a lift", "castor"],
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
        cases: &[
            "longer=40 mm span=1000 mm -> gained by the shackles: 2.2924°; plane geometry by a general-purpose library",
        ],
        work: caster,
        ..FIGURE
    },
    Figure {
        id: "caster-wedge",
        called: &["caster shim", "axle wedge", "shims"],
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
        cases: &["caster=0.5 deg -> wedge: 2.5°; arithmetic of the definition"],
        work: wedge,
        ..FIGURE
    },
    Figure {
        id: "steering-ratio",
        called: &["turns lock to lock", "steering box ratio", "how quick is the steering"],
        group: Group::Steering,
        name: "Steering ratio",
        meaning: "turn of the steering wheel for a turn of the road wheels",
        inputs: &[
            need("turns", "of the steering wheel from lock to lock", Takes::One(Ratio), "4.5"),
            need("lock", "of a road wheel from lock to lock", Takes::One(Angle), "62 deg"),
        ],
        formula: "turns x 360° / lock",
        source: "definition",
        cases: &["turns=4 lock=60 deg -> ratio, to one: 24.0; arithmetic of the definition"],
        work: ratio,
        ..FIGURE
    },
    Figure {
        id: "king-pin-play",
        called: &["king pin wear", "wheel rock", "ball joint play", "wheel bearing play at the rim"],
        group: Group::Steering,
        name: "Play at the rim",
        meaning: "how far a wheel rocks at its rim by the play of king-pin, ball joints or bearings",
        inputs: &[
            need("play", "of the pin in its bushes", Takes::One(Length), "0.15 mm"),
            need("between", "middles of the two bushes or bearings", Takes::One(Length), "120 mm"),
            need("rim", "diameter at which it is felt", Takes::One(Length), "28 in"),
        ],
        formula: "play x rim / between",
        source: "lever about the middle between the bushes",
        cautions: &["stands under the axle before a wheel is rocked, never a jack alone"],
        cases: &["play=0.15 mm between=120 mm rim=28 in -> rocks by: 0.889 mm; lever"],
        moves: &["play -> rocks by: rises"],
        work: rock,
    },
];

/// The drag link after the lift.
fn link(g: &Given<'_>) -> Arc {
    Arc { length: g.length("link"), drop: g.length("drop") + g.length("lift") }
}

fn drag_link(g: &Given<'_>) -> Worked {
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

fn bump(g: &Given<'_>) -> Worked {
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

fn caster(g: &Given<'_>) -> Worked {
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

fn wedge(g: &Given<'_>) -> Worked {
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

fn ratio(g: &Given<'_>) -> Worked {
    let (turns, lock) = (g.si("turns"), g.si("lock"));
    if !(0.1..=20.0).contains(&turns) || !(0.05..=3.0).contains(&lock) {
        let found = format!("{turns} turns and {:.1}°", lock.to_degrees());
        return Err(Trouble::Words(format!("found {found}, expected 0.1 to 20 turns and 3 to 170°")));
    }
    Ok(vec![number("ratio, to one", turns * std::f64::consts::TAU / lock, &BARE)])
}

fn rock(g: &Given<'_>) -> Worked {
    let rocks = rock_at_rim(g.length("play"), g.length("between"), g.length("rim"))?;
    Ok(vec![number("rocks by", rocks.value, &FIT)])
}
