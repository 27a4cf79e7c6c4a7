//! Wheel figures: offset, backspacing, bolt circle, studs, and the wheel over its brake.

use knockon_figures::gap::GapRule;
use knockon_figures::wheels::{
    BrakeSizes, ProfilePoint, StudFit, WheelPlace, WheelSizes, adjacent_spacing, backspacing, bolt_circle,
    bolt_circle_from_skip_one, from_lip_to_bore, moved, offset_from_backspacing, overall_width, rim_for,
    room_cure, scrub_radius_change, simple_brake, simple_wheel, skip_one_spacing, stud_engagement,
    stud_length_wanted, wheel_over_brake, wheel_over_caliper,
};
use uom::si::f64::Length as Measure;
use uom::si::length::meter;

use super::entry::{FIGURE, Figure, Group, Worked};
use super::given::Given;
use super::input::{Input, Takes, need, or};
use super::output::{MM, number, text};
use super::tyre::holds;
use crate::units::Dimension::{Angle, Length, Ratio};

const RIM: Input = need("rim-width", "nominal width between the bead seats", Takes::One(Length), "7 in");
const LIP: Input = or("lip", "thickness of one rim flange; measure it", Takes::One(Length), "12.7 mm");

pub(super) const FIGURES: &[Figure] = &[
    Figure {
        id: "backspacing",
        called: &["back space", "wheel backspace"],
        group: Group::Wheel,
        name: "Backspacing",
        meaning: "inner lip to mounting face, from the offset",
        inputs: &[
            RIM,
            need("offset", "mounting face outboard of the middle is positive", Takes::One(Length), "15 mm")
                .signed(),
            LIP,
        ],
        formula: "backspacing = (rim width + 2 lip) / 2 + offset",
        source: "ISO 3911; the lip of 12.7 mm is convention, from memory",
        cases: &[
            "rim-width=7 in offset=0 mm -> backspacing: 4 in; common practice: half the width over the lips",
            "rim-width=8 in offset=-19 mm -> backspacing: 95.3 mm; common practice: half the width over the lips",
        ],
        moves: &["offset -> backspacing: rises"],
        work: backspacing_of,
        ..FIGURE
    },
    Figure {
        id: "offset",
        called: &["wheel offset", "et", "offset from backspacing"],
        group: Group::Wheel,
        name: "Offset",
        meaning: "offset of a wheel from its backspacing",
        inputs: &[
            RIM,
            need(
                "backspacing",
                "straight edge across the inner lip to the mounting face",
                Takes::One(Length),
                "4.5 in",
            )
            .signed(),
            LIP,
        ],
        formula: "offset = backspacing - (rim width + 2 lip) / 2",
        source: "ISO 3911; the lip of 12.7 mm is convention, from memory",
        cases: &[
            "rim-width=8 in backspacing=95.3 mm -> offset: -19 mm; common practice: half the width over the lips",
        ],
        work: offset,
        ..FIGURE
    },
    Figure {
        id: "wheel-change",
        called: &["spacer", "wheel spacer", "track width", "scrub radius"],
        group: Group::Wheel,
        name: "Other wheels",
        meaning: "how far edges, track and scrub radius move with other wheels or spacers",
        inputs: &[
            need(
                "old-width",
                "overall width, or section width of the tyre if wider",
                Takes::One(Length),
                "6.5 in",
            ),
            need("old-offset", "offset of the old wheel", Takes::One(Length), "10 mm").signed(),
            need("new-width", "of the new wheel or tyre", Takes::One(Length), "10.5 in"),
            need("new-offset", "offset of the new wheel", Takes::One(Length), "0 mm").signed(),
            or("spacer", "spacer behind the new wheel", Takes::One(Length), "0 mm").example("10 mm"),
            or("radius-change", "growth of the loaded radius of the tyre", Takes::One(Length), "0 mm")
                .signed()
                .example("15 mm"),
            or("inclination", "lean of the steering axis, top inward", Takes::One(Angle), "unknown")
                .example("8 deg")
                .signed(),
        ],
        formula: "edges width / 2 +- (offset - spacer); track 2 x outward move; scrub = outward move - radius change x tan \
                  inclination",
        source: "geometry",
        cases: &[
            "old-width=6 in old-offset=10 mm new-width=6 in new-offset=10 mm spacer=25 mm -> track grows by: 50 mm; common practice: twice the spacer",
        ],
        work: change,
        ..FIGURE
    },
    Figure {
        id: "bolt-circle",
        called: &["pcd", "bolt pattern", "lug pattern", "stud pattern"],
        group: Group::Wheel,
        name: "Bolt circle",
        meaning: "bolt circle from the distance of two studs",
        inputs: &[
            need("studs", "studs of the wheel, 3 to 8", Takes::Whole, "5"),
            need("spacing", "centre to centre of two studs", Takes::One(Length), "2.645 in"),
            or(
                "between",
                "neighbours, or with one stud between",
                Takes::Choice(&["neighbours", "skip-one"]),
                "neighbours",
            ),
        ],
        formula: "circle = spacing / sin(pi / studs); with one between, / sin(2 pi / studs)",
        source: "chord of a circle",
        cases: &[
            "studs=5 spacing=2.645 in -> bolt circle: 4.5 in; common practice: 2.645 in between neighbours of a 4.5 in circle",
            "studs=4 spacing=70.7106781187 mm -> bolt circle: 100 mm; chord of a circle, by a general-purpose library",
            "studs=5 spacing=67.183854337 mm -> with one between: 108.70576 mm; chord of a circle, by a general-purpose library",
        ],
        moves: &["spacing -> bolt circle: rises"],
        work: circle,
        ..FIGURE
    },
    Figure {
        id: "stud-engagement",
        called: &["lug nut thread engagement", "stud length", "turns of the nut"],
        group: Group::Wheel,
        name: "Stud engagement",
        meaning: "thread of a stud in its nut, and the stud a spacer wants",
        inputs: &[
            need("stud-out", "thread that stands out of the hub face", Takes::One(Length), "32 mm"),
            need("pad", "thickness of the wheel where the nut seats", Takes::One(Length), "8 mm"),
            need("nut-thread", "length of thread in the nut", Takes::One(Length), "18 mm"),
            need("diameter", "diameter of the stud", Takes::One(Length), "1/2 in"),
            or("spacer", "slip-on spacer", Takes::One(Length), "0 mm").example("6 mm"),
            or("diameters", "engagement wanted over the diameter", Takes::One(Ratio), "1"),
        ],
        formula: "engaged = least of stud out - pad - spacer and nut thread; wanted = diameters x diameter",
        source: "geometry; one diameter is common practice",
        cases: &[
            "stud-out=32 mm pad=8 mm nut-thread=18 mm diameter=1/2 in spacer=10 mm -> thread engaged: 14 mm; arithmetic of the definition",
        ],
        work: studs,
        ..FIGURE
    },
    Figure {
        id: "wheel-over-caliper",
        called: &["caliper clearance"],
        group: Group::WheelOverBrake,
        name: "Wheel over caliper",
        meaning: "gap between wheel and caliper by their diameters",
        inputs: &[
            need(
                "wheel-inside",
                "smallest inside diameter in the plane of the caliper",
                Takes::One(Length),
                "350 mm",
            ),
            need(
                "caliper-envelope",
                "circle about the axle the caliper fits into",
                Takes::One(Length),
                "340 mm",
            ),
            or("gap", "gap wanted on one side", Takes::One(Length), "3 mm"),
        ],
        formula: "gap = (wheel inside - caliper envelope) / 2",
        source: "geometry; 3 mm is common practice",
        cases: &[
            "wheel-inside=350 mm caliper-envelope=340 mm -> gap on one side: 5 mm; arithmetic of the definition",
        ],
        moves: &["wheel-inside -> gap on one side: rises"],
        work: over_caliper,
        ..FIGURE
    },
    Figure {
        id: "wheel-over-brake",
        called: &["wheel clearance caliper", "wheel fits over disc brakes", "rim over brake drum"],
        group: Group::WheelOverBrake,
        name: "Wheel over brake",
        meaning: "least distance between the inside of a wheel and the brake in it, and where",
        inputs: &[
            need(
                "wheel",
                "points of the inner side, from the inner lip to the hub bore: along the axle from the hub face (outboard \
                 positive) and radius",
                Takes::Pairs(Length, Length),
                "-100 mm: 195 mm, -90 mm: 175 mm, 20 mm: 172 mm, 35 mm: 150 mm, 30 mm: 90 mm, 0 mm: 60 mm",
            ),
            need(
                "brake",
                "points of rotor and caliper, from inboard to outboard",
                Takes::Pairs(Length, Length),
                "-70 mm: 120 mm, -65 mm: 160 mm, 5 mm: 163 mm, 12 mm: 110 mm",
            ),
            or("spacer", "moves the wheel outboard", Takes::One(Length), "0 mm").example("5 mm"),
            or("gap", "gap wanted", Takes::One(Length), "3 mm"),
            or("accuracy", "how far the gap may be off by measuring", Takes::One(Length), "0 mm")
                .example("0.5 mm"),
        ],
        formula: "least distance of two profiles in the plane through the axle, the wheel moved out by the spacer; where they \
                  foul, minus the depth",
        source: "plane geometry; 3 mm is common practice",
        cases: &[
            "wheel=-100 mm: 200 mm, 0 mm: 200 mm, 0 mm: 60 mm brake=-70 mm: 120 mm, -65 mm: 160 mm, -50 mm: 160 mm -> least distance: 40 mm; plane geometry: a straight barrel over a straight caliper",
        ],
        work: over_brake,
        ..FIGURE
    },
    Figure {
        id: "wheel-by-sizes",
        called: &["will the wheel clear the brake by its sizes"],
        group: Group::WheelOverBrake,
        name: "Wheel over brake by sizes",
        meaning: "wheel-over-brake with outlines simplified from a few sizes, where none was measured",
        inputs: &[
            need("wheel-inside", "least inside diameter of the barrel", Takes::One(Length), "352 mm"),
            need(
                "caliper-envelope",
                "circle about the axle the caliper fits into",
                Takes::One(Length),
                "339 mm",
            ),
            need(
                "caliper-out",
                "outer face of the caliper, outboard of the hub face",
                Takes::One(Length),
                "12 mm",
            )
            .signed(),
            need("caliper-width", "width of the caliper along the axle", Takes::One(Length), "105 mm"),
            need("caliper-reach", "from its outside in over the rotor", Takes::One(Length), "58 mm"),
            need("rim", "rim diameter", Takes::One(Length), "15 in"),
            need("rim-width", "nominal width between the bead seats", Takes::One(Length), "6 in"),
            or("offset", "mounting face outboard of the middle is positive", Takes::One(Length), "0 mm")
                .signed()
                .example("10 mm"),
            need("depth", "mounting face to the inside of the disc", Takes::One(Length), "32 mm"),
            need("pad", "diameter of the mounting pad", Takes::One(Length), "170 mm"),
            need("bore", "diameter of the hub bore", Takes::One(Length), "108 mm"),
            need("rotor", "rotor diameter", Takes::One(Length), "285 mm"),
            need("rotor-thickness", "rotor thickness", Takes::One(Length), "22 mm"),
            or("spacer", "moves the wheel outboard", Takes::One(Length), "0 mm").example("5 mm"),
            or("gap", "gap wanted", Takes::One(Length), "3 mm"),
            or("accuracy", "how far the gap may be off by measuring", Takes::One(Length), "0 mm")
                .example("1 mm"),
        ],
        formula: "wheel: lip at offset and overall width (rim width + 2 lips of 12.7 mm), straight barrel at the least inside \
                  diameter, disc out to its clear depth, back to the pad, in to the bore, corners of 6 to 14 mm; caliper: a \
                  ring as thick and wide as it is; gap as in wheel-over-brake",
        source: "ISO 3911 for the widths; lip and corners are from memory; a real barrel steps and a cast caliper is rounded, \
                 so measured outlines beat these",
        cases: &[
            "wheel-inside=400 mm caliper-envelope=339 mm caliper-out=-10 mm caliper-width=60 mm caliper-reach=58 mm rim=18 in rim-width=6 in depth=60 mm pad=170 mm bore=108 mm rotor=285 mm rotor-thickness=22 mm -> verdict: holds; half the difference of the diameters is 30 mm",
        ],
        work: by_sizes,
        ..FIGURE
    },
];

fn backspacing_of(g: &Given<'_>) -> Worked {
    let (rim, lip) = (g.length("rim-width"), g.length("lip"));
    Ok(vec![
        number("backspacing", backspacing(rim, lip, g.length("offset"))?.value, &MM),
        number("overall width", overall_width(rim, lip)?.value, &MM),
    ])
}

fn offset(g: &Given<'_>) -> Worked {
    let (rim, lip) = (g.length("rim-width"), g.length("lip"));
    Ok(vec![
        number("offset", offset_from_backspacing(rim, lip, g.length("backspacing"))?.value, &MM),
        number("overall width", overall_width(rim, lip)?.value, &MM),
    ])
}

fn change(g: &Given<'_>) -> Worked {
    let none = Measure::new::<meter>(0.0);
    let from = WheelPlace { width: g.length("old-width"), offset: g.length("old-offset"), spacer: none };
    let to = WheelPlace {
        width: g.length("new-width"),
        offset: g.length("new-offset"),
        spacer: g.length("spacer"),
    };
    let change = moved(from, to)?;
    let mut out = vec![
        number("inner edge comes in by", change.inner_edge_in.value, &MM),
        number("outer edge goes out by", change.outer_edge_out.value, &MM),
        number("track grows by", change.track.value, &MM),
    ];
    if g.known("inclination").is_some() {
        let scrub = scrub_radius_change(change, g.length("radius-change"), g.angle("inclination"))?;
        out.push(number("scrub radius grows by", scrub.value, &MM));
    } else {
        out.push(text("scrub radius", "to measure: the inclination of the steering axis is not given"));
    }
    Ok(out)
}

fn circle(g: &Given<'_>) -> Worked {
    let (studs, spacing) = (g.whole("studs"), g.length("spacing"));
    let circle = if g.word("between") == "skip-one" {
        bolt_circle_from_skip_one(studs, spacing)?
    } else {
        bolt_circle(studs, spacing)?
    };
    Ok(vec![
        number("bolt circle", circle.value, &MM),
        number("neighbours stand apart", adjacent_spacing(studs, circle)?.value, &MM),
        number("with one between", skip_one_spacing(studs, circle)?.value, &MM),
    ])
}

fn studs(g: &Given<'_>) -> Worked {
    let fit = StudFit {
        stud_out: g.length("stud-out"),
        pad: g.length("pad"),
        spacer: g.length("spacer"),
        nut_thread: g.length("nut-thread"),
    };
    let (diameter, diameters) = (g.length("diameter"), g.si("diameters"));
    let gap = stud_engagement(fit, diameter, diameters, Measure::new::<meter>(0.0))?;
    let wanted = stud_length_wanted(fit.pad, fit.spacer, diameter, diameters)?;
    Ok(vec![
        number("thread engaged", gap.found.value, &MM),
        number("thread wanted in the nut", gap.rule.wanted.value, &MM),
        number("thread wanted out of the hub", wanted.value, &MM),
        holds("verdict", &gap),
    ])
}

fn over_caliper(g: &Given<'_>) -> Worked {
    let found = wheel_over_caliper(g.length("wheel-inside"), g.length("caliper-envelope"), g.length("gap"))?;
    let short = found.short_by.value;
    Ok(vec![
        number("gap on one side", found.radial.value, &MM),
        number("inside diameter wanted", (g.length("caliper-envelope") + 2.0 * g.length("gap")).value, &MM),
        text(
            "verdict",
            if short <= 1e-9 {
                "holds".to_owned()
            } else {
                format!("does not hold: {:.1} mm more inside diameter wanted", short * 2e3)
            },
        ),
    ])
}

fn over_brake(g: &Given<'_>) -> Worked {
    let points = |name: &str| -> Vec<ProfilePoint> {
        let point =
            |(z, r): &(f64, f64)| ProfilePoint { z: Measure::new::<meter>(*z), r: Measure::new::<meter>(*r) };
        g.pairs(name).iter().map(point).collect()
    };
    over(g, &from_lip_to_bore(points("wheel")), &points("brake"))
}

fn by_sizes(g: &Given<'_>) -> Worked {
    let wheel = simple_wheel(&WheelSizes {
        inside: g.length("wheel-inside"),
        rim: g.length("rim"),
        width: g.length("rim-width"),
        offset: g.length("offset"),
        depth: g.length("depth"),
        pad: g.length("pad"),
        bore: g.length("bore"),
    })?;
    let brake = simple_brake(&BrakeSizes {
        envelope: g.length("caliper-envelope"),
        out: g.length("caliper-out"),
        width: g.length("caliper-width"),
        reach: g.length("caliper-reach"),
        rotor: g.length("rotor"),
        thickness: g.length("rotor-thickness"),
    })?;
    let mut out = over(g, &wheel.profile, &brake.profile)?;
    let rule = GapRule { wanted: g.length("gap"), accuracy: g.length("accuracy") };
    let more = |o: &super::Output| o.name == "more diameter inside the wheel";
    if out.iter().any(more)
        && let Some(inside) = room_cure(&wheel.profile, &brake.profile, g.length("spacer"), rule)?.inside
    {
        out.push(number("rim with so much room", rim_for(g.length("rim"), inside).value, &MM));
    }
    Ok(out)
}

fn over(g: &Given<'_>, wheel: &[ProfilePoint], brake: &[ProfilePoint]) -> Worked {
    let rule = GapRule { wanted: g.length("gap"), accuracy: g.length("accuracy") };
    let found = wheel_over_brake(wheel, brake, g.length("spacer"), rule)?;
    let mut out = vec![
        number("least distance", found.gap.found.value, &MM),
        holds("verdict", &found.gap),
        number("radial part", found.radial.value, &MM),
        number("axial part", found.axial.value, &MM),
        number("on the wheel, along the axle", found.wheel.z.value, &MM),
        number("on the wheel, radius", found.wheel.r.value, &MM),
        number("on the brake, along the axle", found.brake.z.value, &MM),
        number("on the brake, radius", found.brake.r.value, &MM),
    ];
    if !found.gap.holds() {
        let cure = room_cure(wheel, brake, g.length("spacer"), rule)?;
        match cure.spacer {
            Some(spacer) => out.push(number("more spacer", spacer.value, &MM)),
            None => out.push(text("more spacer", "does not help")),
        }
        match cure.inside {
            Some(inside) => out.push(number("more diameter inside the wheel", inside.value, &MM)),
            None => out.push(text("more diameter inside the wheel", "does not help")),
        }
    }
    Ok(out)
}
